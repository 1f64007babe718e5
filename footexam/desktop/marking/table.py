"""The table of a comparison: a shape and words for each result, and what both wrote below it."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import (
    QModelIndex,
    QPointF,
    QRectF,
    Qt,
    Signal,
)
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from footexam.desktop.marking.rows import COLUMNS, Mark, Row
from footexam.desktop.marking.words import WORDS
from footexam.desktop.table_rows import Index, RowDelegate, RowModel, set_up_rows
from footexam.desktop.theme import Theme, em
from footexam.drawing.palette import Ink

SHARES = (0.17, 0.29, 0.12, 0.12, 0.1, 0.07, 0.13)
"""Of the width that the table has."""
MARK = Qt.ItemDataRole.UserRole
_INKS = {
    Mark.LOOK: Ink.CAUTION,
    Mark.APART: Ink.ABOVE,
    Mark.MISSING: Ink.ABOVE,
    Mark.UNJUDGED: Ink.MUTED,
    Mark.AGREED: Ink.INK,
}


class _Model(RowModel[Row]):
    """The rows of a comparison."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(COLUMNS, parent)
        self._theme = theme

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row, column = self.rows[index.row()], index.column()
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return row.cells[column]
            case Qt.ItemDataRole.ForegroundRole:
                return self._theme.colour(_INKS[row.mark] if column == 0 else Ink.INK)
            case Qt.ItemDataRole.AccessibleTextRole:
                return f"{COLUMNS[column]}: {row.cells[column]}" if row.cells[column] else ""
            case Qt.ItemDataRole.TextAlignmentRole:
                return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        return row.mark if role == MARK else None


class _Result(RowDelegate):
    """Paints the shape of a result before its words, so that colour is not needed."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        super().initStyleOption(option, index)
        option.rect.setLeft(option.rect.left() + _room(option))

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> Any:
        size = super().sizeHint(option, index)
        size.setWidth(size.width() + _room(option))
        return size

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        whole = QStyleOptionViewItem(option)
        if option.state & option.state.State_Selected:
            painter.fillRect(option.rect, option.palette.highlight())
        super().paint(painter, option, index)
        mark: Mark = index.data(MARK)
        side = whole.fontMetrics.height() * 0.62
        left, top = whole.rect.left() + side * 0.6, whole.rect.top() + side * 0.5
        selected = bool(option.state & option.state.State_Selected)
        ink = option.palette.highlightedText().color() if selected else None
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(ink or self._theme.colour(_INKS[mark]), max(1.4, side * 0.14)))
        painter.setBrush(
            painter.pen().color() if mark in {Mark.LOOK, Mark.APART} else Qt.GlobalColor.transparent
        )
        _shape(painter, mark, QRectF(left, top, side, side))
        painter.restore()


def _room(option: QStyleOptionViewItem) -> int:
    return round(option.fontMetrics.height() * 1.05)


def _shape(painter: QPainter, mark: Mark, box: QRectF) -> None:
    """A filled triangle, a filled diamond, an open square, a line, a ring."""
    x, y, middle = box.x(), box.y(), box.center()
    match mark:
        case Mark.LOOK:
            corners = [QPointF(middle.x(), y), box.bottomRight(), box.bottomLeft()]
            painter.drawPolygon(QPolygonF(corners))
        case Mark.APART:
            sides = [QPointF(middle.x(), y), QPointF(box.right(), middle.y())]
            sides += [QPointF(middle.x(), box.bottom()), QPointF(x, middle.y())]
            painter.drawPolygon(QPolygonF(sides))
        case Mark.MISSING:
            painter.drawRect(box)
        case Mark.UNJUDGED:
            painter.drawLine(QPointF(x, middle.y()), QPointF(box.right(), middle.y()))
        case Mark.AGREED:
            painter.drawEllipse(box)


class ComparisonTable(QTableView):
    """One row an item. `looked_at(detail)`: what both wrote, while the table has the keys."""

    looked_at = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = _Model(theme, self)
        self.setModel(self._model)
        self.setAccessibleName(WORDS["comparison"])
        set_up_rows(self, 1.7)
        self.setItemDelegateForColumn(0, _Result(theme, self))
        self.setWordWrap(True)
        self.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.selectionModel().currentRowChanged.connect(self._on_row)

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show a comparison from its first row on."""
        self.clearSpans()
        self._model.show_rows(rows)
        for at, row in enumerate(rows):
            if row.spanning:
                self.setSpan(at, 1, 1, len(COLUMNS) - 1)
        self._fit()
        self.setCurrentIndex(self._model.index(0, 0))

    def rows(self) -> Sequence[Row]:
        """What is shown."""
        return self._model.rows

    def _fit(self) -> None:
        """Columns as wide as the table, rows as high as their words."""
        room = max(self.viewport().width(), round(em(self) * 20))
        for at, share in enumerate(SHARES):
            self.setColumnWidth(at, int(room * share))
        self.resizeRowsToContents()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self._fit()

    def _on_row(self, now: QModelIndex, _before: QModelIndex) -> None:
        if now.isValid() and self.hasFocus():
            self.looked_at.emit(self._model.rows[now.row()].detail)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._on_row(self.currentIndex(), QModelIndex())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape or (event.text() and event.text().isprintable()):
            event.ignore()  # a letter does not search: it would jump over what is to be read
        else:
            super().keyPressEvent(event)
