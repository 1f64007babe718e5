"""What the window does with the store: find, open, make patients; start and continue visits."""

from collections.abc import Sequence
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass, fields
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from footexam.desktop.texts import TEXTS
from footexam.desktop.visit import Start, Visit
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Examination, Patient
from footexam.record.fold import fold_examination, fold_patient
from footexam.record.journal import Journal
from footexam.store import KnownError
from footexam.store.quick_list import PatientList, PatientRow
from footexam.terms import Role

if TYPE_CHECKING:
    from footexam.store.worker import StoreWorker


CLOCK_SLACK_S = 60.0
"""So far the clock may lie behind the last entry before it is told."""


@dataclass(frozen=True, slots=True)
class OpenPatient:
    """A patient whose record is open, with their visits, the latest first."""

    subject: str
    patient: Patient
    visits: tuple[Visit, ...]


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

    def like(self, patient: Patient) -> Sequence[PatientRow]:
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

    def keep(self, subject: str, head: str, drafts: Sequence[Draft]) -> "Future[Any]":
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

    # --- patients

    def new_patient(self, patient: Patient, author: Author) -> str:
        """Write a new patient down; their subject."""
        from footexam.store.store import Store

        subject = Store.new_subject("patient")
        drafts = [
            _fact("patient", field.name, getattr(patient, field.name), author)
            for field in fields(patient)
            if getattr(patient, field.name)
        ]
        self._do(Store.append, subject, Journal(subject).head, tuple(drafts))
        return subject

    def open_patient(self, subject: str) -> OpenPatient:
        """A patient with their visits."""
        from footexam.store.store import Store

        patient = fold_patient(self._do(Store.journal, subject))
        rows = self._do(Store.examinations, subject)
        visits = tuple(
            Visit(
                row.subject,
                row.examined_on,
                row.examiner,
                row.purpose,
                row.signed,
                row.in_error,
            )
            for row in rows
        )
        return OpenPatient(subject, patient, visits)

    # --- visits

    def start_visit(self, opened: OpenPatient, start: Start, today: date) -> Journal:
        """Begin today's examination; its journal holds who, when and under whom."""
        from footexam.store.store import Store

        author = self.author(start)
        subject = Store.new_subject("examination")
        facts: dict[str, Any] = {
            "patient": opened.subject,
            "examined-on": today.isoformat(),
            "purpose": "student" if start.role is Role.STUDENT else "record",
            "examiner": {"name": start.examiner, "role": start.role.value},
        }
        if start.supervisor:
            facts["supervisor"] = {"name": start.supervisor, "role": Role.SUPERVISOR.value}
        drafts = [_fact("exam", name, value, author) for name, value in facts.items()]
        self._do(Store.append, subject, Journal(subject).head, tuple(drafts))
        return self.journal(subject)

    def journal(self, subject: str) -> Journal:
        """The journal of a subject."""
        from footexam.store.store import Store

        journal: Journal = self._do(Store.journal, subject)
        return journal

    def before(self, opened: OpenPatient, subject: str, day: date) -> Examination | None:
        """The latest examination before this one that is not struck through."""
        for visit in opened.visits:
            earlier = visit.examined_on <= day.isoformat() and visit.subject != subject
            if earlier and not visit.in_error:
                return fold_examination(self.journal(visit.subject), opened.patient)
        return None

    def author(self, start: Start) -> Author:
        """Who writes in this sitting."""
        return Author(start.examiner, start.role, self.sitting)

    def strike(self, subject: str, reason: str, author: Author) -> None:
        """Mark an examination as entered in error; it stays readable, struck through."""
        from footexam.store.store import Store

        head = self.journal(subject).head
        fact = _fact("exam", "entered-in-error", {"reason": reason}, author)
        self._do(Store.append, subject, head, (fact,))

    def move(self, visit: Visit, right: str, reason: str, author: Author) -> str:
        """This was the wrong patient: an error here, and a linked copy with the right one."""
        from footexam.store.store import Store

        old = self.journal(visit.subject)
        subject = Store.new_subject("examination")
        copies = [
            Draft(
                kind=entry.draft.kind,
                author=entry.draft.author,
                at=entry.draft.at,
                target=entry.draft.target,
                side=entry.draft.side,
                body=entry.draft.body,
                reason=entry.draft.reason,
                offset=entry.draft.offset,
            )
            for entry in old.live()
            if entry.draft.kind is not EntryKind.SIGN and entry.draft.target != "exam:patient"
        ]
        link = [
            _fact("exam", "patient", right, author),
            _fact("exam", "copied-from", visit.subject, author),
        ]
        self._do(Store.append, subject, Journal(subject).head, (*link, *copies))
        self.strike(visit.subject, f"{reason} (wrong patient; copied to {subject})", author)
        return subject


def _fact(kind: str, name: str, value: Any, author: Author) -> Draft:
    """A fact about a patient or an examination as an entry of now."""
    local = datetime.now(UTC).astimezone()
    shift = local.utcoffset()
    utc = local.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="milliseconds")
    return Draft(
        EntryKind.SET,
        author,
        f"{utc}Z",
        f"{kind}:{name.replace('_', '-')}",
        body={"is": value},
        offset=int(shift.total_seconds() // 60) if shift else 0,
    )
