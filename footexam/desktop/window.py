"""The window: one page at a time, from the patient list to the worksheet and back."""

from collections.abc import Callable
from concurrent.futures import Future
from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtGui import QAction, QCloseEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow, QStackedWidget, QWidget

from footexam.desktop.blank import BlankPage
from footexam.desktop.desk import Desk, OpenPatient
from footexam.desktop.help import HelpPage
from footexam.desktop.keys import KEYS, Where
from footexam.desktop.new_patient import NewPatientPage
from footexam.desktop.patients import ListedPatient, PatientsPage, name_of, short_date
from footexam.desktop.preferences import Preferences
from footexam.desktop.printer import Printer
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import DARK, LIGHT, ZOOMS, Theme, apply, em
from footexam.desktop.visit import ConfirmPage, PatientPage, Start, Visit, VisitCard
from footexam.record.entry import Author
from footexam.record.examination import Patient
from footexam.store import KnownError
from footexam.terms import Absence, Role

if TYPE_CHECKING:
    from footexam.catalogue.model import Catalogue
    from footexam.desktop.record_page import RecordPage
    from footexam.reasoning.sheet import Sheet

TOLD_MS = 8000
"""How long a passing remark stands at the bottom."""


class Window(QMainWindow):
    """The program's window. Methods named in keys.py are its actions."""

    _store_opened = Signal(str)

    def __init__(
        self,
        desk: Desk,
        theme: Theme,
        preferences: Preferences,
        load: "Callable[[], Catalogue]",
        *,
        demo: bool = False,
    ) -> None:
        super().__init__()
        self.desk = desk
        self.theme = theme
        self.preferences = preferences
        self._load = load
        self._catalogue: Catalogue | None = None
        self._sheet: Sheet | None = None
        self.opened: OpenPatient | None = None
        self.record: RecordPage | None = None
        self._confirming: ListedPatient | None = None
        self.setWindowTitle(TEXTS["program"] + (" DEMO: invented patients" if demo else ""))
        self.resize(round(em(self) * 88), round(em(self) * 54))
        self.stack = QStackedWidget(self)
        self.setCentralWidget(self.stack)
        self.remark = QLabel(self)
        self.remark.setWordWrap(True)
        self.remark.setTextFormat(Qt.TextFormat.PlainText)
        self.remark.setContentsMargins(round(em(self) * 0.8), 0, round(em(self) * 0.8), 0)
        self.statusBar().addWidget(self.remark, 1)
        self.statusBar().setSizeGripEnabled(False)
        self.statusBar().hide()
        self.printer = Printer(desk.folder, self)
        self.printer.told.connect(self.tell)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._on_told_long_enough)
        self._store_opened.connect(self._show_store)
        self._make_pages()
        self._make_actions()
        self._idle = QTimer(self)
        self._idle.setSingleShot(True)
        self._idle.timeout.connect(self.blank_screen)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._on_focus_changed)
        self.patients.line.textEdited.connect(self._on_search_edited)
        self.show_patients()

    # --- pages and keys

    def _make_pages(self) -> None:
        self.patients = PatientsPage(self.desk.search, self.theme, self)
        self.confirm = ConfirmPage(self)
        self.new = NewPatientPage(self.desk.like, self)
        self.patient_page = PatientPage(self)
        self.card = VisitCard(self)
        self.help = HelpPage(self)
        self.blank = BlankPage(self)
        for page in (
            self.patients,
            self.confirm,
            self.new,
            self.patient_page,
            self.card,
            self.help,
            self.blank,
        ):
            self.stack.addWidget(page)
        self.patients.wanted.connect(self._on_patient_wanted)
        self.patients.new_wanted.connect(self.new_patient)
        self.confirm.confirmed.connect(self._on_confirmed)
        self.confirm.escaped.connect(self.show_patients)
        self.new.made.connect(self._on_patient_made)
        self.new.escaped.connect(self.show_patients)
        self.patient_page.escaped.connect(self.close_patient)
        self.patient_page.start_wanted.connect(self.start_visit)
        self.patient_page.visit_wanted.connect(self._on_visit_wanted)
        self.card.started.connect(self._on_started)
        self.card.escaped.connect(self._show_patient)
        self.help.escaped.connect(self._back_from_help)
        self.blank.woken.connect(self._on_woken)
        self._under_help: QWidget = self.patients
        self._under_blank: QWidget = self.patients
        self._focus_before: QWidget | None = None

    def _make_actions(self) -> None:
        """One action for each key; it works where keys.py says."""
        self._actions: dict[str, tuple[QAction, Where]] = {}
        for key in KEYS:
            action = QAction(key.words or key.action, self)
            action.setObjectName(key.action)
            action.setShortcuts([QKeySequence(sequence) for sequence in key.keys])
            action.triggered.connect(self._on_action)
            self.addAction(action)
            self._actions[key.action] = (action, key.where)

    @Slot()
    def _on_action(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.act(action.objectName())

    def act(self, name: str) -> None:
        """Do what a key of keys.py does, if it works on the page that is shown."""
        where = self._actions[name][1]
        page = self.stack.currentWidget()
        pages: dict[Where, set[QWidget | None]] = {
            Where.LIST: {self.patients},
            Where.PATIENT: {self.patient_page, self.record},
            Where.SHEET: {self.record},
        }
        if where is Where.EVERYWHERE or page in pages[where]:
            self._method(name)()

    def _method(self, name: str) -> Callable[[], None]:
        """The method of an action; those of the sheet are the record page's."""
        if name.startswith("panel_") and name[-1].isdigit():
            number = int(name[-1])
            return lambda: self._with_record(lambda record: record.open_number(number))
        if name in _ABSENCES:
            return lambda: self._with_record(lambda record: record.absent(_ABSENCES[name]))
        if name in _ON_SHEET:
            return lambda: self._with_record(_ON_SHEET[name])
        method: Callable[[], None] = getattr(self, name)
        return method

    def _with_record(self, act: "Callable[[RecordPage], None]") -> None:
        if self.record is not None:
            act(self.record)

    def show_page(self, page: QWidget) -> None:
        """Show a page and give it the keys."""
        self.stack.setCurrentWidget(page)
        page.setFocus(Qt.FocusReason.OtherFocusReason)

    def _shown(self) -> QWidget:
        """The page that is shown; there always is one."""
        return self.stack.currentWidget() or self.patients

    def open_store(self) -> None:
        """Open the store after the first paint; what stands in the way is told under the list."""
        self.desk.open_store().add_done_callback(self._on_store)

    def _on_store(self, future: "Future[object]") -> None:
        """In the store's thread: only tell."""
        failure = future.exception()
        self._store_opened.emit(str(failure) if failure is not None else "")

    @Slot(str)
    def _show_store(self, failure: str) -> None:
        self.patients.refresh()
        self.patients.tell(failure or TEXTS["not-encrypted"])

    def come_forward(self) -> None:
        """Raise the window: somebody started the program again."""
        self.setWindowState(self.windowState() & ~Qt.WindowState.WindowMinimized)
        self.raise_()
        self.activateWindow()

    def tell(self, words: str) -> None:
        """A remark at the bottom for some seconds."""
        self.remark.setText(words)
        self.remark.setAccessibleName(words)
        self.statusBar().show()
        self._timer.start(TOLD_MS)

    def _on_told_long_enough(self) -> None:
        self.remark.clear()
        self.statusBar().hide()

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
    def _on_patient_made(self, patient: Patient) -> None:
        author = Author(
            self.preferences.examiner or "not stated", Role.CLINICIAN, self.desk.sitting
        )
        self._try(lambda: self._open(self.desk.new_patient(patient, author)))

    @Slot(object)
    def _on_patient_wanted(self, patient: ListedPatient) -> None:
        self._confirming = patient
        born = short_date(patient.birth_date) or "not known"
        facts = f"born {born}   No. {patient.record_number or 'none'}   {patient.sex}"
        self.show_page(self.confirm)
        self.confirm.ask(name_of(patient), facts)

    @Slot()
    def _on_confirmed(self) -> None:
        if self._confirming is not None:
            subject = self._confirming.subject
            self._try(lambda: self._open(subject))

    def _open(self, subject: str) -> None:
        self.opened = self.desk.open_patient(subject)
        self._show_patient()

    @Slot()
    def _show_patient(self) -> None:
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
        number = patient.record_number or "none"
        return patient_name(patient, phrases), f"born {born}   No. {number}   {patient.sex}"

    def close_patient(self) -> None:
        """Back to the patient's visits, and from there to the list; everything is kept."""
        if self.record is not None and self.stack.currentWidget() is self.record:
            if not self.record.worksheet.commit_all():
                return
            self._leave_record()
            if self.opened is not None:
                subject = self.opened.subject
                self._try(lambda: self._open(subject))
        else:
            self.opened = None
            self.show_patients()

    def _leave_record(self) -> None:
        if self.record is not None:
            self.stack.removeWidget(self.record)
            self.record.deleteLater()
            self.record.session.deleteLater()
            self.record = None

    # --- visits

    def start_visit(self) -> None:
        """The card that starts an examination today."""
        if self.opened is None or self.record is not None:
            return
        name, facts = self._identity()
        preferred = self.preferences
        last = Start(
            preferred.examiner, Role(preferred.role), preferred.supervisor, "given-by-patient"
        )
        self.show_page(self.card)
        self.card.ask(name, facts, last)

    @Slot(object)
    def _on_started(self, start: Start) -> None:
        self.preferences.remember(start.examiner, start.role, start.supervisor)
        self._try(lambda: self._begin(start))

    def _begin(self, start: Start) -> None:
        if self.opened is None:
            return
        journal = self.desk.start_visit(self.opened, start, date.today())  # noqa: DTZ011
        self._show_record(journal, self.desk.author(start))
        if start.consent and self.record is not None:
            self.record.session.enter(("consent", None), start.consent)

    @Slot(object)
    def _on_visit_wanted(self, visit: Visit) -> None:
        author = Author(visit.examiner, Role.CLINICIAN, self.desk.sitting)
        self._try(lambda: self._show_record(self.desk.journal(visit.subject), author))

    def _show_record(self, journal: object, author: Author) -> None:
        from footexam.desktop.record_page import RecordPage
        from footexam.desktop.session import Session
        from footexam.record.fold import fold_examination
        from footexam.record.journal import Journal

        if self.opened is None or not isinstance(journal, Journal):
            return
        catalogue, sheet = self.knowledge()
        folded = fold_examination(journal, self.opened.patient)
        before = self.desk.before(self.opened, journal.subject, folded.examined_on)
        session = Session(
            catalogue, self.desk, self.opened.patient, journal, author, before, parent=self
        )
        self.record = RecordPage(session, sheet, self.theme, self)
        self.record.told.connect(self.tell)
        session.touched.connect(self.touch)
        self.stack.addWidget(self.record)
        self.stack.setCurrentWidget(self.record)
        self.record.worksheet.focus_first()

    def knowledge(self) -> "tuple[Catalogue, Sheet]":
        """The catalogue and the sheet's conditions, loaded at first need."""
        from footexam.reasoning.sheet import Sheet

        if self._catalogue is None or self._sheet is None:
            self._catalogue = self._load()
            self._sheet = Sheet(self._catalogue)
        return self._catalogue, self._sheet

    def _try(self, act: Callable[[], None]) -> None:
        """Do something with the store; what it cannot do is told in one sentence."""
        try:
            act()
        except KnownError as bad:
            self.tell(str(bad))

    # --- keys that work everywhere

    def show_help(self) -> None:
        """All keys; from a cell, how its measure is taken as well."""
        if self.stack.currentWidget() is self.help:
            self._back_from_help()
            return
        self._under_help = self._shown()
        self._focus_before = self.focusWidget()
        cell = self.record.worksheet.current() if self._under_help is self.record else None
        if cell is not None and self.record is not None:
            self.help.show_measure(cell.measure, self.record.session.catalogue)
        else:
            self.help.show_keys()
        self.show_page(self.help)

    def _back_from_help(self) -> None:
        self.stack.setCurrentWidget(self._under_help)
        if self._focus_before is not None:
            self._focus_before.setFocus(Qt.FocusReason.OtherFocusReason)

    def next_area(self) -> None:
        """The next area of the window."""
        self._area(1)

    def previous_area(self) -> None:
        """The area before."""
        self._area(-1)

    def _area(self, step: int) -> None:
        if self.record is not None and self.stack.currentWidget() is self.record:
            self.record.focus_area(step)
        else:
            self.focusNextPrevChild(step > 0)

    def larger(self) -> None:
        """One step larger, up to 200 %."""
        self._zoom(1)

    def smaller(self) -> None:
        """One step smaller, down to 100 %."""
        self._zoom(-1)

    def _zoom(self, step: int) -> None:
        at = min(range(len(ZOOMS)), key=lambda place: abs(ZOOMS[place] - self.preferences.zoom))
        self.preferences.set_zoom(ZOOMS[min(len(ZOOMS) - 1, max(0, at + step))])
        self._rebuild()

    def switch_theme(self) -> None:
        """Light or dark."""
        self.theme = LIGHT if self.theme.dark else DARK
        self.preferences.set_dark(dark=self.theme.dark)
        self._rebuild()

    def _rebuild(self) -> None:
        """Make all pages anew in the present colours and size; what is open stays open."""
        if self.record is not None and not self.record.worksheet.commit_all():
            return
        application = QApplication.instance()
        if isinstance(application, QApplication):
            apply(application, self.theme, self.preferences.zoom)
        session, panel = None, ""
        if self.record is not None:
            session, panel = self.record.session, self.record.panel
            self.stack.removeWidget(self.record)
            self.record.deleteLater()
            self.record = None
        while self.stack.count():
            page = self._shown()
            self.stack.removeWidget(page)
            page.deleteLater()
        self._make_pages()
        if session is not None:
            from footexam.desktop.record_page import RecordPage

            self.record = RecordPage(session, self.knowledge()[1], self.theme, self)
            self.record.told.connect(self.tell)
            self.stack.addWidget(self.record)
            self.stack.setCurrentWidget(self.record)
            self.record.open_panel(panel)
        else:
            self._show_patient()

    def blank_screen(self) -> None:
        """Hide everything that is on the screen; nothing is closed or lost."""
        if self.stack.currentWidget() is self.blank:
            return
        self._under_blank = self._shown()
        self._focus_before = self.focusWidget()
        self.statusBar().hide()
        self.show_page(self.blank)

    def _on_woken(self) -> None:
        self.stack.setCurrentWidget(self._under_blank)
        if self._focus_before is not None:
            self._focus_before.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_search_edited(self, _text: str) -> None:
        self.touch()

    def touch(self) -> None:
        """Somebody is there: put off the idle lock."""
        self._idle.start(round(self.preferences.idle_minutes * 60_000))

    def _on_focus_changed(self, _old: object, _new: object) -> None:
        self.touch()

    def print_report(self) -> None:
        """Make the examination report in a child process and open it in the system's viewer."""
        record = self.record
        if record is None or not record.worksheet.commit_all():
            return
        self.printer.make(record.session.journal.subject)

    def quit(self) -> None:
        """Close the program."""
        self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Everything typed is taken over, the backup made; a failed one is told and stops."""
        if self.record is not None and not self.record.worksheet.commit_all():
            self.tell("One cell is not taken over: mend it, or put it back with Escape.")
            event.ignore()
            return
        try:
            self.desk.close()
        except KnownError as bad:
            self.tell(f"{bad} Close again to leave without the backup.")
            event.ignore()
            return
        event.accept()


_ABSENCES = {
    "absent_not_examined": Absence.NOT_EXAMINED,
    "absent_declined": Absence.DECLINED,
    "absent_could_not": Absence.COULD_NOT_BE_TESTED,
    "absent_not_applicable": Absence.NOT_APPLICABLE,
    "absent_safety": Absence.NOT_DONE_SAFETY,
}

_ON_SHEET: "dict[str, Callable[[RecordPage], None]]" = {
    "next_panel": lambda record: record.turn(1),
    "previous_panel": lambda record: record.turn(-1),
    "show_more": lambda record: record.show_more(),
    "toggle_summary": lambda record: record.toggle_summary(),
    "undo": lambda record: record.undo(),
    "redo": lambda record: record.redo(),
    "note": lambda record: record.note(),
    "method": lambda record: record.method(),
    "copy_side": lambda record: record.copy_side(),
    "panel_not_examined": lambda record: record.panel_not_examined(),
}
