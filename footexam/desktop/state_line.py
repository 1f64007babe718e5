"""The saved state at the bottom: painted, so that its words never move the sheet above them."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from footexam.desktop.theme import Theme, em, small
from footexam.drawing.palette import Ink


class StateLine(QWidget):
    """One line of words, shortened where it has no room; trouble gets two."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._words = ""
        self._trouble = False
        self.setFont(small(self))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def text(self) -> str:
        """The words."""
        return self._words

    def say(self, words: str, *, trouble: bool) -> None:
        """Show words; `trouble`: something is not saved."""
        if words == self._words:
            return
        self._words = words
        self.setAccessibleName(words)
        self.setToolTip(words if trouble else "")
        if trouble != self._trouble:
            self._trouble = trouble
            self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(em(self) * 10, em(self) * (2 if self._trouble else 1) + 4)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(self._theme.colour(Ink.CAUTION if self._trouble else Ink.INK))
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        words = self._words
        if not self._trouble:
            elide = Qt.TextElideMode.ElideRight
            words = painter.fontMetrics().elidedText(words, elide, self.width())
        painter.drawText(self.rect(), flags | Qt.TextFlag.TextWordWrap, words)
        painter.end()
