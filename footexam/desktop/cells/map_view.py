"""The foot map as widgets: one view to click on, and a strip of all five."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtCore import QEvent, QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QHelpEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from footexam.catalogue.model import Catalogue, say
from footexam.desktop.painting import Brush
from footexam.desktop.theme import Theme, em
from footexam.drawing.foot_map import hit, map_drawing
from footexam.drawing.outlines import VIEWS, view_of
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.terms import Side

_TALL = 13.5
"""Greatest height of the map in lines of text."""
_STRIP_TALL = 3.6
"""Greatest height of the strip in lines of text."""


@dataclass(frozen=True)
class Marks:
    """What a map shows: chosen places, numbers by place, the place at hand."""

    chosen: tuple[str, ...] = ()
    values: Mapping[str, str] = field(default_factory=dict)
    current: str | None = None

    def drawing(self, side: Side | None, view: str, *, small: bool = False) -> Drawing:
        """One view with these marks."""
        return map_drawing(side, view, self.chosen, self.values, self.current, small=small)


def _by_width() -> QSizePolicy:
    """As wide as there is room, and as high as that asks for."""
    policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    policy.setHeightForWidth(True)
    return policy


class MapView(QWidget):
    """One view of a foot; `picked(region)` when a place is clicked on.

    It never takes the keys: what it shows stands in the list beside it too.
    """

    picked = Signal(object)

    def __init__(
        self, theme: Theme, catalogue: Catalogue, side: Side | None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.theme = theme
        self.catalogue = catalogue
        self.side = side
        self.view = VIEWS[0]
        self._marks = Marks()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(_by_width())

    def show_marks(self, view: str, marks: Marks) -> None:
        """Show a view with its marks."""
        if (view, marks) == (self.view, self._marks):
            return
        if view != self.view:
            self.updateGeometry()
        self.view, self._marks = view, marks
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        figure = view_of(self.view, self.side)
        return round(min(_TALL * em(self), width * figure.height / figure.width))

    def sizeHint(self) -> QSize:
        wide = round(13 * em(self))
        return QSize(wide, self.heightForWidth(wide))

    def minimumSizeHint(self) -> QSize:
        wide = round(5 * em(self))
        return QSize(wide, self.heightForWidth(max(self.width(), wide)))

    def _scale(self) -> float:
        """Pixels to the point, so that the view fits."""
        figure = view_of(self.view, self.side)
        return min(self.width() / figure.width, self.height() / figure.height)

    def _origin(self) -> tuple[float, float]:
        """Where the drawing's top left corner lies, centred, in pixels."""
        figure, scale = view_of(self.view, self.side), self._scale()
        return (self.width() - figure.width * scale) / 2, (
            self.height() - figure.height * scale
        ) / 2

    def point_of(self, x: float, y: float) -> QPoint:
        """The pixel of a point of the drawing."""
        left, top = self._origin()
        return QPoint(round(left + x * self._scale()), round(top + y * self._scale()))

    def region_at(self, position: QPoint) -> str | None:
        """The region under a pixel."""
        left, top = self._origin()
        scale = self._scale()
        return hit(
            self.side, self.view, (position.x() - left) / scale, (position.y() - top) / scale
        )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        region = self.region_at(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and region is not None:
            self.picked.emit(region)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            region = self.region_at(event.pos())
            known = self.catalogue.regions.get(region or "")
            QToolTip.showText(event.globalPos(), say(known.label) if known else "", self)
            return True
        return super().event(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        drawing = self._marks.drawing(self.side, self.view)
        Brush(painter, self.theme, self._scale()).drawing(drawing, *self._origin())
        painter.end()


class MapStrip(QWidget):
    """All five views, small, with what is marked; `picked(view)` when one is clicked on."""

    picked = Signal(object)

    def __init__(self, theme: Theme, side: Side | None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.side = side
        self.view: str | None = None
        self._marks = Marks()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(_by_width())

    def show_marks(self, view: str | None, marks: Marks) -> None:
        """Show all views with their marks; `view` is the one shown large, None: none is."""
        if (view, marks) == (self.view, self._marks):
            return
        self.view, self._marks = view, marks
        self.update()

    def _scale(self, width: int) -> float:
        figures = [view_of(name, self.side) for name in VIEWS]
        room = width - 2 * self._pad() * len(VIEWS)
        tallest = max(figure.height for figure in figures)
        fitting = room / sum(figure.width for figure in figures)
        return max(0.02, min(fitting, (_STRIP_TALL * em(self)) / tallest))

    def _pad(self) -> float:
        return em(self) * 0.2

    def boxes(self) -> dict[str, QRectF]:
        """The box of each view, from left to right."""
        pad, scale = self._pad(), self._scale(self.width())
        tall = max(view_of(name, self.side).height for name in VIEWS) * scale + 2 * pad
        boxes, x = {}, 0.0
        for name in VIEWS:
            wide = view_of(name, self.side).width * scale + 2 * pad
            boxes[name] = QRectF(x, 0.0, wide, tall)
            x += wide
        return boxes

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        tallest = max(view_of(name, self.side).height for name in VIEWS)
        return round(tallest * self._scale(width) + 2 * self._pad())

    def sizeHint(self) -> QSize:
        wide = round(13 * em(self))
        return QSize(wide, self.heightForWidth(wide))

    def minimumSizeHint(self) -> QSize:
        wide = round(5 * em(self))
        return QSize(wide, self.heightForWidth(self.width() or wide))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        for name, box in self.boxes().items():
            if box.contains(event.position()):
                self.picked.emit(name)
                return

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            under = [name for name, box in self.boxes().items() if box.contains(event.pos())]
            words = say(view_of(under[0], self.side).label) if under else ""
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale, pad = self._scale(self.width()), self._pad()
        for name, box in self.boxes().items():
            if name == self.view:
                painter.setPen(QPen(self.theme.colour(Ink.ACCENT), 1.5))
                painter.setBrush(QColor(self.theme.selected))
                painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), pad, pad)
            top = box.top() + (box.height() - view_of(name, self.side).height * scale) / 2
            drawing = self._marks.drawing(self.side, name, small=True)
            Brush(painter, self.theme, scale).drawing(drawing, box.left() + pad, top)
        painter.end()
