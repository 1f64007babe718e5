"""The window: its pages, its keys, its look, the blank screen, and closing."""

from collections.abc import Callable
from concurrent.futures import Future
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtGui import QAction, QCloseEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QMainWindow, QStackedWidget, QWidget

from footexam.desktop.blank import BlankPage
from footexam.desktop.desk import Desk
from footexam.desktop.keys import KEYS, Key, Where
from footexam.desktop.preferences import Preferences
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import DARK, LIGHT, ZOOMS, Theme, apply, em
from footexam.desktop.walk import Walk
from footexam.store import KnownError

if TYPE_CHECKING:
    from footexam.catalogue.model import Catalogue
    from footexam.desktop.help import HelpPage
    from footexam.desktop.record_page import RecordPage

TOLD_MS = 8000
"""How long a passing remark stands at the bottom."""
TALL = 40
"""So many lines of text high, a window has a line to spare for remarks that are not there yet."""


class Window(QMainWindow):
    """The program's window."""

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
        self._may_lose = False
        self.setWindowTitle(TEXTS["program-demo" if demo else "program"])
        self.resize(round(em(self) * 88), round(em(self) * 54))
        self.stack = QStackedWidget(self)
        self.setCentralWidget(self.stack)
        self._make_remark()
        self.stack.currentChanged.connect(self._show_remark)
        self._store_opened.connect(self._show_store)
        self.walk = Walk(desk, preferences, load, self.stack)
        self.walk.told.connect(self.tell)
        self.walk.touched.connect(self.touch)
        self._idle = QTimer(self)
        self._idle.setSingleShot(True)
        self._idle.timeout.connect(self.blank_screen)
        self._make_pages()
        self._make_actions()
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._on_focus_changed)
        self.walk.show_patients()

    @property
    def record(self) -> "RecordPage | None":
        """The open examination."""
        return self.walk.record

    # --- pages and keys

    def _make_remark(self) -> None:
        """The line at the bottom for passing remarks."""
        self.remark = QLabel(self)
        self.remark.setWordWrap(True)
        self.remark.setTextFormat(Qt.TextFormat.PlainText)
        self.remark.setFixedHeight(round(em(self) * 2.1))
        self.remark.setContentsMargins(round(em(self) * 0.8), 0, round(em(self) * 0.8), 0)
        self.statusBar().addWidget(self.remark, 1)
        self.statusBar().setSizeGripEnabled(False)
        self.statusBar().hide()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._on_told_long_enough)

    def _make_pages(self) -> None:
        self.walk.make_pages(self.theme)
        self.__dict__.pop("help", None)
        self.blank = BlankPage(self.stack)
        self.stack.addWidget(self.blank)
        self.blank.woken.connect(self._on_woken)
        self._under_help: QWidget = self.walk.patients
        self._under_blank: QWidget = self.walk.patients
        self._focus_before: QWidget | None = None

    @cached_property
    def help(self) -> "HelpPage":
        """All keys, and how a measure is taken."""
        from footexam.desktop.help import HelpPage

        page = HelpPage(self.stack)
        page.escaped.connect(self._back_from_help)
        self.stack.addWidget(page)
        return page

    def _make_actions(self) -> None:
        """One action for each key; it works where keys.py says."""
        self._keys: dict[str, Key] = {key.name: key for key in KEYS}
        for key in KEYS:
            action = QAction(key.words or key.name, self)
            action.setObjectName(key.name)
            action.setShortcuts([QKeySequence(sequence) for sequence in key.keys])
            action.triggered.connect(self._on_action)
            self.addAction(action)

    @Slot()
    def _on_action(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.act(action.objectName())

    def act(self, name: str) -> None:
        """Do what a key of keys.py does, if it works on the page that is shown."""
        key = self._keys[name]
        if self.stack.currentWidget() is self.blank and key.action != "quit":
            self._on_woken()  # any key shows the screen again, and does nothing else
            return
        owner = self.owner(key)
        if owner is not None:
            if key.where is Where.SHEET and self.record is not None:
                self.record.prepare(key.action)
            method: Callable[..., None] = getattr(owner, key.action)
            method() if key.argument is None else method(key.argument)

    def owner(self, key: Key) -> "Window | Walk | RecordPage | None":
        """Whose method a key calls on the page that is shown; None where it does nothing."""
        page, walk = self.stack.currentWidget(), self.walk
        on_list, on_visits, on_sheet = (
            page is walk.patients,
            walk.on_patient_page,
            page is self.record,
        )
        works = {
            Where.LIST: on_list,
            Where.PATIENT: on_visits,
            Where.BEFORE: on_list or on_visits,
            Where.OPENED: on_visits or on_sheet,
            Where.SHEET: on_sheet,
        }
        if key.where is Where.EVERYWHERE:
            return self
        if not works[key.where]:
            return None
        return self.record if key.where is Where.SHEET and key.action != "sign_report" else walk

    def _shown(self) -> QWidget:
        """The page that is shown; there always is one."""
        return self.stack.currentWidget() or self.walk.patients

    # --- the store, other starts, remarks

    def open_store(self) -> None:
        """Open the store after the first paint; what stands in the way is told under the list."""
        self.desk.open_store().add_done_callback(self._on_store)

    def _on_store(self, future: "Future[object]") -> None:
        """In the store's thread: only tell."""
        failure = future.exception()
        known = isinstance(failure, KnownError)
        told = "" if failure is None else str(failure) if known else TEXTS["fault"]
        self._store_opened.emit(told)

    @Slot(str)
    def _show_store(self, failure: str) -> None:
        self.walk.patients.refresh()
        self.walk.patients.tell(
            failure or " ".join((TEXTS["not-encrypted"], *self.desk.warnings()))
        )

    @Slot()
    def come_forward(self) -> None:
        """Raise the window: somebody started the program again."""
        self.setWindowState(self.windowState() & ~Qt.WindowState.WindowMinimized)
        self.show()
        self.raise_()
        self.activateWindow()

    @Slot(str)
    def tell(self, words: str) -> None:
        """A remark at the bottom for some seconds."""
        self.remark.setText(words)
        self.remark.setAccessibleName(words)
        self._show_remark()
        self._timer.start(TOLD_MS)

    @Slot()
    def _on_told_long_enough(self) -> None:
        self.remark.clear()
        self._show_remark()

    @Slot()
    def _show_remark(self) -> None:
        """Show the line of remarks; in a tall window it stands with a record, so nothing moves."""
        stands = self._shown() is self.record and self.height() >= TALL * em(self)
        self.statusBar().setVisible(bool(self.remark.text()) or stands)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show_remark()

    # --- keys that work everywhere

    def show_help(self) -> None:
        """All keys; from a cell, how its measure is taken as well."""
        if self.stack.currentWidget() is self.help:
            self._back_from_help()
            return
        self._under_help = self._shown()
        self._focus_before = self.focusWidget()
        record = self.record if self._under_help is self.record else None
        cell = record.worksheet.current() if record is not None else None
        if cell is not None and record is not None:
            self.help.show_measure(cell.measure, record.session.catalogue)
        else:
            self.help.show_keys()
        self.walk.show_page(self.help)

    @Slot()
    def _back_from_help(self) -> None:
        self._back_to(self._under_help)

    def _back_to(self, page: QWidget) -> None:
        """A page as it was left, with the keys where they were."""
        self.stack.setCurrentWidget(page)
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
        self._look(ZOOMS[min(len(ZOOMS) - 1, max(0, at + step))], dark=self.theme.dark)

    def switch_theme(self) -> None:
        """Light or dark."""
        self._look(self.preferences.zoom, dark=not self.theme.dark)
        self.preferences.set_dark(dark=self.theme.dark)

    def _look(self, zoom: float, *, dark: bool) -> None:
        """Another size or other colours: all pages are made anew, what is open stays open."""
        if self.record is not None and not self.record.commit_all():
            self.tell(TEXTS["mend-cell"])
            return
        if self._is_half_typed():
            self.tell(TEXTS["half-typed"])
            return
        searched = self.walk.patients.line.text()
        self.theme = DARK if dark else LIGHT
        self.preferences.set_zoom(zoom)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            apply(application, self.theme, zoom)
        if self.walk.is_marking and not self.walk.marking.keep():
            return
        record, paper = self.record, self.walk.papers.shown()
        cohort = self.walk.cohort.shown() if self.walk.is_marking else None
        while self.stack.count():
            page = self._shown()
            self.stack.removeWidget(page)
            page.deleteLater()
        self._make_pages()
        self.walk.patients.line.setText(searched)
        if self.walk.is_marking:
            self.walk.marking.go_on()
        elif record is None:
            self.walk.show_patient()
        else:
            self.walk.show_session(record.session, record.panel)
        if paper is not None:
            self.walk.papers.go_on(paper)
        if cohort is not None:
            self.walk.cohort.go_on(cohort)

    def _is_half_typed(self) -> bool:
        """Whether a line was typed in that is not taken over yet, the search aside."""
        paper = self.walk.papers.shown()
        if paper is not None:
            return paper.is_half_typed
        if self.record is not None:
            return self.record.is_half_typed
        if self.walk.is_marking:
            return self.walk.marking.is_half_typed
        lines = self._shown().findChildren(QLineEdit)
        search = self.walk.patients.line
        return any(line.isModified() and line.text() for line in lines if line is not search)

    def blank_screen(self) -> None:
        """Hide everything that is on the screen; nothing is closed or lost."""
        if self.stack.currentWidget() is self.blank:
            return
        self._under_blank = self._shown()
        self._focus_before = self.focusWidget()
        self.statusBar().hide()
        self.walk.show_page(self.blank)

    @Slot()
    def _on_woken(self) -> None:
        self._back_to(self._under_blank)

    @Slot()
    def touch(self) -> None:
        """Somebody is there: put off the idle lock."""
        self._may_lose = False
        self._idle.start(round(self.preferences.idle_minutes * 60_000))

    def _on_focus_changed(self, _old: object, _new: object) -> None:
        self.touch()

    def quit(self) -> None:
        """Close the program."""
        self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Everything typed is taken over and saved, the backup made; what fails stops it once."""
        event.setAccepted(self._let_go())

    def _let_go(self) -> bool:
        """Whether the window may close; a second try leaves without what cannot be done."""
        record, again = self.record, self._may_lose
        if record is not None and not record.commit_all():
            self.tell(TEXTS["mend-cell"])
            return False
        if record is not None and not again and record.session.try_again():
            return self._stay("close-unsaved", record.session.store.trouble)
        if self.walk.is_marking_made and not self.walk.marking.keep() and not again:
            return self._stay("close-marks", self.walk.marking.drafts.why)
        try:
            self.desk.close()
        except KnownError as bad:
            return again or self._stay("close-again", str(bad))
        return True

    def _stay(self, words: str, why: str) -> bool:
        """Say why the window stays open; closing it again at once leaves it."""
        self._may_lose = True
        self.tell(TEXTS[words].format(why=why))
        return False
