"""Drawings made smaller and set side by side."""

import pytest

from footexam.drawing.shapes import Circle, Drawing, Line, Polygon, Rect, Text, joined, scaled

ALL = Drawing(
    20.0,
    10.0,
    (
        Line(0, 2, 4, 6, width=2.0),
        Rect(2, 2, 4, 4, line_width=2.0, radius=2.0),
        Circle(4, 4, 2, line_width=2.0),
        Polygon(((0, 0), (4, 0), (4, 8)), line_width=2.0),
        Text(4, 8, "7", 10.0),
    ),
)


def test_everything_is_halved() -> None:
    half = scaled(ALL, 0.5)
    assert (half.width, half.height) == (10.0, 5.0)
    assert half.shapes == (
        Line(0, 1, 2, 3, width=1.0),
        Rect(1, 1, 2, 2, line_width=1.0, radius=1.0),
        Circle(2, 2, 1, line_width=1.0),
        Polygon(((0, 0), (2, 0), (2, 4)), line_width=1.0),
        Text(2, 4, "7", 5.0),
    )


def test_text_is_never_smaller_than_asked_and_keeps_its_middle() -> None:
    text = scaled(ALL, 0.5, 8.0).shapes[-1]
    assert isinstance(text, Text)
    assert text.size == 8.0
    assert text.y - 0.36 * text.size == pytest.approx(4 - 0.36 * 5)


def test_drawings_stand_in_rows_no_wider_than_asked() -> None:
    whole = joined([ALL, ALL, ALL], 50.0, gap=8.0)
    rects = [shape for shape in whole.shapes if isinstance(shape, Rect)]
    assert [(rect.x, rect.y) for rect in rects] == [(2, 2), (30, 2), (2, 20)]
    assert (whole.width, whole.height) == (48.0, 28.0)


def test_one_that_is_too_wide_stands_alone() -> None:
    whole = joined([ALL, ALL], 5.0, gap=8.0)
    assert (whole.width, whole.height) == (20.0, 28.0)
