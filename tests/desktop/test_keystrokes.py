"""How many keys the core examination takes, driven through the real widgets."""

import pytest
from PySide6.QtCore import Qt

from footexam.desktop.preview.making import Maker
from footexam.record.reading import Numbers, Word
from footexam.terms import Side
from tests.desktop.user import User

GOAL = 60
KEY_S, THINK_S = 0.28, 1.35
"""Operators of the keystroke-level model (Card, Moran and Newell 1980): K for a key of somebody
who types moderately well, M for making up one's mind, here once before each cell and each step.
"""

ALT, CONTROL = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier
LEFT, RIGHT = Side.LEFT, Side.RIGHT
LYING = {
    "ankle-dorsiflexion-knee-straight": ("9", "12"),
    "ankle-dorsiflexion-knee-bent": ("14", "17"),
    "first-ray-position": ("l", "d"),
    "hallux-dorsiflexion": ("52", "61"),
}


@pytest.mark.usefixtures("opened")
def test_core_examination(
    user: User, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """From the opened patient to the report being asked for, both feet."""
    asked: list[str] = []
    monkeypatch.setattr(Maker, "make", lambda _, wanted: asked.append(wanted.subject))
    user.keys = thoughts = 0
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    user.presses(Qt.Key.Key_5, ALT).types("211012").types("000101")
    thoughts += 2 + 12
    user.presses(Qt.Key.Key_4, ALT)
    thoughts += 1
    for measure, values in LYING.items():
        for side, value in zip(Side, values, strict=True):
            while not user.cell(measure, side).editor.focus_widget().hasFocus():
                user.presses(
                    Qt.Key.Key_Return
                )  # a measure that this finding brought onto the sheet
                thoughts += 1
                assert user.keys < 2 * GOAL
            user.types(value)
            if value.isdigit():
                user.presses(Qt.Key.Key_Return)
            thoughts += 1
    user.presses(Qt.Key.Key_P, CONTROL)
    thoughts += 1
    assert asked == [user.record.session.journal.subject]
    for measure, values in LYING.items():
        for side, typed in zip(Side, values, strict=True):
            reading = user.reading(measure, side)
            assert reading is not None
            if typed.isdigit():
                assert isinstance(reading.value, Numbers)
                assert str(reading.value.readings[0]) == typed
            else:
                assert isinstance(reading.value, Word)
                assert reading.value.word.startswith(typed)
    words = user.record.session.judge.score_words
    assert (words(("fpi-total", LEFT)), words(("fpi-total", RIGHT))) == ("+7 points", "+2 points")
    seconds = user.keys * KEY_S + thoughts * THINK_S
    with capsys.disabled():
        print(  # noqa: T201 - the figure is to be read
            f"\ncore examination: {user.keys} keys (goal {GOAL}); keystroke-level time "
            f"{seconds:.0f} s = {user.keys} K of {KEY_S} s + {thoughts} M of {THINK_S} s"
        )
    assert user.keys <= GOAL
