"""Quantiles of the F, t, chi-squared and noncentral t distributions, for whole arrays.

From scipy.special: scipy.stats gives the same figures, but takes longer to import and to answer.
"""

import numpy as np
from scipy import special

from footexam.marking.batch import Floats


def normal(share: float) -> float:
    """The standard normal value with this share of the values below it."""
    return float(special.ndtri(share))


def normals(share: Floats) -> Floats:
    """Standard normal values with these shares of the values below them."""
    return np.asarray(special.ndtri(share))


def share_below(value: Floats) -> Floats:
    """The share of standard normal values below each value."""
    return np.asarray(special.ndtr(value))


def students_t(share: float, freedom: Floats) -> Floats:
    """Student's t; not a number below one degree of freedom."""
    return np.asarray(special.stdtrit(np.where(freedom >= 1, freedom, np.nan), share))


def students_t_beyond(value: Floats, freedom: Floats) -> Floats:
    """The chance of a value of Student's t at least as far from 0, on either side."""
    return np.asarray(2 * special.stdtr(freedom, -np.abs(value)))


def f_ratio(share: float, upper: Floats, lower: Floats) -> Floats:
    """F with degrees of freedom above and below, which need not be whole."""
    ratio = np.asarray(special.betaincinv(upper / 2, lower / 2, share))
    return np.asarray(lower * ratio / (upper * (1 - ratio)))


def chi_squared(share: float, freedom: Floats) -> Floats:
    """Chi-squared with degrees of freedom, which need not be whole."""
    return np.asarray(2 * special.gammaincinv(freedom / 2, share))


def chi_squareds(shares: Floats, freedom: float) -> Floats:
    """Chi-squared of many shares with the same degrees of freedom."""
    return np.asarray(2 * special.gammaincinv(freedom / 2, shares))


def noncentral_t(share: float, freedom: Floats, shift: Floats) -> Floats:
    """Student's t about a shift; each pair of arguments is worked out once, as it is slow."""
    pairs = np.stack(np.broadcast_arrays(freedom, shift), axis=-1).reshape(-1, 2)
    single, place = np.unique(pairs, axis=0, return_inverse=True)
    found = special.nctdtrit(single[:, 0], single[:, 1], share)
    return np.asarray(found[place.reshape(-1)]).reshape(np.shape(freedom))
