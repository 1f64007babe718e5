"""The index: what lists and searches read, made from the journals and from nothing else."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, delete, func, insert, select, update
from sqlalchemy.dialects.sqlite import insert as upsert

from footexam.record.entry import Entry, EntryKind
from footexam.record.journal import Journal
from footexam.store import tables
from footexam.store.folding import fold, found_by
from footexam.store.journals import read_journal
from footexam.store.layout import INDEX_VERSION
from footexam.terms import Purpose

_PATIENT_TEXTS = ("family_name", "given_names", "title", "record_number", "birth_date", "sex")
IN_ERROR = "entered-in-error"
"""The fact `patient:entered-in-error` or `exam:entered-in-error` strikes a record through."""


def follow(connection: Connection, subject: str, entries: Sequence[Entry], where: Path) -> None:
    """Bring the index up to new entries of a subject; most entries change nothing in it."""
    if subject.startswith("patient:"):
        _index_patient(connection, read_journal(connection, subject, where))
    elif any(_matters(entry) for entry in entries):
        _index_examination(connection, read_journal(connection, subject, where))


def make_index(connection: Connection, where: Path) -> None:
    """Throw the index away and make it again from the journals.

    Raises KnownError at the first journal whose chain does not hold; the old index then stays.
    """
    tables.index.drop_all(connection)
    tables.index.create_all(connection)
    subjects = tables.subject.c
    for kind, index in (("patient", _index_patient), ("examination", _index_examination)):
        ids = select(subjects.id).where(subjects.kind == kind).order_by(subjects.id)
        for subject in connection.scalars(ids).all():
            index(connection, read_journal(connection, subject, where))
    note = {"name": "index", "value": INDEX_VERSION}
    connection.execute(upsert(tables.fact).values(note).on_conflict_do_update(set_=note))


def index_is_current(connection: Connection) -> bool:
    """Whether the index has the form this version reads."""
    column = tables.fact.c
    return connection.scalar(select(column.value).where(column.name == "index")) == INDEX_VERSION


def _matters(entry: Entry) -> bool:
    """Whether an entry of an examination may change its row of the index."""
    draft = entry.draft
    return draft.kind in {EntryKind.SIGN, EntryKind.RETRACT} or draft.target.startswith("exam:")


def facts_of(live: Iterable[Entry], kind: str) -> dict[str, Any]:
    """The last live fact of each `kind:name`, hyphens as underscores; an odd one does no harm."""
    return {
        entry.draft.target.removeprefix(kind).replace("-", "_"): entry.draft.body.get("is")
        for entry in live
        if entry.draft.kind is EntryKind.SET and entry.draft.target.startswith(kind)
    }


def _text(fact: Any) -> str:
    return fact if isinstance(fact, str) else ""


def _index_patient(connection: Connection, journal: Journal) -> None:
    facts = facts_of(journal.live(), "patient:")
    texts = {name: _text(facts.get(name)) for name in _PATIENT_TEXTS}
    row = {
        **texts,
        "subject": journal.subject,
        "last_visit": _last_visit(connection, journal.subject),
        "in_error": bool(facts.get(IN_ERROR.replace("-", "_"))),
        "family_folded": fold(texts["family_name"]),
        "given_folded": fold(texts["given_names"]),
    }
    column = tables.patient.c
    statement = upsert(tables.patient).values(row)
    number = connection.scalar(
        statement.on_conflict_do_update([column.subject], set_=row).returning(column.number)
    )
    _index_words(connection, number, texts)


def _index_words(connection: Connection, number: int | None, texts: dict[str, str]) -> None:
    family, given, _, record_number, birth_date, _ = texts.values()
    words = found_by(family, given, record_number, birth_date)
    column = tables.patient_word.c
    connection.execute(delete(tables.patient_word).where(column.patient == number))
    if words:
        rows = [{"word": word, "patient": number} for word in sorted(words)]
        connection.execute(insert(tables.patient_word), rows)


def _index_examination(connection: Connection, journal: Journal) -> None:
    live = journal.live()
    facts = facts_of(live, "exam:")
    examiner = facts.get("examiner")
    row = {
        "subject": journal.subject,
        "patient": _text(facts.get("patient")),
        "examined_on": _text(facts.get("examined_on")),
        "purpose": _text(facts.get("purpose")) or Purpose.RECORD.value,
        "examiner": _text(examiner.get("name")) if isinstance(examiner, dict) else "",
        "signed": any(entry.draft.kind is EntryKind.SIGN for entry in live),
        "in_error": bool(facts.get(IN_ERROR.replace("-", "_"))),
    }
    column = tables.examination.c
    old = connection.scalar(select(column.patient).where(column.subject == journal.subject))
    statement = upsert(tables.examination).values(row)
    connection.execute(statement.on_conflict_do_update([column.subject], set_=row))
    for patient in {old, row["patient"]} - {None, ""}:
        seen = _last_visit(connection, str(patient))
        mine = tables.patient.c.subject == patient
        connection.execute(update(tables.patient).where(mine).values(last_visit=seen))


def _last_visit(connection: Connection, patient: str) -> str:
    """The date of a patient's last examination that is not struck through; "" if none."""
    column = tables.examination.c
    query = select(func.max(column.examined_on)).where(
        column.patient == patient, column.in_error == 0
    )
    return connection.scalar(query) or ""
