"""How often intervals held the true value in simulation, for those that hold it too rarely.

From tests/bench/bench_coverage.py: latent normal traits cut into 2 to 9 levels, common and rare
ones, with small and large errors. Each figure is what nine in ten of the situations reached. An
interval that is not listed here held it in 93 to 97 %.
"""

import numpy as np

from footexam.marking.batch import Floats

LEAST_UNITS = 6
"""Units below which alpha and Fleiss' kappa have no interval: of 3 it held the value in 40 %."""

Steps = tuple[tuple[int, float], ...]
"""Share of simulations from this number on; below the first number the first share holds."""

ICC_SATTERTHWAITE: Steps = ((6, 0.92), (10, 0.90), (30, 0.86), (100, 0.78))
"""By subjects, 2 to 5 raters whose bias is up to twice the error."""

KAPPA_LARGE_SAMPLE: Steps = (
    *((6, 0.54), (8, 0.61), (10, 0.67), (12, 0.72), (20, 0.83)),
    *((30, 0.88), (45, 0.90), (60, 0.91), (100, 0.92)),
)
"""By pairs."""

KAPPA_LEFT_OUT: Steps = ((1, 0.64), (2, 0.85), (3, 0.91), (4, 0.92), (5, 0.93))
"""By ratings outside the commonest level of the rater who has fewer of them."""

ALPHA: Steps = ((6, 0.74), (10, 0.83), (20, 0.89), (30, 0.91), (60, 0.93))
"""By units."""

FLEISS: Steps = ((6, 0.78), (10, 0.83), (20, 0.88), (30, 0.91), (60, 0.92), (100, 0.93))
"""By subjects."""


CROSSED_COEFFICIENT: Steps = ((2, 0.69), (3, 0.85), (6, 0.89), (12, 0.92), (20, 0.93))
"""ICC and kappa of students with a reference: by students or volunteers, whichever are fewer."""

CROSSED_BIAS: Steps = ((2, 0.87), (3, 0.92), (4, 0.93))
"""The mean difference of students from a reference, likewise."""

CROSSED_LIMITS: Steps = ((2, 0.84), (3, 0.87), (8, 0.91), (20, 0.93))
"""The limits of their differences, likewise."""

CROSSED_SLOPE: Steps = ((2, 0.83), (3, 0.94))
"""The slope of their differences over the means, likewise."""

SPREAD: Steps = (
    *((3, 0.67), (4, 0.74), (6, 0.81), (8, 0.85), (12, 0.87)),
    *((20, 0.90), (30, 0.91), (60, 0.93)),
)
"""Root mean square errors by the bootstrap over students: by students."""


def simulated(steps: Steps, number: Floats) -> Floats:
    """The share for each number."""
    starts = np.array([start for start, _ in steps])
    shares = np.array([share for _, share in steps])
    return shares[np.maximum(np.searchsorted(starts, number, side="right") - 1, 0)]
