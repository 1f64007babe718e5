"""Every hypothesis of forms/ can be drawn whole, with every row at once, on every paper."""

import pytest

from footexam.catalogue.arguments import Hypothesis
from footexam.drawing.argument import argument_drawing
from footexam.drawing.shapes import Text
from footexam.reasoning.argue import Argument, Weighed, full_points
from footexam.reports.argued import chain_of
from footexam.reports.arguments import HIGHEST, WIDTH
from footexam.reports.fonts import Typeset
from footexam.reports.material import Material
from footexam.reports.phrases import PHRASES
from footexam.reports.sheet import PAPERS
from footexam.resources import assets_dir
from tests.reports import builders as b
from tests.reports.pages import figure_boxes, text_box
from tests.shipped import shipped

CATALOGUE = shipped()
TYPESET = Typeset(assets_dir() / "fonts")
EVERY = list(CATALOGUE.hypotheses.values())
NARROW = 300.0


def at_once(made: Hypothesis) -> Argument:
    """All rows speaking, each with its whole weight, and all its tests not examined."""
    rows = [
        tuple(Weighed(row, (), full_points(row), full_points(row)) for row in part)
        for part in ((*made.require, *made.support), made.against)
    ]
    return Argument(made, b.LEFT, 0.0, rows[0], rows[1], (), made.tests)


def test_there_are_hypotheses() -> None:
    assert len(EVERY) >= 50


@pytest.mark.parametrize("made", EVERY, ids=lambda one: one.id)
@pytest.mark.parametrize("width", [WIDTH, NARROW])
def test_a_hypothesis_is_drawn_whole_without_overlap(made: Hypothesis, width: float) -> None:
    material = Material(b.examination(), b.assessment(), CATALOGUE, "en")
    drawing = argument_drawing(chain_of(at_once(made), material), width, TYPESET.width)
    words = [text_box(shape, TYPESET) for shape in drawing.shapes if isinstance(shape, Text)]
    figures = [box for shape in drawing.shapes for box in figure_boxes(shape)]
    for place, box in enumerate(words):
        assert box.left >= 0.0
        assert box.right <= width
        for other in (*words[place + 1 :], *figures):
            assert not box.meets(other), (box, other)
    told = " ".join(" ".join(box.what for box in words).split())
    for text in (made.statement, made.mechanism, made.tissue, made.counter):
        assert " ".join(text["en"].split()) in told
    for row in (*made.require, *made.support, *made.against):
        assert " ".join(row.says["en"].split()) in told
    if width == WIDTH:
        assert drawing.height <= HIGHEST


def test_the_highest_drawing_fits_every_paper_under_its_heading() -> None:
    for paper in PAPERS.values():
        assert paper.height - paper.top - paper.foot >= HIGHEST + 60.0
        assert paper.width - 2 * paper.margin >= WIDTH


def test_every_hold_grade_and_tier_has_its_words() -> None:
    holds = {f"hold-{one}" for sign in CATALOGUE.cautions.values() for one in sign.holds}
    tiers = {
        f"tier-{branch.tier}" for sign in CATALOGUE.cautions.values() for branch in sign.branches
    }
    grades = {
        f"grade-{grade}" for one in EVERY for grade in (one.grade_mechanics, one.grade_injury)
    }
    assert holds | tiers | grades <= set(PHRASES)
    assert holds
    assert tiers
