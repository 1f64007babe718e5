"""Fleiss' kappa of several raters who sort subjects into categories (Psychol Bull 1971;76:378)."""

from dataclasses import dataclass

import numpy as np

from footexam.marking import jackknife
from footexam.marking.batch import Batch, Floats, batch
from footexam.marking.coverage import FLEISS, LEAST_UNITS, simulated
from footexam.marking.estimate import CONFIDENCE, Method


@dataclass(frozen=True, slots=True)
class Fleiss:
    """Kappa over all categories, and of each category against the rest (no interval).

    `null_error` is the standard error if the raters agreed by chance only: for z.
    """

    kappa: Batch
    categories: Floats
    null_error: Floats


def fleiss(counts: Floats, confidence: float = CONFIDENCE) -> Fleiss:
    """Of counts in the shape (..., subjects, categories): how many raters chose which.

    A subject that nobody rated (all 0) is left out. ValueError where subjects have different
    numbers of raters, or fewer than two. Not computable where one category took every rating; no
    interval with fewer than six subjects.
    """
    total = counts.sum(axis=-1)
    rated = total > 0
    raters = float(total.max(initial=0.0)) if rated.any() else 2.0
    if raters < 2 or (total[rated] != raters).any():
        raise ValueError("each subject needs the same number of raters, two or more")
    agreed = ((counts**2).sum(axis=-1) - total) / (raters * (raters - 1))
    chosen = counts / raters
    n = rated.sum(axis=-1).astype(np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        sums = agreed.sum(axis=-1), chosen.sum(axis=-2)
        value = _kappa(sums[0], sums[1], n)
        without = _kappa(
            sums[0][..., None] - agreed, sums[1][..., None, :] - chosen, n[..., None] - 1
        )
        spread = jackknife.error(np.where(np.isfinite(without), without, 0.0), rated * 1.0)
        share = sums[1] / n[..., None]
        other = share * (1 - share)
        apart = (counts * (raters - counts)).sum(axis=-2) / (n[..., None] * raters * (raters - 1))
        found = batch(
            value,
            jackknife.fisher_interval(value, spread, n, confidence),
            n,
            Method.JACKKNIFE,
            too_few=n < 2,
            no_variation=(share > 1 - 1e-12).any(axis=-1),
            identical=sums[0] > n - 1e-9,
            few_units=n < LEAST_UNITS,
            confidence=confidence,
            coverage=simulated(FLEISS, n),
        )
        return Fleiss(found, 1 - apart / other, _null_error(share, n, raters))


def _kappa(agreed: Floats, chosen: Floats, n: Floats) -> Floats:
    chance = ((chosen / n[..., None]) ** 2).sum(axis=-1)
    return np.asarray((agreed / n - chance) / (1 - chance))


def _null_error(share: Floats, n: Floats, raters: float) -> Floats:
    """Fleiss, Nee and Landis 1979 (Psychol Bull 86:974)."""
    other = share * (1 - share)
    sum_of = other.sum(axis=-1)
    square = sum_of**2 - (other * (1 - 2 * share)).sum(axis=-1)
    return np.asarray(np.sqrt(2 * square / (n * raters * (raters - 1))) / sum_of)
