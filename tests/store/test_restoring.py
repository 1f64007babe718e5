"""A restore checks first, sets the present store aside, and changes it in one step."""

import os
import shutil
import sqlite3
import stat
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from footexam.store import Store, places, restore, restoring
from footexam.store.backup import census_of_copy
from footexam.store.layout import DATABASE, RESTORED, SET_ASIDE
from footexam.store.quick_list import PatientList
from tests.store.builders import new_patient, refused, tamper


@pytest.fixture
def backup(store: Store, tmp_path: Path) -> Path:
    """A copy of a store that has grown since, and is closed."""
    new_patient(store, "Both")
    out = store.back_up(tmp_path / "backup").path
    new_patient(store, "Present")
    store.close()
    return out


def families(folder: Path) -> list[str]:
    with PatientList(folder) as patients:
        return [row.family_name for row in patients.first().rows]


def test_a_backup_replaces_the_store_which_is_set_aside(folder: Path, backup: Path) -> None:
    before = backup.read_bytes()
    done = restore(folder, backup)
    assert families(folder) == ["Both"]
    assert (done.census.subjects, done.before and done.before.subjects) == (1, 2)
    assert done.set_aside is not None
    assert census_of_copy(done.set_aside / DATABASE) == done.before
    assert backup.read_bytes() == before
    assert sorted(one.name for one in folder.iterdir()) == [SET_ASIDE, DATABASE, "store.lock"]
    with Store.open(folder) as store:
        assert store.census() == done.census
        assert store.verify().whole
    if os.name == "posix":
        assert stat.S_IMODE((folder / DATABASE).stat().st_mode) == 0o600


def test_a_restore_can_be_taken_back(folder: Path, backup: Path) -> None:
    first = restore(folder, backup)
    assert first.set_aside is not None
    second = restore(folder, first.set_aside / DATABASE)
    assert families(folder) == ["Both", "Present"]
    assert second.set_aside != first.set_aside
    assert second.census == first.before


def test_into_a_folder_that_holds_none(tmp_path: Path, backup: Path) -> None:
    done = restore(tmp_path / "new" / "store", backup)
    assert (done.before, done.set_aside) == (None, None)
    assert families(tmp_path / "new" / "store") == ["Both"]


def test_a_copied_store_with_its_log(store: Store, folder: Path, tmp_path: Path) -> None:
    new_patient(store, "In the log")
    other = tmp_path / "other"
    other.mkdir()
    for name in (DATABASE, f"{DATABASE}-wal"):
        shutil.copy(folder / name, other / name)
    store.close()
    restore(folder, other / DATABASE)
    assert families(folder) == ["In the log"]
    assert sorted(one.name for one in other.iterdir()) == [DATABASE, f"{DATABASE}-wal"]


def test_an_open_store_is_not_replaced(folder: Path, backup: Path) -> None:
    with Store.open(folder) as store:
        with refused("held") as caught:
            restore(folder, backup)
        assert caught.value.status == 4
        assert store.census().subjects == 2
    with closing(PatientList(folder)) as patients:  # a list alone counts as well
        assert patients.first().rows
        patients._connection.execute("BEGIN")
        patients.count()
        with refused("busy"):
            restore(folder, backup)
    assert families(folder) == ["Both", "Present"]
    assert not (folder / SET_ASIDE).exists()
    assert not (folder / RESTORED).exists()


@pytest.mark.parametrize(
    ("content", "code"), [(b"", "file-empty"), (b"not a database" * 20, "not-a-store")]
)
def test_what_is_no_backup(folder: Path, backup: Path, content: bytes, code: str) -> None:
    backup.write_bytes(content)
    with refused(code) as caught:
        restore(folder, backup)
    assert caught.value.status == 3
    assert families(folder) == ["Both", "Present"]


def test_no_file(folder: Path, backup: Path) -> None:
    with refused("cannot-open") as caught:
        restore(folder, backup.with_name("none"))
    assert caught.value.status == 3


def test_a_newer_backup(folder: Path, backup: Path) -> None:
    with closing(sqlite3.connect(backup)) as connection:
        connection.execute("PRAGMA user_version = 2")
    with refused("newer") as caught:
        restore(folder, backup)
    assert caught.value.status == 3


def test_a_truncated_backup(folder: Path, backup: Path) -> None:
    data = backup.read_bytes()
    backup.write_bytes(data[: len(data) // 2])
    with refused("damaged") as caught:
        restore(folder, backup)
    assert (caught.value.status, str(backup) in str(caught.value)) == (3, True)
    assert families(folder) == ["Both", "Present"]
    assert not (folder / RESTORED).exists()


def test_a_backup_whose_chain_does_not_hold(folder: Path, backup: Path, tmp_path: Path) -> None:
    place = tmp_path / "changed"
    place.mkdir()
    shutil.copy(backup, place / DATABASE)
    tamper(place, "UPDATE journal SET text = replace(text, 'Both', 'Bath') WHERE sequence = 1")
    with refused("broken-journal") as caught:
        restore(folder, place / DATABASE)
    assert caught.value.status == 3
    assert families(folder) == ["Both", "Present"]


def test_a_place_that_is_refused(
    folder: Path, backup: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(places, "file_system", lambda _: "nfs4")
    with refused("network"):
        restore(folder, backup)


@pytest.mark.parametrize("content", [b"", b"garbage" * 1000, None])
def test_a_damaged_store_is_set_aside_as_it_is(
    folder: Path, backup: Path, content: bytes | None
) -> None:
    if content is None:  # its pages are damaged, not its head
        data = bytearray((folder / DATABASE).read_bytes())
        data[4096:] = b"\xa5" * (len(data) - 4096)
        content = bytes(data)
    (folder / DATABASE).write_bytes(content)
    (folder / f"{DATABASE}-journal").write_bytes(b"perhaps precious")
    if content[:6] == b"SQLite":
        (folder / f"{DATABASE}-journal").unlink()
    done = restore(folder, backup)
    assert done.before is None
    assert done.set_aside is not None
    kept = (done.set_aside / DATABASE).read_bytes()
    assert kept[100:] == content[100:]  # the head may say now that there is no log beside it
    assert len(kept) == len(content)
    assert families(folder) == ["Both"]
    if content[:6] != b"SQLite":
        assert (done.set_aside / f"{DATABASE}-journal").read_bytes() == b"perhaps precious"
    assert not (folder / f"{DATABASE}-journal").exists()


def test_where_files_have_one_name_only(
    folder: Path, backup: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    done = restore(folder, backup)
    assert done.set_aside is not None
    assert census_of_copy(done.set_aside / DATABASE) == done.before


@pytest.mark.parametrize("step", ["_fetch", "_settle", "_set_aside", "move_whole"])
def test_a_full_disk_at_any_step_leaves_the_present_store(
    folder: Path, backup: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    real = getattr(restoring, step)

    def full(*parts: Any, **named: Any) -> None:
        if step == "_fetch":  # in the middle of copying
            monkeypatch.setattr(restoring, "_pour", lambda *_: full_disk())
            real(*parts, **named)
        full_disk()

    def full_disk() -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(restoring, step, full)
    with pytest.raises(Exception, match=r"full|No space"):
        restore(folder, backup)
    monkeypatch.undo()
    assert families(folder) == ["Both", "Present"]
    restore(folder, backup)
    assert families(folder) == ["Both"]


def test_a_file_that_cannot_be_read_to_its_end(
    folder: Path, backup: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Failing:
        def read(self, _: int) -> bytes:
            raise OSError(5, "Input/output error")

    real = restoring._pour
    monkeypatch.setattr(restoring, "_pour", lambda _, *rest: real(Failing(), *rest))
    with refused("disk-fault") as caught:
        restore(folder, backup)
    assert str(backup) in str(caught.value)
    assert caught.value.status == 3
    assert families(folder) == ["Both", "Present"]
