"""The way from the patient list to an open examination and back, page by page."""

from collections.abc import Callable
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from footexam.desktop.correcting import Correcting
from footexam.desktop.desk import Desk
from footexam.desktop.papers import Papers
from footexam.desktop.patients import ListedPatient, PatientsPage, name_of, short_date
from footexam.desktop.preferences import Preferences
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme
from footexam.store import KnownError

if TYPE_CHECKING:
    from footexam.catalogue.model import Catalogue
    from footexam.desktop.cohort.desk import CohortDesk
    from footexam.desktop.desk import OpenPatient
    from footexam.desktop.marking.walk import Marking
    from footexam.desktop.new_patient import NewPatientPage
    from footexam.desktop.practice_page import PracticePage
    from footexam.desktop.record_page import RecordPage
    from footexam.desktop.session import Session
    from footexam.desktop.visit import ConfirmPage, PatientPage, Start, Visit, VisitCard
    from footexam.reasoning.sheet import Sheet
    from footexam.record.entry import Author
    from footexam.record.examination import Patient
    from footexam.record.journal import Journal

LATER = ("confirm", "new", "patient_page", "card", "practice_page")
"""The pages behind the list: each is made, and its module loaded, when it is first shown."""


class Walk(QObject):
    """The pages of one sitting in a stack, and what follows from them.

    `told(words)`: a remark for the person at the desk. `touched`: somebody is there.
    """

    told = Signal(str)
    touched = Signal()

    def __init__(
        self,
        desk: Desk,
        preferences: Preferences,
        load: "Callable[[], Catalogue]",
        stack: QStackedWidget,
    ) -> None:
        super().__init__(stack)
        self.desk = desk
        self.preferences = preferences
        self._load = load
        self._knowledge: tuple[Catalogue, Sheet] | None = None
        self.stack = stack
        self.opened: OpenPatient | None = None
        self.record: RecordPage | None = None
        self._confirming: ListedPatient | None = None
        self._continued: Visit | None = None
        self.cohort: CohortDesk
        """The cohort page, there once marking is."""
        self.correcting = Correcting(self)
        self.papers = Papers(self)

    # --- pages

    def make_pages(self, theme: Theme) -> None:
        """Make the list anew, in the colours of a theme and the size of the program's font."""
        self.theme = theme
        for name in LATER:
            self.__dict__.pop(name, None)
        self.correcting.drop_pages()
        self.papers.drop_pages()
        if self.is_marking_made:
            self.marking.drop_pages()
            self.cohort.drop_pages()
        self.patients = PatientsPage(self.desk.search, self.stack)
        self.stack.addWidget(self.patients)
        self.patients.wanted.connect(self._on_patient_wanted)
        self.patients.new_wanted.connect(self.new_patient)
        self.patients.form_wanted.connect(self.blank_form)
        self.patients.marking_wanted.connect(self.show_marking)
        self.patients.line.textEdited.connect(self._on_search_edited)

    def pages(self) -> tuple[QWidget, ...]:
        """The pages that there are before the worksheet."""
        made = (self.__dict__.get(name) for name in LATER)
        here = (page for page in made if page is not None)
        marking: tuple[QWidget, ...] = ()
        if self.is_marking_made:
            marking = (*self.marking.pages(), *self.cohort.pages())
        return (self.patients, *here, *self.correcting.pages(), *self.papers.pages(), *marking)

    @cached_property
    def confirm(self) -> "ConfirmPage":
        """Whether this is the right person."""
        from footexam.desktop.visit import ConfirmPage

        page = ConfirmPage(self.stack)
        page.confirmed.connect(self._on_confirmed)
        page.escaped.connect(self._on_not_confirmed)
        self.stack.addWidget(page)
        return page

    @cached_property
    def new(self) -> "NewPatientPage":
        """The form of a new patient."""
        from footexam.desktop.new_patient import NewPatientPage

        page = NewPatientPage(self.desk.like, self.stack)
        page.made.connect(self._on_patient_made)
        page.escaped.connect(self.show_patients)
        self.stack.addWidget(page)
        return page

    @cached_property
    def patient_page(self) -> "PatientPage":
        """The opened patient and their visits."""
        from footexam.desktop.visit import PatientPage

        page = PatientPage(self.stack)
        page.escaped.connect(self.close_patient)
        page.start_wanted.connect(self.start_visit)
        page.visit_wanted.connect(self._on_visit_wanted)
        page.report_wanted.connect(self.print_report)
        page.copy_wanted.connect(self.print_copy)
        page.form_wanted.connect(self.blank_form)
        self.stack.addWidget(page)
        return page

    @cached_property
    def card(self) -> "VisitCard":
        """Who examines."""
        from footexam.desktop.visit import VisitCard

        page = VisitCard(self.stack)
        page.started.connect(self._on_started)
        page.escaped.connect(self.show_patient)
        self.stack.addWidget(page)
        return page

    @cached_property
    def practice_page(self) -> "PracticePage":
        """Letterhead and paper."""
        from footexam.desktop.practice_page import PracticePage

        page = PracticePage(self.preferences, self.stack)
        page.kept.connect(self._on_practice_kept)
        page.escaped.connect(self._show_before)
        self.stack.addWidget(page)
        return page

    @cached_property
    def marking(self) -> "Marking":
        """The pages of marking, loaded when they are first asked for."""
        from footexam.desktop.cohort.desk import CohortDesk
        from footexam.desktop.marking.walk import Marking

        made = Marking(self)
        self.cohort = CohortDesk(self, made)
        return made

    @property
    def is_marking_made(self) -> bool:
        """Whether marking was asked for in this sitting."""
        return "marking" in self.__dict__

    @property
    def is_marking(self) -> bool:
        """Whether the person is at marking."""
        return self.is_marking_made and self.marking.is_open

    def show_marking(self) -> None:
        """The students to be marked."""
        self.marking.show()

    @property
    def on_patient_page(self) -> bool:
        """Whether the opened patient's page is shown."""
        return self.stack.currentWidget() is self.__dict__.get("patient_page")

    def show_page(self, page: QWidget) -> None:
        """Show a page and give it the keys."""
        self.stack.setCurrentWidget(page)
        page.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_search_edited(self, _text: str) -> None:
        self.touched.emit()

    # --- from the list to a patient

    def show_patients(self) -> None:
        """The patient list, with the keys in the search line; marking is left for it."""
        if self.is_marking_made:
            self.marking.is_open = False
        self.patients.refresh()
        self.show_page(self.patients)

    def new_patient(self) -> None:
        """The form of a new patient."""
        self.new.clear()
        self.show_page(self.new)

    @Slot(object)
    def _on_patient_made(self, patient: "Patient") -> None:
        self.attempt(lambda: self.open(self.desk.new_patient(patient, self._somebody())))

    def _somebody(self) -> "Author":
        """Who is at the desk, as far as the program knows before it has asked."""
        from footexam.record.entry import Author
        from footexam.terms import Role

        name = self.preferences.examiner or TEXTS["not-stated"]
        return Author(name, Role(self.preferences.role), self.desk.sitting)

    @Slot(object)
    def _on_patient_wanted(self, patient: ListedPatient) -> None:
        self.confirm_patient(patient)

    def confirm_patient(self, patient: ListedPatient, question: str = "") -> None:
        """Ask for the two identifiers; `question` where it is not about opening the record."""
        self._confirming = patient
        born = short_date(patient.birth_date) or TEXTS["not-known"]
        number = patient.record_number or TEXTS["none"]
        self.show_page(self.confirm)
        facts = f"born {born}   No. {number}   {patient.sex}"
        self.confirm.ask(name_of(patient), facts, question)
        QTimer.singleShot(0, self, self._prepare)

    @Slot()
    def _prepare(self) -> None:
        """Load what an open record needs while the two identifiers are being read."""
        import footexam.desktop.record_page
        import footexam.desktop.session  # noqa: F401

        self.knowledge()

    @Slot()
    def _on_confirmed(self) -> None:
        if self._confirming is not None:
            subject = self._confirming.subject
            if not self.correcting.move_to(subject):
                self.attempt(lambda: self.open(subject))

    @Slot()
    def _on_not_confirmed(self) -> None:
        if not self.correcting.ask_whose_again():
            self.show_patients()

    def open(self, subject: str) -> None:
        """Open a patient's record: their page with their visits."""
        self.opened = self.desk.open_patient(subject)
        self.show_patient()

    @Slot()
    def show_patient(self) -> None:
        """The opened patient, else the list."""
        self.correcting.pending = None
        if self.opened is None:
            self.show_patients()
            return
        name, facts = self.identity()
        self.patient_page.show_patient(name, facts, self.opened.visits)
        self.show_page(self.patient_page)

    def show_visits(self) -> None:
        """The opened patient's page as it was left."""
        if "patient_page" in self.__dict__:
            self.show_page(self.patient_page)
        else:
            self.show_patient()

    def identity(self) -> tuple[str, str]:
        """Name, and birth date with record number and sex, of the opened patient."""
        from footexam.reports.phrases import Phrases
        from footexam.reports.words import date_words, patient_name

        if self.opened is None:
            return "", ""
        patient, phrases = self.opened.patient, Phrases("en")
        born = date_words(patient.birth_date, phrases)
        number = patient.record_number or TEXTS["none"]
        return patient_name(patient, phrases), f"born {born}   No. {number}   {patient.sex}"

    def close_patient(self) -> None:
        """Back to the patient's visits, and from there to the list; everything is kept."""
        if self.record is None:
            self.opened = None
            self.show_patients()
        elif self.may_leave() and self.opened is not None:
            self.drop_record()
            subject = self.opened.subject
            self.attempt(lambda: self.open(subject))

    def may_leave(self) -> bool:
        """Whether everything typed is taken over and saved; otherwise it is told why not."""
        if self.record is None:
            return True
        if not self.record.commit_all():
            self.told.emit(TEXTS["mend-cell"])
            return False
        session = self.record.session
        unsaved = session.try_again()
        if unsaved:
            why = session.store.trouble
            self.told.emit(TEXTS["unsaved-stays"].format(open=unsaved, why=why))
        return not unsaved

    def drop_record(self) -> None:
        """Close the open examination; what it holds is in the store."""
        if self.record is not None:
            self.papers.end()
            self.stack.removeWidget(self.record)
            self.record.session.deleteLater()
            self.record.deleteLater()
            self.record = None

    # --- visits

    def start_visit(self) -> None:
        """The card that starts an examination today."""
        self._continued = None
        self._ask_who()

    @Slot(object)
    def _on_visit_wanted(self, visit: "Visit") -> None:
        """Ask who continues a visit; one that is struck through is only read."""
        self._continued = visit
        if visit.in_error and self._is_closed_to(visit, self.preferences.role):
            self.told.emit(TEXTS["reference-closed"])
        elif visit.in_error:
            self.attempt(lambda: self._show_visit(visit, self._somebody()))
        else:
            self._ask_who()

    def _ask_who(self) -> None:
        from footexam.desktop.visit import Start
        from footexam.terms import Role

        if self.opened is None or self.record is not None:
            return
        name, facts = self.identity()
        kept = self.preferences
        last = Start(kept.examiner, Role(kept.role), kept.supervisor, "given-by-patient")
        self.show_page(self.card)
        self.card.ask(name, facts, last, self._continued)

    @Slot(object)
    def _on_started(self, start: "Start") -> None:
        visit, kept = self._continued, self.preferences
        if visit is not None and self._is_closed_to(visit, start.role):
            self.told.emit(TEXTS["reference-closed"])
            return
        kept.remember(start.examiner, start.role, kept.supervisor if visit else start.supervisor)
        if visit is None:
            self.attempt(lambda: self._begin(start))
        else:
            self.attempt(lambda: self._show_visit(visit, self.desk.author(start)))

    def _is_closed_to(self, visit: "Visit", role: str) -> bool:
        """Whether it is a reference, which only a supervisor may see."""
        from footexam.terms import Purpose, Role

        return visit.purpose == Purpose.REFERENCE and role != Role.SUPERVISOR

    def _begin(self, start: "Start") -> None:
        if self.opened is None:
            return
        journal = self.desk.start_visit(self.opened, start, date.today())  # noqa: DTZ011
        self._show_record(journal, self.desk.author(start))
        if start.consent and self.record is not None:
            self.record.session.enter(("consent", None), start.consent)

    def _show_visit(self, visit: "Visit", author: "Author") -> None:
        self._show_record(self.desk.journal(visit.subject), author)

    def _show_record(self, journal: "Journal", author: "Author") -> None:
        from footexam.desktop.session import Session

        if self.opened is None:
            return
        catalogue, _ = self.knowledge()
        before = self.desk.before(journal.subject)
        session = Session(
            catalogue, self.desk, self.opened.patient, journal, author, before, parent=self
        )
        session.touched.connect(self.touched)
        self.show_session(session)

    def show_session(self, session: "Session", panel: str = "") -> None:
        """Show the page of an open examination, at a panel or at the first."""
        from footexam.desktop.record_page import RecordPage

        self.record = RecordPage(session, self.knowledge()[1], self.theme, self.stack)
        self.record.told.connect(self.told)
        self.stack.addWidget(self.record)
        self.stack.setCurrentWidget(self.record)
        if panel:
            self.record.open_panel(panel)
        self.record.worksheet.focus_first()

    def knowledge(self) -> "tuple[Catalogue, Sheet]":
        """The catalogue and the sheet's conditions, loaded at first need."""
        from footexam.reasoning.sheet import Sheet

        if self._knowledge is None:
            catalogue = self._load()
            self._knowledge = (catalogue, Sheet(catalogue))
        return self._knowledge

    # --- paper

    def print_report(self) -> None:
        """The report of the open examination, or of the visit at hand."""
        from footexam.desktop.preview.child import Kind

        self.attempt(lambda: self.papers.show_visit(Kind.EXAMINATION))

    def print_copy(self) -> None:
        """The patient's own copy of the open examination, or of the visit at hand."""
        from footexam.desktop.preview.child import Kind

        self.attempt(lambda: self.papers.show_visit(Kind.PATIENT_COPY))

    def print_prescription(self) -> None:
        """What the maker of a device needs, from the plan."""
        from footexam.desktop.preview.child import Kind

        self.attempt(lambda: self.papers.show_visit(Kind.PRESCRIPTION))

    def print_referral(self) -> None:
        """The letter to a colleague."""
        from footexam.desktop.preview.child import Kind

        self.attempt(lambda: self.papers.show_visit(Kind.REFERRAL))

    def print_leaflet(self) -> None:
        """The plan for the patient, in plain words."""
        from footexam.desktop.preview.child import Kind

        self.attempt(lambda: self.papers.show_visit(Kind.LEAFLET))

    def blank_form(self) -> None:
        """The paper form, to be filled in by hand."""
        self.papers.show_blank_form()

    def sign_report(self) -> None:
        """Sign the report of the open examination."""
        self.papers.sign()

    # --- the practice

    def practice(self) -> None:
        """Letterhead and paper of all documents."""
        self.practice_page.show_kept()
        self.show_page(self.practice_page)

    @Slot()
    def _on_practice_kept(self) -> None:
        self.told.emit(TEXTS["practice-kept"])
        self._show_before()

    @Slot()
    def _show_before(self) -> None:
        """The opened patient's page as it was left, else the list."""
        if self.opened is None:
            self.show_patients()
        else:
            self.show_visits()

    # --- a visit that went wrong

    def strike_visit(self) -> None:
        """The visit at hand was entered in error."""
        self.correcting.ask_about(self.patient_page.chosen(), wrong_patient=False)

    def move_visit(self) -> None:
        """The visit at hand belongs to another patient."""
        self.correcting.ask_about(self.patient_page.chosen(), wrong_patient=True)

    def attempt(self, act: Callable[[], None]) -> None:
        """Do something with the store; what it cannot do is told in one sentence."""
        try:
            act()
        except KnownError as bad:
            self.told.emit(str(bad))
