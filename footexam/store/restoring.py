"""Brings a backup back: checked first, the present store set aside, then changed in one step."""

import os
import shutil
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import IO

from footexam.store import connect
from footexam.store.census import Census, take_census
from footexam.store.checking import check
from footexam.store.durable import make_private_folder, move_whole, sync_file, sync_folder
from footexam.store.engine import database_told, make_engine, reading
from footexam.store.errors import BAD_INPUT, KnownError, told
from footexam.store.header import known_version
from footexam.store.layout import DATABASE, RESTORED, SET_ASIDE
from footexam.store.lock import locked
from footexam.store.making import beside, remove
from footexam.store.places import check_place

_BLOCK = 1 << 20

_UNREADABLE = frozenset({"damaged", "disk-fault", "foreign", "newer", "not-a-store", "file-empty"})
"""What may be wrong with the present store; it is then set aside as it is."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What was brought back, and what it replaced.

    `before` is what the present store held, None if there was none or it could not be read;
    `set_aside` is the folder it lies in now, None if there was none.
    """

    census: Census
    before: Census | None
    set_aside: Path | None


def restore(folder: Path, file: Path) -> Restored:
    """Put a backup in the place of the store of a folder.

    The backup is copied and the copy checked through, every chain of it, before anything
    changes. The present store is then set aside, whole and for good, and replaced in one step.
    Broken off anywhere, there is the old store, the new one, or none and both parts; never a
    mixture. Raises KnownError: status 3 when the file is no whole backup, 4 when the store is
    open or its folder cannot take it.
    """
    known_version(file, BAD_INPUT, at_rest=True)
    check_place(folder)
    with told(folder):
        make_private_folder(folder)
    with locked(folder):
        part = folder / RESTORED
        try:
            census = _fetch(file, part)
            before = _settle(folder / DATABASE)
        except BaseException:
            with suppress(OSError):
                remove(part)
            raise
        with told(folder):
            aside = _set_aside(folder, settled=before is not None)
            move_whole(part, folder / DATABASE)
    return Restored(census, before, aside)


def _fetch(file: Path, part: Path) -> Census:
    """Copy a backup, check the copy through, and count what it holds. Raises KnownError."""
    with told(part):
        remove(part)
    # a copied store may still have entries in the log beside it
    for end in ("", "-wal"):
        source, target = (path.with_name(path.name + end) for path in (file, part))
        if source.exists():
            _copy(source, target)
    with database_told(file, BAD_INPUT):
        connect.to_alter(part).close()
    return check(part, file).census


def _copy(source: Path, target: Path) -> None:
    with told(source, BAD_INPUT):
        reader = source.open("rb")
    with reader, told(target):
        handle = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "wb") as writer:
            _pour(reader, writer, source)


def _pour(reader: IO[bytes], writer: IO[bytes], source: Path) -> None:
    while True:
        with told(source, BAD_INPUT):
            block = reader.read(_BLOCK)
        if not block:
            return
        writer.write(block)


def _settle(database: Path) -> Census | None:
    """Make the present store one file and count it; None if there is none or it is damaged.

    Raises KnownError when it is open somewhere.
    """
    if not database.exists():
        return None
    try:
        known_version(database)
        engine = make_engine(database, connect.to_alter)
        try:
            with reading(engine, database) as connection:
                return take_census(connection)
        finally:
            engine.dispose()
    except KnownError as bad:
        if bad.code not in _UNREADABLE:
            raise
        return None


def _set_aside(folder: Path, settled: bool) -> Path | None:
    """Keep the present store in a folder of its own; None if there is none. Raises OSError.

    A store that is one file stays in its place until it is replaced. A damaged one may have
    entries in the log beside it, which must never meet another database: it goes away whole,
    the database first, so that what a crash leaves is seen to be unfinished.
    """
    parts = [one for one in (folder / DATABASE, *beside(folder / DATABASE)) if one.exists()]
    if not parts:
        return None
    aside = _new_folder(folder / SET_ASIDE)
    for one in parts:
        if settled:
            _double(one, aside / one.name)
        else:
            one.rename(aside / one.name)
            sync_folder(folder)
    sync_folder(aside)
    return aside


def _double(one: Path, other: Path) -> None:
    """A second name for a file, or a copy where the file system has no second names."""
    try:
        other.hardlink_to(one)
    except OSError:
        shutil.copy2(one, other)
        sync_file(other)


def _new_folder(parent: Path) -> Path:
    """A folder named by the day, and by a number where there were more of a day."""
    make_private_folder(parent)
    day = datetime.now(UTC).date().isoformat()
    names = (parent / f"{day}-{number}" for number in count(1))
    folder = next(name for name in names if not name.exists())
    make_private_folder(folder)
    return folder
