"""A seeded walk over all keys and clicks: never raises, never loses an acknowledged entry."""

import random
from concurrent.futures import Future
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from footexam.desktop.desk import Desk
from footexam.desktop.keys import KEYS
from footexam.desktop.window import Window
from tests.desktop.user import User, settle

STEPS = 1200
LEAVES = 0.1
"""How often a document is left, which takes one key of many: most of the walk is on the sheet."""
AVOIDED = {"quit"}
PLAIN = (
    [Qt.Key.Key_Return] * 6
    + [Qt.Key.Key_Tab] * 4
    + [Qt.Key.Key_Backtab, Qt.Key.Key_Escape, Qt.Key.Key_Left, Qt.Key.Key_Right]
    + [Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Space, Qt.Key.Key_Delete, Qt.Key.Key_Backspace]
    + [Qt.Key.Key_Home, Qt.Key.Key_End, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown]
)
CHARACTERS = "0123456789012-,. ynabcdefglmprstuxz%/"


class Chance:
    """Does one thing after the other, chosen by a seed; remembers what was acknowledged."""

    def __init__(self, window: Window, desk: Desk, seed: int) -> None:
        self.window = window
        self.user = User(window)
        self.chance = random.Random(seed)
        self.kept: list[tuple[str, str, int]] = []
        self.done: list[str] = []
        self._keep = desk.keep
        desk.keep = self.keep  # type: ignore[method-assign]

    def keep(self, subject: str, head: str, drafts: Any) -> "Future[Any]":
        future = self._keep(subject, head, drafts)
        entries = future.result()
        self.kept += [(subject, entry.hash, entry.seq) for entry in entries]
        return future

    def step(self) -> None:
        kind = self.chance.random()
        if self.window.walk.papers.shown() is not None and self.chance.random() < LEAVES:
            self.done.append("leave the paper")
            self.user.presses(Qt.Key.Key_Escape)
        elif kind < 0.45:
            char = self.chance.choice(CHARACTERS)
            self.done.append(f"type {char!r}")
            self.user.types(char)
        elif kind < 0.75:
            key = self.chance.choice(PLAIN)
            self.done.append(f"press {key.name}")
            self.user.presses(key)
        elif kind < 0.92:
            self.shortcut()
        else:
            self.click()
        settle()

    def shortcut(self) -> None:
        key = self.chance.choice([key for key in KEYS if key.action not in AVOIDED])
        self.done.append(f"key {key.name}")
        combination = QKeySequence(key.keys[0])[0]
        self.user.presses(combination.key(), combination.keyboardModifiers())

    def click(self) -> None:
        page = self.window.stack.currentWidget()
        place = QPoint(self.chance.randrange(page.width()), self.chance.randrange(page.height()))
        target = page.childAt(place) or page
        self.done.append(f"click {type(target).__name__} at {place.x()},{place.y()}")
        QTest.mouseClick(target, Qt.MouseButton.LeftButton, pos=target.mapFrom(page, place))


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.usefixtures("at_once")
def test_random_walk(
    window: Window, desk: Desk, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(desk, "keep", desk.keep)
    walker = Chance(window, desk, seed)
    User(window).types("quist").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Return)
    User(window).presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    for _ in range(STEPS):
        walker.step()
        focus = QApplication.focusWidget()
        if focus is not None and focus.focusPolicy() != Qt.FocusPolicy.NoFocus:
            name = QAccessible.queryAccessibleInterface(focus).text(QAccessible.Text.Name)
            assert name.strip(), (repr(focus), walker.done[-5:])
    assert len(walker.kept) > 30
    for subject in {subject for subject, _, _ in walker.kept}:
        hashes = [entry.hash for entry in desk.journal(subject)]
        for kept, digest, seq in walker.kept:
            if kept == subject:
                assert hashes[seq - 1] == digest
    if window.record is not None and not window.record.session.unsaved():
        shown = [entry.hash for entry in window.record.session.journal]
        stored = desk.journal(window.record.session.journal.subject)
        assert [entry.hash for entry in stored] == shown
