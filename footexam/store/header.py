"""Tells a store from other files by the marks in its header.

A file that SQLite can read is read by SQLite alone: on POSIX systems, closing a file drops every
lock that this process holds on it. Had the window done that to its open store, the next program
to read it (a report is made by one) would have taken itself for the last one there, and removed
the log that the window goes on writing to.
"""

import sqlite3
import struct
from contextlib import closing
from pathlib import Path

from footexam.store import connect
from footexam.store.errors import NO_STORE, KnownError, told
from footexam.store.layout import APPLICATION_ID, VERSION

_MAGIC = b"SQLite format 3\x00"
_LENGTH = 100
_MARKS = struct.Struct(">i4xi")
"""`user_version` at byte 60 and `application_id` at byte 68 (SQLite's file format)."""
_IN_USE = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}


def is_database(file: Path) -> bool:
    """Whether a file is a database of any program. Raises OSError."""
    with file.open("rb") as content:
        return content.read(len(_MAGIC)) == _MAGIC


def known_version(path: Path, status: int = NO_STORE, *, at_rest: bool = False) -> int:
    """The form of a store's database, at most `VERSION`.

    Raises KnownError for a file that is missing, empty, no database, of another program, or of a
    newer version of this one. `at_rest`: nobody here has it open, and no log may appear beside it.
    """
    with told(path, status):
        if not path.stat().st_size:
            raise KnownError("file-empty", path, status)
        marks = None if at_rest else _marks(path)
        version, application = marks or _marks_of_bytes(path, status)
    if application != APPLICATION_ID:
        raise KnownError("foreign", path, status)
    if version > VERSION:
        raise KnownError("newer", path, status, what=version, known=VERSION)
    if version < 1:
        raise KnownError("damaged", path, status, why=f"form {version}")
    return int(version)


def _marks(path: Path) -> tuple[int, int] | None:
    """`user_version` and `application_id`; None of a file that SQLite cannot read."""
    try:
        with closing(connect.to_check(path)) as connection:
            version = connection.execute("PRAGMA user_version").fetchone()[0]
            return version, connection.execute("PRAGMA application_id").fetchone()[0]
    except sqlite3.Error as bad:
        if bad.sqlite_errorcode & 0xFF in _IN_USE:
            raise
        return None


def _marks_of_bytes(path: Path, status: int) -> tuple[int, int]:
    """The same from the bytes of a file that no connection of this process can be reading."""
    with path.open("rb") as file:
        head = file.read(_LENGTH)
    if not head.startswith(_MAGIC) or len(head) < _LENGTH:
        raise KnownError("not-a-store", path, status)
    version, application = _MARKS.unpack_from(head, 60)
    return version, application
