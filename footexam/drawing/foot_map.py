"""The foot map: places chosen or given a number on a drawn foot, and the place under a point."""

from collections.abc import Collection, Mapping
from decimal import Decimal, InvalidOperation
from itertools import pairwise
from math import ceil, hypot

from footexam.catalogue.model import say
from footexam.drawing.outlines import Patch, View, view_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import (
    Anchor,
    Circle,
    Drawing,
    Line,
    Point,
    Polygon,
    Rect,
    Shape,
    Text,
)
from footexam.terms import Side

NEAR = 3.0
"""How far beside a place, in points, a click still means it."""
_LARGEST, _SMALLEST = 10.0, 6.0
"""Sizes of the numbers on the map, in points."""
_DIGIT = 0.58
"""Width of a digit as a share of the size of the type, rounded up."""
_GAP = 3.6
"""Between the lines of a hatch, in points along x."""


def map_drawing(
    side: Side | None,
    view: str,
    chosen: Collection[str] = (),
    values: Mapping[str, str] | None = None,
    current: str | None = None,
    *,
    small: bool = False,
    language: str = "en",
) -> Drawing:
    """One view of a foot, in points; side None: drawn as the right.

    `chosen` places are filled and hatched. `values` by region id are shown as numbers on a filled
    place; zero is an empty ring: looked at, nothing. `current` has a heavy outline. Places of
    other views are passed over. `small`: without numbers, words and places that are not marked.
    Raises KeyError for a view that does not exist.
    """
    figure = view_of(view, side)
    numbers = values or {}
    shapes = _foot(figure, small)
    for patch in figure.patches:
        marked = patch.region in chosen or patch.region in numbers
        if marked or not small:
            shapes += _place(patch, patch.region in chosen, numbers.get(patch.region), small)
    shapes += _current(figure, current, small)
    if not small:
        shapes += _captions(figure, language)
    return Drawing(figure.width, figure.height, tuple(shapes))


def hit(side: Side | None, view: str, x: float, y: float) -> str | None:
    """The region at a point of a view, the innermost of those that hold it.

    Beside all of them, the nearest within `NEAR` points; None: nothing there. Raises KeyError for
    a view that does not exist.
    """
    patches = view_of(view, side).patches
    holding = [patch for patch in patches if _holds(patch.points, x, y)]
    if holding:
        return holding[-1].region  # those within others come after them
    near = min((_distance(patch.points, x, y), patch.region) for patch in patches)
    return near[1] if near[0] <= NEAR else None


def is_nothing(value: str) -> bool:
    """Whether a value is zero: looked at, nothing found."""
    try:
        return Decimal(value.replace(",", ".")) == 0
    except InvalidOperation:
        return False


# --- drawing


def _foot(figure: View, small: bool) -> list[Shape]:
    """The skin: all lines first, then all surfaces, so that overlapping parts become one."""
    width = 7.0 if small else 2.2
    lines = [Polygon(points, stroke=Ink.BORDER, line_width=width) for points in figure.outlines]
    skins = [Polygon(points, fill=Ink.SURFACE) for points in figure.outlines]
    details = [
        Line(*start, *end, Ink.RULE, 1.0)
        for points in figure.details
        for start, end in pairwise(points)
    ]
    return [*lines, *skins, *details]


def _place(patch: Patch, chosen: bool, value: str | None, small: bool) -> list[Shape]:
    if value is not None:
        return _valued(patch, value, small)
    if chosen:
        return _chosen(patch, small)
    return [Polygon(patch.points, fill=Ink.SURFACE, stroke=Ink.BORDER, line_width=0.7)]


def _chosen(patch: Patch, small: bool) -> list[Shape]:
    shapes: list[Shape] = [Polygon(patch.points, fill=Ink.ACCENT, stroke=Ink.INK, line_width=1.2)]
    if not small:
        shapes += _hatch(patch.points)
    return shapes


def _valued(patch: Patch, value: str, small: bool) -> list[Shape]:
    """A number on the filled place, beside a frame if it is wider; a ring for nothing."""
    if is_nothing(value):
        return [
            Polygon(patch.points, fill=Ink.SURFACE, stroke=Ink.ACCENT, line_width=1.0),
            *_ring(patch, small),
        ]
    filled = Polygon(patch.points, fill=Ink.ACCENT, stroke=Ink.INK, line_width=1.2)
    return [filled] if small else [filled, *_number(patch, value)]


def _ring(patch: Patch, small: bool) -> list[Shape]:
    radius = 5.0 if small else max(2.0, min(3.6, 0.6 * _half_width(patch)))
    return [Circle(*patch.at, radius, Ink.SURFACE, Ink.ACCENT, 2.4 if small else 1.5)]


def _number(patch: Patch, value: str) -> list[Shape]:
    x, y = patch.at
    room = 2 * _half_width(patch)
    fitting = room / (_DIGIT * len(value))
    size = max(_SMALLEST, min(_LARGEST, fitting))
    inside = fitting >= _SMALLEST
    ink = Ink.SURFACE if inside else Ink.INK
    text = Text(x, y + 0.36 * size, value, size, ink, bold=True, anchor=Anchor.MIDDLE)
    if inside:
        return [text]
    wide, high = _DIGIT * size * len(value) + 3, size + 1.6
    frame = Rect(x - wide / 2, y - high / 2, wide, high, Ink.SURFACE, Ink.ACCENT, 0.9, radius=2.0)
    return [frame, text]


def _half_width(patch: Patch) -> float:
    """How far the place reaches to the nearer side at the height of its number."""
    x, y = patch.at
    ends = _crossings(patch.points, y)
    return min((abs(end - x) for end in ends), default=0.0)


def _current(figure: View, current: str | None, small: bool) -> list[Shape]:
    return [
        Polygon(patch.points, stroke=Ink.INK, line_width=5.0 if small else 2.4)
        for patch in figure.patches
        if patch.region == current
    ]


def _captions(figure: View, language: str) -> list[Shape]:
    return [
        Text(*item.at, say(item.text, language), 9.0, Ink.MUTED, anchor=Anchor.MIDDLE)
        for item in figure.captions
    ]


def _hatch(points: tuple[Point, ...]) -> list[Shape]:
    """Lines rising to the right inside any figure, in the colour of the surface."""
    # turned so that the lines are level: u runs along them, v across
    turned = tuple((x - y, x + y) for x, y in points)
    levels = [v for _, v in turned]
    lines: list[Shape] = []
    for step in range(ceil(min(levels) / _GAP), ceil(max(levels) / _GAP)):
        v = step * _GAP
        ends = _crossings(turned, v)
        for start, end in zip(ends[::2], ends[1::2], strict=False):
            lines.append(
                Line((v + start) / 2, (v - start) / 2, (v + end) / 2, (v - end) / 2, Ink.SURFACE)
            )
    return lines


# --- finding


def _crossings(points: tuple[Point, ...], y: float) -> list[float]:
    """Where a level line meets the outline, from left to right."""
    found = []
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        if (y1 > y) != (y2 > y):
            found.append(x1 + (y - y1) / (y2 - y1) * (x2 - x1))
    return sorted(found)


def _holds(points: tuple[Point, ...], x: float, y: float) -> bool:
    """Whether a point lies inside: an odd number of crossings to its left."""
    return sum(end < x for end in _crossings(points, y)) % 2 == 1


def _distance(points: tuple[Point, ...], x: float, y: float) -> float:
    """From a point to the outline."""
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return min(_to_line(x, y, start, end) for start, end in pairs)


def _to_line(x: float, y: float, start: Point, end: Point) -> float:
    (x1, y1), (x2, y2) = start, end
    dx, dy = x2 - x1, y2 - y1
    length = dx * dx + dy * dy
    share = 0.0 if length == 0 else max(0.0, min(1.0, ((x - x1) * dx + (y - y1) * dy) / length))
    return hypot(x - x1 - share * dx, y - y1 - share * dy)
