"""Whether students differ from the reference more where readings are larger; numpy at use."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Trend:
    """A line of the differences over the means: `at` where the mean is 0, `rise` for each unit.

    `low` and `high` are the 95 % interval of `rise`, `chance` that of one at least as steep where
    there is none.
    """

    at: float
    rise: float
    low: float
    high: float
    chance: float


def trend_of(pairs: Sequence[tuple[float, float]]) -> Trend | None:
    """The line through (student, reference) values, where its interval leaves out a level one."""
    if len(pairs) < 3:
        return None
    import numpy as np

    from footexam.marking.bland_altman import limits

    first, second = (np.array([pair[who] for pair in pairs]) for who in (0, 1))
    found = limits(first, second)
    rise = found.slope.estimate()
    if rise.value is None or rise.low is None or rise.high is None or rise.low <= 0 <= rise.high:
        return None
    middle = float(((first + second) / 2).mean())
    at = float((first - second).mean()) - rise.value * middle
    return Trend(at, rise.value, rise.low, rise.high, float(found.slope_chance))
