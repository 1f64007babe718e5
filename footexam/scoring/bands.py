"""Bands: where the cuts of a norm lie, and which band a value is in.

A cut compares a value as its operator says, unrounded. Two kinds of cut are moved first: of an
ordinal scale half a point outside the usual range (S3), and of a set printed in whole units to the
half unit between the bands (S4), which is the same as rounding the value half up.
"""

import operator
from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from footexam.catalogue.model import Cut, NormGroup
from footexam.terms import ABOVE, BELOW, WITHIN, Provenance

LIMIT_FACTOR = Decimal("1.96")
"""Mean ± 1.96 SD is the usual range where the source gives no cuts (F1 b)."""

_HALF = Decimal("0.5")
_ABOVE = (">", ">=")
_COMPARE: dict[str, Callable[[Decimal, Decimal], bool]] = {
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}


@dataclass(frozen=True, slots=True)
class Edge:
    """One cut, ready to compare: a value for which `beyond(value, cut)` holds is in `state`.

    `limit` and `op` are what is shown, `above` says on which side of `point` (the cut) beyond is.
    `source` and `provenance` are empty where they are those of the set.
    """

    state: str
    op: str
    limit: float
    cut: Decimal
    point: float
    above: bool
    beyond: Callable[[Decimal, Decimal], bool]
    source: str = ""
    provenance: Provenance | None = None


@dataclass(frozen=True, slots=True)
class Scale:
    """The edges below and above the usual range, nearest to it first; either may be empty."""

    low: tuple[Edge, ...]
    high: tuple[Edge, ...]

    def crossed(self, value: Decimal) -> Edge | None:
        """The last cut crossed; None within the usual range."""
        found = None
        for edges in (self.low, self.high):
            for edge in edges:
                if not edge.beyond(value, edge.cut):
                    break
                found = edge
        return found

    def state(self, value: Decimal) -> str:
        """The band a value is in: that of the last cut crossed, else within."""
        edge = self.crossed(value)
        return edge.state if edge else WITHIN

    def limit(self, value: Decimal) -> Edge | None:
        """The edge of the usual range that was crossed, else the nearer one (F6, S4: the lower)."""
        if not self.low or not self.high:
            edges = self.low or self.high
            return edges[0] if edges else None
        low, high = self.low[0], self.high[0]
        return low if value - low.cut <= high.cut - value else high


EMPTY = Scale((), ())


def scale(
    group: NormGroup,
    ordinal: bool = False,
    round_to: Decimal | None = None,
    spread: tuple[Decimal, Decimal] | None = None,
) -> Scale:
    """The usual range of a norm group: its printed cuts, else mean ± 1.96 SD (F1).

    `spread` is the mean and SD where they are interpolated. Empty without cuts and without SD.
    """
    low, high = group.low, group.high
    if not low and not high:
        low, high = _from_spread(group, spread)
        round_to = None
    return Scale(_edges(low, ordinal, round_to), _edges(high, ordinal, round_to))


def _from_spread(
    group: NormGroup, spread: tuple[Decimal, Decimal] | None
) -> tuple[tuple[Cut, ...], tuple[Cut, ...]]:
    """Cuts at mean ± 1.96 SD; a reading on the limit is within (S12)."""
    if spread is None:
        if group.mean is None or group.sd is None:
            return (), ()
        spread = group.mean, group.sd
    mean, width = spread[0], LIMIT_FACTOR * spread[1]
    return (Cut("<", mean - width, BELOW),), (Cut(">", mean + width, ABOVE),)


def _edges(cuts: tuple[Cut, ...], ordinal: bool, round_to: Decimal | None) -> tuple[Edge, ...]:
    return tuple(edge(cut, ordinal, round_to) for cut in cuts)


def edge(cut: Cut, ordinal: bool = False, round_to: Decimal | None = None) -> Edge:
    """One cut, moved as its scale or its printed unit asks."""
    at, op, limit = cut.at, cut.op, float(cut.at)
    if ordinal:
        at = _half_point(op, at)
    elif round_to is not None:
        at, op = _half_unit(op, at, round_to)
        limit = float(at)
    return Edge(
        state=cut.state,
        op=op,
        limit=limit,
        cut=at,
        point=float(at),
        above=op in _ABOVE,
        beyond=_COMPARE[op],
        source=cut.source,
        provenance=cut.provenance,
    )


def _half_point(op: str, at: Decimal) -> Decimal:
    """Half a point between the last whole number inside and the first outside (S3)."""
    if op in ("<", ">="):
        return at.to_integral_value(ROUND_CEILING) - _HALF
    return at.to_integral_value(ROUND_FLOOR) + _HALF


def _half_unit(op: str, at: Decimal, unit: Decimal) -> tuple[Decimal, str]:
    """The half unit between two printed bands, and the operator of rounding half up (S4)."""
    moved = at - unit * _HALF if op in ("<", ">=") else at + unit * _HALF
    return moved, "<" if op in ("<", "<=") else ">="
