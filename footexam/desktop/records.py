"""The entries that begin a patient or a visit, strike one through, or move it; no Qt."""

from dataclasses import fields
from datetime import UTC, date, datetime
from typing import Any

from footexam.desktop.visit import Start, Visit
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Patient
from footexam.record.journal import Journal
from footexam.record.signing import is_beside
from footexam.store.store import ExaminationRow, Store
from footexam.terms import Role


def new_patient(patient: Patient, author: Author) -> tuple[str, list[Draft]]:
    """A new subject for a patient, and what is known of them."""
    drafts = [
        _fact("patient", field.name, getattr(patient, field.name), author)
        for field in fields(patient)
        if getattr(patient, field.name)
    ]
    return Store.new_subject("patient"), drafts


def new_visit(patient: str, start: Start, today: date, author: Author) -> tuple[str, list[Draft]]:
    """A new subject for an examination of a patient: who, when, under whom."""
    facts: dict[str, Any] = {
        "patient": patient,
        "examined-on": today.isoformat(),
        "purpose": start.purpose.value,
        "examiner": {"name": start.examiner, "role": start.role.value},
    }
    if start.supervisor:
        facts["supervisor"] = {"name": start.supervisor, "role": Role.SUPERVISOR.value}
    drafts = [_fact("exam", name, value, author) for name, value in facts.items()]
    return Store.new_subject("examination"), drafts


def visit_of(row: ExaminationRow) -> Visit:
    """A visit as the patient's page lists it."""
    return Visit(row.subject, row.examined_on, row.examiner, row.purpose, row.signed, row.in_error)


def struck(reason: str, author: Author) -> Draft:
    """The entry that strikes an examination through."""
    return _fact("exam", "entered-in-error", {"reason": reason}, author)


def moved(old: Journal, right: str, author: Author) -> tuple[str, list[Draft]]:
    """A new subject with the right patient and all live entries of an examination, unsigned."""
    link = [
        _fact("exam", "patient", right, author),
        _fact("exam", "copied-from", old.subject, author),
    ]
    copies = [
        entry.draft
        for entry in old.live()
        if entry.draft.kind is not EntryKind.SIGN
        and not is_beside(entry.draft)
        and entry.draft.target != "exam:patient"
    ]
    return Store.new_subject("examination"), [*link, *copies]


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
