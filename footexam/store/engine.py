"""The engine of a store: SQLAlchemy over the connection that `connect` opens, one at a time."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from sqlalchemy import Connection, Engine, StaticPool, create_engine, event
from sqlalchemy.exc import DBAPIError

from footexam.store.errors import NO_STORE, told

_WRITING = "footexam_writing"


def make_engine(path: Path, opener: Callable[[Path], sqlite3.Connection]) -> Engine:
    """An engine over one connection, opened at first use by an opener of `connect`."""
    engine = create_engine("sqlite://", creator=partial(opener, path), poolclass=StaticPool)
    event.listen(engine, "begin", _begin)
    return engine


def _begin(connection: Connection) -> None:
    """Begin where we say so; who will write waits for its turn here, not in the middle."""
    writing = connection.get_execution_options().get(_WRITING, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


@contextmanager
def reading(engine: Engine, where: Path) -> Iterator[Connection]:
    """A view of the store that does not change while it is read. Raises KnownError."""
    with database_told(where), engine.connect() as connection:
        yield connection


@contextmanager
def writing(engine: Engine, where: Path) -> Iterator[Connection]:
    """A transaction: on the disk when the block ends, or nothing of it. Raises KnownError."""
    with (
        database_told(where),
        engine.connect().execution_options(**{_WRITING: True}) as connection,
        connection.begin(),
    ):
        yield connection


@contextmanager
def database_told(where: Path, status: int = NO_STORE) -> Iterator[None]:
    """As `told`, for errors that SQLAlchemy has wrapped."""
    with told(where, status):
        try:
            yield
        except DBAPIError as bad:
            raise (bad.orig or bad) from bad


def plain(connection: Connection) -> sqlite3.Connection:
    """The connection of the standard library below, for what only SQLite can do."""
    below = connection.connection.driver_connection
    assert isinstance(below, sqlite3.Connection)  # noqa: S101 - for the type checker
    return below
