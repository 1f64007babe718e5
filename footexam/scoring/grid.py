"""Certainty of ordinal sums: the true total is a whole number, one cell of a grid each.

A cell t holds what lies between t - ½ and t + ½; the end cells are open. Prior and likelihood are
normal areas over cells, the posterior their product brought to sum 1 (statistics.md 2.4).
`sem` is in points, `low` and `high` are the ends of the scale.
"""

from functools import lru_cache
from math import inf, sqrt

from footexam.scoring.normal import area_below

_SMALLEST = 1e-300
"""Keeps a far prior from rounding to nothing in every cell."""


def _cell(point: float, centre: float, sd: float, low: int, high: int) -> float:
    """Area of the cell around a point under a normal curve."""
    top = inf if point >= high else (point + 0.5 - centre) / sd
    bottom = -inf if point <= low else (point - 0.5 - centre) / sd
    if bottom > 0.0:
        # The same area mirrored: differences of values near 1 lose their digits.
        top, bottom = -bottom, -top
    return area_below(top) - area_below(bottom)


@lru_cache(maxsize=4096)
def cells(
    reading: float,
    sem: float,
    ends: tuple[int, int],
    prior: tuple[float, float] | None = None,
) -> tuple[float, ...]:
    """Chance of each true total from end to end of the scale behind a reading.

    `prior` is mean and variance of true totals; without it all are alike beforehand.
    """
    low, high = ends
    points = range(low, high + 1)
    weights = [_cell(reading, true, sem, low, high) for true in points]
    if prior is not None:
        mean, sd = prior[0], sqrt(prior[1])
        before = (max(_cell(true, mean, sd, low, high), _SMALLEST) for true in points)
        weights = [weight * area for weight, area in zip(weights, before, strict=True)]
    total = sum(weights)
    return tuple(weight / total for weight in weights)


def chance_above(chances: tuple[float, ...], low: int, cut: float) -> float:
    """Chance that the true total lies above the cut (a half point)."""
    return sum(chance for true, chance in enumerate(chances, low) if true > cut)


def chance_below(chances: tuple[float, ...], low: int, cut: float) -> float:
    """Chance that the true total lies below the cut (a half point)."""
    return sum(chance for true, chance in enumerate(chances, low) if true < cut)


@lru_cache(maxsize=1024)
def chance_apart(one: tuple[float, ...], other: tuple[float, ...], cut: float) -> float:
    """Chance that two independent true totals differ by more than the cut, either way (S9)."""
    return sum(
        a * b for i, a in enumerate(one) for j, b in enumerate(other) if i - j > cut or j - i > cut
    )


@lru_cache(maxsize=1024)
def chance_greater(later: tuple[float, ...], earlier: tuple[float, ...]) -> float:
    """Chance that the later true total is at least one point above the earlier (S10)."""
    return sum(a * sum(earlier[:i]) for i, a in enumerate(later))
