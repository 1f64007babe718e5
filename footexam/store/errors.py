"""Known troubles of a store, and the one place where system errors become them.

    KnownError      a sentence for the person at the desk; `code` is stable
    Conflict        somebody else wrote first; holds what they wrote

Everything else that is raised is a fault of the program.
"""

import errno
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from footexam.store.messages import store_sentence

if TYPE_CHECKING:  # the patient list does not wait for it
    from footexam.record.entry import Entry

BAD_INPUT, NO_STORE, CANNOT_WRITE = 3, 4, 6
"""Exit status of the command line (interface.md)."""


class KnownError(Exception):
    """What cannot be done, in one sentence; `status` is the exit status of the command line."""

    def __init__(
        self, code: str, where: Path | str, status: int = NO_STORE, **values: object
    ) -> None:
        super().__init__(store_sentence(code, {"where": where, **values}))
        self.code = code
        self.status = status


def broken_journal(where: Path | str, subject: str, seq: int, status: int = NO_STORE) -> KnownError:
    """Says which entry is not as it was written."""
    return KnownError("broken-journal", where, status, subject=subject, what=seq)


class Conflict(Exception):
    """The journal has grown since it was read; nothing was written.

    `entries` are those behind the expected head, in order: add them, fold, and apply again.
    When the expected head is not in the journal at all, they are all its entries.
    """

    def __init__(self, subject: str, entries: "Sequence[Entry]") -> None:
        super().__init__(f"{subject} has grown by {len(entries)}")
        self.subject = subject
        self.entries = tuple(entries)


@contextmanager
def told(where: Path | str, status: int = NO_STORE) -> Iterator[None]:
    """Turn the errors of the database and the file system into KnownError; faults stay faults."""
    try:
        yield
    except (sqlite3.Error, OSError) as bad:
        known = explain(bad, where, status)
        if known is None:
            raise
        raise known from bad


def explain(bad: Exception, where: Path | str, status: int = NO_STORE) -> KnownError | None:
    """The KnownError of an error of the database or the file system; None if it is a fault."""
    if isinstance(bad, sqlite3.Error):
        if str(bad).startswith("Could not decode to UTF-8"):  # the rest of it is the text itself
            return KnownError("damaged", where, status, why="a text in it cannot be read")
        code = _DATABASE.get(getattr(bad, "sqlite_errorcode", -1) & 0xFF)
        return KnownError(code, where, status, why=str(bad)) if code else None
    if isinstance(bad, OSError):
        code = _SYSTEM.get(bad.errno or 0, "cannot-open")
        return KnownError(code, where, status, why=(bad.strerror or str(bad)).lower())
    return None


# by the primary result code, the low byte of the extended one
_DATABASE = {
    sqlite3.SQLITE_PERM: "read-only",
    sqlite3.SQLITE_BUSY: "busy",
    sqlite3.SQLITE_LOCKED: "busy",
    sqlite3.SQLITE_READONLY: "read-only",
    sqlite3.SQLITE_IOERR: "disk-fault",
    sqlite3.SQLITE_CORRUPT: "damaged",
    sqlite3.SQLITE_FULL: "disk-full",
    sqlite3.SQLITE_CANTOPEN: "cannot-open",
    sqlite3.SQLITE_PROTOCOL: "busy",
    sqlite3.SQLITE_NOTADB: "damaged",
}

_SYSTEM = {
    errno.ENOSPC: "disk-full",
    errno.EDQUOT: "disk-full",
    errno.EACCES: "read-only",
    errno.EPERM: "read-only",
    errno.EROFS: "read-only",
    errno.EIO: "disk-fault",
}
