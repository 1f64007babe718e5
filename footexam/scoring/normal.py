"""The normal curve: the area below a point, and the place of a value among others."""

from math import erfc, sqrt

_ROOT_HALF = sqrt(0.5)


def area_below(z: float) -> float:
    """Share of a standard normal curve below z, 0..1 (accurate in both tails)."""
    return 0.5 * erfc(-z * _ROOT_HALF)


def standing(value: float, mean: float, sd: float) -> tuple[float, float]:
    """The z and centile (0..100) of a value in a group with that mean and SD (above 0)."""
    z = (value - mean) / sd
    return z, 100.0 * area_below(z)
