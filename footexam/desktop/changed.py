"""Where two lists differ: what is before and behind it keeps its place in a window; no Qt."""

from collections.abc import Sequence
from itertools import takewhile


def changed_part(old: Sequence[object], new: Sequence[object]) -> tuple[slice, slice]:
    """The part of the old list that makes way, and the part of the new one that takes its place."""
    start = _shared(old, new)
    most = min(len(old), len(new)) - start
    end = min(most, _shared(old[::-1], new[::-1]))
    return slice(start, len(old) - end), slice(start, len(new) - end)


def _shared(one: Sequence[object], other: Sequence[object]) -> int:
    """How many things two lists have in common from the first on."""
    pairs = zip(one, other, strict=False)
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
