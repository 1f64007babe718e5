"""Files that are no store of this version are told apart by their first bytes."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from footexam.store import Store
from footexam.store.errors import BAD_INPUT
from footexam.store.header import is_database, known_version
from footexam.store.layout import DATABASE
from tests.store.builders import refused


def database(path: Path, *settings: str) -> Path:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE something (x)")
        for setting in settings:
            connection.execute(f"PRAGMA {setting}")
    return path


OURS = "application_id = 1718579060"


def test_a_store(store: Store, folder: Path) -> None:
    assert store.warnings == ()
    assert known_version(folder / DATABASE) == 1


@pytest.mark.parametrize(
    ("settings", "code"),
    [
        ((), "foreign"),
        (("application_id = 7", "user_version = 1"), "foreign"),
        ((OURS, "user_version = 2"), "newer"),
        ((OURS,), "damaged"),
        ((OURS, "user_version = -1"), "damaged"),
    ],
)
def test_other_databases(tmp_path: Path, settings: tuple[str, ...], code: str) -> None:
    path = database(tmp_path / "file", *settings)
    before = path.read_bytes()
    with refused(code) as caught:
        known_version(path, BAD_INPUT)
    assert caught.value.status == 3
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "file-empty"),
        (b"PK\x03\x04" + bytes(200), "not-a-store"),
        (b"SQLite format 3\x00", "not-a-store"),
        (b'{"format": "footexam/examination"}', "not-a-store"),
    ],
)
def test_other_files(tmp_path: Path, content: bytes, code: str) -> None:
    path = tmp_path / "file"
    path.write_bytes(content)
    with refused(code):
        known_version(path)


def test_a_database_is_known_by_its_first_bytes(store: Store, folder: Path, tmp_path: Path) -> None:
    assert store.warnings == ()
    assert is_database(folder / DATABASE)
    (tmp_path / "other").write_bytes(b"{}")
    assert not is_database(tmp_path / "other")


def test_no_file_and_a_folder(tmp_path: Path) -> None:
    with refused("cannot-open"):
        known_version(tmp_path / "none")
    with pytest.raises(Exception, match="cannot be"):
        known_version(tmp_path)


@pytest.mark.parametrize(
    ("settings", "code"),
    [((), "foreign"), ((OURS, "user_version = 2"), "newer")],
)
def test_the_store_opens_none_of_them(tmp_path: Path, settings: tuple[str, ...], code: str) -> None:
    path = database(tmp_path / DATABASE, *settings)
    before = path.read_bytes()
    for opener in (Store.open, Store.read):
        with refused(code):
            opener(tmp_path)
    with refused("store-exists"):
        Store.create(tmp_path)
    assert path.read_bytes() == before
    assert sorted(one.name for one in tmp_path.iterdir()) == [DATABASE, "store.lock"]
