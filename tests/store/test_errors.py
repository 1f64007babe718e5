"""System errors become sentences; faults of the program stay faults."""

import errno
import sqlite3
from pathlib import Path

import pytest

from footexam.store.errors import CANNOT_WRITE, Conflict, KnownError, explain, told
from tests.store.builders import refused

WHERE = Path("place") / "store.db"


def database_error(code: int) -> sqlite3.DatabaseError:
    bad = sqlite3.DatabaseError("said by the database")
    bad.sqlite_errorcode = code
    return bad


@pytest.mark.parametrize(
    ("number", "code"),
    [
        (sqlite3.SQLITE_FULL, "disk-full"),
        (sqlite3.SQLITE_READONLY, "read-only"),
        (sqlite3.SQLITE_READONLY_DBMOVED, "read-only"),
        (sqlite3.SQLITE_BUSY_SNAPSHOT, "busy"),
        (sqlite3.SQLITE_IOERR_FSYNC, "disk-fault"),
        (sqlite3.SQLITE_CORRUPT_INDEX, "damaged"),
        (sqlite3.SQLITE_NOTADB, "damaged"),
        (sqlite3.SQLITE_CANTOPEN, "cannot-open"),
    ],
)
def test_errors_of_the_database(number: int, code: str) -> None:
    with refused(code) as caught, told(WHERE):
        raise database_error(number)
    assert str(WHERE) in str(caught.value)
    assert caught.value.status == 4


@pytest.mark.parametrize(
    ("number", "code"),
    [
        (errno.ENOSPC, "disk-full"),
        (errno.EROFS, "read-only"),
        (errno.EACCES, "read-only"),
        (errno.EIO, "disk-fault"),
        (errno.ENOENT, "cannot-open"),
    ],
)
def test_errors_of_the_system(number: int, code: str) -> None:
    with refused(code) as caught, told(WHERE, CANNOT_WRITE):
        raise OSError(number, "Said By The System")
    assert caught.value.status == 6


def test_a_text_that_cannot_be_read_is_not_shown() -> None:
    bad = sqlite3.OperationalError("Could not decode to UTF-8 column 'text' with text 'Mr Smith'")
    with refused("damaged") as caught, told(WHERE):
        raise bad
    assert "Smith" not in str(caught.value)


def test_an_error_of_the_system_without_number_is_told_by_its_text() -> None:
    known = explain(OSError("odd"), WHERE)
    assert known is not None
    assert known.code == "cannot-open"
    assert "odd" in str(known)


@pytest.mark.parametrize(
    "bad", [database_error(sqlite3.SQLITE_CONSTRAINT), sqlite3.ProgrammingError("wrong thread")]
)
def test_a_fault_stays_a_fault(bad: sqlite3.Error) -> None:
    with pytest.raises(type(bad)) as caught, told(WHERE):
        raise bad
    assert caught.value is bad


def test_what_is_no_system_error_is_not_explained() -> None:
    assert explain(ValueError("no"), WHERE) is None


def test_a_conflict_says_how_much_is_new() -> None:
    assert str(Conflict("patient:1", [])) == "patient:1 has grown by 0"


def test_a_known_error_is_no_system_error() -> None:
    with pytest.raises(KnownError) as caught, told(WHERE):
        raise KnownError("closed", WHERE)
    assert caught.value.code == "closed"
