"""The agreement figures that comparisons and cohorts show, as plain values; numpy at use."""

from collections.abc import Sequence
from dataclasses import dataclass

from footexam.marking.estimate import WORDS, Estimate, Reason


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
    if not pairs:
        return Kappa(0, note=WORDS[Reason.TOO_FEW])
    import numpy as np

    from footexam.marking.kappa import Weights, kappa, table

    place = {level: number for number, level in enumerate(levels)}
    first, second = (np.array([float(place[pair[who]]) for pair in pairs]) for who in (0, 1))
    found = kappa(table(first, second, len(levels)), Weights.QUADRATIC).estimate()
    return Kappa(found.n, found.value, found.low, found.high, note_of(found))


def agreement_of(pairs: Sequence[tuple[float, float]]) -> Agreement:
    """Bias and limits of (student, reference) values of one measure."""
    if not pairs:
        return Agreement(0, note=WORDS[Reason.TOO_FEW])
    import numpy as np

    from footexam.marking.bland_altman import limits

    first, second = (np.array([pair[who] for pair in pairs]) for who in (0, 1))
    found = limits(first, second)
    bias, lower, upper = (one.estimate() for one in (found.bias, found.lower, found.upper))
    return Agreement(
        n=bias.n,
        bias=bias.value,
        bias_low=bias.low,
        bias_high=bias.high,
        lower=lower.value,
        lower_low=lower.low,
        lower_high=lower.high,
        upper=upper.value,
        upper_low=upper.low,
        upper_high=upper.high,
        note=note_of(bias),
    )


def note_of(found: Estimate) -> str:
    """Why there is no value or no interval, or that the interval is known to be too narrow."""
    if found.reason is not None:
        return WORDS[found.reason]
    if found.approximate:
        return f"approximate: held the true value in {found.coverage:.0%} of simulations"
    return ""
