"""Ends a process at every single line of a deed in turn, and checks what is left.

Run by test_crash.py with a step, by hand for every line: python crash.py DEED FOLDER [STEP];
prints how many lines the deed has. The process ends as by a power switch as far as Python goes:
no cleanup runs. What the system had not yet written to the disk is not lost, though: a power cut
is not tested.
"""

import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

from footexam.store import KnownError, Store, restore
from footexam.store.backup import backups, census_of_copy
from footexam.store.census import Census
from footexam.store.layout import BACKUPS, DATABASE, SET_ASIDE
from tests.store.builders import more, new_patient, reading

_TRACED = ("restoring", "durable", "making", "backup", "lock", "connect", "index", "upgrade")
_CRASHED, _DONE = 99, 0
_NOT_OPEN = {"not-a-store", "unfinished"}


def crash_at(line: int, deed: Callable[[], object]) -> bool:
    """Do a deed in a child process that ends at its so-maniest line; whether it came so far."""
    child = os.fork()
    if child == 0:
        left = line

        def trace(frame: FrameType, event: str, _: Any) -> Any:
            nonlocal left
            if Path(frame.f_code.co_filename).stem not in _TRACED:
                return None
            if event == "line":
                left -= 1
                if left == 0:
                    os._exit(_CRASHED)
            return trace

        sys.settrace(trace)
        deed()
        sys.settrace(None)
        os._exit(_DONE)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    assert status in {_CRASHED, _DONE}, status
    return status == _CRASHED


def census(folder: Path) -> Census | str:
    """What the store holds when it is opened, or the code of why it cannot be."""
    try:
        with Store.open(folder) as store:
            assert store.verify().whole
            return store.census()
    except KnownError as bad:
        return bad.code


class Creation:
    """Making a store: there is none, or a whole one."""

    def __init__(self, place: Path) -> None:
        self.folder = place / "store"

    def prepare(self) -> None:
        shutil.rmtree(self.folder, ignore_errors=True)

    def deed(self) -> None:
        Store.create(self.folder).close()

    def check(self) -> None:
        found = census(self.folder)
        if isinstance(found, str):
            assert found == "no-store", found
            self.deed()


class Closing:
    """A copy at close: every copy under its name is whole, and seven are there."""

    def __init__(self, place: Path) -> None:
        self._template, self.folder = place / "template", place / "store"
        with Store.create(self._template) as store:
            subject = new_patient(store, "Kept")
            for _ in range(7):
                more(store, subject, reading())
                store.back_up_at_close()
            more(store, subject, reading())
            self._held = store.census()

    def prepare(self) -> None:
        shutil.rmtree(self.folder, ignore_errors=True)
        shutil.copytree(self._template, self.folder)

    def deed(self) -> None:
        with Store.open(self.folder) as store:
            store.back_up_at_close()

    def check(self) -> None:
        copies = backups(self.folder / BACKUPS)
        counts = [census_of_copy(copy).entries for copy in copies]
        assert counts[-7:] == list(range(self._held.entries - 6, self._held.entries + 1)) or (
            counts == list(range(self._held.entries - 7, self._held.entries))
        ), counts
        assert census(self.folder) == self._held
        self.deed()
        assert census_of_copy(backups(self.folder / BACKUPS)[-1]) == self._held


class Restoring:
    """A restore over a whole store: the old one opens or the new one does, and the old is kept."""

    harm = False

    def __init__(self, place: Path) -> None:
        self._template, self.folder, self._file = place / "template", place / "store", place / "b"
        with Store.create(self._template) as store:
            new_patient(store, "In both")
            self._new = store.back_up(self._file).census
            new_patient(store, "In the present one only")
            self._old = store.census()
        if self.harm:
            (self._template / DATABASE).write_bytes(b"damaged")
            (self._template / f"{DATABASE}-wal").write_bytes(b"perhaps precious")

    def prepare(self) -> None:
        shutil.rmtree(self.folder, ignore_errors=True)
        shutil.copytree(self._template, self.folder)

    def deed(self) -> None:
        restore(self.folder, self._file)

    def check(self) -> None:
        found = census(self.folder)
        assert found in {self._old, self._new}, found
        if found == self._new:
            self._check_kept()
        self.deed()
        assert census(self.folder) == self._new
        self._check_kept()

    def _check_kept(self) -> None:
        aside = (self.folder / SET_ASIDE).glob(f"*/{DATABASE}")
        assert self._old in [census_of_copy(one) for one in aside]


class RestoringDamaged(Restoring):
    """A restore over a damaged store: every byte of it is still somewhere."""

    harm = True

    def check(self) -> None:
        found = census(self.folder)
        assert found in {self._new, *_NOT_OPEN}, found
        self._check_kept()
        self.deed()
        assert census(self.folder) == self._new
        self._check_kept()

    def _check_kept(self) -> None:
        for content in (b"damaged", b"perhaps precious"):
            files = [one for one in self.folder.rglob(f"{DATABASE}*") if one.is_file()]
            assert content in [one.read_bytes() for one in files], content


DEEDS = {
    "creation": Creation,
    "closing": Closing,
    "restoring": Restoring,
    "restoring-damaged": RestoringDamaged,
}


def main() -> None:
    deed = DEEDS[sys.argv[1]](Path(sys.argv[2]))
    step = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    line = 1 - step
    while True:
        line += step
        deed.prepare()
        crashed = crash_at(line, deed.deed)
        deed.check()
        if not crashed:
            break
    sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
