"""Places to write on with a pen: lines, boxes with values, words to ring."""

from collections.abc import Sequence

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Drawing, Line, Rect, Shape, Text, moved
from footexam.reports.fonts import Typeset

ROW = 23.0
"""Height of a line for handwriting in points (8 mm)."""
BOX = 18.0
"""Side of a box with a value in points (6 mm)."""
GAP = 3.0
BETWEEN_WORDS = 15.0
"""Empty width between words, so that one can be ringed alone."""
TYPE = 9.0


def write_line(width: float, after: str, typeset: Typeset, before: str = "") -> Drawing:
    """A line with a word behind it (its unit) or before it (what to write)."""
    start = typeset.width(before, TYPE) + 4.0 if before else 0.0
    line = write_lines(1, width - start, after, typeset)
    shapes = tuple(moved(shape, start, 0.0) for shape in line.shapes)
    told = (Text(0.0, ROW - 5.0, before, TYPE),) if before else ()
    return Drawing(width, ROW, (*told, *shapes))


def write_lines(count: int, width: float, after: str, typeset: Typeset) -> Drawing:
    """So many lines beside one another, the unit behind the last."""
    unit = typeset.width(after, TYPE) + 4.0 if after else 0.0
    length = (width - unit - GAP * 2 * (count - 1)) / count
    base = ROW - 5.0
    shapes: list[Shape] = []
    for place in range(count):
        x = place * (length + 2 * GAP)
        shapes.append(Line(x, base, x + length, base, Ink.INK, 0.6))
    if after:
        shapes.append(Text(width, base, after, TYPE, anchor=Anchor.END))
    return Drawing(width, ROW, tuple(shapes))


def ruled(count: int, width: float) -> Drawing:
    """So many lines under one another."""
    lines = tuple(
        Line(0.0, ROW * (place + 1) - 5.0, width, ROW * (place + 1) - 5.0, Ink.INK, 0.6)
        for place in range(count)
    )
    return Drawing(width, ROW * count, lines)


def boxes(values: Sequence[str], width: float) -> Drawing:
    """Boxes with a value in each, in as many rows as the width needs."""
    side = max(BOX, *(6.0 + 5.2 * len(value) for value in values))
    fitting = max(1, int((width + GAP) // (side + GAP)))
    rows = -(-len(values) // fitting)
    in_row = -(-len(values) // rows)
    shapes: list[Shape] = []
    for place, value in enumerate(values):
        row, column = divmod(place, in_row)
        x, y = column * (side + GAP), 3.0 + row * (BOX + GAP)
        shapes.append(Rect(x, y, side, BOX, stroke=Ink.INK, line_width=0.6))
        middle = y + BOX / 2 + 0.36 * TYPE
        shapes.append(Text(x + side / 2, middle, value, TYPE, anchor=Anchor.MIDDLE))
    used = in_row * (side + GAP) - GAP
    return Drawing(used, 6.0 + rows * (BOX + GAP) - GAP, tuple(shapes))


def words(told: Sequence[str], width: float, typeset: Typeset) -> Drawing:
    """Words with room around each, in rows high enough for a ring."""
    shapes: list[Shape] = []
    x, y, widest = 4.0, 12.0, 0.0
    for word in told:
        length = typeset.width(word, TYPE)
        size = min(TYPE, TYPE * (width - 4.0) / length)  # a very long word is set smaller
        length = min(length, width - 4.0)
        if x > 4.0 and x + length > width:
            x, y = 4.0, y + ROW - 4.0
        shapes.append(Text(x, y, word, size))
        widest = max(widest, x + length)
        x += length + BETWEEN_WORDS
    return Drawing(widest, y + 9.0, tuple(shapes))


def shifted(drawing: Drawing, width: float) -> Drawing:
    """A drawing in the middle of a wider space."""
    dx = (width - drawing.width) / 2
    return Drawing(width, drawing.height, tuple(moved(one, dx, 0.0) for one in drawing.shapes))


def stacked(drawings: Sequence[Drawing]) -> Drawing:
    """Drawings under one another."""
    shapes: list[Shape] = []
    y = 0.0
    for drawing in drawings:
        shapes += [moved(shape, 0.0, y) for shape in drawing.shapes]
        y += drawing.height
    return Drawing(max(drawing.width for drawing in drawings), y, tuple(shapes))
