"""A term in the folder that the window marks in, and somebody who marks by keyboard."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from footexam.desktop.marking.rubric_rows import What
from footexam.desktop.marking.walk import Marking
from footexam.desktop.window import Window
from tests.desktop.user import User, settle
from tests.marking.term import term

CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
MANY, TURN_MS = 6000, 10
"""Turns of the event loop after which what is waited for does not come, and how long one is."""


def put_term(window: Window, students: int = 3, volunteers: int = 1) -> Path:
    """Write an invented term into the program's own folder of marking."""
    folder = window.desk.folder.parent / "marking"
    folder.mkdir(exist_ok=True)
    for name, tree in term(students=students, volunteers=volunteers):
        put(folder, name, tree)
    return folder


def put(folder: Path, name: str, tree: dict[str, Any]) -> None:
    (folder / name).write_text(json.dumps(tree), encoding="utf-8")


def wait(is_done: Callable[[], bool]) -> None:
    """Let the event loop turn until something is so."""
    for _ in range(MANY):
        if is_done():
            settle()
            return
        QTest.qWait(TURN_MS)
    raise AssertionError("it did not come")


def open_marking(user: User) -> Marking:
    """Ctrl+K on the patient list, and the folder read."""
    user.presses(Qt.Key.Key_K, CONTROL)
    return read(user)


def read(user: User) -> Marking:
    marking = user.window.walk.marking
    wait(lambda: not marking.work.runs)
    return marking


def marks_all(user: User, digits: str = "333333333", grade: str = "2") -> User:
    """Mark every domain and the grade; what must be looked at first is passed over."""
    rubric = user.window.walk.marking.sheet.rubric
    while (row := rubric.row_at_hand()) is not None and row.what is What.CRITICAL:
        user.presses(Qt.Key.Key_Down)
    return user.types(digits).types(grade)


def signs(user: User) -> User:
    """Ctrl+Enter, and Enter to the question."""
    return user.presses(Qt.Key.Key_Return, CONTROL).presses(Qt.Key.Key_Return)


def is_marker(user: User, name: str) -> User:
    """Write another name into the line of the list, and go back to the students."""
    line = user.window.walk.marking.list.marker
    line.setFocus()
    line.selectAll()
    return user.types(name).presses(Qt.Key.Key_Return)


def states(user: User) -> list[str]:
    """What the list says of each student."""
    return [line.cells[-1] for line in user.window.walk.marking.list.model.rows]


def marks_files(folder: Path) -> dict[str, dict[str, Any]]:
    """The files of marks and what they hold."""
    return {
        path.name: json.loads(path.read_text(encoding="utf-8"))
        for path in sorted(folder.glob("marks-*.json"))
    }
