"""One estimate as it is shown: value, interval and n together, or the reason why there is none.

Nothing here needs numpy, so the window may import it at its start.
"""

from dataclasses import dataclass
from enum import StrEnum

CONFIDENCE = 0.95
WELL_COVERED = 0.93
"""An interval of 95 % that covered less than this in simulation is called approximate."""


class Reason(StrEnum):
    """Why there is no value, or (from `IDENTICAL` on) a value but no interval."""

    NO_VARIATION = "no-variation"
    TOO_FEW = "too-few"
    IDENTICAL = "identical"
    FEW_UNITS = "few-units"
    ALONE = "alone"
    CARRIED = "carried"


class Method(StrEnum):
    """How an interval was found."""

    EXACT = "exact"
    SATTERTHWAITE = "satterthwaite"
    GENERALIZED = "generalized"
    LARGE_SAMPLE = "large-sample"
    JACKKNIFE = "jackknife"
    BOOTSTRAP = "bootstrap"
    CROSSED = "crossed"


WORDS = {
    Reason.NO_VARIATION: "not computable: no variation",
    Reason.TOO_FEW: "not computable: too few pairs",
    Reason.IDENTICAL: "no interval: the readings agree without error",
    Reason.FEW_UNITS: "no interval: fewer than 6 subjects",
    Reason.ALONE: "no interval: one student and one volunteer only",
    Reason.CARRIED: "no interval: one student or volunteer carries all that varies",
}


@dataclass(frozen=True, slots=True)
class Estimate:
    """A coefficient or an error, never without `n` and its interval.

    `value` is None where nothing can be computed, `low` and `high` where there is no interval;
    `reason` then says why. `n` counts the subjects that were complete enough to be used.
    `coverage` is how often, in simulation, an interval like this one held the true value.
    """

    value: float | None
    low: float | None
    high: float | None
    n: int
    method: Method
    reason: Reason | None = None
    coverage: float | None = None
    confidence: float = CONFIDENCE

    @property
    def approximate(self) -> bool:
        """Whether the interval is known to hold the true value too rarely."""
        return self.coverage is not None and self.coverage < WELL_COVERED

    def described(self, digits: int = 2) -> str:
        """The estimate in words, with interval and n in every case."""
        if self.value is None:
            return f"{self._why()} (n {self.n})"
        value = f"{self.value:.{digits}f}"
        if self.low is None or self.high is None:
            return f"{value} ({self._why()}; n {self.n})"
        interval = f"{self.confidence:.0%} interval {self.low:.{digits}f} to {self.high:.{digits}f}"
        return f"{value} ({interval}{self._doubt()}; n {self.n})"

    def _why(self) -> str:
        return WORDS[self.reason or Reason.TOO_FEW]

    def _doubt(self) -> str:
        if not self.approximate:
            return ""
        return f", approximate: held the true value in {self.coverage:.0%} of simulations"
