"""Krippendorff's alpha: agreement of any number of raters, with readings missing.

Krippendorff, Content Analysis, chapter 12. A unit with one reading alone has no pair and does not
count. The interval leaves one unit out at a time.
"""

from collections.abc import Callable, Sequence
from enum import StrEnum

import numpy as np

from footexam.marking import jackknife
from footexam.marking.batch import Batch, Floats, batch
from footexam.marking.coverage import ALPHA, LEAST_UNITS, simulated
from footexam.marking.estimate import CONFIDENCE, Method


class Metric(StrEnum):
    """What a difference counts: that there is one, ranks, the difference, or its share."""

    NOMINAL = "nominal"
    ORDINAL = "ordinal"
    INTERVAL = "interval"
    RATIO = "ratio"


def alpha(
    readings: Floats,
    metric: Metric,
    levels: Sequence[float] = (),
    confidence: float = CONFIDENCE,
) -> Batch:
    """Of readings in the shape (..., units, raters); not a number stands for a missing one.

    `levels` are the values that can be; those that occur are enough, an unused one changes
    nothing. The memory needed grows with their number squared, but not for `interval`. Ratios
    need values of 0 or more. n counts the units that have a pair. Not computable with fewer than
    two, or where nothing varies; no interval with fewer than six.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        if metric == Metric.INTERVAL:
            stats = squares(readings)
            coefficient: Callable[[Floats], Floats] = from_squares
        else:
            known = np.asarray(levels or np.unique(readings[~np.isnan(readings)]), dtype=np.float64)
            stats, coefficient = coincidences(readings, known), from_coincidences(metric, known)
        paired = (~np.isnan(readings)).sum(axis=-1) > 1
        n = paired.sum(axis=-1).astype(np.float64)
        whole = stats.sum(axis=-2)
        value = coefficient(whole)
        without = coefficient(whole[..., None, :] - stats)
        spread = jackknife.error(np.where(np.isfinite(without), without, 0.0), paired * 1.0)
        limits = jackknife.fisher_interval(value, spread, n, confidence)
        few = n < 2
        return batch(
            value,
            limits,
            n,
            Method.JACKKNIFE,
            too_few=few,
            no_variation=~few & ~np.isfinite(value),
            identical=value > 1 - 1e-12,
            few_units=n < LEAST_UNITS,
            confidence=confidence,
            coverage=simulated(ALPHA, n),
        )


def squares(readings: Floats) -> Floats:
    """What each unit adds for the interval metric: (..., units, 4), made to be summed.

    Readings, their sum, the sum of their squares, and squared differences per other reading.
    """
    there = ~np.isnan(readings)
    count = there.sum(axis=-1)
    there &= (count > 1)[..., None]
    level = np.where(there, readings, 0.0)
    total = np.maximum(there.sum(axis=(-2, -1), keepdims=True), 1)
    apart = np.where(there, level - level.sum(axis=(-2, -1), keepdims=True) / total, 0.0)
    sum_of, square = apart.sum(axis=-1), (apart**2).sum(axis=-1)
    between = 2 * (count * square - sum_of**2) / np.maximum(count - 1, 1)
    return np.stack([there.sum(axis=-1), sum_of, square, between], axis=-1)


def from_squares(sums: Floats) -> Floats:
    """Alpha from sums of `squares`."""
    n, sum_of, square, seen = np.moveaxis(sums, -1, 0)
    chance = 2 * (n * square - sum_of**2) / (n - 1)
    tiny = 1e-12 * np.abs(square)
    return np.where(chance > tiny, 1 - np.where(seen > tiny, seen, 0) / chance, np.nan)


def coincidences(readings: Floats, levels: Floats) -> Floats:
    """What each unit adds to the table of coincidences, (..., units, levels squared).

    ValueError for a reading that is not among the levels.
    """
    counts = (readings[..., None] == levels).sum(axis=-2).astype(np.float64)
    count = counts.sum(axis=-1)
    if (count != (~np.isnan(readings)).sum(axis=-1)).any():
        raise ValueError("a reading is not in the list of levels")
    pairs = counts[..., :, None] * counts[..., None, :]
    place = np.arange(levels.size)
    pairs[..., place, place] -= counts
    pairs /= np.maximum(count - 1, 1)[..., None, None]
    return np.asarray(pairs.reshape(*counts.shape[:-1], levels.size**2))


def from_coincidences(metric: Metric, levels: Floats) -> Callable[[Floats], Floats]:
    """The way from sums of `coincidences` to alpha."""
    size = levels.size

    def coefficient(sums: Floats) -> Floats:
        table = sums.reshape(*sums.shape[:-1], size, size)
        used = table.sum(axis=-1)
        n = used.sum(axis=-1)
        apart = _ranks_apart(used) if metric == Metric.ORDINAL else fixed
        seen = (table * apart).sum(axis=(-2, -1))
        chance = (used[..., :, None] * apart * used[..., None, :]).sum(axis=(-2, -1))
        return np.where(chance > 0, 1 - (n - 1) * seen / chance, np.nan)

    fixed = _apart(metric, levels)
    return coefficient


def _apart(metric: Metric, levels: Floats) -> Floats:
    """How far levels are apart, squared; for ranks see `_ranks_apart`."""
    if metric != Metric.RATIO:
        return np.asarray(levels[:, None] != levels, dtype=np.float64)
    if (levels < 0).any():
        raise ValueError("ratios need values of 0 or more")
    both = levels[:, None] + levels
    return np.asarray(((levels[:, None] - levels) / np.where(both > 0, both, 1)) ** 2)


def _ranks_apart(used: Floats) -> Floats:
    """Squared differences of the middle ranks of levels that were used so often."""
    rank = np.cumsum(used, axis=-1) - used / 2
    return np.asarray((rank[..., :, None] - rank[..., None, :]) ** 2)
