"""Tables: illnesses, medicines, wounds, training; by the kinds of their columns."""

from collections.abc import Sequence
from decimal import Decimal

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from footexam.catalogue.model import Catalogue, Column, Measure, say
from footexam.desktop.cells.matching import match_places
from footexam.desktop.cells.options import Option, OptionRow
from footexam.desktop.cells.rows import Field, FieldKind, RowsCell
from footexam.desktop.cells.words import tell
from footexam.desktop.theme import Theme
from footexam.desktop.typing import Typed
from footexam.drawing.palette import Ink
from footexam.messages import listed
from footexam.record.parse import NONE_KNOWN
from footexam.record.reading import NoneKnown, Reading, Rows
from footexam.record.refusal import in_digits

_MOST = 100
_FEW_PLACES = 4
_SHARES = {"text": 5, "region": 5, "date": 4, "week": 4, "choice": 3}
_LISTS = {"yes-no": ("yes", "no"), "side": ("left", "right", "both")}


def field_kind(column: Column, catalogue: Catalogue) -> FieldKind:
    """The field for a column, by its kind."""
    choices = tuple((word, catalogue.word(word)) for word in _LISTS.get(column.kind, column.words))
    if column.kind == "region":
        choices = tuple((region.id, say(region.label)) for region in catalogue.regions.values())
    hint, takes = _told(column, [shown for _, shown in choices])
    return FieldKind(
        id=column.id,
        label=say(column.label),
        hint=hint,
        takes=takes,
        share=_SHARES.get(column.kind, 2),
        choices=choices,
        places=column.kind == "region",
    )


def _told(column: Column, words: Sequence[str]) -> tuple[str, str]:
    """What stands in an empty field, and what it takes."""
    match column.kind:
        case "date" | "week":
            return tell(column.kind), tell(f"{column.kind}-takes")
        case "number":
            low, high = in_digits(column.hard_low), in_digits(column.hard_high)
            told = tell("range", low=low, high=high)
            return told, tell("number-takes", range=told)
        case "region":
            return "", tell("region-takes")
        case "text":
            return "", tell("text-takes")
        case _:
            return ", ".join(words), tell("words-take", words=listed(words))


class NoneBox(OptionRow):
    """The box "none known" before a table: `n` fills it; other letters begin the first row."""

    def __init__(self, measure: Measure, theme: Theme, owner: "TableCell") -> None:
        super().__init__(measure, theme, [Option(NONE_KNOWN, tell("none-known"))], owner)
        self._owner = owner

    def press(self, key: str) -> Typed:
        if key.casefold() == "n":
            return Typed("", 0, done=True)
        self._owner.begin(key)
        return Typed(known=False)

    def place_of(self, reading: Reading) -> int | None:
        return 0 if isinstance(reading.value, NoneKnown) else None

    def choose(self, place: int) -> None:
        """Fill the box or empty it."""
        if self.chosen is None:
            super().choose(place)
        else:
            self.clear()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Down:
            self._owner.begin("")
        else:
            super().keyPressEvent(event)


class TableCell(RowsCell):
    """A table measure. Undo brings a removed row back: the whole table is one reading."""

    def __init__(
        self, measure: Measure, theme: Theme, catalogue: Catalogue, parent: QWidget | None = None
    ) -> None:
        self.none: NoneBox | None = None
        self._shown_none = False
        self.catalogue = catalogue
        kinds = [field_kind(column, catalogue) for column in measure.columns]
        super().__init__(measure, theme, kinds, _MOST, parent)
        if measure.none_known:
            self._add_none()

    def _add_none(self) -> None:
        self.none = NoneBox(self.measure, self.theme, self)
        self.none.edited.connect(self._on_none)
        self.none.finished.connect(self._on_none_left)
        self.adopt(self.none)
        self.column.insertWidget(0, self.none)
        self.arrange()

    # --- none known

    def _is_none(self) -> bool:
        return self.none is not None and self.none.chosen is not None

    def _on_none(self) -> None:
        self.arrange()
        self.tell_edited()

    def _on_none_left(self, step: int) -> None:
        """Enter on the empty box goes on to the lines."""
        if step == 1 and not self._is_none():
            self.begin("")
        else:
            self.finished.emit(step)

    def begin(self, text: str) -> None:
        """Put the keys into the first row, behind letters already typed."""
        if self.none is not None and self._is_none():
            self.none.clear()
        first = self.rows[0][0]
        first.setFocus(Qt.FocusReason.TabFocusReason)
        if text:
            first.insert(text)
            self.tell_edited()

    def rows_shown(self) -> bool:
        return not self._is_none()

    def order(self) -> Sequence[QWidget]:
        if self.none is None:
            return self.fields()
        return [self.none] if self._is_none() else [self.none, *self.fields()]

    # --- the value

    def typed(self) -> object | None:
        return NONE_KNOWN if self._is_none() else super().typed()

    def shown(self) -> object | None:
        return NONE_KNOWN if self._shown_none else super().shown()

    def show_reading(self, reading: Reading | None) -> None:
        value = reading.value if reading is not None else None
        self._shown_none = isinstance(value, NoneKnown)
        if self.none is not None:
            self.none.show_reading(reading)
        rows = value.rows if isinstance(value, Rows) else ()
        self.show_content([{name: _text(cell) for name, cell in row.items()} for row in rows])

    # --- places of the foot map in a column

    def take(self, field: Field) -> None:
        if field.kind.places and field.text().strip():
            found = self._found(field)
            if field.value() not in self.catalogue.regions and found:
                field.show_value(found[0])
                self.tell_edited()
        super().take(field)

    def go(self, widget: QWidget, step: int) -> None:
        if isinstance(widget, Field):
            self.take(widget)
        super().go(widget, step)

    def field_edited(self, field: Field) -> None:
        super().field_edited(field)
        if field.kind.places:
            found = [dict(field.kind.choices)[name] for name in self._found(field)[:_FEW_PLACES]]
            words = tell("fitting", places="; ".join(found)) if found else tell("no-place-fits")
            self.note.say(words if field.text().strip() else tell("table-keys"), Ink.MUTED)

    def _found(self, field: Field) -> list[str]:
        return match_places(field.text(), self.catalogue.regions.values())

    def describe(self) -> None:
        super().describe()
        if self.none is not None:
            self.none.setAccessibleName(f"{self.name}: {tell('none-known')}")
            keys = tell("none-known-keys")
            self.none.setAccessibleDescription("; ".join(filter(None, (self.told, keys))))


def _text(cell: str | Decimal) -> str:
    return f"{cell:f}" if isinstance(cell, Decimal) else cell
