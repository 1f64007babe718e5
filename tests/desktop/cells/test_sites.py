"""A yes counts at once, its places follow; without a place that is said."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QWidget

from footexam.record.reading import Sites
from footexam.terms import Side
from tests.desktop.cells.driving import Desk, Open, click, press

NAME = "caution-focal-bone-tenderness"


@pytest.fixture
def desk(open_cell: Open) -> Desk:
    return open_cell(NAME, Side.LEFT)


def test_no_is_taken_over_and_goes_on(desk: Desk) -> None:
    press("n")
    assert desk.value() == Sites("no")
    assert desk.steps == [1]
    assert not desk.editor.chooser.isVisible()


def test_yes_is_taken_over_at_once_and_its_places_unfold(desk: Desk) -> None:
    press("y")
    assert desk.value() == Sites("yes")
    assert desk.steps == []
    assert desk.editor.chooser.is_open
    assert desk.editor.chooser.line.hasFocus()


def test_a_yes_without_a_place_is_kept_and_said_to_count_as_the_most_serious(desk: Desk) -> None:
    press("y", "Enter")
    assert desk.steps == [1]
    assert desk.value() == Sites("yes")
    assert "most serious" in desk.editor.note.text()
    assert "most serious" in desk.editor.answer.accessibleDescription()
    assert desk.entries() == 1


def test_places_follow_the_yes_and_the_note_goes(desk: Desk) -> None:
    press("y", "nav", "Enter", "met head 2", "Enter", "Enter")
    assert desk.value() == Sites("yes", ("navicular", "met-head-2"))
    assert desk.editor.note.text() == ""
    assert desk.steps == [1]


def test_tab_goes_from_the_answer_to_its_places_and_back(desk: Desk) -> None:
    press("y", "nav", "Enter", "Tab")
    desk.enter()
    assert desk.editor.answer.hasFocus()
    press("Tab")
    assert desk.editor.chooser.line.hasFocus()
    press("Shift+Tab")
    assert desk.editor.answer.hasFocus()
    press("Shift+Tab")
    assert desk.steps == [1, -1]
    assert desk.entries() == 2


def test_enter_on_an_answered_yes_leaves(desk: Desk) -> None:
    press("y", "Enter")
    desk.enter()
    press("Enter")
    assert desk.steps == [1, 1]


def test_a_no_after_a_yes_drops_its_places(desk: Desk) -> None:
    press("y", "nav", "Enter", "Enter")
    desk.enter()
    press("n")
    assert desk.value() == Sites("yes", ("navicular",))  # a danger's yes goes with a reason only
    desk.session.amend("another foot was meant")
    desk.cell.finish()
    assert desk.value() == Sites("no")
    assert not desk.editor.chooser.isVisible()
    assert desk.editor.note.text() == ""


def test_a_click_on_yes_unfolds_the_places_too(desk: Desk) -> None:
    yes = desk.editor.answer.boxes()[1].center().toPoint()
    click(desk.editor.answer, yes)
    assert desk.value() == Sites("yes")
    assert desk.editor.chooser.is_open


def test_undo_of_the_yes_brings_the_keys_back_to_the_answer(desk: Desk) -> None:
    press("y")
    desk.session.undo()
    assert desk.value() == Sites("yes")  # a danger's yes goes with a reason only
    desk.session.amend("a slip of the key")
    desk.session.undo()
    assert desk.value() is None
    assert not desk.editor.chooser.isVisible()
    assert desk.editor.answer.hasFocus()


def test_losing_the_keys_takes_the_places_over(desk: Desk) -> None:
    press("y", "nav", "Enter")
    desk.go_elsewhere()
    assert desk.value() == Sites("yes", ("navicular",))


def test_emptying_the_answer_takes_it_back(desk: Desk) -> None:
    press("y", "nav", "Enter", "Enter")
    desk.enter()
    press("Backspace", "Tab")
    assert desk.value() == Sites("yes")  # the entry before: the yes alone
    desk.enter()
    press("Backspace", "Tab")
    assert desk.value() == Sites("yes")  # a danger's yes goes with a reason only
    desk.session.amend("a slip of the key")
    desk.cell.finish()
    assert desk.value() is None


def test_both_parts_are_named(desk: Desk) -> None:
    press("y")
    for widget in desk.editor.findChildren(QWidget):
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and widget.isVisible():
            told = QAccessible.queryAccessibleInterface(widget)
            assert "left foot" in told.text(QAccessible.Text.Name), widget
    assert "chosen: yes" in desk.editor.answer.accessibleDescription()
