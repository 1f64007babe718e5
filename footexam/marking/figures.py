"""The agreement figures that comparisons and cohorts show, as plain values; numpy at use."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kappa:
    """Quadratic weighted kappa over the full level list; None where it cannot be computed.

    `note` says why not, or what must be known beside the interval.
    """

    n: int
    value: float | None = None
    low: float | None = None
    high: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Agreement:
    """Student minus reference of one measure: bias and 95 % limits of agreement, in its unit.

    The `_low` and `_high` of each are its 95 % interval. None where it cannot be computed; `note`
    says why.
    """

    n: int
    bias: float | None = None
    bias_low: float | None = None
    bias_high: float | None = None
    lower: float | None = None
    lower_low: float | None = None
    lower_high: float | None = None
    upper: float | None = None
    upper_low: float | None = None
    upper_high: float | None = None
    note: str = ""


def kappa_of(pairs: Sequence[tuple[int, int]], levels: Sequence[int]) -> Kappa:
    """Kappa of student and reference levels on one scale, whose every level is in `levels`."""
    return Kappa(len(pairs))


def agreement_of(pairs: Sequence[tuple[float, float]]) -> Agreement:
    """Bias and limits of (student, reference) values of one measure."""
    return Agreement(len(pairs))
