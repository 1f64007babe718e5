"""Real cells of an open examination in a shown window, driven by real keys and clicks."""

from collections.abc import Callable, Iterator
from concurrent.futures import Future
from dataclasses import dataclass, field
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.model import Catalogue, say
from footexam.desktop import theme
from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.cells.make import make_editor
from footexam.desktop.session import Session
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Patient
from footexam.record.journal import Journal
from footexam.record.reading import Reading, Value
from footexam.resources import assets_dir
from footexam.terms import Role, Sex, Side

AT = "2026-05-12T09:00:00.000Z"
AUTHOR = Author("R. Lindqvist", Role.CLINICIAN, "sitting")
KEYS = {
    "Enter": Qt.Key.Key_Return,
    "Tab": Qt.Key.Key_Tab,
    "Escape": Qt.Key.Key_Escape,
    "Space": Qt.Key.Key_Space,
    "Delete": Qt.Key.Key_Delete,
    "Backspace": Qt.Key.Key_Backspace,
    "Up": Qt.Key.Key_Up,
    "Down": Qt.Key.Key_Down,
    "Left": Qt.Key.Key_Left,
    "Right": Qt.Key.Key_Right,
}


class Memory:
    """Keeps nothing; every entry is durable at once."""

    def keep(self, _subject: str, _head: str, _drafts: object) -> Future[Any]:
        future: Future[Any] = Future()
        future.set_result(None)
        return future


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session", autouse=True)
def _look(qapp: QApplication) -> None:
    theme.register_fonts(assets_dir() / "fonts")
    theme.apply(qapp, theme.LIGHT, 1.0)


@pytest.fixture
def session(catalogue: Catalogue, qapp: QApplication) -> Session:
    del qapp
    journal = Journal("examination-1")
    facts = {
        "patient": "patient-1",
        "examined-on": "2026-05-12",
        "purpose": "record",
        "examiner": {"name": AUTHOR.name, "role": "clinician"},
    }
    for name, fact in facts.items():
        draft = Draft(EntryKind.SET, AUTHOR, AT, target=f"exam:{name}", body={"is": fact})
        journal.append(draft)
    patient = Patient("Okonjo", "Adaeze", birth_date="1981-03-14", sex=Sex.FEMALE)
    return Session(catalogue, Memory(), patient, journal, AUTHOR)


def press(*keys: str) -> None:
    """Keys to whatever has the focus: names of `KEYS`, `Shift+…`, `Ctrl+…`, or text."""
    for key in keys:
        focus = QApplication.focusWidget()
        assert focus is not None, f"nothing has the keys for {key}"
        modifier = Qt.KeyboardModifier.NoModifier
        name = key
        for prefix, held in (
            ("Shift+", Qt.KeyboardModifier.ShiftModifier),
            ("Ctrl+", Qt.KeyboardModifier.ControlModifier),
        ):
            if key.startswith(prefix):
                modifier, name = held, key.removeprefix(prefix)
        if name in KEYS:
            code = Qt.Key.Key_Backtab if key == "Shift+Tab" else KEYS[name]
            QTest.keyClick(focus, code, modifier)
        else:
            QTest.keyClicks(focus, key)
        QApplication.processEvents()


def click(widget: QWidget, at: QPoint) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=at)
    QApplication.processEvents()


@dataclass
class Desk:
    """A window with the cells asked for; the line after them takes the keys away."""

    window: QWidget
    session: Session
    cells: list[CellFrame]
    after: QLineEdit
    steps: list[int] = field(default_factory=list)

    @property
    def cell(self) -> CellFrame:
        return self.cells[0]

    @property
    def editor(self) -> Any:
        return self.cell.editor

    def reading(self) -> Reading | None:
        return self.session.examination.reading(*self.cell.key)

    def value(self) -> Value | None:
        reading = self.reading()
        return reading.value if reading is not None else None

    def entries(self) -> int:
        """How many entries the cells have made."""
        return len(list(self.session.journal)) - 4

    def enter(self) -> None:
        """Come to the cell as the worksheet does."""
        self.editor.focus_widget().setFocus(Qt.FocusReason.TabFocusReason)
        QApplication.processEvents()

    def go_elsewhere(self) -> None:
        self.after.setFocus(Qt.FocusReason.MouseFocusReason)
        QApplication.processEvents()

    def _on_leave(self, _cell: object, step: int) -> None:
        self.steps.append(step)
        self.after.setFocus(Qt.FocusReason.TabFocusReason)  # as the worksheet moves them on

    def refresh(self, _keys: object = None) -> None:
        for cell in self.cells:
            cell.refresh()


Open = Callable[..., Desk]


@pytest.fixture
def open_cell(qtbot: QtBot, session: Session, catalogue: Catalogue) -> Iterator[Open]:
    """Open the cell of a measure with the keys in it."""

    def make(
        name: str, side: Side | None = None, mode: theme.Theme = theme.LIGHT, width: int = 420
    ) -> Desk:
        window = QWidget()
        qtbot.addWidget(window)
        column = QVBoxLayout(window)
        measure = catalogue.measures[name]
        editor = make_editor(measure, mode, catalogue, window, side)
        label = say(measure.label) + (f", {side} foot" if side else "")
        cell = CellFrame((name, side), label, editor, session, mode, window)
        after = QLineEdit(window)
        column.addWidget(cell)
        column.addWidget(after)
        column.addStretch(1)
        desk = Desk(window, session, [cell], after)
        cell.leave.connect(desk._on_leave)
        session.recorded.connect(desk.refresh)
        window.resize(width, 800)
        window.show()
        qtbot.waitExposed(window)
        window.activateWindow()
        desk.enter()
        return desk

    return make
