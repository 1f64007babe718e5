"""Students against the reference in one measure: bias, limits, ICC, kappa, spread of errors."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from footexam.marking import kappa, quantiles
from footexam.marking.batch import Floats
from footexam.marking.bootstrap import bootstrap
from footexam.marking.coverage import (
    CROSSED_BIAS,
    CROSSED_COEFFICIENT,
    CROSSED_LIMITS,
    CROSSED_SLOPE,
    SPREAD,
    simulated,
)
from footexam.marking.crossed import Figure, crossed
from footexam.marking.estimate import Estimate

_TINY = 1e-13
"""Variances below this share of the largest square are rounding."""

Places = Sequence[tuple[int, int]]
"""Student and volunteer of each pair, as places from 0 on without a gap."""


def numbers(places: Places, pairs: Sequence[tuple[float, float]]) -> dict[str, Estimate]:
    """`bias`, `lower`, `upper` (95 % limits), `slope` and `icc` of (student, reference) values.

    The first three are student minus reference in the unit of the values; `slope` is how much the
    difference changes for each unit of the mean of both (Bland and Altman 1999, Stat Methods Med
    Res 8:135). `icc` is ICC(2,1) of one student's reading and the reference's. At least one pair.
    """
    values = np.array(pairs, dtype=np.float64)
    largest = float(np.abs(values).max())
    values -= values.mean()
    own, other = values[:, 0], values[:, 1]
    rows = np.stack([np.ones(len(own)), own, other, own**2, other**2, own * other], axis=-1)
    cells = _cells(places, rows)
    edge, least = quantiles.normal(0.975), _TINY * largest**2

    def icc(sums: Floats) -> Floats:
        return _icc(sums, least)

    figures = {
        "bias": Figure(_bias, CROSSED_BIAS),
        "lower": Figure(lambda s: _bias(s) - edge * _sd(s, least), CROSSED_LIMITS),
        "upper": Figure(lambda s: _bias(s) + edge * _sd(s, least), CROSSED_LIMITS),
        "slope": Figure(lambda s: _slope(s, least), CROSSED_SLOPE),
        "icc": Figure(icc, CROSSED_COEFFICIENT, correlation=True),
    }
    return {name: crossed(cells, figure, len(own)) for name, figure in figures.items()}


def kappa_of_levels(
    places: Places, pairs: Sequence[tuple[int, int]], levels: int, kind: kappa.Weights
) -> Estimate:
    """Kappa over the full list of levels, of which `pairs` holds places. At least one pair."""
    weight = kappa.weights(kind, levels)
    values = np.array(pairs, dtype=np.float64)
    rows = kappa.pair_cells(values[:, 0], values[:, 1], levels)

    def coefficient(sums: Floats) -> Floats:
        counts = sums.reshape(*sums.shape[:-1], levels, levels)
        varied = kappa.outside_commonest(counts) > 0
        return np.where(varied, kappa.coefficient(counts, weight), np.nan)

    figure = Figure(coefficient, CROSSED_COEFFICIENT, correlation=True)
    return crossed(_cells(places, rows), figure, len(values))


def spread(errors: Sequence[Sequence[Sequence[float]]]) -> list[Estimate]:
    """Root mean square of the errors of each measure, which are given by student.

    The interval draws students anew, as if volunteers and reference stayed the same; n counts the
    students. At least one measure, and every student has an error.
    """
    most = max(map(len, errors))
    sums, present = np.zeros((len(errors), most, 2)), np.zeros((len(errors), most))
    for place, students in enumerate(errors):
        rows = [error_sums(np.array(own, dtype=np.float64)) for own in students]
        sums[place, : len(rows)], present[place, : len(rows)] = rows, 1.0
    found = bootstrap(sums, root_mean_square, present)
    found = replace(found, coverage=simulated(SPREAD, found.n))
    return [found.estimate(place) for place in range(len(errors))]


def error_sums(errors: Floats) -> Floats:
    """The sum of squares and the number of errors (..., errors), made to be summed."""
    return np.stack([(errors**2).sum(axis=-1), np.full(errors.shape[:-1], errors.shape[-1])], -1)


def root_mean_square(sums: Floats) -> Floats:
    """From sums of `error_sums`."""
    return np.asarray(np.sqrt(sums[..., 0] / sums[..., 1]))


def _cells(places: Places, rows: Floats) -> Floats:
    """Rows summed by student and volunteer."""
    who = np.array(places)
    students, volunteers = who.max(axis=0) + 1
    cells = np.zeros((students, volunteers, rows.shape[-1]))
    np.add.at(cells, (who[:, 0], who[:, 1]), rows)
    return cells


def _bias(sums: Floats) -> Floats:
    return np.asarray((sums[..., 1] - sums[..., 2]) / sums[..., 0])


def _sd(sums: Floats, least: float) -> Floats:
    """The SD of the differences."""
    n, own, other, squares, others, both = np.moveaxis(sums, -1, 0)
    rest = squares + others - 2 * both - (own - other) ** 2 / n
    return np.asarray(np.sqrt(np.where(rest > least * n, rest, 0.0) / (n - 1)))


def _slope(sums: Floats, least: float) -> Floats:
    """The least squares slope of differences over means; not a number where no mean varies."""
    n, own, other, squares, others, both = np.moveaxis(sums, -1, 0)
    first, second = squares - own**2 / n, others - other**2 / n
    means = first + second + 2 * (both - own * other / n)
    return np.where(means > 4 * least * n, 2 * (first - second) / means, np.nan)


def _icc(sums: Floats, least: float) -> Floats:
    """ICC(2,1) of two; not a number where one of them never varies."""
    n, own, other, squares, others, both = np.moveaxis(sums, -1, 0)
    first, second = squares - own**2 / n, others - other**2 / n
    shared = both - own * other / n
    between = (first + second + 2 * shared) / (2 * (n - 1))
    error = (first + second - 2 * shared) / (2 * (n - 1))
    raters = (own - other) ** 2 / (2 * n)
    flat = (first <= least * n) | (second <= least * n)
    value = (between - error) / (between + error + 2 * (raters - error) / n)
    return np.where(flat, np.nan, value)
