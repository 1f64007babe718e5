"""What unfolds under a cell with places: the map of the side, and the list of its places."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from footexam.catalogue.model import say
from footexam.desktop.cells.map_view import MapView, Marks
from footexam.desktop.cells.places import Places
from footexam.desktop.cells.words import tell
from footexam.desktop.theme import Theme, em, small
from footexam.drawing.outlines import view_of
from footexam.terms import Side

_BESIDE = 25
"""From so many lines of text in width on, the list stands beside the map."""
_ROWS = 7
_REGION = Qt.ItemDataRole.UserRole


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
        self.list = QListWidget(self)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.list.setMinimumSize(QSize(round(4 * em(self)), round(_ROWS * 1.35 * em(self))))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setWordWrap(True)
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
        self.picked.emit(item.data(_REGION))

    def refresh(self, message: str = "") -> None:
        """Show what the places hold now; `message` stands above the map instead of its name."""
        self.map.show_marks(self.places.view(), marks(self.places))
        self._fill()
        self.caption.setText(message or self._caption())

    def _caption(self) -> str:
        words = say(view_of(self.places.view(), self.side).label)
        if self.side is not None:
            words = f"{words}, {tell('foot', side=self.side.value)}"
        return f"{words}: {self.places.label(self.places.at)}" if self.places.at else words

    def _fill(self) -> None:
        if [self._region(at) for at in range(self.list.count())] != self.places.fitting:
            self.list.clear()
            for region in self.places.fitting:
                item = QListWidgetItem(self.list)
                item.setData(_REGION, region)
        for at in range(self.list.count()):
            self._write(self.list.item(at))
        self.list.setCurrentRow(self._row_at_hand())

    def _region(self, row: int) -> str:
        region: str = self.list.item(row).data(_REGION)
        return region

    def _row_at_hand(self) -> int:
        fitting = self.places.fitting
        return fitting.index(self.places.at) if self.places.at in fitting else -1

    def _write(self, item: QListWidgetItem) -> None:
        """One place: its name, and whether it is chosen or which number it has."""
        region: str = item.data(_REGION)
        marked = region in self.places.marks
        label, state = self.places.label(region), self.places.state(region)
        if self.places.valued:
            item.setText(f"{label}: {state}" if marked else label)
        else:
            item.setText(label)
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            item.setCheckState(Qt.CheckState.Checked if marked else Qt.CheckState.Unchecked)
        font = item.font()
        font.setBold(marked)
        item.setFont(font)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{label}, {state}")

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = self.width() >= _BESIDE * em(self)
        directions = QBoxLayout.Direction
        self._row.setDirection(directions.LeftToRight if beside else directions.TopToBottom)


def marks(places: Places) -> Marks:
    """What the map shows of the places."""
    if places.valued:
        return Marks(values=places.marks, current=places.at)
    return Marks(chosen=tuple(places.marks), current=places.at)
