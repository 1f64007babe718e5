"""Which marks of a student count: of the first and second marker, and what both agreed on.

A second marker marks without seeing the first one's marks. Where both lie farther apart than the
rubric lets pass, they agree on marks together, and these count.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from footexam.catalogue.marking import Rubric
from footexam.marking.pairing import ExaminedKey
from footexam.marking.rubric import Hand, Marks, Verdict, total, verdict


class Apart(StrEnum):
    """Why two markers must agree on marks together."""

    VERDICT = "one-passes-one-fails"
    CRITICAL = "critical-fails-differ"
    POINTS = "points-differ"
    GRADE = "grades-differ"
    RUBRIC = "rubrics-differ"


@dataclass(frozen=True, slots=True)
class Standing:
    """All marks of one examination: by hand, the ones signed last and the drafts."""

    signed: Mapping[Hand, Marks] = field(default_factory=dict)
    drafts: Mapping[Hand, Marks] = field(default_factory=dict)

    @property
    def counts(self) -> Marks | None:
        """The signed moderation, else the first marker's signed marks; a draft never counts."""
        return self.signed.get(Hand.MODERATION) or self.signed.get(Hand.FIRST)

    @property
    def both(self) -> tuple[Marks, Marks] | None:
        """The first and the second marker's marks, once both have signed."""
        first, second = self.signed.get(Hand.FIRST), self.signed.get(Hand.SECOND)
        return (first, second) if first and second else None

    def apart(self, rubric: Rubric, cut: float | None) -> tuple[Apart, ...]:
        """Why both markers must agree on marks together; empty before both have signed."""
        return tuple(_apart(rubric, *self.both, cut)) if self.both else ()

    def needs_moderation(self, rubric: Rubric, cut: float | None) -> bool:
        """Whether both must still agree on marks; `cut` is the pass mark in points if known."""
        return Hand.MODERATION not in self.signed and bool(self.apart(rubric, cut))


def standings(marks: Iterable[Marks]) -> dict[ExaminedKey, Standing]:
    """Whose marks there are of each examination.

    Of several by one hand the signed ones with the latest signature stand, and the last draft.
    """
    found: dict[ExaminedKey, tuple[dict[Hand, Marks], dict[Hand, Marks]]] = {}
    for one in marks:
        signed, drafts = found.setdefault(one.key, ({}, {}))
        if one.signed_at is None:
            drafts[one.hand] = one
        elif one.hand not in signed or one.signed_at >= (signed[one.hand].signed_at or ""):
            signed[one.hand] = one
    return {key: Standing(signed, drafts) for key, (signed, drafts) in found.items()}


def counting(marks: Iterable[Marks]) -> list[Marks]:
    """The marks that count, one for each examination that has any."""
    return [one.counts for one in standings(marks).values() if one.counts is not None]


def _apart(rubric: Rubric, first: Marks, second: Marks, cut: float | None) -> Iterable[Apart]:
    if first.rubric != second.rubric:
        yield Apart.RUBRIC
        return
    verdicts = {_passes(rubric, one, cut) for one in (first, second)}
    if verdicts == {True, False}:
        yield Apart.VERDICT
    if set(first.critical) != set(second.critical):
        yield Apart.CRITICAL
    limit = rubric.moderation
    if limit is None:
        return
    points = [total(rubric, one).points for one in (first, second)]
    if abs(points[0] - points[1]) > limit.points:
        yield Apart.POINTS
    places = {grade.id: place for place, grade in enumerate(rubric.grades)}
    grades = [places[one.grade] for one in (first, second) if one.grade is not None]
    if len(grades) > 1 and abs(grades[0] - grades[1]) > limit.grades:
        yield Apart.GRADE


def _passes(rubric: Rubric, marks: Marks, cut: float | None) -> bool | None:
    """Whether marks pass; None while that is not known."""
    found = verdict(rubric, marks, cut)
    return None if found is Verdict.OPEN else found is Verdict.PASSED
