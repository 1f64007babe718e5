"""The blank screen: nothing of a patient is to be seen; any key or click shows all again."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from footexam.desktop.texts import TEXTS


class BlankPage(QWidget):
    """An empty page; `woken` at the first key or click."""

    woken = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(TEXTS["blank"])
        column = QVBoxLayout(self)
        label = QLabel(TEXTS["blank"], self)
        label.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column.addWidget(label)

    def keyPressEvent(self, _event: QKeyEvent) -> None:
        self.woken.emit()

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        self.woken.emit()
