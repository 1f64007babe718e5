"""Marking by keyboard: three students, drafts, signatures, what stays closed, what is left out."""

import json
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from footexam.desktop.desk import Desk
from footexam.desktop.marking.rubric_rows import What
from footexam.desktop.theme import DARK
from footexam.desktop.window import Window
from footexam.record.entry import Author, Draft, EntryKind
from footexam.store.store import Store
from footexam.terms import Purpose, Role, Side
from tests.desktop.marking.terms import (
    CONTROL,
    is_marker,
    marks_all,
    marks_files,
    open_marking,
    put,
    put_term,
    read,
    signs,
    states,
)
from tests.desktop.user import User
from tests.marking.term import BLIND, angoff, term


@pytest.fixture
def folder(window: Window) -> Path:
    """Three students of one volunteer."""
    return put_term(window)


def test_three_students_by_keyboard(window: Window, user: User, folder: Path) -> None:
    marking = open_marking(user)
    assert window.stack.currentWidget() is marking.list
    assert user.at is marking.list.table
    assert states(user) == ["not marked"] * 3
    before = user.keys
    for number in range(3):
        user.presses(Qt.Key.Key_Return)
        assert window.stack.currentWidget() is marking.sheet
        assert marking.sheet.title.text().startswith(f"Student 0{number + 1}")
        signs(marks_all(user, "334433333", str(number)))
        assert window.stack.currentWidget() is marking.list
    assert user.keys - before == 3 * 14  # open, nine domains, grade, Ctrl+Enter, Enter
    assert states(user) == ["signed: R. Lind"] * 3
    found = marks_files(folder)
    assert len(found) == 3
    for name, tree in found.items():
        assert "first" in name
        assert "V-1" not in name
        assert tree["marker"] == "R. Lind"
        assert tree["signed_at"].endswith("Z")
        assert "hand" not in tree
        assert len(tree["domains"]) == 9
    assert {tree["grade"] for tree in found.values()} == {"fail", "borderline", "pass"}


def test_the_worst_stands_first_and_each_row_says_its_rule(window: Window, user: User) -> None:
    put_term(window)
    marking = open_marking(user)
    marking.list.go_to(1)  # Student 02 reads dorsiflexion 8 degrees high
    user.presses(Qt.Key.Key_Return)
    rows = marking.sheet.table.rows()
    beyond = [row for row in rows if row.cells[0] == "beyond error"]
    assert rows[: len(beyond)] == beyond
    assert len(beyond) >= 2
    assert all("dorsiflexion" in row.cells[1] for row in beyond)
    errors = [abs(float(row.cells[5].replace("−", "-"))) for row in beyond]
    assert errors == sorted(errors, reverse=True)
    assert all(row.cells[6].endswith("(error)") for row in beyond)
    user.presses(Qt.Key.Key_F6).presses(Qt.Key.Key_F6)
    assert user.at is marking.sheet.table
    shown = marking.sheet.detail.text()
    assert shown.startswith(beyond[0].cells[1])
    assert "smallest detectable difference between two examiners" in shown
    user.presses(Qt.Key.Key_F6)
    assert user.at is marking.sheet.rubric
    assert marking.sheet.detail.text().startswith("0   ")


def test_what_is_not_whole_is_not_signed(window: Window, user: User, folder: Path) -> None:
    marking = open_marking(user)
    user.presses(Qt.Key.Key_Return)
    user.types("33").presses(Qt.Key.Key_Return, CONTROL)
    assert "Not signed yet: no mark for Observation and gait" in window.remark.text()
    assert "no global grade" in window.remark.text()
    assert marking.sheet.question.isHidden()
    row = marking.sheet.rubric.row_at_hand()
    assert row is not None
    assert row.words.endswith("Observation and gait")
    user.presses(Qt.Key.Key_Escape)
    (tree,) = marks_files(folder).values()
    assert tree["domains"] == {"safety": 3, "history": 3}
    assert "signed_at" not in tree
    assert states(user)[0] == "draft: R. Lind"


@pytest.mark.usefixtures("folder")
def test_a_key_that_is_no_mark_changes_nothing(user: User) -> None:
    marking = open_marking(user)
    user.presses(Qt.Key.Key_Return).types("9x7").presses(Qt.Key.Key_Left)
    assert marking.sheet.sheet is not None
    assert marking.sheet.sheet.marks.domains == {}
    marking.sheet.rubric.go_to(What.GRADE)
    user.types("8")
    assert marking.sheet.sheet.marks.grade is None
    user.presses(Qt.Key.Key_Right)
    assert marking.sheet.sheet.marks.grade == "fail"
    user.presses(Qt.Key.Key_Right).presses(Qt.Key.Key_Right).presses(Qt.Key.Key_Left)
    assert marking.sheet.sheet.marks.grade == "borderline"


def test_lines_and_marks_are_kept_without_being_asked(user: User, folder: Path) -> None:
    marking = open_marking(user)
    user.presses(Qt.Key.Key_Return)
    marks_all(user).presses(Qt.Key.Key_Down)
    user.enters("Good order.").types("Repeat the readings.").presses(Qt.Key.Key_Up)
    assert user.at is marking.sheet.lines[0]
    user.presses(Qt.Key.Key_Up)
    assert user.at is marking.sheet.rubric
    assert marking.keep()
    (tree,) = marks_files(folder).values()
    assert tree["lines"] == ["Good order.", "Repeat the readings."]
    signs(user)
    marking.list.go_to(0)
    user.presses(Qt.Key.Key_Return)
    assert marking.sheet.lines[1].text() == "Repeat the readings."
    assert marking.sheet.lines[1].isReadOnly()


def test_a_missed_danger_is_proposed_and_the_marker_decides(window: Window, user: User) -> None:
    folder = put_term(window, students=BLIND)
    marking = open_marking(user)
    marking.list.go_to(BLIND - 1)
    user.presses(Qt.Key.Key_Return)
    row = marking.sheet.rubric.row_at_hand()
    assert row is not None
    assert (row.what, row.id, row.checked) == (What.CRITICAL, "missed-danger", False)
    assert "proposed" in row.below
    assert marking.sheet.table.rows()[0].cells[0] == "look first"
    assert "danger sign was missed" in marking.sheet.detail.text()
    marks_all(user, "444444444", "4").presses(Qt.Key.Key_Return, CONTROL)
    assert "Not confirmed: A danger sign was missed." in marking.sheet.question.words.text()
    user.presses(Qt.Key.Key_Escape)
    assert user.at is marking.sheet.rubric
    marking.sheet.rubric.go_to(What.CRITICAL)
    user.presses(Qt.Key.Key_Space)
    assert "not passed: critical fail" in marking.sheet.sum.text()
    signs(user)
    (tree,) = marks_files(folder).values()
    assert tree["critical"] == ["missed-danger"]


def test_signed_marks_are_changed_with_a_reason_in_a_file_of_their_own(
    window: Window, user: User, folder: Path
) -> None:
    marking = open_marking(user)
    user.presses(Qt.Key.Key_Return)
    signs(marks_all(user))
    (old,) = folder.glob("marks-*.json")
    signed = old.read_bytes()
    marking.list.go_to(0)
    user.presses(Qt.Key.Key_Return).types("1")
    assert "F3 changes them" in window.remark.text()
    user.presses(Qt.Key.Key_F3).presses(Qt.Key.Key_Return)
    assert "only with a reason" in window.remark.text()
    user.presses(Qt.Key.Key_Escape).types("1")
    assert len(marks_files(folder)) == 1
    user.presses(Qt.Key.Key_F3).enters("The plan was overlooked.")
    signs(marks_all(user, "1"))
    assert old.read_bytes() == signed
    other = next(tree for name, tree in marks_files(folder).items() if name != old.name)
    assert other["why_changed"] == "The plan was overlooked."
    assert other["domains"]["safety"] == 1
    marking.list.go_to(0)
    user.presses(Qt.Key.Key_Return)
    assert "Changed marks: The plan was overlooked." in marking.sheet.by.text()
    assert marking.term is not None
    assert marking.term.standing(marking.term.students[0]).counts is not None
    assert marking.sheet.sheet is not None
    assert marking.sheet.sheet.marks.domains["safety"] == 1


@pytest.mark.usefixtures("folder")
def test_points_and_pass_mark_are_told_once_known(user: User) -> None:
    marking = open_marking(user)
    for digits, grade in (("111111111", "0"), ("222222222", "1"), ("333333333", "2")):
        user.presses(Qt.Key.Key_Return)
        signs(marks_all(user, digits, grade))
    marking.list.go_to(0)
    user.presses(Qt.Key.Key_Return)
    told = marking.sheet.sum.text()
    assert told == "25 of 100 points, pass mark 50, not passed"


def test_a_pass_mark_from_judges_is_told(user: User, folder: Path) -> None:
    put(folder, "judges.json", angoff())
    marking = open_marking(user)
    marking.list.rubric.setFocus()
    user.presses(Qt.Key.Key_Right).presses(Qt.Key.Key_Right)
    marking.list.table.setFocus()
    user.presses(Qt.Key.Key_Return)
    assert marking.sheet.sum.text().endswith("pass mark 24")  # what the judges came to


def test_another_rubric_is_chosen_by_keyboard(user: User, folder: Path) -> None:
    marking = open_marking(user)
    marking.list.rubric.setFocus()
    user.presses(Qt.Key.Key_Right)
    marking.list.table.setFocus()
    user.presses(Qt.Key.Key_Return)
    assert "pass mark 30" in marking.sheet.sum.text()
    user.types("3").presses(Qt.Key.Key_Escape)
    (tree,) = marks_files(folder).values()
    assert tree["rubric"] == "measuring-station"


# --- what is left out, what stays closed


def test_files_that_cannot_be_used_are_named(window: Window, user: User, folder: Path) -> None:
    (folder / "damaged.json").write_bytes(b"{")
    stranger = {"record_number": "V-9", "birth_date": "1989-05-21", "family_name": "Nobody"}
    for name, tree in list(term(students=1, volunteers=1))[1:]:
        put(folder, f"other-{name}", {**tree, "patient": stranger})
        put(folder, f"later-{name}", {**tree, "examined_on": "2026-03-05"})
    marking = open_marking(user)
    shown = [marking.list.problems.item(at).text() for at in range(marking.list.problems.count())]
    assert [line.partition(":")[0] for line in shown] == [
        "damaged.json",
        "later-v1-student-01.json",
        "other-v1-student-01.json",
    ]
    assert marking.list.left_out.text() == "3 files are left out:"
    assert sorted(states(user)) == sorted(
        ["not marked"] * 3 + ["no reference", "reference is of another day"]
    )
    for at, line in enumerate(marking.list.model.rows):
        if line.student.closed:
            marking.list.go_to(at)
            user.presses(Qt.Key.Key_Return)
            assert window.stack.currentWidget() is marking.list
            assert "nothing is compared" in window.remark.text()


def test_a_folder_that_is_not_there_is_told(window: Window, user: User, tmp_path: Path) -> None:
    marking = open_marking(user)
    assert marking.list.problems.item(0).text().startswith("There is no student's examination yet")
    marking.list.folder.setFocus()
    marking.list.folder.selectAll()
    user.enters(str(tmp_path / "nowhere"))
    read(user)
    assert marking.list.problems.item(0).text().startswith("The folder cannot be read")
    assert window.preferences.marking_folder == str(tmp_path / "nowhere")
    marking.list.folder.selectAll()
    user.enters(" ")
    read(user)
    assert window.preferences.marking_folder == ""
    assert marking.folder == marking.own_folder


def test_another_folder_is_remembered(window: Window, user: User, tmp_path: Path) -> None:
    put_term(window).rename(tmp_path / "term")
    marking = open_marking(user)
    assert states(user) == []
    marking.list.folder.setFocus()
    marking.list.folder.selectAll()
    user.enters(str(tmp_path / "term"))
    read(user)
    assert states(user) == ["not marked"] * 3
    kept = type(window.preferences).load(window.preferences.path)
    assert kept.marking_folder == str(tmp_path / "term")


def test_reading_is_stopped_by_escape(window: Window, user: User, folder: Path) -> None:
    marking = open_marking(user)
    put(folder, "v9.json", {})
    QTest.keyClick(user.at, Qt.Key.Key_F5)
    assert marking.work.runs
    assert not marking.list.progress.isHidden()
    QTest.keyClick(user.at, Qt.Key.Key_Escape)  # at once: nothing more is read meanwhile
    assert not marking.work.runs
    assert marking.list.progress.isHidden()
    assert "Stopped" in window.remark.text()
    assert states(user) == ["not marked"] * 3
    assert marking.list.problems.count() == 0
    assert window.stack.currentWidget() is marking.list
    user.presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.walk.patients


@pytest.mark.usefixtures("folder")
def test_without_a_name_nothing_is_marked(window: Window, user: User) -> None:
    marking = open_marking(user)
    is_marker(user, " ").presses(Qt.Key.Key_Return)
    assert window.stack.currentWidget() is marking.list
    assert "Write your name first" in window.remark.text()
    assert user.at is marking.list.marker
    user.enters("Ada Marker").presses(Qt.Key.Key_Return)
    assert window.stack.currentWidget() is marking.sheet
    assert window.preferences.marker == "Ada Marker"


def sign(desk: Desk, purpose: str) -> None:
    """Sign an examination of the store."""
    (subject,) = desk._do(Store.of_purposes, (Purpose(purpose),))
    name = "C. Student" if purpose == "student" else "A. Reference"
    author = Author(name, Role.STUDENT, "test")
    draft = Draft(EntryKind.SIGN, author, "2026-03-05T10:00:00.000Z")
    desk.keep(subject, desk.journal(subject).head, [draft]).result()


def test_the_stores_own_examinations_are_closed_until_both_are_signed(
    opened: Window, user: User, desk: Desk
) -> None:
    for name, role, reference in (
        ("C. Student", Role.STUDENT, False),
        ("A. Reference", Role.SUPERVISOR, True),
    ):
        user.presses(Qt.Key.Key_F2)
        card = opened.walk.card
        card.examiner.setText(name)
        card.role.set_value(role)
        card.purpose.set_value("reference" if reference else "record")
        user.presses(Qt.Key.Key_Return).goes_to("lunge-distance", Side.LEFT).enters("9")
        user.presses(Qt.Key.Key_W, CONTROL)
    user.presses(Qt.Key.Key_Escape)
    marking = open_marking(user)
    assert states(user) == ["student has not signed yet"]
    user.presses(Qt.Key.Key_Return)
    assert opened.stack.currentWidget() is marking.list
    assert "once both are signed" in opened.remark.text()
    sign(desk, "student")
    user.presses(Qt.Key.Key_F5)
    read(user)
    assert states(user) == ["reference is not signed yet"]
    user.presses(Qt.Key.Key_Return)
    assert opened.stack.currentWidget() is marking.list
    sign(desk, "reference")
    user.presses(Qt.Key.Key_F5)
    read(user)
    assert states(user) == ["not marked"]
    user.presses(Qt.Key.Key_Return)
    assert opened.stack.currentWidget() is marking.sheet


# --- the window around it


def test_colours_size_and_help_leave_the_sheet_as_it_was(
    window: Window, user: User, folder: Path
) -> None:
    marking = open_marking(user)
    user.presses(Qt.Key.Key_Return).types("21")
    user.presses(Qt.Key.Key_F1)
    assert window.stack.currentWidget() is window.help
    user.presses(Qt.Key.Key_F1)
    assert window.stack.currentWidget() is marking.sheet
    window.switch_theme()
    assert window.theme is DARK
    assert window.stack.currentWidget() is marking.sheet
    assert marking.sheet.sheet is not None
    assert marking.sheet.sheet.marks.domains == {"safety": 2, "history": 1}
    user.presses(Qt.Key.Key_Escape)
    window.larger()
    assert window.stack.currentWidget() is marking.list
    assert states(user)[0] == "draft: R. Lind"
    assert folder.is_dir()


def test_marks_that_cannot_be_written_keep_the_sheet_once(
    window: Window, user: User, folder: Path
) -> None:
    marking = open_marking(user)
    user.presses(Qt.Key.Key_Return).types("2")
    assert marking.keep()
    (path,) = folder.glob("marks-*.json")
    tree = json.loads(path.read_text(encoding="utf-8"))
    path.write_text(json.dumps({**tree, "marker": "Somebody else"}), encoding="utf-8")
    user.types("3").presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is marking.sheet
    assert "Somebody else wrote these marks" in window.remark.text()
    assert json.loads(path.read_text(encoding="utf-8"))["marker"] == "Somebody else"
    user.presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is marking.list


def test_the_window_closes_only_with_the_marks_written(
    window: Window, user: User, folder: Path
) -> None:
    marking = open_marking(user)
    user.presses(Qt.Key.Key_Return).types("2")
    folder.rename(folder.with_name("gone"))
    folder.write_text("in the way", encoding="utf-8")
    assert not window._let_go()
    assert "could not be saved" in window.remark.text()
    folder.unlink()
    assert marking.keep()
    assert len(marks_files(folder)) == 1
