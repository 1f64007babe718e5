"""Words that forms/ names as outside the usual: findings of choices, yes-no and derived words."""

from collections.abc import Iterable

from footexam.catalogue.model import Measure, NormGroup, NormSet
from footexam.scoring.norms import fits_age, fits_answers, fits_method
from footexam.scoring.results import Finding, NormShown
from footexam.scoring.visit import Person
from footexam.terms import Side


def naming(
    sets: Iterable[NormSet], word: str, person: Person, method: str | None
) -> tuple[NormShown, ...]:
    """The judging sets that name a word as outside the usual for this person and method."""
    return tuple(
        _shown(norms)
        for norms in sets
        if norms.judged
        and word in norms.outside
        and fits_method(norms.methods, method)
        and _fits(norms.groups, person)
    )


def _fits(groups: tuple[NormGroup, ...], person: Person) -> bool:
    """Whether a set is for this person; without groups it is for everybody."""
    return not groups or any(
        fits_age(group.ages, person)
        and group.sex in (None, person.sex)
        and fits_answers(group, person)
        for group in groups
    )


def _shown(norms: NormSet) -> NormShown:
    return NormShown(norms.id, "", None, None, None, norms.source, norms.provenance, judged=True)


def finding(
    measure: Measure,
    side: Side | None,
    word: str,
    *,
    method: str | None,
    norms: tuple[NormShown, ...],
    inputs: tuple[str, ...] = (),
) -> Finding:
    """A word outside the usual: the word is the state, with no label and no chance (F10)."""
    return Finding(
        measure=measure.id,
        side=side,
        value=word,
        unit=measure.unit,
        repeats=1,
        method=method,
        state=word,
        label=None,
        basis=None,
        probability=None,
        probability_error_only=None,
        limit=None,
        operator=None,
        near_limit=None,
        change_needed=None,
        inputs=inputs,
        norms=norms,
    )
