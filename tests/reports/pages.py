"""Reading a finished PDF back: text, boxes and pictures of its pages, by pypdfium2."""

from dataclasses import dataclass

import pypdfium2 as pdfium
from PIL import Image

from footexam.drawing.shapes import Anchor, Circle, Line, Polygon, Rect, Shape, Text
from footexam.reports.fonts import Typeset


@dataclass(frozen=True, slots=True)
class Box:
    """A box with y growing downwards, in points, and what is in it."""

    left: float
    top: float
    right: float
    bottom: float
    what: str = ""

    def overlaps(self, other: "Box", slack: float = 0.3) -> bool:
        return (
            self.left + slack < other.right
            and other.left + slack < self.right
            and self.top + slack < other.bottom
            and other.top + slack < self.bottom
        )

    def holds(self, other: "Box", slack: float = 0.3) -> bool:
        return (
            self.left - slack <= other.left
            and self.top - slack <= other.top
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )

    def meets(self, other: "Box") -> bool:
        """Whether a text meets what it must not: only a number on a map stands on a figure."""
        on_map = other.what in {"mark", "band", "dot"} and other.holds(self)
        return self.overlaps(other) and not (on_map and self.what.replace(".", "").isdigit())


def texts(data: bytes) -> list[str]:
    """The text of each page in reading order; line ends as one character."""
    document = pdfium.PdfDocument(data)
    try:
        return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in document]
    finally:
        document.close()


def whole_text(data: bytes) -> str:
    """All pages as one line with single spaces, footers included."""
    return " ".join(" ".join(texts(data)).split())


def sizes(data: bytes) -> list[tuple[float, float]]:
    document = pdfium.PdfDocument(data)
    try:
        return [page.get_size() for page in document]
    finally:
        document.close()


def picture(data: bytes, page: int = 0, scale: float = 3.0, *, grey: bool = True) -> Image.Image:
    document = pdfium.PdfDocument(data)
    try:
        return document[page].render(scale=scale, grayscale=grey).to_pil()
    finally:
        document.close()


def ink_boxes(data: bytes) -> list[list[Box]]:
    """The boxes of the drawn text of each page, as the PDF library sees them."""
    document = pdfium.PdfDocument(data)
    try:
        return [_page_boxes(page) for page in document]
    finally:
        document.close()


def _page_boxes(page: pdfium.PdfPage) -> list[Box]:
    text, height = page.get_textpage(), page.get_height()
    boxes = []
    for index in range(text.count_rects()):
        left, bottom, right, top = text.get_rect(index)
        what = text.get_text_bounded(left, bottom, right, top)
        boxes.append(Box(left, height - top, right, height - bottom, what))
    return boxes


def text_box(text: Text, typeset: Typeset) -> Box:
    """Where a line of text stands by its measured width; from capital height to descender."""
    width = typeset.width(text.text, text.size, text.bold)
    left = text.x - {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
    return Box(left, text.y - 0.72 * text.size, left + width, text.y + 0.2 * text.size, text.text)


PIECES = 24
"""Pieces of a slanting line: the box around it all would hold what the line only passes."""


def figure_boxes(shape: Shape) -> list[Box]:
    """As `figure_box`, a slanting line in short pieces."""
    box = figure_box(shape)
    if box is None or not isinstance(shape, Line) or shape.y1 == shape.y2 or shape.x1 == shape.x2:
        return [box] if box else []
    dx, dy = (shape.x2 - shape.x1) / PIECES, (shape.y2 - shape.y1) / PIECES
    made = []
    for place in range(PIECES):
        x, y = shape.x1 + place * dx, shape.y1 + place * dy
        xs, ys = sorted((x, x + dx)), sorted((y, y + dy))
        made.append(Box(xs[0], ys[0] - 0.5, xs[1], ys[1] + 0.5, "line"))
    return made


def figure_box(shape: Shape) -> Box | None:
    """Where a mark, a band or a bar stands; None for frames and texts."""
    match shape:
        case Line():
            ys = sorted((shape.y1, shape.y2))
            return Box(shape.x1, ys[0] - 0.1, shape.x2, ys[1] + 0.1, "line")
        case Rect(fill=fill) if fill is not None:
            return Box(shape.x, shape.y, shape.x + shape.width, shape.y + shape.height, "band")
        case Circle():
            r = shape.radius
            return Box(shape.x - r, shape.y - r, shape.x + r, shape.y + r, "dot")
        case Polygon():
            xs, ys = zip(*shape.points, strict=True)
            return Box(min(xs), min(ys), max(xs), max(ys), "mark")
    return None
