"""Drives real cells with real keys and clicks."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.session import Session
from footexam.record.reading import Reading, Value

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
