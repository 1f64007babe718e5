"""No key and no click gets past a caution: it stands until somebody says what was done."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence

from footexam.desktop.desk import Desk
from footexam.desktop.keys import KEYS, Key
from footexam.desktop.session import Session
from footexam.desktop.window import Window
from footexam.reasoning.dangers import is_danger
from footexam.record.withdrawn import said_yes
from footexam.terms import Side
from tests.desktop.test_random_walk import AVOIDED, Chance
from tests.desktop.user import User

ALT = Qt.KeyboardModifier.AltModifier
COLD = "caution-cold-pale-foot"
STEPS = 500


def cold_foot(user: User) -> None:
    """A suddenly cold left foot: an emergency that holds back everything."""
    user.presses(Qt.Key.Key_2, ALT).goes_to(COLD, Side.LEFT).types("y")


@pytest.mark.usefixtures("visit")
@pytest.mark.parametrize(
    "key", [key for key in KEYS if key.action not in AVOIDED], ids=lambda key: key.name
)
def test_no_key_clears_a_caution(window: Window, user: User, key: Key) -> None:
    cold_foot(user)
    session = user.record.session
    for combination in key.keys:
        pressed = QKeySequence(combination)[0]
        user.presses(pressed.key(), pressed.keyboardModifiers())
        for answer in (Qt.Key.Key_Return, Qt.Key.Key_A, Qt.Key.Key_Return, Qt.Key.Key_Escape):
            user.presses(answer)
    assert said_yes(session.examination.reading(COLD, Side.LEFT)) or reasoned(session)
    undecided = [one for one in session.assessment.cautions if one.id == "acute-limb-ischaemia"]
    assert undecided or reasoned(session)
    assert window.record is None or session.assessment.held_by or reasoned(session)


def reasoned(session: Session) -> bool:
    """Whether what was a danger was taken back or decided about in somebody's words."""
    gone = [one for one in session.examination.withdrawn if one.measure == COLD]
    made = session.examination.decisions["cautions"].get("acute-limb-ischaemia")
    named = made if isinstance(made, list) else [made] if made else []
    return any(one.reason.strip() and one.by for one in gone) or any(
        one["done"].strip() and one["by"] and one["at"] for one in named
    )


@pytest.mark.parametrize("seed", [11, 12])
@pytest.mark.usefixtures("at_once")
def test_no_walk_clears_a_caution_without_words(
    window: Window, desk: Desk, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(desk, "keep", desk.keep)
    walker = Chance(window, desk, seed)
    user = User(window)
    user.types("quist").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Return)
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    cold_foot(user)
    said: set[tuple[str, Side | None]] = set()
    session = user.record.session
    for _ in range(STEPS):
        walker.step()
        if (
            window.record is None
            or window.record.session.journal.subject != session.journal.subject
        ):
            continue
        session = window.record.session
        said |= yes_answers(session)
        gone = said - yes_answers(session)
        taken_back = {
            (one.measure, one.side)
            for one in session.examination.withdrawn
            if one.reason.strip() and one.by
        }
        assert gone <= taken_back, walker.done[-6:]
        for made in session.examination.decisions["cautions"].values():
            for one in made if isinstance(made, list) else [made]:
                assert all(one[part].strip() for part in ("by", "done", "at")), walker.done[-6:]
    assert (COLD, Side.LEFT) in said


def yes_answers(session: Session) -> set[tuple[str, Side | None]]:
    """The danger questions that hold a yes now."""
    return {
        key
        for key, reading in session.examination.readings.items()
        if said_yes(reading) and is_danger(key[0], session.catalogue)
    }
