"""Intraclass correlation: the six forms of Shrout and Fleiss 1979 with their intervals.

Psychol Bull 86:420. The first figure says the model: 1 every subject has raters of its own, 2 the
raters stand for all raters (a rater's bias counts as disagreement), 3 only these raters matter
(bias does not count). The second says whether one rating or the mean of k is meant. Only for one
measure over many feet: over unlike items the coefficient is near 1 whatever a student does.
"""

from collections.abc import Mapping
from enum import StrEnum

import numpy as np

from footexam.marking import quantiles
from footexam.marking.batch import Batch, Floats, batch
from footexam.marking.coverage import ICC_SATTERTHWAITE, simulated
from footexam.marking.estimate import CONFIDENCE, Method
from footexam.marking.generalized import generalized
from footexam.marking.mean_squares import MeanSquares, mean_squares


class Form(StrEnum):
    """Model and number of ratings."""

    ONE_WAY = "ICC(1,1)"
    AGREEMENT = "ICC(2,1)"
    CONSISTENCY = "ICC(3,1)"
    ONE_WAY_MEAN = "ICC(1,k)"
    AGREEMENT_MEAN = "ICC(2,k)"
    CONSISTENCY_MEAN = "ICC(3,k)"


def icc(
    readings: Floats, confidence: float = CONFIDENCE, method: Method = Method.GENERALIZED
) -> Mapping[Form, Batch]:
    """All six forms of readings in the shape (..., subjects, raters).

    A subject with a missing reading is left out. Not computable with fewer than two subjects, or
    where nothing varies. Without any error the value stands without an interval. `method` is that
    of model 2: GENERALIZED, or SATTERTHWAITE for the interval that papers and programs print.
    """
    return from_mean_squares(mean_squares(readings), confidence, method)


def from_mean_squares(
    squares: MeanSquares,
    confidence: float = CONFIDENCE,
    method: Method = Method.GENERALIZED,
) -> Mapping[Form, Batch]:
    """All six forms of tables whose mean squares are known."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        n = np.maximum(squares.n, 2)
        return {
            **_by_f_ratio(squares, squares.within, n * (squares.k - 1), _ONE_WAY, confidence),
            **_agreement(squares, n, confidence, method),
            **_by_f_ratio(
                squares, squares.error, (n - 1) * (squares.k - 1), _CONSISTENCY, confidence
            ),
        }


_ONE_WAY = (Form.ONE_WAY, Form.ONE_WAY_MEAN)
_CONSISTENCY = (Form.CONSISTENCY, Form.CONSISTENCY_MEAN)


def _by_f_ratio(
    squares: MeanSquares,
    error: Floats,
    freedom: Floats,
    forms: tuple[Form, Form],
    confidence: float,
) -> dict[Form, Batch]:
    """A form of model 1 or 3, single and mean, with the interval of its F ratio."""
    tail, k = (1 + confidence) / 2, squares.k
    between = squares.between
    above = np.maximum(squares.n, 2) - 1
    ratio = between / error
    low = ratio / quantiles.f_ratio(tail, above, freedom)
    high = ratio * quantiles.f_ratio(tail, freedom, above)
    single = (between - error) / (between + (k - 1) * error)
    mean = (between - error) / between
    limits = ((low - 1) / (low + k - 1), (high - 1) / (high + k - 1))
    still = error == 0
    return {
        forms[0]: _batch(squares, single, limits, Method.EXACT, still, confidence),
        forms[1]: _batch(
            squares, mean, (1 - 1 / low, 1 - 1 / high), Method.EXACT, still, confidence
        ),
    }


def _agreement(
    squares: MeanSquares, n: Floats, confidence: float, method: Method
) -> dict[Form, Batch]:
    """Model 2, single and mean."""
    parts = squares.between, squares.raters, squares.error
    k = squares.k

    def single(between: Floats, raters: Floats, error: Floats, count: Floats) -> Floats:
        rest = k * (raters - error) / count
        return (between - error) / (between + (k - 1) * error + rest)

    between, raters, error = parts
    value = single(*parts, n)
    mean = (between - error) / (between + (raters - error) / n)
    if method == Method.GENERALIZED:
        low, high = generalized(squares, single, confidence)
    else:
        low, high = _satterthwaite(squares, n, value, confidence)
    still = error == 0
    means = (_stepped_up(low, k), _stepped_up(high, k))
    return {
        Form.AGREEMENT: _batch(squares, value, (low, high), method, still, confidence),
        Form.AGREEMENT_MEAN: _batch(squares, mean, means, method, still, confidence),
    }


def _satterthwaite(
    squares: MeanSquares, n: Floats, single: Floats, confidence: float
) -> tuple[Floats, Floats]:
    """The interval of Shrout and Fleiss; too narrow where raters are few and biased."""
    between, raters, error, k = squares.between, squares.raters, squares.error, squares.k
    ratio = raters / error
    weight = n * (1 + (k - 1) * single) - k * single
    freedom = (n - 1) * (k - 1) * (k * single * ratio + weight) ** 2
    freedom /= (n - 1) * k**2 * single**2 * ratio**2 + weight**2
    tail = (1 + confidence) / 2
    below = quantiles.f_ratio(tail, n - 1, freedom)
    above = quantiles.f_ratio(tail, freedom, n - 1)
    rest = k * raters + (k * n - k - n) * error
    low = n * (between - below * error) / (below * rest + n * between)
    high = n * (above * between - error) / (rest + n * above * between)
    return low, high


def _stepped_up(single: Floats, k: int) -> Floats:
    """Reliability of the mean of k ratings (Spearman and Brown)."""
    return k * single / (1 + (k - 1) * single)


def _batch(
    squares: MeanSquares,
    value: Floats,
    interval: tuple[Floats, Floats],
    method: Method,
    still: np.ndarray,
    confidence: float,
) -> Batch:
    printed = method == Method.SATTERTHWAITE
    return batch(
        value,
        interval,
        squares.n,
        method,
        too_few=squares.too_few,
        no_variation=squares.flat | ~np.isfinite(value),
        identical=still,
        confidence=confidence,
        coverage=simulated(ICC_SATTERTHWAITE, squares.n) if printed else None,
    )
