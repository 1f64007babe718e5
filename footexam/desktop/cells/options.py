"""Scores and words as a row of boxes: a key chooses, the last needed key carries on."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QFocusEvent,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.editor import Editor
from footexam.desktop.theme import Theme, em
from footexam.desktop.typing import Typed, type_score, type_word
from footexam.drawing.palette import Ink
from footexam.record.reading import Numbers, Reading, Sites, Word
from footexam.reports.words import MINUS

_FEW = 7
"""Up to so many boxes are wide; more of them are narrow, so that they stay on two lines."""


@dataclass(frozen=True, slots=True)
class Option:
    """One box: the value it stands for, and how it is shown."""

    value: str
    shown: str


class OptionRow(Editor):
    """A row of boxes that wraps; subclasses say how keys choose."""

    def __init__(
        self,
        measure: Measure,
        theme: Theme,
        options: Sequence[Option],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(measure, theme, parent)
        self.options = tuple(options)
        self.chosen: int | None = None
        self.at = 0
        self.buffer = ""
        self._boxes: list[QRectF] = []
        self._laid: dict[int, list[QRectF]] = {}
        self._told = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def press(self, key: str) -> Typed:
        """What one more key means, given `buffer`."""
        raise NotImplementedError

    def place_of(self, reading: Reading) -> int | None:
        """The box of a reading's value; None if none shows it."""
        raise NotImplementedError

    def typed(self) -> object | None:
        return None if self.chosen is None else self.options[self.chosen].value

    def show_reading(self, reading: Reading | None) -> None:
        has_value = reading is not None and reading.value is not None
        self.chosen = self.place_of(reading) if reading is not None and has_value else None
        self.at = self.chosen or 0
        self.buffer = ""
        self.dirty = False
        self.changed()

    def choose(self, place: int) -> None:
        """Choose a box; it is not taken over before the cell is left."""
        self.chosen = self.at = place
        self.mark_edited()
        self.changed()

    def is_chosen(self, place: int) -> bool:
        """Whether a box is filled."""
        return place == self.chosen

    def clear(self) -> None:
        """Choose nothing."""
        self.chosen, self.buffer = None, ""
        self.mark_edited()
        self.changed()

    def click(self, place: int) -> None:
        """A click on a box chooses it, and it is taken over at once."""
        self.choose(place)
        self.finished.emit(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.handle_leaving(event):
            return
        arrows = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        plain = not event.modifiers() & ~(
            Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        )
        if event.key() in arrows and plain:
            self.at = (self.at + arrows[Qt.Key(event.key())]) % len(self.options)
            self.changed()
        elif event.key() == Qt.Key.Key_Space:
            self.choose(self.at)
        elif event.key() in {Qt.Key.Key_Backspace, Qt.Key.Key_Delete}:
            self.clear()
        elif plain and event.text().strip() and event.text().isprintable():
            self._press(event.text())
        else:
            super().keyPressEvent(event)

    def _press(self, key: str) -> None:
        typed = self.press(key)
        self.buffer = typed.buffer
        if typed.chosen is not None:
            self.choose(typed.chosen)
        if typed.done:
            self.finished.emit(1)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        for place, box in enumerate(self._boxes):
            if box.contains(QPointF(event.position())):
                self.click(place)
                return

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.buffer = ""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.buffer = ""
        super().focusOutEvent(event)
        self.update()

    # --- for a screen reader: what is drawn has to be told too

    def changed(self) -> None:
        """Show and tell what is chosen and which box is at hand."""
        self.update()
        filled = [option.shown for at, option in enumerate(self.options) if self.is_chosen(at)]
        words = [f"chosen: {', '.join(filled)}" if filled else ""]
        if not self.is_chosen(self.at):
            words.append(f"at hand: {self.options[self.at].shown}")
        words.append(self._told)
        super().setAccessibleDescription("; ".join(filter(None, words)))

    def setAccessibleDescription(self, words: str, /) -> None:
        self._told = words
        self.changed()

    # --- drawing

    def boxes(self) -> list[QRectF]:
        """Where the boxes lie now."""
        return self._layout(self.width())

    def _layout(self, width: int) -> list[QRectF]:
        """Boxes from left to right, on as many lines as the width needs; worked out once a width.

        The font stays: another size makes all cells anew.
        """
        if width not in self._laid:
            self._laid[width] = self._lay_out(width)
        return self._laid[width]

    def _lay_out(self, width: int) -> list[QRectF]:
        line = em(self)
        height, gap, pad = line * 1.55, line * 0.22, line * 0.5
        font = QFont(self.font())
        font.setBold(True)  # the chosen box is bold: none changes its size
        metrics = QFontMetrics(font)
        least = line * (1.9 if len(self.options) <= _FEW else 1.5)
        x = y = 1.0
        boxes = []
        for option in self.options:
            wide = max(least, metrics.horizontalAdvance(option.shown) + 2 * pad)
            if x > 1.0 and x + wide > width:
                x, y = 1.0, y + height + gap
            boxes.append(QRectF(x, y, wide, height))
            x += wide + gap
        return boxes

    def sizeHint(self) -> QSize:
        boxes = self._layout(10_000)
        return QSize(round(boxes[-1].right() + 2), round(boxes[-1].bottom() + 2))

    def minimumSizeHint(self) -> QSize:
        widest = max(box.width() for box in self._layout(10_000))
        return QSize(round(widest + 2), self.heightForWidth(self.width()))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return round(self._layout(max(width, 60))[-1].bottom() + 2)

    def resizeEvent(self, event: QEvent) -> None:
        self.updateGeometry()
        super().resizeEvent(event)  # type: ignore[arg-type]

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._boxes = self.boxes()
        for place, box in enumerate(self._boxes):
            self._paint_box(painter, place, box)
        painter.end()

    def _paint_box(self, painter: QPainter, place: int, box: QRectF) -> None:
        chosen, radius = self.is_chosen(place), em(self) * 0.25
        inks = self.theme.colour
        painter.setPen(QPen(inks(Ink.ACCENT if chosen else Ink.BORDER), 1))
        painter.setBrush(inks(Ink.ACCENT) if chosen else inks(Ink.SURFACE))
        painter.drawRoundedRect(box, radius, radius)
        if place == self.at and self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(inks(Ink.INK), 2))
            painter.drawRoundedRect(box.adjusted(-0.5, -0.5, 0.5, 0.5), radius, radius)
        font = painter.font()
        font.setBold(chosen)
        painter.setFont(font)
        painter.setPen(inks(Ink.SURFACE) if chosen else inks(Ink.INK))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.options[place].shown)


class ScoreCell(OptionRow):
    """A score by its own key: `2`, `0`, or `-` and `1`."""

    def __init__(self, measure: Measure, theme: Theme, parent: QWidget | None = None) -> None:
        self.low = int(measure.hard_low or 0)
        self.high = int(measure.hard_high or 0)
        signed = self.low < 0
        options = [
            Option(str(score), _signed(score) if signed else str(score))
            for score in range(self.low, self.high + 1)
        ]
        super().__init__(measure, theme, options, parent)

    def press(self, key: str) -> Typed:
        typed = type_score(self.buffer, key, self.low, self.high)
        if typed.chosen is None:
            return typed
        return Typed(typed.buffer, typed.chosen - self.low, typed.done)

    def place_of(self, reading: Reading) -> int | None:
        if not isinstance(reading.value, Numbers):
            return None
        place = int(reading.value.readings[0]) - self.low
        return place if 0 <= place < len(self.options) else None


def _signed(score: int) -> str:
    return f"+{score}" if score > 0 else str(score).replace("-", MINUS)


class WordCell(OptionRow):
    """A choice, or yes and no, by the first letters."""

    def __init__(
        self,
        measure: Measure,
        theme: Theme,
        words: Sequence[Option],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(measure, theme, words, parent)

    def press(self, key: str) -> Typed:
        return type_word(self.buffer, key, [option.shown for option in self.options])

    def place_of(self, reading: Reading) -> int | None:
        if not isinstance(reading.value, Word | Sites):
            return None
        values = [option.value for option in self.options]
        return values.index(reading.value.word) if reading.value.word in values else None
