"""One hypothesis drawn: findings for and against, the mechanism, the tissue, what is not known.

Findings stand at the left in rows; from those that speak for it an arrow leads to the mechanism at
the right, and from there to the tissue. For and against are told apart without colour: for stands
first, with a plus in a disc and a filled bar to the right of the axis; against stands under it,
with a minus in a square and a hatched bar to the left. What was not examined is an open ring, what
was set aside a crossed square. Counter-evidence stands at the right, beside the rows.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from footexam.drawing.hatch import hatch
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Drawing, Line, Polygon, Rect, Shape, Text
from footexam.drawing.wrapped import Width, wrapped

STATEMENT, TYPE, SMALL = 9.2, 8.6, 7.8
"""Sizes of what is proposed, of what is said and of what it rests on, in points."""
LEADING = 1.3
MOST_POINTS = 10.0
"""The points of a bar that is drawn at its full length; no row weighs more."""
NARROW = 380.0
"""Below this width mechanism and tissue stand under the findings, not beside them."""

_MARK, _RADIUS = 15.0, 4.4
"""Room for a sign at the left of a row, and half its size."""
_BAR, _WEIGHT = 58.0, 32.0
"""Widths of the column of bars, and of the points in words right of it."""
_BRIDGE = 26.0
"""Room for the arrow from the findings to the mechanism."""
_PAD, _GAP = 5.0, 5.0
"""Between a frame and its text, and between rows."""


@dataclass(frozen=True, slots=True)
class Point:
    """One row: what it says, what was found and on what it rests, and how much it weighs.

    `points` and `full` (were its reading sure) are decibans, positive; `weight` says them in words.
    `together` is told under the last of several rows that see one thing.
    """

    says: str
    found: str = ""
    weight: str = ""
    points: float = 0.0
    full: float = 0.0
    together: str = ""


@dataclass(frozen=True, slots=True)
class Heads:
    """The headings of the parts."""

    supports: str
    opposes: str
    struck: str
    unknown: str
    mechanism: str
    tissue: str
    counter: str


@dataclass(frozen=True, slots=True)
class Chain:
    """Everything that the drawing of one hypothesis says, in words.

    `statement` is what is proposed, `total` sums up the points.
    """

    heads: Heads
    statement: str
    supports: tuple[Point, ...]
    opposes: tuple[Point, ...]
    struck: tuple[Point, ...]
    unknown: tuple[str, ...]
    mechanism: str
    tissue: str
    counter: str
    total: str
    none_against: str = ""


def argument_drawing(chain: Chain, width: float, measure: Width) -> Drawing:
    """The drawing, `width` points wide and as high as its text needs.

    `measure` tells the width of a text in the caller's type.
    """
    if width < NARROW:
        return _stacked(chain, width, measure)
    left = round(0.62 * width)
    top = _Column(0.0, width, measure)
    _statement(top, chain)
    rows = _Column(0.0, left, measure, top.y)
    ends = _supports(rows, chain)
    _opposes(rows, chain, ends[0])
    _others(rows, chain)
    side = _Column(left + _BRIDGE, width - left - _BRIDGE, measure)
    side.y = ends[0]
    first = _boxes(side, chain)
    side.y += 2 * _GAP
    _counter(side, chain)
    shapes = [*top.shapes, *rows.shapes, *side.shapes, *_bridge(left, ends, first)]
    return Drawing(width, max(rows.y, side.y) + 1.0, tuple(shapes))


def _stacked(chain: Chain, width: float, measure: Width) -> Drawing:
    """Everything in one column: what speaks for it leads down to the tissue, then the rest."""
    column = _Column(0.0, width, measure)
    _statement(column, chain)
    top, bottom = _supports(column, chain)
    axis = _axis(column)
    column.shapes.append(Line(axis, top, axis, bottom, Ink.INK, 0.7))
    column.shapes += _arrow_down(width / 2, column.y, column.y + 12.0)
    column.y += 14.0
    _boxes(column, chain)
    column.y += _GAP
    _opposes(column, chain, None)
    _counter(column, chain)
    column.y += _GAP
    _others(column, chain)
    return Drawing(width, column.y + 1.0, tuple(column.shapes))


@dataclass(slots=True)
class _Column:
    """A column being filled from top to bottom."""

    x: float
    width: float
    measure: Width
    y: float = 0.0
    shapes: list[Shape] = field(default_factory=list)

    def lines(
        self, text: str, size: float, x: float, width: float, ink: Ink = Ink.INK, bold: bool = False
    ) -> None:
        """A text in lines from x, each below the one before."""
        for line in wrapped(text, size, width, self.measure, bold=bold):
            self.y += size * LEADING
            base = self.y - 0.3 * size
            self.shapes.append(Text(x, base, line, size, ink, bold))

    def head(self, text: str) -> None:
        """The heading of a part."""
        self.lines(text, TYPE, self.x, self.width, Ink.INK, bold=True)
        self.y += 2.0


def _statement(column: _Column, chain: Chain) -> None:
    """What is proposed, across the whole width."""
    column.lines(chain.statement, STATEMENT, column.x, column.width)
    column.y += _GAP


# --- the findings


def _axis(column: _Column) -> float:
    """Where bars begin."""
    return column.x + column.width - _WEIGHT - _BAR / 2


def _supports(column: _Column, chain: Chain) -> tuple[float, float]:
    """What speaks for it; the heights between which its rows stand."""
    column.head(chain.heads.supports)
    top = column.y
    for point in chain.supports:
        _row(column, point, speaks_for=True)
    return top, column.y - _GAP


def _opposes(column: _Column, chain: Chain, top: float | None) -> None:
    """What speaks against it and the sum; the axis goes up to `top`, or to these rows alone."""
    column.head(chain.heads.opposes)
    start, axis = column.y if top is None else top, _axis(column)
    if not chain.opposes:
        column.lines(chain.none_against, SMALL, column.x + _MARK, column.width - _MARK, Ink.MUTED)
        column.y += _GAP
    for point in chain.opposes:
        _row(column, point, speaks_for=False)
    if chain.opposes or top is not None:
        column.shapes.append(Line(axis, start, axis, column.y - _GAP, Ink.INK, 0.7))
    column.lines(chain.total, TYPE, column.x, column.width, bold=True)
    column.y += _GAP


def _others(column: _Column, chain: Chain) -> None:
    """What counts nothing: set aside, not examined."""
    _struck(column, chain)
    _unknown(column, chain)


def _row(column: _Column, point: Point, *, speaks_for: bool) -> None:
    """The sign, what is said, the bar and the weight; under it what was found."""
    top = column.y
    middle = top + TYPE * LEADING / 2 + 0.4
    column.shapes += (_plus if speaks_for else _minus)(column.x + _RADIUS + 1.0, middle)
    _text_of(column, point, column.width - _MARK - _BAR - _WEIGHT - 6.0)
    column.shapes += _bar(point, _axis(column), middle, speaks_for)
    end = column.x + column.width
    column.shapes.append(
        Text(end, middle + 0.34 * TYPE, point.weight, TYPE, bold=True, anchor=Anchor.END)
    )
    if point.together:
        column.lines(point.together, SMALL, column.x + _MARK, column.width - _MARK, Ink.MUTED)
    column.y += _GAP


def _text_of(column: _Column, point: Point, width: float) -> None:
    column.lines(point.says, TYPE, column.x + _MARK, width)
    if point.found:
        column.lines(point.found, SMALL, column.x + _MARK, width, Ink.MUTED)


def _plus(x: float, y: float) -> list[Shape]:
    """A filled disc with a plus."""
    arm = 0.58 * _RADIUS
    return [
        Circle(x, y, _RADIUS, fill=Ink.INK),
        Line(x - arm, y, x + arm, y, Ink.SURFACE, 1.3),
        Line(x, y - arm, x, y + arm, Ink.SURFACE, 1.3),
    ]


def _minus(x: float, y: float) -> list[Shape]:
    """An open square with a minus."""
    arm = 0.58 * _RADIUS
    return [_square(x, y), Line(x - arm, y, x + arm, y, Ink.INK, 1.4)]


def _crossed(x: float, y: float) -> list[Shape]:
    """An open square crossed out."""
    arm = _RADIUS - 0.6
    return [
        _square(x, y),
        Line(x - arm, y - arm, x + arm, y + arm, Ink.INK, 0.9),
        Line(x - arm, y + arm, x + arm, y - arm, Ink.INK, 0.9),
    ]


def _ring(x: float, y: float) -> list[Shape]:
    """An open ring: nobody has looked."""
    return [Circle(x, y, 0.75 * _RADIUS, fill=Ink.SURFACE, stroke=Ink.INK, line_width=0.9)]


def _square(x: float, y: float) -> Rect:
    side = 2 * _RADIUS - 0.8
    return Rect(x - side / 2, y - side / 2, side, side, Ink.SURFACE, Ink.INK, 0.9)


def _bar(point: Point, axis: float, middle: float, speaks_for: bool) -> list[Shape]:
    """The weight to the right (for, filled) or left (against, hatched) of the axis.

    The frame is what the row would weigh were its reading sure.
    """
    reach, high = _BAR / 2 - 1.0, 6.4
    full, own = (min(1.0, one / MOST_POINTS) * reach for one in (point.full, point.points))
    if full <= 0.0:
        return []
    top = middle - high / 2
    start = axis if speaks_for else axis - full
    frame = Rect(start, top, full, high, stroke=Ink.INK, line_width=0.7)
    if own <= 0.0:
        return [frame]
    if speaks_for:
        return [Rect(axis, top, own, high, fill=Ink.INK), frame]
    corners = ((axis - own, top), (axis, top), (axis, top + high), (axis - own, top + high))
    return [frame, *hatch(corners, 2.4, Ink.INK, 0.7)]


def _struck(column: _Column, chain: Chain) -> None:
    """Rows that a defeater took out, with the reason."""
    if not chain.struck:
        return
    column.head(chain.heads.struck)
    for point in chain.struck:
        middle = column.y + TYPE * LEADING / 2 + 0.4
        column.shapes += _crossed(column.x + _RADIUS + 1.0, middle)
        _text_of(column, point, column.width - _MARK)
        column.y += _GAP


def _unknown(column: _Column, chain: Chain) -> None:
    """What was not examined, one after another, each with its open ring."""
    if not chain.unknown:
        return
    column.head(chain.heads.unknown)
    end, step = column.x + column.width, SMALL * LEADING + 1.5
    x = column.x
    for name in chain.unknown:
        wide = _MARK - 2.0 + column.measure(name, SMALL, False) + 10.0
        if x > column.x and x + wide > end:
            x, column.y = column.x, column.y + step
        top = column.y
        column.shapes += _ring(x + _RADIUS + 1.0, top + SMALL * LEADING / 2 + 0.4)
        column.lines(name, SMALL, x + _MARK - 2.0, end - x - _MARK + 2.0)
        taken = column.y - top
        column.y = top + max(0.0, taken - SMALL * LEADING)
        x += wide
    column.y += step


# --- mechanism, tissue, counter-evidence


def _boxes(column: _Column, chain: Chain) -> tuple[float, float]:
    """Mechanism and tissue under one another; the top and the foot of the first."""
    heads = chain.heads
    first = _box(column, heads.mechanism, chain.mechanism, 0.9)
    column.shapes += _arrow_down(column.x + column.width / 2, column.y, column.y + 12.0)
    column.y += 14.0
    _box(column, heads.tissue, chain.tissue, 1.7)
    return first


def _counter(column: _Column, chain: Chain) -> None:
    """The counter-evidence, hatched at its left edge as the rows against are."""
    top = column.y
    _box(column, chain.heads.counter, chain.counter, 0.9, edge=6.0)
    x, foot = column.x, column.y
    corners = ((x, top), (x + 6.0, top), (x + 6.0, foot), (x, foot))
    column.shapes += [
        *hatch(corners, 3.0, Ink.INK, 0.7),
        Line(x + 6.0, top, x + 6.0, foot, Ink.INK, 0.7),
    ]


def _box(
    column: _Column, head: str, text: str, line_width: float, edge: float = 0.0
) -> tuple[float, float]:
    """A frame with its heading; `edge` is kept free at its left."""
    top = column.y
    column.y += _PAD - 1.5
    x, width = column.x + _PAD + edge, column.width - 2 * _PAD - edge
    column.lines(head, SMALL, x, width, Ink.MUTED, bold=True)
    column.lines(text, TYPE, x, width)
    column.y += _PAD
    frame = Rect(
        column.x,
        top,
        column.width,
        column.y - top,
        stroke=Ink.INK,
        line_width=line_width,
        radius=2.0,
    )
    column.shapes.append(frame)
    return top, column.y


def _bridge(left: float, ends: tuple[float, float], box: tuple[float, float]) -> Sequence[Shape]:
    """The bracket around the rows that speak for it, and the arrow to the mechanism."""
    x, (top, bottom) = left + 6.0, ends
    y = min((box[0] + box[1]) / 2, (top + bottom) / 2)
    tip = left + _BRIDGE - 1.0
    head = ((tip, y), (tip - 6.0, y - 3.2), (tip - 6.0, y + 3.2))
    return [
        Line(x, top, x, bottom, Ink.INK, 0.9),
        Line(x - 3.0, top, x, top, Ink.INK, 0.9),
        Line(x - 3.0, bottom, x, bottom, Ink.INK, 0.9),
        Line(x, y, tip - 6.0, y, Ink.INK, 0.9),
        Polygon(head, fill=Ink.INK),
    ]


def _arrow_down(x: float, top: float, tip: float) -> list[Shape]:
    head = ((x, tip), (x - 3.2, tip - 6.0), (x + 3.2, tip - 6.0))
    return [Line(x, top, x, tip - 6.0, Ink.INK, 0.9), Polygon(head, fill=Ink.INK)]
