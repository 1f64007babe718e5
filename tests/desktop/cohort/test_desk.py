"""From marking to its cohort and back: what is read, what stays closed, other colours meanwhile."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from footexam.desktop.cohort.feed import TermWanted
from footexam.desktop.cohort.page import CohortPage
from footexam.desktop.cohort.reader import CohortReader
from footexam.desktop.cohort.term import whole_term
from footexam.desktop.desk import Desk
from footexam.desktop.marking.words import WORDS
from footexam.desktop.window import Window
from footexam.terms import Role, Side
from tests.desktop.cohort.conftest import Line
from tests.desktop.marking.terms import CONTROL, SHIFT, open_marking, put_term
from tests.desktop.marking.test_sheet import sign
from tests.desktop.user import User
from tests.marking.build import CATALOGUE


def to_cohort(user: User) -> CohortPage:
    open_marking(user)
    user.presses(Qt.Key.Key_M, CONTROL)
    return user.window.walk.cohort.page


def test_the_term_that_is_marked_is_shown_and_left(
    window: Window, user: User, qtbot: QtBot
) -> None:
    folder = put_term(window)
    window.preferences.set_practice("", "letter")
    page = to_cohort(user)
    assert window.stack.currentWidget() is page
    assert page.paper_size == "letter"
    assert page.wanted == TermWanted(str(folder), "whole-examination", str(window.desk.folder))
    qtbot.waitUntil(lambda: page.is_there, timeout=60_000)
    assert page.shown.examiners == ["Student 01", "Student 02", "Student 03"]
    user.presses(Qt.Key.Key_2, Qt.KeyboardModifier.AltModifier)
    assert user.at is page.table
    user.presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.walk.marking.list


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch, lines: list[Line]) -> None:
    """The lines of a term come at once, from no child."""

    def read(reader: CohortReader, _wanted: TermWanted) -> None:
        for line in lines:
            reader.came.emit(line)

    monkeypatch.setattr(CohortReader, "read", read)


@pytest.mark.usefixtures("told")
def test_other_colours_and_sizes_keep_the_page(window: Window, user: User) -> None:
    put_term(window)
    page = to_cohort(user)
    user.presses(Qt.Key.Key_Down).presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Down)
    before = list(page.table.rows.table.rows)
    user.presses(Qt.Key.Key_D, CONTROL | SHIFT)
    other = window.walk.cohort.page
    assert other is not page
    assert window.stack.currentWidget() is other
    assert list(other.table.rows.table.rows) == before
    assert other.table.row() == 1
    user.presses(Qt.Key.Key_Escape).presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.walk.marking.list


@pytest.mark.usefixtures("told")
def test_the_keys_of_the_cohort_are_in_the_help(window: Window, user: User) -> None:
    put_term(window)
    page = to_cohort(user)
    user.presses(Qt.Key.Key_F1)
    assert "Codes for names, and back" in window.help.text.toPlainText()
    user.presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is page


def test_unsigned_examinations_of_the_store_are_left_out(
    opened: Window, user: User, desk: Desk, tmp_path: Path
) -> None:
    for name, role, purpose in (
        ("C. Student", Role.STUDENT, "record"),
        ("A. Reference", Role.SUPERVISOR, "reference"),
    ):
        user.presses(Qt.Key.Key_F2)
        card = opened.walk.card
        card.examiner.setText(name)
        card.role.set_value(role)
        card.purpose.set_value(purpose)
        user.presses(Qt.Key.Key_Return).goes_to("lunge-distance", Side.LEFT).enters("9")
        user.presses(Qt.Key.Key_W, CONTROL)
    nowhere = str(tmp_path / "nowhere")
    found = whole_term(nowhere, str(desk.folder), "", CATALOGUE)
    assert found.cohort.comparisons == ()
    assert WORDS["closed-student-unsigned"] in found.term.problems[-1]
    sign(desk, "student")
    found = whole_term(nowhere, str(desk.folder), "", CATALOGUE)
    assert WORDS["closed-reference-unsigned"] in found.term.problems[-1]
    sign(desk, "reference")
    found = whole_term(nowhere, str(desk.folder), "measuring-station", CATALOGUE)
    assert [one.student.examiner.name for one in found.cohort.comparisons] == ["C. Student"]
    assert found.rubric.id == "measuring-station"
    assert found.term.problems == ()
    with pytest.raises(OSError, match="nowhere"):
        whole_term(nowhere, "", "", CATALOGUE)
