"""Several words as a row of boxes: first letters or Space fill a box and empty it again."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.options import Option, OptionRow
from footexam.desktop.theme import Theme
from footexam.desktop.typing import Typed, type_word
from footexam.record.reading import Reading, Words

_NONE = "none"


class SeveralCell(OptionRow):
    """The word "none" stands alone: it empties the others, and they empty it."""

    def __init__(
        self,
        measure: Measure,
        theme: Theme,
        words: Sequence[Option],
        parent: QWidget | None = None,
    ) -> None:
        self.filled: frozenset[str] = frozenset()
        self._shown: frozenset[str] = frozenset()
        super().__init__(measure, theme, words, parent)

    def press(self, key: str) -> Typed:
        typed = type_word(self.buffer, key, [option.shown for option in self.options])
        if typed.chosen is None or not typed.done:
            self._point(typed.buffer)
            return Typed(typed.buffer, known=typed.known)
        return Typed("", typed.chosen, done=False)  # the cell is left by Enter

    def _point(self, letters: str) -> None:
        """The first box that the letters can mean comes to hand."""
        if letters:
            shown = [option.shown.casefold() for option in self.options]
            self.at = next(at for at, word in enumerate(shown) if word.startswith(letters))

    def is_chosen(self, place: int) -> bool:
        return self.options[place].value in self.filled

    def choose(self, place: int) -> None:
        """Fill a box or empty it."""
        word = self.options[place].value
        if word in self.filled:
            self.filled -= {word}
        elif word == _NONE:
            self.filled = frozenset({word})
        else:
            self.filled = (self.filled | {word}) - {_NONE}
        self.at, self.buffer = place, ""
        self._edit()

    def clear(self) -> None:
        self.filled, self.buffer = frozenset(), ""
        self._edit()

    def click(self, place: int) -> None:
        self.choose(place)

    def _edit(self) -> None:
        self.dirty = self.filled != self._shown
        self.edited.emit()
        self.changed()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        lines = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.key() in lines and not event.modifiers():
            self._move_line(lines[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def _move_line(self, step: int) -> None:
        """The nearest box of the line above or below comes to hand."""
        boxes = self.boxes()
        here = boxes[self.at]
        tops = sorted({box.top() for box in boxes})
        line = tops.index(here.top()) + step
        if 0 <= line < len(tops):
            there = [at for at, box in enumerate(boxes) if box.top() == tops[line]]
            middle = here.center().x()
            self.at = min(there, key=lambda at: abs(boxes[at].center().x() - middle))
            self.changed()

    def typed(self) -> object | None:
        words = [option.value for option in self.options if option.value in self.filled]
        return words or None

    def show_reading(self, reading: Reading | None) -> None:
        value = reading.value if reading is not None else None
        self.filled = frozenset(value.words) if isinstance(value, Words) else frozenset()
        self._shown = self.filled
        super().show_reading(None)
