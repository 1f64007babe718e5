"""The plain shapes that every drawing is made of; points (1/72 inch), y grows downwards."""

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
