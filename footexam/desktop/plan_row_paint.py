"""How a row of a list is painted: a box for what can be chosen, words, a smaller line."""

from typing import Protocol

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from footexam.desktop.theme import Theme
from footexam.drawing.palette import Ink

Index = QModelIndex | QPersistentModelIndex
ROW = Qt.ItemDataRole.UserRole
ABOVE_A_HEAD, STEP, BOX, GAP, PAD = 0.7, 1.5, 0.78, 0.45, 0.16
"""In lines of text: room above a head, before what belongs to an aim; a box, the room behind it;
above and below the words.
"""
SMALL = 0.88
MOST_HEIGHTS = 2000
"""How many rows that were laid out are kept."""
_WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
_TICK = ((0.20, 0.52), (0.42, 0.74), (0.82, 0.26))
"""The tick in its box, in shares of it."""


class Row(Protocol):
    """What is painted; `checked` None has no box, `below` is a smaller second line."""

    @property
    def words(self) -> str: ...
    @property
    def below(self) -> str: ...
    @property
    def checked(self) -> bool | None: ...
    @property
    def ink(self) -> Ink: ...
    @property
    def level(self) -> int: ...
    @property
    def is_head(self) -> bool: ...


class RowPaint(QStyledItemDelegate):
    """Paints rows and tells how high they are."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme
        self._heights: dict[tuple[Row, bool, int, str], int] = {}

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row: Row = index.data(ROW)
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            self._mark(painter, option)
        box, words, below = self._places(option, index, row)
        if row.checked is not None:
            self._box(painter, box, checked=row.checked)
        painter.setFont(_bold(option.font, row))
        worry = row.ink is Ink.CAUTION
        painter.setPen(self._theme.colour(Ink.INK if row.below and worry else row.ink))
        painter.drawText(words, _WRAP, row.words)
        if row.below:
            painter.setFont(_small(option.font))
            painter.setPen(self._theme.colour(Ink.CAUTION if worry else Ink.MUTED))
            painter.drawText(below, _WRAP, row.below)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        view = self.parent()
        if isinstance(view, QWidget) and hasattr(view, "viewport"):
            option.rect = QRect(0, 0, view.viewport().width(), 0)
        row: Row = index.data(ROW)
        key = row, index.row() > 0, option.rect.width(), option.font.key()
        if key not in self._heights:
            if len(self._heights) > MOST_HEIGHTS:
                self._heights.clear()
            _, words, below = self._places(option, index, row)
            bottom = max(words.bottom(), below.bottom())
            self._heights[key] = bottom + round(option.fontMetrics.height() * PAD) + 1
        return QSize(option.rect.width(), self._heights[key])

    def _mark(self, painter: QPainter, option: QStyleOptionViewItem) -> None:
        """The row at hand; a bar beside it while the list has the keys."""
        painter.fillRect(option.rect, QColor(self._theme.selected))
        if option.state & QStyle.StateFlag.State_HasFocus:
            bar = QRect(option.rect)
            bar.setWidth(max(3, round(option.fontMetrics.height() * 0.2)))
            painter.fillRect(bar, self._theme.colour(Ink.ACCENT))

    def _places(
        self, option: QStyleOptionViewItem, index: Index, row: Row
    ) -> tuple[QRectF, QRect, QRect]:
        """Where the box, the words and the line below them stand."""
        line = option.fontMetrics.height()
        top = option.rect.top() + round(line * PAD)
        if row.is_head and index.row() > 0:
            top += round(line * ABOVE_A_HEAD)
        left = option.rect.left() + round(line * (0.5 + STEP * row.level))
        box = QRectF(left, top + line * (1 - BOX) / 2, line * BOX, line * BOX)
        if row.checked is not None:
            left += round(line * (BOX + GAP))
        room = QRect(left, top, max(1, option.rect.right() - left - round(line * 0.4)), 10_000)
        words = QFontMetrics(_bold(option.font, row)).boundingRect(room, _WRAP, row.words)
        below = QRect(room)
        below.setTop(words.bottom() + 1)
        if row.below:
            below = QFontMetrics(_small(option.font)).boundingRect(below, _WRAP, row.below)
        else:
            below.setHeight(0)
        words.setWidth(room.width())
        below.setWidth(room.width())
        return box, words, below

    def _box(self, painter: QPainter, box: QRectF, *, checked: bool) -> None:
        """A box, filled and ticked for what is chosen: told without colour."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = self._theme.colour(Ink.ACCENT if checked else Ink.BORDER)
        painter.setPen(QPen(ink, max(1.0, box.width() * 0.09)))
        painter.setBrush(ink if checked else self._theme.colour(Ink.SURFACE))
        painter.drawRoundedRect(box, box.width() * 0.15, box.width() * 0.15)
        if checked:
            points = [
                QPointF(box.x() + x * box.width(), box.y() + y * box.height()) for x, y in _TICK
            ]
            painter.setPen(QPen(self._theme.colour(Ink.SURFACE), box.width() * 0.14))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPolyline(QPolygonF(points))


def _bold(font: QFont, row: Row) -> QFont:
    if not row.is_head:
        return font
    bold = QFont(font)
    bold.setBold(True)
    return bold


def _small(font: QFont) -> QFont:
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * SMALL)
    return small
