"""The one place that opens a database file, so that an encryption key can arrive here later."""

import os
import sqlite3
from pathlib import Path

from footexam.store.errors import KnownError

BUSY_S = 5.0
"""How long to wait for another program that is writing, in seconds."""

_FULL, _EXTRA = 2, 3


def to_write(path: Path) -> sqlite3.Connection:
    """Open a store for entries: every commit is on the disk before it is acknowledged.

    Write-ahead logging where the file system takes it, else a rollback journal; which of the two
    is read back, never assumed. Raises sqlite3.Error, KnownError.
    """
    connection = _open(path, "rw")
    try:
        _make_durable(connection, path)
    except BaseException:
        connection.close()
        raise
    return connection


def to_read(path: Path) -> sqlite3.Connection:
    """Open a store, perhaps while it is written to, and change no record.

    Not SQLite's own read-only mode: that cannot roll back what a crash left half done.
    """
    connection = _open(path, "rw")
    connection.execute("PRAGMA query_only = ON")
    # up to 32 MB (negative: in KiB), filled by large stores only: a search then reads no disk
    connection.execute("PRAGMA cache_size = -32000")
    return connection


def to_check(path: Path) -> sqlite3.Connection:
    """Open a finished copy; not a byte of it changes.

    Beside a copied store that still asks for a log, an empty one may appear.
    """
    return _open(path, "ro")


def to_fill(path: Path) -> sqlite3.Connection:
    """Make a new, empty file only its owner can read, and open it as a single file."""
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    return to_alter(path)


def to_alter(path: Path) -> sqlite3.Connection:
    """Open a file nobody else uses, and make it one file: no write-ahead log beside it.

    Raises sqlite3.Error, also when somebody else has it open.
    """
    connection = _open(path, "rw")
    try:
        connection.execute("PRAGMA journal_mode = DELETE")
    except BaseException:
        connection.close()
        raise
    return connection


def _open(path: Path, mode: str) -> sqlite3.Connection:
    # isolation_level None: transactions begin where we say so, not where the module guesses
    address = f"{path.absolute().as_uri()}?mode={mode}"
    connection = sqlite3.connect(address, uri=True, isolation_level=None, timeout=BUSY_S)
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA trusted_schema = OFF")
    except BaseException:
        connection.close()
        raise
    return connection


def _make_durable(connection: sqlite3.Connection, path: Path) -> None:
    mode = _pragma(connection, "journal_mode", "WAL")
    if mode != "wal":
        mode = _pragma(connection, "journal_mode", "DELETE")
    if mode not in {"wal", "delete"}:
        raise KnownError("no-journal", path)
    # a rollback journal is only gone for certain when its folder is synced as well: EXTRA
    wanted = _FULL if mode == "wal" else _EXTRA
    connection.execute(f"PRAGMA synchronous = {wanted}")
    if _pragma(connection, "synchronous") != wanted:
        raise KnownError("no-journal", path)
    # macOS: fsync alone stops at the cache of the drive
    connection.execute("PRAGMA fullfsync = ON")
    connection.execute("PRAGMA checkpoint_fullfsync = ON")


def _pragma(connection: sqlite3.Connection, name: str, value: str = "") -> str | int:
    setting = f" = {value}" if value else ""
    answer: str | int = connection.execute(f"PRAGMA {name}{setting}").fetchone()[0]
    return answer
