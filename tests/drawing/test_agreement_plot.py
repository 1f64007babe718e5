"""Plots of agreement: dots in their places, named lines that do not touch, round ticks."""

from itertools import pairwise

import pytest

from footexam.drawing.agreement_plot import (
    TYPE,
    WIDEST,
    Axes,
    ItemHeads,
    ItemRow,
    Level,
    difference_plot,
    item_plot,
    ticks,
)
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Line, Polygon, Rect, Text

AXES = Axes("mean", "difference")
HEADS = ItemHeads("item", "told", "errors")


def dots(drawing: Drawing) -> list[Circle]:
    return [one for one in drawing.shapes if isinstance(one, Circle) and one.fill is Ink.INK]


def texts(drawing: Drawing) -> list[Text]:
    return [one for one in drawing.shapes if isinstance(one, Text)]


def inside(drawing: Drawing) -> bool:
    return all(
        0 <= one.x <= drawing.width and 0 <= one.y <= drawing.height for one in texts(drawing)
    )


def test_dots_stand_in_the_order_of_their_values() -> None:
    drawing = difference_plot([(1, -2), (5, 0), (9, 3)], [Level(0.3, "bias")], AXES)
    low, middle, high = sorted(dots(drawing), key=lambda one: one.x)
    assert low.y > middle.y > high.y
    assert middle.x - low.x == pytest.approx(high.x - middle.x)
    assert inside(drawing)


def test_readings_on_one_spot_are_ringed() -> None:
    drawing = difference_plot([(1, 0), (1, 0), (4, 1)], [], AXES)
    rings = [one for one in drawing.shapes if isinstance(one, Circle) and one.fill is None]
    assert (len(dots(drawing)), len(rings)) == (2, 1)


def test_names_of_lines_that_lie_together_do_not_touch() -> None:
    levels = [Level(0.0, "bias"), Level(0.05, "upper"), Level(-0.05, "lower")]
    drawing = difference_plot([(1, -5), (9, 5)], levels, AXES)
    named = sorted(one.y for one in texts(drawing) if one.text in {"bias", "upper", "lower"})
    assert all(after - before >= TYPE for before, after in pairwise(named))


def test_bands_show_how_sure_a_line_is() -> None:
    drawing = difference_plot(
        [(1, -5), (9, 5)], [Level(0.0, "bias", -2.0, 2.0), Level(4.0, "upper")], AXES
    )
    bands = [one for one in drawing.shapes if isinstance(one, Rect)]
    assert len(bands) == 1
    assert bands[0].height > 0


def test_the_bias_is_whole_and_the_limits_are_dashed() -> None:
    drawing = difference_plot([(1, -5), (9, 5)], [Level(0.0, "b"), Level(4.0, "u")], AXES)
    lines = [one for one in drawing.shapes if isinstance(one, Line) and one.ink is Ink.ACCENT]
    assert max(one.x2 - one.x1 for one in lines) > 100
    assert sum(one.x2 - one.x1 <= 5.0 for one in lines) > 10


@pytest.mark.parametrize("points", [[], [(3.0, 0.0)], [(3.0, 1.0), (3.0, 1.0)], [(0.0, 0.0)]])
def test_few_points_are_no_fault(points: list[tuple[float, float]]) -> None:
    assert inside(difference_plot(points, [], AXES))


@pytest.mark.parametrize(
    ("low", "high"), [(0, 1), (-8.6, 10.4), (0.003, 0.0071), (-1200, 800), (4.9, 5.1)]
)
def test_ticks_are_few_round_and_inside(low: float, high: float) -> None:
    found = ticks(low, high)
    assert 2 <= len(found) <= 6
    assert all(low - 1e-9 <= tick <= high + 1e-9 for tick in found)
    steps = [after - before for before, after in pairwise(found)]
    assert steps == pytest.approx([steps[0]] * len(steps))


def test_errors_of_items_stand_on_one_axis() -> None:
    drawing = item_plot([ItemRow("a", (-1.0, 0.0, 1.0), "+1 mm"), ItemRow("b", (2.5,))], HEADS)
    circles = [one for one in drawing.shapes if isinstance(one, Circle)]
    assert len(circles) == 4
    (band,) = (one for one in drawing.shapes if isinstance(one, Rect))
    held = [band.x <= one.x <= band.x + band.width for one in circles]
    assert held == [True, True, True, False]
    assert inside(drawing)


def test_what_lies_far_out_points_beyond_the_edge() -> None:
    drawing = item_plot([ItemRow("a", (WIDEST + 3, -WIDEST - 1))], HEADS)
    arrows = [one for one in drawing.shapes if isinstance(one, Polygon)]
    assert len(arrows) == 2
    assert {one.fill for one in arrows} == {Ink.CAUTION}
    assert not [one for one in drawing.shapes if isinstance(one, Circle)]
