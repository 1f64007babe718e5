"""What follows from a visit that went wrong: asked why, then struck through or moved."""

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QWidget

from footexam.desktop.patients import ListedPatient, PatientsPage, short_date
from footexam.desktop.texts import TEXTS

if TYPE_CHECKING:
    from footexam.desktop.correct import Correction, CorrectPage
    from footexam.desktop.visit import Visit
    from footexam.desktop.walk import Walk
    from footexam.record.entry import Author

PAGES = ("correct", "whose")


class Correcting(QObject):
    """The pages behind a walk on which a visit is struck through or moved.

    `pending` is what is to be moved while the right patient is looked for.
    """

    def __init__(self, walk: "Walk") -> None:
        super().__init__(walk)
        self._walk = walk
        self.pending: Correction | None = None

    @cached_property
    def whose(self) -> PatientsPage:
        """The list that asks whose an examination is."""
        page = PatientsPage(self._walk.desk.search, self._walk.stack, TEXTS["whose"])
        page.wanted.connect(self._on_patient_wanted)
        page.escaped.connect(self._walk.show_patient)
        self._walk.stack.addWidget(page)
        return page

    @cached_property
    def correct(self) -> "CorrectPage":
        """Why a visit went wrong."""
        from footexam.desktop.correct import CorrectPage

        page = CorrectPage(self._walk.stack)
        page.given.connect(self._on_given)
        page.escaped.connect(self._walk.show_patient)
        self._walk.stack.addWidget(page)
        return page

    def pages(self) -> tuple[QWidget, ...]:
        """The pages that there are."""
        made = (self.__dict__.get(name) for name in PAGES)
        return tuple(page for page in made if page is not None)

    def drop_pages(self) -> None:
        """Forget the pages: they are made anew in other colours or another size."""
        for name in PAGES:
            self.__dict__.pop(name, None)

    def ask_about(self, visit: "Visit | None", *, wrong_patient: bool) -> None:
        """Ask why a visit is wrong; one that is struck through already stays so."""
        from footexam.desktop.correct import Wrong
        from footexam.desktop.visit import visit_words

        if visit is None or visit.in_error:
            self._walk.told.emit(TEXTS["already-struck" if visit else "no-visit-chosen"])
            return
        wrong = Wrong.WRONG_PATIENT if wrong_patient else Wrong.IN_ERROR
        name, facts = self._walk.identity()
        self._walk.show_page(self.correct)
        who = self._walk.preferences.examiner
        self.correct.ask(wrong, visit, f"{name}   {facts}", visit_words(visit), who)

    @Slot(object)
    def _on_given(self, correction: "Correction") -> None:
        from footexam.desktop.correct import Wrong

        if correction.wrong is Wrong.IN_ERROR:
            self._walk.attempt(lambda: self._strike(correction))
            return
        self.pending = correction
        self.whose.line.clear()
        self.whose.refresh()
        self._walk.show_page(self.whose)

    @Slot(object)
    def _on_patient_wanted(self, patient: ListedPatient) -> None:
        opened = self._walk.opened
        if opened is None or self.pending is None:
            return
        if patient.subject == opened.subject:
            self.whose.tell(TEXTS["same-patient"])
            return
        day = short_date(self.pending.visit.examined_on)
        self._walk.confirm_patient(patient, TEXTS["move-to"].format(day=day))

    def ask_whose_again(self) -> bool:
        """Back to the list that asks whose it is; False if nothing is to be moved."""
        if self.pending is not None:
            self._walk.show_page(self.whose)
        return self.pending is not None

    def move_to(self, right: str) -> bool:
        """Move what is to be moved to a confirmed patient; False if nothing is."""
        correction, self.pending = self.pending, None
        if correction is not None:
            self._walk.attempt(lambda: self._move(correction, right))
        return correction is not None

    def _author(self, correction: "Correction") -> "Author":
        from footexam.record.entry import Author
        from footexam.terms import Role

        role = Role(self._walk.preferences.role)
        return Author(correction.name, role, self._walk.desk.sitting)

    def _strike(self, correction: "Correction") -> None:
        self._walk.desk.strike(
            correction.visit.subject, correction.reason, self._author(correction)
        )
        if self._walk.opened is not None:
            self._walk.open(self._walk.opened.subject)
        self._walk.told.emit(TEXTS["struck-now"])

    def _move(self, correction: "Correction", right: str) -> None:
        author = self._author(correction)
        self._walk.desk.move(correction.visit, right, correction.reason, author)
        self._walk.open(right)
        self._walk.told.emit(TEXTS["moved"])
