"""The chart of a training load: a bar for each week, its load and its change in words.

A description: bars have one grey, and no line parts one load from another.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Drawing, Line, Rect, Shape, Text

WIDTH = 290.0
TYPE = 8.0
ROW = 12.5
"""Height of a line in points."""
LONGEST = 100.0
"""Length of the longest bar in points."""

_BASE = 58.0
"""Where bars begin; the day stands left of it."""
_DEPTH = 8.0
"""Thickness of a bar."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A week, or weeks that are not recorded (`load` None): its day, and all else in words.

    A bar that is not `whole` is drawn open.
    """

    day: str
    load: float | None
    told: str
    change: str = ""
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Heads:
    """What stands over the days, over the bars and over the changes; empty where nothing is."""

    day: str
    load: str
    change: str = ""


def load_chart(bars: Sequence[Bar], heads: Heads) -> Drawing:
    """The chart, the first bar on top, `WIDTH` points wide; loads are 0 or more."""
    most = max((bar.load for bar in bars if bar.load is not None), default=0.0)
    shapes: list[Shape] = [
        Text(0.0, TYPE, heads.day, TYPE, Ink.MUTED),
        Text(_BASE, TYPE, heads.load, TYPE, Ink.MUTED),
    ]
    if heads.change:
        shapes.append(Text(WIDTH, TYPE, heads.change, TYPE, Ink.MUTED, anchor=Anchor.END))
    for place, bar in enumerate(bars, 1):
        shapes += _line(bar, place * ROW, most)
    shapes += _base_lines(bars)
    return Drawing(WIDTH, ROW * (len(bars) + 1), tuple(shapes))


def _line(bar: Bar, top: float, most: float) -> list[Shape]:
    """One week: day, bar, load and change; where nothing is recorded only words."""
    base = top + TYPE + 1.5
    day = Text(0.0, base, bar.day, TYPE)
    if bar.load is None:
        return [day, Text(_BASE, base, bar.told, TYPE, Ink.MUTED)]
    length = LONGEST * bar.load / most if most else 0.0
    edge = top + (ROW - _DEPTH) / 2
    shapes: list[Shape] = [day]
    if length:
        fill, stroke = (Ink.MUTED, None) if bar.whole else (None, Ink.MUTED)
        shapes.append(Rect(_BASE, edge, length, _DEPTH, fill, stroke, 0.8))
    shapes.append(Text(_BASE + length + 3.5, base, bar.told, TYPE))
    if bar.change:
        shapes.append(Text(WIDTH, base, bar.change, TYPE, anchor=Anchor.END))
    return shapes


def _base_lines(bars: Sequence[Bar]) -> Iterator[Line]:
    """The line at which bars begin, broken where nothing is recorded."""
    place = 1
    for recorded, run in groupby(bars, key=lambda bar: bar.load is not None):
        length = len(list(run))
        if recorded:
            yield Line(_BASE, place * ROW, _BASE, (place + length) * ROW, Ink.INK, 0.8)
        place += length
