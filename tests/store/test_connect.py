"""Every commit is on the disk; what cannot be had is told, never assumed."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from footexam.store import Store, connect
from footexam.store.layout import DATABASE
from tests.store.builders import new_patient, refused


def pragmas(connection: sqlite3.Connection) -> dict[str, object]:
    names = ("journal_mode", "synchronous", "foreign_keys", "trusted_schema", "query_only")
    return {name: connection.execute(f"PRAGMA {name}").fetchone()[0] for name in names}


@pytest.fixture
def path(store: Store, folder: Path) -> Path:
    store.close()
    return folder / DATABASE


def test_to_write(path: Path) -> None:
    with closing(connect.to_write(path)) as connection:
        found = pragmas(connection)
    assert (found["journal_mode"], found["synchronous"]) == ("wal", 2)
    assert (found["foreign_keys"], found["trusted_schema"]) == (1, 0)


def test_to_read_cannot_write(path: Path) -> None:
    with closing(connect.to_read(path)) as connection:
        assert pragmas(connection)["query_only"] == 1
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            connection.execute("DELETE FROM fact")


def test_a_copy_is_one_file_that_only_its_owner_reads(tmp_path: Path) -> None:
    path = tmp_path / "a copy?of#it%20.db"
    with closing(connect.to_fill(path)) as connection:
        connection.execute("CREATE TABLE one (x)")
        assert pragmas(connection)["journal_mode"] == "delete"
    assert [one.name for one in tmp_path.iterdir()] == [path.name]
    if os.name == "posix":
        assert path.stat().st_mode & 0o777 == 0o600
    with pytest.raises(FileExistsError):
        connect.to_fill(path)


def test_to_check_changes_nothing(path: Path) -> None:
    with closing(connect.to_alter(path)):
        pass
    with (
        closing(connect.to_check(path)) as connection,
        pytest.raises(sqlite3.OperationalError, match="readonly"),
    ):
        connection.execute("DELETE FROM fact")


def test_nothing_is_made_by_opening(tmp_path: Path) -> None:
    for opener in (connect.to_write, connect.to_read, connect.to_check, connect.to_alter):
        with pytest.raises(sqlite3.OperationalError):
            opener(tmp_path / "none")
    assert list(tmp_path.iterdir()) == []


class OddConnection(sqlite3.Connection):
    """A connection to a file system that answers some settings differently."""

    answers: dict[str, str | int] = {}  # noqa: RUF012 - set by each test

    def execute(self, sql: str, *rest: Any) -> sqlite3.Cursor:
        for setting, answer in self.answers.items():
            if setting in sql:
                return super().execute(
                    f"SELECT '{answer}'" if isinstance(answer, str) else f"SELECT {answer}"
                )
        return super().execute(sql, *rest)


@pytest.fixture
def odd(monkeypatch: pytest.MonkeyPatch) -> dict[str, str | int]:
    """Answers to settings, given to every connection opened from now on."""
    answers: dict[str, str | int] = {}
    monkeypatch.setattr(OddConnection, "answers", answers)
    real = sqlite3.connect

    def odd_connect(*args: Any, **kwargs: Any) -> sqlite3.Connection:
        return real(*args, factory=OddConnection, **kwargs)

    monkeypatch.setattr(sqlite3, "connect", odd_connect)
    return answers


def test_without_write_ahead_logging_the_store_works_and_says_so(
    path: Path, folder: Path, odd: dict[str, str | int]
) -> None:
    with closing(connect.to_alter(path)):
        pass
    odd["journal_mode = WAL"] = "delete"  # what SQLite answers where the log cannot be had
    with Store.open(folder) as store:
        assert "rollback journal" in store.warnings[0]
        new_patient(store, "Kept")
        with closing(connect.to_write(path)) as connection:
            found = pragmas(connection)
            assert (found["journal_mode"], found["synchronous"]) == ("delete", 3)
        assert store.verify().whole


@pytest.mark.parametrize(
    "answers",
    [
        {"journal_mode = WAL": "memory", "journal_mode = DELETE": "memory"},
        {"synchronous": 1},
    ],
)
def test_a_file_system_that_cannot_keep_records_is_refused(
    path: Path, folder: Path, odd: dict[str, str | int], answers: dict[str, str | int]
) -> None:
    odd.update(answers)
    with refused("no-journal"):
        Store.open(folder)
    odd.clear()
    Store.open(folder).close()  # the lock was given back
    assert path.exists()


def test_a_file_that_cannot_be_opened_is_let_go(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    closed = []

    class Failing(sqlite3.Connection):
        def execute(self, *_: Any) -> sqlite3.Cursor:
            raise sqlite3.OperationalError("no")

        def close(self) -> None:
            closed.append(True)
            super().close()

    real = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda *a, **k: real(*a, factory=Failing, **k))
    with pytest.raises(sqlite3.OperationalError, match="no"):
        connect.to_read(path)
    assert closed == [True]
