"""A file is checked as a whole, and not changed by it."""

import shutil
from pathlib import Path

from footexam.store import Store
from footexam.store.checking import Checked, check
from footexam.store.layout import DATABASE
from tests.store.builders import new_examination, new_patient, refused, tamper


def test_a_whole_backup(store: Store, tmp_path: Path) -> None:
    new_examination(store, new_patient(store, "Whole"))
    out = store.back_up(tmp_path / "out").path
    before = out.read_bytes()
    assert check(out) == Checked(1, store.census())
    assert out.read_bytes() == before


def test_a_store_that_is_open(store: Store, folder: Path) -> None:
    new_patient(store, "Whole")
    assert check(folder / DATABASE).census == store.census()


def test_a_broken_chain(store: Store, folder: Path, tmp_path: Path) -> None:
    subject = new_patient(store, "Whole")
    store.close()
    shutil.copytree(folder, tmp_path / "copy")
    tamper(tmp_path / "copy", "UPDATE journal SET at = 'never' WHERE sequence = 3")
    with refused("broken-journal") as caught:
        check(tmp_path / "copy" / DATABASE)
    assert f"ntry 3 of {subject}" in str(caught.value)
    assert caught.value.status == 3


def test_a_damaged_file_is_told_by_the_name_it_is_known_by(store: Store, tmp_path: Path) -> None:
    for number in range(20):
        new_patient(store, f"Family {number}")
    out = store.back_up(tmp_path / "out").path
    out.write_bytes(out.read_bytes()[:-4096])
    with refused("damaged") as caught:
        check(out, Path("the name"))
    assert "the name" in str(caught.value)
