"""The growth line: dots in time and value, labels that do not touch."""

import pytest

from footexam.drawing.growth import Point, growth_line
from footexam.drawing.shapes import Circle, Line, Text


def points(*pairs: tuple[float, float]) -> list[Point]:
    return [Point(when, value, f"{value:g}", f"day {when:g}") for when, value in pairs]


def dots(*pairs: tuple[float, float]) -> list[tuple[float, float]]:
    shapes = growth_line(points(*pairs)).shapes
    return [(shape.x, shape.y) for shape in shapes if isinstance(shape, Circle)]


def labels(*pairs: tuple[float, float]) -> list[str]:
    return [shape.text for shape in growth_line(points(*pairs)).shapes if isinstance(shape, Text)]


def test_more_is_higher_and_later_is_further_right() -> None:
    (x1, y1), (x2, y2), (x3, y3) = dots((0, 100), (100, 110), (400, 105))
    assert x1 < x2 < x3
    assert y2 < y3 < y1
    assert (x2 - x1) / (x3 - x1) == pytest.approx(0.25)
    assert (y1 - y3) / (y1 - y2) == pytest.approx(0.5)


def test_a_level_line_stands_in_the_middle_and_visits_of_one_day_are_spread() -> None:
    (_, y1), (_, y2) = dots((0, 5), (9, 5))
    assert y1 == y2
    (x1, _), (x2, _), (x3, _) = dots((7, 1), (7, 2), (7, 3))
    assert x2 - x1 == pytest.approx(x3 - x2) != 0


def test_every_value_is_written_and_the_first_and_last_day() -> None:
    assert labels((0, 100), (200, 110), (400, 105)) == ["100", "110", "105", "day 0", "day 400"]


def test_crowded_visits_have_only_the_first_and_the_last_value() -> None:
    assert labels((0, 1), (2, 2), (3, 3), (400, 4)) == ["1", "4", "day 0", "day 400"]


def test_all_is_inside_the_drawing() -> None:
    drawing = growth_line(points((0, 1), (50, 9), (99, 3)), 150.0, 42.0)
    for shape in drawing.shapes:
        if isinstance(shape, Circle | Text):
            assert 0 <= shape.x <= drawing.width
            assert 0 <= shape.y <= drawing.height
    joins = [s for s in drawing.shapes if isinstance(s, Line) and s.width == 1.0]
    assert len(joins) == 2
