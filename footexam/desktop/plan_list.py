"""The list at the left of the plan sheet: heads, aims, features and what follows from them."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem, QWidget

from footexam.desktop.changed import changed_part
from footexam.desktop.plan_row_paint import ROW, Index, RowPaint
from footexam.desktop.plan_rows import Place, Row
from footexam.desktop.theme import Theme

STARTS_A_NUMBER = frozenset("0123456789+-,.\u2212")


class PlanList(QListWidget):
    """One row at a time is at hand; what it is about is a Place.

    `changed(place)`: another row is at hand. `toggled`, `entered`, `escaped`, `folded(open)`,
    `started(text)`: the keys of a row; a digit begins its first dimension.
    """

    changed = Signal(object)
    toggled = Signal()
    entered = Signal()
    escaped = Signal()
    folded = Signal(bool)
    started = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: list[Row] = []
        self._place: Place | None = None
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.setAccessibleName("Plan")
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setItemDelegate(RowPaint(theme, self))
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Base, palette.color(QPalette.ColorRole.Window))
        self.setPalette(palette)
        self.currentItemChanged.connect(self._on_current)
        self.itemDoubleClicked.connect(self._on_double)

    # --- showing

    @property
    def place(self) -> Place | None:
        """What the row at hand is about."""
        return self._place

    def rows(self) -> tuple[Row, ...]:
        """What is shown."""
        return tuple(self._rows)

    def show_rows(self, rows: list[Row]) -> None:
        """Show rows; the one at hand stays at hand, else the nearest takes its place."""
        if rows == self._rows:
            return
        before, at = self._place, self.currentRow()
        places = [row.place for row in rows]
        gone, new = changed_part([row.place for row in self._rows], places)
        self.blockSignals(True)
        for _ in self._rows[gone]:
            self.takeItem(gone.start)
        for number, row in enumerate(rows[new], new.start):
            item = QListWidgetItem()
            self._fill(item, row)
            self.insertItem(number, item)
        old = [*self._rows[: gone.start], *rows[new], *self._rows[gone.stop :]]
        self._rows = rows
        self._change([number for number, row in enumerate(rows) if row != old[number]])
        self.blockSignals(False)
        if gone == new and gone.start == gone.stop:
            return
        self._place = before if before in places else None
        if not self.go_to(before):
            self._go_near(max(0, at))
            self._on_current(self.currentItem(), None)

    def _change(self, numbers: list[int]) -> None:
        """Show what is new in rows that stay where they are."""
        before = [self.sizeHintForRow(number) for number in numbers]
        for number in numbers:
            self._fill(self.item(number), self._rows[number])
        if before != [self.sizeHintForRow(number) for number in numbers]:
            self.doItemsLayout()  # now: all that follows from a key is painted at once

    def dataChanged(self, first: Index, last: Index, roles: Sequence[int] = ()) -> None:
        """Paint what has changed; that all rows are laid out anew is for `_change` to say."""
        QAbstractItemView.dataChanged(self, first, last, roles)

    def _fill(self, item: QListWidgetItem, row: Row) -> None:
        words = f"{row.words}\n{row.below}" if row.below else row.words
        item.setData(ROW, row)
        item.setText(words)  # for who searches or reads it; RowPaint paints the row
        told = {True: ", chosen", False: ", not chosen", None: ""}[row.checked]
        item.setData(Qt.ItemDataRole.AccessibleTextRole, words.replace("\n", "; ") + told)
        shown = Qt.ItemFlag.NoItemFlags
        usable = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        item.setFlags(shown if row.is_head else usable)

    def go_to(self, place: Place | None) -> bool:
        """Put a row at hand; False if it is not shown."""
        for number, row in enumerate(self._rows):
            if row.place == place:
                self.setCurrentRow(number)
                self.scrollToItem(self.item(number))
                return True
        return False

    def go_first(self) -> None:
        """Put the first row at hand."""
        self._go_near(0)

    def _go_near(self, at: int) -> None:
        """The row at a number, or the first behind or before it that is no head."""
        usable = [number for number, row in enumerate(self._rows) if not row.is_head]
        if usable:
            self.setCurrentRow(min(usable, key=lambda number: (abs(number - at), number)))

    def _on_current(self, item: QListWidgetItem | None, _before: object) -> None:
        row: Row | None = item.data(ROW) if item is not None else None
        place = row.place if row is not None else None
        if place != self._place:
            self._place = place
            self.changed.emit(place)

    def _on_double(self, _item: QListWidgetItem) -> None:
        self.toggled.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.scrollToItem(self.currentItem())  # what is at hand stays in sight

    # --- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        held = event.modifiers() & ~(
            Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier
        )
        text = event.text()
        ways = {
            Qt.Key.Key_Space: self.toggled,
            Qt.Key.Key_Return: self.entered,
            Qt.Key.Key_Enter: self.entered,
            Qt.Key.Key_Escape: self.escaped,
        }
        way = ways.get(Qt.Key(event.key())) if event.key() in ways else None
        if held:
            event.ignore()
        elif way is not None:
            way.emit()
        elif event.key() in {Qt.Key.Key_Right, Qt.Key.Key_Left}:
            self.folded.emit(event.key() == Qt.Key.Key_Right)
        elif event.key() in {Qt.Key.Key_Home, Qt.Key.Key_End}:
            self._go_near(0 if event.key() == Qt.Key.Key_Home else len(self._rows))
        elif text and text in STARTS_A_NUMBER:
            self.started.emit(text)
        elif text and text.isprintable():
            event.ignore()  # a letter does not search: it would jump over what is to be read
        else:
            super().keyPressEvent(event)
