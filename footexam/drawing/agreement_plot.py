"""Plots of agreement: differences against means with bias and limits, and errors item by item."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor, log10

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Drawing, Line, Polygon, Rect, Shape, Text

TYPE = 8.0
DOT = 2.2
_TICKS = 4
_LEFT, _BOTTOM, _TOP = 38.0, 30.0, 12.0
_RIGHT = 62.0
"""Room at the right in points, where lines are named."""


@dataclass(frozen=True, slots=True)
class Level:
    """A line across a plot at a value, its 95 % interval if known, and its name."""

    at: float
    name: str
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Axes:
    """What stands on the axes, in words."""

    x: str
    y: str


@dataclass(frozen=True, slots=True)
class _Span:
    """A range of values laid over a range of points."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The place of a value in points."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


def difference_plot(
    points: Sequence[tuple[float, float]],
    levels: Sequence[Level],
    axes: Axes,
    width: float = 300.0,
    height: float = 170.0,
) -> Drawing:
    """Differences (second) against means (first); the first of `levels` is the bias.

    Points that lie on one another are drawn as one larger ring around a dot.
    """
    xs = _span([x for x, _ in points], _LEFT, width - _RIGHT)
    edges = [edge for one in levels for edge in (one.at, one.low, one.high) if edge is not None]
    ys = _span([*(y for _, y in points), *edges, 0.0], height - _BOTTOM, _TOP)
    shapes: list[Shape] = [*_intervals(levels, xs, ys), *_frame(xs, ys, axes, height)]
    shapes += _zero(xs, ys)
    shapes += _named_lines(levels, xs, ys)
    shapes += _dots(points, xs, ys)
    return Drawing(width, height, tuple(shapes))


def _span(values: Sequence[float], start: float, end: float) -> _Span:
    """The values with a little room at both ends; one value alone stands in the middle."""
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    room = 0.08 * (high - low) or max(abs(high) * 0.1, 1.0)
    return _Span(low - room, high + room, start, end)


def _intervals(levels: Sequence[Level], xs: _Span, ys: _Span) -> Iterator[Shape]:
    for one in levels:
        if one.low is not None and one.high is not None:
            top, bottom = ys.at(one.high), ys.at(one.low)
            yield Rect(xs.start, top, xs.end - xs.start, bottom - top, fill=Ink.BAND)


def _frame(xs: _Span, ys: _Span, axes: Axes, height: float) -> Iterator[Shape]:
    """Both axes with their ticks and names."""
    yield Line(xs.start, ys.start, xs.end, ys.start, Ink.BORDER, 0.8)
    yield Line(xs.start, ys.start, xs.start, ys.end, Ink.BORDER, 0.8)
    for tick in ticks(xs.low, xs.high):
        x = xs.at(tick)
        yield Line(x, ys.start, x, ys.start + 3, Ink.BORDER, 0.8)
        yield Text(x, ys.start + 11.5, _digits(tick), TYPE, Ink.MUTED, anchor=Anchor.MIDDLE)
    for tick in ticks(ys.low, ys.high):
        y = ys.at(tick)
        yield Line(xs.start - 3, y, xs.start, y, Ink.BORDER, 0.8)
        yield Text(xs.start - 5, y + 2.8, _digits(tick), TYPE, Ink.MUTED, anchor=Anchor.END)
    yield Text(xs.start, _TOP - 4.0, axes.y, TYPE, Ink.MUTED)
    middle = (xs.start + xs.end) / 2
    yield Text(middle, height - 5.0, axes.x, TYPE, Ink.MUTED, anchor=Anchor.MIDDLE)


def _zero(xs: _Span, ys: _Span) -> Iterator[Shape]:
    """No difference, dotted."""
    y, x = ys.at(0.0), xs.start
    while x < xs.end:
        yield Line(x, y, min(x + 1.5, xs.end), y, Ink.MUTED, 0.6)
        x += 4.0


def _named_lines(levels: Sequence[Level], xs: _Span, ys: _Span) -> Iterator[Shape]:
    """The bias whole, the limits dashed; names at the right, moved apart where they would meet."""
    bases = _apart([ys.at(one.at) + 2.8 for one in levels])
    for place, (one, base) in enumerate(zip(levels, bases, strict=True)):
        y, x = ys.at(one.at), xs.start
        if place == 0:
            yield Line(xs.start, y, xs.end, y, Ink.ACCENT, 1.1)
        while place and x < xs.end:
            yield Line(x, y, min(x + 5.0, xs.end), y, Ink.ACCENT, 0.9)
            x += 8.0
        yield Text(xs.end + 4.0, base, one.name, TYPE)


def _apart(bases: Sequence[float]) -> list[float]:
    """Base lines at least a line's height from one another, in the same order on the page."""
    moved = list(bases)
    order = sorted(range(len(moved)), key=moved.__getitem__)
    for before, place in pairwise(order):
        moved[place] = max(moved[place], moved[before] + TYPE + 1.0)
    return moved


def _dots(points: Sequence[tuple[float, float]], xs: _Span, ys: _Span) -> Iterator[Shape]:
    counts: dict[tuple[float, float], int] = {}
    for point in points:
        counts[point] = counts.get(point, 0) + 1
    for (x, y), count in counts.items():
        yield Circle(xs.at(x), ys.at(y), DOT, fill=Ink.INK)
        if count > 1:
            ring = DOT + 1.0 + min(count, 6) * 0.6
            yield Circle(xs.at(x), ys.at(y), ring, stroke=Ink.INK, line_width=0.7)


def ticks(low: float, high: float) -> list[float]:
    """Round values inside a range, some four of them."""
    raw = (high - low) / _TICKS
    power = 10.0 ** floor(log10(raw))
    step = next(power * nice for nice in (1, 2, 5, 10) if power * nice >= raw)
    first = floor(low / step) + 1
    count = floor(high / step + 1e-9) - first + 1
    return [(first + place) * step for place in range(count)]


def _digits(value: float) -> str:
    """A tick with a true minus and no idle zeros."""
    return f"{value:.6g}".replace("-", "−")


# --- items


@dataclass(frozen=True, slots=True)
class ItemRow:
    """One item of an item plot: its name, its errors in standard errors, and what stands behind."""

    name: str
    errors: tuple[float, ...]
    told: str = ""


@dataclass(frozen=True, slots=True)
class ItemHeads:
    """What stands over names and notes, and under the axis."""

    name: str
    told: str
    axis: str


WIDEST = 4.0
"""Standard errors shown; what lies further out is a triangle at the edge."""
_ROW = 13.0
_NAMES = 0.40
_NOTES = 0.20


def item_plot(rows: Sequence[ItemRow], heads: ItemHeads, width: float = 499.0) -> Drawing:
    """Errors of each item as dots on one axis; the band holds 1.96 standard errors."""
    xs = _Span(-WIDEST, WIDEST, width * _NAMES + 6.0, width * (1 - _NOTES) - 6.0)
    top, bottom = _ROW, _ROW * (len(rows) + 1)
    left, right = xs.at(-1.96), xs.at(1.96)
    shapes: list[Shape] = [
        Rect(left, top, right - left, bottom - top, fill=Ink.BAND),
        Line(xs.at(0), top, xs.at(0), bottom, Ink.BORDER, 0.8),
        Text(0.0, TYPE + 1.0, heads.name, TYPE, Ink.MUTED),
        Text(width, TYPE + 1.0, heads.told, TYPE, Ink.MUTED, anchor=Anchor.END),
    ]
    for place, row in enumerate(rows, 1):
        shapes += _item_row(row, place * _ROW, xs, width)
    shapes += _item_axis(xs, bottom, heads.axis)
    return Drawing(width, bottom + 26.0, tuple(shapes))


def _item_row(row: ItemRow, top: float, xs: _Span, width: float) -> Iterator[Shape]:
    """Name, dots and note of one item, on a thin rule."""
    middle = top + _ROW / 2
    yield Line(0.0, top + _ROW, width, top + _ROW, Ink.RULE, 0.4)
    yield Text(0.0, middle + 2.8, row.name, TYPE)
    for error in row.errors:
        if abs(error) <= WIDEST:
            yield Circle(xs.at(error), middle, DOT, fill=None, stroke=Ink.INK, line_width=0.9)
        else:
            yield _beyond(xs.at(WIDEST if error > 0 else -WIDEST), middle, 1 if error > 0 else -1)
    yield Text(width, middle + 2.8, row.told, TYPE, anchor=Anchor.END)


def _beyond(x: float, y: float, way: int) -> Shape:
    points = ((x, y - 3.0), (x, y + 3.0), (x + 4.0 * way, y))
    return Polygon(points, fill=Ink.CAUTION)


def _item_axis(xs: _Span, bottom: float, told: str) -> Iterator[Shape]:
    for tick in (-4, -2, 0, 2, 4):
        x = xs.at(tick)
        yield Line(x, bottom, x, bottom + 3, Ink.BORDER, 0.8)
        yield Text(x, bottom + 11.5, _digits(tick), TYPE, Ink.MUTED, anchor=Anchor.MIDDLE)
    middle = (xs.start + xs.end) / 2
    yield Text(middle, bottom + 22.0, told, TYPE, Ink.MUTED, anchor=Anchor.MIDDLE)
