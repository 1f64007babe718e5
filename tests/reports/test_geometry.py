"""Nothing is clipped and nothing overlaps, on A4 and Letter, whatever the record holds."""

import pytest

from footexam.drawing.shapes import Text
from footexam.reports.examination import examination_report, layout
from footexam.reports.fonts import Typeset
from footexam.reports.material import Material
from footexam.reports.sheet import PAPERS, Sheet
from footexam.resources import assets_dir
from tests.reports import builders as b
from tests.reports.hostile import hostile_examination
from tests.reports.pages import figure_box, ink_boxes, text_box

CASES = {
    "rich": (b.rich_examination(), b.rich_assessment()),
    "sparse": (b.sparse_examination(), b.assessment()),
    "empty": (b.examination(), b.assessment()),
    "hostile": (hostile_examination(), b.rich_assessment()),
}


def laid_out(case: str, page: str) -> Sheet:
    examination, assessment = CASES[case]
    typeset = Typeset(assets_dir() / "fonts")
    material = Material(examination, assessment, b.CATALOGUE, "en")
    return layout(material, PAPERS[page], typeset, "Harrow Quay Clinic", invented=True)


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("case", list(CASES))
def test_drawn_text_lies_inside_the_margins_and_overlaps_nowhere(case: str, page: str) -> None:
    examination, assessment = CASES[case]
    data = examination_report(
        examination, assessment, b.CATALOGUE, page=page, practice="Clinic", invented=True
    )
    paper = PAPERS[page]
    for boxes in ink_boxes(data):
        assert boxes
        for box in boxes:
            assert box.left >= paper.margin - 1.0, box
            assert box.right <= paper.width - paper.margin + 1.0, box
            assert box.top >= paper.top - 2.0, box
            assert box.bottom <= paper.height - 12.0, box
        for place, box in enumerate(boxes):
            for other in boxes[place + 1 :]:
                assert not box.overlaps(other), (box, other)


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("case", list(CASES))
def test_placed_texts_and_figures_overlap_nowhere(case: str, page: str) -> None:
    sheet = laid_out(case, page)
    for shapes in sheet.pages:
        texts = [text_box(shape, sheet.typeset) for shape in shapes if isinstance(shape, Text)]
        figures = [box for shape in shapes if (box := figure_box(shape))]
        for place, box in enumerate(texts):
            for other in (*texts[place + 1 :], *figures):
                assert not box.meets(other), (box, other)


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("case", list(CASES))
def test_the_body_keeps_clear_of_the_footer(case: str, page: str) -> None:
    sheet = laid_out(case, page)
    bottom = sheet.paper.height - sheet.paper.foot
    for shapes in sheet.pages:
        below = [shape for shape in shapes if isinstance(shape, Text) and shape.y > bottom]
        # name and identifiers, page, status, use, invented
        assert len(below) == 5
        figures = [box for shape in shapes if (box := figure_box(shape))]
        assert sum(box.bottom > bottom + 0.5 for box in figures) == 1


def test_the_check_sees_an_overlap() -> None:
    sheet = laid_out("rich", "A4")
    first = next(shape for shape in sheet.pages[0] if isinstance(shape, Text))
    twice = [text_box(first, sheet.typeset)] * 2
    assert twice[0].overlaps(twice[1])
