"""Makes the database of a new store, and knows whether one is complete."""

from pathlib import Path

from sqlalchemy import Connection, inspect

from footexam.store import connect, tables
from footexam.store.durable import move_whole
from footexam.store.engine import database_told, make_engine, writing
from footexam.store.errors import KnownError
from footexam.store.index import index_is_current, make_index
from footexam.store.layout import (
    APPLICATION_ID,
    BESIDE,
    DATABASE,
    NEW,
    RESTORED,
    SET_ASIDE,
    VERSION,
)


def make_database(folder: Path) -> None:
    """Make an empty database in a folder that holds none. Raises KnownError.

    It gets its name when it is whole: a crash leaves no half-made store.
    """
    refuse_occupied(folder)
    new = folder / NEW
    with database_told(folder):
        remove(new)
        connect.to_fill(new).close()
    engine = make_engine(new, connect.to_alter)
    try:
        with writing(engine, folder) as connection:
            tables.kept.create_all(connection)
            for trigger in tables.TRIGGERS.values():
                connection.exec_driver_sql(trigger)
            make_index(connection, folder)
            connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
            connection.exec_driver_sql(f"PRAGMA user_version = {VERSION}")
    finally:
        engine.dispose()
    with database_told(folder):
        move_whole(new, folder / DATABASE)


def missing(folder: Path) -> KnownError:
    """Why there is no store to open: none was made, or a restore was broken off."""
    parts = (folder / RESTORED, folder / SET_ASIDE, *beside(folder / DATABASE))
    return KnownError("unfinished" if any(one.exists() for one in parts) else "no-store", folder)


def refuse_occupied(folder: Path) -> None:
    """Raise KnownError where a new store would hide an old one."""
    if (folder / DATABASE).exists():
        raise KnownError("store-exists", folder)
    found = missing(folder)
    if found.code == "unfinished":
        raise found


def complete(connection: Connection, where: Path) -> bool:
    """Whether the index is there and of this form. KnownError if anything else is missing."""
    there = set(inspect(connection).get_table_names())
    query = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    rules = set(connection.exec_driver_sql(query).scalars())
    lost = (set(tables.kept.tables) - there) | (set(tables.TRIGGERS) - rules)
    if lost:
        raise KnownError("damaged", where, why=f"{min(lost)} is missing")
    return set(tables.index.tables) <= there and index_is_current(connection)


def remove(database: Path) -> None:
    """Delete a database that is not whole, and what lies beside it. Raises OSError."""
    for one in (database, *beside(database)):
        one.unlink(missing_ok=True)


def beside(database: Path) -> tuple[Path, ...]:
    """What the database engine may have put beside a database."""
    return tuple(database.with_name(database.name + end) for end in BESIDE)
