"""A visit that went wrong: entered in error, or with the wrong patient; the reason is asked."""

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFormLayout, QPushButton, QWidget

from footexam.desktop.input_line import InputLine
from footexam.desktop.pages import Page
from footexam.desktop.texts import TEXTS
from footexam.desktop.visit import Visit
from footexam.record.refusal import Refusal, text


class Wrong(StrEnum):
    """What is wrong with a visit."""

    IN_ERROR = "in-error"
    WRONG_PATIENT = "wrong-patient"


@dataclass(frozen=True, slots=True)
class Correction:
    """A visit, what is wrong with it, why, and who says so."""

    visit: Visit
    wrong: Wrong
    reason: str
    name: str


class CorrectPage(Page):
    """Asks why, and who says so; `given(correction)` once both are there."""

    given = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._visit: Visit | None = None
        self._wrong = Wrong.IN_ERROR
        self.title = self.add_label(" ", 1.6)
        self.patient = self.add_label(" ", 1.1)
        self.what = self.add_label(" ")
        form = QFormLayout()
        self.reason = InputLine(self.inner)
        self.name = InputLine(self.inner)
        for line, words in ((self.reason, TEXTS["reason"]), (self.name, TEXTS["examiner"])):
            line.setMaxLength(200)
            line.setAccessibleName(words)
            line.returnPressed.connect(self._on_given)
            form.addRow(words, line)
        self.column.addLayout(form)
        self.go = QPushButton(self.inner)
        self.go.setAutoDefault(True)
        self.go.clicked.connect(self._on_given)
        self.column.addWidget(self.go, 0, Qt.AlignmentFlag.AlignLeft)
        self.remark = self.add_label()
        self.column.addStretch(1)
        self.setFocusProxy(self.reason)

    def ask(self, wrong: Wrong, visit: Visit, patient: str, visit_words: str, name: str) -> None:
        """Ask about a visit of a patient; `name` is who is at the desk, as far as is known."""
        self._wrong, self._visit = wrong, visit
        self.title.setText(TEXTS[wrong])
        self.patient.setText(f"{patient}\n{visit_words}")
        self.what.setText(TEXTS[f"{wrong}-what"])
        self.go.setText(TEXTS[f"{wrong}-go"])
        self.reason.clear()
        self.name.setText(name)
        self.remark.clear()

    def _on_given(self) -> None:
        try:
            reason = text(" ".join(self.reason.text().split()) or "", 200)
            name = text(" ".join(self.name.text().split()) or "", 200)
        except Refusal:
            empty = self.name if self.reason.text().strip() else self.reason
            self.remark.setText(TEXTS["reason-and-name"])
            empty.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if self._visit is not None:
            self.given.emit(Correction(self._visit, self._wrong, reason, name))
