"""The index: what lists and searches read, made from the journals and from nothing else."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import Column, Connection, Table, delete, func, insert, select, update
from sqlalchemy.dialects.sqlite import insert as upsert

from footexam.record.entry import Draft, Entry, EntryKind
from footexam.record.journal import Journal
from footexam.store import tables
from footexam.store.folding import fold, found_by
from footexam.store.journals import all_journals, read_entry, read_journal
from footexam.store.layout import INDEX_VERSION
from footexam.terms import Purpose

_PATIENT_TEXTS = ("family_name", "given_names", "title", "record_number", "birth_date", "sex")
_IN_ERROR = "entered_in_error"
"""The fact `patient:entered-in-error` or `exam:entered-in-error` strikes a record through."""

_ROWS_AT_A_TIME = 2000


def follow(connection: Connection, subject: str, entries: Sequence[Entry], where: Path) -> None:
    """Bring the index up to new entries of a subject; most entries change nothing in it."""
    if subject.startswith("patient:"):
        _put_patient(connection, read_journal(connection, subject, where))
    elif any(_matters(connection, subject, entry.draft, where) for entry in entries):
        _put_examination(connection, read_journal(connection, subject, where))


def make_index(connection: Connection, where: Path) -> None:
    """Throw the index away and make it again from the journals.

    Raises KnownError at the first journal whose chain does not hold; the old index then stays.
    """
    tables.index.drop_all(connection)
    tables.index.create_all(connection)
    rows = _IndexRows(connection)
    for journal in all_journals(connection, where):
        rows.add(journal)
    rows.write()
    visits = {"last_visit": _last_visit_of(tables.patient.c.subject)}
    connection.execute(update(tables.patient).values(visits))
    note = {"name": "index", "value": INDEX_VERSION}
    connection.execute(upsert(tables.fact).values(note).on_conflict_do_update(set_=note))


class _IndexRows:
    """Rows of the index on their way into it, many at a time."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._patients = 0
        self._waiting: dict[Table, list[dict[str, Any]]] = {}

    def add(self, journal: Journal) -> None:
        if journal.subject.startswith("patient:"):
            self._patients += 1
            row = {**_patient_row(journal), "number": self._patients, "last_visit": ""}
            self._put(tables.patient, [row])
            self._put(tables.patient_word, _word_rows(self._patients, row))
        else:
            self._put(tables.examination, [_examination_row(journal)])

    def write(self) -> None:
        for table, rows in self._waiting.items():
            if rows:
                self._connection.execute(insert(table), rows)
        self._waiting = {}

    def _put(self, table: Table, rows: list[dict[str, Any]]) -> None:
        waiting = self._waiting.setdefault(table, [])
        waiting += rows
        if len(waiting) >= _ROWS_AT_A_TIME:
            self.write()


def index_is_current(connection: Connection) -> bool:
    """Whether the index has the form this version reads."""
    column = tables.fact.c
    return connection.scalar(select(column.value).where(column.name == "index")) == INDEX_VERSION


def _matters(connection: Connection, subject: str, draft: Draft, where: Path) -> bool:
    """Whether an entry of an examination may change its row of the index.

    A retract may if what it takes back, or brings back, may.
    """
    while draft.retracts is not None:
        draft = read_entry(connection, subject, draft.retracts, where).draft
    return draft.kind is EntryKind.SIGN or draft.target.startswith("exam:")


def facts_of(live: Iterable[Entry], kind: str) -> dict[str, Any]:
    """The last live fact of each `kind:name`, hyphens as underscores; an odd one does no harm."""
    return {
        entry.draft.target.removeprefix(kind).replace("-", "_"): entry.draft.body.get("is")
        for entry in live
        if entry.draft.kind is EntryKind.SET and entry.draft.target.startswith(kind)
    }


def _text(fact: Any) -> str:
    return fact if isinstance(fact, str) else ""


def _patient_row(journal: Journal) -> dict[str, Any]:
    """What the list shows of a patient, but for their last visit and number."""
    facts = facts_of(journal.live(), "patient:")
    texts = {name: _text(facts.get(name)) for name in _PATIENT_TEXTS}
    return {
        **texts,
        "subject": journal.subject,
        "in_error": bool(facts.get(_IN_ERROR)),
        "family_folded": fold(texts["family_name"]),
        "given_folded": fold(texts["given_names"]),
    }


def _word_rows(number: int, row: dict[str, Any]) -> list[dict[str, Any]]:
    names = ("family_name", "given_names", "record_number", "birth_date")
    words = found_by(*(row[name] for name in names))
    return [{"word": word, "patient": number} for word in sorted(words)]


def _examination_row(journal: Journal) -> dict[str, Any]:
    live = journal.live()
    facts = facts_of(live, "exam:")
    examiner = facts.get("examiner")
    return {
        "subject": journal.subject,
        "patient": _text(facts.get("patient")),
        "examined_on": _text(facts.get("examined_on")),
        "purpose": _text(facts.get("purpose")) or Purpose.RECORD.value,
        "examiner": _text(examiner.get("name")) if isinstance(examiner, dict) else "",
        "signed": any(entry.draft.kind is EntryKind.SIGN for entry in live),
        "in_error": bool(facts.get(_IN_ERROR)),
    }


def _put_patient(connection: Connection, journal: Journal) -> None:
    row = {**_patient_row(journal), "last_visit": _last_visit_of(journal.subject)}
    column = tables.patient.c
    statement = upsert(tables.patient).values(row)
    number = connection.execute(
        statement.on_conflict_do_update([column.subject], set_=row).returning(column.number)
    ).scalar_one()
    mine = tables.patient_word.c.patient == number
    connection.execute(delete(tables.patient_word).where(mine))
    words = _word_rows(number, row)
    if words:
        connection.execute(insert(tables.patient_word), words)


def _put_examination(connection: Connection, journal: Journal) -> None:
    row = _examination_row(journal)
    column = tables.examination.c
    old = connection.scalar(select(column.patient).where(column.subject == journal.subject))
    statement = upsert(tables.examination).values(row)
    connection.execute(statement.on_conflict_do_update([column.subject], set_=row))
    for patient in {old, row["patient"]} - {None, ""}:
        mine = tables.patient.c.subject == patient
        visits = {"last_visit": _last_visit_of(patient)}
        connection.execute(update(tables.patient).where(mine).values(visits))


def _last_visit_of(patient: str | Column[str]) -> Any:
    """The date of the last examination of a patient that is not struck through; "" if none."""
    column = tables.examination.c
    latest = select(func.max(column.examined_on)).where(
        column.patient == patient, column.in_error == 0
    )
    return func.coalesce(latest.scalar_subquery(), "")
