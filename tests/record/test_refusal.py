"""The plain forms that every reader shares."""

import unicodedata
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.record.refusal import Refusal, as_typed, fold, in_digits, number, shape, text


@pytest.mark.parametrize(
    ("typed", "shown", "told"),
    [
        (None, "null", "null"),
        (True, "true", "true or false"),
        (False, "false", "true or false"),
        (7, "7", "a number"),
        (Decimal("1E+3"), "1000", "a number"),
        (Decimal("1E-7"), "0.0000001", "a number"),
        (Decimal("7.50"), "7.50", "a number"),
        ("7,5 cm", "7,5 cm", "a text"),
        ([9, "8 deg"], "9 8 deg", "a list"),
        ({"a": 1, "b": None}, "a: 1; b: null", "an object"),
    ],
)
def test_what_was_given_is_shown_and_named(typed: Any, shown: str, told: str) -> None:
    assert as_typed(typed) == shown
    assert shape(typed) == told


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (None, ""),
        ("0", "0"),
        ("-0", "0"),
        ("12.50", "12.5"),
        ("100", "100"),
        ("1E+3", "1000"),
        ("0.3333333333333333", "0.333333333"),
        ("123456789.4", "123456789"),
        ("-2.999999999999", "-3"),
    ],
)
def test_numbers_in_sentences(value: str | None, shown: str) -> None:
    assert in_digits(None if value is None else Decimal(value)) == shown


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        (3, 3),
        (Decimal("2.5"), Decimal("2.5")),
        (True, None),
        ("3", None),
        (None, None),
        ([3], None),
    ],
)
def test_a_number_is_an_int_or_a_decimal(typed: Any, value: Decimal | None) -> None:
    assert number(typed) == value


@pytest.mark.parametrize(
    ("typed", "word"),
    [
        ("Fat Pad", "fat-pad"),
        (" fat\u00a0pad ", "fat-pad"),
        ("fat-pad", "fat-pad"),
        ("fat\npad", "fat\npad"),
        ("fat_pad", "fat_pad"),
        ("", ""),
    ],
)
def test_words_fold(typed: str, word: str) -> None:
    assert fold(typed) == word


@given(st.text(st.characters(categories=["L", "M", "N", "P", "S"]), min_size=1, max_size=50))
def test_text_is_kept_in_nfc(typed: str) -> None:
    assert text(typed) == unicodedata.normalize("NFC", typed)
    assert text(text(typed)) == text(typed)


@given(
    st.text(min_size=1, max_size=20), st.sampled_from("\n\r\t\x00\x1b\x7f\x85\u2028\u2029\u202e")
)
def test_control_characters_are_refused_wherever_they_stand(typed: str, control: str) -> None:
    at = len(typed) // 2
    with pytest.raises(Refusal) as refused:
        text(typed[:at] + control + typed[at:])
    assert refused.value.code == "text-control"


def test_length_counts_after_composition() -> None:
    assert len(text("e\u0301" * 4000)) == 4000
    for typed in ("x" * 4001, "e\u0301" * 4001, "x" * 10**6):
        with pytest.raises(Refusal) as refused:
            text(typed)
        assert refused.value.code == "text-too-long"


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**30), max_value=10**30))
def test_shown_numbers_have_no_exponent(value: Decimal) -> None:
    assert set(as_typed(value)) <= set("-0123456789.")
    assert Decimal(as_typed(value)) == value
    assert set(in_digits(value)) <= set("-0123456789.")
    assert abs(Decimal(in_digits(value)) - value) <= abs(value) * Decimal("1e-8")
