"""Points against the global grade: the line of borderline regression, the cut, and its error."""

from collections.abc import Sequence
from dataclasses import dataclass

from footexam.drawing.axes import TYPE, Axes, Frame, Named, chart, dashed, dots, span
from footexam.drawing.figure import colour, plain_settings, shapes_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.drawing.wrapped import Width

_MARGINS = 86.0
"""About as wide as what stands beside the axes, in points."""


@dataclass(frozen=True, slots=True)
class Cut:
    """The line `start + rise × grade`, read at the grade `at`: the cut, and its standard error.

    All in points; `told` and `told_used` are the names of the cut and of what is used (None where
    it is the cut), `used` its place.
    """

    start: float
    rise: float
    at: float
    cut: float
    se: float
    told: str
    used: float | None = None
    told_used: str = ""


def borderline_plot(
    points: Sequence[tuple[float, float]],
    grades: Sequence[tuple[float, str]],
    cut: Cut | None,
    axes: Axes,
    measure: Width,
    width: float = 300.0,
    height: float = 190.0,
) -> Drawing:
    """Points (second) of those of a grade (first); `grades` are the places of all with their names.

    The line goes as far as there are points; the band is one standard error to each side of the
    cut. Without `cut` only the points are shown.
    """
    xs = span([place for place, _ in grades])
    seen = [x for x, _ in points]
    across = [min([cut.at, *seen]), max([cut.at, *seen])] if cut else []
    line = [cut.start + cut.rise * x for x in across] if cut else []
    edges = [cut.cut - cut.se, cut.cut + cut.se] if cut else []
    if cut and cut.used is not None:
        edges.append(cut.used)
    ys = span([*(y for _, y in points), *line, *edges])
    names = [Named(cut.cut, cut.told)] if cut else []
    if cut and cut.used is not None:
        names.append(Named(cut.used, cut.told_used))
    with plain_settings():
        frame = Frame(width, height, measure)
        lower = TYPE + 1.0 if _touch(frame, grades) else 0.0
        plane = chart(frame, axes, xs, ys, names, bottom=30.0 + lower)
        plane.set_xticks([place for place, _ in grades], [name for _, name in grades])
        for label in plane.get_xticklabels()[1::2]:  # every second one, where they would touch
            label.set_y(-lower / (frame.height - 46.0 - lower))
        if cut:
            plane.axhspan(edges[0], edges[1], color=colour(Ink.BAND), linewidth=0)
            plane.plot(across, line, color=colour(Ink.INK), linewidth=0.9)
            plane.axhline(cut.cut, color=colour(Ink.ACCENT), linewidth=1.1)
            fine = dashed(1.5, 2.5, 0.8)
            plane.axvline(cut.at, color=colour(Ink.ACCENT), linewidth=0.8, linestyle=fine)
        if cut and cut.used is not None:
            style = dashed(5.0, 3.0, 0.9)
            plane.axhline(cut.used, color=colour(Ink.ACCENT), linewidth=0.9, linestyle=style)
        dots(plane, points)
        return shapes_of(frame.figure, measure)


def _touch(frame: Frame, grades: Sequence[tuple[float, str]]) -> bool:
    """Whether the names of the grades would touch side by side."""
    widest = max(frame.widest([name]) + 6.0 for _, name in grades)
    return widest * len(grades) > frame.width - _MARGINS
