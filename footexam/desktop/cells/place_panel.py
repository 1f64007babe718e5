"""What unfolds under a cell with places: one view of the side, with its name above."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from footexam.catalogue.model import say
from footexam.desktop.cells.map_view import MapView, Marks
from footexam.desktop.cells.places import Places
from footexam.desktop.cells.words import tell
from footexam.desktop.theme import Theme, em, small
from footexam.drawing.outlines import view_of
from footexam.drawing.palette import Ink
from footexam.terms import Side


class PlacePanel(QWidget):
    """The view that holds the place at hand; `picked(region)` when a place is clicked on."""

    picked = Signal(object)

    def __init__(
        self, places: Places, theme: Theme, side: Side | None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.places = places
        self.side = side
        self.caption = QLabel(self)
        self.caption.setFont(small(self))
        self.caption.setWordWrap(True)
        self.caption.setTextFormat(Qt.TextFormat.PlainText)
        palette = self.caption.palette()
        palette.setColor(QPalette.ColorRole.WindowText, theme.colour(Ink.MUTED))
        self.caption.setPalette(palette)
        self.map = MapView(theme, places.catalogue, side, self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, round(em(self) * 0.4))
        column.setSpacing(round(em(self) * 0.2))
        column.addWidget(self.caption)
        column.addWidget(self.map)
        self.map.picked.connect(self.picked)

    def refresh(self) -> None:
        """Show what the places hold now."""
        view = self.places.view()
        self.map.show_marks(view, marks(self.places))
        words = say(view_of(view, self.side).label)
        foot = tell("foot", side=self.side.value) if self.side is not None else ""
        self.caption.setText(", ".join(filter(None, (words, foot))))


def marks(places: Places) -> Marks:
    """What the map shows of the places."""
    if places.valued:
        return Marks(values=dict(places.marks), current=places.at)
    return Marks(chosen=tuple(places.marks), current=places.at)
