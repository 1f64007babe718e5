"""The drawings of a device: to scale, mirrored by side, told without colour, drawn fast."""

from dataclasses import replace
from typing import Any

import pytest

from footexam.drawing.device import EDGE, side_view
from footexam.drawing.device_parts import POINTS, Device, device_of
from footexam.drawing.device_plan import sole_view
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Line, Polygon, Shape, Text
from footexam.scoring.visit import Visit
from footexam.terms import Side
from tests.reports.pages import figure_box, text_box
from tests.reports.planned_builders import CATALOGUE, LEFT, RIGHT, USUAL, chosen, planned

VIEWS = (side_view, sole_view)
MANY = (
    *USUAL,
    chosen("shell-thickness", thickness="4 mm"),
    chosen("heel-cup-depth", depth="16 mm"),
    chosen("cover-material"),
    chosen("cover-length"),
    chosen("metatarsal-dome"),
    chosen("lateral-forefoot-extension"),
    chosen("plantar-fascial-groove"),
    chosen("shell-length-and-width"),
    chosen("arch-contour-height"),
)
HALF = POINTS / 2


def device(features: Any = USUAL, side: Side = LEFT, **more: Any) -> Device:
    examination, assessment = planned(features, **more)
    visit = Visit(examination, CATALOGUE.measures)

    def value(measure: str) -> float | None:
        found = visit.number(measure, side)
        return None if found is None else float(found)

    return device_of(assessment.reasons.plan, side, value, CATALOGUE.figures)


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def told(drawing: Drawing) -> str:
    return " ".join(texts(drawing))


def new_polygons(more: Drawing, less: Drawing) -> list[Polygon]:
    return [
        shape for shape in more.shapes if isinstance(shape, Polygon) and shape not in less.shapes
    ]


def height(polygon: Polygon) -> float:
    ys = [y for _, y in polygon.points]
    return max(ys) - min(ys)


def length(polygon: Polygon) -> float:
    xs = [x for x, _ in polygon.points]
    return max(xs) - min(xs)


@pytest.mark.parametrize("millimetres", [4, 6, 10])
@pytest.mark.parametrize("scale", [1.0, 2.0, 3.0])
def test_a_lift_is_as_high_as_the_scale_says(millimetres: int, scale: float) -> None:
    made = device([chosen("heel-lift", height=f"{millimetres} mm")])
    drawing = side_view(made, scale=scale)
    hatched = [
        height(shape)
        for shape in drawing.shapes
        if isinstance(shape, Polygon) and shape.stroke is Ink.INK
    ]
    assert hatched == [pytest.approx(millimetres * POINTS / scale, abs=0.01)]


def test_the_post_stands_on_the_lift_and_raises_shell_and_foot() -> None:
    without, beside = device([chosen("heel-lift", height="6 mm")]), device(USUAL[1:])
    lift = next(
        shape for shape in side_view(without).shapes if isinstance(shape, Polygon) and shape.stroke
    )
    foot = next(shape for shape in side_view(beside).shapes if isinstance(shape, Polygon))
    assert min(y for _, y in foot.points) > 0
    assert lift.points != foot.points
    post = beside.mm("rearfoot-post-medial", "height")
    assert post == pytest.approx(4.2)
    bands = [
        height(shape)
        for shape in side_view(beside).shapes
        if isinstance(shape, Polygon) and shape.stroke is Ink.INK
    ]
    assert pytest.approx(6 * HALF, abs=0.01) in bands


def test_a_round_relief_has_its_diameter_in_both_directions() -> None:
    whole = device([*USUAL, chosen("first-metatarsal-head-relief", diameter="22 mm")])
    less = replace(whole, features=whole.features[:-1])
    relief = next(one for one in new_polygons(sole_view(whole), sole_view(less)))
    assert length(relief) == pytest.approx(22 * HALF, rel=0.02)
    assert height(relief) == pytest.approx(22 * HALF, rel=0.02)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("scale", [2.0, 3.0, 4.0])
def test_the_foot_has_its_length_and_the_bar_is_50_mm(view: Any, scale: float) -> None:
    made = device()
    drawing = view(made, scale=scale)
    assert drawing.width == pytest.approx((248 + 2 * EDGE) * POINTS / scale)
    assert f"Scale 1:{scale:g}" in texts(drawing)
    assert "50 mm" in texts(drawing)
    bars = [
        shape.x2 - shape.x1
        for shape in drawing.shapes
        if isinstance(shape, Line) and shape.width == 1.2 and shape.y1 == shape.y2
    ]
    assert any(bar == pytest.approx(50 * POINTS / scale) for bar in bars)


def test_the_foot_itself_is_drawn_to_its_length() -> None:
    outline = next(shape for shape in side_view(device()).shapes if isinstance(shape, Polygon))
    assert length(outline) == pytest.approx(248 * HALF, rel=0.02)


def test_a_missing_length_is_drawn_at_the_usual_one_and_says_so() -> None:
    made = device(without=("foot-length", "truncated-foot-length"))
    assert made.foot.length == 260.0
    assert made.foot.assumed == ("foot-length", "truncated-foot-length")
    for view in VIEWS:
        assert "Foot length not recorded: drawn at a usual 260 mm (not a measure)." in told(
            view(made)
        )
        assert "not recorded" not in told(view(device()))


def test_a_shoe_that_was_not_measured_is_not_drawn() -> None:
    made = device(without=("shoe-heel-depth", "shoe-forefoot-depth"))
    assert "Shoe not measured: no room drawn." in told(side_view(made))
    assert "Shoe not measured" not in told(side_view(device()))


def test_a_device_that_does_not_fit_says_where() -> None:
    assert "Does not fit" not in told(side_view(device()))
    assert "Does not fit: heel." in told(side_view(device([chosen("heel-lift", height="40 mm")])))


def test_a_shell_without_thickness_is_drawn_open_and_says_so() -> None:
    bare, known = device(), device([*USUAL, chosen("shell-thickness", thickness="4 mm")])
    assert "Open outline" in told(side_view(bare))
    assert "Open outline" not in told(side_view(known))
    solid = [
        shape
        for shape in side_view(known).shapes
        if isinstance(shape, Polygon) and shape.fill is Ink.INK
    ]
    assert len(solid) == 1


@pytest.mark.parametrize("view", VIEWS)
def test_the_other_side_is_the_mirror(view: Any) -> None:
    both = [{**one, "side": side} for one in USUAL for side in (LEFT, RIGHT)]
    left, right = device(both, LEFT), device(both, RIGHT)
    right = replace(right, foot=left.foot, shoe=left.shoe)
    ours = [shape for shape in view(left).shapes if isinstance(shape, Polygon)]
    theirs = [shape for shape in view(right).shapes if isinstance(shape, Polygon)]
    width = view(left).width
    assert len(ours) == len(theirs) > 3
    for one, other in zip(ours, theirs, strict=True):
        assert [x for x, _ in one.points] == pytest.approx([width - x for x, _ in other.points])
        assert [y for _, y in one.points] == pytest.approx([y for _, y in other.points])
    assert "Left foot" in told(view(left))
    assert "Right foot" in told(view(right))


def test_medial_is_on_top_and_lateral_below_in_the_view_from_below() -> None:
    tops = {}
    for name in ("medial-heel-skive", "lateral-heel-skive"):
        made = device([chosen("shell-thickness", thickness="4 mm"), chosen(name)])
        less = replace(
            made, features=made.features[:0] + tuple(one for one in made.features if one.id != name)
        )
        facet = new_polygons(sole_view(made), sole_view(less))[0]
        tops[name] = sum(y for _, y in facet.points) / len(facet.points)
    assert tops["medial-heel-skive"] < tops["lateral-heel-skive"]


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("scale", [2.0, 4.0])
@pytest.mark.parametrize("features", [USUAL, MANY])
def test_no_text_meets_another_or_a_figure(view: Any, scale: float, features: Any) -> None:
    from footexam.reports.fonts import Typeset
    from footexam.resources import assets_dir

    typeset = Typeset(assets_dir() / "fonts")
    drawing = view(device(features), scale=scale, measure=typeset.width)
    found = [text_box(shape, typeset) for shape in drawing.shapes if isinstance(shape, Text)]
    outlines = [box for shape in drawing.shapes if (box := figure_box(shape))]
    for place, box in enumerate(found):
        assert box.left >= -0.1
        assert box.right <= drawing.width + 0.1
        assert box.bottom <= drawing.height + 0.1
        assert not any(box.overlaps(other) for other in found[place + 1 :]), box
        if not box.what.isdigit():
            assert not any(box.overlaps(other) for other in outlines), box


@pytest.mark.parametrize("view", VIEWS)
def test_numbers_stand_in_discs_of_their_own(view: Any) -> None:
    shapes = view(device(MANY), scale=4.0).shapes
    discs = [s for s in shapes if isinstance(s, Circle) and s.stroke is Ink.INK]
    numbers = [s for s in shapes if isinstance(s, Text) and s.text.isdigit()]
    assert len(discs) == len(numbers) > 5
    for place, one in enumerate(discs):
        assert any(abs(one.x - number.x) < 0.01 for number in numbers)
        for other in discs[place + 1 :]:
            apart = ((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5
            assert apart >= one.radius + other.radius


def test_each_number_is_drawn_or_said_to_be_missing() -> None:
    made = device(MANY)
    sole, side = sole_view(made), side_view(made)
    for number in made.numbers.values():
        where = [*texts(sole), *texts(side)]
        assert str(number) in where or f" {number} " in f" {told(sole)} "
    assert f"Not drawn in this view: {made.numbers['cover-material']} Cover material." in told(sole)


def kinds(shapes: tuple[Shape, ...]) -> set[Ink]:
    inks: set[Ink] = set()
    for shape in shapes:
        for name in ("fill", "stroke", "ink"):
            found = getattr(shape, name, None)
            inks |= {found} if found else set()
    return inks


@pytest.mark.parametrize("view", VIEWS)
def test_nothing_depends_on_colour(view: Any) -> None:
    assert kinds(view(device(MANY)).shapes) <= {Ink.INK, Ink.SURFACE, Ink.BORDER, Ink.BAND}


def test_lift_and_post_have_hatches_that_lean_to_opposite_sides() -> None:
    leaning = set()
    for shape in side_view(device(USUAL[1:])).shapes:
        if isinstance(shape, Line) and shape.width == 0.5:
            leaning.add((shape.x2 - shape.x1) * (shape.y2 - shape.y1) > 0)
    assert leaning == {True, False}


@pytest.mark.parametrize("feature", list(CATALOGUE.features))
@pytest.mark.parametrize("view", VIEWS)
def test_every_feature_can_be_drawn_alone(view: Any, feature: str) -> None:
    drawing = view(device([chosen(feature)]))
    assert drawing.width > 0
    for shape in drawing.shapes:
        box = figure_box(shape)
        if box:
            assert box.right <= drawing.width + 12.0
            assert box.bottom <= drawing.height + 1.0


@pytest.mark.parametrize("typed", ["-5 mm", "0 mm", "900 mm", "nonsense"])
@pytest.mark.parametrize("view", VIEWS)
def test_a_number_that_cannot_be_is_drawn_without_a_fall(view: Any, typed: str) -> None:
    made = device([chosen("heel-lift", height=typed), chosen("shell-thickness", thickness=typed)])
    assert view(made).shapes


def test_a_side_that_is_held_or_has_nothing_is_empty() -> None:
    assert device(USUAL, RIGHT).features == ()
    examination, assessment = planned()
    plan = replace(assessment.reasons.plan, held=(LEFT,))
    made = device_of(plan, LEFT, lambda _: None, CATALOGUE.figures)
    assert made.features == ()
    assert examination.decisions["features"]


def test_a_feature_for_both_sides_and_for_one_stands_once_as_chosen_for_that_side() -> None:
    made = device([chosen("heel-lift", None, height="4 mm"), chosen("heel-lift", height="9 mm")])
    assert [one.id for one in made.features] == ["heel-lift"]
    assert made.mm("heel-lift", "height") == 9.0


@pytest.mark.parametrize("view", VIEWS)
def test_it_stays_small_enough_to_be_drawn_at_every_key(view: Any) -> None:
    # time itself is measured in tests/bench/bench_report.py
    assert len(view(device(MANY)).shapes) < 400
