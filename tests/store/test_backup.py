"""Copies are compared with the store before they get their name; the last seven are kept."""

import os
import sqlite3
import stat
from pathlib import Path
from typing import Any

import pytest

from footexam.store import Store, backup, connect
from footexam.store.backup import backups, census_of_copy
from footexam.store.layout import BACKUPS, DATABASE
from tests.store.builders import more, new_examination, new_patient, reading, refused


@pytest.fixture
def filled(store: Store) -> Store:
    for number in range(40):
        new_examination(store, new_patient(store, f"Family{number}", "Ann", str(number)))
    return store


def test_a_copy_holds_what_the_store_holds(filled: Store, tmp_path: Path) -> None:
    out = tmp_path / "copy of the store"
    made = filled.back_up(out)
    assert made.census == filled.census() == census_of_copy(out)
    assert (made.path, made.size, made.fresh) == (out, out.stat().st_size, True)
    assert sorted(one.name for one in tmp_path.iterdir()) == ["copy of the store", "store"]
    if os.name == "posix":
        assert stat.S_IMODE(out.stat().st_mode) == 0o600


def test_a_copy_is_made_beside_a_window_that_writes(filled: Store, tmp_path: Path) -> None:
    with Store.read(filled.folder) as beside:
        made = beside.back_up(tmp_path / "copy")
    assert made.census == filled.census()


def test_what_is_written_during_the_copy_does_not_disturb_it(
    filled: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = filled.census()
    real = backup._pour

    def write_first(*parts: Any) -> None:
        new_patient(filled, "Meanwhile")
        real(*parts)

    monkeypatch.setattr(backup, "_pour", write_first)
    with Store.read(filled.folder) as beside:
        assert beside.back_up(tmp_path / "copy").census == before
    assert filled.census() != before


def test_a_name_that_is_taken(filled: Store, tmp_path: Path) -> None:
    out = tmp_path / "taken"
    out.write_text("mine")
    with refused("output-exists") as caught:
        filled.back_up(out)
    assert caught.value.status == 6
    assert out.read_text() == "mine"
    with refused("output-exists"):
        filled.back_up(filled.folder / DATABASE)


def test_a_folder_that_is_not_there(filled: Store, tmp_path: Path) -> None:
    with refused("cannot-open") as caught:
        filled.back_up(tmp_path / "none" / "copy")
    assert caught.value.status == 6


def test_what_a_crash_left_is_replaced(filled: Store, tmp_path: Path) -> None:
    (tmp_path / "copy.part").write_bytes(b"half")
    filled.back_up(tmp_path / "copy")
    assert not (tmp_path / "copy.part").exists()


def test_a_full_disk(filled: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = connect.to_fill

    def small(path: Path) -> sqlite3.Connection:
        connection = real(path)
        connection.execute("PRAGMA max_page_count = 10")
        return connection

    monkeypatch.setattr(connect, "to_fill", small)
    with refused("disk-full") as caught:
        filled.back_up(tmp_path / "copy")
    assert caught.value.status == 6
    assert [one.name for one in tmp_path.iterdir()] == ["store"]
    assert filled.verify().whole


def test_a_disk_that_is_full_when_the_copy_is_synced(
    filled: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        monkeypatch.setattr(Path, "unlink", full)  # and the part cannot be taken away either
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backup, "move_whole", full)
    with refused("disk-full"):
        filled.back_up(tmp_path / "copy")
    monkeypatch.undo()
    assert not (tmp_path / "copy").exists()


@pytest.mark.parametrize(
    ("harm", "why"),
    [
        ("DELETE FROM journal WHERE rowid = 5", "entries, 280 in the store"),
        ("PRAGMA user_version = 9", "read back"),
        ("DELETE FROM subject", "read back"),
    ],
)
def test_a_copy_that_is_not_the_same_is_taken_away(
    filled: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, harm: str, why: str
) -> None:
    def harmful(source: sqlite3.Connection, copy: sqlite3.Connection, _: Path) -> None:
        source.backup(copy)
        copy.execute("PRAGMA foreign_keys = OFF")
        for trigger in ("journal_no_delete", "subject_no_delete"):
            copy.execute(f"DROP TRIGGER {trigger}")
        copy.execute(harm)

    monkeypatch.setattr(backup, "_pour", harmful)
    with refused("copy-differs") as caught:
        filled.back_up(tmp_path / "copy")
    assert why in str(caught.value)
    assert caught.value.status == 6
    assert [one.name for one in tmp_path.iterdir()] == ["store"]


@pytest.mark.parametrize(("old", "new"), [(b"Family7", b"Family8"), (b"Ann", b"\xff\xfe\xfd")])
def test_a_copy_in_which_one_letter_is_wrong_is_taken_away(
    filled: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, old: bytes, new: bytes
) -> None:
    real = backup._compare

    def flipped(part: Path, *rest: Any) -> None:
        data = part.read_bytes()
        entry = data.index(b'"is":"' + old) + 6
        part.write_bytes(data[:entry] + new + data[entry + len(new) :])
        real(part, *rest)

    monkeypatch.setattr(backup, "_compare", flipped)
    with refused("copy-differs"):
        filled.back_up(tmp_path / "copy")
    assert [one.name for one in tmp_path.iterdir()] == ["store"]


def test_a_damaged_store_is_told_as_such(
    filled: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Source:
        def backup(self, _: object) -> None:
            bad = sqlite3.DatabaseError("database disk image is malformed")
            bad.sqlite_errorcode = sqlite3.SQLITE_CORRUPT
            raise bad

    monkeypatch.setattr(backup, "plain", lambda _: Source())
    with refused("damaged") as caught:
        filled.back_up(tmp_path / "copy")
    assert str(filled.folder / DATABASE) in str(caught.value)
    assert caught.value.status == 4


def test_the_last_seven_are_kept(store: Store, folder: Path) -> None:
    subject = new_patient(store, "Kept")
    for number in range(1, 11):
        more(store, subject, reading())
        made = store.back_up_at_close()
        assert made.path == folder / BACKUPS / f"footexam-{number:06}.backup"
    kept = [f"footexam-{number:06}.backup" for number in range(4, 11)]
    assert [one.name for one in backups(folder / BACKUPS)] == kept


def test_other_files_are_left_alone_and_numbers_go_on(store: Store, tmp_path: Path) -> None:
    place = tmp_path / "elsewhere"
    place.mkdir()
    others = ["footexam-000002.backup.part", "footexam-7.backup", "holiday.backup", "notes.txt"]
    for name in (*others, "footexam-000041.backup"):
        (place / name).touch()
    assert store.back_up_at_close(place).path.name == "footexam-000042.backup"
    assert set(others) <= {one.name for one in place.iterdir()}


def test_no_copy_is_made_when_nothing_has_changed(store: Store, folder: Path) -> None:
    new_patient(store, "Same")
    first = store.back_up_at_close()
    again = store.back_up_at_close()
    assert (again.path, again.census, again.fresh) == (first.path, first.census, False)
    assert len(backups(folder / BACKUPS)) == 1


def test_a_newest_copy_that_is_damaged_is_no_reason_to_make_none(store: Store) -> None:
    new_patient(store, "Same")
    first = store.back_up_at_close()
    first.path.write_bytes(b"damaged")
    again = store.back_up_at_close()
    assert again.fresh
    assert again.path != first.path


def test_a_failed_copy_costs_no_older_one(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    subject = new_patient(store, "Kept")
    for _ in range(7):
        more(store, subject, reading())
        store.back_up_at_close()
    before = backups(folder / BACKUPS)
    more(store, subject, reading())

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backup, "move_whole", full)
    with refused("disk-full"):
        store.back_up_at_close()
    assert backups(folder / BACKUPS) == before


def test_no_folder_has_no_copies(tmp_path: Path) -> None:
    assert backups(tmp_path / "none") == []
