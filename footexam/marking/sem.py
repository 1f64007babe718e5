"""Standard errors of measurement from tables, with intervals, and the change they need."""

from dataclasses import dataclass

import numpy as np

from footexam.marking import quantiles
from footexam.marking.batch import Batch, Floats, batch
from footexam.marking.change import Formula, change_factor
from footexam.marking.estimate import CONFIDENCE, Method
from footexam.marking.generalized import generalized
from footexam.marking.mean_squares import MeanSquares, mean_squares


@dataclass(frozen=True, slots=True)
class Errors:
    """SEM by each formula, in the unit of the readings; `within` is the within-subject SD."""

    error: Batch
    agreement: Batch
    within: Batch

    def sem(self, formula: Formula) -> Batch:
        """The SEM of a formula; KeyError for one that needs a reliability."""
        known = {
            Formula.ERROR: self.error,
            Formula.AGREEMENT: self.agreement,
            Formula.WITHIN: self.within,
        }
        return known[formula]

    def change(self, formula: Formula, confidence: float = CONFIDENCE) -> Batch:
        """The smallest change that is more than error (MDC), with the interval of the SEM."""
        return self.sem(formula).times(change_factor(confidence))


def errors(readings: Floats, confidence: float = CONFIDENCE) -> Errors:
    """Of readings in the shape (..., subjects, raters); a subject with a missing one is left out.

    Not computable with fewer than two subjects. Readings that agree without error have a SEM of 0
    and no interval.
    """
    return from_mean_squares(mean_squares(readings), confidence)


def from_mean_squares(squares: MeanSquares, confidence: float = CONFIDENCE) -> Errors:
    """Of tables whose mean squares are known."""
    n, k = np.maximum(squares.n, 2), squares.k
    both = np.sqrt((squares.raters + (n - 1) * squares.error) / n)
    return Errors(
        error=_root(squares, squares.error, (n - 1) * (k - 1), confidence),
        agreement=_estimate(
            squares,
            both,
            generalized(squares, _with_raters, confidence),
            Method.GENERALIZED,
            confidence,
        ),
        within=_root(squares, squares.within, n * (k - 1), confidence),
    )


def _with_raters(_between: Floats, raters: Floats, error: Floats, n: Floats) -> Floats:
    """The root of the variances of raters and of error."""
    return np.asarray(np.sqrt((raters + (n - 1) * error) / n))


def _root(squares: MeanSquares, square: Floats, freedom: Floats, confidence: float) -> Batch:
    """The root of a mean square with the interval of chi-squared."""
    value = np.sqrt(square)
    low, high = (
        value * np.sqrt(freedom / quantiles.chi_squared(share, freedom))
        for share in ((1 + confidence) / 2, (1 - confidence) / 2)
    )
    return _estimate(squares, value, (low, high), Method.EXACT, confidence)


def _estimate(
    squares: MeanSquares,
    value: Floats,
    interval: tuple[Floats, Floats],
    method: Method,
    confidence: float,
) -> Batch:
    return batch(
        value,
        interval,
        squares.n,
        method,
        too_few=squares.too_few,
        identical=value == 0,
        confidence=confidence,
    )
