"""What every plot has in common: type, pens, round ticks, axes with words, names beside lines."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from footexam.drawing.figure import colour, new_figure
from footexam.drawing.palette import Ink
from footexam.drawing.wrapped import Width

if TYPE_CHECKING:
    from matplotlib.axes import Axes as Plane
    from matplotlib.figure import Figure

TYPE = 8.0
"""Size of every text of a plot in points."""
DOT = 2.2
"""Radius of a dot in points."""
ROW = 13.0
"""Height of a row of a plot of rows in points."""
TICK = 3.0
_MOST = 6
"""Points on one spot from which the ring does not grow any more."""
_GAP = 4.0
_BASE = 0.35
"""How far below the middle of its digits a text stands, in its size."""


@dataclass(frozen=True, slots=True)
class Axes:
    """What stands on the axes, in words."""

    x: str
    y: str


@dataclass(frozen=True, slots=True)
class Named:
    """A name beside a line that ends at `y`, in the unit of the axis."""

    y: float
    name: str


def span(values: Sequence[float]) -> tuple[float, float]:
    """The range of an axis: the values with a little room; one value alone stands in the middle."""
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    room = 0.08 * (high - low) or max(abs(high) * 0.1, 1.0)
    return low - room, high + room


def ticks(low: float, high: float, most: int = 5) -> list[float]:
    """Round values inside a range, some three of them to one more than `most`."""
    from matplotlib.ticker import MaxNLocator

    least = min(3, most)
    found = MaxNLocator(nbins=most, steps=[1, 2, 5, 10], min_n_ticks=least).tick_values(low, high)
    inside = 1e-9 * (high - low)
    return [float(tick) for tick in found if low - inside <= tick <= high + inside]


def digits(value: float) -> str:
    """A tick with a true minus and no idle zeros."""
    return f"{value:.6g}".replace("-", "−") if abs(value) > 1e-12 else "0"


class Frame:
    """A figure with one pair of axes, laid out by the widths of its texts so that none is cut."""

    def __init__(self, width: float, height: float, measure: Width) -> None:
        self.figure: Figure = new_figure(width, height)
        self.width, self.height = width, height
        self.measure = measure

    def plane(self, left: float, top: float, right: float, bottom: float) -> "Plane":
        """Axes within margins in points: a line below and at the left, nothing else."""
        width, height = self.width, self.height
        inner = (width - left - right) / width, (height - top - bottom) / height
        plane = self.figure.add_axes((left / width, bottom / height, *inner))
        plane.patch.set_visible(False)
        self.figure.patch.set_visible(False)
        for name, edge in plane.spines.items():
            edge.set_visible(name in {"left", "bottom"})
            edge.set(color=colour(Ink.BORDER), linewidth=0.8)
        plane.tick_params(
            length=TICK,
            width=0.8,
            pad=2.5,
            color=colour(Ink.BORDER),
            labelcolor=colour(Ink.MUTED),
            labelsize=TYPE,
        )
        return plane

    def write(
        self, x: float, y: float, words: str, ink: Ink = Ink.INK, align: str = "left"
    ) -> None:
        """A text with its base line at points from the top left corner."""
        self.figure.text(
            x / self.width,
            1 - y / self.height,
            words,
            size=TYPE,
            color=colour(ink),
            ha=align,
            va="baseline",
            parse_math=False,
        )

    def rule(self, y: float) -> None:
        """A thin line across the whole figure, at points from the top."""
        from matplotlib.lines import Line2D

        at = 1 - y / self.height
        self.figure.add_artist(Line2D([0, 1], [at, at], color=colour(Ink.RULE), linewidth=0.4))

    def cut(self, words: str, room: float) -> str:
        """The words, or as many of their first characters as fit into so many points."""
        shown = words
        while shown and self.widest([shown]) > room:
            words = words[:-1].rstrip()
            shown = f"{words}…" if words else ""
        return shown

    def widest(self, words: Sequence[str]) -> float:
        """The width in points of the widest text."""
        return max((self.measure(one, TYPE, False) for one in words), default=0.0)


def chart(
    frame: Frame,
    axes: Axes,
    xs: tuple[float, float],
    ys: tuple[float, float],
    names: Sequence[Named],
    bottom: float = 30.0,
    strip: float = 0.0,
) -> "Plane":
    """Axes over two ranges with round ticks; names stand at the right, moved apart.

    `strip` is room in points between axes and names.
    """
    rows = ticks(*ys)
    left = frame.widest([digits(row) for row in rows]) + TICK + _GAP
    right = frame.widest([one.name for one in names]) + 2 * _GAP + strip if names else 2 * _GAP
    top = TYPE + 8.0
    plane = frame.plane(left, top, right, bottom)
    plane.set(xlim=xs, ylim=ys)
    plane.set_yticks(rows, [digits(row) for row in rows], va="center")
    frame.write(0.0, TYPE, axes.y, Ink.MUTED)
    middle = (left + frame.width - right) / 2
    frame.write(middle, frame.height - 4.0, axes.x, Ink.MUTED, "center")
    places = [frame.height - float(plane.transData.transform((0.0, one.y))[1]) for one in names]
    for base, one in zip(_apart(places), names, strict=True):
        frame.write(frame.width - right + strip + _GAP, base + _BASE * TYPE, one.name)
    return plane


def number_across(frame: Frame, plane: "Plane", xs: tuple[float, float]) -> None:
    """Round ticks along x, as many as stand side by side without touching."""
    room = (plane.get_position().width * frame.width) / (xs[1] - xs[0])
    for most in (5, 4, 3, 2, 1):
        found = ticks(*xs, most)
        step = (found[1] - found[0]) * room if len(found) > 1 else frame.width
        if frame.widest([digits(one) for one in found]) + 2 * _GAP <= step:
            break
    plane.set_xticks(found, [digits(one) for one in found])


def dots(plane: "Plane", points: Sequence[tuple[float, float]]) -> None:
    """A dot for each point; where several lie on one another, one in a ring."""
    counts = Counter(points)
    _mark(plane, list(counts), DOT, filled=True)
    for size in sorted({min(count, _MOST) for count in counts.values()} - {1}):
        found = [point for point, count in counts.items() if min(count, _MOST) == size]
        _mark(plane, found, DOT + 1.0 + size * 0.6, filled=False)


def _mark(
    plane: "Plane", points: Sequence[tuple[float, float]], radius: float, *, filled: bool
) -> None:
    plane.plot(
        [x for x, _ in points],
        [y for _, y in points],
        "o",
        markersize=2 * radius,
        color=colour(Ink.INK),
        fillstyle="full" if filled else "none",
        markeredgewidth=0.7,
        clip_on=False,
    )


def _apart(places: Sequence[float]) -> list[float]:
    """Places at least a line's height from one another, in the same order on the page."""
    moved = list(places)
    order = sorted(range(len(moved)), key=moved.__getitem__)
    for before, place in pairwise(order):
        moved[place] = max(moved[place], moved[before] + TYPE + 1.0)
    return moved


def dashed(on: float, off: float, width: float) -> tuple[float, tuple[float, float]]:
    """The style of a line with dashes and gaps in points."""
    return 0.0, (on / width, off / width)
