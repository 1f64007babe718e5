"""Tells a store from other files by the first bytes, without opening it as a database."""

import struct
from pathlib import Path

from footexam.store.errors import NO_STORE, KnownError, told
from footexam.store.layout import APPLICATION_ID, VERSION

_MAGIC = b"SQLite format 3\x00"
_LENGTH = 100
_MARKS = struct.Struct(">i4xi")
"""`user_version` at byte 60 and `application_id` at byte 68 (SQLite's file format)."""


def is_database(file: Path) -> bool:
    """Whether a file is a database of any program. Raises OSError."""
    with file.open("rb") as content:
        return content.read(len(_MAGIC)) == _MAGIC


def known_version(path: Path, status: int = NO_STORE) -> int:
    """The form of a store's database, at most `VERSION`.

    Raises KnownError for a file that is missing, empty, no database, of another program, or of a
    newer version of this one.
    """
    with told(path, status), path.open("rb") as file:
        head = file.read(_LENGTH)
    if not head:
        raise KnownError("file-empty", path, status)
    if not head.startswith(_MAGIC) or len(head) < _LENGTH:
        raise KnownError("not-a-store", path, status)
    version, application = _MARKS.unpack_from(head, 60)
    if application != APPLICATION_ID:
        raise KnownError("foreign", path, status)
    if version > VERSION:
        raise KnownError("newer", path, status, what=version, known=VERSION)
    if version < 1:
        raise KnownError("damaged", path, status, why=f"form {version}")
    return int(version)
