"""A store is made, opened, read beside a writer, and tells what it lacks."""

import os
import stat
from pathlib import Path

import pytest

from footexam.record.examination import Patient
from footexam.store import Store, durable, making
from footexam.store.layout import DATABASE, NEW, RESTORED, SET_ASIDE
from tests.store.builders import (
    begin,
    fact,
    more,
    new_examination,
    new_patient,
    reading,
    refused,
    tamper,
)


def test_a_new_store_is_private_and_whole(folder: Path) -> None:
    with Store.create(folder) as store:
        assert store.warnings == ()
        assert store.verify().whole
        assert store.last_written_at() == ""
        if os.name == "posix":
            files = [folder / DATABASE, folder / f"{DATABASE}-wal"]
            assert [stat.S_IMODE(one.stat().st_mode) for one in files] == [0o600, 0o600]
            assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert sorted(one.name for one in folder.iterdir()) == [DATABASE, "store.lock"]


@pytest.mark.skipif(os.name == "nt", reason="no permission bits")
def test_permissions_that_were_widened_are_narrowed(store: Store, folder: Path) -> None:
    store.close()
    (folder / DATABASE).chmod(0o666)
    folder.chmod(0o777)
    with Store.open(folder) as again:
        assert again.warnings == ()
    assert stat.S_IMODE((folder / DATABASE).stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_permissions_that_stay_wide_are_told(
    store: Store, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.close()
    monkeypatch.setattr("footexam.store.store.make_private", lambda *_: False)
    with Store.open(folder) as again:
        assert "able to read" in again.warnings[0]


def test_what_was_written_is_there_after_opening_again(store: Store, folder: Path) -> None:
    subject = new_examination(store, new_patient(store, "Again", "Ann", "7", "1979-08-30"))
    written = more(store, subject, reading())
    store.close()
    store.close()
    with Store.open(folder) as again:
        assert list(again.journal(subject))[-1:] == list(written)
        found = again.examination(subject)
        assert found == again.examination(subject.removeprefix("examination:"))
        assert found.patient == Patient("Again", "Ann", "", "7", "1979-08-30")
        assert found.version == 4


def test_a_patient_is_read_as_their_journal_folds(store: Store) -> None:
    subject = new_patient(store, "Family", "Given", "7", "1979")
    more(store, subject, fact("patient:given-names", "Other"))
    assert store.patient(subject) == Patient("Family", "Other", "", "7", "1979")


@pytest.mark.parametrize("kept", [0, 1, 2])
def test_an_examination_without_head_is_incomplete(store: Store, kept: int) -> None:
    facts = [
        fact("exam:patient", new_patient(store, "Whole")),
        fact("exam:examined-on", "2026-03-04"),
        fact("exam:examiner", {"name": "Examiner One"}),
    ]
    subject = store.new_subject("examination")
    begin(store, subject, *(one for place, one in enumerate(facts) if place != kept))
    with refused("incomplete"):
        store.examination(subject)


def test_an_examination_of_an_odd_patient_is_incomplete(store: Store) -> None:
    subject = new_examination(store, new_patient(store, "Whole"))
    more(store, subject, fact("exam:patient", {"odd": "fact"}))
    for ask in (store.examination, store.owner):
        with refused("incomplete"):
            ask(subject)


def test_the_owner_of_an_examination(store: Store) -> None:
    patient = new_patient(store, "Owner")
    subject = new_examination(store, patient)
    assert store.owner(subject) == patient
    assert store.owner(subject.removeprefix("examination:")) == patient


def test_what_is_not_there(store: Store) -> None:
    for ask in (store.journal, store.patient):
        with refused("no-subject"):
            ask("patient:none")
    with refused("no-subject"):
        store.examination("none")


def test_a_reader_beside_the_writer_sees_what_is_acknowledged(store: Store, folder: Path) -> None:
    with Store.read(folder) as beside:
        subject = new_patient(store, "Seen")
        assert beside.patient(subject).family_name == "Seen"
        with refused("read-only"):
            more(beside, subject, reading())
    assert len(store.journal(subject)) == 4


def test_no_store_to_open(folder: Path) -> None:
    for opener in (Store.open, Store.read):
        with refused("no-store"):
            opener(folder)
    assert not folder.exists()


@pytest.mark.parametrize("left", [RESTORED, f"{DATABASE}-wal", f"{SET_ASIDE}/2026-03-04-1/x"])
def test_what_a_broken_off_restore_left_is_not_hidden_by_a_new_store(
    folder: Path, left: str
) -> None:
    (folder / left).parent.mkdir(parents=True)
    (folder / left).touch()
    for opener in (Store.open, Store.read, Store.create):
        with refused("unfinished"):
            opener(folder)
    assert not (folder / DATABASE).exists()


def test_a_store_is_never_made_over_another(store: Store, folder: Path) -> None:
    subject = new_patient(store, "First")
    store.close()
    with refused("store-exists"):
        Store.create(folder)
    with Store.open(folder) as again:
        assert again.patient(subject).family_name == "First"


def test_what_a_crash_left_of_a_store_in_the_making_is_replaced(folder: Path) -> None:
    folder.mkdir()
    (folder / NEW).write_bytes(b"half")
    Store.create(folder).close()
    assert not (folder / NEW).exists()


def test_a_store_that_cannot_be_made_leaves_nothing_that_looks_like_one(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(making, "move_whole", full)
    with refused("disk-full"):
        Store.create(folder)
    assert not (folder / DATABASE).exists()
    monkeypatch.undo()
    Store.create(folder).close()


def test_a_folder_that_cannot_be_made(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(durable.Path, "mkdir", refuse)
    with refused("read-only") as caught:
        Store.create(folder)
    assert "read-only file system" in str(caught.value)


@pytest.mark.parametrize(
    ("statement", "what"),
    [
        ("DROP TABLE attachment", "attachment"),
        ("DROP TABLE fact", "fact"),
    ],
)
def test_a_store_without_a_table_is_damaged(
    store: Store, folder: Path, statement: str, what: str
) -> None:
    store.close()
    with making.connect.to_alter(folder / DATABASE) as connection:
        connection.execute(statement)
    connection.close()
    with refused("damaged") as caught:
        Store.open(folder)
    assert what in str(caught.value)


def test_a_store_without_a_rule_is_damaged(store: Store, folder: Path) -> None:
    store.close()
    with making.connect.to_alter(folder / DATABASE) as connection:
        connection.execute("DROP TRIGGER journal_no_update")
    connection.close()
    with refused("damaged") as caught:
        Store.open(folder)
    assert "journal_no_update" in str(caught.value)
    tamper(folder)
