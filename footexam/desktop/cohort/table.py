"""The table of the cohort page: rows of words; Enter goes in, everything else is the page's."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget

from footexam.desktop.cohort.words import WORDS
from footexam.desktop.table_rows import Index, RowModel, set_up_rows
from footexam.desktop.theme import em

_WIDEST = 13.0
"""The widest that a column gets of itself but for the wide one, in lines of text."""
_NARROWEST = 13.0
"""The narrowest that a wide column with wider words gets where there is too little room."""


@dataclass(frozen=True, slots=True)
class Table:
    """Heads of the columns, and rows of as many words; `keys` is what each row is about.

    `wide` is the column that takes the room that is left; `wraps`: its words take several lines.
    """

    heads: tuple[str, ...]
    rows: Sequence[tuple[str, ...]]
    keys: Sequence[object]
    wide: int = 0
    wraps: bool = False


EMPTY = Table((), (), ())


class TableModel(RowModel[tuple[str, ...]]):
    """The rows of one table."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__((), parent)
        self.table = EMPTY

    def show_table(self, table: Table) -> None:
        """Show another table, which has its own heads."""
        self.table, self.heads = table, table.heads
        self.show_rows(table.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        words = self.table.rows[index.row()][index.column()]
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole}:
            return words
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{self.table.heads[index.column()]}: {words or WORDS['none']}"
        return None


class TableView(QTableView):
    """`entered(row)` on Enter or a double click, `moved(row)` when another row is chosen."""

    entered_row = Signal(int)
    moved = Signal(int)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.rows = TableModel(self)
        self.setModel(self.rows)
        set_up_rows(self, 1.7)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().setMinimumSectionSize(round(em(self) * 1.7))
        self.doubleClicked.connect(self._on_double_click)

    def show_table(self, table: Table, row: int = 0) -> None:
        """Show a table with one of its rows chosen."""
        self.rows.show_table(table)
        self.setWordWrap(table.wraps)
        self._set_widths()
        if table.rows:
            self.choose(min(row, len(table.rows) - 1))

    def choose(self, row: int) -> None:
        """Choose a row."""
        self.setCurrentIndex(self.rows.index(row, max(self.currentIndex().column(), 0)))

    def row(self) -> int:
        """The chosen row; -1 without one."""
        return self.currentIndex().row()

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        if current.isValid() and current.row() != previous.row():
            self.moved.emit(current.row())

    def _set_widths(self) -> None:
        """As wide as the words; one column takes what is left."""
        table, pad = self.rows.table, round(em(self) * 0.6)
        metrics = self.fontMetrics()
        widths = []
        for column, head in enumerate(table.heads):
            words = [head, *(row[column] for row in table.rows[:200])]
            widest = max(map(metrics.horizontalAdvance, words))
            most = widest + pad if column == table.wide else round(em(self) * _WIDEST)
            widths.append(min(widest + pad, most))
        room = self.viewport().width() - sum(widths)
        for column, width in enumerate(widths):
            least = min(width, round(em(self) * _NARROWEST))
            self.setColumnWidth(column, max(least, width + room * (column == table.wide)))
        if table.wraps:
            self.resizeRowsToContents()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._set_widths()

    def _on_double_click(self, index: QModelIndex) -> None:
        self.entered_row.emit(index.row())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = self.rows.rowCount() - 1
        plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if plain and event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self.row() >= 0:
            self.entered_row.emit(self.row())
        elif plain and event.key() in {Qt.Key.Key_Home, Qt.Key.Key_End} and last >= 0:
            self.choose(0 if event.key() == Qt.Key.Key_Home else last)
        elif event.key() == Qt.Key.Key_Escape or event.modifiers() & _HELD:
            event.ignore()  # the page knows what it means
        else:
            super().keyPressEvent(event)


_HELD = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
