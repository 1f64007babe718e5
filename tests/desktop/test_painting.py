"""A drawing that is painted in part from memory looks as one that is painted anew."""

import pytest
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from footexam.desktop.painting import Brush, DrawingView
from footexam.desktop.theme import DARK, LIGHT, Theme
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Line, Polygon, Rect, Shape, Text

GROUND: tuple[Shape, ...] = (
    Polygon(((10, 10), (90, 12), (80, 60), (14, 58)), Ink.SURFACE, Ink.BORDER, 2.0),
    Polygon(((30, 20), (60, 22), (50, 40)), Ink.BAND, None),
    Rect(20, 30, 30, 10, Ink.BELOW, Ink.INK, 0.8, 2.0),
)
MORE: tuple[Shape, ...] = (
    Line(0, 0, 90, 60),
    Circle(40, 30, 9, Ink.SURFACE, Ink.CAUTION),
    Text(10, 50, "12 mm", 9, Ink.INK),
    Line(5, 60, 95, 60, Ink.ACCENT, 2.0),
)
STEPS = (
    (*GROUND, *MORE),
    (*GROUND, *MORE[1:]),
    (*GROUND, *MORE[:2]),
    (*GROUND[:2], *MORE),
    (*GROUND[1:], *MORE),
    (*GROUND, *MORE[2:]),
    (*GROUND, *MORE[3:]),
    MORE,
)
NEAR = 3
"""Levels of a colour by which edges that are painted in two steps may differ."""


def grabbed(view: DrawingView) -> QImage:
    return view.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)


def furthest(one: QImage, other: QImage) -> int:
    """The greatest difference of a colour anywhere."""
    assert one.size() == other.size()
    return max(abs(a - b) for a, b in zip(bytes(one.bits()), bytes(other.bits()), strict=True))


def made(qtbot: QtBot, theme: Theme) -> DrawingView:
    view = DrawingView(theme)
    qtbot.addWidget(view)
    view.resize(200, 130)
    return view


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_after_every_change_it_looks_as_if_painted_anew(qtbot: QtBot, theme: Theme) -> None:
    view = made(qtbot, theme)
    before = None
    for step, shapes in enumerate(STEPS):
        scale = 2.0 if step != 2 else 1.5
        drawing = Drawing(100, 65, shapes)
        view.show_drawing(drawing, scale)
        grabbed(view)
        shown = grabbed(view)  # again: from memory
        fresh = made(qtbot, theme)
        fresh.show_drawing(drawing, scale)
        assert furthest(shown, grabbed(fresh)) <= NEAR, step
        assert before is None or before.size() != shown.size() or furthest(before, shown) > NEAR
        before = shown


def test_what_is_behind_a_text_has_its_own_colours(qtbot: QtBot) -> None:
    circles = [Circle(x, 20, 9, Ink.SURFACE, Ink.CAUTION, 2.0) for x in (20, 70)]
    text = Text(10, 50, "12 mm", 9, Ink.INK)
    images = []
    for shapes in ((circles[0], text, circles[1]), (*circles, text)):
        view = made(qtbot, LIGHT)
        view.show_drawing(Drawing(100, 65, shapes), 2.0)
        images.append(grabbed(view))
    assert furthest(*images) == 0


def test_one_brush_paints_several_drawings() -> None:
    line = Drawing(50, 10, (Line(2, 5, 48, 5, Ink.CAUTION, 4.0),))
    image = QImage(100, 100, QImage.Format.Format_RGB32)
    image.fill(0)
    painter = QPainter(image)
    brush = Brush(painter, LIGHT)
    brush.drawing(line, 0, 0)
    brush.drawing(line, 0, 50)
    painter.end()
    assert image.pixelColor(25, 5) == image.pixelColor(25, 55) == LIGHT.colour(Ink.CAUTION)
