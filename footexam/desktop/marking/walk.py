"""Marking: from the list of students to a sheet, its signature, and back, page by page."""

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from footexam.catalogue.model import say
from footexam.desktop.marking.drafts import Drafts
from footexam.desktop.marking.list import ListPage
from footexam.desktop.marking.papers import FeedbackOfAll, held, paper_of
from footexam.desktop.marking.reading import WindowReading
from footexam.desktop.marking.rows import rows_of
from footexam.desktop.marking.rubric_rows import Sheet
from footexam.desktop.marking.sheet import SheetPage
from footexam.desktop.marking.slices import Slices
from footexam.desktop.marking.students import heads, lines_of
from footexam.desktop.marking.term import OpenTerm, Student
from footexam.desktop.marking.words import WORDS
from footexam.exchange import files
from footexam.marking.rubric import Hand, Marks
from footexam.reports.critical import critical_words
from footexam.reports.marking_page import Words

if TYPE_CHECKING:
    from footexam.desktop.walk import Walk

FOLDER = "marking"
"""The program's own folder of a term, beside that of the store."""


class Marking(QObject):
    """The pages of marking behind a walk, and what follows from them.

    `cohort_wanted(term)`: the term as a whole is to be looked at.
    """

    cohort_wanted = Signal(object)

    def __init__(self, walk: "Walk") -> None:
        super().__init__(walk)
        self._walk = walk
        self.catalogue = walk.knowledge()[0]
        self.is_open = False
        """Whether marking is what the person is at, whatever page lies above it."""
        self.term: OpenTerm | None = None
        self.student: Student | None = None
        """Whose sheet is shown; None while the list is."""
        self.marker = walk.preferences.marker or walk.preferences.examiner
        self.rubric = next(iter(self.catalogue.rubrics))
        """What is marked by where no marks say otherwise, and whose stated limits are used."""
        self._reading: WindowReading | None = None
        self._may_leave = False
        self.work = Slices(self)
        self.work.progressed.connect(self._on_read_so_far)
        self.work.finished.connect(self._on_read)
        self.work.failed.connect(self._on_not_read)
        self.drafts = Drafts(self)
        self.drafts.told.connect(walk.told)
        self.feedback = FeedbackOfAll(self)
        self.feedback.progressed.connect(self._on_written_so_far)
        self.feedback.told.connect(self._on_written)

    # --- the pages

    @cached_property
    def list(self) -> ListPage:
        """The list of students."""
        rubrics = {name: say(one.label) for name, one in self.catalogue.rubrics.items()}
        page = ListPage(rubrics, self._walk.stack)
        page.wanted.connect(self.mark)
        page.read_wanted.connect(self.read)
        page.feedback_wanted.connect(self.write_feedback)
        page.cohort_wanted.connect(self.show_cohort)
        page.escaped.connect(self.leave)
        page.folder_given.connect(self._on_folder)
        page.marker_given.connect(self._on_marker)
        page.rubric_chosen.connect(self._on_rubric)
        page.show_settings(str(self.folder), self.marker, self.rubric)
        self._walk.stack.addWidget(page)
        return page

    @cached_property
    def sheet(self) -> SheetPage:
        """The marking sheet."""
        page = SheetPage(self._walk.theme, self._walk.stack)
        page.changed.connect(self._on_changed)
        page.signed.connect(self._on_signed)
        page.paper_wanted.connect(self.show_paper)
        page.told.connect(self._walk.told)
        page.escaped.connect(self.leave_sheet)
        self._walk.stack.addWidget(page)
        return page

    def pages(self) -> tuple[QWidget, ...]:
        """The pages that there are."""
        made = (self.__dict__.get(name) for name in ("list", "sheet"))
        return tuple(page for page in made if page is not None)

    def drop_pages(self) -> None:
        """Forget the pages: they are made anew in other colours or another size."""
        for name in ("list", "sheet"):
            self.__dict__.pop(name, None)

    @property
    def is_half_typed(self) -> bool:
        """Whether words were typed that are not taken over yet."""
        return "sheet" in self.__dict__ and self.sheet.is_half_typed

    def go_on(self) -> None:
        """Show again what was shown, on pages that may have been made anew."""
        if self.student is not None and self.term is not None:
            self._show_sheet(self.term, self.student)
        else:
            self._show_list()

    # --- the list

    @property
    def own_folder(self) -> Path:
        """The folder that is used while nobody names another one."""
        return self._walk.desk.folder.parent / FOLDER

    @property
    def folder(self) -> Path:
        """The folder of the term."""
        given = self._walk.preferences.marking_folder
        return Path(given).expanduser() if given else self.own_folder

    def show(self) -> None:
        """The list; the folder is read the first time."""
        self.is_open = True
        self._show_list()
        if self.term is None and not self.work.runs:
            self.read()

    def _show_list(self) -> None:
        self.student = None
        self._show_lines()
        self._walk.show_page(self.list)

    def _show_lines(self) -> None:
        if self.term is not None:
            lines = lines_of(self.term, self.marker)
            self.list.show_lines(lines, self.term.term.problems)

    def read(self) -> None:
        """Read the folder and the store's examinations for marking, a little at a time."""
        self.drafts.keep()
        own = self.folder == self.own_folder
        self._reading = WindowReading(
            self._walk.desk, self.folder, self.catalogue, may_be_missing=own
        )
        self.work.run(self._reading.steps())
        self._on_read_so_far(0, 0)

    def _on_read_so_far(self, done: int, of: int) -> None:
        self.list.progress.tell(WORDS["reading"], done, of)

    def _on_read(self) -> None:
        reading, self._reading = self._reading, None
        self.list.progress.hide()
        if reading is not None:
            self.term = reading.term()
            self._show_lines()

    def _on_not_read(self, bad: OSError) -> None:
        self._reading = None
        self.list.progress.hide()
        self.list.show_problems([WORDS["no-folder"].format(why=files.why(bad))])

    def leave(self) -> None:
        """Stop what takes a while; else back to the patient list."""
        if self.work.stop():
            self._reading = None
            self.list.progress.hide()
            self._walk.told.emit(WORDS["reading-stopped"])
        elif not self.feedback.stop():
            self._walk.show_patients()

    def _on_folder(self, words: str) -> None:
        is_own = not words or Path(words) == self.own_folder
        self._walk.preferences.set_marking(self.marker, "" if is_own else words)
        self.list.folder.setText(str(self.folder))
        self.read()

    def _on_marker(self, name: str) -> None:
        if name != self.marker:
            self.marker = name
            self._walk.preferences.set_marking(name, self._walk.preferences.marking_folder)
            self._show_lines()

    def _on_rubric(self, name: str) -> None:
        self.rubric = name

    def show_cohort(self) -> None:
        """Look at the term as a whole."""
        if self.term is not None:
            self.cohort_wanted.emit(self.term)

    # --- the sheet

    def mark(self, student: Student) -> None:
        """Open the sheet of a student, or tell why it stays closed to this marker."""
        term = self.term
        if term is None or self.work.runs:
            return
        if student.closed:
            self._walk.told.emit(WORDS[f"closed-{student.closed}"])
        elif not self.marker:
            self.list.ask_marker()
            self._walk.told.emit(WORDS["no-marker"])
        elif term.hand(student, self.marker) is None:
            self._walk.told.emit(WORDS["closed-two-others"])
        else:
            self._show_sheet(term, student)

    def _show_sheet(self, term: OpenTerm, student: Student) -> None:
        hand = term.hand(student, self.marker)
        if hand is None:
            return
        self.student, self._may_leave = student, False
        rubric = term.rubric_of(student, self.rubric)
        marks = term.marks(student, hand, self.marker, rubric)
        comparison = term.compare(student, rubric)
        words = Words(self.catalogue, "en")
        sheet = Sheet(
            rubric,
            marks,
            term.cut(rubric),
            dict(critical_words(comparison, words)),
            comparison.critical,
            term.standing(student).both if hand is Hand.MODERATION else None,
        )
        title, by = heads(student, rubric, sheet, term)
        self._walk.show_page(self.sheet)
        self.sheet.show_sheet(title, by, rows_of(comparison, words), sheet)

    def _on_changed(self, marks: Marks) -> None:
        self._walk.touched.emit()
        if self.term is not None:
            self.drafts.take(self.term, marks)

    def keep(self) -> bool:
        """Write what is not written yet; whether nothing is left."""
        return self.drafts.keep()

    def _on_signed(self, marks: Marks) -> None:
        if self.term is not None and self.drafts.sign(self.term, marks):
            self._show_list()
            self.list.go_on()
            self._walk.told.emit(WORDS["now-signed"].format(student=marks.student))

    def leave_sheet(self) -> None:
        """Back to the list; what cannot be written keeps the sheet open once."""
        if self.keep() or self._may_leave:
            self.drafts.give_up()
            self._show_list()
        else:
            self._may_leave = True

    # --- paper

    def show_paper(self) -> None:
        """The feedback of the student at hand, by the marks that count."""
        if self.term is None or self.student is None:
            return
        self.keep()
        why = held(self.term, self.student, self.marker)
        if why:
            self._walk.told.emit(why)
        else:
            store, page = self._walk.desk.folder, self._walk.preferences.paper
            self._walk.papers.show(paper_of(self.term, self.student, store, page))

    def write_feedback(self) -> None:
        """Write the feedback of everybody whose marks count."""
        if self.term is not None and not self.feedback.runs and not self.work.runs:
            page = self._walk.preferences.paper
            self.feedback.run(self.term, self._walk.desk.folder, page)

    def _on_written_so_far(self, done: int, of: int) -> None:
        self.list.progress.tell(WORDS["feedback-making"], done, of)

    def _on_written(self, words: str) -> None:
        self.list.progress.hide()
        self._walk.told.emit(words)
