"""Typing from a paper form afterwards: when the readings were taken is kept beside each."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from PySide6.QtCore import Qt

from footexam.desktop.late import taken_at
from footexam.terms import Side
from tests.desktop.user import User

SHIFT = Qt.KeyboardModifier.ShiftModifier
DAY = date(2026, 11, 28)
NOW = datetime(2026, 11, 29, 9, 0, tzinfo=timezone(timedelta(hours=1)))


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("14:30", "2026-11-28T13:30:00Z"),
        (" 8.05 ", "2026-11-28T07:05:00Z"),
        ("2026-11-29 08:59", "2026-11-29T07:59:00Z"),
        ("2026-11-29 09:01", None),
        ("25:00", None),
        ("2026-02-30 10:00", None),
        ("yesterday", None),
        ("", None),
        ("٨:٠٥", None),
    ],
)
def test_a_time_that_has_passed(typed: str, kept: str | None) -> None:
    assert taken_at(typed, DAY, NOW) == kept


@pytest.mark.usefixtures("visit")
def test_readings_from_paper_carry_their_time_until_it_is_ended(user: User) -> None:
    user.goes_to("lunge-distance", Side.LEFT).presses(Qt.Key.Key_F4, SHIFT)
    assert "When were the readings taken" in user.place
    user.enters("soon")
    assert "soon" in user.window.remark.text()
    user.types("").presses(Qt.Key.Key_Escape)
    user.goes_to("lunge-distance", Side.LEFT).presses(Qt.Key.Key_F4, SHIFT)
    user.enters("2026-01-05 10:15")
    banner = user.record.banner.words
    assert banner is not None
    assert "From paper, taken 05-Jan-2026" in banner.state
    user.goes_to("lunge-distance", Side.LEFT).enters("9")
    reading = user.reading("lunge-distance", Side.LEFT)
    assert reading is not None
    local = datetime(2026, 1, 5, 10, 15).astimezone().astimezone(UTC)
    assert reading.performed_at == f"{local:%Y-%m-%dT%H:%M:%S}Z"
    user.presses(Qt.Key.Key_F4, SHIFT).presses(Qt.Key.Key_Return)
    user.goes_to("lunge-distance", Side.RIGHT).enters("8")
    now = user.reading("lunge-distance", Side.RIGHT)
    assert now is not None
    assert now.performed_at is None
