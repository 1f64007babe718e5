"""Ages on the day of the examination."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.record.examination import Age, Examination, Patient, Person


def age(born: str | None, on: date) -> Age | None:
    return Examination(Patient("Quill", birth_date=born), on, Person("Ann")).age()


@pytest.mark.parametrize(
    ("born", "on", "years", "months"),
    [
        ("1979-08-30", date(2026, 3, 4), 46, 558),
        ("2020-03-04", date(2026, 3, 4), 6, 72),
        ("2020-03-05", date(2026, 3, 4), 5, 71),
        ("2026-03-04", date(2026, 3, 4), 0, 0),
        ("2026-01-31", date(2026, 2, 28), 0, 0),
        ("2026-01-31", date(2026, 3, 1), 0, 1),
        # born on 29 February: the birthday is 1 March in other years
        ("2008-02-29", date(2026, 2, 28), 17, 215),
        ("2008-02-29", date(2026, 3, 1), 18, 216),
        ("2008-02-29", date(2024, 2, 29), 16, 192),
    ],
)
def test_age(born: str, on: date, years: int, months: int) -> None:
    assert age(born, on) == Age(years, months)


@pytest.mark.parametrize("born", [None, "1979", "1979-08"])
def test_without_the_whole_birth_date_there_is_no_age(born: str | None) -> None:
    assert age(born, date(2026, 3, 4)) is None


def reference(birth: date, on: date) -> int:
    """Completed months, counted one by one."""
    months = 0
    while True:
        year, month = divmod(birth.year * 12 + birth.month - 1 + months + 1, 12)
        try:
            day = date(year, month + 1, birth.day)
        except ValueError:  # no such day: the first of the next month
            year, month = divmod(year * 12 + month + 1, 12)
            day = date(year, month + 1, 1)
        if day > on:
            return months
        months += 1


@given(st.dates(date(1980, 1, 1), date(2026, 1, 1)), st.integers(0, 9000))
def test_age_agrees_with_counting(birth: date, days: int) -> None:
    on = birth + timedelta(days)
    months = reference(birth, on)
    assert age(birth.isoformat(), on) == Age(months // 12, months)
