"""The list of places, each with a drawn mark: colour is never alone, the keys stay above."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPen, QTextOption
from PySide6.QtWidgets import (
    QFrame,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from footexam.desktop.cells.places import Places
from footexam.desktop.theme import Theme, em, small
from footexam.drawing.foot_map import is_nothing
from footexam.drawing.palette import Ink

_TALL = 7.5
"""Height of the list in lines of text."""
REGION = Qt.ItemDataRole.UserRole
"""The region id of an item."""
_TOLD = Qt.ItemDataRole.AccessibleTextRole
_Index = QModelIndex | QPersistentModelIndex


class _Painter(QStyledItemDelegate):
    """A box (filled with a tick: chosen, or a number), a ring (nothing found), and the words."""

    def __init__(self, places: Places, theme: Theme, parent: "PlaceList") -> None:
        super().__init__(parent)
        self.places = places
        self.theme = theme
        self.view = parent

    def _mark(self) -> float:
        return em(self.view) * 0.72

    def _text_left(self) -> int:
        return round(self._mark() + em(self.view) * 0.65)

    def _font(self, region: str) -> QFont:
        font = QFont(self.view.font())
        font.setBold(region in self.places.marks)
        return font

    def sizeHint(self, _option: QStyleOptionViewItem, index: _Index) -> QSize:
        wide = max(1, self.view.viewport().width() - self._text_left() - 3)
        metrics = QFontMetrics(self._font(index.data(REGION)))
        room = QRect(0, 0, wide, 10_000)
        wrapped = Qt.TextFlag.TextWordWrap | Qt.TextFlag.TextWrapAnywhere
        text = metrics.boundingRect(room, wrapped, str(index.data()))
        return QSize(wide, round(text.height() + em(self.view) * 0.25))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        region: str = index.data(REGION)
        box = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_mark(painter, region, box)
        painter.setFont(self._font(region))
        painter.setPen(self.theme.colour(Ink.INK))
        words = QTextOption(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        words.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
        painter.drawText(box.adjusted(self._text_left(), 0, -2, 0), str(index.data()), words)
        if region == self.places.at:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self.theme.colour(Ink.INK), 2))
            round_by = em(self.view) * 0.2
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), round_by, round_by)
        painter.restore()

    def _paint_mark(self, painter: QPainter, region: str, box: QRectF) -> None:
        side = self._mark()
        mark = QRectF(box.left() + em(self.view) * 0.3, 0, side, side)
        mark.moveTop(box.center().y() - side / 2)
        text = self.places.marks.get(region)
        nothing = text is not None and self.places.valued and is_nothing(text)
        filled = text is not None and not nothing
        edge = Ink.BORDER if text is None else Ink.ACCENT
        painter.setPen(QPen(self.theme.colour(edge), 2.0 if nothing else 1.0))
        painter.setBrush(self.theme.colour(Ink.ACCENT if filled else Ink.SURFACE))
        if nothing:
            painter.drawEllipse(mark)
            return
        painter.drawRoundedRect(mark, side * 0.15, side * 0.15)
        if filled:
            self._paint_tick(painter, mark)

    def _paint_tick(self, painter: QPainter, mark: QRectF) -> None:
        side = mark.width()
        painter.setPen(QPen(self.theme.colour(Ink.SURFACE), max(1.4, side * 0.14)))
        tick = [(0.22, 0.54), (0.42, 0.74), (0.79, 0.28)]
        points = [QPointF(mark.left() + x * side, mark.top() + y * side) for x, y in tick]
        painter.drawPolyline(points)


class PlaceList(QListWidget):
    """The fitting places; each item has its name and what it holds as its accessible text."""

    def __init__(self, places: Places, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.places = places
        self.setFont(small(self))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameStyle(QFrame.Shape.Box | QFrame.Shadow.Plain)
        palette = self.palette()
        palette.setColor(palette.ColorRole.WindowText, theme.colour(Ink.BORDER))
        self.setPalette(palette)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setMinimumWidth(round(4 * em(self)))
        self.setFixedHeight(round(_TALL * em(self)))
        self.setItemDelegate(_Painter(places, theme, self))

    def refresh(self) -> None:
        """Show what the places hold now, with the one at hand in view."""
        regions = self.places.fitting
        if [self.region(at) for at in range(self.count())] != regions:
            self.clear()
            for region in regions:
                item = QListWidgetItem(self)
                item.setData(REGION, region)
        for at in range(self.count()):
            self._write(self.item(at))
        at_hand = regions.index(self.places.at) if self.places.at in regions else -1
        self.setCurrentRow(at_hand)
        if at_hand >= 0:
            self.scrollToItem(self.item(at_hand))
        self.viewport().update()

    def region(self, row: int) -> str:
        """The region of a row."""
        region: str = self.item(row).data(REGION)
        return region

    def _write(self, item: QListWidgetItem) -> None:
        region: str = item.data(REGION)
        label, state = self.places.label(region), self.places.state(region)
        numbered = self.places.valued and region in self.places.marks
        words = f"{label}: {state}" if numbered else label
        if item.text() != words:
            item.setText(words)
        told = f"{label}, {state}"
        if item.data(_TOLD) != told:  # each change lays the list out anew
            item.setData(_TOLD, told)
