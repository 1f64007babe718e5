"""Every glyph is there or its code point is; nothing is lost silently."""

import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from footexam.reports.fonts import Typeset, clusters, load_faces
from footexam.resources import assets_dir

FONTS = assets_dir() / "fonts"
ROOT = Path(__file__).parents[2]
NAMES = (
    "Łódź",
    "Nguyễn Đặng Thị",
    "Ελένη",
    "Жанна",
    "Ağaoğlu",
    "O’Connor-Muñoz",
    "Ðorđević",
    "Þór",
)
CMAPS = {path.stem: TTFont(path).getBestCmap() for path in FONTS.glob("*.ttf")}


@pytest.fixture
def typeset() -> Typeset:
    return Typeset(FONTS)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_every_glyph_of_a_name_is_in_the_font_it_is_drawn_in(
    typeset: Typeset, name: str, bold: bool
) -> None:
    shown = typeset.shown(name.upper() + name)
    runs = typeset.runs(shown, bold)
    assert "".join(text for _, text in runs) == name.upper() + name
    for font, text in runs:
        assert all(ord(char) in CMAPS[font] for char in text)
    assert not typeset.coded


def test_the_second_family_stands_in_only_where_the_first_lacks_a_letter(typeset: Typeset) -> None:
    runs = typeset.runs(typeset.shown("Ελένη and Łódź"))
    assert {font for font, _ in runs} == {"AtkinsonHyperlegibleNext-Regular", "NotoSans-Regular"}
    assert runs[-1][1].endswith("and Łódź")


def test_a_letter_no_family_has_is_printed_as_its_code_point(typeset: Typeset) -> None:
    assert typeset.shown("李 Smith") == "[U+674E] Smith"
    assert typeset.coded == {"李"}


@pytest.mark.parametrize(
    "mark", ["\u200f", "\u202e", "\u200b", "\u00ad", "\t", "\u2028", "\ufeff", "\uffff"]
)
def test_a_mark_without_a_shape_is_made_visible(typeset: Typeset, mark: str) -> None:
    assert typeset.shown(f"a{mark}b") == f"a[U+{ord(mark):04X}]b"
    assert typeset.coded == {mark}


def test_a_combining_mark_stays_with_its_letter(typeset: Typeset) -> None:
    # q with a dot below and an acute has no letter of its own
    text = "q\u0323\u0301x"
    assert list(clusters(text)) == ["q\u0323\u0301", "x"]
    runs = typeset.runs(typeset.shown(text))
    assert any("q\u0323\u0301" in part for _, part in runs)


@given(st.text(max_size=40))
def test_clusters_hold_the_text_and_begin_with_no_mark_but_the_first(text: str) -> None:
    parts = list(clusters(text))
    assert "".join(parts) == text
    assert not any(unicodedata.combining(part[0]) for part in parts[1:])


@given(st.text(max_size=40))
def test_what_is_shown_can_be_drawn_and_measured(text: str) -> None:
    typeset = Typeset(FONTS)
    shown = typeset.shown(text)
    for font, part in typeset.runs(shown):
        assert all(ord(char) in CMAPS[font] for char in part)
    assert typeset.width(shown, 10.0) >= 0.0
    assert set(shown) - set(text) <= set("[U+]0123456789ABCDEF")


def test_widths_are_those_of_the_font_file(typeset: Typeset) -> None:
    font = TTFont(FONTS / "AtkinsonHyperlegibleNext-Regular.ttf")
    units = font["head"].unitsPerEm
    advance = sum(
        font["hmtx"][CMAPS["AtkinsonHyperlegibleNext-Regular"][ord(c)]][0] for c in "Foot"
    )
    assert typeset.width("Foot", 10.0) == pytest.approx(advance * 10 / units, rel=0.002)


def test_faces_are_read_once(tmp_path: Path) -> None:
    assert load_faces(FONTS) is load_faces(FONTS)
    with pytest.raises(OSError, match="Atkinson"):
        load_faces(tmp_path)


def test_words_and_findings_cost_no_import_of_reportlab() -> None:
    modules = "words, values, ranges, sureness, material, readings, cautions, sheet"
    code = f"import sys; from footexam.reports import {modules}; print('reportlab' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"


def test_a_letter_and_its_mark_that_share_no_family_are_each_drawn_in_their_own(
    typeset: Typeset,
) -> None:
    # the circled letter is in the symbols only, the mark is not
    text = "\u24c6\u0309"
    runs = typeset.runs(typeset.shown(text))
    assert "".join(part for _, part in runs) == text
    assert len({font for font, _ in runs}) == 2
    assert not typeset.coded
