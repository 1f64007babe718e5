"""Reasoning and plan of two examinations against each other: dangers first."""

from collections.abc import Iterable, Iterator

from footexam.assessment import Assessment
from footexam.marking.compared import CautionMissed, Chosen, Named, Reasoned, Sized
from footexam.reasoning.dangers import Caution
from footexam.reasoning.planned import Candidate
from footexam.record.examination import Examination
from footexam.terms import Side, Tier

_TIERS = {tier: place for place, tier in enumerate(Tier)}
_SIDES = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}


def compare_reasoning(
    student: Examination,
    student_assessment: Assessment,
    reference: Examination,
    reference_assessment: Assessment,
) -> Reasoned:
    """Cautions, accepted hypotheses, aims and features; held against the reference's findings."""
    return Reasoned(
        cautions=tuple(_missed(student_assessment.cautions, reference_assessment.cautions)),
        hypotheses=_chosen(_accepted(student), _accepted(reference)),
        aims=_chosen(_named(student, "aims"), _named(reference, "aims")),
        features=_chosen(_named(student, "features"), _named(reference, "features")),
        sizes=tuple(_sizes(student_assessment, reference_assessment)),
        held=tuple(_held(student, reference_assessment)),
    )


def _missed(had: Iterable[Caution], wanted: Iterable[Caution]) -> Iterator[CautionMissed]:
    """Dangers of the reference that the student's record does not show as urgent as they are."""
    seen = list(had)
    for one in wanted:
        tiers = [other.tier for other in seen if other.about == one.about and _meet(other, one)]
        if not tiers:
            yield CautionMissed(one.about, one.side, one.tier)
            continue
        most = min(tiers, key=_urgency)
        if _urgency(most) > _urgency(one.tier):
            yield CautionMissed(one.about, one.side, one.tier, most)


def _meet(one: Caution, other: Caution) -> bool:
    """Whether two cautions are of one side; one without a side is of both."""
    return one.side is None or other.side is None or one.side is other.side


def _urgency(tier: Tier | None) -> int:
    """The place of a tier, the most urgent first; a yes that led nowhere yet is the last."""
    return len(_TIERS) if tier is None else _TIERS[tier]


def _accepted(examination: Examination) -> frozenset[Named]:
    decided = examination.decisions.get("hypotheses", {})
    return _as_named(decided.get("accepted", ()))


def _named(examination: Examination, key: str) -> frozenset[Named]:
    return _as_named(examination.decisions.get(key, ()))


def _as_named(rows: Iterable[dict[str, str]]) -> frozenset[Named]:
    return frozenset((row["id"], Side(row["side"]) if row.get("side") else None) for row in rows)


def _chosen(had: frozenset[Named], wanted: frozenset[Named]) -> Chosen:
    return Chosen(_sorted(had & wanted), _sorted(wanted - had), _sorted(had - wanted))


def _sorted(named: Iterable[Named]) -> tuple[Named, ...]:
    return tuple(sorted(named, key=lambda one: (one[0], _SIDES[one[1]])))


def _held(student: Examination, reference: Assessment) -> Iterator[Named]:
    """Open dangers of the reference on a side that the student planned a device for."""
    sides = {side for _, side in _named(student, "features")}
    for one in reference.held_by:
        if sides and (one.side is None or None in sides or one.side in sides):
            yield one.about, one.side


def _sizes(student: Assessment, reference: Assessment) -> Iterator[Sized]:
    """The dimensions of the features that both chose."""
    had = {(one.id, one.side): one for one in student.reasons.plan.chosen}
    seen = set[Named]()
    for one in reference.reasons.plan.chosen:
        key = one.id, one.side
        if key in had and key not in seen:  # a feature stands once for each aim that it serves
            seen.add(key)
            yield from _sized(had[key], one)


def _sized(student: Candidate, reference: Candidate) -> Iterator[Sized]:
    """One feature has the same dimensions in both plans, in the same order."""
    for had, wanted in zip(student.dimensions, reference.dimensions, strict=True):
        yield Sized(
            feature=reference.id,
            side=reference.side,
            size=wanted.size.id,
            unit=wanted.size.unit,
            student=had.value,
            reference=wanted.value,
            step=wanted.size.step,
        )
