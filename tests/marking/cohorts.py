"""Readings that tests of agreement share: seeded, invented."""

import numpy as np

from footexam.marking.batch import Batch

SEED = 1979


def readings(
    many: int, n: int, k: int, bias: float = 0.0, sd: float = 2.0, error: float = 1.0
) -> np.ndarray:
    """Tables (many, n, k) of normal readings with biased raters."""
    rng = np.random.default_rng(SEED)
    subjects = rng.normal(10, sd, (many, n, 1))
    raters = rng.normal(0, bias, (many, 1, k))
    return subjects + raters + rng.normal(0, error, (many, n, k))


def held(found: Batch, true: float) -> float:
    """How often the interval, where there is one, holds the true value."""
    known = ~np.isnan(found.low)
    return float(((found.low <= true) & (true <= found.high))[known].mean())
