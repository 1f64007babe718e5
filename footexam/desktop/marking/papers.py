"""Feedback documents from the marking pages: one in the preview, all of them into the folder."""

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from footexam.desktop.marking.feedback import FeedbackRun
from footexam.desktop.marking.making import AllFeedback, Feedback
from footexam.desktop.marking.term import OpenTerm, Student
from footexam.desktop.marking.words import WORDS
from footexam.exchange import files
from footexam.exchange.marks import write_marks
from footexam.exchange.marks_files import stem_of
from footexam.marking.rubric import Hand
from footexam.store.layout import STORED, is_demo

if TYPE_CHECKING:
    from footexam.desktop.paper_page import Paper

FOLDER = "feedback"
"""The folder of the documents in that of the term."""


def held(term: OpenTerm, student: Student, marker: str) -> str:
    """Why there is no feedback for this marker to see yet; "" if there is."""
    found = term.standing(student)
    if found.both is None and term.hand(student, marker) is not Hand.FIRST:
        return WORDS["feedback-hidden"]
    if found.counts is None:
        return WORDS["no-feedback"]
    return WORDS["feedback-apart"] if term.needs_moderation(student) else ""


def paper_of(term: OpenTerm, student: Student, store: Path, page: str) -> "Paper":
    """The feedback of one student, by the marks that count."""
    from footexam.desktop.paper_page import Paper
    from footexam.desktop.preview.child import Kind, Wanted

    wanted = Wanted(
        str(store),
        "",
        page=page,
        kind=Kind.FEEDBACK,
        feedback=asdict(_feedback(term, student)),
        invented=is_demo(term.files.folder),
    )
    title = WORDS["feedback-title"].format(student=student.examination.examiner.name)
    return Paper(wanted, title, name_of(student))


def name_of(student: Student) -> str:
    """The file name of a student's feedback; the patient is not in it."""
    return f"{stem_of(student.key, f'feedback-{student.examination.examiner.name}')}.pdf"


def _feedback(term: OpenTerm, student: Student) -> Feedback:
    marks = term.standing(student).counts
    if marks is None:
        raise ValueError(student.name)
    return Feedback(
        _where(term, student.name),
        _where(term, student.reference_name),
        write_marks(marks).decode(),
        term.cut(term.catalogue.rubrics[marks.rubric]),
    )


def _where(term: OpenTerm, name: str) -> str:
    return name if name.startswith(STORED) else str(term.files.folder / name)


class FeedbackOfAll(QObject):
    """Writes the feedback of everybody whose marks count. `progressed(done, of)`, `told(words)`."""

    progressed = Signal(int, int)
    told = Signal(str)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.process = FeedbackRun(parent=self)
        self.process.progressed.connect(self.progressed)
        self.process.ended.connect(self._on_ended)
        self._out = Path()

    @property
    def runs(self) -> bool:
        """Whether documents are being written."""
        return self.process.runs

    def run(self, term: OpenTerm, store: Path, page: str) -> None:
        """Write them on this size of paper, or tell why not."""
        wanted = {
            name_of(one): _feedback(term, one)
            for one in term.students
            if term.standing(one).counts and not one.closed and not term.needs_moderation(one)
        }
        if not wanted:
            self.told.emit(WORDS["feedback-nobody"])
            return
        self._out = term.files.folder / FOLDER
        try:
            self._out.mkdir(parents=True, exist_ok=True)
        except OSError as bad:
            self._tell("feedback-broke-off", files.why(bad))
            return
        invented = is_demo(term.files.folder)
        self.process.run(AllFeedback(str(store), str(self._out), wanted, invented, page))
        self.progressed.emit(0, len(wanted))

    def stop(self) -> bool:
        """Write no more; whether anything was being written."""
        if not self.process.stop():
            return False
        self._tell("feedback-stopped")
        return True

    def _on_ended(self, whole: bool) -> None:
        failed = self.process.failed
        if not whole:
            self._tell("feedback-broke-off", WORDS["try-again"])
        elif failed:
            self._tell("feedback-made-but", "; ".join(failed))
        else:
            self._tell("feedback-made-one" if self.process.done == 1 else "feedback-made")

    def _tell(self, key: str, why: str = "") -> None:
        run = self.process
        parts = {"done": run.done, "of": run.of, "failed": len(run.failed), "why": why}
        self.told.emit(WORDS[key].format(**parts, folder=self._out))
