"""Reads a plot back: which values its axes give to its marks, and whether its texts are clean."""

from collections.abc import Callable, Mapping
from itertools import combinations

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Drawing, Line, Text
from footexam.drawing.wrapped import Width

Reader = Callable[[float], float]


def texts(drawing: Drawing) -> list[Text]:
    return [one for one in drawing.shapes if isinstance(one, Text)]


def dots(drawing: Drawing) -> list[Circle]:
    return [one for one in drawing.shapes if isinstance(one, Circle) and one.fill is Ink.INK]


def scale(drawing: Drawing, named: Mapping[str, float] | None = None) -> tuple[Reader, Reader]:
    """From points to values along both axes, by the ticks that are drawn and their labels."""
    ticks = [one for one in drawing.shapes if isinstance(one, Line) and one.ink is Ink.BORDER]
    short = [one for one in ticks if abs(one.x1 - one.x2) + abs(one.y1 - one.y2) < 4.0]
    labels = [(number(one.text, named or {}), one) for one in texts(drawing)]
    known = [(value, one) for value, one in labels if value is not None]
    across = [
        (tick.x1, nearest(known, lambda one, at=tick: abs(one.x - at.x1), Anchor.MIDDLE))
        for tick in short
        if tick.x1 == tick.x2
    ]
    up = [
        (tick.y1, nearest(known, lambda one, at=tick: abs(one.y - at.y1), Anchor.END))
        for tick in short
        if tick.y1 == tick.y2
    ]
    return reader(across), reader(up)


def number(text: str, named: Mapping[str, float]) -> float | None:
    if text in named:
        return named[text]
    try:
        return float(text.replace("−", "-"))
    except ValueError:
        return None


def nearest(known: list[tuple[float, Text]], far: Callable[[Text], float], anchor: Anchor) -> float:
    fit = [(far(one), value) for value, one in known if one.anchor is anchor]
    return min(fit)[1]


def reader(pairs: list[tuple[float, float]]) -> Reader:
    (x1, v1), (x2, v2) = min(pairs), max(pairs)
    return lambda at: v1 + (at - x1) * (v2 - v1) / (x2 - x1)


def boxes(drawing: Drawing, width: Width) -> list[tuple[float, float, float, float, str]]:
    """Left, top, right and bottom of each text."""
    found = []
    for one in texts(drawing):
        long = width(one.text, one.size, one.bold)
        left = one.x - {Anchor.START: 0.0, Anchor.MIDDLE: long / 2, Anchor.END: long}[one.anchor]
        found.append((left, one.y - 0.7 * one.size, left + long, one.y + 0.1, one.text))
    return found


def clean(drawing: Drawing, width: Width) -> None:
    """No text leaves the drawing, none touches another."""
    found = [box for box in boxes(drawing, width) if box[4]]
    for left, top, right, bottom, text in found:
        assert left >= -0.1, text
        assert right <= drawing.width + 0.1, text
        assert 0 <= top < bottom <= drawing.height, text
    for one, other in combinations(found, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)
