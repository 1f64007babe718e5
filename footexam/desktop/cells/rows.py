"""Rows of line edits with column labels: tables, and the activities a patient names."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QFocusEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.compound import Compound
from footexam.desktop.cells.frame import Note
from footexam.desktop.cells.matching import Choice, complete
from footexam.desktop.cells.words import tell
from footexam.desktop.input_line import InputLine
from footexam.desktop.theme import Theme, em, small
from footexam.drawing.palette import Ink
from footexam.record.refusal import LONGEST_TEXT

_NARROWEST = 5.6
"""Least width of a column in lines of text; with less room a row takes several lines."""
_ENTER = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})


@dataclass(frozen=True, slots=True)
class FieldKind:
    """One column: its label, what stands in an empty field, what it takes, its share of width.

    `choices` are words that the first letters complete. `places`: they are those of the foot map,
    too many to tell apart so; Enter takes the first that fits.
    """

    id: str
    label: str
    hint: str
    takes: str
    share: int = 3
    choices: tuple[Choice, ...] = ()
    places: bool = False


class Field(InputLine):
    """One field of a row."""

    def __init__(self, kind: FieldKind, owner: "RowsCell") -> None:
        super().__init__(owner)
        self.kind = kind
        self._owner = owner
        self.setMaxLength(LONGEST_TEXT)
        self.setPlaceholderText(kind.hint)
        self.setMinimumWidth(round(em(self) * 2.6))
        self.label = QLabel(kind.label, owner)
        self.label.setFont(small(self))
        self.label.setWordWrap(True)
        self.label.setTextFormat(Qt.TextFormat.PlainText)
        self.label.setBuddy(self)
        self.textEdited.connect(self._on_edited)

    def _on_edited(self, _text: str) -> None:
        self._owner.field_edited(self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._owner.press(self, event):
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() == Qt.FocusReason.TabFocusReason:
            self.selectAll()
        self._owner.field_entered(self)

    def value(self) -> str:
        """What is typed, a word of the list in full."""
        return complete(self.text(), self.kind.choices).strip()

    def show_value(self, value: str) -> None:
        """Show a value, a word of the list as it is shown to people."""
        shown = dict(self.kind.choices).get(value, value)
        if shown != self.text():
            self.setText(shown)
            self.setCursorPosition(0)

    def complete(self) -> None:
        """Write the word out that the letters mean."""
        self.show_value(self.value())

    def retire(self) -> None:
        """Go, with the label."""
        for widget in (self, self.label):
            widget.hide()
            widget.deleteLater()


class RowsCell(Compound):
    """Enter goes from field to field and at the end to a new row; a row without text is nothing."""

    def __init__(
        self,
        measure: Measure,
        theme: Theme,
        kinds: Sequence[FieldKind],
        most: int,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(measure, theme, parent)
        self.kinds = tuple(kinds)
        self.most = most
        self.rows: list[list[Field]] = []
        self._shown: list[dict[str, str]] = []
        self._per_line = len(self.kinds)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(round(em(self) * 0.2))
        self.grid = QGridLayout()
        self.grid.setHorizontalSpacing(round(em(self) * 0.4))
        self.grid.setVerticalSpacing(round(em(self) * 0.15))
        self.column.addLayout(self.grid)
        self.note = Note(theme, Ink.MUTED, self)
        self.column.addWidget(self.note)
        self._add_row()
        self.arrange()

    # --- rows

    def _add_row(self) -> list[Field]:
        row = [Field(kind, self) for kind in self.kinds]
        for field in row:
            self.adopt(field)
        self.rows.append(row)
        return row

    def fields(self) -> list[Field]:
        """All fields in reading order."""
        return [field for row in self.rows for field in row]

    def order(self) -> Sequence[QWidget]:
        return self.fields()

    def content(self) -> list[dict[str, str]]:
        """The rows with something typed, each with its filled columns only."""
        rows = [
            {field.kind.id: field.value() for field in row if field.value()} for row in self.rows
        ]
        return [row for row in rows if row]

    def show_content(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Show these rows; while the keys are here an empty row at the end stays."""
        kept = len(self.rows) if self.has_keys and not any(_texts(self.rows[-1])) else 0
        wanted = max(1, len(rows), min(kept, len(rows) + 1))
        while len(self.rows) < wanted:
            self._add_row()
        while len(self.rows) > wanted:
            self._drop(len(self.rows) - 1)
        for at, row in enumerate(self.rows):
            for field in row:
                field.show_value(rows[at].get(field.kind.id, "") if at < len(rows) else "")
        self._shown = [dict(row) for row in rows]
        self.dirty = False
        self.arrange()

    def _drop(self, at: int) -> None:
        row = self.rows.pop(at)
        for field in row:
            field.removeEventFilter(self)
            field.retire()

    def _remove(self, at: int, column: int) -> None:
        """Remove a row; the keys go to the row that comes in its place. Undo brings it back."""
        if len(self.rows) == 1:
            self._add_row()
            self.arrange()
        there = self.rows[at + 1] if at + 1 < len(self.rows) else self.rows[at - 1]
        there[column].setFocus(Qt.FocusReason.TabFocusReason)
        self._drop(at)
        self.arrange()
        self.tell_edited()

    # --- keys

    def press(self, field: Field, event: QKeyEvent) -> bool:
        """What a key in a field means that is not text; False: nothing."""
        row = next(at for at, fields in enumerate(self.rows) if field in fields)
        column = self.rows[row].index(field)
        modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        control = modifiers == Qt.KeyboardModifier.ControlModifier
        if event.key() in _ENTER and not modifiers:
            self._enter(row, column)
        elif event.key() in _ENTER and modifiers == Qt.KeyboardModifier.ShiftModifier:
            self.go(field, -1)
        elif event.key() == Qt.Key.Key_Delete and control:
            self._remove(row, column)
        elif event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down} and not modifiers:
            to = row + (1 if event.key() == Qt.Key.Key_Down else -1)
            if 0 <= to < len(self.rows):
                field.complete()
                self.rows[to][column].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            return False
        return True

    def _enter(self, row: int, column: int) -> None:
        """On to the next field; a row that is still empty ends the table."""
        self.take(self.rows[row][column])
        last_row = row == len(self.rows) - 1
        last = last_row and column == len(self.kinds) - 1
        if last_row and not any(_texts(self.rows[row])):
            self.leave()
        elif not last:
            self.go(self.rows[row][column], 1)
        elif len(self.rows) < self.most:
            self._add_row()
            self.arrange()
            self.rows[-1][0].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self.leave()

    def leave(self) -> None:
        """Leave the cell, forward."""
        self.settle()
        self.finished.emit(1)

    def take(self, field: Field) -> None:
        """Enter in a field: what its letters mean is written out."""
        field.complete()

    def settle(self) -> None:
        for field in self.fields():
            field.complete()

    def left(self) -> None:
        """Empty rows at the end go, and the words on keys."""
        self.note.say("", Ink.MUTED)
        while len(self.rows) > 1 and not any(_texts(self.rows[-1])):
            self._drop(len(self.rows) - 1)
        self.arrange()

    # --- what happens in the fields

    def field_edited(self, _field: Field) -> None:
        """Something was typed."""
        self.tell_edited()

    def field_entered(self, _field: Field) -> None:
        """The keys came to a field."""
        self.note.say(tell("table-keys"), Ink.MUTED)

    def tell_edited(self) -> None:
        """Tell the cell whether what is typed differs from what the record holds."""
        self.note_edited(self.typed() != self.shown())

    def shown(self) -> object | None:
        """What the record holds, in the form of `typed`."""
        return self._shown or None

    def typed(self) -> object | None:
        return self.content() or None

    # --- layout

    def minimumSizeHint(self) -> QSize:
        """One column wide: rows break before the sheet has to."""
        return QSize(round(_NARROWEST * em(self)), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        fitting = max(1, int(self.width() / (_NARROWEST * em(self))))
        lines = ceil(len(self.kinds) / fitting)
        per_line = ceil(len(self.kinds) / lines)
        if per_line != self._per_line:
            self._per_line = per_line
            QTimer.singleShot(0, self, self.arrange)

    def arrange(self) -> None:
        """Put the fields in their places: a row on one line, or on several where it is narrow."""
        lines = ceil(len(self.kinds) / self._per_line)
        for at, row in enumerate(self.rows):
            for column, field in enumerate(row):
                line, place = divmod(column, self._per_line)
                below = 2 * (at * lines + line)
                self.grid.addWidget(field.label, below, place, Qt.AlignmentFlag.AlignBottom)
                self.grid.addWidget(field, below + 1, place)
                field.label.setVisible(self.rows_shown() and (lines > 1 or at == 0))
                field.setVisible(self.rows_shown())
        for place, kind in enumerate(self.kinds):
            self.grid.setColumnStretch(place, 0 if place >= self._per_line else _share(kind, lines))
        self.chain()
        self.describe()

    def rows_shown(self) -> bool:
        """Whether the fields are to be seen."""
        return True

    def describe(self) -> None:
        for at, row in enumerate(self.rows):
            for field in row:
                words = {"name": self.name, "line": at + 1, "column": field.kind.label}
                field.setAccessibleName(tell("field", **words))
                told = (field.kind.takes, self.told, tell("table-keys"))
                field.setAccessibleDescription("; ".join(filter(None, told)))


def _share(kind: FieldKind, lines: int) -> int:
    """Columns of equal width where a row takes several lines."""
    return kind.share if lines == 1 else 1


def _texts(row: Sequence[Field]) -> list[str]:
    return [field.text().strip() for field in row]
