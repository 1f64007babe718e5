"""Verified copies of a store: made beside their name, checked, and only then given it."""

import re
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine

from footexam.store import connect
from footexam.store.census import Census, check_file, take_census
from footexam.store.durable import make_private_folder, move_whole
from footexam.store.engine import make_engine, plain, reading
from footexam.store.errors import CANNOT_WRITE, KnownError, broken_journal, explain, told
from footexam.store.header import known_version
from footexam.store.verify import first_changed

KEPT = 7
"""How many copies made at close are kept."""

_NAME = re.compile(r"footexam-(\d{6})\.backup", re.ASCII)


@dataclass(frozen=True, slots=True)
class Backup:
    """A copy that was compared with the store and found to hold the same."""

    path: Path
    size: int
    census: Census
    fresh: bool = True
    """False where the newest copy already held everything and was found whole."""


def back_up(engine: Engine, store: Path, out: Path) -> Backup:
    """Write a verified copy of a store, one file, to a new name; `store` is its database file.

    Raises KnownError with status 6 when the name is taken, the disk is full, the folder cannot
    be written, or the copy is not the same as the store; then no file of that name is left.
    """
    with told(out, CANNOT_WRITE):
        if out.exists() or out.is_symlink():
            raise KnownError("output-exists", out, CANNOT_WRITE)
        part = out.with_name(f"{out.name}.part")
        part.unlink(missing_ok=True)
    try:
        census = _copy(engine, store, part, out)
        _compare(part, census, out)
        with told(out, CANNOT_WRITE):
            move_whole(part, out)
            return Backup(out, out.stat().st_size, census)
    except BaseException:
        _take_away(part)
        raise


def back_up_at_close(engine: Engine, store: Path, folder: Path) -> Backup:
    """Write a verified copy under the next number and keep the newest seven.

    When the newest copy holds the same as the store and is whole, none is made, so that seven
    openings do not push out seven days. Older copies go only when the new one is verified.
    Numbers order them, not dates: a clock may step back. Raises KnownError as `back_up`.
    """
    with told(folder, CANNOT_WRITE):
        make_private_folder(folder)
        copies = backups(folder)
    newest = copies[-1] if copies else None
    if newest and (census := _same_as_store(engine, store, newest)):
        return Backup(newest, newest.stat().st_size, census, fresh=False)
    number = int(_number(newest)) + 1 if newest else 1
    made = back_up(engine, store, folder / f"footexam-{number:06}.backup")
    with told(folder, CANNOT_WRITE):
        for old in backups(folder)[:-KEPT]:
            old.unlink()
    return made


def backups(folder: Path) -> list[Path]:
    """The copies made at close that lie in a folder, the newest last. Raises OSError."""
    if not folder.is_dir():
        return []
    return sorted(path for path in folder.iterdir() if _NAME.fullmatch(path.name))


def census_of_copy(copy: Path) -> Census:
    """Read a copy back from its file, every byte of its entries, and count what it holds.

    Raises KnownError for a file that is no store or not whole.
    """
    known_version(copy)
    engine = make_engine(copy, connect.to_check)
    try:
        with reading(engine, copy) as connection:
            check_file(connection, copy)
            changed = first_changed(connection)
            if changed:
                raise broken_journal(copy, changed.subject, changed.seq)
            return take_census(connection)
    finally:
        engine.dispose()


def _number(path: Path) -> str:
    return path.stem.rpartition("-")[2]


def _copy(engine: Engine, store: Path, part: Path, out: Path) -> Census:
    """Copy what one moment of the store holds, and count it at the same moment."""
    with reading(engine, store) as connection:
        census = take_census(connection)
        with told(out, CANNOT_WRITE), closing(connect.to_fill(part)) as copy:
            _pour(plain(connection), copy, store)
            # what was copied says that it has a write-ahead log; a copy is one file
            copy.execute("PRAGMA journal_mode = DELETE")
    return census


def _pour(source: sqlite3.Connection, copy: sqlite3.Connection, store: Path) -> None:
    try:
        source.backup(copy)
    except sqlite3.DatabaseError as bad:
        known = explain(bad, store)
        if known and known.code == "damaged":  # of the two, only the store can be
            raise known from bad
        raise


def _compare(part: Path, store: Census, out: Path) -> None:
    try:
        copy = census_of_copy(part)
    except KnownError as bad:
        raise KnownError("copy-differs", out, CANNOT_WRITE, why="it cannot be read back") from bad
    if copy != store:
        why = f"{copy.entries} entries, {store.entries} in the store"
        raise KnownError("copy-differs", out, CANNOT_WRITE, why=why)


def _same_as_store(engine: Engine, store: Path, copy: Path) -> Census | None:
    """The census of a copy that is whole and holds what the store holds, else None."""
    try:
        found = census_of_copy(copy)
    except KnownError:
        return None
    with reading(engine, store) as connection:
        return found if found == take_census(connection) else None


def _take_away(part: Path) -> None:
    """Remove what is left of a copy that failed; what cannot be removed is told no more."""
    with suppress(OSError):
        for name in (part, part.with_name(f"{part.name}-journal")):
            name.unlink(missing_ok=True)
