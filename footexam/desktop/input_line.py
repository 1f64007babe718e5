"""A line to type in whose frame is seen in both themes; the style's own is too faint on dark."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QLineEdit

_ROUND = 2.0


class InputLine(QLineEdit):
    """A line edit; its frame is thicker while it has the keys."""

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self.hasFrame():
            return
        role, palette = QPalette.ColorRole, self.palette()
        focused = self.hasFocus()
        width = 2.0 if focused else 1.0
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(palette.color(role.Highlight if focused else role.Dark), width))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        inset = width / 2
        box = QRectF(self.rect()).adjusted(inset, inset, -inset, -inset)
        painter.drawRoundedRect(box, _ROUND, _ROUND)
        painter.end()
