"""An older store is brought up behind a verified copy, all steps or none.

There is no older form yet: the way is tested with a form that is only called older.
"""

from pathlib import Path

import pytest
from sqlalchemy import Connection

from footexam.store import Store, header, upgrade
from footexam.store import store as store_module
from footexam.store.backup import census_of_copy
from footexam.store.header import known_version
from footexam.store.layout import BACKUPS, DATABASE
from tests.store.builders import new_patient, refused


@pytest.fixture
def older(store: Store, monkeypatch: pytest.MonkeyPatch) -> str:
    """A closed store of form 1, while the program knows form 3; the id of its patient."""
    subject = new_patient(store, "Older")
    store.close()
    for module in (header, upgrade, store_module):
        monkeypatch.setattr(module, "VERSION", 3)
    return subject


def add_table(connection: Connection) -> None:
    connection.exec_driver_sql("CREATE TABLE added (x)")


def fill_table(connection: Connection) -> None:
    connection.exec_driver_sql("INSERT INTO added VALUES (1)")


def test_steps_run_in_order_behind_a_copy(
    folder: Path, older: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(upgrade, "UPGRADES", {1: add_table, 2: fill_table})
    with Store.open(folder) as store:
        assert store.patient(older).family_name == "Older"
        census = store.census()
    assert known_version(folder / DATABASE) == 3
    (copy,) = (folder / BACKUPS).iterdir()
    assert copy.name == "before-upgrade-of-form-1-1.backup"
    assert known_version(copy) == 1
    assert census_of_copy(copy) == census
    Store.open(folder).close()
    assert len(list((folder / BACKUPS).iterdir())) == 1


def test_a_step_that_fails_leaves_the_older_store(
    folder: Path, older: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(upgrade, "UPGRADES", {1: fill_table, 2: add_table})  # the wrong way round
    for _ in range(2):
        with pytest.raises(Exception, match="no such table"):
            Store.open(folder)
    assert known_version(folder / DATABASE) == 1
    monkeypatch.setattr(upgrade, "UPGRADES", {1: add_table, 2: fill_table})
    with Store.open(folder) as store:
        assert store.patient(older).family_name == "Older"
    names = sorted(one.name for one in (folder / BACKUPS).iterdir())
    assert names == [f"before-upgrade-of-form-1-{number}.backup" for number in (1, 2, 3)]


def test_without_a_copy_nothing_is_upgraded(
    folder: Path, older: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(upgrade, "UPGRADES", {1: add_table, 2: fill_table})
    monkeypatch.setattr("footexam.store.backup.move_whole", full)
    with refused("disk-full"):
        Store.open(folder)
    assert older
    assert known_version(folder / DATABASE) == 1


def test_a_reader_waits_for_the_upgrade(folder: Path, older: str) -> None:
    with refused("older"):
        Store.read(folder)
    assert older
