"""Drawings as plain lists and back, to hand them from one process to another."""

from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Drawing, Line, Polygon, Rect, Shape, Text

_SHAPES: Mapping[str, type[Shape]] = {
    shape.__name__: shape for shape in (Line, Rect, Circle, Polygon, Text)
}
_INKS = frozenset({"ink", "fill", "stroke"})


def as_list(drawing: Drawing) -> list[Any]:
    """Width, height and shapes; lengths to a hundredth of a point."""
    shapes = [_listed(shape) for shape in drawing.shapes]
    return [drawing.width, drawing.height, shapes]


def _listed(shape: Shape) -> list[Any]:
    values = (getattr(shape, field.name) for field in fields(shape))
    return [type(shape).__name__, *map(_plain, values)]


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    return round(value, 2) if isinstance(value, float) else value


def drawing_of(listed: list[Any]) -> Drawing:
    """The drawing of such a list. KeyError, ValueError or TypeError for any other."""
    width, height, shapes = listed
    return Drawing(float(width), float(height), tuple(_shape(*one) for one in shapes))


def _shape(name: str, *values: Any) -> Shape:
    kind = _SHAPES[name]
    known = {field.name: value for field, value in zip(fields(kind), values, strict=True)}
    return kind(**{name: _read(name, value) for name, value in known.items()})


def _read(name: str, value: Any) -> Any:
    if name in _INKS:
        return None if value is None else Ink(value)
    if name == "anchor":
        return Anchor(value)
    return tuple((x, y) for x, y in value) if name == "points" else value
