"""The dimensions of one feature: a line to type each, what it rests on, and what it would do."""

from collections.abc import Mapping

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from footexam.catalogue.model import say
from footexam.catalogue.plan_model import Feature, Size
from footexam.desktop.cells.frame import Note
from footexam.desktop.input_line import InputLine
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em
from footexam.drawing.palette import Ink
from footexam.mechanics.formulas import FORMULAS
from footexam.reasoning.planned import Candidate, Dimension
from footexam.reasoning.sizing import read_size
from footexam.record.refusal import in_digits
from footexam.reports.material import Material
from footexam.reports.plan_words import (
    effect_words,
    range_of_size,
    rests_words,
    size_name,
    size_words,
)

LONGEST = 60


def follows(size: Size, feature: Feature) -> bool:
    """Whether a dimension is worked out from another one of the same feature."""
    formula = FORMULAS.get(size.formula)
    needs = formula.needs if formula else ()
    return any(name.startswith(f"{feature.id}.") for names in needs for name in names)


def typed_size(value: Dimension) -> str:
    """A dimension as it would be typed."""
    return f"{in_digits(value.value)} {value.size.unit}".strip()


class SizeLine(InputLine):
    """A line for one dimension. It never changes what is typed.

    `entered`: Enter. `escaped`: Escape. Undo belongs to the record while nothing is half typed.
    """

    entered = Signal(object)
    escaped = Signal(object)

    def __init__(self, part: Dimension, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.part = part
        self.held = ""
        """What the record holds, as typed; empty where nothing was chosen."""
        self.doubted = ""
        """What was typed beyond what the feature can have, and is kept if it is entered again."""
        self.setMaxLength(LONGEST)
        self.setAccessibleName(name)

    @property
    def is_dirty(self) -> bool:
        """Whether something else stands in it than the record holds."""
        return self.text().strip() != self.held

    def put_back(self) -> None:
        """Show what the record holds."""
        self.doubted = ""
        self.setText(self.held)

    def event(self, event: QEvent) -> bool:
        keys = QKeySequence.StandardKey
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and not self.is_dirty
            and (event.matches(keys.Undo) or event.matches(keys.Redo))
        ):
            event.ignore()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and not event.modifiers() & (
            Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
        ):
            self.entered.emit(self)
        elif event.key() == Qt.Key.Key_Escape:
            self.escaped.emit(self)
        else:
            super().keyPressEvent(event)


class SizesBox(QWidget):
    """All dimensions of the feature at hand.

    `tried`: something was typed. `taken(sizes)`: Enter, with all that stands there, by size id.
    `left`: the keys go back to the list.
    """

    tried = Signal()
    taken = Signal(object)
    left = Signal()

    def __init__(self, theme: Theme, material: Material, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._material = material
        self.lines: list[SizeLine] = []
        self._rests: list[Note] = []
        self._about: tuple[str, object] | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(round(em(self) * 0.7))
        self._grid.setVerticalSpacing(round(em(self) * 0.25))
        self._grid.setColumnStretch(2, 1)
        self.effects = Note(theme, Ink.INK, self)
        self.remark = Note(theme, Ink.CAUTION, self)
        self._labels: list[QLabel] = []
        self.hide()

    # --- showing

    def show_feature(self, one: Candidate | None, stored: Mapping[str, str]) -> bool:
        """Show a feature; `stored` is what was chosen of it, as typed. None shows nothing.

        True if the lines are new ones.
        """
        about = (one.id, one.side) if one is not None else None
        anew = about != self._about
        if anew:
            self._about = about
            self._build(one)
        if one is None:
            return anew
        for line in self.lines:
            held = stored.get(line.part.size.id, "")
            was_dirty, line.held = line.is_dirty, held
            if not was_dirty and line.text() != held:
                line.setText(held)
        self.show_numbers(one)
        return anew

    def show_numbers(self, one: Candidate) -> None:
        """What the dimensions rest on and would do; nothing that is typed is touched."""
        for line, rests, part in zip(self.lines, self._rests, one.dimensions, strict=True):
            line.part = part
            line.setPlaceholderText(size_words(part.value, part.size.unit))
            words = self._words(part)
            rests.say(words, Ink.MUTED)
            line.setAccessibleDescription(words)
        told = "\n".join(effect_words(found) for found in one.effects)
        self.effects.say(told, Ink.INK)
        if self.is_dirty:
            self.remark.say(TEXTS["plan-tried"], Ink.ACCENT)
        elif not any(line.doubted for line in self.lines):
            self.remark.say("", Ink.CAUTION)

    def _words(self, part: Dimension) -> str:
        """Unit and range; what a number rests on; what a calculation lacks."""
        size = part.size
        can = range_of_size(size.low, size.high, size.unit)
        usual = size_words(size.usual, size.unit)
        how = self._material.phrases(part.provenance)
        told = [f"{can}, {TEXTS['plan-usual']} {usual}", how]
        rests = rests_words(part)
        if rests:
            told.insert(1, rests)
        if rests.endswith(how):
            told.remove(how)  # an estimate is called one once
        if part.remark:
            told.append(part.remark.rstrip("."))
        return "; ".join(told)

    def _build(self, one: Candidate | None) -> None:
        for widget in (*self.lines, *self._rests, *self._labels):
            self._grid.removeWidget(widget)
            widget.hide()
            widget.deleteLater()
        self.lines, self._rests, self._labels = [], [], []
        self.remark.say("", Ink.CAUTION)
        self.effects.say("", Ink.INK)
        for row, part in enumerate(one.dimensions if one else ()):
            self._add(row, part, one)
        last = len(self.lines)
        self._grid.addWidget(self.remark, last, 0, 1, 3)
        self._grid.addWidget(self.effects, last + 1, 0, 1, 3)
        self.setVisible(one is not None)

    def _add(self, row: int, part: Dimension, one: Candidate | None) -> None:
        label = QLabel(size_name(part), self)
        feature = say(one.feature.label) if one else ""
        side = f", {one.side}" if one and one.side else ""
        line = SizeLine(part, f"{feature}{side}: {size_name(part)}, in {part.size.unit}", self)
        line.setFixedWidth(round(em(self) * 6))
        label.setBuddy(line)
        rests = Note(self._theme, Ink.MUTED, self)
        line.textEdited.connect(self._on_edited)
        line.entered.connect(self._on_entered)
        line.escaped.connect(self._on_escaped)
        middle = Qt.AlignmentFlag.AlignVCenter
        self._grid.addWidget(label, row, 0, middle)
        self._grid.addWidget(line, row, 1, middle)
        self._grid.addWidget(rests, row, 2, middle)
        self.lines.append(line)
        self._rests.append(rests)
        self._labels.append(label)
        line.show()
        label.show()

    # --- typing

    @property
    def is_dirty(self) -> bool:
        """Whether something is typed that is not taken."""
        return any(line.is_dirty for line in self.lines)

    def typed(self) -> dict[str, str]:
        """What stands in the lines, by size id; a line that cannot be read counts as empty."""
        found = {line.part.size.id: line.text().strip() for line in self.lines}
        units = {line.part.size.id: line.part.size.unit for line in self.lines}
        return {
            name: text
            for name, text in found.items()
            if text and read_size(text, units[name]) is not None
        }

    def put_back(self) -> str:
        """Put all lines back; what was tried, in words."""
        tried = [line.text().strip() or "—" for line in self.lines if line.is_dirty]
        for line in self.lines:
            line.put_back()
        self.remark.say("", Ink.CAUTION)
        return ", ".join(tried)

    def start(self, first: str = "") -> bool:
        """Put the keys into the first line, with what was typed already; False without a line."""
        if not self.lines:
            return False
        line = self.lines[0]
        line.setFocus(Qt.FocusReason.OtherFocusReason)
        line.selectAll()
        if first:
            line.setText(first)
            self.tried.emit()
        return True

    def _on_edited(self, _text: str) -> None:
        line = self.sender()
        if isinstance(line, SizeLine):
            line.doubted = ""
        self.tried.emit()

    def _on_entered(self, line: SizeLine) -> None:
        """Take what stands there; refuse what is no number, ask once about what lies beyond."""
        text, size = line.text().strip(), line.part.size
        if text:
            value = read_size(text, size.unit)
            if value is None:
                words = TEXTS["plan-no-size"].format(typed=text, unit=size.unit)
                self.remark.say(words, Ink.CAUTION)
                return
            if not size.low <= value <= size.high and line.is_dirty and line.doubted != text:
                line.doubted = text
                can = range_of_size(size.low, size.high, size.unit)
                why = f"{size_words(value, size.unit)} lies outside what it can have, {can}."
                self.remark.say(TEXTS["plan-beyond"].format(why=why), Ink.CAUTION)
                return
        line.doubted = ""
        self.taken.emit(line)

    def go_on(self, line: SizeLine) -> None:
        """To the next line, or back to the list behind the last."""
        at = self.lines.index(line) + 1 if line in self.lines else len(self.lines)
        if at < len(self.lines):
            self.lines[at].setFocus(Qt.FocusReason.TabFocusReason)
            self.lines[at].selectAll()
        else:
            self.left.emit()

    def _on_escaped(self, line: SizeLine) -> None:
        if line.is_dirty or self.is_dirty:
            self.put_back()
            self.tried.emit()
        else:
            self.left.emit()
