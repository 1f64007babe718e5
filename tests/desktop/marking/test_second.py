"""A second marker is blind; both see both once both have signed, and agree where they must."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from footexam.desktop.marking.rubric_rows import What
from footexam.desktop.window import Window
from footexam.marking.rubric import Hand
from tests.desktop.marking.terms import (
    CONTROL,
    is_marker,
    marks_all,
    marks_files,
    open_marking,
    put_term,
    signs,
    states,
)
from tests.desktop.user import User

FIRST, SECOND = "R. Lind", "Ben Second"
ENTER = Qt.Key.Key_Return


@pytest.fixture
def folder(window: Window) -> Path:
    """One student of one volunteer, marked and signed by the first marker."""
    return put_term(window, students=1)


@pytest.fixture
def signed(folder: Path, user: User) -> Path:
    """The first marker has signed."""
    open_marking(user)
    user.presses(ENTER)
    signs(marks_all(user, "444444444", "3"))
    return folder


def everything_shown(window: Window) -> str:
    """All words of the sheet."""
    sheet = window.walk.marking.sheet
    rows = (f"{row.words} {row.below} {row.checked} {row.detail}" for row in sheet.rubric.rows())
    lines = (line.text() for line in sheet.lines)
    return "\n".join((sheet.title.text(), sheet.by.text(), sheet.sum.text(), *rows, *lines))


@pytest.mark.usefixtures("signed")
def test_the_second_marker_sees_nothing_of_the_first_ones_marks(window: Window, user: User) -> None:
    marking = window.walk.marking
    is_marker(user, SECOND).presses(ENTER)
    sheet = marking.sheet.sheet
    assert sheet is not None
    assert (sheet.marks.hand, sheet.marks.domains, sheet.marks.grade) == (Hand.SECOND, {}, None)
    assert sheet.both is None
    assert "hidden until you sign" in marking.sheet.by.text()
    assert FIRST not in everything_shown(window)
    user.presses(Qt.Key.Key_P, CONTROL)
    assert window.stack.currentWidget() is marking.sheet
    assert "are hidden" in window.remark.text()
    user.types("2").presses(Qt.Key.Key_Escape)
    assert states(user) == [f"signed: {FIRST}; second draft: {SECOND}"]


def test_nor_the_first_marker_of_the_second_ones(folder: Path, window: Window, user: User) -> None:
    open_marking(user)
    user.presses(ENTER).types("2").presses(Qt.Key.Key_Escape)
    is_marker(user, SECOND).presses(ENTER)
    signs(marks_all(user, "111111111", "0"))
    assert states(user) == [f"draft: {FIRST}; second signed: {SECOND}"]
    is_marker(user, FIRST).presses(ENTER)
    assert SECOND not in everything_shown(window)
    marks = window.walk.marking.sheet.sheet
    assert marks is not None
    assert marks.marks.domains == {"safety": 2}
    assert len(marks_files(folder)) == 2


@pytest.mark.usefixtures("signed")
def test_a_third_sees_nothing_before_both_have_signed(window: Window, user: User) -> None:
    is_marker(user, SECOND).presses(ENTER).types("2").presses(Qt.Key.Key_Escape)
    is_marker(user, "Cleo Third").presses(ENTER)
    assert window.stack.currentWidget() is window.walk.marking.list
    assert "once both have signed" in window.remark.text()


def test_markers_who_are_near_need_not_agree(signed: Path, window: Window, user: User) -> None:
    is_marker(user, SECOND).presses(ENTER)
    signs(marks_all(user, "444444443", "3"))
    assert states(user) == [f"both signed, near enough: {FIRST}, {SECOND}"]
    term = window.walk.marking.term
    assert term is not None
    counts = term.standing(term.students[0]).counts
    assert counts is not None
    assert counts.marker == FIRST
    assert {tree.get("hand", "first") for tree in marks_files(signed).values()} == {
        "first",
        "second",
    }


def test_markers_who_lie_apart_agree_side_by_side(signed: Path, window: Window, user: User) -> None:
    marking = window.walk.marking
    is_marker(user, SECOND).presses(ENTER)
    signs(marks_all(user, "442444444", "0"))  # domains of 10, 10 and 10 points, and the grade
    assert states(user) == [f"to be agreed on: {FIRST}, {SECOND}"]
    line = marking.list.chosen()
    assert line is not None
    assert line.open
    user.presses(ENTER)
    shown = everything_shown(window)
    assert f"{FIRST} and {SECOND} agree on marks." in shown
    assert "grades differ by more than the rubric lets pass" in shown
    assert f"{FIRST} 4, {SECOND} 2: 5 points apart" in shown
    assert f"{FIRST} 100, {SECOND} 95 points" in shown
    sheet = marking.sheet.sheet
    assert sheet is not None
    assert len(sheet.marks.domains) == 8  # where both gave the same, it stands
    user.presses(ENTER, CONTROL)
    assert "no mark for Observation and gait, no global grade" in window.remark.text()
    user.types("3")
    marking.sheet.rubric.go_to(What.GRADE)
    user.types("2")
    signs(user)
    assert states(user) == [f"agreed on: {SECOND}"]
    moderation = next(
        tree for tree in marks_files(signed).values() if tree.get("hand") == "moderation"
    )
    assert moderation["domains"]["observation"] == 3
    assert moderation["grade"] == "pass"
    term = marking.term
    assert term is not None
    counts = term.standing(term.students[0]).counts
    assert counts is not None
    assert counts.hand is Hand.MODERATION


@pytest.mark.usefixtures("signed")
def test_one_person_is_not_a_second_marker_of_their_own_marks(window: Window, user: User) -> None:
    is_marker(user, f" {FIRST.upper()} ").presses(ENTER)
    sheet = window.walk.marking.sheet.sheet
    assert sheet is not None
    assert sheet.marks.hand is Hand.FIRST
    assert sheet.marks.signed_at is not None
