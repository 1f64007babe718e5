"""An editor of several widgets that take the keys in turn; to the cell around it they are one."""

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.editor import Editor
from footexam.desktop.theme import Theme

_TABS = {Qt.Key.Key_Tab: 1, Qt.Key.Key_Backtab: -1}


def _is_undo(event: QKeyEvent) -> bool:
    keys = QKeySequence.StandardKey
    return event.matches(keys.Undo) or event.matches(keys.Redo)


class Compound(Editor):
    """Subclasses adopt their widgets and say in which order they take the keys.

    The editor itself is told FocusIn when the keys come to any of them and FocusOut when they have
    left all of them, so that a cell takes over what is typed once, not at every step inside.
    """

    def __init__(self, measure: Measure, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(measure, theme, parent)
        self.name = ""
        self.told = ""
        self._inside = False

    # --- for subclasses

    def order(self) -> Sequence[QWidget]:
        """The widgets that take the keys now, in reading order; at least one."""
        raise NotImplementedError

    def settle(self) -> None:
        """Take in what is half typed, before the editor is left."""

    def left(self) -> None:
        """The keys have gone elsewhere in the window."""

    def describe(self) -> None:
        """Give the inner widgets their accessible names and descriptions."""

    def adopt(self, widget: QWidget) -> None:
        """Watch the keys and the focus of an inner widget."""
        widget.installEventFilter(self)

    def chain(self) -> None:
        """Set the order of Tab to the reading order, and begin with the first widget."""
        order = self.order()
        self.setFocusProxy(order[0])
        for first, second in pairwise(order):
            QWidget.setTabOrder(first, second)

    def note_edited(self, changed: bool) -> None:
        """Tell that something was typed; `changed`: it differs from what the record holds."""
        self.dirty = changed
        self.edited.emit()

    # --- keys

    def go(self, widget: QWidget, step: int) -> None:
        """On to the next inner widget; from the last one the cell is left."""
        order = list(self.order())
        at = order.index(widget) + step if widget in order else -1
        if 0 <= at < len(order):
            order[at].setFocus(Qt.FocusReason.TabFocusReason)
            return
        self.settle()
        self.finished.emit(step)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QFocusEvent) and isinstance(watched, QWidget):
            self._on_focus(event)
        elif event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if not self.dirty and _is_undo(event):
                event.ignore()  # with nothing half typed, undo belongs to the record
                return True
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            step = _TABS.get(Qt.Key(event.key()))
            modified = event.modifiers() & Qt.KeyboardModifier.ControlModifier
            if step is not None and not modified and isinstance(watched, QWidget):
                self.go(watched, step)
                return True
        return super().eventFilter(watched, event)

    def _on_focus(self, event: QFocusEvent) -> None:
        if event.type() == QEvent.Type.FocusIn and not self._inside:
            self._inside = True
            QCoreApplication.sendEvent(self, QFocusEvent(QEvent.Type.FocusIn, event.reason()))
        elif event.type() == QEvent.Type.FocusOut and self._inside:
            if event.reason() == Qt.FocusReason.PopupFocusReason:
                return
            now = QApplication.focusWidget()
            if now is not None and self.isAncestorOf(now):
                return
            self._inside = False
            self.settle()
            QCoreApplication.sendEvent(self, QFocusEvent(QEvent.Type.FocusOut, event.reason()))
            if now is not None:
                self.left()

    @property
    def has_keys(self) -> bool:
        """Whether the keys are in one of the inner widgets."""
        return self._inside

    # --- names; the cell gives them to its editor, which passes them on

    def setAccessibleName(self, name: str, /) -> None:
        super().setAccessibleName(name)
        self.name = name
        self.describe()

    def setAccessibleDescription(self, words: str, /) -> None:
        super().setAccessibleDescription(words)
        self.told = words
        self.describe()
