"""What the window does with the store: find, open, make patients; start and continue visits."""

from collections.abc import Sequence
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from footexam.desktop.texts import TEXTS
from footexam.store import KnownError
from footexam.store.quick_list import PatientList, PatientRow

if TYPE_CHECKING:
    from footexam.desktop.signing import Signed
    from footexam.desktop.visit import Start, Visit
    from footexam.record.entry import Author, Draft
    from footexam.record.examination import Examination, Patient
    from footexam.record.journal import Journal
    from footexam.store.worker import StoreWorker


CLOCK_SLACK_S = 60.0
"""So far the clock may lie behind the last entry before it is told."""


@dataclass(frozen=True, slots=True)
class OpenPatient:
    """A patient whose record is open, with their visits, the latest first."""

    subject: str
    patient: "Patient"
    visits: "tuple[Visit, ...]"


class Desk:
    """The store behind the window. The patient list is there at once, the rest when needed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.sitting = uuid4().hex
        self._worker: StoreWorker | None = None
        self._list: PatientList | None = None

    # --- the patient list: standard library only

    def search(self, text: str) -> Sequence[PatientRow]:
        """The first page of patients that fit; none before the store is made."""
        if self._list is None:
            with suppress(KnownError):
                self._list = PatientList(self.folder)
        if self._list is None:
            return ()
        return self._list.search(text).rows

    def like(self, patient: "Patient") -> Sequence[PatientRow]:
        """Patients who may be the same person as a new one."""
        self.search("")
        if self._list is None:
            return ()
        return self._list.like(
            patient.family_name,
            patient.given_names,
            patient.birth_date or "",
            patient.record_number,
        )

    # --- the store

    def open_store(self) -> "Future[Any]":
        """Open the store, or make it at the first start; the future raises KnownError."""
        from footexam.store.layout import DATABASE
        from footexam.store.store import Store
        from footexam.store.worker import StoreWorker

        if self._worker is None:
            there = (self.folder / DATABASE).exists()
            self._worker = StoreWorker(self.folder, Store.open if there else Store.create)
        return self._worker.opened

    def warnings(self) -> tuple[str, ...]:
        """What is not as it should be with the open store, one sentence each."""
        from footexam.store.clock import stepped_back
        from footexam.store.store import Store

        if self._worker is None or self._worker.opened.exception() is not None:
            return ()
        found: tuple[str, ...] = self._worker.opened.result().warnings
        if stepped_back(self._do(Store.last_written_at), datetime.now(UTC)) > CLOCK_SLACK_S:
            found = (*found, TEXTS["clock"])
        return found

    def _do(self, act: Any, *args: Any) -> Any:
        """Do something with the store and wait for it."""
        return self._ask(act, *args).result()

    def _ask(self, act: Any, *args: Any) -> "Future[Any]":
        self.open_store()
        if self._worker is None:
            raise KnownError("closed", self.folder)
        return self._worker.do(act, *args)

    def keep(self, subject: str, head: str, drafts: "Sequence[Draft]") -> "Future[Any]":
        """Make drafts durable behind `head` (the keeper of a Session)."""
        from footexam.store.store import Store

        return self._ask(Store.append, subject, head, tuple(drafts))

    def close(self, *, backup: bool = True) -> None:
        """Write what is left, make the backup, let go of the store. Raises KnownError."""
        from footexam.store.store import Store

        if self._list is not None:
            self._list.close()
            self._list = None
        if self._worker is not None:
            try:
                if backup and self._worker.opened.exception() is None:
                    self._do(Store.back_up_at_close)
            finally:
                self._worker.close()
                self._worker = None

    # --- patients and visits; what they need of the record is loaded with the first of them

    def new_patient(self, patient: "Patient", author: "Author") -> str:
        """Write a new patient down; their subject."""
        from footexam.desktop import records

        subject, drafts = records.new_patient(patient, author)
        self._begin(subject, drafts)
        return subject

    def open_patient(self, subject: str) -> OpenPatient:
        """A patient with their visits."""
        from footexam.desktop import records
        from footexam.store.store import Store

        rows = self._do(Store.examinations, subject)
        visits = tuple(records.visit_of(row) for row in rows)
        return OpenPatient(subject, self._do(Store.patient, subject), visits)

    def start_visit(self, opened: OpenPatient, start: "Start", today: date) -> "Journal":
        """Begin today's examination; its journal holds who, when and under whom."""
        from footexam.desktop import records

        subject, drafts = records.new_visit(opened.subject, start, today, self.author(start))
        self._begin(subject, drafts)
        return self.journal(subject)

    def journal(self, subject: str) -> "Journal":
        """The journal of a subject."""
        from footexam.store.store import Store

        journal: Journal = self._do(Store.journal, subject)
        return journal

    def before(self, subject: str) -> "Examination | None":
        """The patient's latest examination before this one that is not struck through."""
        from footexam.store.store import Store

        found: Examination | None = self._do(Store.earlier, subject)
        return found

    def for_marking(self) -> "Future[tuple[str, ...]]":
        """The subjects of students' and reference examinations that are not struck through."""
        from footexam.store.store import Store
        from footexam.terms import Purpose

        return self._ask(Store.of_purposes, (Purpose.STUDENT, Purpose.REFERENCE))

    def examination(self, subject: str) -> "Future[Examination]":
        """An examination, as soon as the store has read it."""
        from footexam.store.store import Store

        return self._ask(Store.examination, subject)

    def author(self, start: "Start") -> "Author":
        """Who writes in this sitting."""
        from footexam.record.entry import Author

        return Author(start.examiner, start.role, self.sitting)

    def sign(self, subject: str, signed: "Signed") -> None:
        """Make a signature durable with the bytes it names. Raises KnownError, Conflict."""
        from footexam.store.store import Store

        self._do(Store.append, subject, signed.head, signed.drafts, signed.attachments)

    def strike(self, subject: str, reason: str, author: "Author") -> None:
        """Mark an examination as entered in error; it stays readable, struck through."""
        from footexam.desktop import records

        head = self.journal(subject).head
        self.keep(subject, head, [records.struck(reason, author)]).result()

    def move(self, visit: "Visit", right: str, reason: str, author: "Author") -> str:
        """This was the wrong patient: a linked copy with the right one, and an error here.

        The copy is written first: whatever happens between the two, the examination is there.
        """
        from footexam.desktop import records

        subject, drafts = records.moved(self.journal(visit.subject), right, author)
        self._begin(subject, drafts)
        self.strike(visit.subject, f"{reason} (wrong patient; copied to {subject})", author)
        return subject

    def _begin(self, subject: str, drafts: "Sequence[Draft]") -> None:
        """Write the first entries of a new subject."""
        from footexam.record.entry import first_link

        self.keep(subject, first_link(subject), drafts).result()
