"""Before the worksheet: the right person, their visits, and the card that starts one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.patients import short_date
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import em, large
from footexam.terms import Role


@dataclass(frozen=True, slots=True)
class Visit:
    """One examination of a patient as the patient's page lists it."""

    subject: str
    examined_on: str
    examiner: str
    purpose: str
    signed: bool
    in_error: bool


@dataclass(frozen=True, slots=True)
class Start:
    """What the visit card says: who examines, in which role, under whom, with which consent."""

    examiner: str
    role: Role
    supervisor: str
    consent: str


class _Page(QWidget):
    """A page with a heading and wide margins."""

    escaped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column = QVBoxLayout(self)
        pad = round(em(self) * 2)
        self.column.setContentsMargins(pad, pad, pad, pad)
        self.column.setSpacing(round(em(self) * 0.7))

    def add_label(self, words: str = "", factor: float = 1.0) -> QLabel:
        """A label below the others; more than 1: a heading."""
        label = QLabel(words, self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        if factor > 1:
            label.setFont(large(label, factor))
        self.column.addWidget(label)
        return label

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            super().keyPressEvent(event)


class ConfirmPage(_Page):
    """Is this the person in front of you? Two identifiers, large; Enter opens the record."""

    confirmed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column.addStretch(1)
        self.question = self.add_label(TEXTS["right-person"])
        self.name = self.add_label(" ", 1.9)
        self.facts = self.add_label(" ", 1.3)
        self.yes = QPushButton(TEXTS["right-person-keys"], self)
        self.yes.setAutoDefault(True)
        self.yes.clicked.connect(self.confirmed)
        self.column.addWidget(self.yes)
        self.column.addStretch(2)
        self.setFocusProxy(self.yes)

    def ask(self, name: str, facts: str) -> None:
        """Ask about a person by name and by birth date with record number."""
        self.name.setText(name)
        self.facts.setText(facts)
        self.yes.setAccessibleName(f"{TEXTS['right-person']} {name}, {facts}")
        self.yes.setFocus(Qt.FocusReason.OtherFocusReason)


class _Visits(QListWidget):
    """The visits; Enter opens one."""

    opened = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.opened.emit()
        else:
            super().keyPressEvent(event)


class PatientPage(_Page):
    """The opened patient: identity and visits. `start_wanted`; `visit_wanted(visit)`."""

    start_wanted = Signal()
    visit_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._visits: Sequence[Visit] = ()
        self.name = self.add_label(" ", 1.6)
        self.facts = self.add_label(" ")
        self.start = QPushButton(TEXTS["start-visit"], self)
        self.start.clicked.connect(self.start_wanted)
        self.column.addWidget(self.start, 0, Qt.AlignmentFlag.AlignLeft)
        self.add_label(TEXTS["visits"], 1.2)
        self.list = _Visits(self)
        self.list.setAccessibleName(TEXTS["visits"])
        self.list.opened.connect(self._on_opened)
        self.list.doubleClicked.connect(self._on_opened)
        self.column.addWidget(self.list, 1)
        self.keys = self.add_label(TEXTS["visit-keys"])
        self.setFocusProxy(self.list)

    def show_patient(self, name: str, facts: str, visits: Sequence[Visit]) -> None:
        """Show a patient and their visits, the latest first."""
        self.name.setText(name)
        self.facts.setText(facts)
        self._visits = visits
        self.list.clear()
        for visit in visits:
            item = QListWidgetItem(_visit_words(visit))
            font = item.font()
            font.setStrikeOut(visit.in_error)
            item.setFont(font)
            self.list.addItem(item)
        if visits:
            self.list.setCurrentRow(0)
        else:
            empty = QListWidgetItem(TEXTS["no-visits"])
            empty.setFlags(Qt.ItemFlag.NoItemFlags)
            self.list.addItem(empty)

    def chosen(self) -> Visit | None:
        """The visit at hand."""
        row = self.list.currentRow()
        return self._visits[row] if 0 <= row < len(self._visits) else None

    def _on_opened(self) -> None:
        visit = self.chosen()
        if visit is not None:
            self.visit_wanted.emit(visit)


def _visit_words(visit: Visit) -> str:
    state = "signed" if visit.signed else "draft"
    kind = "" if visit.purpose == "record" else f", {visit.purpose}"
    error = ", entered in error" if visit.in_error else ""
    return f"{short_date(visit.examined_on)}   {visit.examiner}{kind}   {state}{error}"


class Radios(QWidget):
    """A few words of which one is chosen; arrows move, nothing else changes it."""

    def __init__(self, words: Mapping[str, str], name: str, parent: QWidget) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self._buttons: dict[str, QRadioButton] = {}
        for value, shown in words.items():
            button = QRadioButton(shown, self)
            button.setAccessibleName(f"{name}: {shown}")
            row.addWidget(button)
            self._buttons[value] = button
        row.addStretch(1)
        self.setFocusProxy(next(iter(self._buttons.values())))

    def value(self) -> str:
        """The chosen value; empty if none is."""
        return next((value for value, one in self._buttons.items() if one.isChecked()), "")

    def set_value(self, value: str) -> None:
        """Choose a value; another one than those offered changes nothing."""
        if value in self._buttons:
            self._buttons[value].setChecked(True)


class VisitCard(_Page):
    """Examining …: who, in which role, with which consent. Enter starts."""

    started = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.add_label(TEXTS["examining"])
        self.name = self.add_label(" ", 1.6)
        self.facts = self.add_label(" ", 1.1)
        form = QFormLayout()
        self.examiner = QLineEdit(self)
        self.examiner.setMaxLength(200)
        self.supervisor = QLineEdit(self)
        self.supervisor.setMaxLength(200)
        self.role = Radios({role.value: role.value for role in Role}, TEXTS["role"], self)
        consents = ("given-by-patient", "given-by-guardian", "not-given")
        shown = {word: word.replace("-", " ") for word in consents}
        self.consent = Radios(shown, TEXTS["consent"], self)
        for name, field in (
            ("examiner", self.examiner),
            ("role", self.role),
            ("supervisor", self.supervisor),
            ("consent", self.consent),
        ):
            field.setAccessibleName(TEXTS[name])
            form.addRow(TEXTS[name], field)
        self.column.addLayout(form)
        self.start = QPushButton(TEXTS["start"], self)
        self.start.clicked.connect(self._on_start)
        self.column.addWidget(self.start, 0, Qt.AlignmentFlag.AlignLeft)
        self.remark = self.add_label()
        self.column.addStretch(1)
        for line in (self.examiner, self.supervisor):
            line.returnPressed.connect(self._on_start)

    def ask(self, name: str, facts: str, last: Start) -> None:
        """Ask for a visit of this person, as the last one was started."""
        self.name.setText(name)
        self.facts.setText(facts)
        self.examiner.setText(last.examiner)
        self.supervisor.setText(last.supervisor)
        self.role.set_value(last.role)
        self.consent.set_value(last.consent)
        self.remark.clear()
        self.start.setAccessibleName(f"{TEXTS['start']}: {TEXTS['examining']} {name}, {facts}")
        wanting = self.start if last.examiner else self.examiner
        wanting.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_start(self) -> None:
        examiner = " ".join(self.examiner.text().split())
        if not examiner:
            self.remark.setText(TEXTS["name-missing"])
            self.examiner.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        role = Role(self.role.value() or Role.CLINICIAN)
        supervisor = " ".join(self.supervisor.text().split())
        self.started.emit(Start(examiner, role, supervisor, self.consent.value()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._on_start()
        else:
            super().keyPressEvent(event)
