"""Turns what matplotlib draws into plain shapes; a pixel of matplotlib is a point."""

from collections.abc import Iterator
from itertools import pairwise
from math import hypot
from typing import Any

import numpy as np
from matplotlib.backend_bases import GraphicsContextBase, RendererBase
from matplotlib.colors import to_hex
from matplotlib.font_manager import FontProperties
from matplotlib.path import Path
from matplotlib.text import Text as Written
from matplotlib.transforms import Affine2D, Transform

from footexam.drawing.figure import colour
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Line, Point, Polygon, Rect, Shape, Text
from footexam.drawing.wrapped import Width

_INKS = {colour(ink): ink for ink in Ink}
_ANCHORS = {"left": Anchor.START, "center": Anchor.MIDDLE, "right": Anchor.END}
_BACK = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}
_CAPITALS = 0.72
"""Height of a line of text in its size: what stands above the base line."""


class Renderer(RendererBase):
    """Collects the shapes of one figure."""

    def __init__(self, width: float, height: float, measure: Width) -> None:
        super().__init__()
        self.width, self.height = width, height
        self.measure = measure
        self.shapes: list[Shape] = []

    def get_canvas_width_height(self) -> tuple[float, float]:
        """The size of the figure in points."""
        return self.width, self.height

    def points_to_pixels(self, points: Any) -> Any:
        """The same."""
        return points

    def flipy(self) -> bool:
        """Texts come with y from the top."""
        return True

    def get_text_width_height_descent(
        self,
        s: str,
        prop: FontProperties,
        ismath: object,  # noqa: ARG002 - no formulas are set
    ) -> tuple[float, float, float]:
        """The size of a text in our own type."""
        size = prop.get_size_in_points()
        return self.measure(s, size, _is_bold(prop)), _CAPITALS * size, 0.0

    def draw_text(
        self,
        gc: GraphicsContextBase,
        x: float,
        y: float,
        s: str,
        prop: FontProperties,
        angle: float,
        ismath: object = False,  # noqa: ARG002
        mtext: Written | None = None,
    ) -> None:
        """A text at the place that it is anchored to. ValueError for one that is turned."""
        if angle:
            raise ValueError("texts lie level")
        size, bold = prop.get_size_in_points(), _is_bold(prop)
        anchor = _ANCHORS[mtext.get_horizontalalignment()] if mtext else Anchor.START
        at = float(x) + _BACK[anchor] * self.measure(s, size, bold)
        self.shapes.append(Text(at, float(y), s, size, _ink(gc.get_rgb()), bold, anchor))

    def draw_path(
        self,
        gc: GraphicsContextBase,
        path: Path,
        transform: Transform,
        rgbFace: Any = None,  # noqa: N803 - the library's name
    ) -> None:
        """An area, or a line with its dashes."""
        is_line = len(np.asarray(path.vertices)) < 3  # the tick of an axis is no area
        fill = None if is_line else _fill(rgbFace)
        width = float(gc.get_linewidth())
        stroke = _ink(gc.get_rgb()) if width else None
        for line in path.to_polygons(transform, closed_only=fill is not None):
            points = tuple((float(x), self.height - float(y)) for x, y in np.asarray(line))
            if fill is not None:
                self.shapes.append(_area(points, fill, stroke, width))
            elif stroke is not None:
                strokes = _dashes(points, gc.get_dashes()[1])
                self.shapes += [Line(*start, *end, stroke, width) for start, end in strokes]

    def draw_markers(
        self,
        gc: GraphicsContextBase,
        marker_path: Path,
        marker_trans: Transform,
        path: Path,
        trans: Transform,
        rgbFace: Any = None,  # noqa: N803
    ) -> None:
        """Circles for round marks, areas and lines for others."""
        places = np.asarray(trans.transform(path.vertices))
        codes = marker_path.codes
        if codes is None or Path.CURVE4 not in np.asarray(codes):
            for x, y in places:
                moved = marker_trans + Affine2D().translate(x, y)
                self.draw_path(gc, marker_path, moved, rgbFace)
            return
        radius = float(marker_path.get_extents(marker_trans).width) / 2
        fill, width = _fill(rgbFace), float(gc.get_linewidth())
        stroke = _ink(gc.get_rgb()) if fill is None else None
        for x, y in places:
            circle = Circle(float(x), self.height - float(y), radius, fill, stroke, width)
            self.shapes.append(circle)


def _ink(rgb: Any) -> Ink:
    """The ink that a colour means; KeyError for a colour that means none."""
    return _INKS[to_hex(rgb)]


def _fill(face: Any) -> Ink | None:
    """The ink of an area; None for none, and for one that lets everything through."""
    if face is None or (len(face) == 4 and face[3] == 0):
        return None
    return _ink(face)


def _is_bold(prop: FontProperties) -> bool:
    return prop.get_weight() == "bold"


def _area(points: tuple[Point, ...], fill: Ink, stroke: Ink | None, width: float) -> Shape:
    """A rectangle where the corners are those of one, else a polygon."""
    corners = set(points)
    xs, ys = ({point[axis] for point in corners} for axis in (0, 1))
    if len(corners) == 4 and len(xs) == len(ys) == 2:
        size = max(xs) - min(xs), max(ys) - min(ys)
        return Rect(min(xs), min(ys), *size, fill, stroke, width)
    return Polygon(points[:-1], fill, stroke, width)


def _dashes(points: tuple[Point, ...], pattern: Any) -> Iterator[tuple[Point, Point]]:
    """The strokes of a line, whole or dashed; every piece of it begins with a dash."""
    for (x1, y1), (x2, y2) in pairwise(points):
        length = hypot(x2 - x1, y2 - y1)
        if not length or pattern is None:
            yield (x1, y1), (x2, y2)
            continue
        on, off = map(float, pattern)
        start = 0.0
        while start < length:
            first, last = start / length, min(start + on, length) / length
            yield (
                (x1 + first * (x2 - x1), y1 + first * (y2 - y1)),
                (x1 + last * (x2 - x1), y1 + last * (y2 - y1)),
            )
            start += on + off
