"""Differences against means of two readings, with bias, limits and a line of proportional bias."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from footexam.drawing.axes import Axes, Frame, Named, chart, dashed, dots, number_across, span
from footexam.drawing.figure import colour, plain_settings, shapes_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.drawing.wrapped import Width

if TYPE_CHECKING:
    from matplotlib.axes import Axes as Plane

_BAR = 5.0
"""Room in points for the bar of an interval."""


@dataclass(frozen=True, slots=True)
class Level:
    """A line across a plot at a value, its 95 % interval if known, and its name."""

    at: float
    name: str
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Slope:
    """A line through a plot: `at` where the mean is 0, and how much it rises for each unit."""

    at: float
    rise: float
    name: str


def difference_plot(
    points: Sequence[tuple[float, float]],
    levels: Sequence[Level],
    axes: Axes,
    measure: Width,
    slope: Slope | None = None,
    width: float = 300.0,
    height: float = 180.0,
) -> Drawing:
    """Differences (second) against means (first); the first of `levels` is the bias.

    Their intervals are bars at the right, in the order of the levels. Points that lie on one
    another are drawn as one larger ring around a dot.
    """
    xs = span([x for x, _ in points])
    edges = [edge for one in levels for edge in (one.at, one.low, one.high) if edge is not None]
    line = _line(slope, xs) if slope else []
    ys = span([*(y for _, y in points), *edges, *line, 0.0])
    names = [Named(one.at, one.name) for one in levels]
    if slope:
        names.append(Named(line[1], slope.name))
    with plain_settings():
        frame = Frame(width, height, measure)
        bars = [(one.low, one.high) for one in levels]
        plane = chart(frame, axes, xs, ys, names, strip=_BAR * (len(bars) + 0.5))
        number_across(frame, plane, xs)
        fine = dashed(1.5, 2.5, 0.6)
        plane.axhline(0.0, color=colour(Ink.MUTED), linewidth=0.6, linestyle=fine)
        for place, one in enumerate(levels):
            style = dashed(5.0, 3.0, 0.9) if place else "solid"
            thick = 0.9 if place else 1.1
            plane.axhline(one.at, color=colour(Ink.ACCENT), linewidth=thick, linestyle=style)
        if slope:
            style = dashed(8.0, 2.0, 0.9)
            plane.plot(xs, line, color=colour(Ink.INK), linewidth=0.9, linestyle=style)
        dots(plane, points)
        _intervals(plane, frame, bars)
        return shapes_of(frame.figure, measure)


def _intervals(
    plane: "Plane", frame: Frame, bars: Sequence[tuple[float | None, float | None]]
) -> None:
    """The interval of each line as a bar beside the axes, so that none lies over another."""
    wide = plane.get_position().width * frame.width
    for place, ends in enumerate(bars, 1):
        at = [end for end in ends if end is not None]
        if len(at) > 1:
            plane.plot(
                [1 + place * _BAR / wide] * 2,
                at,
                transform=plane.get_yaxis_transform(),
                color=colour(Ink.ACCENT),
                linewidth=1.0,
                marker="_",
                markersize=4.0,
                markeredgewidth=0.8,
                clip_on=False,
            )


def _line(slope: Slope, xs: tuple[float, float]) -> list[float]:
    """Where the line is at both ends of the axis."""
    return [slope.at + slope.rise * x for x in xs]
