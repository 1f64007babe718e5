"""How much a test would tell: information gain where ratios are published, else pairs split."""

from collections.abc import Sequence
from math import log2


def entropy(chances: Sequence[float]) -> float:
    """Entropy in bits of chances that sum to 1."""
    return -sum(chance * log2(chance) for chance in chances if chance > 0.0)


def information_gain(before: Sequence[float], positive: Sequence[float]) -> float:
    """Expected gain in bits of a test; `positive` is the chance of a positive under each.

    `before` sums to 1. The usual H(before) - E[H(after)].
    """
    gain = entropy(before)
    for chances in (positive, [1.0 - chance for chance in positive]):
        joint = [prior * chance for prior, chance in zip(before, chances, strict=True)]
        total = sum(joint)
        if total > 0.0:
            gain -= total * entropy([one / total for one in joint])
    return gain


def pairs_split(predictions: Sequence[bool | None]) -> int:
    """How many pairs a test tells apart; None is silent and tells nothing apart."""
    expecting = sum(one is True for one in predictions)
    return expecting * sum(one is False for one in predictions)
