"""Weights of evidence in decibans: 10·log10(likelihood ratio); how uncertain and like ones add up.

Formulas and check values: statistics.md 4 (the usual Bayes arithmetic; the divisor for overlapping
findings was chosen there by simulation).
"""

from collections.abc import Iterable
from math import floor, isinf, log10

CAP = 10.0
"""No single row weighs more, in decibans."""
OVERLAP = 0.5
"""How much each further finding of a group widens the divisor: 1 + 0.5 (k - 1)."""


def decibans(ratio: float) -> float:
    """10·log10 of a likelihood ratio, at most 10 either way."""
    return max(-CAP, min(CAP, 10.0 * log10(ratio)))


def ratio_of(points: float) -> float:
    """The likelihood ratio of so many decibans."""
    return float(10.0 ** (points / 10.0))


def virtual_ratio(sensitivity: float, specificity: float, odds: float) -> float:
    """The likelihood ratio of a sign that is only so surely there.

    `odds` are the odds that it is there, over those before the reading (infinite: certain).
    """
    if isinf(odds):
        return sensitivity / (1.0 - specificity)
    there = sensitivity * odds + 1.0 - sensitivity
    return there / ((1.0 - specificity) * odds + specificity)


def weakened(points: float, odds: float) -> float:
    """An expert weight in proportion to how surely its finding is there; never below 0.

    The weight is taken as that of a sign which is as sensitive as it is specific.
    """
    if isinf(odds) or points <= 0.0:
        return points
    ratio = ratio_of(points)
    both = ratio / (1.0 + ratio)
    return max(0.0, 10.0 * log10(virtual_ratio(both, both, odds)))


def grouped(points: Iterable[float]) -> float:
    """What findings of one thing weigh together: a weak companion never lowers a strong one.

    The largest value of (sum of the first k) / (1 + 0.5 (k - 1)) over the findings by size.
    """
    best = total = 0.0
    for count, one in enumerate(sorted(points, reverse=True)):
        total += one
        best = max(best, total / (1.0 + OVERLAP * count))
    return best


def whole(points: float) -> int:
    """Points as they are shown: rounded once, halves away from nothing."""
    return floor(points + 0.5) if points >= 0 else -floor(-points + 0.5)
