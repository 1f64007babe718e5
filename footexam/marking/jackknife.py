"""The error of a coefficient from leaving out one unit at a time, and intervals from it.

Efron and Stein 1981 (Ann Stat 9:586) for the error. The interval is symmetric on Fisher's scale,
atanh, on which agreement has nearly the same error whether it is high or low.
"""

import numpy as np

from footexam.marking import quantiles
from footexam.marking.batch import Floats

_NEAR_ONE = 1 - 1e-12


def error(without: Floats, weight: Floats) -> Floats:
    """Standard error from the coefficients without each unit, (..., units).

    `weight` says how often a unit is there: 0 for one that is not, more for equal ones.
    """
    n = weight.sum(axis=-1)
    mean = (weight * without).sum(axis=-1) / n
    apart = np.where(weight > 0, without - mean[..., None], 0.0)
    return np.asarray(np.sqrt((n - 1) / n * (weight * apart**2).sum(axis=-1)))


def fisher_interval(
    value: Floats, spread: Floats, n: Floats, confidence: float
) -> tuple[Floats, Floats]:
    """Limits of a coefficient below 1 with its standard error from n units, by Student's t."""
    inside = np.clip(value, -_NEAR_ONE, _NEAR_ONE)
    middle = np.arctanh(inside)
    wide = quantiles.students_t((1 + confidence) / 2, n - 1) * spread / (1 - inside**2)
    return np.tanh(middle - wide), np.tanh(middle + wide)
