"""The ruler says by shape alone where a reading lies and whether that is uncertain."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.drawing.palette import Ink
from footexam.drawing.ruler import LEAST_BAND, Mark, Place, Scale, choose_scale, ruler
from footexam.drawing.shapes import Circle, Drawing, Line, Polygon, Rect, moved

USUAL = Mark(4.0, low=0.0, high=5.0, error=2.0, place=Place.WITHIN)
SCALE = Scale(-10.0, 15.0)
WIDTH, HEIGHT = 100.0, 12.0


def draw(**changes: object) -> Drawing:
    return ruler(replace(USUAL, **changes), SCALE, WIDTH, HEIGHT)  # type: ignore[arg-type]


def only(drawing: Drawing, kind: type) -> list:
    return [shape for shape in drawing.shapes if isinstance(shape, kind)]


def extent(shape: object) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of a shape."""
    match shape:
        case Line():
            xs, ys = [shape.x1, shape.x2], [shape.y1, shape.y2]
        case Rect():
            xs, ys = [shape.x, shape.x + shape.width], [shape.y, shape.y + shape.height]
        case Circle():
            xs = [shape.x - shape.radius, shape.x + shape.radius]
            ys = [shape.y - shape.radius, shape.y + shape.radius]
        case Polygon():
            xs, ys = [x for x, _ in shape.points], [y for _, y in shape.points]
        case _:
            raise AssertionError(shape)
    return min(xs), min(ys), max(xs), max(ys)


def test_below_points_left_and_above_points_right() -> None:
    (below,) = only(draw(value=-5.0, place=Place.BELOW), Polygon)
    (above,) = only(draw(value=9.0, place=Place.ABOVE), Polygon)
    tip, *base = below.points
    assert all(tip[0] < x for x, _ in base)
    tip, *base = above.points
    assert all(tip[0] > x for x, _ in base)


def test_within_is_a_filled_dot_and_not_judged_an_open_ring() -> None:
    (dot,) = only(draw(), Circle)
    (ring,) = only(draw(place=Place.NOT_JUDGED), Circle)
    assert dot.fill is Ink.INK
    assert ring.fill is Ink.SURFACE
    assert ring.stroke is Ink.INK


def test_an_uncertain_mark_is_hatched_and_a_sure_one_filled() -> None:
    sure = draw(value=9.0, place=Place.ABOVE)
    doubtful = draw(value=9.0, place=Place.ABOVE, uncertain=True)
    assert only(sure, Polygon)[0].fill is Ink.ABOVE
    assert only(doubtful, Polygon)[0].fill is Ink.SURFACE
    assert len(only(doubtful, Line)) >= len(only(sure, Line)) + 3


def test_the_error_bar_is_as_long_as_the_error_on_the_scale() -> None:
    bar = max(
        (line for line in only(draw(), Line) if line.ink is Ink.INK), key=lambda it: it.x2 - it.x1
    )
    length = WIDTH - 2 * HEIGHT * 0.36
    assert bar.x2 - bar.x1 == pytest.approx(2 * 2.0 / 25.0 * length)
    assert (bar.x1 + bar.x2) / 2 == pytest.approx(HEIGHT * 0.36 + 14.0 / 25.0 * length)


def test_an_unknown_error_has_no_bar() -> None:
    assert not [line for line in only(draw(error=None), Line) if line.ink is Ink.INK]


def test_without_a_usual_range_the_line_is_bare() -> None:
    drawing = draw(low=None, high=None, place=Place.NOT_JUDGED, error=None)
    assert not only(drawing, Rect)
    assert len(only(drawing, Line)) == 1
    assert len(only(drawing, Circle)) == 1


def test_an_open_end_of_the_usual_range_has_no_edge_line() -> None:
    both = [line for line in only(draw(error=None), Line) if line.ink is Ink.BORDER]
    one = [line for line in only(draw(error=None, high=None), Line) if line.ink is Ink.BORDER]
    assert (len(both), len(one)) == (2, 1)
    (band,) = only(draw(high=None), Rect)
    assert band.x + band.width == pytest.approx(WIDTH - HEIGHT * 0.36)


def test_a_narrow_band_stays_visible() -> None:
    (band,) = only(draw(low=4.0, high=4.0001), Rect)
    assert band.width == pytest.approx(LEAST_BAND)


def test_one_scale_holds_both_sides_and_their_errors() -> None:
    left = Mark(9.0, low=0.0, high=5.0, error=2.0)
    right = Mark(-3.0, low=0.0, high=5.0, error=2.0)
    scale = choose_scale([left, right])
    assert scale.low <= -5.0
    assert scale.high >= 11.0


def test_a_scale_stops_at_the_hard_limits() -> None:
    scale = choose_scale([Mark(11.0, low=0.0, high=5.0, error=4.0)], hard_low=-2.0, hard_high=12.0)
    assert (scale.low, scale.high) == (-2.0, 12.0)


def test_a_value_outside_its_hard_limits_still_has_a_scale() -> None:
    scale = choose_scale([Mark(50.0, low=1.0, high=5.0)], hard_low=0.0, hard_high=10.0)
    assert scale.low <= 0.0
    assert scale.high == 50.0


def test_a_value_on_its_only_limit_still_has_a_scale() -> None:
    scale = choose_scale([Mark(0.0)], hard_low=0.0, hard_high=0.0)
    assert scale.low < 0.0 < scale.high


FINITE = st.floats(-1e6, 1e6, allow_nan=False)


@given(
    value=FINITE,
    ends=st.tuples(st.none() | FINITE, st.none() | FINITE),
    error=st.none() | st.floats(0, 1e6),
    place=st.sampled_from(list(Place)),
    uncertain=st.booleans(),
)
def test_everything_stays_inside_the_box(
    value: object,
    ends: tuple[float | None, float | None],
    error: float | None,
    place: Place,
    uncertain: bool,
) -> None:
    low, high = ends
    if low is not None and high is not None:
        low, high = min(low, high), max(low, high)
    mark = Mark(value, low, high, error, place, uncertain)
    drawing = ruler(mark, choose_scale([mark]), WIDTH, HEIGHT)
    for shape in drawing.shapes:
        left, top, right, bottom = extent(shape)
        assert left >= -1e-6
        assert top >= -1e-6
        assert right <= WIDTH + 1e-6
        assert bottom <= HEIGHT + 1e-6


@given(dx=st.integers(-50, 50), dy=st.integers(-50, 50))
def test_moving_moves_every_shape_alike(dx: int, dy: int) -> None:
    for shape in draw(value=9.0, place=Place.ABOVE, uncertain=True).shapes:
        before, after = extent(shape), extent(moved(shape, dx, dy))
        assert after == pytest.approx(
            (before[0] + dx, before[1] + dy, before[2] + dx, before[3] + dy)
        )
