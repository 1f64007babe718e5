"""The rubric as a list: one key marks a domain and goes on, Space confirms a critical fail."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from footexam.desktop.marking.rubric_rows import Row, What
from footexam.desktop.marking.words import WORDS
from footexam.desktop.plan_row_paint import ROW, RowPaint
from footexam.desktop.theme import Theme


class RubricList(QListWidget):
    """One row at a time is at hand.

    `marked(row, digit)`, `confirmed(row)`, `stepped(row, step)` on a grade, `looked_at(detail)` of
    the row at hand while the list has the keys, `passed` when Down leaves the last row.
    """

    marked = Signal(object, int)
    confirmed = Signal(object)
    stepped = Signal(object, int)
    looked_at = Signal(str)
    passed = Signal()

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._rows: list[Row] = []
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.setAccessibleName(WORDS["marks"])
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setItemDelegate(RowPaint(theme, self))
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Base, palette.color(QPalette.ColorRole.Window))
        self.setPalette(palette)
        self.currentItemChanged.connect(self._on_current)
        self.itemDoubleClicked.connect(self._on_double)

    def minimumSizeHint(self) -> QSize:
        """A few rows are always to be seen."""
        return QSize(super().minimumSizeHint().width(), self.fontMetrics().height() * 6)

    # --- showing

    def rows(self) -> tuple[Row, ...]:
        """What is shown."""
        return tuple(self._rows)

    def show_rows(self, rows: list[Row]) -> None:
        """Show rows; the one at hand stays at hand."""
        if [(row.what, row.id) for row in rows] != [(row.what, row.id) for row in self._rows]:
            self.clear()
            self._rows = []
            for _ in rows:
                self.addItem(QListWidgetItem())
        old = [*self._rows, *([None] * (len(rows) - len(self._rows)))]
        for at, (before, row) in enumerate(zip(old, rows, strict=True)):
            if before != row:
                self._fill(self.item(at), row)
        self._rows = rows
        self._tell(self.currentItem())

    def _fill(self, item: QListWidgetItem, row: Row) -> None:
        words = f"{row.words}\n{row.below}" if row.below else row.words
        item.setData(ROW, row)
        item.setText(words)  # for who reads it aloud; RowPaint paints the row
        told = {True: ", confirmed", False: ", not confirmed", None: ""}[row.checked]
        item.setData(Qt.ItemDataRole.AccessibleTextRole, words.replace("\n", "; ") + told)
        usable = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        item.setFlags(Qt.ItemFlag.NoItemFlags if row.is_head else usable)

    def row_at_hand(self) -> Row | None:
        """The row at hand."""
        at = self.currentRow()
        return self._rows[at] if 0 <= at < len(self._rows) else None

    def go_to(self, what: What, name: str = "") -> None:
        """Put a row at hand: the first of its kind, or the one of that name."""
        for at, row in enumerate(self._rows):
            if row.what is what and name in {"", row.id}:
                self.setCurrentRow(at)
                self.scrollToItem(self.item(at))
                return

    def go_on(self) -> None:
        """The next row that is no head, if there is one."""
        for at in range(self.currentRow() + 1, len(self._rows)):
            if not self._rows[at].is_head:
                self.setCurrentRow(at)
                self.scrollToItem(self.item(at))
                return

    def _on_current(self, now: QListWidgetItem | None, _before: object) -> None:
        self._tell(now)

    def _tell(self, item: QListWidgetItem | None) -> None:
        row: Row | None = item.data(ROW) if item is not None else None
        if row is not None and self.hasFocus():
            self.looked_at.emit(row.detail)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._tell(self.currentItem())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The row at hand stays in sight."""
        super().resizeEvent(event)
        self.scrollToItem(self.currentItem())

    def _on_double(self, _item: QListWidgetItem) -> None:
        self._confirm()

    # --- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        row, text = self.row_at_hand(), event.text()
        if held or row is None:
            event.ignore()
        elif text.isdecimal() and text.isascii():
            self.marked.emit(row, int(text))
        elif event.key() == Qt.Key.Key_Space:
            self._confirm()
        elif event.key() in {Qt.Key.Key_Left, Qt.Key.Key_Right}:
            self.stepped.emit(row, 1 if event.key() == Qt.Key.Key_Right else -1)
        elif event.key() == Qt.Key.Key_Down and self.currentRow() == len(self._rows) - 1:
            self.passed.emit()
        elif event.key() == Qt.Key.Key_Escape or (text and text.isprintable()):
            event.ignore()  # a letter does not search
        else:
            super().keyPressEvent(event)

    def _confirm(self) -> None:
        row = self.row_at_hand()
        if row is not None and row.what is What.CRITICAL:
            self.confirmed.emit(row)
