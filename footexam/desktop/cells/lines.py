"""Numbers, durations and text: what is typed is kept as typed and read by our own grammar."""

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QTextCursor, QWheelEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPlainTextEdit, QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.editor import Editor
from footexam.desktop.input_line import InputLine
from footexam.desktop.theme import Theme, em, small
from footexam.record.reading import Reading, Text
from footexam.record.refusal import LONGEST_TEXT


class _Line(InputLine):
    """A line edit that gives Enter and the arrows to its editor."""

    def __init__(self, owner: Editor) -> None:
        super().__init__(owner)
        self._owner = owner

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._owner.handle_leaving(event):
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.selectAll()


class NumberCell(Editor):
    """One or more readings with an optional unit, or a duration."""

    def __init__(self, measure: Measure, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(measure, theme, parent)
        self.line = _Line(self)
        self.line.setMaxLength(200)
        self.unit = QLabel(measure.unit, self)
        self.unit.setFont(small(self))
        self.unit.setForegroundRole(self.foregroundRole())
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(round(em(self) * 0.4))
        row.addWidget(self.line, 1000)
        row.addWidget(self.unit)
        row.addStretch(1)
        self.line.setMinimumWidth(round(em(self) * 3.2))
        self.line.setMaximumWidth(round(em(self) * 8.5))  # all boxes alike, whatever the unit
        self.line.textEdited.connect(self._on_edited)
        self.setFocusProxy(self.line)

    def _on_edited(self, _text: str) -> None:
        self.mark_edited()

    def typed(self) -> object | None:
        return self.line.text() if self.line.text().strip() else None

    def show_reading(self, reading: Reading | None) -> None:
        self.line.setText(reading.typed if reading and reading.value is not None else "")
        self.dirty = False

    def focus_widget(self) -> QWidget:
        return self.line

    def select_all(self) -> None:
        self.line.selectAll()


class _Area(QPlainTextEdit):
    """A text box of plain text: Enter leaves it, Tab too; line ends become spaces when pasted."""

    def __init__(self, owner: Editor) -> None:
        super().__init__(owner)
        self._owner = owner
        self.setTabChangesFocus(True)
        self.setLineWrapMode(QPlainTextEdit.LineWrapMode.WidgetWidth)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._owner.handle_leaving(event):
            super().keyPressEvent(event)

    def insertFromMimeData(self, source: QMimeData) -> None:
        self.insertPlainText(" ".join(source.text().split()))

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()  # the worksheet scrolls, not the box


class TextCell(Editor):
    """Free text; the box grows with it."""

    def __init__(self, measure: Measure, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(measure, theme, parent)
        self.area = _Area(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.area)
        self._quiet = False
        self.area.textChanged.connect(self._on_changed)
        self.setFocusProxy(self.area)
        self._grow()

    def _on_changed(self) -> None:
        self._grow()
        if not self._quiet:
            self.mark_edited()

    def _grow(self) -> None:
        lines = min(6, max(1, round(self.area.document().size().height())))
        frame = 2 * self.area.frameWidth() + round(2 * self.area.document().documentMargin())
        self.area.setFixedHeight(lines * em(self.area) + frame + 2)

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)  # type: ignore[arg-type]
        self._grow()

    def typed(self) -> object | None:
        text = self.area.toPlainText()[: LONGEST_TEXT + 1]
        return text if text.strip() else None

    def show_reading(self, reading: Reading | None) -> None:
        shown = reading.value.text if reading and isinstance(reading.value, Text) else ""
        self._quiet = True
        if shown != self.area.toPlainText():
            self.area.setPlainText(shown)
            self.area.moveCursor(QTextCursor.MoveOperation.End)
        self._quiet = False
        self.dirty = False

    def focus_widget(self) -> QWidget:
        return self.area
