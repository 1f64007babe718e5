"""Names and numbers are found however they are typed."""

import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from footexam.store.folding import compact, fold, found_by, spellings


@pytest.mark.parametrize(
    ("written", "folded"),
    [
        ("Łódź", "lodz"),
        ("ÅNGSTRÖM", "angstrom"),
        ("Nguyễn Thị", "nguyen thi"),
        ("O’Neill", "oneill"),
        ("Smith-Jones", "smith jones"),
        ("  van  der Berg ", "van der berg"),
        ("Groß", "gross"),
        ("Þórður", "thordur"),
        ("Işık", "isik"),
        ("Đặng", "dang"),
        ("李 小龙", "李 小龙"),
        ("Ωμέγα", "ωμεγα"),
        ("", ""),
        ("--", ""),
    ],
)
def test_fold(written: str, folded: str) -> None:
    assert fold(written) == folded


@given(st.text(max_size=40))
@example("ℏ")
@example("ǿǽ")
@example("ŉ")
def test_folding_twice_changes_nothing_and_forms_of_unicode_do_not_matter(text: str) -> None:
    assert fold(fold(text)) == fold(text)
    assert fold(unicodedata.normalize("NFD", text)) == fold(unicodedata.normalize("NFC", text))


def test_umlauts_are_also_spelled_out() -> None:
    assert spellings("Müller") == ("muller", "mueller")
    assert spellings("Mu\u0308ller") == ("muller", "mueller")
    assert spellings("Miller") == ("miller",)


def test_compact() -> None:
    assert compact(" FT-00 12/3 ") == "ft00123"


def test_found_by_names() -> None:
    assert found_by("O'Neill-Müller", "Anna", "", "") == {
        *("oneill", "neill", "muller", "mueller", "anna"),
    }


def test_found_by_numbers_with_and_without_leading_zeros() -> None:
    assert found_by("", "", "FT-00123", "") == {"#ft00123", "#00123", "#123"}
    assert found_by("", "", "943 476 5919", "") == {"#9434765919", "#943", "#476", "#5919"}
    assert found_by("", "", "000", "") == {"#000"}


def test_found_by_birth_date() -> None:
    assert found_by("", "", "", "1979-08") == {"@1979-08"}
