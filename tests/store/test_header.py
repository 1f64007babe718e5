"""Files that are no store of this version are told apart by the marks in their header."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from footexam.store import Store
from footexam.store.errors import BAD_INPUT
from footexam.store.header import is_database, known_version
from footexam.store.layout import DATABASE
from footexam.store.quick_list import PatientList
from tests.store.builders import fact, more, new_patient, refused


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
    with refused(code):
        known_version(path, at_rest=True)
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


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
    for at_rest in (False, True):
        with refused(code):
            known_version(path, at_rest=at_rest)


def test_a_store_that_somebody_keeps_for_themselves_is_told(store: Store, folder: Path) -> None:
    path = folder / DATABASE
    store.close()
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("PRAGMA journal_mode = DELETE")
        other.execute("BEGIN EXCLUSIVE")
        with refused("busy"):
            known_version(path)


READER = """
import sys
from pathlib import Path
from footexam.store import Store
with Store.read(Path(sys.argv[1])) as store:
    print(len(store.journal(sys.argv[2])))
"""


@pytest.mark.parametrize("before", [True, False], ids=["list first", "store first"])
def test_who_reads_beside_an_open_store_takes_nothing_away(
    store: Store, folder: Path, before: bool
) -> None:
    """The window holds list and store open; a report is made by another process that reads."""
    subject = new_patient(store, "Quist")
    if before:
        store.close()
    with PatientList(folder) as patients:
        if before:
            store = Store.open(folder)
        assert patients.search("").rows
        with Store.read(folder) as again:
            assert len(again.journal(subject)) == len(store.journal(subject))
        log = folder / f"{DATABASE}-wal"
        for _ in range(3):
            journal = store.journal(subject)
            more(store, subject, fact("patient:title", "Ms"))
            read = subprocess.run(
                [sys.executable, "-c", READER, str(folder), subject],
                check=True,
                capture_output=True,
                text=True,
            )
            assert int(read.stdout) == len(journal) + 1
            assert log.exists()
    store.close()


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
