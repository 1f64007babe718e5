"""Reports of whole examinations with the real forms: nothing overlaps, nothing is missing."""

from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from footexam.assessment import assess
from footexam.demo import demo_files, earlier
from footexam.drawing.shapes import Text
from footexam.exchange.examination import read_examination
from footexam.record.examination import Examination
from footexam.reports.examination import layout
from footexam.reports.fonts import Typeset
from footexam.reports.material import Material
from footexam.reports.phrases import Phrases
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.words import date_words, patient_name
from footexam.resources import assets_dir
from tests.reports.pages import Box, figure_boxes, text_box
from tests.shipped import shipped

CATALOGUE = shipped()
TODAY = date(2026, 12, 31)
FILES = demo_files()


@cache
def examination(path: Path) -> Examination:
    return read_examination(path.read_bytes(), CATALOGUE, TODAY, path.name).examination


def laid_out(path: Path, page: str = "A4") -> Sheet:
    made = examination(path)
    before = earlier(made, map(examination, FILES))
    assessment = assess(made, CATALOGUE, before[-1] if before else None)
    material = Material(made, assessment, CATALOGUE, "en", before)
    typeset = Typeset(assets_dir() / "fonts")
    return layout(material, PAPERS[page], typeset, "Clinic", invented=True)


def boxes(sheet: Sheet) -> Iterator[tuple[list[Box], list[Box]]]:
    """Texts and figures of each page, from top to bottom."""
    for shapes in sheet.pages:
        texts = [text_box(shape, sheet.typeset) for shape in shapes if isinstance(shape, Text)]
        figures = [box for shape in shapes for box in figure_boxes(shape)]
        yield texts, figures


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_text_leaves_the_page_or_meets_another(path: Path, page: str) -> None:
    sheet = laid_out(path, page)
    for texts, figures in boxes(sheet):
        for place, box in enumerate(texts):
            assert box.left >= sheet.paper.margin - 0.5
            assert box.right <= sheet.paper.width - sheet.paper.margin + 0.5
            assert sheet.paper.top - 1 <= box.top <= box.bottom <= sheet.paper.height - 12
            for other in (*texts[place + 1 :], *figures):
                assert not box.meets(other), (box, other)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_measure_recorded_is_named_and_every_character_has_a_shape(path: Path) -> None:
    sheet = laid_out(path)
    said = " ".join(
        shape.text for shapes in sheet.pages for shape in shapes if isinstance(shape, Text)
    )
    for measure, _ in examination(path).readings:
        assert CATALOGUE.measures[measure].label["en"] in said, measure
    assert not sheet.typeset.coded
    assert "[U+" not in said


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_identifiers_stand_on_every_page(path: Path) -> None:
    patient, phrases = examination(path).patient, Phrases("en")
    for shapes in laid_out(path).pages:
        foot = [shape.text for shape in shapes if isinstance(shape, Text) and shape.bold][-2]
        assert foot.startswith(patient_name(patient, phrases)[:20])
        assert date_words(patient.birth_date, phrases) in foot
        assert (patient.record_number or phrases("not-known")) in foot
