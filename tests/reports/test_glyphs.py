"""Every letter of every demo name is on paper as the font draws it: rendered and compared."""

import unicodedata
from functools import cache

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from footexam.demo import demo_files
from footexam.reports.blocks import Para
from footexam.reports.canvas import pdf_bytes
from footexam.reports.fonts import FAMILIES, Typeset, clusters
from footexam.reports.phrases import Phrases
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.text import Style
from footexam.reports.words import patient_name
from footexam.resources import assets_dir
from tests.reports.pages import picture
from tests.reports.test_demo_reports import examination

FOLDER = assets_dir() / "fonts"
SIZE, ZOOM = 40.0, 4.0
SIDE = 48


def names() -> list[str]:
    """The names of the demo as the report prints them, patients and examiners."""
    found: dict[str, None] = {}
    for path in demo_files():
        made = examination(path)
        found[patient_name(made.patient, Phrases("en"))] = None
        found[made.examiner.name] = None
    return list(found)


LETTERS = sorted({c for name in names() for c in clusters(name) if not c.isspace()})


def trimmed(image: Image.Image) -> np.ndarray:
    """The ink of a picture, cut out and brought to one size; 1 is black."""
    ink = 255 - np.asarray(image.convert("L"), dtype=np.uint8)
    rows, columns = np.where(ink > 100)
    assert rows.size, "nothing is drawn"
    cut = ink[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    small = Image.fromarray(cut).resize((SIDE, SIDE), Image.Resampling.BILINEAR)
    return np.asarray(small, dtype=float) / ink.max()  # the ink of the page is not quite black


@cache
def on_paper(letter: str) -> np.ndarray:
    """A letter as the PDF shows it, alone on a page."""
    typeset = Typeset(FOLDER)
    sheet = Sheet(PAPERS["A4"], typeset)
    sheet.add([Para(((letter, Style(SIZE, bold=True)),))])
    assert not typeset.coded
    return trimmed(picture(pdf_bytes(sheet, "letter", "en"), scale=ZOOM))


def by_font(letter: str) -> np.ndarray:
    """The letter drawn from the file of the first family that has it."""
    face = Typeset(FOLDER).runs(letter, bold=True)[0][0]
    font = ImageFont.truetype(str(FOLDER / f"{face}.ttf"), round(SIZE * ZOOM))
    image = Image.new("L", (600, 600), 255)
    ImageDraw.Draw(image).text((200, 200), letter, font=font, fill=0)
    return trimmed(image)


def likeness(one: np.ndarray, other: np.ndarray) -> float:
    """Shared ink over all ink."""
    return float(np.minimum(one, other).sum() / np.maximum(one, other).sum())


@pytest.mark.parametrize("letter", LETTERS, ids=lambda c: "-".join(map(unicodedata.name, c)))
def test_a_letter_of_a_demo_name_looks_as_its_font_draws_it(letter: str) -> None:
    assert likeness(on_paper(letter), by_font(letter)) > 0.85


def test_the_names_hold_letters_of_several_scripts() -> None:
    scripts = {unicodedata.name(letter[0]).split()[0] for letter in LETTERS}
    assert {"LATIN", "GREEK", "CYRILLIC"} <= scripts
    assert len(FAMILIES) > 1


def test_the_comparison_tells_letters_apart() -> None:
    assert likeness(on_paper("Ś"), by_font("S")) < 0.85
    assert likeness(on_paper("Ł"), by_font("L")) < 0.85
    assert likeness(on_paper("Ф"), by_font("O")) < 0.85
