"""What is put on paper: reports, patients' copies, blank forms, and signatures under a report."""

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Slot
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from footexam.desktop.patients import short_date
from footexam.desktop.texts import TEXTS
from footexam.terms import Purpose

if TYPE_CHECKING:
    from footexam.desktop.banner import BannerWords
    from footexam.desktop.judgement import Key
    from footexam.desktop.paper_page import Paper, PaperPage
    from footexam.desktop.preview.child import Kind
    from footexam.desktop.record_page import RecordPage
    from footexam.desktop.signing import Request, Signed
    from footexam.desktop.walk import Walk

QUIET_MS = 3000
"""So long after the last key in an open record the next child is started ahead."""


class Papers(QObject):
    """The page behind a walk on which documents are shown and signed, and the way back from it."""

    def __init__(self, walk: "Walk") -> None:
        super().__init__(walk)
        self._walk = walk
        self._focus: QWidget | None = None
        self._cell: Key | None = None
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(QUIET_MS)
        self._quiet.timeout.connect(self._on_quiet)
        walk.touched.connect(self._on_touched)

    # --- the page

    @cached_property
    def page(self) -> "PaperPage":
        """The page of documents, made at first need."""
        from footexam.desktop.paper_page import PaperPage

        walk = self._walk
        page = PaperPage(walk.theme, walk.stack)
        page.left.connect(self.go_back)
        page.sign_wanted.connect(self.sign)
        page.more_wanted.connect(self._on_more_wanted)
        page.told.connect(walk.told)
        page.signed.connect(self._on_signed)
        page.not_signed.connect(self._on_not_signed)
        page.read.connect(walk.touched)
        walk.stack.addWidget(page)
        return page

    def pages(self) -> tuple[QWidget, ...]:
        """The page, if there is one."""
        return (self.page,) if "page" in self.__dict__ else ()

    def drop_pages(self) -> None:
        """Forget the page: it is made anew in other colours or another size."""
        self.__dict__.pop("page", None)

    def shown(self) -> "PaperPage | None":
        """The page, if it is what the stack shows."""
        pages = self.pages()
        return self.page if pages and self._walk.stack.currentWidget() in pages else None

    def go_on(self, old: "PaperPage") -> None:
        """Show on a page made anew what the old one showed."""
        self.page.take_over(old)
        self._walk.show_page(self.page)

    def end(self) -> None:
        """The record is closed: end the child that was started ahead for it."""
        self._quiet.stop()
        self._cell = self._focus = None
        if self.pages():
            self.page.preview.maker.cool()

    # --- documents

    def show_visit(self, kind: "Kind") -> None:
        """A document of the open examination, or of the visit at hand on the patient's page."""
        from footexam.desktop.paper_page import banner_of_visit

        record = self._walk.record
        if record is None:
            visit = self._walk.patient_page.chosen()
            if visit is None:
                self._walk.told.emit(TEXTS["no-visit-chosen"])
            elif visit.purpose == Purpose.REFERENCE:
                self._walk.told.emit(TEXTS["reference-closed"])
            elif self._walk.opened is not None:
                whose = banner_of_visit(self._walk.opened.patient, visit)
                self.show(self._paper(kind, visit.subject, visit.examined_on, whose))
        elif self._is_saved(record):
            self.show(self._paper_of_record(kind, record))

    def show_blank_form(self) -> None:
        """The paper form with the core sheet; the page offers the one with every measure."""
        self.show(self._blank_form("core"))

    def show(self, paper: "Paper") -> None:
        """A document, shown until it is left for where it was asked for."""
        self._remember()
        self._walk.stack.setCurrentWidget(self.page)
        self.page.show_paper(paper)

    def _on_more_wanted(self) -> None:
        paper = self.page.paper
        if paper is not None:
            depth = "all" if paper.wanted.depth == "core" else "core"
            self.page.show_paper(self._blank_form(depth))

    def _paper_of_record(self, kind: "Kind", record: "RecordPage") -> "Paper":
        session = record.session
        day = session.examination.examined_on.isoformat()
        paper = self._paper(kind, session.journal.subject, day, self._banner_of(record))
        return replace(paper, can_be_signed=kind == "examination" and not session.in_error)

    def _paper(self, kind: "Kind", subject: str, day: str, whose: "BannerWords") -> "Paper":
        """A document of an examination; its file name holds nothing of the patient."""
        from footexam.desktop.paper_page import Paper
        from footexam.desktop.preview.child import Wanted

        title = TEXTS[f"paper-{kind}"].format(day=short_date(day))
        name = f"{kind}-{subject.partition(':')[2][:12]}.pdf"
        return Paper(Wanted(str(self._walk.desk.folder), subject, kind=kind), title, name, whose)

    def _blank_form(self, depth: str) -> "Paper":
        from footexam.desktop.paper_page import Paper
        from footexam.desktop.preview.child import Kind, Wanted
        from footexam.desktop.preview.words import WORDS

        wanted = Wanted("", "", kind=Kind.BLANK_FORM, depth=depth)
        more = WORDS["more" if depth == "core" else "less"]
        return Paper(wanted, TEXTS[f"paper-blank-{depth}"], f"blank-form-{depth}.pdf", more=more)

    def _is_saved(self, record: "RecordPage") -> bool:
        """Whether everything typed is taken over and durable; what is not holds printing."""
        if not record.worksheet.commit_all():
            self._walk.told.emit(TEXTS["mend-cell"])
            return False
        unsaved = record.session.try_again()
        if unsaved:
            why = record.session.store.trouble
            self._walk.told.emit(TEXTS["print-held"].format(open=unsaved, why=why).strip())
        return not unsaved

    def _banner_of(self, record: "RecordPage") -> "BannerWords":
        from footexam.desktop.banner import banner_words

        return banner_words(record.session, record.session.judge.material.phrases)

    # --- signing

    def sign(self) -> None:
        """Show the pages as they are once somebody has signed, and ask who."""
        record = self._walk.record
        if record is None or not self._is_saved(record):
            return
        if self.shown() is None:
            self._remember()
            self._walk.stack.setCurrentWidget(self.page)
            self.page.show_whose(self._banner_of(record))
        self.page.ask_to_sign(self._request(record))

    def _request(self, record: "RecordPage") -> "Request":
        from footexam.desktop.preview.child import Kind
        from footexam.desktop.signing import Request

        paper = self._paper_of_record(Kind.EXAMINATION, record)
        return Request(
            record=record.session,
            wanted=paper.wanted,
            author=record.session.author,
            title=paper.title,
            keep=self._keep,
            cell_refused=self._is_cell_refused,
        )

    def _is_cell_refused(self) -> bool:
        record = self._walk.record
        return record is not None and any(cell.editor.dirty for cell in record.worksheet.order)

    def _keep(self, signed: "Signed") -> None:
        """Make a signature durable, and take it up. KnownError, Conflict."""
        from footexam.store import Conflict

        record = self._walk.record
        if record is None:
            return
        session = record.session
        try:
            self._walk.desk.sign(session.journal.subject, signed)
        except Conflict as conflict:
            session.store.take_note(conflict)
            raise
        session.take_signature(signed.drafts)

    @Slot()
    def _on_signed(self) -> None:
        """Back to where signing was asked for: the report, now as it was signed, or the sheet."""
        record, paper = self._walk.record, self.page.paper
        if record is not None and paper is not None:
            self.page.show_paper(replace(paper, whose=self._banner_of(record)))
        else:
            self.go_back()

    @Slot()
    def _on_not_signed(self) -> None:
        if self.page.paper is not None:
            self.page.show_preview()
        else:
            self.go_back()

    # --- the way back

    def _remember(self) -> None:
        """Where the keys are, to come back to."""
        record = self._walk.record
        cell = record.worksheet.current() if record is not None else None
        self._cell = cell.key if cell is not None else None
        self._focus = self._walk.stack.window().focusWidget()

    @Slot()
    def go_back(self) -> None:
        """To the very place from which the document was asked for."""
        walk, focus = self._walk, self._focus
        self._focus = None
        self.page.close_documents()
        if walk.record is not None:
            walk.stack.setCurrentWidget(walk.record)
        elif walk.opened is not None:
            walk.show_visits()
        elif walk.is_marking:
            walk.marking.go_on()
        else:
            walk.show_page(walk.patients)
        if focus is not None and isValid(focus) and focus.isVisible():
            focus.setFocus(Qt.FocusReason.OtherFocusReason)
        elif walk.record is not None and not self._focus_cell(walk.record):
            walk.record.worksheet.focus_first()
        self._on_touched()

    def _focus_cell(self, record: "RecordPage") -> bool:
        return self._cell is not None and record.worksheet.focus_key(self._cell)

    # --- the next child ahead

    @Slot()
    def _on_touched(self) -> None:
        if self._walk.record is not None:
            self._quiet.start()

    @Slot()
    def _on_quiet(self) -> None:
        """Nobody types: start the child that makes the next report, so that it is there sooner."""
        if self._walk.stack.currentWidget() is self._walk.record:
            self.page.preview.maker.warm()
