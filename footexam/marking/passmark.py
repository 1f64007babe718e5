"""Pass marks: borderline regression and modified Angoff, with how steady each is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import sqrt
from statistics import fmean, median, stdev

from footexam.catalogue.marking import Rubric, Standard
from footexam.marking.rubric import Marks, total

SMALL = 30
"""Students below which a regression is flagged as small (common practice)."""
FEW_JUDGES = 10
"""Judges below which an Angoff cut is flagged (common practice; about 15 are advised)."""
_LEAST = 3


class Warn(StrEnum):
    """What must be said beside a pass mark."""

    SMALL = "few-students"
    NO_SPREAD = "not-computable-no-variation"
    TOO_FEW = "not-computable-too-few"
    NOT_RISING = "points-do-not-rise-with-the-grade"
    BEYOND = "no-student-at-or-below-the-borderline-grade"
    FEW_JUDGES = "few-judges"
    ONE_JUDGE = "not-computable-one-judge"


@dataclass(frozen=True, slots=True)
class Borderline:
    """Points regressed on the global grade and read at the borderline grade; all in points.

    `spacing` are the places of the grades, an assumption that moves the cut. `cut` None: not
    computable, and `warnings` say why. `se` is the standard error of the cut, `low` and `high` its
    95 % interval by t. `group_mean` is the mean of those graded borderline, `group` their number.
    `seen` are grade and points of each student.
    """

    n: int
    spacing: tuple[float, ...]
    at: float
    cut: float | None = None
    slope: float | None = None
    intercept: float | None = None
    se: float | None = None
    low: float | None = None
    high: float | None = None
    r_squared: float | None = None
    residual_sd: float | None = None
    group: int = 0
    group_mean: float | None = None
    seen: tuple[tuple[float, float], ...] = ()
    warnings: tuple[Warn, ...] = ()


def borderline_regression(
    grades: Sequence[float], points: Sequence[float], at: float, spacing: Sequence[float] = ()
) -> Borderline:
    """Points = intercept + slope * grade, read at the grade `at`.

    `grades` are places on the scale of global grades, whose list is `spacing`.
    """
    n = len(points)
    group = [y for x, y in zip(grades, points, strict=True) if x == at]
    start = Borderline(
        n,
        tuple(spacing),
        at,
        group=len(group),
        group_mean=fmean(group) if group else None,
        seen=tuple(zip(grades, points, strict=True)),
    )
    if n < _LEAST:
        return replace(start, warnings=(Warn.TOO_FEW,))
    mean_x, mean_y = fmean(grades), fmean(points)
    sxx = sum((x - mean_x) ** 2 for x in grades)
    syy = sum((y - mean_y) ** 2 for y in points)
    if sxx == 0 or syy == 0:
        return replace(start, warnings=(Warn.NO_SPREAD,))
    sxy = sum((x - mean_x) * (y - mean_y) for x, y in zip(grades, points, strict=True))
    slope = sxy / sxx
    intercept = mean_y - slope * mean_x
    left = sum((y - intercept - slope * x) ** 2 for x, y in zip(grades, points, strict=True))
    sd = sqrt(left / (n - 2))
    cut = intercept + slope * at
    se = sd * sqrt(1 / n + (at - mean_x) ** 2 / sxx)
    reach = _t(n - 2) * se
    return Borderline(
        n=n,
        spacing=tuple(spacing),
        at=at,
        cut=cut,
        slope=slope,
        intercept=intercept,
        se=se,
        low=cut - reach,
        high=cut + reach,
        r_squared=1 - left / syy,
        residual_sd=sd,
        group=len(group),
        group_mean=start.group_mean,
        seen=start.seen,
        warnings=tuple(_warnings(n, slope, at, grades)),
    )


def _warnings(n: int, slope: float, at: float, grades: Sequence[float]) -> list[Warn]:
    found = []
    if n < SMALL:
        found.append(Warn.SMALL)
    if slope <= 0:
        found.append(Warn.NOT_RISING)
    if min(grades) > at:
        found.append(Warn.BEYOND)
    return found


def _t(freedom: int) -> float:
    """The two-sided 95 % point of Student's t."""
    from scipy.stats import t

    return float(t.ppf(0.975, freedom))


@dataclass(frozen=True, slots=True)
class Angoff:
    """The modified Angoff cut of one round: the mean over judges of their sums.

    `sums` are by judge, in points out of `of`; `judges` are their names if known. `cut` None: not
    computable. `trimmed` is the mean without the highest and the lowest judge.
    """

    round: int
    sums: tuple[float, ...]
    of: float
    cut: float | None = None
    se: float | None = None
    low: float | None = None
    high: float | None = None
    median: float | None = None
    trimmed: float | None = None
    warnings: tuple[Warn, ...] = ()
    judges: tuple[str, ...] = ()


Estimates = Sequence[Sequence[float]]
"""For each judge, the chance from 0 to 1 that a borderline student succeeds, item by item."""


def angoff(estimates: Estimates, weights: Sequence[float] = (), round: int = 1) -> Angoff:  # noqa: A002
    """The cut of one round; `weights` are the points of the items, 1 each without.

    Raises ValueError where the judges did not judge the same items or a chance is none.
    """
    items = len(weights) or (len(estimates[0]) if estimates else 0)
    points = list(weights) or [1.0] * items
    if any(len(row) != items for row in estimates):
        raise ValueError("every judge estimates every item")
    if any(not 0 <= chance <= 1 for row in estimates for chance in row):
        raise ValueError("a chance lies between 0 and 1")
    sums = tuple(
        sum(chance * weight for chance, weight in zip(row, points, strict=True))
        for row in estimates
    )
    of = float(sum(points))
    if len(sums) < 2:
        cut = sums[0] if sums else None
        return Angoff(round, sums, of, cut, median=cut, warnings=(Warn.ONE_JUDGE,))
    cut, se = fmean(sums), stdev(sums) / sqrt(len(sums))
    reach = _t(len(sums) - 1) * se
    return Angoff(
        round=round,
        sums=sums,
        of=of,
        cut=cut,
        se=se,
        low=cut - reach,
        high=cut + reach,
        median=median(sums),
        trimmed=fmean(sorted(sums)[1:-1]) if len(sums) >= _LEAST else None,
        warnings=(Warn.FEW_JUDGES,) if len(sums) < FEW_JUDGES else (),
    )


def angoff_rounds(rounds: Sequence[Estimates], weights: Sequence[float] = ()) -> tuple[Angoff, ...]:
    """Each round; the last one stands, the others show how far the judges came together."""
    return tuple(angoff(rows, weights, number) for number, rows in enumerate(rounds, 1))


@dataclass(frozen=True, slots=True)
class PassMark:
    """The pass mark in use, in points out of `of`, with what it rests on.

    `cut` is before and `used` after the standard errors that the policy adds.
    """

    standard: Standard
    of: float
    cut: float | None
    se: float | None
    standard_errors: float
    borderline: Borderline | None = None
    angoff: tuple[Angoff, ...] = ()

    @property
    def used(self) -> float | None:
        """What must be reached."""
        if self.cut is None:
            return None
        return self.cut + self.standard_errors * (self.se or 0.0)


def pass_mark(
    rubric: Rubric, marked: Sequence[Marks], rounds: Sequence[Estimates] = ()
) -> PassMark:
    """The pass mark of a rubric from its own standard. Raises BadMarks.

    Only marks that are whole and have a global grade count for a regression. An Angoff cut is
    estimated over the domains, in the points of their weights.
    """
    of, errors = float(rubric.points), float(rubric.standard_errors)
    if rubric.standard is Standard.ANGOFF:
        weights = [float(domain.weight) for domain in rubric.domains]
        found = angoff_rounds(rounds, weights)
        last = found[-1] if found else None
        cut, se = (last.cut, last.se) if last else (None, None)
        return PassMark(rubric.standard, of, cut, se, errors, angoff=found)
    regression = _regression(rubric, marked)
    if rubric.standard is Standard.FIXED:
        cut = of * float(rubric.pass_share or 0)
        return PassMark(rubric.standard, of, cut, None, errors, regression)
    cut, se = _usable(regression, of)
    return PassMark(rubric.standard, of, cut, se, errors, regression)


def _usable(found: Borderline, of: float) -> tuple[float | None, float | None]:
    """A cut is only used where points rise with the grade and it lies within the points."""
    if found.cut is None or Warn.NOT_RISING in found.warnings or not 0 <= found.cut <= of:
        return None, None
    return found.cut, found.se


def _regression(rubric: Rubric, marked: Sequence[Marks]) -> Borderline:
    places: Mapping[str, float] = {grade.id: float(grade.at) for grade in rubric.grades}
    totals = [(marks, total(rubric, marks)) for marks in marked]
    whole = [(m.grade, t.points) for m, t in totals if m.grade is not None and t.is_complete]
    return borderline_regression(
        [places[grade] for grade, _ in whole],
        [float(points) for _, points in whole],
        places[rubric.borderline],
        tuple(places.values()),
    )
