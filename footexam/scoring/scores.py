"""Scores: every derived measure that can be worked out, with its band in every set that fits."""

from collections.abc import Iterator
from decimal import Decimal

from footexam.catalogue.model import Catalogue, Measure, say
from footexam.record.examination import Examination
from footexam.scoring.bench import Judges, bench
from footexam.scoring.derived.registry import work_out
from footexam.scoring.derived.result import Derived
from footexam.scoring.results import BandShown, Problem, Score
from footexam.scoring.visit import Visit
from footexam.scoring.words import naming
from footexam.terms import ProblemKind, Side

SIDED: tuple[Side | None, ...] = (Side.LEFT, Side.RIGHT)
UNSIDED: tuple[Side | None, ...] = (None,)


def score(examination: Examination, catalogue: Catalogue) -> tuple[list[Score], list[Problem]]:
    """All scores of an examination in forms order, left before right, and what they lack.

    A problem of kind incomplete says which inputs of a total are missing when some are there.
    """
    desk = bench(catalogue)
    judges = desk.judges(examination)
    visit = desk.visit(examination)
    scores: list[Score] = []
    problems: list[Problem] = []
    for measure in desk.derived:
        for side in SIDED if measure.sided else UNSIDED:
            found = work_out(measure.id, visit, side)
            if found is None:
                continue
            scores.extend(_scored(measure, side, found, visit, judges))
            if found.missing:
                problems.append(_incomplete(measure, side, found, catalogue))
    return scores, problems


def _scored(
    measure: Measure, side: Side | None, found: Derived, visit: Visit, judges: Judges
) -> Iterator[Score]:
    """The score, if there is a value."""
    value, bands = found.value, found.bands
    if value is None:
        return
    method = visit.shared_method(found.inputs, side)
    if isinstance(value, Decimal):
        bands = judges.judge(measure, side, method).bands(value)
    else:
        bands = (*bands, *_word_bands(measure, value, method, judges))
    yield Score(measure.id, side, value, measure.unit, bands, found.inputs)


def _word_bands(
    measure: Measure, word: str, method: str | None, judges: Judges
) -> tuple[BandShown, ...]:
    """The sets that name a derived word as outside the usual."""
    norms = naming(judges.bench.outside.get(measure.id, ()), word, judges.person, method)
    return tuple(BandShown(norm.set, word, norm.source, norm.provenance, True) for norm in norms)


def _incomplete(
    measure: Measure, side: Side | None, found: Derived, catalogue: Catalogue
) -> Problem:
    names = [say(catalogue.measures[name].label) or name for name in found.missing]
    effect = "Not worked out" if found.value is None else "Worked out without all of its inputs"
    message = f"{effect}; not recorded: {', '.join(names)}."
    return Problem(measure.id, side, "", ProblemKind.INCOMPLETE, message)
