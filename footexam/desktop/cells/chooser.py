"""Chooses places of one side: a line to type into, what is chosen, and a map that unfolds."""

from PySide6.QtCore import QEvent, QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QListWidgetItem, QScrollArea, QVBoxLayout, QWidget

from footexam.desktop.cells.frame import Note
from footexam.desktop.cells.map_view import MapStrip
from footexam.desktop.cells.place_list import REGION, PlaceList
from footexam.desktop.cells.place_panel import PlacePanel, marks
from footexam.desktop.cells.places import Places, begins_number
from footexam.desktop.cells.words import tell
from footexam.desktop.input_line import InputLine
from footexam.desktop.theme import Theme, em
from footexam.drawing.palette import Ink
from footexam.terms import Side

_ENTER = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})
_AWAY = frozenset({Qt.Key.Key_Delete, Qt.Key.Key_Backspace})


class _Line(InputLine):
    """The line that has the keys all the time; what is not text goes to the chooser first."""

    def __init__(self, owner: "PlaceChooser") -> None:
        super().__init__(owner)
        self._owner = owner

    def event(self, event: QEvent) -> bool:
        # no shortcut of the window takes Escape while there is something to fold
        override = event.type() == QEvent.Type.ShortcutOverride
        if override and isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape:
            event.setAccepted(self._owner.can_escape())
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._owner.press(event):
            super().keyPressEvent(event)


class PlaceChooser(QWidget):
    """`edited()` after every change; `leave(step)` when the keys should go on or back."""

    edited = Signal()
    leave = Signal(int)

    def __init__(
        self, places: Places, theme: Theme, side: Side | None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.places = places
        self.theme = theme
        self.side = side
        self.name = ""
        self.told = ""
        self.list: PlaceList | None = None
        self.panel: PlacePanel | None = None
        self._armed = False
        self._message = ""
        self._build()
        self.refresh()

    def _build(self) -> None:
        self.line = _Line(self)
        self.line.setMaxLength(80)
        self.line.setMinimumWidth(round(em(self) * 3.2))
        self.summary = QLabel(self)
        self.summary.setWordWrap(True)
        self.summary.setTextFormat(Qt.TextFormat.PlainText)
        self.message = Note(self.theme, Ink.INK, self)
        self.strip = MapStrip(self.theme, self.side, self)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(round(em(self) * 0.2))
        for widget in (self.line, self.message, self.summary, self.strip):
            self._column.addWidget(widget)
        self.line.textEdited.connect(self._on_typed)
        self.strip.picked.connect(self._on_view_picked)

    # --- unfolding

    @property
    def is_open(self) -> bool:
        """Whether the map is unfolded."""
        return self.panel is not None and not self.panel.isHidden()

    def unfold(self) -> None:
        """Show map and list, made at first need, and bring them into view."""
        if self.panel is None or self.list is None:
            self.list, self.panel = self._make_parts()
            self.name_parts()
        self.list.show()
        self.panel.show()
        self.refresh()
        QTimer.singleShot(0, self, self._into_view)

    def _make_parts(self) -> tuple[PlaceList, PlacePanel]:
        """The list right under the words, so that it stays where it is; the map below."""
        places = PlaceList(self.places, self.theme, self)
        places.itemClicked.connect(self._on_clicked)
        self._column.insertWidget(self._column.indexOf(self.strip), places)
        panel = PlacePanel(self.places, self.theme, self.side, self)
        panel.picked.connect(self._on_picked)
        self._column.addWidget(panel)
        return places, panel

    def fold(self) -> None:
        """Hide map and list; letters typed and not entered are dropped, they are no entry."""
        self.line.clear()
        self.places.search("")
        self.places.at = None
        self._armed, self._message = False, ""
        for part in (self.list, self.panel):
            if part is not None:
                part.hide()
        self.refresh()

    def _into_view(self) -> None:
        """Scroll the sheet so far that the map is seen, the line above all."""
        above: QWidget | None = self.parentWidget()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parentWidget()
        if isinstance(above, QScrollArea):
            sheet = above.widget()
            layout = sheet.layout() if sheet is not None else None
            if layout is not None:
                layout.activate()  # the map has only just got its room
            editor = self.parentWidget() or self
            before = self.line.mapTo(editor, QPoint(0, 0)).y() + em(self)
            above.ensureWidgetVisible(editor, 0, round(em(self)))
            at = self.line.mapTo(above.viewport(), QPoint(0, 0)).y()
            room = min(before, above.viewport().height() // 3)
            if at < room:  # the question above the line is seen too
                bar = above.verticalScrollBar()
                bar.setValue(bar.value() + at - room)

    # --- typing

    def pending(self) -> bool:
        """Whether a number is typed for the place at hand and not entered yet."""
        return self.places.valued and bool(self.places.at) and begins_number(self.line.text())

    def settle(self) -> None:
        """Enter the number that is typed; letters are left alone."""
        if self.pending() and self.places.at:
            self.places.put(self.places.at, self.line.text().strip())
            self.line.clear()
            self._changed()

    def _on_typed(self, text: str) -> None:
        self._message = ""
        if self.places.valued and begins_number(text):
            self._message = "" if self.places.at else tell("place-first")
        else:
            self.places.search(text)
            self._armed = bool(text.strip()) and self.places.at is not None
            if text.strip() and not self.places.fitting:
                self._message = tell("no-place-fits")
        if not self.is_open:
            self.unfold()
        self._changed()

    def _changed(self) -> None:
        self.refresh()
        self.edited.emit()

    def press(self, event: QKeyEvent) -> bool:
        """What a key means that is not text; False: nothing, it goes on its way."""
        key, empty = event.key(), not self.line.text().strip()
        modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if key in _ENTER and not modifiers & ~Qt.KeyboardModifier.ShiftModifier:
            self._enter(back=bool(modifiers))
        elif modifiers:
            return False
        elif key == Qt.Key.Key_Escape and self.can_escape():
            self._escape()
        elif key in {Qt.Key.Key_Down, Qt.Key.Key_Up}:
            self._move(1 if key == Qt.Key.Key_Down else -1)
        elif not empty:
            return False
        elif key in {Qt.Key.Key_Right, Qt.Key.Key_Left} and self.is_open:
            self.places.move_view(1 if key == Qt.Key.Key_Right else -1)
            self._armed = False  # Enter must not remove a place that only came into view
            self.refresh()
        elif key == Qt.Key.Key_Space:
            self._space()
        elif key in _AWAY and self.places.at in self.places.marks:
            self.places.remove(str(self.places.at))
            self._changed()
        else:
            return False
        return True

    def can_escape(self) -> bool:
        """Whether Escape has something to do here."""
        return bool(self.line.text()) or self.is_open

    def _escape(self) -> None:
        """First the letters go, then the map."""
        if self.line.text():
            self.line.clear()
            self._message = ""
            self.places.search("")
            self._changed()
        else:
            self.fold()

    def _enter(self, *, back: bool) -> None:
        if back:
            self.settle()
            self.leave.emit(-1)
        elif self.pending():
            self.settle()
            self._armed = False
        elif self.line.text().strip():
            self._enter_letters()
        elif not self.is_open:
            self.unfold()
        elif self._armed and self.places.at and not self.places.valued:
            self._take(self.places.at)
        else:
            self.leave.emit(1)

    def _enter_letters(self) -> None:
        """The place that the letters mean is taken; without one the letters stay."""
        if self.places.at is None or begins_number(self.line.text()):
            return
        self.line.clear()
        self.places.search("")
        self._take(self.places.at)

    def _take(self, region: str) -> None:
        """Choose a place or not; where numbers are typed it comes to hand for its number."""
        self.places.at = region
        self._armed = False
        if not self.places.valued:
            self.places.toggle(region)
        self._changed()

    def _space(self) -> None:
        if not self.is_open:
            self.unfold()
        elif self.places.at and not self.places.valued:
            self._take(self.places.at)

    def _move(self, step: int) -> None:
        self.settle()
        if not self.is_open:
            self.unfold()
        self.places.move(step)
        self._armed = self.places.at is not None
        self._message = ""
        self.refresh()

    # --- the mouse

    def _on_picked(self, region: str) -> None:
        self.settle()
        self.line.clear()
        self.places.search("")
        self.line.setFocus(Qt.FocusReason.MouseFocusReason)
        self._take(region)

    def _on_clicked(self, item: QListWidgetItem) -> None:
        self._on_picked(item.data(REGION))

    def _on_view_picked(self, view: str) -> None:
        self.line.setFocus(Qt.FocusReason.MouseFocusReason)
        self.places.show_view(view)
        self._armed = False
        self.unfold()

    # --- showing

    def refresh(self) -> None:
        """Show what is chosen and which place is at hand."""
        summary = self.places.summary()
        self.summary.setText(summary)
        self.summary.setVisible(bool(summary))
        self.strip.show_marks(self.places.view() if self.is_open else None, marks(self.places))
        self.strip.setVisible(self.is_open or bool(self.places.marks))
        self.line.setPlaceholderText(self._hint())
        self.message.say(self._message, Ink.INK)
        if self.panel is not None and self.list is not None and self.is_open:
            self.list.refresh()
            self.panel.refresh()
        self.describe()

    def _hint(self) -> str:
        at = self.places.at
        if self.places.valued and at:
            return tell("number-for", range=self.places.range(), place=self.places.label(at))
        return tell("place-more" if self.places.marks and self.is_open else "place-hint")

    def name_parts(self) -> None:
        """Names of the parts for a screen reader."""
        self.line.setAccessibleName(tell("find-place", name=self.name))
        self.strip.setAccessibleName(tell("map-of", name=self.name))
        if self.panel is not None and self.list is not None:
            self.list.setAccessibleName(tell("places-of", name=self.name))
            self.panel.map.setAccessibleName(tell("map-of", name=self.name))

    def describe(self) -> None:
        """Tell a screen reader the place at hand, all that is chosen, and the keys."""
        keys = tell("keys-number" if self.places.valued else "keys-choose")
        chosen = self.places.summary().replace("\n", "; ") or tell("none-chosen")
        at = self.places.at
        hand = f"{self.places.label(at)}, {self.places.state(at)}" if at else ""
        words = "; ".join(filter(None, (self._message, hand, chosen, self.told, keys)))
        if words == self.line.accessibleDescription():
            return
        self.line.setAccessibleDescription(words)
        if QAccessible.isActive() and (self._message or hand) and self.line.hasFocus():
            spoken = QAccessibleAnnouncementEvent(self.line, self._message or hand)
            QAccessible.updateAccessibility(spoken)
