"""What the pages before the worksheet have in common: a heading, wide margins, Escape, radios."""

from collections.abc import Mapping

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QRadioButton,
    QStyle,
    QStyleOptionButton,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.theme import em, large

WIDTH = 46
"""The widest a page of words and lines gets, in lines of text."""


class Page(QWidget):
    """A column of words and fields that is never wider than is good to read.

    `escaped` on Escape.
    """

    escaped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.inner = QWidget(self)
        self.inner.setMaximumWidth(round(em(self) * WIDTH))
        row = QHBoxLayout(self)
        pad = round(em(self) * 2)
        row.setContentsMargins(pad, pad, pad, pad)
        row.addStretch(1)
        row.addWidget(self.inner, 1000)
        row.addStretch(1)
        self.column = QVBoxLayout(self.inner)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(round(em(self) * 0.7))

    def add_label(self, words: str = "", factor: float = 1.0) -> QLabel:
        """A label below the others; more than 1: a heading."""
        label = QLabel(words, self.inner)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        if factor > 1:
            label.setFont(large(label, factor))
        self.column.addWidget(label)
        return label

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            super().keyPressEvent(event)


class _Radio(QRadioButton):
    """A radio button whose circle is seen in both themes; the style's own is too faint on dark."""

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        part = QStyle.SubElement.SE_RadioButtonIndicator
        box = QRectF(self.style().subElementRect(part, option, self)).adjusted(1, 1, -1, -1)
        role, palette = QPalette.ColorRole, self.palette()
        focused = self.hasFocus()
        outline = palette.color(role.Highlight if focused else role.Dark)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(palette.color(role.Base))
        painter.setPen(QPen(outline, 2.0 if focused else 1.2))
        painter.drawEllipse(box)
        if self.isChecked():
            inset = box.width() * 0.28
            painter.setBrush(palette.color(role.Text))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.drawEllipse(box.adjusted(inset, inset, -inset, -inset))
        painter.end()


class Radios(QWidget):
    """A few words of which one is chosen; arrows move, nothing else changes it.

    `changed` when another one is chosen.
    """

    changed = Signal()

    def __init__(self, words: Mapping[str, str], name: str, parent: QWidget) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self._buttons: dict[str, QRadioButton] = {}
        for value, shown in words.items():
            button = _Radio(shown, self)
            button.setAccessibleName(f"{name}: {shown}")
            button.toggled.connect(self._on_toggled)
            row.addWidget(button)
            self._buttons[value] = button
        row.addStretch(1)
        self.setFocusProxy(next(iter(self._buttons.values())))

    def _on_toggled(self, checked: bool) -> None:
        if checked:
            self.changed.emit()

    def value(self) -> str:
        """The chosen value; empty if none is."""
        return next((value for value, one in self._buttons.items() if one.isChecked()), "")

    def set_value(self, value: str) -> None:
        """Choose a value; another one than those offered changes nothing."""
        if value in self._buttons:
            self._buttons[value].setChecked(True)
