"""Many estimates of one kind as arrays, and the way from them to single ones."""

from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from footexam.marking.estimate import CONFIDENCE, Estimate, Method, Reason

Floats: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]

_REASONS: tuple[Reason | None, ...] = (
    None,
    Reason.TOO_FEW,
    Reason.NO_VARIATION,
    Reason.IDENTICAL,
    Reason.FEW_UNITS,
    Reason.ALONE,
    Reason.CARRIED,
)


@dataclass(frozen=True, slots=True)
class Batch:
    """Estimates in arrays of one shape; not a number stands for what there is not.

    `why` holds places in the list of reasons, `n` the subjects used, `coverage` the share of
    simulations in which such an interval held the true value (None: as it should be).
    """

    value: Floats
    low: Floats
    high: Floats
    n: Floats
    why: NDArray[np.int8]
    method: Method
    confidence: float = CONFIDENCE
    coverage: Floats | None = None

    def estimate(self, place: int | tuple[int, ...] = ()) -> Estimate:
        """The estimate at a place of the arrays."""
        coverage = None if self.coverage is None else _number(self.coverage[place])
        return Estimate(
            value=_number(self.value[place]),
            low=_number(self.low[place]),
            high=_number(self.high[place]),
            n=int(self.n[place]),
            method=self.method,
            reason=_REASONS[int(self.why[place])],
            coverage=coverage,
            confidence=self.confidence,
        )

    def times(self, factor: float) -> "Batch":
        """All values and limits times a factor above 0."""
        return replace(
            self, value=self.value * factor, low=self.low * factor, high=self.high * factor
        )


def batch(
    value: Floats,
    interval: tuple[Floats, Floats],
    n: Floats,
    method: Method,
    *,
    too_few: Flags | bool = False,
    no_variation: Flags | bool = False,
    identical: Flags | bool = False,
    few_units: Flags | bool = False,
    alone: Flags | bool = False,
    carried: Flags | bool = False,
    confidence: float = CONFIDENCE,
    coverage: Floats | None = None,
) -> Batch:
    """Estimates with what cannot be computed blanked out; too few counts before no variation."""
    empty = np.logical_or(too_few, no_variation)
    cases = (too_few, no_variation, identical, few_units, alone, carried)
    why = np.zeros(np.shape(value), dtype=np.int8)
    for place, case in reversed(list(enumerate(cases, 1))):
        why = np.where(case, place, why)
    without = why > 0
    return Batch(
        value=np.where(empty, np.nan, value),
        low=np.where(without, np.nan, interval[0]),
        high=np.where(without, np.nan, interval[1]),
        n=np.asarray(n, dtype=np.float64),
        why=np.asarray(np.broadcast_to(why, np.shape(value)), dtype=np.int8),
        method=method,
        confidence=confidence,
        coverage=None if coverage is None else np.where(without, np.nan, coverage),
    )


def _number(value: np.float64) -> float | None:
    return None if np.isnan(value) else float(value)
