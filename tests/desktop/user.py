"""Somebody at the keyboard: real key events into whatever has the keys."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.record_page import RecordPage
from footexam.desktop.window import Window
from footexam.record.reading import Reading
from footexam.terms import Side


def settle() -> None:
    """Let everything happen that waits in the event loop, deletions included."""
    for _ in range(3):
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


class User:
    """Types with real key events into whatever has the keys, and counts the keys."""

    def __init__(self, window: Window) -> None:
        self.window = window
        self.keys = 0

    @property
    def at(self) -> QWidget:
        """The widget that has the keys."""
        return self.window.focusWidget() or self.window

    @property
    def place(self) -> str:
        """The accessible name of the widget that has the keys."""
        return self.at.accessibleName()

    def types(self, text: str) -> "User":
        """Type characters one by one."""
        for char in text:
            if char.isascii():
                QTest.keyClick(self.at, char)
            else:  # QTest aborts the process at any other letter
                for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
                    event = QKeyEvent(kind, 0, Qt.KeyboardModifier.NoModifier, char)
                    QApplication.sendEvent(self.at, event)
            QApplication.processEvents()
            self.keys += 1
        return self

    def presses(
        self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
    ) -> "User":
        """Press a key, with others held; a chord counts as its keys."""
        QTest.keyClick(self.at, key, held)
        settle()
        self.keys += 1 + held.value.bit_count()
        return self

    def enters(self, text: str) -> "User":
        """Type and press Enter."""
        return self.types(text).presses(Qt.Key.Key_Return)

    def goes_to(self, measure: str, side: Side | None = None) -> "User":
        """Put the keys into a cell as a click does; not counted."""
        record = self.record
        record.open_panel(record.session.catalogue.measures[measure].panel)
        if not record.worksheet.focus_key((measure, side)):
            record.worksheet.show_more(more=True)
            assert record.worksheet.focus_key((measure, side))
        settle()
        return self

    @property
    def record(self) -> RecordPage:
        """The open examination."""
        record = self.window.record
        assert record is not None
        return record

    def cell(self, measure: str, side: Side | None = None) -> CellFrame:
        """A cell of the sheet that is shown."""
        return next(one for one in self.record.worksheet.order if one.key == (measure, side))

    def cell_sided(self, measure: str) -> bool:
        """Whether a measure has a cell for each side."""
        return self.record.session.catalogue.measures[measure].sided

    def reading(self, measure: str, side: Side | None = None) -> Reading | None:
        """What the record holds for a measure."""
        return self.record.session.examination.reading(measure, side)
