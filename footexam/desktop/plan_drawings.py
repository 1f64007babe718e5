"""Both drawings of the device of a side, to scale, beside the plan; they follow its choices."""

from dataclasses import replace
from functools import lru_cache

from PySide6.QtGui import QFont, QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import QWidget

from footexam.catalogue.model import Catalogue
from footexam.desktop.cells.frame import Note
from footexam.desktop.painting import DrawingView
from footexam.desktop.plan_rows import feature_words
from footexam.desktop.theme import Theme, em
from footexam.drawing.device import side_view
from footexam.drawing.device_parts import Device, Value, device_of
from footexam.drawing.device_plan import sole_view
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.reasoning.planned import Plan
from footexam.terms import Side

SCALE = 3.0
"""The drawings are made at 1:3 of a page and grow with the type."""
SHARES = (9, 5)
"""Of the width beside each other: each drawing, and the names of its numbers."""
PIXELS_A_POINT = 1 / 11
"""Of the height of a line of text."""


class PlanDrawings(QWidget):
    """The device of a side from the inner side and from below; takes no room while it is empty."""

    def __init__(self, catalogue: Catalogue, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.catalogue = catalogue
        self._about: tuple[Device, object] | None = None
        """What is drawn: features with their dimensions, whatever they serve and fight."""
        self._drawn: tuple[Drawing, ...] = ()
        self._beside = True
        self._pad = 0
        self.views = (DrawingView(theme, self), DrawingView(theme, self))
        self.key = Note(theme, Ink.INK, self)
        self.setAccessibleName("Drawings of the device")
        self.hide()

    def show_plan(self, plan: Plan, side: Side, value: Value) -> None:
        """Draw what a plan asks for on a side; `value` looks up what was measured there."""
        device = device_of(plan, side, value, self.catalogue.figures)
        parts = tuple((one.feature, one.dimensions) for one in device.features)
        about = replace(device, features=()), parts
        if about == self._about:
            return
        self._about = about
        self._drawn = ()
        if device.features:
            measure = _measure(self.font().key())
            ways = (side_view, sole_view)
            self._drawn = tuple(
                way(device, scale=SCALE, measure=measure, with_legend=False) for way in ways
            )
            names = (f"{device.numbers[one.id]}  {feature_words(one)}" for one in device.features)
            self.key.say("\n".join(names), Ink.INK)
            self.setAccessibleDescription(self.key.text().replace("\n", "; "))
        self._fit()

    def clear(self) -> None:
        """Show nothing."""
        self._about, self._drawn = None, ()
        self._fit()

    @property
    def is_empty(self) -> bool:
        """Whether nothing is drawn."""
        return not self._drawn

    def set_beside(self, beside: bool, pad: int) -> None:
        """Put the drawings beside each other or one below the other, with room around them."""
        self._beside, self._pad = beside, pad
        self._fit()

    def _fit(self) -> None:
        """As large as the type asks for, smaller where that is too wide.

        Placed by hand: a layout would have the whole window laid out anew with every key.
        """
        self.setVisible(bool(self._drawn))
        if not self._drawn:
            return
        gap = round(em(self) * 1.2)
        room = self.width() - 2 * self._pad
        share = (room - 2 * gap) / (2 * SHARES[0] + SHARES[1])
        x, y, height = self._pad, self._pad // 2, 0
        for view, drawing in zip(self.views, self._drawn, strict=True):
            width = round(SHARES[0] * share) if self._beside else room
            scale = min(em(self) * PIXELS_A_POINT, max(width, 1) / drawing.width)
            view.show_drawing(drawing, scale)
            view.setGeometry(x, y, width, view.minimumHeight())
            height = max(height, y + view.height())
            x, y = (x + width + gap, y) if self._beside else (x, height + gap)
        width = round(SHARES[1] * share) if self._beside else room
        self.key.setGeometry(x, y, width, self.key.heightForWidth(width))
        height = max(height, y + self.key.height()) + self._pad // 2
        self.setFixedHeight(height)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()


@lru_cache(maxsize=4)
def _measure(key: str) -> "_Widths":
    return _Widths(key)


class _Widths:
    """The width of a text in a font of the program, in the unit of its size."""

    def __init__(self, key: str) -> None:
        self._font = QFont()
        self._font.fromString(key)
        self._metrics: dict[tuple[int, bool], QFontMetricsF] = {}

    def __call__(self, text: str, size: float, bold: bool) -> float:
        pixels = max(1, round(size))
        if (pixels, bold) not in self._metrics:
            font = QFont(self._font)
            font.setPixelSize(pixels)
            font.setBold(bold)
            self._metrics[pixels, bold] = QFontMetricsF(font)
        return self._metrics[pixels, bold].horizontalAdvance(text)
