"""Marks of a student by a rubric: points, critical fails, global grade, pass or fail."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from footexam.catalogue.marking import BEST, Domain, Rubric
from footexam.marking.pairing import ExaminedKey


class BadMarks(ValueError):
    """Marks that do not fit their rubric; the text says which and why."""


class Hand(StrEnum):
    """Whose marks these are: the first or second marker's, or what both agreed on afterwards."""

    FIRST = "first"
    SECOND = "second"
    MODERATION = "moderation"


@dataclass(frozen=True, slots=True)
class Marks:
    """What a marker gave: whole marks 0 to 4 by domain, critical fails, grade, two lines.

    They are kept apart from the patient's record: `student` is the examiner who is marked,
    `patient` and `examined_on` only say which examination it was. `signed_at` is the UTC time of
    the marker's signature, None for a draft. Signed marks are never changed: others take their
    place, and `why_changed` says why.
    """

    rubric: str
    student: str
    marker: str
    patient: tuple[str, ...] = ()
    examined_on: str = ""
    domains: Mapping[str, int] = field(default_factory=dict)
    critical: tuple[str, ...] = ()
    grade: str | None = None
    lines: tuple[str, ...] = ()
    hand: Hand = Hand.FIRST
    signed_at: str | None = None
    why_changed: str = ""

    @property
    def key(self) -> ExaminedKey:
        """Which examination they belong to."""
        return self.patient, self.examined_on, self.student.strip().casefold()


class Verdict(StrEnum):
    """What the marks come to."""

    PASSED = "passed"
    FAILED = "failed"
    CRITICAL = "critical-fail"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Total:
    """Points out of `of`; `missing` are domains without a mark, for which nothing is counted."""

    points: Decimal
    of: Decimal
    missing: tuple[str, ...]

    @property
    def is_complete(self) -> bool:
        """Whether every domain has a mark."""
        return not self.missing


def check_marks(rubric: Rubric, marks: Marks) -> None:
    """Raise BadMarks where marks name what the rubric does not have, or lie outside 0 to 4."""
    domains = {domain.id for domain in rubric.domains}
    for name, mark in marks.domains.items():
        if name not in domains:
            raise BadMarks(f"“{name}” is not a domain of this rubric")
        if isinstance(mark, bool) or mark not in range(BEST + 1):
            raise BadMarks(f"the mark of “{name}” is not a whole number from 0 to {BEST}")
    for name in marks.critical:
        if name not in {one.id for one in rubric.critical}:
            raise BadMarks(f"“{name}” is not a critical fail of this rubric")
    if marks.grade is not None and marks.grade not in {one.id for one in rubric.grades}:
        raise BadMarks(f"“{marks.grade}” is not a global grade of this rubric")


def total(rubric: Rubric, marks: Marks) -> Total:
    """The sum of weight times mark over 4. Raises BadMarks."""
    check_marks(rubric, marks)
    missing = tuple(domain.id for domain in rubric.domains if domain.id not in marks.domains)
    points = sum((_points(domain, marks) for domain in rubric.domains), Decimal(0))
    return Total(points, rubric.points, missing)


def _points(domain: Domain, marks: Marks) -> Decimal:
    return domain.weight * marks.domains.get(domain.id, 0) / BEST


def verdict(rubric: Rubric, marks: Marks, cut: float | None) -> Verdict:
    """Pass or fail at a pass mark in points; a critical fail is applied after it.

    Open while a domain has no mark or the pass mark is not known. Exactly the pass mark passes.
    """
    found = total(rubric, marks)
    if marks.critical:
        return Verdict.CRITICAL
    if cut is None or not found.is_complete:
        return Verdict.OPEN
    return Verdict.PASSED if float(found.points) >= cut - 1e-9 else Verdict.FAILED
