"""What unfolds under a cell with places: the map of the side, and the list of its places."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QLabel,
    QListWidgetItem,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from footexam.catalogue.model import say
from footexam.desktop.cells.map_view import MapView, Marks
from footexam.desktop.cells.place_list import REGION, PlaceList
from footexam.desktop.cells.places import Places
from footexam.desktop.cells.words import tell
from footexam.desktop.theme import Theme, em, small
from footexam.drawing.outlines import view_of
from footexam.terms import Side

_BESIDE = 25
"""From so many lines of text in width on, the list stands beside the map."""
_ROWS = 7


class PlacePanel(QWidget):
    """Map and list show the same; `picked(region)` when a place is clicked on in either.

    The keys stay in the line above, which tells the list where to go.
    """

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
        self.map = MapView(theme, places.catalogue, side, self)
        self.list = PlaceList(places, theme, self)
        self.list.setMinimumWidth(round(4 * em(self)))
        self.list.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(round(em(self) * 0.2))
        column.addWidget(self.caption)
        self._row = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._row.setSpacing(round(em(self) * 0.3))
        self._row.addWidget(self.map, 1)
        self._row.addWidget(self.list, 1)
        column.addLayout(self._row)
        self.map.picked.connect(self.picked)
        self.list.itemClicked.connect(self._on_clicked)

    def _on_clicked(self, item: QListWidgetItem) -> None:
        self.picked.emit(item.data(REGION))

    def refresh(self, message: str = "") -> None:
        """Show what the places hold now; `message` stands above the map instead of its name."""
        self.map.show_marks(self.places.view(), marks(self.places))
        self.list.refresh()
        self.caption.setText(message or self._caption())

    def _caption(self) -> str:
        words = say(view_of(self.places.view(), self.side).label)
        if self.side is not None:
            words = f"{words}, {tell('foot', side=self.side.value)}"
        return f"{words}: {self.places.label(self.places.at)}" if self.places.at else words

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = self.width() >= _BESIDE * em(self)
        directions = QBoxLayout.Direction
        self._row.setDirection(directions.LeftToRight if beside else directions.TopToBottom)
        tall = self.map.sizeHint().height() if beside else round(_ROWS * 1.3 * em(self))
        self.list.setFixedHeight(tall)


def marks(places: Places) -> Marks:
    """What the map shows of the places."""
    if places.valued:
        return Marks(values=places.marks, current=places.at)
    return Marks(chosen=tuple(places.marks), current=places.at)
