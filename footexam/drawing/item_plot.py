"""Plots of rows: errors of each item as dots, shares of each item with their intervals."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from footexam.drawing.axes import DOT, ROW, TICK, TYPE, Frame, digits, dots
from footexam.drawing.figure import colour, plain_settings, shapes_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.drawing.wrapped import Width

if TYPE_CHECKING:
    from matplotlib.axes import Axes as Plane

WIDEST = 4.0
"""Standard errors shown; what lies further out is a triangle at the edge."""
NORMAL = 1.96
_NAMES = 0.40
"""The share of the width that names take at most."""
_GAP = 12.0
"""Room beside names and notes in points, for marks at the edge."""
_FOOT = 26.0


@dataclass(frozen=True, slots=True)
class ItemRow:
    """One item: its name, its errors in standard errors, and what stands behind."""

    name: str
    errors: tuple[float, ...]
    told: str = ""


@dataclass(frozen=True, slots=True)
class ShareRow:
    """One item: its name, a share from 0 to 1 with its 95 % interval, and what stands behind."""

    name: str
    share: float
    low: float
    high: float
    told: str = ""


@dataclass(frozen=True, slots=True)
class ItemHeads:
    """What stands over names and notes, and under the axis."""

    name: str
    told: str
    axis: str


def row_top(place: int) -> float:
    """Where the row of a place, counted from 0, begins on a plot of rows; `ROW` is its height."""
    return ROW * (place + 1)


def item_plot(
    rows: Sequence[ItemRow], heads: ItemHeads, measure: Width, width: float = 499.0
) -> Drawing:
    """Errors of each item as dots on one axis; the band holds 1.96 standard errors."""
    with plain_settings():
        frame, plane = _strip(rows, heads, measure, width)
        plane.set_xlim(-WIDEST, WIDEST)
        _ticks(plane, (-4, -2, 0, 2, 4))
        plane.axvspan(-NORMAL, NORMAL, color=colour(Ink.BAND), linewidth=0, zorder=0)
        plane.axvline(0, color=colour(Ink.BORDER), linewidth=0.8, zorder=1)
        held = [(e, y) for y, row in enumerate(rows) for e in row.errors if abs(e) <= WIDEST]
        over = [(e, y) for y, row in enumerate(rows) for e in row.errors if abs(e) > WIDEST]
        plane.plot(
            [error for error, _ in held],
            [place for _, place in held],
            "o",
            markersize=2 * DOT,
            fillstyle="none",
            color=colour(Ink.INK),
            mew=0.9,
        )
        for way, mark in ((1, ">"), (-1, "<")):
            found = [place for error, place in over if error * way > 0]
            plane.plot(
                [way * WIDEST] * len(found),
                found,
                mark,
                markersize=5.5,
                color=colour(Ink.CAUTION),
                clip_on=False,
                mew=0,
            )
        return shapes_of(frame.figure, measure)


def share_plot(
    rows: Sequence[ShareRow], heads: ItemHeads, measure: Width, width: float = 499.0
) -> Drawing:
    """The share of each item as a dot in the line of its interval, from 0 to 100 %."""
    with plain_settings():
        frame, plane = _strip(rows, heads, measure, width)
        plane.set_xlim(0, 100)
        _ticks(plane, (0, 25, 50, 75, 100))
        lows, highs = [100 * row.low for row in rows], [100 * row.high for row in rows]
        places = range(len(rows))
        plane.hlines(places, lows, highs, color=colour(Ink.ACCENT), linewidth=1.4)
        ends, twice = [*lows, *highs], [*places, *places]
        plane.plot(ends, twice, "|", color=colour(Ink.ACCENT), markersize=6.0, clip_on=False)
        dots(plane, [(100 * row.share, place) for place, row in enumerate(rows)])
        return shapes_of(frame.figure, measure)


def _strip(
    rows: Sequence[ItemRow | ShareRow], heads: ItemHeads, measure: Width, width: float
) -> "tuple[Frame, Plane]":
    """A plot with a row for each item: its name, room for its marks, its note."""
    height = ROW * (len(rows) + 1) + _FOOT
    frame = Frame(width, height, measure)
    left = min(_NAMES * width, frame.widest([heads.name, *(row.name for row in rows)]))
    right = frame.widest([heads.told, *(row.told for row in rows)])
    plane = frame.plane(left + _GAP, ROW, right + _GAP, _FOOT)
    plane.spines["left"].set_visible(False)
    plane.set_ylim(len(rows) - 0.5, -0.5)
    plane.set_yticks([])
    frame.write(0.0, TYPE + 1.0, frame.cut(heads.name, left), Ink.MUTED)
    frame.write(width, TYPE + 1.0, heads.told, Ink.MUTED, "right")
    half = frame.widest([heads.axis]) / 2
    middle = min(max((left + width - right) / 2, half), width - half)
    frame.write(middle, height - 4.0, heads.axis, Ink.MUTED, "center")
    for place, row in enumerate(rows):
        base = row_top(place) + ROW / 2 + 0.35 * TYPE
        frame.write(0.0, base, frame.cut(row.name, left))
        frame.write(width, base, row.told, align="right")
        frame.rule(row_top(place) + ROW)
    return frame, plane


def _ticks(plane: "Plane", values: Sequence[float]) -> None:
    plane.tick_params(axis="x", length=TICK)
    plane.set_xticks(values, [digits(one) for one in values])
