"""The list by keyboard, help on a cell, and the report made by a child process."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from footexam.desktop.desk import Desk
from footexam.desktop.preview.child import Wanted
from footexam.desktop.preview.keeping import Viewer
from footexam.desktop.window import Window
from footexam.terms import Side
from tests.desktop.user import User

ROOT = Path(__file__).parents[2]


def test_list_by_keyboard(window: Window, user: User) -> None:
    page = window.walk.patients
    user.presses(Qt.Key.Key_Down)
    assert user.at is page.table
    user.presses(Qt.Key.Key_Up)
    assert user.at is page.line
    user.presses(Qt.Key.Key_Down).types("q")
    assert (user.at, page.line.text()) == (page.line, "q")
    assert page.model.rowCount() == 1
    user.presses(Qt.Key.Key_Escape).presses(Qt.Key.Key_Return)
    assert user.at is page.table
    user.presses(Qt.Key.Key_Down).presses(Qt.Key.Key_Return)
    assert "QUIST" in window.walk.confirm.name.text()


def test_list_tells_what_it_shows(window: Window) -> None:
    model = window.walk.patients.model
    index = model.index(0, 1)
    assert model.data(index, Qt.ItemDataRole.AccessibleTextRole) == "Born: 03-Feb-1985"
    empty = model.index(0, 4)
    assert model.data(empty, Qt.ItemDataRole.AccessibleTextRole) == "Last visit: none"


def test_help_of_a_measure(visit: Window, user: User) -> None:
    user.goes_to("lunge-distance", Side.LEFT).presses(Qt.Key.Key_F1)
    measure = user.record.session.catalogue.measures["lunge-distance"]
    shown = visit.help.text.toPlainText()
    assert measure.how["en"] in shown
    assert measure.against["en"] in shown
    assert "Measurement error" in shown
    assert "(SEM)" in shown
    for error in measure.errors:
        if error.used:
            assert user.record.session.catalogue.sources[error.source].citation in shown
    assert "What is usual" in shown
    assert "Ctrl+Z" in shown
    user.presses(Qt.Key.Key_F1)
    assert user.place.startswith("Lunge, toe to wall, left foot")


def test_start_by_the_command(desk: Desk, home: Path) -> None:
    """The program's own start, up to the list; the desk of the test lets go of the store first."""
    desk.close(backup=False)
    target = home / "data" / "store"
    target.parent.mkdir(exist_ok=True)
    desk.folder.rename(target)
    done = subprocess.run(
        [sys.executable, str(ROOT / "tests" / "bench" / "desk_child.py"), "start", str(home)],
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen", "PATH": "/usr/bin:/bin"},
        check=True,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert json.loads(done.stdout)["rows"] == 2


def test_report_is_made_by_a_child(
    visit: Window, user: User, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Path] = []
    monkeypatch.setattr(Viewer, "open", classmethod(lambda _, path: not opened.append(path)))
    user.goes_to("lunge-distance", Side.LEFT).enters("9")
    preview = visit.walk.papers.page.preview
    with qtbot.waitSignal(preview.shown, timeout=30_000):
        user.presses(Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
        assert preview.maker.runs
    user.presses(Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    (path,) = opened
    assert path.read_bytes().startswith(b"%PDF")
    assert "invented" not in path.name
    assert "quist" not in path.name.casefold()


def test_report_that_cannot_be_made_is_told(visit: Window, qtbot: QtBot) -> None:
    preview = visit.walk.papers.page.preview
    with qtbot.waitSignal(preview.told, timeout=30_000):
        preview.make(Wanted(str(visit.desk.folder), "examination:" + "0" * 32), "The report")

    def told() -> None:
        assert "could not be made" in visit.remark.text()
        assert "is saved" in visit.remark.text()

    qtbot.waitUntil(told, timeout=30_000)
