"""What all tables have in common: one row is chosen at a time, and is painted as one."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt
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
_LINE = 0.12
"""Height of the line under the cell that has the keys, in lines of text."""


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
