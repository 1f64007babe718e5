"""The way from the patient list to an open examination and back, page by page."""

from collections.abc import Callable
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from footexam.desktop.desk import Desk
from footexam.desktop.patients import ListedPatient, PatientsPage, name_of, short_date
from footexam.desktop.preferences import Preferences
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme
from footexam.store import KnownError

if TYPE_CHECKING:
    from footexam.catalogue.model import Catalogue
    from footexam.desktop.correct import Correction, CorrectPage, Wrong
    from footexam.desktop.desk import OpenPatient
    from footexam.desktop.new_patient import NewPatientPage
    from footexam.desktop.record_page import RecordPage
    from footexam.desktop.session import Session
    from footexam.desktop.visit import ConfirmPage, PatientPage, Start, Visit, VisitCard
    from footexam.reasoning.sheet import Sheet
    from footexam.record.entry import Author
    from footexam.record.examination import Patient
    from footexam.record.journal import Journal

LATER = ("whose", "confirm", "new", "patient_page", "card", "correct")
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
        self._correction: Correction | None = None

    # --- pages

    def make_pages(self, theme: Theme) -> None:
        """Make the list anew, in the colours of a theme and the size of the program's font."""
        self.theme = theme
        for name in LATER:
            self.__dict__.pop(name, None)
        self.patients = PatientsPage(self.desk.search, self.stack)
        self.stack.addWidget(self.patients)
        self.patients.wanted.connect(self._on_patient_wanted)
        self.patients.new_wanted.connect(self.new_patient)
        self.patients.line.textEdited.connect(self._on_search_edited)

    def pages(self) -> tuple[QWidget, ...]:
        """The pages that there are before the worksheet."""
        made = (self.__dict__.get(name) for name in LATER)
        return (self.patients, *(page for page in made if page is not None))

    @cached_property
    def whose(self) -> PatientsPage:
        """The list that asks whose an examination is."""
        page = PatientsPage(self.desk.search, self.stack, TEXTS["whose"])
        page.wanted.connect(self._on_patient_wanted)
        page.escaped.connect(self._show_patient)
        self.stack.addWidget(page)
        return page

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
        self.stack.addWidget(page)
        return page

    @cached_property
    def card(self) -> "VisitCard":
        """Who examines."""
        from footexam.desktop.visit import VisitCard

        page = VisitCard(self.stack)
        page.started.connect(self._on_started)
        page.escaped.connect(self._show_patient)
        self.stack.addWidget(page)
        return page

    @cached_property
    def correct(self) -> "CorrectPage":
        """Why a visit went wrong."""
        from footexam.desktop.correct import CorrectPage

        page = CorrectPage(self.stack)
        page.given.connect(self._on_corrected)
        page.escaped.connect(self._show_patient)
        self.stack.addWidget(page)
        return page

    @property
    def on_patient_page(self) -> bool:
        """Whether the opened patient's page is shown."""
        return self.stack.currentWidget() is self.__dict__.get("patient_page")

    def show_page(self, page: QWidget) -> None:
        """Show a page and give it the keys."""
        self.stack.setCurrentWidget(page)
        page.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_opened(self) -> None:
        """The opened patient, else the list: after the pages were made anew."""
        self._show_patient()

    def _on_search_edited(self, _text: str) -> None:
        self.touched.emit()

    # --- from the list to a patient

    def show_patients(self) -> None:
        """The patient list, with the keys in the search line."""
        self.patients.refresh()
        self.show_page(self.patients)

    def new_patient(self) -> None:
        """The form of a new patient."""
        self.new.clear()
        self.show_page(self.new)

    @Slot(object)
    def _on_patient_made(self, patient: "Patient") -> None:
        self._try(lambda: self._open(self.desk.new_patient(patient, self._somebody())))

    def _somebody(self) -> "Author":
        """Who is at the desk, as far as the program knows before it has asked."""
        from footexam.record.entry import Author
        from footexam.terms import Role

        name = self.preferences.examiner or TEXTS["not-stated"]
        return Author(name, Role(self.preferences.role), self.desk.sitting)

    @Slot(object)
    def _on_patient_wanted(self, patient: ListedPatient) -> None:
        moving = self._correction
        if moving and self.opened and patient.subject == self.opened.subject:
            self.whose.tell(TEXTS["same-patient"])
            return
        self._confirming = patient
        born = short_date(patient.birth_date) or TEXTS["not-known"]
        number = patient.record_number or TEXTS["none"]
        facts = f"born {born}   No. {number}   {patient.sex}"
        question = ""
        if moving:
            question = TEXTS["move-to"].format(day=short_date(moving.visit.examined_on))
        self.show_page(self.confirm)
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
        if self._confirming is None:
            return
        subject, correction = self._confirming.subject, self._correction
        if correction is None:
            self._try(lambda: self._open(subject))
        else:
            self._correction = None
            self._try(lambda: self._move(correction, subject))

    @Slot()
    def _on_not_confirmed(self) -> None:
        if self._correction is not None:
            self.show_page(self.whose)
        else:
            self.show_patients()

    def _open(self, subject: str) -> None:
        self.opened = self.desk.open_patient(subject)
        self._show_patient()

    @Slot()
    def _show_patient(self) -> None:
        self._correction = None
        if self.opened is None:
            self.show_patients()
            return
        name, facts = self._identity()
        self.patient_page.show_patient(name, facts, self.opened.visits)
        self.show_page(self.patient_page)

    def _identity(self) -> tuple[str, str]:
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
            self._try(lambda: self._open(subject))

    def may_leave(self) -> bool:
        """Whether everything typed is taken over and saved; otherwise it is told why not."""
        if self.record is None:
            return True
        if not self.record.worksheet.commit_all():
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
        if visit.in_error:
            self._try(lambda: self._show_visit(visit, self._somebody()))
        else:
            self._ask_who()

    def _ask_who(self) -> None:
        from footexam.desktop.visit import Start
        from footexam.terms import Role

        if self.opened is None or self.record is not None:
            return
        name, facts = self._identity()
        kept = self.preferences
        last = Start(kept.examiner, Role(kept.role), kept.supervisor, "given-by-patient")
        self.show_page(self.card)
        self.card.ask(name, facts, last, self._continued)

    @Slot(object)
    def _on_started(self, start: "Start") -> None:
        visit, kept = self._continued, self.preferences
        kept.remember(start.examiner, start.role, kept.supervisor if visit else start.supervisor)
        if visit is None:
            self._try(lambda: self._begin(start))
        else:
            self._try(lambda: self._show_visit(visit, self.desk.author(start)))

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
        from footexam.record.fold import fold_examination

        if self.opened is None:
            return
        catalogue, _ = self.knowledge()
        folded = fold_examination(journal, self.opened.patient)
        before = self.desk.before(self.opened, journal.subject, folded.examined_on)
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

    # --- a visit that went wrong

    def strike_visit(self) -> None:
        """The visit at hand was entered in error."""
        from footexam.desktop.correct import Wrong

        self._ask_correction(Wrong.IN_ERROR)

    def move_visit(self) -> None:
        """The visit at hand belongs to another patient."""
        from footexam.desktop.correct import Wrong

        self._ask_correction(Wrong.WRONG_PATIENT)

    def _ask_correction(self, wrong: "Wrong") -> None:
        from footexam.desktop.visit import visit_words

        visit = self.patient_page.chosen()
        if visit is None or visit.in_error:
            self.told.emit(TEXTS["already-struck" if visit else "no-visit-chosen"])
            return
        name, facts = self._identity()
        self.show_page(self.correct)
        words = visit_words(visit)
        self.correct.ask(wrong, visit, f"{name}   {facts}", words, self.preferences.examiner)

    @Slot(object)
    def _on_corrected(self, correction: "Correction") -> None:
        from footexam.desktop.correct import Wrong

        if correction.wrong is Wrong.IN_ERROR:
            self._try(lambda: self._strike(correction))
            return
        self._correction = correction
        self.whose.line.clear()
        self.whose.refresh()
        self.show_page(self.whose)

    def _corrector(self, correction: "Correction") -> "Author":
        from footexam.record.entry import Author
        from footexam.terms import Role

        return Author(correction.name, Role(self.preferences.role), self.desk.sitting)

    def _strike(self, correction: "Correction") -> None:
        author = self._corrector(correction)
        self.desk.strike(correction.visit.subject, correction.reason, author)
        if self.opened is not None:
            self._open(self.opened.subject)
        self.told.emit(TEXTS["struck-now"])

    def _move(self, correction: "Correction", right: str) -> None:
        author = self._corrector(correction)
        self.desk.move(correction.visit, right, correction.reason, author)
        self._open(right)
        self.told.emit(TEXTS["moved"])

    def _try(self, act: Callable[[], None]) -> None:
        """Do something with the store; what it cannot do is told in one sentence."""
        try:
            act()
        except KnownError as bad:
            self.told.emit(str(bad))
