"""The line of one measure over visits: dots with their values, joined in the order of time."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Drawing, Line, Shape, Text

TYPE = 7.5
"""Size of the values and the days, in points."""
_SIDE = 20.0
"""Room left and right of the first and the last dot for half a value."""
_TOP, _FOOT = 14.0, 12.0
"""Room above for values, below for days."""


@dataclass(frozen=True, slots=True)
class Point:
    """One visit: when (any number that grows with time), how much, and both in words."""

    when: float
    value: float
    told: str
    day: str


def growth_line(points: Sequence[Point], width: float = 150.0, height: float = 62.0) -> Drawing:
    """The line through two points or more, in time order; distances along are those in time.

    The height between the least and the greatest value is used whole; a level line stands in the
    middle. Where many visits stand close together only the first and the last value are written.
    """
    first, last = points[0].when, points[-1].when
    low, high = min(point.value for point in points), max(point.value for point in points)
    length, depth = width - 2 * _SIDE, height - _TOP - _FOOT - TYPE
    base = height - _FOOT
    places = []
    for place, point in enumerate(points):
        even = place / max(1, len(points) - 1)
        share = even if last == first else (point.when - first) / (last - first)
        up = 0.5 if high == low else (point.value - low) / (high - low)
        places.append((_SIDE + share * length, base - TYPE / 2 - up * depth))
    shapes: list[Shape] = [Line(0.0, base, width, base, Ink.BORDER, 0.7)]
    shapes += [Line(*one, *other, Ink.INK, 1.0) for one, other in pairwise(places)]
    crowded = any(right[0] - left[0] < 2 * _SIDE for left, right in pairwise(places))
    for place, ((x, y), point) in enumerate(zip(places, points, strict=True)):
        shapes += [Line(x, base, x, base + 2.0, Ink.BORDER, 0.7), Circle(x, y, 2.0, fill=Ink.INK)]
        at = _beside(place, len(points))
        if at is not Anchor.MIDDLE:  # outside the ends no line passes
            shapes.append(
                Text(x + (-3.5 if at is Anchor.END else 3.5), y + 1.5, point.told, TYPE, anchor=at)
            )
        elif not crowded:
            shapes.append(Text(x, y - 4.0, point.told, TYPE, anchor=at))
    return Drawing(width, height, (*shapes, *_days(places, points, base)))


def _beside(place: int, count: int) -> Anchor:
    """Where a value ends: left of the first dot, right of the last, else over the dot."""
    if place == 0:
        return Anchor.END
    return Anchor.START if place == count - 1 else Anchor.MIDDLE


def _days(
    places: Sequence[tuple[float, float]], points: Sequence[Point], base: float
) -> list[Shape]:
    """The first and the last day under the line; those between stand in the table."""
    ends = ((places[0][0], points[0].day), (places[-1][0], points[-1].day))
    return [Text(x, base + 9.5, day, TYPE, Ink.MUTED, anchor=Anchor.MIDDLE) for x, day in ends]
