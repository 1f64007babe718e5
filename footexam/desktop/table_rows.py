"""What all tables have in common: one row is chosen at a time, and is painted as one."""

from collections.abc import Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from footexam.desktop.theme import em

Index = QModelIndex | QPersistentModelIndex
Row = TypeVar("Row")
ROOT = QModelIndex()
_LINE = 0.12
"""Height of the line under the cell that has the keys, in lines of text."""


class RowModel(QAbstractTableModel, Generic[Row]):
    """Rows under fixed heads; what a cell says is for the table itself."""

    def __init__(self, heads: Sequence[str], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.heads = heads
        self.rows: Sequence[Row] = ()

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def rowCount(self, parent: Index = ROOT) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = ROOT) -> int:
        return 0 if parent.isValid() else len(self.heads)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self.heads[section]
        return None


class RowDelegate(QStyledItemDelegate):
    """Underlines the cell that has the keys; the style would veil its words."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        plain = QStyleOptionViewItem(option)
        plain.state &= ~QStyle.StateFlag.State_HasFocus
        super().paint(painter, plain, index)
        if option.state & QStyle.StateFlag.State_HasFocus:
            line = option.rect.adjusted(2, 0, -2, -1)
            line.setTop(line.bottom() - max(1, round(option.fontMetrics.height() * _LINE)))
            painter.fillRect(line, option.palette.highlightedText())


def set_up_rows(table: QTableView, lines: float) -> None:
    """Let one whole row be chosen at a time; a row is at least so many lines of text high."""
    table.setItemDelegate(RowDelegate(table))
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setShowGrid(False)
    table.setAlternatingRowColors(True)
    table.setTabKeyNavigation(False)
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(round(em(table) * lines))
    head = table.horizontalHeader()
    head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    head.setHighlightSections(False)
