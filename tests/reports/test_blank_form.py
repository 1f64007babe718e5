"""The paper form: every measure has its place, both sides, and room for a pen; nothing overlaps."""

import pytest

from footexam.drawing.palette import ON_PAPER, Ink
from footexam.drawing.shapes import Circle, Line, Polygon, Rect, Text
from footexam.reports import pen
from footexam.reports.blank_form import blank_form, form_layout
from footexam.reports.fonts import Typeset
from footexam.reports.sheet import PAPERS, Sheet
from footexam.resources import assets_dir
from footexam.terms import Depth, Kind
from tests.reports.pages import figure_box, picture, text_box, texts, whole_text
from tests.shipped import shipped

CATALOGUE = shipped()
TYPESET = Typeset(assets_dir() / "fonts")
DEPTHS = ("core", "all")
PAGES = tuple(PAPERS)


def sheet(depth: str, page: str = "A4") -> Sheet:
    return form_layout(CATALOGUE, PAPERS[page], TYPESET, depth=depth, language="en")


@pytest.mark.parametrize("depth", DEPTHS)
def test_every_measure_of_the_depth_has_its_place_and_no_other(depth: str) -> None:
    said = whole_text(blank_form(CATALOGUE, depth=depth))
    for measure in CATALOGUE.measures.values():
        wanted = measure.depth is Depth.CORE or depth == "all"
        if measure.kind is not Kind.DERIVED and wanted:
            assert measure.label["en"] in said, measure.id
    absent = "Hypermobility score, nine points"
    assert (absent in said) is (depth == "all")


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("depth", DEPTHS)
def test_nothing_leaves_the_page_and_no_text_meets_another_or_a_line(depth: str, page: str) -> None:
    made = sheet(depth, page)
    paper = PAPERS[page]
    for shapes in made.pages:
        boxes = [text_box(shape, TYPESET) for shape in shapes if isinstance(shape, Text)]
        lines = [box for one in shapes if isinstance(one, Line) and (box := figure_box(one))]
        for place, box in enumerate(boxes):
            assert box.left >= paper.margin - 0.5, box
            assert box.right <= paper.width - paper.margin + 0.5, box
            assert paper.top - 1 <= box.top <= box.bottom <= paper.height - 12, box
            for other in (*boxes[place + 1 :], *lines):
                assert not box.overlaps(other), (box, other)


@pytest.mark.parametrize("depth", DEPTHS)
def test_who_it_is_when_it_was_done_and_which_page_stand_on_every_page(depth: str) -> None:
    pages = texts(blank_form(CATALOGUE, depth=depth))
    for number, text in enumerate(pages, 1):
        for label in (
            "Family name",
            "Given names",
            "Born (day, month, year)",
            "Record number",
            "Done on (date, time)",
            "Examined by (role)",
            f"page {number} of {len(pages)}",
            "does not diagnose",
        ):
            assert label in text, label
        for label in ("Family name", "Record number"):
            assert text.count(label) == 1


def test_absences_have_letters_and_room_and_signatures_a_line() -> None:
    said = whole_text(blank_form(CATALOGUE))
    for words in (
        "D declined, T could not be tested, N not examined, A not applicable, S not done",
        "Not done: letter, side, why",
        "Countersigned by, registration, date and time",
        "Entered into the program on, by",
    ):
        assert words in said


def test_scores_are_boxes_with_their_values_and_words_are_there_to_ring() -> None:
    pages = texts(blank_form(CATALOGUE))
    said = " ".join(" ".join(pages).split())
    assert said.count("−2 −1 0 +1 +2 −2 −1 0 +1 +2") == 6
    assert "0 1 2 3 4 5 6 7 8 9 10" in said
    assert "early usual late absent early usual late absent" in said
    assert "female male other" in said


def test_places_to_write_are_large_enough_for_a_pen() -> None:
    assert pen.ROW >= 22.6  # 8 mm
    assert pen.BOX >= 17.0  # 6 mm
    for shapes in sheet("core").pages:
        for shape in shapes:
            if isinstance(shape, Rect):
                assert min(shape.width, shape.height) >= 17.0
    drawn = pen.words(["usual", "late"], 200.0, TYPESET).shapes
    first, second = (text_box(shape, TYPESET) for shape in drawn if isinstance(shape, Text))
    assert second.left - first.right >= 14.0


@pytest.mark.parametrize("depth", DEPTHS)
def test_nothing_is_filled_with_grey(depth: str) -> None:
    white = ON_PAPER[Ink.SURFACE]
    for shapes in sheet(depth).pages:
        for shape in shapes:
            if isinstance(shape, Rect | Circle | Polygon) and shape.fill is not None:
                assert ON_PAPER[shape.fill] == white


def test_most_of_the_paper_is_white() -> None:
    page = picture(blank_form(CATALOGUE), 3, 1.0)
    dark = sum(page.histogram()[:128])
    assert dark < 0.05 * page.width * page.height


def test_both_maps_of_both_feet_are_on_the_core_form() -> None:
    pages = sheet("core").pages
    outlines = sum(
        isinstance(shape, Polygon) and shape.stroke is not None for page in pages for shape in page
    )
    assert outlines > 200
    assert sum(isinstance(shape, Text) and shape.text == "back" for p in pages for shape in p) == 4


def test_a_word_wider_than_its_room_is_set_smaller_not_over_its_neighbour() -> None:
    (text,) = pen.words(["non-weight-bearing, inclinometer"], 80.0, TYPESET).shapes
    assert isinstance(text, Text)
    assert text_box(text, TYPESET).right <= 80.01


def test_the_same_bytes_twice_and_other_arguments_are_refused() -> None:
    assert blank_form(CATALOGUE) == blank_form(CATALOGUE)
    with pytest.raises(ValueError, match="deep"):
        blank_form(CATALOGUE, depth="deep")
    with pytest.raises(KeyError):
        blank_form(CATALOGUE, page="A5")


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("depth", DEPTHS)
def test_the_page_of_the_signatures_is_filled_with_lines_for_remarks(depth: str, page: str) -> None:
    made, paper = sheet(depth, page), PAPERS[page]
    last = made.pages[-1]
    body = [
        box.bottom
        for shape in last
        if (box := text_box(shape, TYPESET) if isinstance(shape, Text) else figure_box(shape))
        and box.bottom < paper.height - paper.foot
    ]
    assert paper.height - paper.foot - max(body) < 1.5 * pen.ROW
    said = " ".join(shape.text for shape in last if isinstance(shape, Text))
    assert said.index("Remarks") < said.index("Signature, date and time")


def test_panels_come_in_the_order_of_the_positions_and_signatures_last() -> None:
    said = whole_text(blank_form(CATALOGUE, depth="all"))
    heads = [f"{panel.label['en']} {panel.position['en']}" for panel in CATALOGUE.panels.values()]
    places = [said.index(head) for head in [*heads, "Countersigned by"]]
    assert places == sorted(places)
