"""A new patient: who they are, asked once more where somebody like them is there already."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFormLayout, QPushButton, QWidget

from footexam.desktop.input_line import InputLine
from footexam.desktop.pages import Page, Radios
from footexam.desktop.patients import ListedPatient, name_of, short_date
from footexam.desktop.texts import TEXTS
from footexam.record.cells import partial_date
from footexam.record.examination import Patient
from footexam.record.refusal import Refusal, text
from footexam.store.birth_dates import birth_dates
from footexam.terms import Sex

_LINES = (
    ("family_name", "Family name"),
    ("given_names", "Given names"),
    ("title", "Title"),
    ("birth_date", "Birth date (as in 30-Aug-1979)"),
    ("record_number", "Record number"),
)


class NewPatientPage(Page):
    """The form of a new patient; `made(patient)` when it may be written down."""

    made = Signal(object)

    def __init__(
        self,
        like: Callable[[Patient], Sequence[ListedPatient]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._like = like
        self._asked: Patient | None = None
        self.add_label(TEXTS["new-patient-title"], 1.45)
        form = QFormLayout()
        form.setVerticalSpacing(self.column.spacing())
        self.lines: dict[str, InputLine] = {}
        for name, words in _LINES:
            line = InputLine(self.inner)
            line.setMaxLength(200)
            line.setAccessibleName(words)
            line.textEdited.connect(self._on_edited)
            line.returnPressed.connect(self._on_return)
            form.addRow(words, line)
            self.lines[name] = line
        self.sex = Radios({sex.value: sex.value for sex in Sex}, "Sex", self.inner)
        self.sex.set_value(Sex.UNKNOWN)
        form.addRow("Sex", self.sex)
        self.column.addLayout(form)
        self.save = QPushButton(TEXTS["save-patient"], self.inner)
        self.save.clicked.connect(self._on_save)
        self.column.addWidget(self.save, 0, Qt.AlignmentFlag.AlignLeft)
        self.remark = self.add_label()
        self.column.addStretch(1)
        self.setFocusProxy(self.lines["family_name"])

    def clear(self) -> None:
        """An empty form."""
        for line in self.lines.values():
            line.clear()
        self.sex.set_value(Sex.UNKNOWN)
        self.remark.clear()
        self._asked = None

    def _on_edited(self, _text: str) -> None:
        self._asked = None
        self.remark.clear()

    def _on_return(self) -> None:
        self.focusNextPrevChild(True)

    def _on_save(self) -> None:
        """Refuse what cannot be; ask once where somebody like this is there already."""
        try:
            patient = self._patient()
        except Refusal as bad:
            self.remark.setText(str(bad))
            return
        if self._asked != patient:
            alike = self._like(patient)
            if alike:
                self._asked = patient
                self.remark.setText(_alike_words(alike))
                self.save.setFocus(Qt.FocusReason.OtherFocusReason)
                return
        self.made.emit(patient)

    def _patient(self) -> Patient:
        typed = {name: " ".join(line.text().split()) for name, line in self.lines.items()}
        clean = {name: text(value, 200) if value else "" for name, value in typed.items()}
        if not clean["family_name"]:
            raise Refusal("field-missing", what="Family name")
        return Patient(
            family_name=clean["family_name"],
            given_names=clean["given_names"],
            title=clean["title"],
            record_number=clean["record_number"],
            birth_date=_birth_date(clean["birth_date"]),
            sex=Sex(self.sex.value() or Sex.UNKNOWN),
        )

    def event(self, event: QEvent) -> bool:
        """Keep the key that saves from the window's shortcuts."""
        if event.type() is QEvent.Type.ShortcutOverride and _saves(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if _saves(event):
            self._on_save()
        else:
            super().keyPressEvent(event)


def _saves(event: QEvent) -> bool:
    return (
        isinstance(event, QKeyEvent)
        and event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        and bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
    )


def _birth_date(typed: str) -> str | None:
    """A birth date in the forms a clinic writes; one that could be two dates is refused."""
    if not typed:
        return None
    found, rest = birth_dates(typed.casefold())
    if rest or len(set(found)) != 1:
        return partial_date(typed)  # YYYY-MM-DD, YYYY-MM or YYYY, or a refusal that says so
    return found[0]


def _alike_words(alike: Sequence[ListedPatient]) -> str:
    first = alike[0]
    born = short_date(first.birth_date) or "birth date not known"
    more = f" (and {len(alike) - 1} more)" if len(alike) > 1 else ""
    return (
        f"There is already {name_of(first)}, born {born}, No. {first.record_number or 'none'}"
        f"{more}. If this is another person, save again; otherwise Escape and open that record."
    )
