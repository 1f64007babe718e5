"""Kappa of one comparison, and what must be said beside a figure; numpy at use."""

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


def note_of(found: Estimate) -> str:
    """Why there is no value or no interval, or that the interval is known to be too narrow."""
    if found.reason is not None:
        return WORDS[found.reason]
    if found.approximate:
        return f"approximate: held the true value in {found.coverage:.0%} of simulations"
    return ""
