"""The bar of the parts of the cohort page; the shown one is underlined, in every colour scheme."""

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QTabBar, QWidget

from footexam.desktop.theme import Theme, em
from footexam.drawing.palette import Ink


class PartBar(QTabBar):
    """Left and Right choose a part while it has the keys."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setDrawBase(False)
        self.setExpanding(False)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        box = self.tabRect(self.currentIndex())
        high = max(3, em(self) // 6)
        painter = QPainter(self)
        line = QRect(box.left() + 2, box.bottom() - high + 1, box.width() - 4, high)
        painter.fillRect(line, self._theme.colour(Ink.ACCENT))
        painter.end()
