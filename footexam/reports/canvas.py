"""Drawing pages of plain shapes into a PDF; the same shapes give the same bytes."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from io import BytesIO

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.textobject import PDFTextObject

from footexam.drawing.palette import ON_PAPER, Ink
from footexam.drawing.shapes import Anchor, Circle, Line, Polygon, Rect, Shape, Text
from footexam.reports.fonts import Typeset
from footexam.reports.sheet import Mark, Paper, Sheet

PRODUCER = "footexam"
"""Written into the document's data; without a version, so that the bytes do not change with it."""


def pdf_bytes(sheet: Sheet, title: str, language: str) -> bytes:
    """The pages as PDF: embedded fonts, title, language and outline; no time or path in it."""
    paper, typeset = sheet.paper, sheet.typeset
    buffer = BytesIO()
    canvas = Canvas(
        buffer, pagesize=(paper.width, paper.height), invariant=1, pageCompression=1, lang=language
    )
    canvas.setTitle(title)
    canvas.setAuthor(PRODUCER)
    canvas.setCreator(PRODUCER)
    canvas.setProducer(PRODUCER)
    canvas.setSubject("")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    for number, shapes in enumerate(sheet.pages):
        _outline(canvas, [mark for mark in sheet.marks if mark.page == number], number, paper)
        _page(canvas, shapes, paper, typeset)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _outline(canvas: Canvas, marks: Iterable[Mark], number: int, paper: Paper) -> None:
    """Entries of the document's outline for the headings of one page."""
    for place, mark in enumerate(marks):
        key = f"p{number}-{place}"
        canvas.bookmarkPage(key, fit="XYZ", left=0, top=paper.height - mark.y, zoom=0)
        canvas.addOutlineEntry(mark.text, key, level=mark.level)


def _page(canvas: Canvas, shapes: Sequence[Shape], paper: Paper, typeset: Typeset) -> None:
    """One page: figures first, then all its text in reading order."""
    texts = [shape for shape in shapes if isinstance(shape, Text)]
    for shape in shapes:
        if not isinstance(shape, Text):
            _figure(canvas, shape, paper.height)
    writing = canvas.beginText()
    _write(writing, texts, paper.height, typeset)
    canvas.drawText(writing)


def _write(
    writing: PDFTextObject, texts: Iterable[Text], page_height: float, typeset: Typeset
) -> None:
    """Texts one after another; fonts and colours are set only where they change."""
    ink: Ink | None = None
    font: tuple[str, float] | None = None
    for text in texts:
        if text.ink is not ink:
            ink = text.ink
            writing.setFillColor(_colour(ink))
        writing.setTextOrigin(_start(text, typeset), page_height - text.y)
        for name, run in typeset.runs(text.text, text.bold):
            if (name, text.size) != font:
                font = (name, text.size)
                writing.setFont(name, text.size)
            writing.textOut(run)


def _start(text: Text, typeset: Typeset) -> float:
    """The x of the text's left end."""
    if text.anchor is Anchor.START:
        return text.x
    width = typeset.width(text.text, text.size, text.bold)
    return text.x - (width if text.anchor is Anchor.END else width / 2)


def _figure(canvas: Canvas, shape: Shape, page_height: float) -> None:
    """One shape that is not text."""
    match shape:
        case Line():
            _stroke(canvas, shape.ink, shape.width)
            canvas.line(shape.x1, page_height - shape.y1, shape.x2, page_height - shape.y2)
        case Rect():
            paint = _paint(canvas, shape)
            y = page_height - shape.y - shape.height
            if shape.radius:
                canvas.roundRect(shape.x, y, shape.width, shape.height, shape.radius, **paint)
            else:
                canvas.rect(shape.x, y, shape.width, shape.height, **paint)
        case Circle():
            canvas.circle(shape.x, page_height - shape.y, shape.radius, **_paint(canvas, shape))
        case Polygon():
            path = canvas.beginPath()
            (x, y), *others = shape.points
            path.moveTo(x, page_height - y)
            for x, y in others:
                path.lineTo(x, page_height - y)
            path.close()
            canvas.drawPath(path, **_paint(canvas, shape))


def _stroke(canvas: Canvas, ink: Ink, width: float) -> None:
    """Sets the pen."""
    canvas.setStrokeColor(_colour(ink))
    canvas.setLineWidth(width)


def _paint(canvas: Canvas, shape: Rect | Circle | Polygon) -> Mapping[str, int]:
    """Sets pen and fill; gives what reportlab is told to draw."""
    if shape.stroke is not None:
        _stroke(canvas, shape.stroke, shape.line_width)
    if shape.fill is not None:
        canvas.setFillColor(_colour(shape.fill))
    return {"stroke": int(shape.stroke is not None), "fill": int(shape.fill is not None)}


@cache
def _colour(ink: Ink) -> Color:
    """The colour on paper."""
    return HexColor(ON_PAPER[ink])
