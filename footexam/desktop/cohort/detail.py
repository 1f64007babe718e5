"""What stands beside the table of the cohort page: plots of the chosen row, and what they show."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from footexam.desktop.painting import DrawingView
from footexam.desktop.theme import Theme, em, large
from footexam.drawing.axes import DOT, ROW
from footexam.drawing.item_plot import row_top
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Rect, Shape

LARGEST = 1 / 9
"""Of the height of a line of text a point becomes at most: plots grow with the type."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A plot with a heading ("" without one), and the words that a screen reader says of it."""

    drawing: Drawing
    told: str
    heading: str = ""


@dataclass(frozen=True, slots=True)
class Detail:
    """What is told of a row: its name, plots, sentences."""

    title: str
    pictures: Sequence[Picture] = ()
    told: Sequence[str] = ()


def with_row(drawing: Drawing, place: int) -> Drawing:
    """A plot of rows with one of them framed."""
    top = row_top(place)
    frame = Rect(0.4, top + 0.4, drawing.width - 0.8, ROW - 0.8, Ink.BAND, Ink.ACCENT, 0.8, 2.0)
    return _over(drawing, before=(frame,))


def with_mark(drawing: Drawing, at: Sequence[float]) -> Drawing:
    """A plot of dots with one of them ringed."""
    x, y = at
    rings = [Circle(x, y, DOT + more, None, Ink.CAUTION, 1.2) for more in (3.0, 5.5)]
    return _over(drawing, behind=rings)


def _over(drawing: Drawing, before: Sequence[Shape] = (), behind: Sequence[Shape] = ()) -> Drawing:
    return Drawing(drawing.width, drawing.height, (*before, *drawing.shapes, *behind))


class DetailView(QScrollArea):
    """Plots and sentences one below the other; Up and Down scroll it while it has the keys."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme
        self._detail = Detail("")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        inner = QWidget(self)
        self._column = QVBoxLayout(inner)
        pad = round(em(self) * 0.6)
        self._column.setContentsMargins(pad, 0, pad, pad)
        self._column.setSpacing(round(em(self) * 0.5))
        self.title = self._label(1.15)
        self._parts: list[tuple[QLabel, DrawingView, QLabel]] = []
        self.told = self._label()
        self._column.addStretch(1)
        self.setWidget(inner)

    def _label(self, factor: float = 1.0) -> QLabel:
        label = QLabel(self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        if factor > 1:
            label.setFont(large(label, factor))
        self._column.addWidget(label)
        return label

    def show_detail(self, detail: Detail) -> None:
        """Show plots and sentences; a screen reader hears them as the description."""
        if detail.title != self._detail.title:
            self.verticalScrollBar().setValue(0)
        self._detail = detail
        self.title.setText(detail.title)
        self.told.setText("\n".join(detail.told))
        self.told.setVisible(bool(detail.told))
        self.setAccessibleName(detail.title)
        said = [*(one.told for one in detail.pictures), *detail.told]
        self.setAccessibleDescription(" ".join(said))
        while len(self._parts) < len(detail.pictures):
            self._add_part()
        for number, (heading, view, words) in enumerate(self._parts):
            there = number < len(detail.pictures)
            one = detail.pictures[number] if there else None
            heading.setText(one.heading if one else "")
            heading.setVisible(bool(one and one.heading))
            words.setText(one.told if one else "")
            words.setVisible(there)
            view.setAccessibleName(one.told if one else "")
        self._draw()

    def _add_part(self) -> None:
        heading, words = QLabel(self), QLabel(self)
        view = DrawingView(self._theme, self)
        heading.setFont(large(heading, 1.0))
        for label in (heading, words):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        at = 1 + 3 * len(self._parts)
        for place, part in enumerate((heading, view, words)):
            self._column.insertWidget(at + place, part)
        self._parts.append((heading, view, words))

    def _draw(self) -> None:
        """Every plot as wide as there is room, up to a size that fits the type."""
        room = self.viewport().width() - 2 * self._column.contentsMargins().left()
        for number, (_, view, _) in enumerate(self._parts):
            there = number < len(self._detail.pictures)
            drawing = self._detail.pictures[number].drawing if there else None
            width = drawing.width if drawing else 1.0
            view.show_drawing(drawing, max(0.5, min(em(self) * LARGEST, room / width)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._draw()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows and pages scroll; everything else is the page's."""
        scrolls = {Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown}
        if event.key() in scrolls and not event.modifiers():
            super().keyPressEvent(event)
        else:
            event.ignore()
