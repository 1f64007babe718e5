"""Growth of a child over visits, and places on the drawn foot."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import numpy as np

from footexam.assessment import assess
from footexam.demo import demo_files
from footexam.drawing.foot_map import map_drawing
from footexam.drawing.outlines import view_of
from footexam.drawing.shapes import Polygon, Text, scaled
from footexam.drawing.shapes import Text as Drawn
from footexam.record.examination import Examination
from footexam.record.reading import Numbers, RegionValues, Words
from footexam.reports.blocks import Picture
from footexam.reports.canvas import pdf_bytes
from footexam.reports.examination import examination_report
from footexam.reports.fonts import Typeset
from footexam.reports.growth import growth
from footexam.reports.maps import SIZE, maps
from footexam.reports.material import Material
from footexam.reports.sheet import PAPERS, Sheet
from footexam.resources import assets_dir
from footexam.terms import Side
from tests.reports import builders as b
from tests.reports.pages import figure_boxes, picture, text_box, whole_text
from tests.reports.test_demo_reports import examination
from tests.shipped import shipped

CATALOGUE = shipped()
FIRST, SECOND = (
    examination(path) for path in demo_files() if path.stem.startswith("02-heel-pain-child")
)


def report(now: Examination, *earlier: Examination) -> str:
    return whole_text(examination_report(now, assess(now, CATALOGUE), CATALOGUE, earlier=earlier))


def test_a_child_with_an_earlier_visit_has_a_table_of_growth_with_units_and_ages() -> None:
    said = report(SECOND, FIRST)
    start = said.index("Growth over the visits")
    part = said[start : said.index("Places on the foot")]
    assert "18-Feb-2026 (11 years and 6 months)" in part
    assert "20-May-2026 (11 years and 9 months)" in part
    assert "Body height 149.9 cm 151.4 cm 149.9 151.4" in part
    assert "Foot length, left 228 mm 230 mm" in part
    assert "Foot Posture Index, total, right +8 points +8 points" in part


def test_no_growth_without_an_earlier_visit_for_adults_or_at_unknown_age() -> None:
    assert "Growth over" not in report(SECOND)
    grown = replace(SECOND, patient=replace(SECOND.patient, birth_date="1990-01-01"))
    assert "Growth over" not in report(grown, FIRST)
    unknown = replace(SECOND, patient=replace(SECOND.patient, birth_date="2014"))
    assert "Growth over" not in report(unknown, FIRST)


def test_visits_stand_in_time_order_and_of_many_the_first_and_the_latest() -> None:
    visits = []
    for month in range(1, 9):
        height = b.numbers(str(140 + month))
        readings = dict(FIRST.readings)
        readings["body-height", None] = replace(readings["body-height", None], value=height)
        visits.append(replace(FIRST, examined_on=date(2025, month, 3), readings=readings))
    material = Material(SECOND, assess(SECOND, CATALOGUE), CATALOGUE, "en", visits[::-1])
    table = growth(material)[1]
    first = table.rows[0]  # type: ignore[union-attr]
    told = ["".join(span[0] for span in cell[0].spans) for cell in first.cells[1:-1]]  # type: ignore[union-attr]
    assert told == ["141 cm", "146 cm", "147 cm", "148 cm", "151.4 cm"]


def material(**readings: object) -> Material:
    made = b.examination(dict([b.entry(*one) for one in readings.values()]))  # type: ignore[misc]
    return Material(made, b.assessment(), b.CATALOGUE, "en")


def test_marked_places_are_drawn_on_the_foot_of_their_side_and_only_on_views_that_hold_some() -> (
    None
):
    made = material(a=("tenderness", RegionValues({"arch-central": b.Decimal(6)}), Side.LEFT))
    table = maps(made)[1]
    (row,) = table.rows  # type: ignore[union-attr]
    label, left, right = row.cells
    assert label[0].spans[0][0] == "Tenderness"  # type: ignore[union-attr]
    numbers = [
        [shape.text for shape in cell[0].drawing.shapes if isinstance(shape, Text)]  # type: ignore[union-attr]
        for cell in (left, right)
    ]
    assert numbers == [["6"], []]
    width = view_of("plantar", Side.LEFT).width * SIZE
    assert left[0].drawing.width == width  # type: ignore[union-attr]
    assert right[1].spans[0][0] == "no entry"  # type: ignore[union-attr]


def test_without_marked_places_there_is_no_map() -> None:
    assert maps(material(a=("fpi-arch", Numbers((b.Decimal(1),)), Side.LEFT))) == []
    assert maps(material(a=("complaint-site", Words(()), Side.LEFT))) == []


def grey(chosen: tuple[str, ...], values: dict[str, str]) -> np.ndarray:
    """The sole drawn as the report draws it, printed without colour; 0 black, 1 white."""
    sheet = Sheet(PAPERS["A4"], Typeset(assets_dir() / "fonts"))
    sheet.add([Picture(scaled(map_drawing(Side.LEFT, "plantar", chosen, values), SIZE, 6.0))])
    return np.asarray(picture(pdf_bytes(sheet, "map", "en"), scale=6.0), dtype=float) / 255


def test_without_colour_a_complaint_a_tender_place_and_none_are_told_apart() -> None:
    place = "heel-plantar-central"
    patch = next(p for p in view_of("plantar", Side.LEFT).patches if p.region == place)
    xs, ys = zip(*((x * SIZE + 48.0, y * SIZE + 41.2) for x, y in patch.points), strict=True)
    window = np.s_[round(min(ys) * 6) : round(max(ys) * 6), round(min(xs) * 6) : round(max(xs) * 6)]
    bare, hurt, tender, none = (
        grey(*case)[window]
        for case in (((), {}), ((place,), {}), ((), {place: "7"}), ((), {place: "0"}))
    )
    inks = [float((1 - image).mean()) for image in (bare, none, hurt, tender)]
    assert inks == sorted(inks)
    for one, other in pairwise(inks):
        assert other > 1.1 * one
    lines = (hurt < 0.6) != (tender < 0.6)
    assert lines.mean() > 0.05


def test_the_map_has_no_lines_of_colour_alone() -> None:
    shapes = map_drawing(Side.LEFT, "plantar", ("heel-plantar-central",)).shapes
    marked = [s for s in shapes if isinstance(s, Polygon) and s.fill == "accent"]
    assert all(shape.stroke == "ink" for shape in marked)


def test_the_values_of_steep_growth_stand_clear_of_the_line_and_of_one_another() -> None:
    visits = []
    for month, height in enumerate((120, 149, 121, 150), 1):
        readings = dict(FIRST.readings)
        number = b.numbers(str(height))
        readings["body-height", None] = replace(readings["body-height", None], value=number)
        visits.append(replace(FIRST, examined_on=date(2025, month, 3), readings=readings))
    material = Material(SECOND, assess(SECOND, CATALOGUE), CATALOGUE, "en", visits)
    typeset = Typeset(assets_dir() / "fonts")
    sheet = Sheet(PAPERS["A4"], typeset)
    sheet.add(growth(material))
    for shapes in sheet.pages:
        told = [text_box(one, typeset) for one in shapes if isinstance(one, Drawn)]
        figures = [box for one in shapes for box in figure_boxes(one)]
        for place, box in enumerate(told):
            for other in (*told[place + 1 :], *figures):
                assert not box.meets(other), (box, other)
