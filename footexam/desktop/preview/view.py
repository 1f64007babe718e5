"""One page of a document on the screen: white paper with a frame, and boxes around what is found.

Only the part of the page that is seen, and a little above and below, is ever drawn.
"""

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

from footexam.desktop.preview.document import Document, NotShown, pixels
from footexam.desktop.theme import LIGHT, Theme, em
from footexam.drawing.palette import Ink

POINT = 96 / 72
"""Logical pixels of a point at 100 %: Qt's logical inch has 96."""
PERCENTS = (100, 125, 150, 200, 250, 300)
LARGEST_SIDE = 20_000
"""Pixels; a page is never drawn larger, however large it says it is."""
LINE_PX, STRONG_LINE_PX = 1.5, 3.0
"""Outlines of places found, and of the one that is looked at."""


class PageView(QAbstractScrollArea):
    """Shows one page; `failed(words)` when it cannot be drawn."""

    failed = Signal(str)
    zoomed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._document: Document | None = None
        self._number = 1
        self._size = QSizeF()
        self._hits: list[list[QRectF]] = []
        self._current = -1
        self._image = QImage()
        self._part = QRect()
        self._key: tuple[int, float] = (0, 0.0)
        self.percent: int | None = None
        """The size as one of PERCENTS; None fits the width."""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._set_bars()
        self.setFrameShape(QAbstractScrollArea.Shape.NoFrame)
        for bar in (self.verticalScrollBar(), self.horizontalScrollBar()):
            bar.setSingleStep(em(self) * 2)
            bar.valueChanged.connect(self._on_scrolled)

    def show_page(self, document: Document, number: int) -> None:
        """Show a page from its top. NotShown if it is damaged."""
        size = document.size(number)
        self._document, self._number, self._size = document, number, size
        self._hits, self._current = [], -1
        self._forget()
        self._fit_bars()
        self.verticalScrollBar().setValue(0)
        self.viewport().update()

    def clear(self) -> None:
        """Show nothing, and keep nothing."""
        self._document = None
        self._hits = []
        self._forget()
        self._fit_bars()
        self.viewport().update()

    def _forget(self) -> None:
        self._image, self._part, self._key = QImage(), QRect(), (0, 0.0)

    # --- size

    def set_percent(self, percent: int | None) -> None:
        """Show the page at one of PERCENTS, or fitted to the width; what was in view stays so."""
        bar = self.verticalScrollBar()
        old = max(1, bar.maximum() + bar.pageStep())
        middle = (bar.value() + bar.pageStep() / 2) / old
        self.percent = percent
        self._fit_bars()
        whole = bar.maximum() + bar.pageStep()
        bar.setValue(round(middle * whole - bar.pageStep() / 2))
        self.viewport().update()
        self.zoomed.emit()

    def step(self, step: int) -> None:
        """One size up or down from the one that is shown; at the ends nothing happens."""
        now = self.shown_percent()
        others = [one for one in PERCENTS if (one > now if step > 0 else one < now)]
        if others:
            self.set_percent(others[0] if step > 0 else others[-1])

    def shown_percent(self) -> int:
        """The size that is shown, in per cent of the paper's own."""
        return round(self.scale() / self.devicePixelRatioF() / POINT * 100)

    def scale(self) -> float:
        """Pixels of the screen to a point."""
        ratio = self.devicePixelRatioF()
        width, height = max(1.0, self._size.width()), max(1.0, self._size.height())
        if self.percent is None:
            wanted = (self.viewport().width() - 2 * self._margin()) * ratio / width
        else:
            wanted = self.percent / 100 * POINT * ratio
        return max(0.01, min(wanted, LARGEST_SIDE / max(width, height), 40.0))

    def _margin(self) -> int:
        return round(em(self) * 0.8)

    def _page(self) -> QSize:
        """The page in pixels of the screen."""
        return QSize(*pixels(self._size, self.scale()))

    def _set_bars(self) -> None:
        """Which bars there are: a width fitted to a bar that comes and goes would never settle."""
        policy = Qt.ScrollBarPolicy
        there, fitted = self._document is not None, self.percent is None
        self.setVerticalScrollBarPolicy(
            policy.ScrollBarAlwaysOn if there else policy.ScrollBarAlwaysOff
        )
        self.setHorizontalScrollBarPolicy(
            policy.ScrollBarAlwaysOff if fitted else policy.ScrollBarAsNeeded
        )

    def _fit_bars(self) -> None:
        """The scroll bars for the page and its margins, in logical pixels."""
        self._set_bars()
        ratio, seen = self.devicePixelRatioF(), self.viewport().size()
        page = self._page() if self._document else QSize()
        parts = (
            (self.horizontalScrollBar(), page.width(), seen.width()),
            (self.verticalScrollBar(), page.height(), seen.height()),
        )
        for bar, length, room in parts:
            whole = round(length / ratio) + 2 * self._margin() if length else 0
            bar.setPageStep(room)
            fitted = bar is self.horizontalScrollBar() and self.percent is None
            bar.setRange(0, 0 if fitted else max(0, whole - room))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_bars()
        if self.percent is None:
            self.zoomed.emit()

    # --- moving about

    def scroll_on(self, step: int) -> bool:
        """Scroll by most of a screen, down or up; False where the page ends."""
        bar = self.verticalScrollBar()
        old = bar.value()
        bar.setValue(old + step * max(1, bar.pageStep() - 2 * em(self)))
        return bar.value() != old

    def scroll_to_end(self) -> None:
        """Show the bottom of the page."""
        self.verticalScrollBar().setValue(self.verticalScrollBar().maximum())

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.viewport().update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down scroll; every other key is for the page around."""
        if event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            super().keyPressEvent(event)
        else:
            event.ignore()

    def _on_scrolled(self) -> None:
        self.viewport().update()

    def scrollContentsBy(self, _dx: int, _dy: int) -> None:
        """Nothing is moved: what is seen is drawn anew."""

    # --- what is found

    def set_hits(self, hits: list[list[QRectF]], current: int) -> None:
        """Outline places, in points; the one at `current` more strongly, and bring it into view."""
        self._hits, self._current = hits, current
        if 0 <= current < len(hits) and hits[current]:
            self._reveal(hits[current][0])
        self.viewport().update()

    def _reveal(self, box: QRectF) -> None:
        factor = self.scale() / self.devicePixelRatioF()
        parts = (
            (self.verticalScrollBar(), box.top(), box.bottom()),
            (self.horizontalScrollBar(), box.left(), box.right()),
        )
        for bar, start, end in parts:
            low, high = start * factor + self._margin(), end * factor + self._margin()
            if low < bar.value() or high > bar.value() + bar.pageStep():
                bar.setValue(round((low + high - bar.pageStep()) / 2))

    # --- drawing

    def origin(self) -> QPointF:
        """Where the top left of the page lies in the viewport, in logical pixels.

        On whole pixels of the screen, so that the page is not blurred.
        """
        ratio, margin = self.devicePixelRatioF(), self._margin()
        spare = self.viewport().width() - self._page().width() / ratio
        x = spare / 2 if spare >= 2 * margin else margin - self.horizontalScrollBar().value()
        y = margin - self.verticalScrollBar().value()
        return QPointF(round(x * ratio) / ratio, round(y * ratio) / ratio)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        painter.fillRect(self.viewport().rect(), QColor(self._theme.paper))
        if self._document is not None:
            self._paint_page(painter)
        painter.end()

    def _paint_page(self, painter: QPainter) -> None:
        ratio, origin = self.devicePixelRatioF(), self.origin()
        page = QSizeF(self._page()) / ratio
        paper = QRectF(origin, page)
        painter.fillRect(paper, Qt.GlobalColor.white)
        self._draw_seen(origin)
        if not self._image.isNull():
            painter.drawImage(origin + QPointF(self._part.topLeft()) / ratio, self._image)
        focused = self.hasFocus()
        ink = Ink.ACCENT if focused else Ink.BORDER
        painter.setPen(QPen(self._theme.colour(ink), 2.0 if focused else 1.0))
        painter.drawRect(paper.adjusted(-1, -1, 0, 0))
        self._paint_hits(painter, origin)

    def _draw_seen(self, origin: QPointF) -> None:
        """Draw what is seen of the page, unless it is there already."""
        ratio = self.devicePixelRatioF()
        whole = QRect(0, 0, self._page().width(), self._page().height())
        seen = QRectF(-origin * ratio, QSizeF(self.viewport().size()) * ratio).toAlignedRect()
        seen &= whole
        key = (self._number, self.scale())
        if seen.isEmpty() or (key == self._key and self._part.contains(seen)):
            return
        reserve = seen.height() // 3
        part = seen.adjusted(0, -reserve, 0, reserve) & whole
        self._image = QImage()  # the old one is freed before the new one is made
        try:
            if self._document is not None:
                self._image = self._document.picture(self._number, self.scale(), part)
        except NotShown as bad:
            self.failed.emit(str(bad))
        self._image.setDevicePixelRatio(ratio)
        self._part, self._key = part, key

    def _paint_hits(self, painter: QPainter, origin: QPointF) -> None:
        """Outlines in the colours of paper: the page is white in both themes."""
        factor = self.scale() / self.devicePixelRatioF()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for place, boxes in enumerate(self._hits):
            strong = place == self._current
            ink = Ink.ABOVE if strong else Ink.ACCENT
            painter.setPen(QPen(LIGHT.colour(ink), STRONG_LINE_PX if strong else LINE_PX))
            for box in boxes:
                area = QRectF(box.topLeft() * factor + origin, box.size() * factor)
                painter.drawRect(area.adjusted(-3, -3, 3, 3))
