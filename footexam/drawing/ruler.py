"""The ruler of one reading: usual range as a band, the reading as a mark, its error as a bar."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from footexam.drawing.hatch import hatch
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Line, Point, Polygon, Rect, Shape

LEAST_BAND = 1.5
"""Least width of the band in points, so that it never vanishes beside a far reading."""


class Place(StrEnum):
    """Where the reading lies; below points left, above points right, within is a dot."""

    BELOW = "below"
    WITHIN = "within"
    ABOVE = "above"
    NOT_JUDGED = "not-judged"


@dataclass(frozen=True, slots=True)
class Mark:
    """One reading on a ruler, in the measure's unit.

    `low` and `high` are the ends of the usual range; None: open on that side, and both None means
    that nothing is usual. `error` is half the length of the error bar; None: not known, no bar.
    `uncertain` hatches the mark.
    """

    value: float
    low: float | None = None
    high: float | None = None
    error: float | None = None
    place: Place = Place.NOT_JUDGED
    uncertain: bool = False


@dataclass(frozen=True, slots=True)
class Scale:
    """What the two ends of a ruler stand for, in the measure's unit; `low` < `high`."""

    low: float
    high: float

    def at(self, value: float, start: float, length: float) -> float:
        """The place of a value on a ruler from `start`, `length` points long; ends hold it."""
        share = (value - self.low) / (self.high - self.low)
        return start + min(1.0, max(0.0, share)) * length


def choose_scale(
    marks: Sequence[Mark], hard_low: float | None = None, hard_high: float | None = None
) -> Scale:
    """One scale on which all marks of a measure can be compared, left with right.

    It holds the usual ranges with three quarters of their width on each side, and every reading
    with its error; it does not reach beyond the hard limits. Needs at least one mark.
    """
    ends = [end for mark in marks for end in _reach(mark)]
    low, high = min(ends), max(ends)
    pad = 0.04 * (high - low) or 1.0
    low, high = low - pad, high + pad
    values = [mark.value for mark in marks]
    # a value kept from beyond today's limits is still shown
    low = low if hard_low is None else max(low, min(hard_low, *values))
    high = high if hard_high is None else min(high, max(hard_high, *values))
    return Scale(low, high) if low < high else Scale(low - 1.0, high + 1.0)


def _reach(mark: Mark) -> tuple[float, ...]:
    """The values that a scale for this mark must hold."""
    error = mark.error or 0.0
    own = (mark.value - error, mark.value + error)
    edges = [edge for edge in (mark.low, mark.high) if edge is not None]
    if len(edges) == 2:
        room = 0.75 * (edges[1] - edges[0])
    elif edges:
        room = max(1.25 * abs(mark.value - edges[0]), 2.5 * error, 0.35 * abs(edges[0]))
    else:
        room = max(2.5 * error, 0.35 * abs(mark.value))
        edges = [mark.value]
    return (*own, edges[0] - room, edges[-1] + room)


def ruler(mark: Mark, scale: Scale, width: float = 96.0, height: float = 11.0) -> Drawing:
    """The drawing of one reading, `width` by `height` points."""
    radius = height * 0.36
    middle = height / 2
    start, length = radius, width - 2 * radius
    x = scale.at(mark.value, start, length)
    shapes: list[Shape] = [Line(0.0, middle, width, middle, Ink.RULE, 1.0)]
    shapes += _band(mark, scale, start, length, height)
    shapes += _error_bar(mark, scale, start, length, height)
    shapes += _mark(mark, x, middle, radius)
    return Drawing(width, height, tuple(shapes))


def _band(mark: Mark, scale: Scale, start: float, length: float, height: float) -> list[Shape]:
    """The usual range; an end that is open has no edge line."""
    if mark.low is None and mark.high is None:
        return []
    left = start if mark.low is None else scale.at(mark.low, start, length)
    right = start + length if mark.high is None else scale.at(mark.high, start, length)
    if right - left < LEAST_BAND:
        left = min(max((left + right - LEAST_BAND) / 2, start), start + length - LEAST_BAND)
        right = left + LEAST_BAND
    top, depth = height * 0.14, height * 0.72
    shapes: list[Shape] = [Rect(left, top, right - left, depth, fill=Ink.BAND)]
    for edge, x in ((mark.low, left), (mark.high, right)):
        if edge is not None:
            shapes.append(Line(x, top, x, top + depth, Ink.BORDER, 0.7))
    return shapes


def _error_bar(mark: Mark, scale: Scale, start: float, length: float, height: float) -> list[Shape]:
    """The error as a line with caps; nothing where it is not known."""
    if not mark.error:
        return []
    middle, cap, ink = height / 2, height * 0.2, _ink(mark)
    left = scale.at(mark.value - mark.error, start, length)
    right = scale.at(mark.value + mark.error, start, length)
    return [
        Line(left, middle, right, middle, ink, 1.1),
        Line(left, middle - cap, left, middle + cap, ink, 0.8),
        Line(right, middle - cap, right, middle + cap, ink, 0.8),
    ]


def _ink(mark: Mark) -> Ink:
    """Colour only for what lies outside; shape says the same without it."""
    return {Place.BELOW: Ink.BELOW, Place.ABOVE: Ink.ABOVE}.get(mark.place, Ink.INK)


def _mark(mark: Mark, x: float, middle: float, radius: float) -> list[Shape]:
    """A dot, an open ring (not judged) or a triangle; hatched where uncertain."""
    ink = _ink(mark)
    if mark.place is Place.NOT_JUDGED:
        return [Circle(x, middle, radius * 0.6, fill=Ink.SURFACE, stroke=ink, line_width=0.9)]
    if mark.place is Place.WITHIN:
        return [Circle(x, middle, radius * 0.6, fill=ink)]
    points = _triangle(mark.place, x, middle, radius)
    if not mark.uncertain:
        return [Polygon(points, fill=ink, stroke=ink, line_width=0.8)]
    outline = Polygon(points, fill=Ink.SURFACE, stroke=ink, line_width=0.8)
    return [outline, *hatch(points, radius * 0.6, ink)]


def _triangle(place: Place, x: float, middle: float, radius: float) -> tuple[Point, ...]:
    """A triangle around the reading that points left (below) or right (above)."""
    tip = -radius if place is Place.BELOW else radius
    return ((x + tip, middle), (x - tip, middle - radius), (x - tip, middle + radius))
