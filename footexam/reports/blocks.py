"""What a document is made of, before any of it has a place: headings, tables, boxes."""

from dataclasses import dataclass

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.reports.text import Span, Style

BODY = Style(9.2)
STRONG = Style(9.2, bold=True)
SMALL = Style(8.2, ink=Ink.MUTED)
SMALL_INK = Style(8.2)
COLUMN = Style(8.2, bold=True, ink=Ink.MUTED)
SECTION = Style(12.0, bold=True)
COMPACT = Style(10.6, bold=True)
PART = Style(10.0, bold=True, ink=Ink.ACCENT)


@dataclass(frozen=True, slots=True)
class Para:
    """Text that is broken into lines; `beside` stands at the right of its first line.

    `to_right` sets the lines against the right edge.
    """

    spans: tuple[Span, ...]
    beside: Drawing | None = None
    to_right: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing on its own, at the left edge."""

    drawing: Drawing


Piece = Para | Picture
Cell = tuple[Piece, ...]
"""What stands in a cell, from top to bottom."""


@dataclass(frozen=True, slots=True)
class Row:
    """Cells side by side; where there are fewer than columns, the last spans the others.

    `lined` draws a thin rule under the row; `own` are widths of its own in shares of the line;
    `whole` keeps the row on one page where an empty page holds it.
    """

    cells: tuple[Cell, ...]
    lined: bool = True
    own: tuple[float, ...] = ()
    whole: bool = False

    def shares(self, widths: tuple[float, ...]) -> tuple[float, ...]:
        """The share of the line that each cell has in a table of these columns."""
        if self.own:
            return self.own
        last = len(self.cells) - 1
        return (*widths[:last], sum(widths[last:]))


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a heading row that is repeated on every page; `widths` in shares of the line."""

    widths: tuple[float, ...]
    rows: tuple[Row, ...]
    header: Row | None = None


@dataclass(frozen=True, slots=True)
class Heading:
    """The heading of a section (level 0), a part (1), a table (2), a section of page one (3).

    `note` follows it quietly.
    """

    text: str
    level: int = 0
    note: str = ""


@dataclass(frozen=True, slots=True)
class Box:
    """Blocks in a frame of one colour; the frame goes on over pages."""

    blocks: tuple["Block", ...]
    ink: Ink = Ink.BORDER
    line_width: float = 0.75


@dataclass(frozen=True, slots=True)
class Space:
    """Empty height in points."""

    height: float


@dataclass(frozen=True, slots=True)
class Rule:
    """A thin rule across the page."""


Block = Heading | Para | Picture | Table | Box | Space | Rule


def para(*spans: Span | str, style: Style = BODY) -> Para:
    """A paragraph; plain strings take the style given."""
    return Para(tuple((span, style) if isinstance(span, str) else span for span in spans))


def cell(text: str, style: Style = BODY) -> Cell:
    """A cell of one text; empty for an empty text."""
    return (para(text, style=style),) if text else ()


def header(*titles: str) -> Row:
    """The heading row of a table."""
    return Row(tuple(cell(title, COLUMN) for title in titles))
