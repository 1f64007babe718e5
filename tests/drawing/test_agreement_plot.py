"""Plots: marks stand where the numbers say, texts do not touch, ticks are round."""

from collections.abc import Sequence
from itertools import pairwise

import pytest

from footexam.drawing.agreement_plot import Level, Slope, difference_plot
from footexam.drawing.axes import TYPE, Axes, ticks
from footexam.drawing.borderline_plot import Cut, borderline_plot
from footexam.drawing.item_plot import (
    WIDEST,
    ItemHeads,
    ItemRow,
    ShareRow,
    item_plot,
    row_top,
    share_plot,
)
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Line, Polygon, Rect
from footexam.reports.fonts import Typeset
from footexam.resources import assets_dir
from tests.drawing.plotted import clean, dots, scale, texts

AXES = Axes("mean", "difference")
HEADS = ItemHeads("item", "told", "errors")
WIDTHS = Typeset(assets_dir() / "fonts").width


def differences(
    points: Sequence[tuple[float, float]], levels: Sequence[Level] = (), slope: Slope | None = None
) -> Drawing:
    return difference_plot(points, levels, AXES, WIDTHS, slope)


def test_dots_stand_where_their_values_say() -> None:
    points = [(1.0, -2.0), (5.0, 0.0), (9.0, 3.0)]
    drawing = differences(points, [Level(0.3, "bias")])
    across, up = scale(drawing)
    found = sorted((across(one.x), up(one.y)) for one in dots(drawing))
    assert found == [pytest.approx(point, abs=0.02) for point in points]
    clean(drawing, WIDTHS)


def test_lines_and_intervals_stand_where_their_values_say() -> None:
    levels = [Level(0.5, "bias", -0.5, 1.5), Level(4.0, "upper", 3.0, 6.5), Level(-3.0, "lower")]
    drawing = differences([(1, -5), (9, 5)], levels)
    _, up = scale(drawing)
    edges = [(up(max(one.y1, one.y2)), up(min(one.y1, one.y2))) for one in bars(drawing)]
    assert edges == [pytest.approx((-0.5, 1.5), abs=0.02), pytest.approx((3.0, 6.5), abs=0.02)]
    lines = {round(up(one.y1), 1) for one in drawing.shapes if is_across(one)}
    assert lines == {0.5, 4.0, -3.0}


def bars(drawing: Drawing) -> list[Line]:
    """The upright lines of intervals, from left to right."""
    found = [one for one in drawing.shapes if isinstance(one, Line) and one.ink is Ink.ACCENT]
    return sorted((one for one in found if one.x1 == one.x2), key=lambda one: one.x1)


def test_intervals_never_lie_over_one_another_or_over_dots() -> None:
    levels = [Level(0.0, "b", -9.0, 9.0), Level(4.0, "u", -9.0, 9.0), Level(-4.0, "l", -9.0, 9.0)]
    drawing = differences([(1, -5), (9, 5)], levels)
    places = [one.x1 for one in bars(drawing)]
    assert all(after - before >= 4.0 for before, after in pairwise(places))
    assert max(dot.x + dot.radius for dot in dots(drawing)) < min(places)
    assert max(places) < min(one.x for one in texts(drawing) if one.text == "u")


BAR_END = 0.8
"""The width of the ends of a bar, which no line across has."""


def is_across(one: object) -> bool:
    """Whether it is a piece of a line across the plot, and no end of a bar."""
    across = isinstance(one, Line) and one.ink is Ink.ACCENT and one.y1 == one.y2
    return across and one.width != BAR_END  # type: ignore[attr-defined]


def test_the_axes_hold_all_data_and_intervals() -> None:
    drawing = differences([(1, -5), (9, 5)], [Level(0.0, "b", -20.0, 20.0)])
    (bar,) = bars(drawing)
    axis = max(
        (one for one in drawing.shapes if isinstance(one, Line) and one.ink is Ink.BORDER),
        key=lambda one: abs(one.y1 - one.y2),
    )
    low, high = sorted((axis.y1, axis.y2))
    assert low < min(bar.y1, bar.y2) < max(bar.y1, bar.y2) < high


def test_readings_on_one_spot_are_ringed() -> None:
    drawing = differences([(1, 0), (1, 0), (4, 1)])
    rings = [one for one in drawing.shapes if isinstance(one, Circle) and one.fill is None]
    assert (len(dots(drawing)), len(rings)) == (2, 1)


def test_names_of_lines_that_lie_together_do_not_touch() -> None:
    levels = [Level(0.0, "bias"), Level(0.05, "upper"), Level(-0.05, "lower")]
    drawing = differences([(1, -5), (9, 5)], levels)
    named = sorted(one.y for one in texts(drawing) if one.text in {"bias", "upper", "lower"})
    assert all(after - before >= TYPE for before, after in pairwise(named))


def test_bars_show_how_sure_a_line_is() -> None:
    drawing = differences([(1, -5), (9, 5)], [Level(0.0, "bias", -2.0, 2.0), Level(4.0, "upper")])
    (bar,) = bars(drawing)
    assert abs(bar.y1 - bar.y2) > 10


def test_the_bias_is_whole_and_the_limits_are_dashed() -> None:
    drawing = differences([(1, -5), (9, 5)], [Level(0.0, "b"), Level(4.0, "u")])
    lines = [one for one in drawing.shapes if isinstance(one, Line) and one.ink is Ink.ACCENT]
    assert max(one.x2 - one.x1 for one in lines) > 100
    assert sum(one.x2 - one.x1 <= 5.0 + 1e-9 for one in lines) > 10


def test_a_trend_rises_as_its_slope_says() -> None:
    drawing = differences([(10, -1), (30, 3)], [Level(1.0, "bias")], Slope(-3.0, 0.2, "trend 0.2"))
    across, up = scale(drawing)
    pieces = [
        one
        for one in drawing.shapes
        if isinstance(one, Line) and one.ink is Ink.INK and one.y1 != one.y2
    ]
    assert pieces
    for one in pieces:
        assert up(one.y1) == pytest.approx(-3.0 + 0.2 * across(one.x1), abs=0.02)
    assert "trend 0.2" in {one.text for one in texts(drawing)}


@pytest.mark.parametrize("points", [[], [(3.0, 0.0)], [(3.0, 1.0), (3.0, 1.0)], [(0.0, 0.0)]])
def test_few_points_are_no_fault(points: list[tuple[float, float]]) -> None:
    clean(differences(points), WIDTHS)


@pytest.mark.parametrize(
    ("low", "high"), [(0, 1), (-8.6, 10.4), (0.003, 0.0071), (-1200, 800), (4.9, 5.1)]
)
def test_ticks_are_few_round_and_inside(low: float, high: float) -> None:
    found = ticks(low, high)
    assert 2 <= len(found) <= 6
    assert all(low - 1e-9 <= tick <= high + 1e-9 for tick in found)
    steps = [after - before for before, after in pairwise(found)]
    assert steps == pytest.approx([steps[0]] * len(steps))


@pytest.mark.parametrize("size", [(243.0, 150.0), (300.0, 180.0), (160.0, 120.0)])
@pytest.mark.parametrize("factor", [0.001, 1.0, 1000.0])
def test_nothing_is_cut_and_nothing_touches(size: tuple[float, float], factor: float) -> None:
    levels = [
        Level(0.3 * factor, "bias +0.3"),
        Level(8.123 * factor, "upper 8.1", 7.0 * factor, 9.9 * factor),
        Level(-8.0 * factor, "lower −8.0", -9.0 * factor, -7.5 * factor),
    ]
    points = [(factor * (10 + n % 9), factor * ((n * 7) % 15 - 7.5)) for n in range(40)]
    axes = Axes("mean of both, mm", "student minus reference, mm")
    clean(difference_plot(points, levels, axes, WIDTHS, None, *size), WIDTHS)


# --- rows


def test_errors_of_items_stand_where_their_values_say() -> None:
    rows = [ItemRow("a", (-1.0, 0.0, 1.0), "+1 mm"), ItemRow("b", (2.5,))]
    drawing = item_plot(rows, HEADS, WIDTHS)
    circles = [one for one in drawing.shapes if isinstance(one, Circle)]
    assert len(circles) == 4
    (band,) = (one for one in drawing.shapes if isinstance(one, Rect))
    held = [band.x <= one.x <= band.x + band.width for one in circles]
    assert held == [True, True, True, False]
    middle, unit = band.x + band.width / 2, band.width / (2 * 1.96)
    assert [(one.x - middle) / unit for one in circles] == pytest.approx([-1.0, 0.0, 1.0, 2.5])
    assert [row_top(0) < one.y < row_top(1) for one in circles] == [True, True, True, False]
    clean(drawing, WIDTHS)


def test_what_lies_far_out_points_beyond_the_edge() -> None:
    drawing = item_plot([ItemRow("a", (WIDEST + 3, -WIDEST - 1))], HEADS, WIDTHS)
    arrows = [one for one in drawing.shapes if isinstance(one, Polygon)]
    assert len(arrows) == 2
    assert {one.fill for one in arrows} == {Ink.CAUTION}
    right, left = sorted(arrows, key=lambda one: -one.points[0][0])
    assert tip(right) == max(x for x, _ in right.points)
    assert tip(left) == min(x for x, _ in left.points)
    assert not [one for one in drawing.shapes if isinstance(one, Circle)]


def tip(arrow: Polygon) -> float:
    """The corner that stands alone on its height."""
    heights = [round(y, 2) for _, y in arrow.points]
    return next(x for x, y in arrow.points if heights.count(round(y, 2)) == 1)


def test_shares_stand_with_their_intervals() -> None:
    rows = [ShareRow("a", 0.5, 0.25, 0.75, "5/10"), ShareRow("b", 1.0, 0.7, 1.0, "9/9")]
    drawing = share_plot(rows, HEADS, WIDTHS, 300.0)
    first, second = sorted(dots(drawing), key=lambda one: one.y)
    lines = [one for one in drawing.shapes if isinstance(one, Line) and one.ink is Ink.ACCENT]
    level = [one for one in lines if abs(one.x1 - one.x2) > 1.0]
    wide = {round(one.y1, 1): sorted((one.x1, one.x2)) for one in level}
    low, high = wide[round(first.y, 1)]
    assert first.x == pytest.approx((low + high) / 2)
    assert wide[round(second.y, 1)][1] == pytest.approx(second.x)
    assert (high - low) / 0.5 == pytest.approx((second.x - first.x) / 0.5)
    clean(drawing, WIDTHS)


def test_a_long_name_is_cut_where_the_marks_begin() -> None:
    rows = [ShareRow("word " * 40, 0.5, 0.2, 0.8, "5/10")]
    drawing = share_plot(rows, HEADS, WIDTHS, 300.0)
    (name,) = (one for one in texts(drawing) if one.text.startswith("word"))
    assert name.text.endswith("…")
    clean(drawing, WIDTHS)


# --- the pass mark

GRADES = [(0.0, "Fail"), (1.0, "Borderline"), (2.0, "Pass"), (3.0, "Good"), (4.0, "Excellent")]
CUT = Cut(start=20.0, rise=15.0, at=1.0, cut=35.0, se=2.5, told="cut 35.0")


@pytest.mark.parametrize("size", [(300.0, 190.0), (180.0, 150.0)])
def test_the_cut_stands_on_the_line_at_its_grade(size: tuple[float, float]) -> None:
    points = [(0.0, 18.0), (1.0, 40.0), (3.0, 66.0), (3.0, 66.0)]
    drawing = borderline_plot(points, GRADES, CUT, Axes("grade", "points"), WIDTHS, *size)
    _, up = scale(drawing, named={name: place for place, name in GRADES})
    assert sorted(up(one.y) for one in dots(drawing)) == pytest.approx([18, 40, 66], abs=0.2)
    (band,) = (one for one in drawing.shapes if isinstance(one, Rect))
    assert up(band.y) == pytest.approx(37.5, abs=0.2)
    assert up(band.y + band.height) == pytest.approx(32.5, abs=0.2)
    level = [one for one in drawing.shapes if is_across(one)]
    assert [up(one.y1) for one in level] == [pytest.approx(35.0, abs=0.2)]
    clean(drawing, WIDTHS)


def test_the_line_goes_no_farther_than_the_points() -> None:
    drawing = borderline_plot(
        [(2.0, 50.0), (3.0, 66.0)], GRADES, CUT, Axes("grade", "points"), WIDTHS
    )
    across, _ = scale(drawing, named={name: place for place, name in GRADES})
    (line,) = (s for s in drawing.shapes if isinstance(s, Line) and s.ink is Ink.INK)
    assert (across(line.x1), across(line.x2)) == pytest.approx((1.0, 3.0), abs=0.05)


def test_what_is_used_stands_beside_the_cut() -> None:
    cut = Cut(20.0, 15.0, 1.0, 35.0, 2.5, "cut 35.0", 37.5, "used 37.5")
    drawing = borderline_plot([(1.0, 30.0)], GRADES, cut, Axes("grade", "points"), WIDTHS)
    assert {"cut 35.0", "used 37.5"} <= {one.text for one in texts(drawing)}
    clean(drawing, WIDTHS)


def test_points_without_a_line_are_shown() -> None:
    drawing = borderline_plot([(1.0, 30.0)], GRADES, None, Axes("grade", "points"), WIDTHS)
    assert len(dots(drawing)) == 1
    assert not [one for one in drawing.shapes if isinstance(one, Rect)]
    clean(drawing, WIDTHS)
