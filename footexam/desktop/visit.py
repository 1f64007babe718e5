"""Before the worksheet: the right person, their visits, and the card that starts one."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QWidget,
)

from footexam.desktop.input_line import InputLine
from footexam.desktop.pages import Page, Radios
from footexam.desktop.patients import short_date
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import em
from footexam.terms import Purpose, Role


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
    """What the visit card says: who examines, in which role, under whom, with which consent.

    `consent` is "" where a visit is continued: it was asked at its start. A supervisor may say that
    it is a `reference` for marking students.
    """

    examiner: str
    role: Role
    supervisor: str
    consent: str
    reference: bool = False

    @property
    def purpose(self) -> Purpose:
        """What the examination is for."""
        if self.role is Role.STUDENT:
            return Purpose.STUDENT
        return Purpose.REFERENCE if self.reference else Purpose.RECORD


class ConfirmPage(Page):
    """Is this the person in front of you? Two identifiers, large; Enter opens the record."""

    confirmed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column.addStretch(1)
        self.question = self.add_label(TEXTS["right-person"])
        self.name = self.add_label(" ", 1.9)
        self.facts = self.add_label(" ", 1.3)
        self.yes = QPushButton(TEXTS["right-person-keys"], self.inner)
        self.yes.setAutoDefault(True)
        self.yes.clicked.connect(self.confirmed)
        self.column.addWidget(self.yes, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addStretch(2)
        self.setFocusProxy(self.yes)

    def ask(self, name: str, facts: str, question: str = "") -> None:
        """Ask about a person by name and by birth date with record number."""
        question = question or TEXTS["right-person"]
        self.question.setText(question)
        self.name.setText(name)
        self.facts.setText(facts)
        self.yes.setAccessibleName(f"{question} {name}, {facts}")
        self.yes.setFocus(Qt.FocusReason.OtherFocusReason)


class _Visits(QListWidget):
    """The visits; Enter opens one."""

    opened = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.opened.emit()
        else:
            super().keyPressEvent(event)


class PatientPage(Page):
    """The opened patient: identity and visits.

    `start_wanted`; `visit_wanted(visit)`; `report_wanted` and `copy_wanted` of the visit at hand;
    `form_wanted` for a blank form.
    """

    start_wanted = Signal()
    visit_wanted = Signal(object)
    report_wanted = Signal()
    copy_wanted = Signal()
    form_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._visits: Sequence[Visit] = ()
        self.name = self.add_label(" ", 1.6)
        self.facts = self.add_label(" ")
        self.start = QPushButton(TEXTS["start-visit"], self.inner)
        self.start.clicked.connect(self.start_wanted)
        self.column.addWidget(self.start, 0, Qt.AlignmentFlag.AlignLeft)
        self.add_label(TEXTS["visits"], 1.2)
        self.list = _Visits(self.inner)
        self.list.setAccessibleName(TEXTS["visits"])
        self.list.setSpacing(round(em(self) * 0.2))
        self.list.opened.connect(self._on_opened)
        self.list.doubleClicked.connect(self._on_opened)
        self.column.addWidget(self.list, 1)
        self.keys = self.add_label(TEXTS["visit-keys"])
        self.column.addLayout(self._papers())
        self.setFocusProxy(self.list)

    def _papers(self) -> QHBoxLayout:
        """What can be printed."""
        row = QHBoxLayout()
        self.report = QPushButton(TEXTS["report"], self.inner)
        self.report.clicked.connect(self.report_wanted)
        self.copy = QPushButton(TEXTS["patient-copy"], self.inner)
        self.copy.clicked.connect(self.copy_wanted)
        self.form = QPushButton(TEXTS["blank-form"], self.inner)
        self.form.clicked.connect(self.form_wanted)
        for button in (self.report, self.copy, self.form):
            row.addWidget(button)
        row.addStretch(1)
        return row

    def show_patient(self, name: str, facts: str, visits: Sequence[Visit]) -> None:
        """Show a patient and their visits, the latest first."""
        self.name.setText(name)
        self.facts.setText(facts)
        self._visits = visits
        for button in (self.report, self.copy):
            button.setEnabled(bool(visits))
        self.list.clear()
        for visit in visits:
            item = QListWidgetItem(visit_words(visit))
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


def visit_words(visit: Visit) -> str:
    """A visit in one line: date, examiner, purpose, draft or signed, entered in error."""
    state = "signed" if visit.signed else "draft"
    kind = "" if visit.purpose == "record" else f", {visit.purpose}"
    error = ", entered in error" if visit.in_error else ""
    return f"{short_date(visit.examined_on)}   {visit.examiner}{kind}   {state}{error}"


class VisitCard(Page):
    """Examining …: who, in which role, with which consent. Enter starts.

    The same card asks who continues a visit; who examined then stays as it is.
    """

    started = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._continued = False
        self.heading = self.add_label(TEXTS["examining"])
        self.name = self.add_label(" ", 1.6)
        self.facts = self.add_label(" ", 1.1)
        self.form = QFormLayout()
        self.form.setVerticalSpacing(self.column.spacing())
        self.examiner = InputLine(self.inner)
        self.role = Radios({role.value: role.value for role in Role}, TEXTS["role"], self.inner)
        kinds = {one.value: TEXTS[f"purpose-{one}"] for one in (Purpose.RECORD, Purpose.REFERENCE)}
        self.purpose = Radios(kinds, TEXTS["purpose"], self.inner)
        self.role.changed.connect(self._on_role)
        self.supervisor = InputLine(self.inner)
        consents = ("given-by-patient", "given-by-guardian", "not-given")
        shown = {word: word.replace("-", " ") for word in consents}
        self.consent = Radios(shown, TEXTS["consent"], self.inner)
        self._add_rows()
        self.column.addLayout(self.form)
        self.start = QPushButton(TEXTS["start"], self.inner)
        self.start.clicked.connect(self._on_start)
        self.column.addWidget(self.start, 0, Qt.AlignmentFlag.AlignLeft)
        self.remark = self.add_label()
        self.column.addStretch(1)
        for line in (self.examiner, self.supervisor):
            line.setMaxLength(200)
            line.returnPressed.connect(self._on_start)

    def _add_rows(self) -> None:
        for name, field in (
            ("examiner", self.examiner),
            ("role", self.role),
            ("purpose", self.purpose),
            ("supervisor", self.supervisor),
            ("consent", self.consent),
        ):
            field.setAccessibleName(TEXTS[name])
            self.form.addRow(TEXTS[name], field)

    def ask(self, name: str, facts: str, last: Start, continued: Visit | None = None) -> None:
        """Ask for a visit of this person, as the last one was started, or for one to go on with."""
        self.name.setText(name)
        self.facts.setText(facts)
        self.examiner.setText(last.examiner)
        self.supervisor.setText(last.supervisor)
        self.role.set_value(last.role)
        self.purpose.set_value(Purpose.RECORD)
        self._continued = continued is not None
        self._on_role()
        self.consent.set_value(last.consent)
        self.form.setRowVisible(self.consent, continued is None)
        self.form.setRowVisible(self.supervisor, continued is None)
        heading = TEXTS["examining"]
        if continued is not None:
            heading = TEXTS["continuing"].format(visit=visit_words(continued))
        self.heading.setText(heading)
        self.start.setText(TEXTS["continue" if continued else "start"])
        self.remark.setText(TEXTS["is-signed"] if continued and continued.signed else "")
        self.start.setAccessibleName(f"{self.start.text()}: {heading} {name}, {facts}")
        wanting = self.start if last.examiner else self.examiner
        wanting.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_role(self) -> None:
        """Only a supervisor begins a reference."""
        supervises = self.role.value() == Role.SUPERVISOR
        self.form.setRowVisible(self.purpose, supervises and not self._continued)

    def _on_start(self) -> None:
        examiner = " ".join(self.examiner.text().split())
        if not examiner:
            self.remark.setText(TEXTS["name-missing"])
            self.examiner.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        role = Role(self.role.value() or Role.CLINICIAN)
        supervisor = " ".join(self.supervisor.text().split())
        consent = "" if self.consent.isHidden() else self.consent.value()
        refers = not self.purpose.isHidden() and self.purpose.value() == Purpose.REFERENCE
        self.started.emit(Start(examiner, role, supervisor, consent, refers))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self._on_start()
        else:
            super().keyPressEvent(event)
