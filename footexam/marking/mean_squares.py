"""Analysis of variance of subjects by raters, for many tables at once."""

from dataclasses import dataclass

import numpy as np

from footexam.marking.batch import Flags, Floats

_ROUNDING = 64 * float(np.finfo(np.float64).eps)
"""Mean squares below the square of this share of the largest reading are rounding, not error."""


@dataclass(frozen=True, slots=True)
class MeanSquares:
    """Mean squares of tables with `n` complete subjects and `k` raters.

    `between` subjects, `within` subjects, `raters` and what remains, `error` (Shrout and Fleiss
    1979: BMS, WMS, JMS, EMS). `flat`: nothing varies, or one of only two raters never does.
    """

    n: Floats
    k: int
    between: Floats
    within: Floats
    raters: Floats
    error: Floats
    flat: Flags

    @property
    def too_few(self) -> Flags:
        """Tables with fewer than two complete subjects."""
        return self.n < 2


def mean_squares(readings: Floats) -> MeanSquares:
    """Of readings in the shape (..., subjects, raters); not a number stands for a missing one.

    A subject with a missing reading is left out. ValueError with fewer than two raters.
    """
    k = readings.shape[-1]
    if k < 2:
        raise ValueError("agreement needs at least two raters")
    whole = ~np.isnan(readings).any(axis=-1, keepdims=True)
    n = whole.sum(axis=(-2, -1)).astype(np.float64)
    count = np.maximum(n, 1)
    level = np.where(whole, readings, 0.0)
    smallest = (_ROUNDING * np.abs(level).max(axis=(-2, -1), initial=0.0)) ** 2
    middle = level.sum(axis=(-2, -1)) / (count * k)
    apart = np.where(whole, level - middle[..., None, None], 0.0)
    subject = apart.mean(axis=-1, keepdims=True)
    rater = apart.sum(axis=-2, keepdims=True) / count[..., None, None]
    rest = np.where(whole, apart - subject - rater, 0.0)
    still = (np.where(whole, (apart - rater) ** 2, 0.0).sum(axis=-2)) <= (
        smallest[..., None] * count[..., None]
    )
    flat = still.any(axis=-1) if k == 2 else still.all(axis=-1)
    free = np.maximum(n - 1, 1)
    return MeanSquares(
        n=n,
        k=k,
        between=_above(k * (subject**2).sum(axis=(-2, -1)) / free, smallest),
        within=_above(((apart - subject) ** 2).sum(axis=(-2, -1)) / (count * (k - 1)), smallest),
        raters=_above(n * (rater**2).sum(axis=(-2, -1)) / (k - 1), smallest),
        error=_above((rest**2).sum(axis=(-2, -1)) / (free * (k - 1)), smallest),
        flat=flat,
    )


def _above(square: Floats, smallest: Floats) -> Floats:
    """Mean squares with mere rounding set to 0."""
    return np.where(square <= smallest, 0.0, square)
