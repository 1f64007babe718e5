"""Feedback from the marking pages: one document shown, all of them written by a child."""

import json
import sys
from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from footexam.desktop.marking.feedback import FeedbackRun
from footexam.desktop.marking.making import AllFeedback, Feedback, Making, write_all
from footexam.desktop.window import Window
from footexam.exchange.examination import BadInput
from footexam.store.errors import KnownError
from tests.desktop.marking.terms import (
    CONTROL,
    SHIFT,
    marks_all,
    open_marking,
    put_term,
    signs,
    wait,
)
from tests.desktop.user import User
from tests.marking.build import CATALOGUE
from tests.marking.term import marks as marks_tree

ENTER = Qt.Key.Key_Return
DOMAINS = [domain.id for domain in CATALOGUE.rubrics["whole-examination"].domains]
ALL = (Qt.Key.Key_P, CONTROL | SHIFT)


@pytest.fixture
def folder(window: Window, user: User) -> Path:
    """Three students, of whom two have signed marks."""
    made = put_term(window)
    open_marking(user)
    for _ in range(2):
        user.presses(ENTER)
        signs(marks_all(user))
    return made


def text_of(path: Path) -> str:
    with pypdfium2.PdfDocument(path) as pdf:
        return " ".join(page.get_textpage().get_text_range() for page in pdf)


@pytest.mark.usefixtures("folder")
def test_the_feedback_of_one_is_shown_and_left_for_the_sheet(
    window: Window, user: User, qtbot: QtBot
) -> None:
    marking = window.walk.marking
    marking.list.go_to(0)
    user.presses(ENTER)
    preview = window.walk.papers.page.preview
    with qtbot.waitSignal(preview.shown, timeout=60_000):
        user.presses(Qt.Key.Key_P, CONTROL)
    assert preview.title == "Feedback for Student 01"
    assert preview.data.startswith(b"%PDF")
    assert "V-1" not in preview.name
    user.presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is marking.sheet
    user.presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is marking.list


@pytest.mark.usefixtures("folder")
def test_there_is_no_feedback_before_the_signature(window: Window, user: User) -> None:
    marking = window.walk.marking
    marking.list.go_to(2)
    user.presses(ENTER)
    marks_all(user).presses(Qt.Key.Key_P, CONTROL)
    assert window.stack.currentWidget() is marking.sheet
    assert "sign these first" in window.remark.text()


def test_all_feedback_is_written_by_a_child(
    folder: Path, window: Window, user: User, qtbot: QtBot
) -> None:
    marking = window.walk.marking
    with qtbot.waitSignal(marking.feedback.told, timeout=60_000):
        user.presses(*ALL)
        assert marking.feedback.runs
        assert not marking.list.progress.isHidden()
        user.presses(*ALL)  # one run at a time
    found = sorted((folder / "feedback").iterdir())
    assert [path.name[:20] for path in found] == ["feedback-student-01-", "feedback-student-02-"]
    assert "Student 02" in text_of(found[1])
    assert "75 of 100 points." in text_of(found[1])
    assert window.remark.text().startswith("2 documents are written into ")
    assert marking.list.progress.isHidden()


def test_escape_stops_it(
    folder: Path, window: Window, user: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    marking = window.walk.marking
    run = marking.feedback.process
    monkeypatch.setattr(run, "_arguments", ["-c", "import time; time.sleep(600)"])
    user.presses(*ALL)
    assert marking.feedback.runs
    user.presses(Qt.Key.Key_Escape)
    assert not marking.feedback.runs
    assert window.stack.currentWidget() is marking.list
    assert "0 of 2 documents are written" in window.remark.text()
    assert not list((folder / "feedback").iterdir())


def test_nobody_signed_is_told(window: Window, user: User) -> None:
    put_term(window)
    open_marking(user)
    user.presses(*ALL)
    assert "Nobody has signed marks yet" in window.remark.text()
    assert not window.walk.marking.feedback.runs


@pytest.mark.usefixtures("folder")
@pytest.mark.parametrize("program", ["nowhere-at-all", sys.executable])
def test_a_child_that_breaks_off_is_told(
    window: Window, user: User, program: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    marking = window.walk.marking
    monkeypatch.setattr(marking.feedback.process, "_program", program)
    monkeypatch.setattr(marking.feedback.process, "_arguments", ["-c", "raise SystemExit(1)"])
    user.presses(*ALL)
    wait(lambda: not marking.feedback.runs)
    assert "Writing broke off; 0 of 2" in window.remark.text()


def test_what_cannot_be_written_is_named_and_the_rest_is_written(
    folder: Path, window: Window, user: User, qtbot: QtBot
) -> None:
    (folder / "v1-student-01.json").write_bytes(b"{")
    marking = window.walk.marking
    with qtbot.waitSignal(marking.feedback.told, timeout=60_000):
        user.presses(*ALL)
    assert ": 1. Not written: 1. feedback-student-01" in window.remark.text()
    assert "not JSON" in window.remark.text()
    assert len(list((folder / "feedback").iterdir())) == 1


def test_a_folder_in_the_way_is_told(folder: Path, window: Window, user: User) -> None:
    (folder / "feedback").write_text("in the way", encoding="utf-8")
    user.presses(*ALL)
    assert "Writing broke off" in window.remark.text()
    assert not window.walk.marking.feedback.runs


# --- the child, without a process


def asked(folder: Path, out: Path) -> AllFeedback:
    marks = json.dumps(marks_tree(1, 1, 3, "good", DOMAINS))
    one = Feedback(str(folder / "v1-student-01.json"), str(folder / "v1-reference.json"), marks)
    return AllFeedback(str(folder / "store"), str(out), {"one.pdf": one}, invented=True)


def test_the_child_writes_what_it_is_asked_for(folder: Path, tmp_path: Path) -> None:
    wanted = json.loads(asked(folder, tmp_path).text())
    assert list(write_all(wanted)) == [{"name": "one.pdf", "why": ""}]
    assert "invented" in text_of(tmp_path / "one.pdf").casefold()
    nowhere = json.loads(asked(folder, tmp_path / "nowhere").text())
    (line,) = write_all(nowhere)
    assert line["why"]


def test_feedback_is_on_the_paper_of_the_practice(
    folder: Path, window: Window, user: User, qtbot: QtBot
) -> None:
    window.preferences.set_practice("", "letter")
    marking = window.walk.marking
    marking.list.go_to(0)
    user.presses(ENTER)
    preview = window.walk.papers.page.preview
    with qtbot.waitSignal(preview.shown, timeout=60_000):
        user.presses(Qt.Key.Key_P, CONTROL)
    assert size_of(preview.data) == (612, 792)
    user.presses(Qt.Key.Key_Escape).presses(Qt.Key.Key_Escape)
    with qtbot.waitSignal(marking.feedback.told, timeout=60_000):
        user.presses(*ALL)
    assert {size_of(path) for path in (folder / "feedback").iterdir()} == {(612, 792)}


def size_of(document: Path | bytes) -> tuple[int, int]:
    with pypdfium2.PdfDocument(document) as pdf:
        width, height = pdf[0].get_size()
        return round(width), round(height)


def test_what_a_document_is_made_of_must_be_there(folder: Path) -> None:
    making = Making(CATALOGUE, folder / "store", invented=False)
    marks = json.dumps(marks_tree(1, 1, 3, "good", DOMAINS))
    with pytest.raises(KnownError):
        making.document(Feedback("store:x", str(folder / "v1-reference.json"), marks))
    with pytest.raises(BadInput):
        making.document(Feedback("", "", "{}"))


def test_nothing_more_comes_after_a_stop(qtbot: QtBot) -> None:
    run = FeedbackRun(arguments=["-c", "import time; time.sleep(600)"])
    run.run(AllFeedback("", "", {}))
    assert run.runs
    with qtbot.assertNotEmitted(run.ended, wait=50):
        assert run.stop()
    assert not run.stop()
