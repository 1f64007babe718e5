"""A derived measure: shown, reached by Tab, never typed into."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.editor import Editor
from footexam.desktop.theme import Theme
from footexam.record.reading import Reading


class _Shown(QLabel):
    """A label that takes the focus, so that keyboard and screen reader come to it."""

    def __init__(self, owner: Editor) -> None:
        super().__init__(owner)
        self._owner = owner
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setTextFormat(Qt.TextFormat.PlainText)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._owner.handle_leaving(event):
            super().keyPressEvent(event)


class ShownCell(Editor):
    """The value of a derived measure; the worksheet tells it what to show."""

    def __init__(self, measure: Measure, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(measure, theme, parent)
        self.label = _Shown(self)
        font = self.label.font()
        font.setBold(True)
        self.label.setFont(font)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.label)
        self.setFocusProxy(self.label)

    def typed(self) -> object | None:
        return None

    def show_reading(self, reading: Reading | None) -> None:
        """Derived values are no readings; `show_value` shows them."""

    def show_value(self, words: str) -> None:
        """Show the value in words, or that it is not worked out yet."""
        self.label.setText(words or "not worked out yet")

    def focus_widget(self) -> QWidget:
        return self.label
