"""What every editor of a cell offers to the cell around it."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.theme import Theme
from footexam.record.reading import Reading


class Editor(QWidget):
    """The part of a cell that is typed into; it knows what is typed, never what it is worth.

    `finished(step)`: the value is given and the cell should be left, forward (1), back (-1) or not
    at all (0). `dirty` is true while what is typed has not been taken over.
    """

    finished = Signal(int)
    edited = Signal()

    def __init__(self, measure: Measure, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.measure = measure
        self.theme = theme
        self.dirty = False

    def typed(self) -> object | None:
        """What is typed, in the form that record/parse.py reads; None for nothing."""
        raise NotImplementedError

    def show_reading(self, reading: Reading | None) -> None:
        """Show a reading, or nothing; what was typed before is replaced and no longer dirty."""
        raise NotImplementedError

    def focus_widget(self) -> QWidget:
        """The widget that takes the keys and carries the accessible name."""
        return self

    def select_all(self) -> None:
        """Make what stands there be replaced by the next key, where that makes sense."""

    def mark_edited(self) -> None:
        """Note that something was typed."""
        self.dirty = True
        self.edited.emit()

    def handle_leaving(self, event: QKeyEvent) -> bool:
        """Enter and Shift+Enter leave the cell; true if the key was one of them."""
        if event.key() not in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            return False
        if event.modifiers() & (
            Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
        ):
            return False
        back = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        self.finished.emit(-1 if back else 1)
        return True


def is_key_press(event: QEvent) -> bool:
    """Whether an event is a key going down."""
    return event.type() == QEvent.Type.KeyPress
