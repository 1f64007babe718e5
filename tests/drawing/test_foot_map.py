"""The foot map shows and finds every place of the contract, on one view, mirrored by side."""

import csv
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.drawing.foot_map import NEAR, _holds, hit, is_nothing, map_drawing
from footexam.drawing.outlines import VIEWS, Patch, view_names, view_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Line, Polygon, Text
from footexam.terms import Side
from tests.shipped import shipped

CONTRACT = Path(__file__).parent.parent / "data" / "regions.csv"
SIDES = tuple(Side)
PLACES = [(name, patch) for name in VIEWS for patch in view_of(name, Side.RIGHT).patches]
IDS = [patch.region for _, patch in PLACES]


def regions() -> list[str]:
    with CONTRACT.open(encoding="utf-8", newline="") as file:
        return [row["id"] for row in csv.DictReader(file)]


def patch_of(view: str, region: str, side: Side = Side.RIGHT) -> Patch:
    return next(patch for patch in view_of(view, side).patches if patch.region == region)


def outline_of(drawing: Drawing, points: tuple) -> list[Polygon]:
    return [
        shape for shape in drawing.shapes if isinstance(shape, Polygon) and shape.points == points
    ]


def test_every_region_of_the_contract_lies_on_exactly_one_view() -> None:
    assert sorted(IDS) == sorted(regions())
    assert len(set(IDS)) == len(IDS) == 60


def test_the_view_of_a_region_is_the_one_that_the_forms_name() -> None:
    assert dict(view_names()) == {name: region.view for name, region in shipped().regions.items()}


@pytest.mark.parametrize(("view", "patch"), PLACES, ids=IDS)
@pytest.mark.parametrize("side", SIDES)
def test_a_click_where_the_number_stands_means_the_place(
    view: str, patch: Patch, side: Side
) -> None:
    mine = patch_of(view, patch.region, side)
    assert _holds(mine.points, *mine.at)
    assert hit(side, view, *mine.at) == patch.region


@pytest.mark.parametrize(("view", "patch"), PLACES, ids=IDS)
def test_a_place_lies_on_the_skin(view: str, patch: Patch) -> None:
    outlines = view_of(view, Side.RIGHT).outlines
    for x, y in patch.points:
        assert any(_holds(points, x, y) for points in outlines), (x, y)


@pytest.mark.parametrize("view", VIEWS)
def test_places_of_a_view_keep_apart_unless_one_lies_within_the_other(view: str) -> None:
    for first, second in combinations(view_of(view, Side.RIGHT).patches, 2):
        if second.within == first.region:
            assert all(_holds(first.points, x, y) for x, y in second.points), second.region
            continue
        assert not any(_holds(first.points, x, y) for x, y in second.points), (first, second)
        assert not any(_holds(second.points, x, y) for x, y in first.points), (first, second)


@pytest.mark.parametrize("view", VIEWS)
def test_what_lies_within_another_place_comes_after_it(view: str) -> None:
    seen: set[str] = set()
    for patch in view_of(view, Side.RIGHT).patches:
        assert patch.within is None or patch.within in seen
        seen.add(patch.region)


def test_only_the_stated_places_lie_within_others() -> None:
    within = {patch.region: patch.within for _, patch in PLACES if patch.within}
    assert within == {
        "heel-plantar-medial": "heel-plantar",
        "heel-plantar-central": "heel-plantar",
        "sesamoid-medial": "met-head-1",
        "sesamoid-lateral": "met-head-1",
        "hallux-interphalangeal": "hallux",
    }


@pytest.mark.parametrize("view", VIEWS)
def test_the_left_foot_is_the_mirror_image_of_the_right(view: str) -> None:
    left, right = (view_of(view, side) for side in SIDES)
    width = right.width
    assert (left.width, left.height) == (right.width, right.height)
    for mine, other in zip(left.patches, right.patches, strict=True):
        assert mine.region == other.region
        assert mine.points == tuple((width - x, y) for x, y in other.points)
        assert mine.at == (width - other.at[0], other.at[1])
    for ours, theirs in zip(left.outlines, right.outlines, strict=True):
        assert ours == tuple((width - x, y) for x, y in theirs)


@given(
    view=st.sampled_from(VIEWS),
    x=st.floats(0, 214),
    y=st.floats(0, 268),
)
def test_a_click_finds_the_same_place_on_both_feet(view: str, x: float, y: float) -> None:
    width = view_of(view, Side.RIGHT).width
    if x <= width:
        assert hit(Side.RIGHT, view, x, y) == hit(Side.LEFT, view, width - x, y)


def test_medial_is_towards_the_great_toe_and_the_other_foot_on_each_side() -> None:
    for side, sign in ((Side.RIGHT, 1), (Side.LEFT, -1)):
        sole = {patch.region: patch.at[0] for patch in view_of("plantar", side).patches}
        back = {patch.region: patch.at[0] for patch in view_of("dorsal", side).patches}
        leg = {patch.region: patch.at[0] for patch in view_of("leg", side).patches}
        assert sign * (sole["met-head-1"] - sole["met-head-5"]) > 0
        assert sign * (sole["heel-plantar-medial"] - sole["heel-plantar-central"]) > 0
        assert sign * (sole["sesamoid-medial"] - sole["sesamoid-lateral"]) > 0
        assert sign * (back["toe-5"] - back["hallux"]) > 0
        assert sign * (leg["knee-medial"] - leg["knee-lateral"]) > 0
        assert sign * (leg["shin-medial"] - leg["shin-anterior"]) > 0


def test_a_click_just_beside_a_place_still_means_it_and_one_far_off_means_nothing() -> None:
    patch = patch_of("plantar", "web-space-1")
    top = min(y for _, y in patch.points)
    at_top = next(x for x, y in patch.points if y == top)
    assert hit(Side.RIGHT, "plantar", at_top, top - NEAR + 0.1) == "web-space-1"
    assert hit(Side.RIGHT, "plantar", at_top, top - NEAR - 0.5) is None
    assert hit(Side.RIGHT, "plantar", 1.0, 1.0) is None


def test_within_a_larger_place_the_smaller_one_wins_over_the_near_one() -> None:
    assert hit(Side.RIGHT, "plantar", *patch_of("plantar", "met-head-1").at) == "met-head-1"
    assert hit(Side.RIGHT, "plantar", *patch_of("plantar", "sesamoid-medial").at) == (
        "sesamoid-medial"
    )


def test_a_view_that_does_not_exist_is_refused() -> None:
    with pytest.raises(KeyError):
        map_drawing(Side.LEFT, "back", ())
    with pytest.raises(KeyError):
        hit(Side.LEFT, "../plantar", 1, 1)


def test_without_a_side_the_right_foot_is_drawn() -> None:
    assert map_drawing(None, "plantar") == map_drawing(Side.RIGHT, "plantar")
    assert map_drawing(None, "plantar") != map_drawing(Side.LEFT, "plantar")


def test_a_chosen_place_is_filled_outlined_and_hatched() -> None:
    patch = patch_of("medial", "navicular")
    plain = map_drawing(Side.RIGHT, "medial")
    chosen = map_drawing(Side.RIGHT, "medial", ["navicular"])
    (before,) = outline_of(plain, patch.points)
    (after,) = outline_of(chosen, patch.points)
    assert before.fill is Ink.SURFACE
    assert (after.fill, after.stroke) == (Ink.ACCENT, Ink.INK)
    lines = [shape for shape in chosen.shapes if isinstance(shape, Line)]
    assert len(lines) >= 5
    for line in lines:
        middle = (line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2
        assert _holds(patch.points, *middle)


def test_a_hatch_stays_inside_a_figure_that_is_bent() -> None:
    patch = patch_of("medial", "ankle-medial")
    drawing = map_drawing(Side.RIGHT, "medial", ["ankle-medial"])
    lines = [shape for shape in drawing.shapes if isinstance(shape, Line)]
    assert lines
    for line in lines:
        for share in (0.02, 0.25, 0.5, 0.75, 0.98):
            x = line.x1 + share * (line.x2 - line.x1)
            y = line.y1 + share * (line.y2 - line.y1)
            assert _holds(patch.points, x, y)


def test_a_value_is_told_by_its_number_and_nothing_by_an_empty_ring() -> None:
    drawing = map_drawing(Side.RIGHT, "plantar", values={"arch-central": "6", "heel-plantar": "0"})
    (number,) = [shape for shape in drawing.shapes if isinstance(shape, Text)]
    (ring,) = [shape for shape in drawing.shapes if isinstance(shape, Circle)]
    assert number.text == "6"
    assert (ring.x, ring.y) == patch_of("plantar", "heel-plantar").at
    assert ring.fill is Ink.SURFACE
    (heel,) = outline_of(drawing, patch_of("plantar", "heel-plantar").points)
    (arch,) = outline_of(drawing, patch_of("plantar", "arch-central").points)
    assert (heel.fill, arch.fill) == (Ink.SURFACE, Ink.ACCENT)


@pytest.mark.parametrize("value", ["0", "0.0", "0,0", "-0"])
def test_zero_in_any_form_is_nothing(value: str) -> None:
    assert is_nothing(value)


@pytest.mark.parametrize("value", ["", "6", "0.5", "0,1", "none", "0 kPa"])
def test_anything_else_is_something(value: str) -> None:
    assert not is_nothing(value)


def test_a_number_wider_than_its_place_stands_in_a_frame() -> None:
    narrow = map_drawing(Side.RIGHT, "plantar", values={"web-space-2": "31.2"})
    wide = map_drawing(Side.RIGHT, "plantar", values={"arch-central": "31.2"})
    (framed,) = [shape for shape in narrow.shapes if isinstance(shape, Text)]
    (free,) = [shape for shape in wide.shapes if isinstance(shape, Text)]
    assert (framed.ink, free.ink) == (Ink.INK, Ink.SURFACE)
    assert [type(shape).__name__ for shape in narrow.shapes].count("Rect") == 1
    assert "Rect" not in [type(shape).__name__ for shape in wide.shapes]


def test_the_place_at_hand_has_the_heaviest_line_and_is_drawn_last() -> None:
    drawing = map_drawing(Side.LEFT, "lateral", ["cuboid"], current="cuboid")
    last = drawing.shapes[-1]
    assert isinstance(last, Polygon)
    assert last.points == patch_of("lateral", "cuboid", Side.LEFT).points
    assert last.line_width > max(
        shape.line_width for shape in drawing.shapes[:-1] if isinstance(shape, Polygon)
    )
    elsewhere = map_drawing(Side.LEFT, "lateral", ["cuboid"], current="calf")
    assert elsewhere == map_drawing(Side.LEFT, "lateral", ["cuboid"])


def test_a_small_map_shows_the_marked_places_only_and_no_words() -> None:
    drawing = map_drawing(Side.LEFT, "leg", ["calf"], {"groin": "0"}, small=True)
    assert not [shape for shape in drawing.shapes if isinstance(shape, Text)]
    shown = [
        patch.region
        for patch in view_of("leg", Side.LEFT).patches
        if outline_of(drawing, patch.points)
    ]
    assert sorted(shown) == ["calf", "groin"]


def test_front_and_back_of_the_leg_are_named() -> None:
    words = [
        shape.text for shape in map_drawing(Side.LEFT, "leg").shapes if isinstance(shape, Text)
    ]
    assert words == ["front", "back"]


@pytest.mark.parametrize("view", VIEWS)
def test_everything_lies_within_the_box(view: str) -> None:
    drawing = map_drawing(Side.RIGHT, view)
    for shape in drawing.shapes:
        if isinstance(shape, Polygon):
            edge = shape.line_width / 2 if shape.stroke else 0
            assert all(
                edge <= x <= drawing.width - edge and edge <= y <= drawing.height - edge
                for x, y in shape.points
            )
