"""The outline at the left: the panels by position of the patient, and how much is filled."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from footexam.catalogue.model import say
from footexam.desktop.session import Session
from footexam.desktop.theme import Theme, em, small
from footexam.drawing.palette import Ink
from footexam.reasoning.sheet import Sheet


@dataclass(frozen=True, slots=True)
class OutlineRow:
    """One panel: its label, the position of the patient, and how much of its sheet is filled."""

    panel: str
    label: str
    position: str
    filled: int
    of: int


def outline_rows(session: Session, sheet: Sheet) -> list[OutlineRow]:
    """How much of each panel's sheet is filled; derived measures do not count."""
    counts = sheet.counts(session.facts, session.recorded_measures)
    return [
        OutlineRow(panel.id, say(panel.label), say(panel.position), *counts[panel.id])
        for panel in session.catalogue.panels.values()
    ]


class _PanelButton(QAbstractButton):
    """A panel in the outline: label, a bar and its words."""

    def __init__(self, row: OutlineRow, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.row = row
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.show_row(row)

    def show_row(self, row: OutlineRow) -> None:
        """Show a panel's state."""
        self.row = row
        self.setText(row.label)
        self.setAccessibleName(f"{row.label}, {row.filled} of {row.of} filled")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(round(em(self) * 9), round(em(self) * 2.9))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line, width = em(self), self.width()
        if self.isChecked():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.palette().base())
            painter.setBrush(self._theme.colour(Ink.ACCENT))
            painter.drawRect(QRectF(0, line * 0.2, line * 0.25, self.height() - line * 0.4))
        font = self.font()
        font.setBold(self.isChecked())
        painter.setFont(font)
        painter.setPen(self._theme.colour(Ink.INK))
        left = line * 0.7
        painter.drawText(QRectF(left, line * 0.2, width - left, line * 1.3), self.text())
        painter.setFont(small(self))
        painter.setPen(self._theme.colour(Ink.MUTED))
        words = f"{self.row.filled} of {self.row.of}"
        share = QRectF(left, line * 1.75, width - left - line * 0.5, line)
        painter.drawText(share, Qt.AlignmentFlag.AlignRight, words)
        self._paint_bar(painter, left, line * 1.62, width - left - line * 0.5)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self._theme.colour(Ink.INK), 2))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 4, 4)
        painter.end()

    def _paint_bar(self, painter: QPainter, x: float, y: float, width: float) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._theme.colour(Ink.RULE))
        painter.drawRect(QRectF(x, y, width, 3))
        painter.setBrush(self._theme.colour(Ink.ACCENT))
        part = self.row.filled / self.row.of if self.row.of else 0.0
        painter.drawRect(QRectF(x, y, width * part, 3))


class Outline(QWidget):
    """All panels in order; `chosen(panel)` when one is clicked or entered."""

    chosen = Signal(str)

    def __init__(
        self, rows: Sequence[OutlineRow], theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._buttons: dict[str, _PanelButton] = {}
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        self._area = QScrollArea(self)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setWidgetResizable(True)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        whole.addWidget(self._area)
        inner = QWidget(self._area)
        column = QVBoxLayout(inner)
        pad = round(em(self) * 0.6)
        column.setContentsMargins(pad, pad, pad, pad)
        column.setSpacing(round(em(self) * 0.15))
        position = ""
        for row in rows:
            if row.position != position:
                position = row.position
                column.addWidget(self._position(position))
            button = _PanelButton(row, theme, self)
            button.clicked.connect(self._on_clicked)
            self._buttons[row.panel] = button
            column.addWidget(button)
        column.addStretch(1)
        self._area.setWidget(inner)

    def _position(self, words: str) -> QLabel:
        label = QLabel(words.capitalize(), self)
        label.setFont(small(self))
        label.setContentsMargins(0, round(em(self) * 0.5), 0, 0)
        return label

    def _on_clicked(self) -> None:
        button = self.sender()
        if isinstance(button, _PanelButton):
            self.chosen.emit(button.row.panel)

    def show_rows(self, rows: Sequence[OutlineRow], current: str) -> None:
        """Show how much is filled, and which panel is open."""
        for row in rows:
            button = self._buttons[row.panel]
            if button.row != row:
                button.show_row(row)
            if row.panel == current and not button.isChecked():
                self._area.ensureWidgetVisible(button)
            button.setChecked(row.panel == current)

    def focus_current(self) -> None:
        """Put the keys onto the open panel's button."""
        for button in self._buttons.values():
            if button.isChecked():
                button.setFocus(Qt.FocusReason.TabFocusReason)
