"""What people type is printed as typed: markup, long words, long texts, marks and other scripts."""

import pytest

from footexam.record.examination import Patient
from footexam.record.naming import listed_name
from footexam.record.reading import Text
from footexam.reports.examination import examination_report
from tests.reports import builders as b
from tests.reports.hostile import (
    FOUR_THOUSAND,
    LONG_WORD,
    MARKS,
    MARKUP,
    SCRIPTS,
    hostile_examination,
)
from tests.reports.pages import texts, whole_text

NAMES = (
    ("Łódź", "Józef"),
    ("Nguyễn", "Đặng Thị"),
    ("Παπαδοπούλου", "Ελένη"),
    ("Щербакова", "Жанна"),
    ("Ağaoğlu", "Gülşah İpek"),
    ("O’Brien-Þórðarson", "Søren Ægir"),
)


def squeezed(text: str) -> str:
    """Text without spaces and line ends, since lines break anywhere in a long word."""
    return "".join(text.split())


def said(text: str) -> str:
    made = b.examination(dict([b.entry("impression", Text(text))]))
    return " ".join(texts(examination_report(made, b.assessment(), b.CATALOGUE)))


@pytest.mark.parametrize(("family", "given"), NAMES)
def test_names_are_printed_with_every_letter(family: str, given: str) -> None:
    made = b.sparse_examination(patient=Patient(family, given, "Ms", "HL-1", "1981-03-14"))
    for page in texts(examination_report(made, b.assessment(), b.CATALOGUE)):
        assert f"{listed_name(family)}, {given} (Ms)" in page
        assert "U+" not in page


@pytest.mark.parametrize("text", [MARKUP, "a < b > c & d", "<br/>", "&nbsp;", "  two  spaces"])
def test_markup_is_printed_as_typed(text: str) -> None:
    assert squeezed(text) in squeezed(said(text))


def test_a_very_long_word_is_broken_and_whole() -> None:
    assert squeezed(said(LONG_WORD)).count(LONG_WORD) == 2


def test_four_thousand_characters_flow_over_pages_and_are_whole_once() -> None:
    made = b.examination(dict([b.entry("complaint", Text(FOUR_THOUSAND))]))
    pages = texts(examination_report(made, b.assessment(), b.CATALOGUE))
    foot = "OKONJO, Adaeze (Ms) Born"
    joined = squeezed("".join(page[: page.rfind(foot)] for page in pages))
    # the table's heading is repeated where the text goes on to the next page
    assert squeezed(FOUR_THOUSAND) in joined.replace("MeasureAnswer", "")
    assert "(whole text under “History”)" in pages[0]


def test_marks_of_direction_are_made_visible_and_listed() -> None:
    text = said(MARKS)
    assert "left[U+200E]right[U+200F]over[U+202E]ride" in text
    assert "Characters printed by their code" in text
    for name in ("LEFT-TO-RIGHT MARK", "RIGHT-TO-LEFT MARK", "RIGHT-TO-LEFT OVERRIDE"):
        assert name in " ".join(text.split())


def test_letters_of_other_scripts_stand_by_their_code_and_are_listed() -> None:
    text = said(SCRIPTS)
    assert "[U+674E][U+5C0F][U+9F8D]" in text
    assert "[U+05E9]" in text
    assert "U+0645 ARABIC LETTER MEEM" in " ".join(text.split())


def test_where_all_characters_have_a_shape_nothing_is_listed() -> None:
    assert "Characters printed" not in said("Łódź")


def test_a_hostile_record_prints_whole() -> None:
    data = examination_report(hostile_examination(), b.rich_assessment(), b.CATALOGUE)
    text = squeezed(" ".join(texts(data)))
    for typed in (MARKUP, LONG_WORD, LONG_WORD * 3):
        assert squeezed(typed) in text
    assert squeezed(f"{LONG_WORD.upper()},{MARKUP}({MARKUP})") in text


def test_identifiers_too_long_for_the_footer_are_shortened_visibly_and_whole_on_page_one() -> None:
    pages = texts(examination_report(hostile_examination(), b.rich_assessment(), b.CATALOGUE))
    for page in pages:
        foot = page[page.rfind("Born 14-Mar-1981") :]
        assert "Born 14-Mar-1981 Record number Donaudampf" in foot
        assert "…" in foot
        assert f"of {len(pages)}" in foot
    assert LONG_WORD.upper() in squeezed(pages[0])
    assert LONG_WORD in squeezed(pages[0])


def test_text_is_never_a_phrase_with_parts() -> None:
    assert "{asked} of {all}" in said("{asked} of {all}")
    assert "12 of" not in whole_text(
        examination_report(
            b.examination(dict([b.entry("impression", Text("{all}"))])),
            b.assessment(),
            b.CATALOGUE,
        )
    )
