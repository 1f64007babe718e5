"""Places of the foot map in a cell: chosen ones, or a number for each place looked at."""

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from footexam.catalogue.model import Catalogue, Measure
from footexam.desktop.cells.chooser import PlaceChooser
from footexam.desktop.cells.compound import Compound
from footexam.desktop.cells.places import Places, marks_of
from footexam.desktop.theme import Theme
from footexam.record.reading import Reading
from footexam.terms import Side


class RegionsCell(Compound):
    """Both kinds: `regions` is a list of places, `region-values` a number for each of them."""

    def __init__(
        self,
        measure: Measure,
        theme: Theme,
        catalogue: Catalogue,
        side: Side | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(measure, theme, parent)
        self.places = Places(measure, catalogue)
        self._shown: dict[str, str] = {}
        self.chooser = PlaceChooser(self.places, theme, side, self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.chooser)
        self.chooser.edited.connect(self._on_edited)
        self.chooser.leave.connect(self.finished)
        self.adopt(self.chooser.line)
        self.chain()

    def order(self) -> Sequence[QWidget]:
        return (self.chooser.line,)

    def _on_edited(self) -> None:
        self.note_edited(self.places.marks != self._shown or self.chooser.pending())

    def typed(self) -> object | None:
        self.chooser.settle()
        return self.places.typed()

    def show_reading(self, reading: Reading | None) -> None:
        self._shown = marks_of(reading)
        self.places.show(self._shown)
        self.dirty = False
        self.chooser.refresh()

    def settle(self) -> None:
        self.chooser.settle()

    def left(self) -> None:
        self.chooser.fold()

    def describe(self) -> None:
        self.chooser.name, self.chooser.told = self.name, self.told
        self.chooser.name_parts()
        self.chooser.describe()
