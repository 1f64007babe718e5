"""A cohort: the comparisons of many students, by measure and by examiner.

Figures of unlike measures are never put into one sum, except as errors in units of what each
measure's own error explains.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist, fmean

from footexam.catalogue.model import Measure
from footexam.marking.compared import AGREED, APART, JUDGED, MISSED, Comparison, Item, Outcome
from footexam.marking.pairing import Identity, identity

Z = NormalDist().inv_cdf(0.975)
LEAST = 3
"""Readings of one measure by one examiner from which a steady difference is looked for."""
CHANCE = 0.05


@dataclass(frozen=True, slots=True)
class Share:
    """How many of how many, with the 95 % interval of the share (Wilson); None of none."""

    count: int
    n: int

    @property
    def share(self) -> float | None:
        """From 0 to 1."""
        return self.count / self.n if self.n else None

    @property
    def interval(self) -> tuple[float, float] | None:
        """The 95 % interval; readings of one patient are not independent, so it is a narrow one."""
        if not self.n:
            return None
        n, share, square = self.n, self.count / self.n, Z * Z
        middle = (share + square / (2 * n)) / (1 + square / n)
        reach = Z * sqrt(share * (1 - share) / n + square / (4 * n * n)) / (1 + square / n)
        return max(0.0, middle - reach), min(1.0, middle + reach)


@dataclass(frozen=True, slots=True)
class Errors:
    """Standardised errors of some items: how many, their mean, their root mean square.

    `beyond` are those beyond 1.96 of their standard errors. All None without any.
    """

    n: int
    mean: float | None
    rms: float | None
    beyond: int


def errors_of(items: Iterable[Item]) -> Errors:
    """The standardised errors of the items that have one."""
    found = [item.error for item in items if item.error is not None]
    if not found:
        return Errors(0, None, None, 0)
    square = sqrt(fmean(error * error for error in found))
    return Errors(len(found), fmean(found), square, sum(abs(error) > Z for error in found))


@dataclass(frozen=True, slots=True)
class CohortItem:
    """One measure over all students and sides."""

    measure: Measure
    items: tuple[tuple[str, Item], ...]
    """The examiner's name with each item."""
    missing: int

    @property
    def judged(self) -> Share:
        """How many agree of those that could be judged."""
        rows = [item for _, item in self.items]
        agreed = sum(row.outcome in AGREED for row in rows)
        return Share(agreed, sum(row.outcome in JUDGED for row in rows))

    @property
    def errors(self) -> Errors:
        """The standardised errors."""
        return errors_of(item for _, item in self.items)

    @property
    def pairs(self) -> tuple[tuple[float, float], ...]:
        """Student and reference values of all numbers by one method, in the measure's unit."""
        return tuple(
            (float(item.student_value), float(item.reference_value))
            for _, item in self.items
            if item.student_value is not None
            and item.reference_value is not None
            and item.outcome is not Outcome.METHOD_DIFFERS
        )


@dataclass(frozen=True, slots=True)
class CohortExaminer:
    """One student over all patients."""

    name: str
    comparisons: tuple[Comparison, ...]

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything read, without what was worked out from it."""
        return tuple(i for one in self.comparisons for i in one.items if not i.is_derived)

    @property
    def judged(self) -> Share:
        """How many items agree of those that could be judged."""
        agreed = sum(item.outcome in AGREED for item in self.items)
        return Share(agreed, sum(item.outcome in JUDGED for item in self.items))

    @property
    def apart(self) -> int:
        """Items beyond their tolerance, or answered otherwise."""
        return sum(item.outcome in APART for item in self.items)

    @property
    def missing(self) -> int:
        """Items that the reference has and the student has not."""
        return sum(item.outcome in MISSED for item in self.items)

    @property
    def errors(self) -> Errors:
        """The standardised errors."""
        return errors_of(self.items)


@dataclass(frozen=True, slots=True)
class Drift:
    """A steady difference of one examiner in one measure: mean of `n` standardised errors.

    `mean` times the root of `n` lies beyond what chance leaves in as many looks as were made.
    """

    examiner: str
    measure: Measure
    n: int
    mean: float
    difference: float


@dataclass(frozen=True, slots=True)
class Cohort:
    """All comparisons; `looks` is how often a steady difference was looked for."""

    comparisons: tuple[Comparison, ...]
    items: tuple[CohortItem, ...]
    examiners: tuple[CohortExaminer, ...]
    drifts: tuple[Drift, ...]
    looks: int


def gather(comparisons: Sequence[Comparison]) -> Cohort:
    """The cohort; measures in the order of the comparisons, examiners by name."""
    by_measure: dict[str, list[tuple[str, Item]]] = {}
    by_examiner: dict[str, list[Comparison]] = {}
    for one in comparisons:
        name = one.student.examiner.name
        by_examiner.setdefault(name, []).append(one)
        for item in one.items:
            by_measure.setdefault(item.measure.id, []).append((name, item))
    items = tuple(_cohort_item(rows) for rows in by_measure.values())
    drifts, looks = _drifts(items)
    examiners = (CohortExaminer(name, tuple(found)) for name, found in sorted(by_examiner.items()))
    return Cohort(tuple(comparisons), items, tuple(examiners), drifts, looks)


def _cohort_item(rows: Sequence[tuple[str, Item]]) -> CohortItem:
    measure = rows[0][1].measure
    missing = sum(item.outcome in MISSED for _, item in rows)
    return CohortItem(measure, tuple(rows), missing)


def _drifts(items: Iterable[CohortItem]) -> tuple[tuple[Drift, ...], int]:
    """Examiners who differ steadily; the limit is divided by the number of looks."""
    found: list[Drift] = []
    for one in items:
        by_name: dict[str, list[Item]] = {}
        for name, item in one.items:
            if item.error is not None and not item.is_derived:
                by_name.setdefault(name, []).append(item)
        for name, rows in sorted(by_name.items()):
            if len(rows) >= LEAST:
                mean = fmean(row.error or 0.0 for row in rows)
                difference = fmean(float(row.difference or 0) for row in rows)
                found.append(Drift(name, one.measure, len(rows), mean, difference))
    looks = len(found)
    if not looks:
        return (), 0
    limit = NormalDist().inv_cdf(1 - CHANCE / (2 * looks))
    real = (one for one in found if abs(one.mean) * sqrt(one.n) > limit)
    return tuple(real), looks


def codes(cohort: Cohort) -> dict[str, str]:
    """A code for each examiner, S1 and on, for an anonymous view."""
    return {one.name: f"S{number}" for number, one in enumerate(cohort.examiners, 1)}


def patient_codes(cohort: Cohort) -> dict[Identity, str]:
    """A code for each patient, P1 and on, for an anonymous table."""
    found = dict.fromkeys(identity(one.student.patient) for one in cohort.comparisons)
    return {patient: f"P{number}" for number, patient in enumerate(found, 1)}
