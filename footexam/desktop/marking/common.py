"""What the marking pages have in common: keys of their own, a line to ask, a heading, progress."""

from collections.abc import Mapping
from typing import ClassVar

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.input_line import InputLine
from footexam.desktop.theme import em, large

Pressed = tuple[int, Qt.KeyboardModifier]


class KeyedPage(QWidget):
    """A page whose own keys go before the window's; ACTIONS names the method of each."""

    ACTIONS: ClassVar[Mapping[Pressed, str]] = {}

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column = QVBoxLayout(self)
        pad = round(em(self) * 1.2)
        self.column.setContentsMargins(pad, round(pad * 0.7), pad, round(pad * 0.7))
        self.column.setSpacing(round(em(self) * 0.5))

    def add_label(self, words: str = "", factor: float = 1.0) -> QLabel:
        """A label below the others; more than 1: a heading."""
        label = plain_label(self, words)
        if factor > 1:
            label.setFont(large(label, factor))
        self.column.addWidget(label)
        return label

    def action_of(self, event: QKeyEvent) -> str | None:
        """The method that a key calls; None for all other keys."""
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        return self.ACTIONS.get((event.key(), held))

    def event(self, event: QEvent) -> bool:
        """Keep the page's keys from the window's shortcuts."""
        ours = isinstance(event, QKeyEvent) and self.action_of(event) is not None
        if ours and event.type() is QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        name = self.action_of(event)
        if name is None:
            super().keyPressEvent(event)
        else:
            getattr(self, name)()


def plain_label(parent: QWidget, words: str = "") -> QLabel:
    """A label of plain text that wraps."""
    label = QLabel(words, parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    return label


class Progress(QWidget):
    """How far long work is, in words and as a bar; hidden while nothing is done."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self.words = plain_label(self)
        self.bar = QProgressBar(self)
        self.bar.setTextVisible(False)
        self.bar.setFixedHeight(round(em(self) * 0.7))
        row.addWidget(self.words, 2)
        row.addWidget(self.bar, 1)
        self.hide()

    def tell(self, words: str, done: int, of: int) -> None:
        """So many of so many are done."""
        self.words.setText(words.format(done=done, of=of))
        self.bar.setAccessibleName(self.words.text())
        self.bar.setRange(0, max(1, of))
        self.bar.setValue(done)
        self.show()


class _Line(InputLine):
    """A line that Escape leaves."""

    escaped = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            super().keyPressEvent(event)


class _Button(QPushButton):
    """A button that Enter presses and Escape leaves."""

    escaped = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        elif event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.click()
        else:
            super().keyPressEvent(event)


class Question(QWidget):
    """One question, answered by a button or by words in a line; Escape leaves it.

    `answered(words)`, or `left`. It is hidden while nothing is asked.
    """

    answered = Signal(str)
    left = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.words = plain_label(self)
        self.line = _Line(self)
        self.line.setMaxLength(1000)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.words, 2)
        self.button = _Button(self)
        row.addWidget(self.line, 1)
        row.addWidget(self.button)
        self.button.clicked.connect(self._on_return)
        self.button.escaped.connect(self._on_escaped)
        self.line.returnPressed.connect(self._on_return)
        self.line.escaped.connect(self._on_escaped)
        self._back: QWidget | None = None
        self.hide()

    @property
    def is_half_typed(self) -> bool:
        """Whether words stand there that were not taken."""
        return self.isVisible() and bool(self.line.text())

    def ask(self, words: str, button: str = "") -> None:
        """Ask for words, or only for this button to be pressed."""
        self._back = self._back or self.window().focusWidget()
        self.words.setText(words)
        self.line.clear()
        self.line.setVisible(not button)
        self.button.setVisible(bool(button))
        self.button.setText(button)
        self.line.setAccessibleName(words)
        self.button.setAccessibleName(f"{button}: {words}")
        self.show()
        asked: QWidget = self.button if button else self.line
        asked.setFocus(Qt.FocusReason.OtherFocusReason)

    def close_line(self) -> None:
        """Ask nothing more; the keys go back to where they were."""
        back, self._back = self._back, None
        if back is not None:
            back.setFocus(Qt.FocusReason.OtherFocusReason)
        self.hide()

    def _on_return(self) -> None:
        self.answered.emit(" ".join(self.line.text().split()))

    def _on_escaped(self) -> None:
        self.close_line()
        self.left.emit()
