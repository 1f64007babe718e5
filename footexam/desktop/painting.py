"""Paints the plain shapes of drawing/ with Qt, in the colours of the theme."""

from collections.abc import Iterable
from itertools import takewhile

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from footexam.desktop.theme import Theme
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Drawing, Line, Polygon, Rect, Shape, Text


class Brush:
    """Paints shapes with one painter and theme; a point becomes `scale` logical pixels."""

    def __init__(self, painter: QPainter, theme: Theme, scale: float = 1.0) -> None:
        self.painter = painter
        self.theme = theme
        self.scale = scale
        self._used: tuple[Ink | None, Ink | None, float] | None = None
        """Fill, outline and its width that the painter has: most shapes are like the one before."""
        self._fonts: dict[tuple[int, bool], tuple[QFont, QFontMetricsF]] = {}

    def drawing(self, drawing: Drawing, x: float, y: float) -> None:
        """Paint a drawing with its top left corner at (x, y) pixels."""
        self.shapes(drawing.shapes, x, y)

    def shapes(self, shapes: Iterable[Shape], x: float = 0.0, y: float = 0.0) -> None:
        """Paint shapes with their origin at (x, y) pixels."""
        self.painter.save()
        self.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.painter.translate(x, y)
        self.painter.scale(self.scale, self.scale)
        self._used = None
        for shape in shapes:
            self._shape(shape)
        self.painter.restore()

    def _colour(self, ink: Ink | None) -> QColor:
        return self.theme.colour(ink) if ink else QColor(Qt.GlobalColor.transparent)

    def _use(self, fill: Ink | None, stroke: Ink | None, width: float) -> None:
        if self._used == (fill, stroke, width):
            return
        self._used = fill, stroke, width
        self.painter.setBrush(self._colour(fill))
        pen = QPen(self._colour(stroke), width) if stroke else QPen(Qt.PenStyle.NoPen)
        self.painter.setPen(pen)

    def _shape(self, shape: Shape) -> None:
        match shape:
            case Line():
                self._use(None, shape.ink, shape.width)
                self.painter.drawLine(QPointF(shape.x1, shape.y1), QPointF(shape.x2, shape.y2))
            case Rect():
                self._use(shape.fill, shape.stroke, shape.line_width)
                box = QRectF(shape.x, shape.y, shape.width, shape.height)
                self.painter.drawRoundedRect(box, shape.radius, shape.radius)
            case Circle():
                self._use(shape.fill, shape.stroke, shape.line_width)
                self.painter.drawEllipse(QPointF(shape.x, shape.y), shape.radius, shape.radius)
            case Polygon():
                self._use(shape.fill, shape.stroke, shape.line_width)
                points = [QPointF(x, y) for x, y in shape.points]
                self.painter.drawPolygon(QPolygonF(points))
            case Text():
                self._text(shape)

    def _text(self, shape: Text) -> None:
        font, metrics = self._font(max(1, round(shape.size)), shape.bold)
        self.painter.setFont(font)
        self.painter.setPen(self._colour(shape.ink))
        self._used = None
        width = metrics.horizontalAdvance(shape.text)
        back = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[shape.anchor]
        self.painter.drawText(QPointF(shape.x - back, shape.y), shape.text)

    def _font(self, pixels: int, bold: bool) -> tuple[QFont, QFontMetricsF]:
        if (pixels, bold) not in self._fonts:
            font = QFont(self.painter.font())
            font.setPixelSize(pixels)
            font.setBold(bold)
            self._fonts[pixels, bold] = font, QFontMetricsF(font)
        return self._fonts[pixels, bold]


class _Ground:
    """The shapes that one drawing after the other begins with, painted once."""

    def __init__(self) -> None:
        self._shapes: tuple[Shape, ...] = ()
        self._pixmap: QPixmap | None = None
        self._for: tuple[float, float, QSize] | None = None

    def __len__(self) -> int:
        return len(self._shapes)

    def follow(self, old: Drawing | None, new: Drawing | None) -> None:
        """Keep what still stands; else what the old drawing and the new one have in common."""
        if new is None or self._shapes != new.shapes[: len(self._shapes)]:
            self._pixmap = None
            self._shapes = ()
        if old is not None and new is not None and not self._shapes:
            same = takewhile(_is_ground, zip(old.shapes, new.shapes, strict=False))
            self._shapes = tuple(shape for shape, _ in same)

    def paint(self, painter: QPainter, theme: Theme, scale: float, size: QSize) -> bool:
        """Paint them, from memory where nothing else has changed; False where that would blur.

        Where the pixels of the screen are a broken number to ours, a memory does not lie on them.
        """
        ratio = painter.device().devicePixelRatioF()
        if not (self._shapes and ratio.is_integer()):
            return False
        wanted = scale, ratio, size
        if self._pixmap is None or self._for != wanted:
            self._for = wanted
            self._pixmap = QPixmap(size * ratio)
            self._pixmap.setDevicePixelRatio(ratio)
            self._pixmap.fill(Qt.GlobalColor.transparent)
            own = QPainter(self._pixmap)
            Brush(own, theme, scale).shapes(self._shapes)
            own.end()
        painter.drawPixmap(0, 0, self._pixmap)
        return True


def _is_ground(pair: tuple[Shape, Shape]) -> bool:
    """Whether two drawings have a shape in common; text is not painted from memory: it blurs."""
    one, other = pair
    return one == other and not isinstance(one, Text)


class DrawingView(QWidget):
    """A widget that shows one drawing, scaled with the text; empty without one."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._drawing: Drawing | None = None
        self._scale = 1.0
        self._ground = _Ground()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_drawing(self, drawing: Drawing | None, scale: float) -> None:
        """Show a drawing, up to `scale` pixels to the point; None shows nothing and takes no room.

        Where the widget is narrower than that, the drawing is scaled down to its width.
        """
        if (drawing, scale) == (self._drawing, self._scale):
            return
        self._ground.follow(self._drawing, drawing)
        self._drawing, self._scale = drawing, scale
        if drawing is not None:
            self.setFixedHeight(round(drawing.height * scale))
        self.setVisible(drawing is not None)
        self.update()

    def paintEvent(self, _event: object) -> None:
        if self._drawing is None:
            return
        painter = QPainter(self)
        scale = min(self._scale, self.width() / self._drawing.width)
        shapes = self._drawing.shapes
        if self._ground.paint(painter, self._theme, scale, self.size()):
            shapes = shapes[len(self._ground) :]
        Brush(painter, self._theme, scale).shapes(shapes)
        painter.end()
