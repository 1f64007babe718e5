"""Weighted kappa of two raters over the full list of levels, with its interval.

Cohen 1968 (Psychol Bull 70:213); large-sample error of Fleiss, Cohen and Everitt 1969 (Psychol
Bull 72:323). A level that nobody used still keeps its neighbours apart: with only the levels that
were seen, the weights and so the coefficient come out wrong.

The large-sample interval holds the true value too rarely below some 60 pairs. The interval used
unless another is asked for leaves one pair out at a time (jackknife), works on Fisher's scale and
takes Student's t; where every pair agrees it follows from the exact (Clopper and Pearson) limit of
the share that agrees. `coverage.py` says how often each held the true value in simulation.
"""

from enum import StrEnum

import numpy as np

from footexam.marking import jackknife, quantiles
from footexam.marking.batch import Batch, Floats, batch
from footexam.marking.coverage import KAPPA_LARGE_SAMPLE, KAPPA_LEFT_OUT, simulated
from footexam.marking.estimate import CONFIDENCE, Method


class Weights(StrEnum):
    """What a disagreement counts: all the same, by its distance, or by its distance squared."""

    UNWEIGHTED = "unweighted"
    LINEAR = "linear"
    QUADRATIC = "quadratic"


def weights(kind: Weights, levels: int) -> Floats:
    """The weight of each pair of levels: 1 for the same, 0 for the two ends. At least 2 levels."""
    if levels < 2:
        raise ValueError("a scale has at least two levels")
    place = np.arange(levels)
    apart = np.abs(place[:, None] - place) / (levels - 1)
    if kind == Weights.UNWEIGHTED:
        return np.asarray(apart == 0, dtype=np.float64)
    return np.asarray(1 - (apart if kind == Weights.LINEAR else apart**2), dtype=np.float64)


def table(first: Floats, second: Floats, levels: int) -> Floats:
    """Counts of pairs, (..., levels, levels), of places in the list of levels, (..., n).

    Not a number stands for a missing rating; its pair is left out. ValueError for a place that
    is not in the list.
    """
    both = ~(np.isnan(first) | np.isnan(second))
    one, two = (np.where(both, ratings, 0) for ratings in (first, second))
    if any(
        ((ratings < 0) | (ratings >= levels) | (ratings % 1 != 0)).any() for ratings in (one, two)
    ):
        raise ValueError("a rating is not in the list of levels")
    shape, cells = first.shape[:-1], levels * levels
    many = int(np.prod(shape, dtype=np.int64))
    start = np.arange(many).reshape(*shape, 1) * cells
    cell = np.where(both, start + one * levels + two, many * cells).astype(np.int64)
    counts = np.bincount(cell.reshape(-1), minlength=many * cells + 1)[:-1]
    return counts.reshape(*shape, levels, levels).astype(np.float64)


def pair_cells(first: Floats, second: Floats, levels: int) -> Floats:
    """Each pair as a table of its own, (..., n, levels squared), made to be summed (bootstrap)."""
    return table(first[..., None], second[..., None], levels).reshape(*first.shape, levels**2)


def kappa(
    counts: Floats,
    kind: Weights,
    confidence: float = CONFIDENCE,
    method: Method = Method.JACKKNIFE,
) -> Batch:
    """Kappa of tables of counts in the shape (..., levels, levels).

    Not computable with fewer than two pairs, or where a rater gave one level only.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        weight = weights(kind, counts.shape[-1])
        n = counts.sum(axis=(-2, -1))
        value = coefficient(counts, weight)
        outside = outside_commonest(counts)
        if method == Method.LARGE_SAMPLE:
            held = simulated(KAPPA_LARGE_SAMPLE, n)
            wide = quantiles.normal((1 + confidence) / 2) * large_sample_error(counts, kind)
            interval = value - wide, value + wide
        else:
            held = simulated(KAPPA_LEFT_OUT, outside)
            interval = _left_out_interval(counts, weight, value, confidence)
        return batch(
            value,
            interval,
            n,
            method,
            too_few=n < 2,
            no_variation=outside == 0,
            confidence=confidence,
            coverage=held,
        )


def coefficient(counts: Floats, weight: Floats) -> Floats:
    """Kappa itself, without further checks; not a number where chance explains everything."""
    n = counts.sum(axis=(-2, -1))
    seen = (counts * weight).sum(axis=(-2, -1)) / n
    chance = _expected(counts.sum(axis=-1), counts.sum(axis=-2), weight) / n**2
    return np.asarray((seen - chance) / (1 - chance))


def large_sample_error(counts: Floats, kind: Weights) -> Floats:
    """Standard error of kappa, for its interval."""
    weight = weights(kind, counts.shape[-1])
    n = counts.sum(axis=(-2, -1))
    share = counts / n[..., None, None]
    value = coefficient(counts, weight)
    chance = _expected(share.sum(axis=-1), share.sum(axis=-2), weight)
    usual = (share.sum(axis=-2) @ weight)[..., :, None] + (share.sum(axis=-1) @ weight)[
        ..., None, :
    ]
    square = (share * (weight - usual * (1 - value)[..., None, None]) ** 2).sum(axis=(-2, -1))
    rest = square - (value - chance * (1 - value)) ** 2
    return np.asarray(np.sqrt(np.maximum(rest, 0) / n) / (1 - chance))


def null_error(counts: Floats, kind: Weights) -> Floats:
    """Standard error of kappa if the raters agreed by chance only: for z, never for an interval."""
    weight = weights(kind, counts.shape[-1])
    n = counts.sum(axis=(-2, -1))
    row, column = counts.sum(axis=-1), counts.sum(axis=-2)
    chance = _expected(row, column, weight) / n**2
    usual = ((column @ weight)[..., :, None] + (row @ weight)[..., None, :]) / n[..., None, None]
    square = _expected(row, column, (weight - usual) ** 2) / n**2
    return np.asarray(np.sqrt(np.maximum(square - chance**2, 0) / n) / (1 - chance))


def _expected(row: Floats, column: Floats, weight: Floats) -> Floats:
    """Sum of the weights over all pairs of a row and a column rating."""
    return np.asarray((row[..., :, None] * weight * column[..., None, :]).sum(axis=(-2, -1)))


def _left_out_interval(
    counts: Floats, weight: Floats, value: Floats, confidence: float
) -> tuple[Floats, Floats]:
    n = counts.sum(axis=(-2, -1))
    cells = counts.reshape(*counts.shape[:-2], counts.shape[-1] ** 2)
    without = _without_one(counts, weight).reshape(cells.shape)
    error = jackknife.error(np.where(np.isfinite(without), without, 0.0), cells)
    low, high = jackknife.fisher_interval(value, error, n, confidence)
    agreed = counts.trace(axis1=-2, axis2=-1) == n
    return np.where(agreed, _limit_of_full_agreement(counts, confidence), low), np.where(
        agreed, 1.0, high
    )


def _without_one(counts: Floats, weight: Floats) -> Floats:
    """Kappa without one pair of each cell."""
    n = counts.sum(axis=(-2, -1))[..., None, None] - 1
    row, column = counts.sum(axis=-1), counts.sum(axis=-2)
    seen = (counts * weight).sum(axis=(-2, -1))[..., None, None] - weight
    chance = _expected(row, column, weight)[..., None, None]
    chance = chance - (column @ weight)[..., :, None] - (row @ weight)[..., None, :] + weight
    return np.asarray((seen / n - chance / n**2) / (1 - chance / n**2))


def _limit_of_full_agreement(counts: Floats, confidence: float) -> Floats:
    """Lower limit of unweighted kappa where all pairs agree, from the exact one of the share."""
    n = counts.sum(axis=(-2, -1))
    least = ((1 - confidence) / 2) ** (1 / n)
    chance = (counts.sum(axis=-1) * counts.sum(axis=-2)).sum(axis=-1) / n**2
    return np.asarray((least - chance) / (1 - chance))


def outside_commonest(counts: Floats) -> Floats:
    """Ratings outside the commonest level of a rater, for the rater with fewer of them."""
    n = counts.sum(axis=(-2, -1))
    outside = [n - counts.sum(axis=side).max(axis=-1) for side in (-1, -2)]
    return np.asarray(np.minimum(outside[0], outside[1]))
