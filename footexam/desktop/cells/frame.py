"""One cell of the worksheet: the editor, and under it what the reading is worth."""

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPalette
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from footexam.catalogue.model import Measure
from footexam.desktop.cells.editor import Editor
from footexam.desktop.judgement import Judgement, Key
from footexam.desktop.painting import DrawingView
from footexam.desktop.session import Answer, Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em, small
from footexam.drawing.palette import Ink
from footexam.terms import Side

_TABS = {Qt.Key.Key_Tab: 1, Qt.Key.Key_Backtab: -1}
_NOT_TAB = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier


class Note(QLabel):
    """A line of small text under a cell; takes no room while it is empty."""

    def __init__(self, theme: Theme, ink: Ink = Ink.MUTED, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._said: tuple[str, Ink] | None = None
        self.setFont(small(self))
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.say("", ink)

    def say(self, words: str, ink: Ink) -> None:
        """Show words in a colour of the theme; nothing is laid out anew if they stand there."""
        if self._said == (words, ink):
            return
        if self._said is None or self._said[1] is not ink:
            palette = self.palette()
            palette.setColor(QPalette.ColorRole.WindowText, self._theme.colour(ink))
            self.setPalette(palette)
        self._said = (words, ink)
        self.setText(words)
        self.setVisible(bool(words))


class CellFrame(QWidget):
    """A cell with its editor; takes over what is typed when it is left.

    `leave(step)`: the focus should go on (1) or back (-1). `focused(self)` when the keys come here.
    `tabbed(self, step)`: likewise by Tab, which stops at derived values too.
    `reason_wanted(self)`: the record is signed; `commit` again once the session has a reason.
    """

    leave = Signal(object, int)
    tabbed = Signal(object, int)
    focused = Signal(object)
    reason_wanted = Signal(object)

    def __init__(
        self,
        key: Key,
        name: str,
        editor: Editor,
        session: Session,
        theme: Theme,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.key = key
        self.name = name
        self.editor = editor
        self.session = session
        self._doubted: object | None = None
        self.awaits_saving = False
        self.both_at_once = False
        """Whether a no typed here, while the other side is empty, answers for both sides."""
        self._shown: object = None
        self._build(theme)
        editor.finished.connect(self._on_finished)
        editor.edited.connect(self._on_edited)
        focus = editor.focus_widget()
        focus.setAccessibleName(name)
        focus.installEventFilter(self)
        self.setFocusProxy(focus)

    @property
    def measure(self) -> Measure:
        """The measure of this cell."""
        return self.editor.measure

    def _build(self, theme: Theme) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, round(em(self) * 0.15), 0, round(em(self) * 0.25))
        column.setSpacing(round(em(self) * 0.1))
        top = QHBoxLayout()
        top.setSpacing(round(em(self) * 0.3))
        self.state = QLabel(self)
        self.state.setFont(small(self))
        size = (round(em(self) * 1.1), round(em(self) * 1.6))
        self.state.setFixedSize(*size)  # no new layout for a mark
        top.addWidget(self.editor, 1)
        top.addWidget(self.state, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(top)
        self.view = DrawingView(theme, self)
        self.view.hide()
        column.addWidget(self.view)
        self.sure = Note(theme, Ink.MUTED, self)
        self.usual = Note(theme, Ink.MUTED, self)
        self.remarks = Note(theme, Ink.MUTED, self)
        self.message = Note(theme, Ink.CAUTION, self)
        self.before = Note(theme, Ink.MUTED, self)
        for note in (self.sure, self.usual, self.remarks, self.message, self.before):
            column.addWidget(note)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    # --- typing

    def _on_edited(self) -> None:
        self.session.touched.emit()
        self._doubted = None
        self.message.say("", Ink.CAUTION)
        self.show_state()

    def _on_finished(self, step: int) -> None:
        if self.commit() and step:
            self.leave.emit(self, step)

    def _on_tabbed(self, step: int) -> None:
        if self.commit():
            self.tabbed.emit(self, step)

    def finish(self) -> None:
        """Take over what is typed and go on."""
        self._on_finished(1)

    def commit(self) -> bool:
        """Take over what is typed; False while it is refused or doubted."""
        if not self.editor.dirty:
            return True
        typed = self.editor.typed()
        if typed is None:
            answer = self.session.take_back(self.key)
        elif self._answers_both(typed):
            answer = self.session.enter_both(self.key[0], typed)
        else:
            answer = self.session.enter(self.key, typed, keep=self._doubted == typed)
        if answer.taken:
            self._doubted = None
            self.message.say("", Ink.CAUTION)
            self.editor.dirty = False
            self.refresh(force=True)
            return True
        self._doubted = typed if answer.doubt else None
        self._show_answer(answer)
        return False

    def _answers_both(self, typed: object) -> bool:
        keys = [(self.key[0], side) for side in Side]
        found = [self.session.examination.reading(*key) for key in keys]
        return self.both_at_once and typed == "no" and not any(found)

    def _show_answer(self, answer: Answer) -> None:
        """Why what is typed is not taken over, under the cell; the typed text stays."""
        words = answer.refusal
        if answer.doubt:
            words = TEXTS["doubt"].format(why=answer.doubt.partition(";")[0])
        self.message.say(words, Ink.CAUTION)
        self._describe()
        if answer.wants_reason:
            self.reason_wanted.emit(self)

    def revert(self) -> None:
        """Put back what the record holds."""
        self.editor.dirty = False
        self._on_edited()
        self.refresh(force=True)

    # --- showing

    def refresh(self, *, force: bool = False) -> None:
        """Show what the record holds and what it is worth, if that has changed."""
        reading = self.session.examination.reading(*self.key)
        clash = self.session.clashes.get(self.key, "")
        now = (reading, self.session.judge.rests_on(self.key), clash)
        if force or now != self._shown:
            if not self.editor.dirty:
                self.editor.show_reading(reading)
            self._show(self.session.judge.of(self.key))
            if not self.editor.dirty:
                self.message.say(clash, Ink.CAUTION)
            self._shown = now
            self.show_state()

    def _show(self, judgement: Judgement) -> None:
        self.view.show_drawing(judgement.ruler, em(self) / 11)
        told = judgement.absent or judgement.sure
        self.sure.say(told, Ink.INK if judgement.absent else judgement.ink)
        self.usual.say(judgement.usual, Ink.MUTED)
        self.remarks.say(judgement.remarks, Ink.MUTED)
        self.before.say(f"last visit {judgement.before}" if judgement.before else "", Ink.MUTED)
        self._spoken = judgement.spoken()
        self._describe()

    def _describe(self) -> None:
        """Everything under the cell as the description that a screen reader tells."""
        words = [self.message.text(), getattr(self, "_spoken", ""), self.state.toolTip()]
        self.editor.focus_widget().setAccessibleDescription("; ".join(filter(None, words)))

    def show_state(self) -> None:
        """Saved, saving or not taken over: by a mark and its words."""
        reading = self.session.examination.reading(*self.key)
        if self.editor.dirty:
            mark, words = "…", "not taken over yet"
        elif reading is None:
            mark, words = "", ""
        elif self.session.is_saved(self.key):
            mark, words = "✓", "saved"
        elif self.session.store.trouble:
            mark, words = "!", "not saved"
        else:
            mark, words = "↻", "saving"
        self.state.setText(mark)
        self.state.setToolTip(words)
        self.awaits_saving = mark in {"↻", "!"}

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Escape puts the record's value back; leaving by any way takes over what is typed."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() == Qt.Key.Key_Escape and self.editor.dirty:
                self.revert()
                return True
            if event.key() in _TABS and not event.modifiers() & _NOT_TAB:
                self._on_tabbed(_TABS[Qt.Key(event.key())])
                return True
        elif event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            return self._leave_undo_to_the_record(event)
        elif event.type() == QEvent.Type.FocusIn:
            self.focused.emit(self)
        elif event.type() == QEvent.Type.FocusOut and self.editor.dirty:
            QTimer.singleShot(0, self, self._on_focus_lost)
        elif event.type() == QEvent.Type.Wheel:
            return self._pass_wheel(event)
        return super().eventFilter(watched, event)

    def _leave_undo_to_the_record(self, event: QKeyEvent) -> bool:
        """Undo and redo belong to what is typed only while it is not taken over."""
        keys = QKeySequence.StandardKey
        if self.editor.dirty or not (event.matches(keys.Undo) or event.matches(keys.Redo)):
            return False
        event.ignore()
        return True

    def _on_focus_lost(self) -> None:
        self.commit()

    def _pass_wheel(self, event: QEvent) -> bool:
        """A wheel over a cell scrolls the sheet and never changes a value."""
        event.ignore()
        return False
