"""Journals in the database: read as they were written, and longer by new entries only."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter
from pathlib import Path
from typing import Any, NamedTuple

from sqlalchemy import Connection, LargeBinary, cast, insert, select

from footexam.record.entry import Draft, Entry, EntryKind, NotAnEntry, first_link, read, write
from footexam.record.journal import BrokenJournal, Journal
from footexam.store import tables
from footexam.store.errors import Conflict, KnownError, broken_journal

SUBJECT_KINDS = ("patient", "examination")
"""What a journal may be about; its id is `kind:` and 32 hexadecimal digits of its own."""

_ROWS_AT_A_TIME = 1000

_TEXT = cast(tables.journal.c.text, LargeBinary)
"""A text as its bytes: one that is damaged must not stop the reading of all others."""


class JournalRow(NamedTuple):
    """A row of a journal as it stands in the database."""

    subject: str
    text: str
    hash: str
    kind: str
    at: str


@dataclass(frozen=True, slots=True)
class Attachment:
    """Bytes beside an `attach` entry; `type` is a media type, as in image/jpeg."""

    data: bytes
    type: str

    @property
    def hash(self) -> str:
        """The SHA-256 of the bytes, as hex."""
        return hashlib.sha256(self.data).hexdigest()

    def body(self) -> dict[str, Any]:
        """What the `attach` entry says of it: numbers are decimal strings in an entry."""
        return {"hash": self.hash, "size": str(len(self.data)), "type": self.type}


def read_journal(connection: Connection, subject: str, where: Path) -> Journal:
    """The journal of a subject. KnownError if there is none or its chain does not hold."""
    column = tables.journal.c
    query = select(_TEXT, column.hash).where(column.subject == subject)
    found = connection.execute(query.order_by(column.sequence))
    rows = [(_decoded(text), hash_hex) for text, hash_hex in found]
    if not rows:
        raise KnownError("no-subject", where, what=subject)
    return _checked(subject, rows, where)


def read_entry(connection: Connection, subject: str, seq: int, where: Path) -> Entry:
    """One entry of a journal, which must be there. KnownError if its text is no entry."""
    column = tables.journal.c
    query = select(_TEXT).where((column.subject == subject) & (column.sequence == seq))
    try:
        return read(_decoded(connection.execute(query).scalar_one()))[0]
    except NotAnEntry as bad:
        raise broken_journal(where, subject, seq) from bad


def all_journals(connection: Connection, where: Path) -> Iterator[Journal]:
    """Every journal, by subject, one at a time. KnownError where a chain does not hold."""
    for subject, rows in rows_by_subject(connection):
        yield _checked(subject, [(row.text, row.hash) for row in rows], where)


def rows_by_subject(connection: Connection) -> Iterator[tuple[str, list[JournalRow]]]:
    """The rows of every journal in order, by subject, a few journals in memory at a time."""
    column = tables.journal.c
    query = select(column.subject, _TEXT, column.hash, column.kind, column.at)
    ordered = query.order_by(column.subject, column.sequence)
    streamed = connection.execution_options(yield_per=_ROWS_AT_A_TIME).execute(ordered)
    rows = (JournalRow(subject, _decoded(text), *rest) for subject, text, *rest in streamed)
    for subject, journal in groupby(rows, key=attrgetter("subject")):
        yield subject, list(journal)


def _decoded(text: bytes) -> str:
    """A text from its bytes; where they are no text, it is not the one that was hashed."""
    return text.decode(errors="replace")


def _checked(subject: str, rows: Sequence[tuple[str, str]], where: Path) -> Journal:
    """The journal of texts and their hashes. Raises KnownError."""
    try:
        journal = Journal.of_texts(subject, (text for text, _ in rows))
    except BrokenJournal as bad:
        raise broken_journal(where, subject, bad.seq) from bad
    if journal.head != rows[-1][1]:  # a change of any other entry shows in the one after it
        raise broken_journal(where, subject, len(rows))
    return journal


def append(
    connection: Connection,
    subject: str,
    expected_head: str,
    drafts: Sequence[Draft],
    attachments: Sequence[Attachment],
    where: Path,
) -> tuple[Entry, ...]:
    """Write drafts behind the expected head, the subject itself before its first entry.

    Raises Conflict when the journal has grown; ValueError for a draft that is no entry.
    """
    known = connection.execute(
        select(tables.subject.c.length, tables.subject.c.head).where(tables.subject.c.id == subject)
    ).one_or_none()
    length, head = known or (0, first_link(subject))
    if head != expected_head:
        raise Conflict(subject, _behind(connection, subject, expected_head, where))
    entries = _written(subject, length, head, drafts)
    if not known and entries:
        values = {"id": subject, "kind": _kind(subject), "length": 0, "head": head}
        connection.execute(insert(tables.subject).values(values))
    _keep(connection, attachments)
    _check_attached(connection, entries)
    if entries:
        connection.execute(insert(tables.journal), [_row(subject, entry) for entry in entries])
    return entries


def _behind(connection: Connection, subject: str, head: str, where: Path) -> list[Entry]:
    """The entries behind a head; all if it is not among them."""
    entries = list(read_journal(connection, subject, where))
    hashes = [first_link(subject), *(entry.hash for entry in entries)]
    return entries[hashes.index(head) :] if head in hashes else entries


def _kind(subject: str) -> str:
    kind, _, name = subject.partition(":")
    if kind not in SUBJECT_KINDS or not name:
        raise ValueError(f"{subject} is neither patient:… nor examination:…")
    return kind


def _written(subject: str, length: int, head: str, drafts: Sequence[Draft]) -> tuple[Entry, ...]:
    entries: list[Entry] = []
    for seq, draft in enumerate(drafts, length + 1):
        if (draft.kind is EntryKind.RETRACT) != (draft.retracts is not None):
            raise ValueError("only a retract names the entry it takes back")
        if draft.retracts is not None and not 1 <= draft.retracts < seq:
            raise ValueError(f"there is no entry {draft.retracts} to take back")
        entries.append(write(subject, seq, entries[-1].hash if entries else head, draft))
    return tuple(entries)


def _row(subject: str, entry: Entry) -> dict[str, Any]:
    return {
        "subject": subject,
        "sequence": entry.seq,
        "text": entry.text,
        "hash": entry.hash,
        "kind": entry.draft.kind.value,
        "at": entry.draft.at,
    }


def _keep(connection: Connection, attachments: Sequence[Attachment]) -> None:
    """Keep the bytes of attachments, those already kept once only."""
    for one in attachments:
        if not _is_kept(connection, one.hash):
            values = {**one.body(), "size": len(one.data), "bytes": one.data}
            connection.execute(insert(tables.attachment).values(values))


def _check_attached(connection: Connection, entries: Sequence[Entry]) -> None:
    """No entry names bytes that are not kept. ValueError."""
    for entry in entries:
        named = entry.draft.body.get("hash")
        if entry.draft.kind is EntryKind.ATTACH and not _is_kept(connection, named):
            raise ValueError(f"entry {entry.seq} attaches what was not given: {named}")


def _is_kept(connection: Connection, hash_hex: object) -> bool:
    column = tables.attachment.c.hash
    return connection.scalar(select(column).where(column == hash_hex)) is not None
