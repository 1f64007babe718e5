"""Paints the plain shapes of drawing/ with Qt, in the colours of the theme."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF
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
        self.painter.save()
        self.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.painter.translate(x, y)
        self.painter.scale(self.scale, self.scale)
        self._used = None
        for shape in drawing.shapes:
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


class DrawingView(QWidget):
    """A widget that shows one drawing, scaled with the text; empty without one."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._drawing: Drawing | None = None
        self._scale = 1.0
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_drawing(self, drawing: Drawing | None, scale: float) -> None:
        """Show a drawing, up to `scale` pixels to the point; None shows nothing and takes no room.

        Where the widget is narrower than that, the drawing is scaled down to its width.
        """
        if (drawing, scale) == (self._drawing, self._scale):
            return
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
        Brush(painter, self._theme, scale).drawing(self._drawing, 0.0, 0.0)
        painter.end()
