"""The line under the worksheet for what belongs beside a reading: reason, note, method, copying."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from footexam.desktop.input_line import InputLine
from footexam.desktop.judgement import Key
from footexam.desktop.session import Answer, Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em
from footexam.desktop.typing import type_word
from footexam.record.reading import Reading


class _Line(InputLine):
    """A line that Escape leaves."""

    escaped = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            super().keyPressEvent(event)


class AnnotationLine(QWidget):
    """One question with one line for its answer; hidden while nothing is asked.

    `done(refusal)`: the answer was taken (empty) or refused (why). `gone`: the line has closed.
    `amended(given)`: the reason of a change of a signed record was given, or not (Escape).
    """

    done = Signal(str)
    gone = Signal()
    amended = Signal(bool)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.session: Session | None = None
        self._ask = ""
        self._back: QWidget | None = None
        self._key: Key = ("", None)
        self._words: list[tuple[str, str]] = []
        self._copied: Reading | None = None
        self._take: Callable[[str], Answer] = lambda _: Answer(True)
        self.question = QLabel(self)
        self.question.setTextFormat(Qt.TextFormat.PlainText)
        self.question.setWordWrap(True)
        self.line = _Line(self)
        self.line.setMaxLength(4000)
        row = QHBoxLayout(self)
        pad = round(em(self) * 0.5)
        row.setContentsMargins(pad * 2, pad, pad * 2, pad)
        row.addWidget(self.question, 1)
        row.addWidget(self.line, 1)
        self.line.returnPressed.connect(self._on_return)
        self.line.escaped.connect(self._on_escaped)
        self.hide()

    def ask_reason(self, key: Key, question: str) -> None:
        """Ask why there is no value; the absence itself is already entered."""
        self._open("reason", key, question, "")

    def ask_note(self, key: Key, name: str, note: str) -> None:
        """Ask for a note."""
        self._open("note", key, f"{name}: note", note)

    def ask_method(
        self, key: Key, name: str, words: Sequence[tuple[str, str]], method: str | None
    ) -> None:
        """Ask for the method; where forms/ lists methods, the first letters choose one."""
        self._words = list(words)
        listed = ", ".join(shown for _, shown in words)
        hint = f" (first letters of: {listed})" if words else ""
        self._open("method", key, f"{name}: method{hint}", method or "")

    def ask_copy(self, key: Key, reading: Reading, question: str) -> None:
        """Ask whether the other side is the same: y takes it over."""
        self._copied = reading
        self._open("copy", key, f"{question} (y, Enter)", "")

    def ask_why(self, question: str = TEXTS["why-change"]) -> None:
        """Ask why a signed record is changed, or a yes on a danger question taken back."""
        if self._ask != "why" or self.isHidden():
            self._open("why", ("", None), question, "")

    def ask_words(self, question: str, take: Callable[[str], Answer]) -> None:
        """Ask for words and hand them to `take`; what it refuses stays in the line."""
        self._take = take
        self._open("words", ("", None), question, "")

    def _open(self, ask: str, key: Key, question: str, text: str) -> None:
        now: QWidget | None = self.window().focusWidget()
        if now is not None and now is not self.line:
            self._back = now
        self._ask, self._key = ask, key
        self.question.setText(question)
        self.line.setAccessibleName(question)
        self.line.setText(text)
        self.show()
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self.line.selectAll()

    def _on_return(self) -> None:
        answer = self._answer(self.line.text())
        if not answer.taken:
            self.done.emit(answer.refusal)
        elif self._ask == "why":
            self._leave()
            self.amended.emit(True)
        else:
            self._close()
            self.done.emit("")

    def _answer(self, text: str) -> Answer:
        if self.session is None:
            return Answer(True)
        ways = {
            "why": self._why,
            "words": lambda _, words: self._take(words),
            "reason": self._reason,
            "copy": self._copy,
            "method": self._method_of,
        }
        return ways.get(self._ask, self._note)(self.session, text)

    def _why(self, session: Session, text: str) -> Answer:
        return session.amend(text) if text.strip() else Answer(False, TEXTS["why-missing"])

    def _note(self, session: Session, text: str) -> Answer:
        return session.annotate(self._key, note=text)

    def _method_of(self, session: Session, text: str) -> Answer:
        method = self._method(text)
        if method is None:
            return Answer(False, refusal=TEXTS["no-method"].format(typed=text))
        return session.annotate(self._key, method=method)

    def _reason(self, session: Session, text: str) -> Answer:
        reading = session.examination.reading(*self._key)
        if not text.strip() or reading is None or reading.absent is None:
            return Answer(True)
        return session.set_absent([self._key], reading.absent, text)

    def _copy(self, session: Session, text: str) -> Answer:
        if text.strip().casefold() not in {"y", "yes"} or self._copied is None:
            return Answer(True)
        return session.enter(self._key, self._copied.typed, keep=True)

    def _method(self, text: str) -> str | None:
        if not text.strip() or not self._words:
            return text.strip()
        shown = [words for _, words in self._words]
        exact = [word for word, words in self._words if text.casefold() in (word, words.casefold())]
        typed = type_word(text[:-1].casefold(), text[-1], shown)
        if exact:
            return exact[0]
        return None if typed.chosen is None else self._words[typed.chosen][0]

    def _on_escaped(self) -> None:
        if self._ask == "why":
            self.amended.emit(False)
        self._close()

    def _close(self) -> None:
        self._leave()
        self.gone.emit()

    def _leave(self) -> None:
        """Give the keys back first: hiding a line that has them sends them to the first cell."""
        if self._back is not None:
            self._back.setFocus(Qt.FocusReason.OtherFocusReason)
        self._back = None
        self.hide()
