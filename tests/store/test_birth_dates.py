"""Birth dates as a clinic types them."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.store.birth_dates import birth_dates, eight_digits

DAY = ("1979-08-30",)


@pytest.mark.parametrize(
    "typed",
    [
        *("1979-08-30", "1979-8-30", "1979/08/30", "1979.08.30"),
        *("30.8.1979", "30.08.1979", "30/08/1979", "30-08-1979", "30 8 1979"),
        *("30-aug-1979", "30 aug 1979", "30 august 1979", "30aug1979", "30. aug. 1979"),
        *("aug 30, 1979", "august 30 1979", "aug-30-1979"),
        "08/30/1979",
    ],
)
def test_whole_dates(typed: str) -> None:
    assert birth_dates(typed) == (DAY, "")


def test_the_day_stands_first_where_both_are_possible() -> None:
    assert birth_dates("03/04/1979") == (("1979-04-03",), "")


def test_two_digits_of_a_year_mean_either_century() -> None:
    assert birth_dates("30.8.79") == (("2079-08-30", "1979-08-30"), "")
    assert birth_dates("29.2.00") == (("2000-02-29",), "")


def test_year_and_month() -> None:
    assert birth_dates("1979-08") == (("1979-08",), "")


@pytest.mark.parametrize(
    "typed",
    [
        *("", "smith", "30.13.1979", "31.2.1979", "1979-13", "1979-02-30", "30 xyz 1979"),
        *("30.8.19795", "130.8.1979", "1.2.3", "943 476 5919", "a30.8.1979", "30.8.1979b"),
    ],
)
def test_what_is_no_date(typed: str) -> None:
    assert birth_dates(typed) == ((), typed)


def test_the_rest_of_the_search_is_kept() -> None:
    assert birth_dates("mul 30.8.1979 anna") == (DAY, "mul anna")


def test_eight_digits() -> None:
    assert eight_digits("30081979") == DAY
    assert eight_digits("19790830") == DAY
    assert eight_digits("20101120") == ("2010-11-20",)
    assert eight_digits("99999999") == ()
    assert eight_digits("123") == ()


@given(st.dates(date(1900, 1, 1), date(2026, 1, 1)))
def test_every_day_is_read_in_every_form(day: date) -> None:
    iso = (day.isoformat(),)
    for form in ("%Y-%m-%d", "%d.%m.%Y", "%d/%m/%Y", "%d-%m-%Y", "%d %m %Y"):
        assert birth_dates(day.strftime(form)) == (iso, "")
    month = day.strftime("%b").lower()
    assert birth_dates(f"{day.day}-{month}-{day.year}") == (iso, "")
