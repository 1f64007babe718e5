"""Figures over students and volunteers, with intervals that treat both as samples.

Readings of one volunteer share that volunteer and the reference's own reading; those of one student
share a hand. So 36 readings are not 36 independent ones. Each student is left out once, and each
volunteer once with all that was read there, left and right together; the two variances are added
(Owen 2007, Ann Appl Stat 1:386) and their degrees of freedom are Satterthwaite's.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from footexam.marking import jackknife, quantiles
from footexam.marking.batch import Floats, batch
from footexam.marking.coverage import Steps, simulated
from footexam.marking.estimate import CONFIDENCE, Estimate, Method


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that follows from sums: `of` makes sums (..., sums) to values (...).

    `held` says how often such an interval held the true value, by the smaller number of students
    or volunteers. `correlation`: it is at most 1, and its interval is found on Fisher's scale.
    """

    of: Callable[[Floats], Floats]
    held: Steps
    correlation: bool = False


def crossed(cells: Floats, figure: Figure, n: int, confidence: float = CONFIDENCE) -> Estimate:
    """The figure of sums in the shape (students, volunteers, sums); `n` counts the pairs in them.

    Every student and volunteer has a pair. A direction with only one of them is taken as it is;
    without two of either there is no interval. No interval either where one student or volunteer
    carries all that varies.
    """
    whole = cells.sum(axis=(0, 1))
    with np.errstate(divide="ignore", invalid="ignore"):
        value = np.asarray(figure.of(whole))
        parts = [cells.sum(axis=axis) for axis in (1, 0) if cells.shape[1 - axis] > 1]
        errors = np.array([_error(figure.of(whole - part)) for part in parts])
        square = (errors**2).sum()
        free = np.array([len(part) - 1.0 for part in parts])
        freedom = square**2 / (errors**4 / free).sum()
        interval = _interval(figure, value, np.sqrt(square), freedom, confidence)
        fewest = min((len(part) for part in parts), default=1)
        return batch(
            value,
            interval,
            np.asarray(float(n)),
            Method.CROSSED,
            too_few=n < 2,
            no_variation=not np.isfinite(value),
            identical=bool(parts) and square == 0,
            alone=not parts,
            carried=not np.isfinite(square),
            confidence=confidence,
            coverage=simulated(figure.held, np.asarray(float(fewest))),
        ).estimate()


def _error(without: Floats) -> float:
    """The standard error from leaving out one at a time; not a number where one cannot be."""
    return float(jackknife.error(without, np.ones(len(without))))


def _interval(
    figure: Figure, value: Floats, error: Floats, freedom: Floats, confidence: float
) -> tuple[Floats, Floats]:
    if figure.correlation:
        return jackknife.fisher_interval(value, error, freedom + 1, confidence)
    wide = quantiles.students_t((1 + confidence) / 2, freedom) * error
    return value - wide, value + wide
