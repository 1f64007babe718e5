"""A yes or no, and on a yes where: the places unfold under it."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from footexam.catalogue.model import Catalogue, Measure
from footexam.desktop.cells.chooser import PlaceChooser
from footexam.desktop.cells.compound import Compound
from footexam.desktop.cells.frame import Note
from footexam.desktop.cells.options import Option, WordCell
from footexam.desktop.cells.places import Places, marks_of
from footexam.desktop.cells.words import tell
from footexam.desktop.theme import Theme
from footexam.drawing.palette import Ink
from footexam.record.reading import Reading
from footexam.terms import Side


class SitesCell(Compound):
    """`y` is taken over at once, so that it counts while the place is still looked for."""

    def __init__(
        self,
        measure: Measure,
        theme: Theme,
        catalogue: Catalogue,
        side: Side | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(measure, theme, parent)
        words = [Option(word, catalogue.word(word)) for word in ("no", "yes")]
        self.answer = WordCell(measure, theme, words, self)
        self.places = Places(measure, catalogue)
        self.chooser = PlaceChooser(self.places, theme, side, self)
        self.note = Note(theme, Ink.CAUTION, self)
        self._shown: tuple[object, ...] = (None, ())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.answer, self.note, self.chooser):
            column.addWidget(widget)
        self.answer.edited.connect(self._on_edited)
        self.answer.finished.connect(self._on_answered)
        self.chooser.edited.connect(self._on_edited)
        self.chooser.leave.connect(self.finished)
        self.adopt(self.answer)
        self.adopt(self.chooser.line)
        self.chain()
        self._arrange()

    def order(self) -> Sequence[QWidget]:
        return (self.answer, self.chooser.line) if self._is_yes() else (self.answer,)

    def _is_yes(self) -> bool:
        return self.answer.typed() == "yes"

    def _arrange(self) -> None:
        """Places and the note belong to a yes only."""
        if not self._is_yes() and self.chooser.line.hasFocus():
            self.answer.setFocus(Qt.FocusReason.OtherFocusReason)
        self.chooser.setVisible(self._is_yes())
        missing = self._is_yes() and not self.places.marks
        self.note.say(tell("yes-no-site") if missing else "", Ink.CAUTION)
        self.describe()

    def _now(self) -> tuple[object, ...]:
        return self.answer.typed(), tuple(self.places.marks) if self._is_yes() else ()

    def _on_edited(self) -> None:
        self._arrange()
        self.note_edited(self._now() != self._shown)

    def _on_answered(self, step: int) -> None:
        """A new yes goes on to its places; everything else leaves the cell."""
        if not (self._is_yes() and self.dirty and step >= 0):
            self.finished.emit(step)
            return
        self.finished.emit(0)
        self.chooser.line.setFocus(Qt.FocusReason.TabFocusReason)
        self.chooser.unfold()

    def typed(self) -> object | None:
        answer = self.answer.typed()
        if not (self._is_yes() and self.places.marks):
            return answer
        return {"answer": answer, "sites": list(self.places.marks)}

    def show_reading(self, reading: Reading | None) -> None:
        self.answer.show_reading(reading)
        self.places.show(marks_of(reading))
        self._shown = self._now()
        self.dirty = False
        self.chooser.refresh()
        self._arrange()

    def left(self) -> None:
        self.chooser.fold()

    def describe(self) -> None:
        note = self.note.text()
        self.answer.setAccessibleName(self.name)
        self.answer.setAccessibleDescription("; ".join(filter(None, (note, self.told))))
        self.chooser.name = tell("where", name=self.name)
        self.chooser.told = "; ".join(filter(None, (note, self.told)))
        self.chooser.name_parts()
        self.chooser.describe()
