"""The plain shapes that every drawing is made of; points (1/72 inch), y grows downwards."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from footexam.drawing.palette import Ink

Point = tuple[float, float]


class Anchor(StrEnum):
    """Which part of a text stands at its x."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line of `width` points."""

    x1: float
    y1: float
    x2: float
    y2: float
    ink: Ink = Ink.INK
    width: float = 0.75


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle from its top left corner; `fill` or `stroke` None: not filled, no outline."""

    x: float
    y: float
    width: float
    height: float
    fill: Ink | None = None
    stroke: Ink | None = None
    line_width: float = 0.75
    radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle around its centre."""

    x: float
    y: float
    radius: float
    fill: Ink | None = None
    stroke: Ink | None = None
    line_width: float = 0.75


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed figure through its points."""

    points: tuple[Point, ...]
    fill: Ink | None = None
    stroke: Ink | None = None
    line_width: float = 0.75


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; `y` is its base line."""

    x: float
    y: float
    text: str
    size: float
    ink: Ink = Ink.INK
    bold: bool = False
    anchor: Anchor = Anchor.START


Shape = Line | Rect | Circle | Polygon | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes within a box of `width` by `height` points, its top left corner at (0, 0)."""

    width: float
    height: float
    shapes: tuple[Shape, ...]


def moved(shape: Shape, dx: float, dy: float) -> Shape:
    """The same shape `dx` points to the right and `dy` points down."""
    match shape:
        case Line():
            return replace(
                shape, x1=shape.x1 + dx, x2=shape.x2 + dx, y1=shape.y1 + dy, y2=shape.y2 + dy
            )
        case Polygon():
            return replace(shape, points=tuple((x + dx, y + dy) for x, y in shape.points))
        case _:
            return replace(shape, x=shape.x + dx, y=shape.y + dy)


def scaled(drawing: Drawing, factor: float, least_text: float = 0.0) -> Drawing:
    """The same drawing `factor` times as large; no text smaller than `least_text` points."""
    shapes = tuple(_scaled(shape, factor, least_text) for shape in drawing.shapes)
    return Drawing(drawing.width * factor, drawing.height * factor, shapes)


def _scaled(shape: Shape, factor: float, least_text: float) -> Shape:
    match shape:
        case Line():
            ends = (shape.x1, shape.y1, shape.x2, shape.y2)
            x1, y1, x2, y2 = (end * factor for end in ends)
            return Line(x1, y1, x2, y2, shape.ink, shape.width * factor)
        case Text():
            size = max(shape.size * factor, least_text)
            drop = 0.36 * (size - shape.size * factor)  # keeps the middle of the digits
            return replace(shape, x=shape.x * factor, y=shape.y * factor + drop, size=size)
        case Polygon():
            points = tuple((x * factor, y * factor) for x, y in shape.points)
            return replace(shape, points=points, line_width=shape.line_width * factor)
        case Circle():
            return replace(
                shape,
                x=shape.x * factor,
                y=shape.y * factor,
                radius=shape.radius * factor,
                line_width=shape.line_width * factor,
            )
        case Rect():
            return replace(
                shape,
                x=shape.x * factor,
                y=shape.y * factor,
                width=shape.width * factor,
                height=shape.height * factor,
                line_width=shape.line_width * factor,
                radius=shape.radius * factor,
            )


def joined(drawings: Iterable[Drawing], width: float, gap: float = 8.0) -> Drawing:
    """Drawings one beside the other, in rows of at most `width` points where more than one fits."""
    shapes: list[Shape] = []
    x = y = row = widest = 0.0
    for drawing in drawings:
        if x and x + drawing.width > width:
            x, y, row = 0.0, y + row + gap, 0.0
        shapes += [moved(shape, x, y) for shape in drawing.shapes]
        widest, row = max(widest, x + drawing.width), max(row, drawing.height)
        x += drawing.width + gap
    return Drawing(widest, y + row, tuple(shapes))
