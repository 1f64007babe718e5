"""Intervals by drawing the units anew with replacement (Efron 1987, J Am Stat Assoc 82:171).

Works on coefficients that follow from sums over units: what each unit adds is worked out once, a
drawn sample is then a weighted sum. The same draws serve all tables of a batch, and the same seed
gives the same interval. With few units the interval is too narrow: prefer the others below some 30.
"""

from collections.abc import Callable, Iterator

import numpy as np

from footexam.marking import quantiles
from footexam.marking.batch import Batch, Floats, batch
from footexam.marking.estimate import CONFIDENCE, Method

RESAMPLES = 2000
SEED = 20260
_AT_ONCE = 4_000_000
"""Numbers that are held in memory at once, about."""


def bootstrap(
    stats: Floats,
    coefficient: Callable[[Floats], Floats],
    present: Floats,
    *,
    resamples: int = RESAMPLES,
    seed: int = SEED,
    confidence: float = CONFIDENCE,
) -> Batch:
    """The coefficient of each table with its bias-corrected and accelerated interval.

    `stats` is what each unit adds, (tables, units, sums); `coefficient` makes sums (..., sums) to
    coefficients (...); `present`, (tables, units), is 0 for a unit that is not there (its stats are
    0 too). Draws in which the coefficient does not exist are left out. ValueError without units.
    """
    if not stats.shape[-2]:
        raise ValueError("there is nothing to draw from")
    n = present.sum(axis=-1)
    whole = stats.sum(axis=-2)
    with np.errstate(divide="ignore", invalid="ignore"):
        value = coefficient(whole)
        low, high = np.empty_like(value), np.empty_like(value)
        step = max(1, _AT_ONCE // (resamples * stats.shape[-1]))
        for start in range(0, len(stats), step):
            some = slice(start, start + step)
            drawn = coefficient(_drawn(stats[some], resamples, seed))
            without = coefficient(whole[some, None] - stats[some])
            shares = _shares(drawn, value[some], without, present[some], confidence)
            low[some], high[some] = (_quantile(drawn, share) for share in shares)
        return batch(
            value,
            (low, high),
            n,
            Method.BOOTSTRAP,
            too_few=n < 2,
            no_variation=(n >= 2) & ~np.isfinite(value),
            identical=~(high > low),
            confidence=confidence,
        )


def _drawn(stats: Floats, resamples: int, seed: int) -> Floats:
    """Sums over drawn units: (tables, resamples, sums)."""
    tables, units, sums = stats.shape
    flat = np.moveaxis(stats, 1, 0).reshape(units, -1)
    found = np.empty((resamples, tables * sums))
    for rows, counts in _draws(units, resamples, seed):
        found[rows] = counts @ flat
    return np.moveaxis(found.reshape(resamples, tables, sums), 0, 1)


def _draws(units: int, resamples: int, seed: int) -> Iterator[tuple[slice, Floats]]:
    """How often each unit was drawn, for so many resamples at a time."""
    rng = np.random.default_rng(seed)
    step = max(1, _AT_ONCE // units)
    for start in range(0, resamples, step):
        rows = min(step, resamples - start)
        chosen = rng.integers(0, units, (rows, units)) + np.arange(rows)[:, None] * units
        counts = np.bincount(chosen.reshape(-1), minlength=rows * units)
        yield slice(start, start + rows), counts.reshape(rows, units).astype(np.float64)


def _shares(
    drawn: Floats, value: Floats, without: Floats, present: Floats, confidence: float
) -> tuple[Floats, Floats]:
    """Which shares of the draws the limits lie at, corrected for bias and skewness."""
    known = np.isfinite(drawn)
    count = np.maximum(known.sum(axis=-1), 1)
    below = (drawn < value[..., None]).sum(axis=-1) + (drawn == value[..., None]).sum(axis=-1) / 2
    shift = quantiles.normals(np.clip(below / count, 0.5 / count, 1 - 0.5 / count))
    there = (present > 0) & np.isfinite(without)
    mean = np.where(there, without, 0).sum(axis=-1) / np.maximum(there.sum(axis=-1), 1)
    apart = np.where(there, mean[..., None] - without, 0.0)
    spread = 6 * (apart**2).sum(axis=-1) ** 1.5
    skew = np.where(spread > 0, (apart**3).sum(axis=-1) / spread, 0.0)
    edge = quantiles.normal((1 + confidence) / 2)
    low, high = (shift + (shift + end) / (1 - skew * (shift + end)) for end in (-edge, edge))
    return quantiles.share_below(low), quantiles.share_below(high)


def _quantile(drawn: Floats, share: Floats) -> Floats:
    """The draw with this share of the existing draws of its table below it."""
    order = np.sort(drawn, axis=-1)
    last = np.maximum(np.isfinite(drawn).sum(axis=-1) - 1, 0)
    place = np.clip(np.nan_to_num(share), 0, 1) * last
    floor = np.floor(place).astype(np.int64)
    ends = [
        np.take_along_axis(order, np.minimum(floor + more, last)[..., None], axis=-1)[..., 0]
        for more in (0, 1)
    ]
    return np.asarray(ends[0] + (place - floor) * (ends[1] - ends[0]))
