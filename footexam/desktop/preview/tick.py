"""A box to tick whose outline is seen in both themes; the style's own is too faint on dark."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QCheckBox, QStyle, QStyleOptionButton, QWidget

from footexam.desktop.theme import Theme
from footexam.drawing.palette import Ink

MARK = ((0.22, 0.52), (0.42, 0.74), (0.80, 0.26))
"""The tick as shares of the box."""


class Tick(QCheckBox):
    """A check box with an outline and a tick in the colours of the theme."""

    def __init__(self, words: str, theme: Theme, parent: QWidget) -> None:
        super().__init__(words, parent)
        self._theme = theme

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        part = QStyle.SubElement.SE_CheckBoxIndicator
        box = QRectF(self.style().subElementRect(part, option, self)).adjusted(1, 1, -1, -1)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(self._theme.colour(Ink.SURFACE))
        ink = Ink.ACCENT if self.hasFocus() else Ink.BORDER
        painter.setPen(QPen(self._theme.colour(ink), 2.0 if self.hasFocus() else 1.2))
        painter.drawRect(box)
        if self.isChecked():
            side = box.size()
            points = [
                QPointF(box.x() + x * side.width(), box.y() + y * side.height()) for x, y in MARK
            ]
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self._theme.colour(Ink.INK), 2.0))
            painter.drawPolyline(QPolygonF(points))
        painter.end()
