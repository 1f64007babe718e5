"""Walks every chain of a store and says where one does not hold."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Connection, select

from footexam.record.entry import EntryKind
from footexam.record.journal import BrokenJournal, Journal
from footexam.store import tables
from footexam.store.engine import plain
from footexam.store.journals import JournalRow, rows_by_subject


@dataclass(frozen=True, slots=True)
class Broken:
    """The first entry of a subject that is not as it was written, and why.

    `seq` is one more than the number of entries where the end was cut off. For bytes of an
    attachment `subject` is `attachment:hash` and `seq` 0.
    """

    subject: str
    seq: int
    why: str


@dataclass(frozen=True, slots=True)
class Verification:
    """How much was walked, and what does not hold, by subject."""

    subjects: int
    entries: int
    broken: tuple[Broken, ...]

    @property
    def whole(self) -> bool:
        """Whether every chain holds and every attachment is there."""
        return not self.broken


def verify(connection: Connection) -> Verification:
    """Walk every chain from its first entry, and every attachment.

    What this cannot show: that all of a store was written anew by somebody who knows how.
    """
    subjects = tables.subject.c
    ends = {
        subject: (length, head)
        for subject, length, head in connection.execute(
            select(subjects.id, subjects.length, subjects.head)
        )
    }
    hashes = _kept(connection)
    broken = list(_changed(connection, hashes))
    entries, left = 0, dict(ends)
    for subject, rows in rows_by_subject(connection):
        entries += len(rows)
        found = _walk(subject, rows, left.pop(subject, None), hashes)
        broken += [found] if found else []
    broken += [Broken(subject, 1, _CUT) for subject in left]
    return Verification(len(ends), entries, tuple(broken))


_CUT = "the end of the journal was cut off"
_BESIDE = "its text is not the one that was written"


def first_changed(connection: Connection) -> Broken | None:
    """The first entry or attachment that is not what its hash says; None if there is none.

    Ten times as quick as `verify`: enough for a copy, whose heads are compared with the store.
    """
    rows = "SELECT subject, sequence, CAST(text AS BLOB), hash FROM journal"
    for subject, seq, text, hash_hex in plain(connection).execute(rows):
        if hashlib.sha256(text).hexdigest() != hash_hex:
            return Broken(subject, seq, _BESIDE)
    return next(_changed(connection, _kept(connection)), None)


def _kept(connection: Connection) -> set[str]:
    """The hashes of all attachments."""
    return set(connection.scalars(select(tables.attachment.c.hash)))


def _walk(
    subject: str, rows: list[JournalRow], end: tuple[int, str] | None, attached: set[str]
) -> Broken | None:
    """What does not hold in one journal; None if all does."""
    try:
        journal = Journal.of_texts(subject, (row.text for row in rows))
    except BrokenJournal as bad:
        return Broken(subject, bad.seq, str(bad).partition(": ")[2])
    for entry, row in zip(journal, rows, strict=True):
        if (row.hash, row.kind, row.at) != (entry.hash, entry.draft.kind.value, entry.draft.at):
            return Broken(subject, entry.seq, _BESIDE)
        if entry.draft.kind is EntryKind.ATTACH and entry.draft.body.get("hash") not in attached:
            return Broken(subject, entry.seq, "its attachment is missing")
    if end != (len(journal), journal.head):
        return Broken(subject, len(journal) + 1, _CUT)
    return None


def _changed(connection: Connection, hashes: set[str]) -> Iterator[Broken]:
    """The attachments whose bytes are not those that were kept."""
    column = tables.attachment.c
    for one in sorted(hashes):
        data = connection.scalar(select(column.bytes).where(column.hash == one))
        if hashlib.sha256(data or b"").hexdigest() != one:
            yield Broken(f"attachment:{one}", 0, "its bytes have changed")
