"""The danger questions at the keyboard: one key each, and no yes is taken away silently."""

import pytest
from PySide6.QtCore import Qt

from footexam.reasoning.dangers import is_danger
from footexam.terms import Depth, Side
from tests.desktop.user import User

ALT = Qt.KeyboardModifier.AltModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
LEFT, RIGHT = Side.LEFT, Side.RIGHT
WEIGHT = "caution-cannot-bear-weight"


def said(user: User, measure: str, side: Side | None) -> str | None:
    reading = user.reading(measure, side)
    return getattr(reading.value, "word", None) if reading is not None else None


def core_questions(user: User) -> list[str]:
    catalogue = user.record.session.catalogue
    return [
        name
        for name in catalogue.panels["cautions"].measures
        if is_danger(name, catalogue) and catalogue.measures[name].depth is Depth.CORE
    ]


@pytest.mark.usefixtures("visit")
def test_twelve_keys_answer_the_twelve_questions_for_both_sides(user: User) -> None:
    user.presses(Qt.Key.Key_2, ALT)
    questions = core_questions(user)
    assert len(questions) == 12
    for name in questions:
        assert user.cell(name, LEFT if user.cell_sided(name) else None).editor.isAncestorOf(user.at)
        user.types("n")
    for name in questions:
        for side in (LEFT, RIGHT) if user.cell_sided(name) else (None,):
            assert said(user, name, side) == "no", (name, side)


@pytest.mark.usefixtures("visit")
def test_a_yes_is_of_one_side_and_the_other_is_asked(user: User) -> None:
    user.presses(Qt.Key.Key_2, ALT).types("y")
    assert said(user, WEIGHT, LEFT) == "yes"
    assert user.reading(WEIGHT, RIGHT) is None
    assert "right" in user.place
    user.types("n")
    assert said(user, WEIGHT, RIGHT) == "no"


@pytest.mark.usefixtures("visit")
def test_a_no_on_the_left_leaves_an_answer_of_the_right_alone(user: User) -> None:
    user.goes_to(WEIGHT, RIGHT).types("y")
    user.goes_to(WEIGHT, LEFT).types("n")
    assert (said(user, WEIGHT, LEFT), said(user, WEIGHT, RIGHT)) == ("no", "yes")


@pytest.mark.usefixtures("visit")
@pytest.mark.parametrize("way", ["n", "undo", "F8", "Backspace"])
def test_a_yes_goes_only_with_a_reason(user: User, way: str) -> None:
    user.goes_to(WEIGHT, LEFT).types("y").goes_to(WEIGHT, LEFT)
    take_back(user, way)
    assert said(user, WEIGHT, LEFT) == "yes"
    assert "Why is it taken back?" in user.place
    user.presses(Qt.Key.Key_Return)  # nothing is no reason
    assert said(user, WEIGHT, LEFT) == "yes"
    user.presses(Qt.Key.Key_Escape)
    assert said(user, WEIGHT, LEFT) == "yes"
    user.goes_to(WEIGHT, LEFT)
    take_back(user, way)
    user.enters("the other patient was meant")
    assert said(user, WEIGHT, LEFT) != "yes"
    (gone,) = user.record.session.examination.withdrawn
    assert (gone.measure, gone.side, gone.by) == (WEIGHT, LEFT, "R. Lind")
    assert gone.reason == "the other patient was meant"


def take_back(user: User, way: str) -> None:
    if way == "undo":
        user.presses(Qt.Key.Key_Z, CONTROL)
    elif way == "F8":
        user.presses(Qt.Key.Key_F8)
    elif way == "Backspace":
        user.presses(Qt.Key.Key_Backspace).presses(Qt.Key.Key_Tab)
    else:
        user.types(way)
