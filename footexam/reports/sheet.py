"""Giving blocks their places on pages: flowing, splitting, repeating headings; nothing overlaps."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Line, Rect, Shape, moved
from footexam.reports.blocks import (
    COMPACT,
    PART,
    SECTION,
    SMALL,
    STRONG,
    Block,
    Box,
    Cell,
    Heading,
    Para,
    Picture,
    Row,
    Rule,
    Space,
    Table,
)
from footexam.reports.fonts import Typeset
from footexam.reports.text import TextLine, break_lines

GUTTER = 9.0
"""Empty width between cells."""

ROW_PAD = 2.4
"""Empty height above and below a row with a rule under it."""

TEXT_PAD = 1.2
"""The same for paragraphs and rows without a rule."""

BOX_PAD = 8.0
"""Empty space between a frame and what it holds."""

LEAST_ROW = 60.0
"""Height in points of a row's beginning that is not parted from its heading."""

ENDLESS = 1e6
"""Height in points of a page on which nothing is ever broken."""

HEADINGS = ((SECTION, 11.0), (PART, 7.0), (STRONG, 5.0), (COMPACT, 6.0))
"""The style of a heading and the empty height above it, by level."""

OUTLINED = {0: 0, 1: 1, 3: 0}
"""The headings that stand in the document's outline, with their depth there."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A page size with its margins, all in points; `foot` is kept free for the footer."""

    width: float
    height: float
    margin: float = 48.0
    top: float = 40.0
    foot: float = 64.0


PAPERS = {"A4": Paper(595.28, 841.89), "letter": Paper(612.0, 792.0)}


@dataclass(frozen=True, slots=True)
class Strip:
    """An undivided piece of a cell: a line of text, or a drawing, or both side by side."""

    height: float
    line: TextLine | None = None
    line_dx: float = 0.0
    shapes: tuple[Shape, ...] = ()


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a heading stands, for the outline of the document."""

    text: str
    level: int
    page: int
    y: float


@dataclass(frozen=True, slots=True)
class Stand:
    """How far a sheet is filled: pages, shapes on the last one, headings, height."""

    pages: int
    shapes: int
    marks: int
    y: float


@dataclass(slots=True)
class _Frame:
    """An open box: its colour and where it begins on the present page."""

    ink: Ink
    line_width: float
    left: float
    right: float
    top: float


class Sheet:
    """Pages being filled from top to bottom; `pages` holds their shapes, `marks` the headings."""

    def __init__(self, paper: Paper, typeset: Typeset) -> None:
        self.paper = paper
        self.typeset = typeset
        self.pages: list[list[Shape]] = [[]]
        self.marks: list[Mark] = []
        self.left, self.right = paper.margin, paper.width - paper.margin
        self.y = paper.top
        self._frame: _Frame | None = None
        self._header: list[list[Strip]] | None = None
        self._header_widths: Sequence[float] = ()

    def add(self, blocks: Sequence[Block]) -> None:
        """Places the blocks one after another; a heading stays with what follows it."""
        for place, block in enumerate(blocks):
            follows = blocks[place + 1] if place + 1 < len(blocks) else None
            self._place(block, follows)

    def _place(self, block: Block, follows: Block | None) -> None:
        """Places one block."""
        match block:
            case Heading():
                self._heading(block, follows)
            case Para() | Picture():
                self._strips([self._cell((block,), self.right - self.left)], (1.0,), TEXT_PAD)
            case Table():
                self._table(block)
            case Box():
                self._box(block)
            case Space():
                self.y = min(self.y + block.height, self._bottom())
            case Rule():
                self._rule(Ink.RULE)

    def place(self) -> "Stand":
        """How far the pages are filled, to come `back_to`; not inside a box or a table."""
        return Stand(len(self.pages), len(self.pages[-1]), len(self.marks), self.y)

    def back_to(self, place: "Stand") -> None:
        """Takes away what was added since."""
        del self.pages[place.pages :]
        del self.pages[-1][place.shapes :]
        del self.marks[place.marks :]
        self.y = place.y

    def append(self, other: "Sheet") -> None:
        """Adds the pages of another sheet of the same paper behind its own."""
        before = len(self.pages)
        self.pages += other.pages
        self.marks += [replace(mark, page=mark.page + before) for mark in other.marks]

    def height_of(self, blocks: Sequence[Block]) -> float:
        """The height in points that blocks take on a page that never ends."""
        endless = Sheet(replace(self.paper, height=ENDLESS), self.typeset)
        endless.add([Rule(), *blocks])  # a heading that is first on its page has no room above it
        return endless.y - self.paper.top

    def _bottom(self) -> float:
        """How far down the present page may be filled."""
        return self.paper.height - self.paper.foot - (BOX_PAD if self._frame else 0.0)

    def room(self) -> float:
        """The height that is left on the present page."""
        return self._bottom() - self.y

    def _put(self, shapes: Iterable[Shape]) -> None:
        """Adds shapes to the present page."""
        self.pages[-1].extend(shapes)

    def new_page(self) -> None:
        """Goes on at the top of a new page; an open frame is closed and opened again."""
        self._close_frame()
        self.pages.append([])
        self.y = self.paper.top
        if self._frame:
            self._frame.top = self.y
            self.y += BOX_PAD
        if self._header is not None:
            self._header_row()

    def _rule(self, ink: Ink) -> None:
        """A thin rule at the present height."""
        self._put([Line(self.left, self.y, self.right, self.y, ink, 0.6)])

    def _heading(self, block: Heading, follows: Block | None) -> None:
        """A heading, on a new page where what follows would not begin on this one."""
        style, space = HEADINGS[block.level]
        spans = [(block.text, style)]
        if block.note:
            spans.append(("   " + block.note, SMALL))
        lines = break_lines(spans, self.right - self.left, self.typeset)
        height = space + sum(line.height for line in lines) + 3.0
        if self.room() < height + self._first_height(follows):
            self.new_page()
        if self.pages[-1]:
            self.y += space
        if block.level in OUTLINED:
            depth = OUTLINED[block.level]
            self.marks.append(Mark(block.text, depth, len(self.pages) - 1, self.y))
        for line in lines:
            self._put(line.shapes(self.left, self.y))
            self.y += line.height
        self.y += 3.0

    def _first_height(self, block: Block | None) -> float:
        """The height needed before a block can be said to have begun."""
        if isinstance(block, Heading):
            return 60.0
        if isinstance(block, Table):
            rows = [row for row in (block.header, *block.rows[:1]) if row]
            return sum(self._beginning(row, block.widths) for row in rows)
        if isinstance(block, Picture):
            return min(block.drawing.height + 2 * TEXT_PAD + 2.0, self._page_room() - LEAST_ROW)
        return 40.0 if block is not None else 0.0

    def _row_height(self, row: Row, widths: tuple[float, ...]) -> float:
        """The height of a row that is not split."""
        return _height(self._cells(row, row.shares(widths))) + 2 * ROW_PAD

    def _beginning(self, row: Row, widths: tuple[float, ...]) -> float:
        """The height of as much of a row as must stand with what is above it."""
        whole = self._row_height(row, widths)
        if whole <= LEAST_ROW:
            return whole
        if row.whole:
            return min(whole, self._page_room() - LEAST_ROW)
        first = max(cells[0].height for cells in self._cells(row, row.shares(widths)) if cells)
        return min(max(first + 2 * ROW_PAD, LEAST_ROW), self._page_room() / 2)

    def _box(self, box: Box) -> None:
        """A frame with blocks in it; begins on a new page where not even a few lines fit."""
        if self.room() < 60.0:
            self.new_page()
        outer = self.left, self.right
        self._frame = _Frame(box.ink, box.line_width, self.left, self.right, self.y)
        self.left, self.right = self.left + BOX_PAD + 2, self.right - BOX_PAD - 2
        self.y += BOX_PAD - TEXT_PAD
        self.add(box.blocks)
        self.y += BOX_PAD - TEXT_PAD
        self._close_frame()
        self.left, self.right = outer
        self._frame = None

    def _close_frame(self) -> None:
        """Draws the frame around what stands in it on the present page."""
        frame = self._frame
        if frame is None:
            return
        bottom = min(self.y, self.paper.height - self.paper.foot)
        box = Rect(
            frame.left,
            frame.top,
            frame.right - frame.left,
            bottom - frame.top,
            stroke=frame.ink,
            line_width=frame.line_width,
            radius=3.0,
        )
        self._put([box])

    def _table(self, table: Table) -> None:
        """The rows of a table; its heading row is repeated after each page break."""
        if table.header:
            self._header = self._cells(table.header, table.widths)
            self._header_widths = table.widths
            first = table.rows[0] if table.rows else table.header
            if self.room() < _height(self._header) + self._beginning(first, table.widths):
                self.new_page()
            else:
                self._header_row()
        for row in table.rows:
            widths = row.shares(table.widths)
            if row.whole:
                self._keep(self._row_height(row, table.widths))
            self._strips(self._cells(row, widths), widths, ROW_PAD if row.lined else TEXT_PAD)
            if row.lined:
                self._rule(Ink.RULE)
        self._header = None

    def _header_row(self) -> None:
        """The heading row of the present table with a rule under it."""
        header, self._header = self._header, None
        if header:
            self._strips(header, self._header_widths)
            self._rule(Ink.BORDER)
        self._header = header

    def _cells(self, row: Row, widths: Sequence[float]) -> list[list[Strip]]:
        """The strips of each cell of a row."""
        whole = self.right - self.left
        return [
            self._cell(content, share * whole - (GUTTER if place + 1 < len(widths) else 0.0))
            for place, (content, share) in enumerate(zip(row.cells, widths, strict=True))
        ]

    def _cell(self, content: Cell, width: float) -> list[Strip]:
        """The strips of one cell, `width` points wide."""
        strips: list[Strip] = []
        for piece in content:
            if isinstance(piece, Picture):
                strips.append(Strip(piece.drawing.height + 2.0, shapes=piece.drawing.shapes))
            else:
                strips += self._paragraph(piece, width)
        return strips

    def _paragraph(self, piece: Para, width: float) -> list[Strip]:
        """The lines of a paragraph; a drawing beside it takes its width from all of them."""
        beside = piece.beside
        room = width - (beside.width + GUTTER if beside else 0.0)
        lines = break_lines(piece.spans, room, self.typeset)
        strips = [
            Strip(line.height, line, room - line.width if piece.to_right else 0.0) for line in lines
        ]
        if beside:
            height = max(lines[0].height, beside.height)
            dx, dy = width - beside.width, (lines[0].height - beside.height) / 2
            shapes = tuple(moved(shape, dx, dy) for shape in beside.shapes)
            strips[0] = Strip(height, lines[0], strips[0].line_dx, shapes)
        return strips

    def _strips(
        self, cells: list[list[Strip]], widths: Sequence[float], pad: float = ROW_PAD
    ) -> None:
        """Places a row of cells; one that does not fit begins on a new page, a long one is split.

        Long is what is higher than a third of a page and whose every cell can begin on this one.
        """
        height = _height(cells) + 2 * pad
        first = max((strips[0].height for strips in cells if strips), default=0.0) + 2 * pad
        may_split = height >= self._page_room() / 3 and self.room() >= max(60.0, first)
        if height > self.room() and not may_split:
            self.new_page()
        left_over = cells
        while any(left_over):
            left_over = self._fill(left_over, widths, pad)
            if any(left_over):
                self.new_page()

    def _keep(self, height: float) -> None:
        """Goes to a new page for what does not fit here and would fit there."""
        if self.room() < height <= self._page_room():
            self.new_page()

    def _page_room(self) -> float:
        """The height of an empty page."""
        return self.paper.height - self.paper.top - self.paper.foot

    def _fill(
        self, cells: list[list[Strip]], widths: Sequence[float], pad: float
    ) -> list[list[Strip]]:
        """Places as many strips of each cell as fit; gives back the others.

        At least one strip is placed on an empty page, whatever its height.
        """
        top, x, lowest = self.y + pad, self.left, self.y
        rest: list[list[Strip]] = []
        for strips, share in zip(cells, widths, strict=True):
            y, placed = top, 0
            for strip in strips:
                if y + strip.height + pad > self._bottom() and self.pages[-1]:
                    break
                self._draw(strip, x, y)
                y += strip.height
                placed += 1
            rest.append(strips[placed:])
            lowest = max(lowest, y)
            x += share * (self.right - self.left)
        self.y = lowest + pad
        return rest

    def _draw(self, strip: Strip, x: float, y: float) -> None:
        """One strip with its top left corner at (x, y)."""
        if strip.line:
            self._put(strip.line.shapes(x + strip.line_dx, y))
        if strip.shapes:
            self._put(moved(shape, x, y) for shape in strip.shapes)


def _height(cells: Iterable[Sequence[Strip]]) -> float:
    """The height of the tallest cell."""
    return max((sum(strip.height for strip in strips) for strips in cells), default=0.0)
