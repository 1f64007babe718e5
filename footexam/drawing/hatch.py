"""Hatching: the slanted lines that fill a figure whose meaning is uncertain."""

from math import ceil

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Line, Point


def hatch(points: tuple[Point, ...], gap: float, ink: Ink, width: float = 0.6) -> tuple[Line, ...]:
    """Lines rising to the right inside a convex figure, `gap` points apart along x."""
    sums = [x + y for x, y in points]
    first = ceil(min(sums) / gap)
    lines = []
    for step in range(first, ceil(max(sums) / gap)):
        ends = _crossings(points, step * gap)
        if len(ends) == 2 and ends[0] != ends[1]:
            (x1, y1), (x2, y2) = ends
            lines.append(Line(x1, y1, x2, y2, ink, width))
    return tuple(lines)


def _crossings(points: tuple[Point, ...], level: float) -> list[Point]:
    """Where the line x + y = level meets the outline; corners on it count once."""
    found: list[Point] = []
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        start, end = x1 + y1 - level, x2 + y2 - level
        if start * end < 0:
            share = start / (start - end)
            found.append((x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
        elif start == 0 and end != 0:
            found.append((x1, y1))
    return found
