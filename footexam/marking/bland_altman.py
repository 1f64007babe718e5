"""Limits of agreement of two series of readings of one measure.

Bland and Altman 1986, Lancet i:307. The interval of a limit is exact, from the noncentral t
distribution (Carkeet 2015, Optom Vis Sci 92:e71); the approximate one of 1986 can be asked for.
Readings are in one unit; differences are first minus second.
"""

from dataclasses import dataclass

import numpy as np

from footexam.marking import quantiles
from footexam.marking.batch import Batch, Floats, batch
from footexam.marking.estimate import CONFIDENCE, Method

_ROUNDING = 64 * float(np.finfo(np.float64).eps)


@dataclass(frozen=True, slots=True)
class Limits:
    """Bias, spread and limits of differences, all in the unit of the readings.

    `slope` is the change of the difference with the mean of the two (proportional bias),
    `slope_chance` the chance of one at least as steep where there is none.
    """

    bias: Batch
    sd: Batch
    lower: Batch
    upper: Batch
    slope: Batch
    slope_chance: Floats


def limits(
    first: Floats,
    second: Floats,
    confidence: float = CONFIDENCE,
    factor: float | None = None,
    method: Method = Method.EXACT,
) -> Limits:
    """Of readings in the shape (..., n); a pair with a missing one (not a number) is left out.

    `factor` is how many SD the limits lie from the bias: None for those that hold 95 % (1.96).
    """
    factor = quantiles.normal(0.975) if factor is None else factor
    both = ~(np.isnan(first) | np.isnan(second))
    n = both.sum(axis=-1).astype(np.float64)
    largest = np.where(both, np.maximum(np.abs(first), np.abs(second)), 0).max(axis=-1, initial=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        count = np.maximum(n, 2)
        differences = np.where(both, first - second, 0.0)
        bias = differences.sum(axis=-1) / count
        apart = np.where(both, differences - bias[..., None], 0.0)
        sd = np.sqrt((apart**2).sum(axis=-1) / (count - 1))
        sd = np.where(sd <= _ROUNDING * largest, 0.0, sd)
        tails = (1 - confidence) / 2, (1 + confidence) / 2
        wide = quantiles.students_t(tails[1], count - 1) * sd / np.sqrt(count)
        spread = tuple(
            sd * np.sqrt((count - 1) / quantiles.chi_squared(share, count - 1))
            for share in reversed(tails)
        )
        reach = _reach(count, sd, factor, tails, method)
        slope, chance = _slope(apart, np.where(both, (first + second) / 2, 0.0), both, confidence)
    common = {"too_few": n < 2, "identical": sd == 0, "confidence": confidence}
    edge = factor * sd
    return Limits(
        bias=batch(bias, (bias - wide, bias + wide), n, Method.EXACT, **common),
        sd=batch(sd, (spread[0], spread[1]), n, Method.EXACT, **common),
        lower=batch(bias - edge, (bias - reach[1], bias - reach[0]), n, method, **common),
        upper=batch(bias + edge, (bias + reach[0], bias + reach[1]), n, method, **common),
        slope=slope,
        slope_chance=chance,
    )


def _reach(
    n: Floats, sd: Floats, factor: float, tails: tuple[float, float], method: Method
) -> tuple[Floats, Floats]:
    """How far from the bias a limit lies at least and at most."""
    if method == Method.EXACT:
        shift = factor * np.sqrt(n)
        low, high = (quantiles.noncentral_t(share, n - 1, shift) for share in tails)
        return low * sd / np.sqrt(n), high * sd / np.sqrt(n)
    wide = quantiles.students_t(tails[1], n - 1) * limit_error(sd, n)
    return factor * sd - wide, factor * sd + wide


def limit_error(sd: Floats, n: Floats) -> Floats:
    """Standard error of a limit as the paper of 1986 gives it, in the unit of the readings."""
    return np.asarray(np.sqrt(3 / n) * sd)


def _slope(
    differences: Floats, means: Floats, both: np.ndarray, confidence: float
) -> tuple[Batch, Floats]:
    """Least squares line of the differences over the means, and the chance of its slope."""
    n = both.sum(axis=-1).astype(np.float64)
    middle = means.sum(axis=-1) / np.maximum(n, 1)
    across = np.where(both, means - middle[..., None], 0.0)
    width = (across**2).sum(axis=-1)
    flat = width <= n * (_ROUNDING * np.abs(means).max(axis=-1, initial=0)) ** 2
    slope = (across * differences).sum(axis=-1) / width
    rest = np.where(both, differences - slope[..., None] * across, 0.0)
    freedom = np.maximum(n - 2, 1)
    error = np.sqrt((rest**2).sum(axis=-1) / freedom / width)
    still = (rest**2).sum(axis=-1) <= n * (_ROUNDING * np.abs(means).max(axis=-1, initial=0)) ** 2
    wide = quantiles.students_t((1 + confidence) / 2, freedom) * error
    found = batch(
        slope,
        (slope - wide, slope + wide),
        n,
        Method.EXACT,
        too_few=n < 3,
        no_variation=flat,
        identical=still,
        confidence=confidence,
    )
    chance = quantiles.students_t_beyond(slope / error, freedom)
    return found, np.where(np.isnan(found.low), np.nan, chance)


def single_reading_sd(
    sd_of_means: Floats | float, within: tuple[float, float], repeats: int
) -> Floats:
    """SD of differences between single readings, where each method gave the mean of `repeats`.

    `within` are the within-subject SDs of the two methods (Bland and Altman 1986). At least 1.
    """
    if repeats < 1:
        raise ValueError("a mean is taken over at least one reading")
    return np.asarray(
        np.sqrt(sd_of_means**2 + (1 - 1 / repeats) * (within[0] ** 2 + within[1] ** 2))
    )
