"""How likely a true value lies beyond a cut, given one reading with a known error.

The true value is normal with mean and variance as in the norm group, the error normal with SD
`sem`; the posterior is then normal too (statistics.md 2.1, the usual normal-normal result).
All numbers are in the unit of the measure.
"""

from math import sqrt

from footexam.scoring.normal import area_below


def true_variance(observed_sd: float, sem: float) -> float | None:
    """Variance of true values: observed variance less that of one reading's error (F5, S5).

    None where nothing is left: error and norm then come from different methods.
    """
    variance = observed_sd * observed_sd - sem * sem
    return variance if variance > 0.0 else None


def posterior(reading: float, mean: float, variance: float, sem: float) -> tuple[float, float]:
    """Mean and SD of the true value behind a reading, drawn towards the group's mean."""
    weight = variance / (variance + sem * sem)
    return mean + weight * (reading - mean), sem * sqrt(weight)


def chance_above(mean: float, sd: float, cut: float) -> float:
    """Chance 0..1 that a normal value lies above the cut."""
    return area_below((mean - cut) / sd)


def chance_below(mean: float, sd: float, cut: float) -> float:
    """Chance 0..1 that a normal value lies below the cut."""
    return area_below((cut - mean) / sd)


def chance_apart(mean: float, sd: float, cut: float) -> float:
    """Chance 0..1 that a normal value lies further from 0 than the cut, on either side."""
    return area_below((mean - cut) / sd) + area_below((-cut - mean) / sd)
