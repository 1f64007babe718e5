"""Arithmetic of loads that worked-out measures and mechanics/ share.

A room imports only rooms below it, so what scoring/ needs as well cannot stand in mechanics/. The
functions take the exact decimals of a record or plain floats, and hold no clinical figure.
"""

from collections.abc import Sequence
from decimal import Decimal
from statistics import mean, stdev
from typing import TypeVar

Number = TypeVar("Number", float, Decimal)

PERCENT = 100


def change_percent(later: Number, earlier: Number) -> Number | None:
    """By how much the later exceeds the earlier, % of the earlier; None if that is 0."""
    return (later / earlier - 1) * PERCENT if earlier else None


def monotony(daily: Sequence[Number]) -> Number | None:
    """Mean over sample SD of daily loads (Foster 1998), a ratio; days of rest count as 0.

    None for fewer than two days and where all days are equal: it is not defined there, never
    infinite. The population SD would make it larger by √(n/(n-1)).
    """
    spread = stdev(daily) if len(daily) > 1 else 0
    return mean(daily) / spread if spread else None
