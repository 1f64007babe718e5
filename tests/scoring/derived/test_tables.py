"""Dates of tables that are known only in part."""

from datetime import date
from decimal import Decimal

import pytest

from footexam.scoring.derived.tables import last_day
from tests.scoring.builders import TODAY


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-03-04", TODAY),
        ("2026-02-03", date(2026, 2, 3)),
        ("2025-02", date(2025, 2, 28)),
        ("2025-12", date(2025, 12, 31)),
        ("2024", date(2024, 12, 31)),
        ("2026-03", TODAY),
        ("2026", TODAY),
        ("2026-03-05", None),
        ("2027", None),
        ("2026-02-30", None),
        ("spring", None),
        ("2026-01-01-01", None),
        (Decimal(2024), None),
        (None, None),
    ],
)
def test_last_day_that_a_date_may_mean(text: object, day: date | None) -> None:
    assert last_day(text, TODAY) == day
