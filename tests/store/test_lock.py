"""One program per store; what a program that died left behind is taken over."""

import json
import os
import platform
import subprocess
import sys
import threading
from io import BytesIO
from pathlib import Path
from types import SimpleNamespace
from typing import IO

import pytest

from footexam.store import KnownError, Store, lock, oslock
from footexam.store.layout import LOCK
from footexam.store.lock import Holder, acquire, holder, locked, this_process
from tests.store.builders import refused

HOLD = (
    "import sys, time; from pathlib import Path; from footexam.store.lock import acquire\n"
    "lock = acquire(Path(sys.argv[1])); print('held', flush=True); time.sleep(60)"
)


@pytest.fixture
def other(tmp_path: Path) -> "subprocess.Popen[str]":
    """Another process that holds the lock of tmp_path."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "held\n"
    yield process
    process.kill()
    process.wait()
    process.stdout.close()


def test_a_second_program_is_told_who_has_it(
    tmp_path: Path, other: "subprocess.Popen[str]"
) -> None:
    with refused("held") as caught:
        acquire(tmp_path)
    assert f"process {other.pid}" in str(caught.value)
    found = holder(tmp_path)
    assert found is not None
    assert (found.pid, found.host) == (other.pid, platform.node())


def test_what_a_killed_program_left_is_taken_over(
    tmp_path: Path, other: "subprocess.Popen[str]"
) -> None:
    other.kill()
    other.wait()
    assert holder(tmp_path) is None
    assert f'"pid": {other.pid}' in (tmp_path / LOCK).read_text()
    with locked(tmp_path):
        assert json.loads((tmp_path / LOCK).read_text())["pid"] == os.getpid()


def test_a_lock_that_was_given_back_is_free(tmp_path: Path) -> None:
    with locked(tmp_path):
        with refused("held"):
            acquire(tmp_path)
        found = holder(tmp_path)
        assert found is not None
        assert found.pid == os.getpid()
    assert (tmp_path / LOCK).read_bytes() == b""
    assert holder(tmp_path) is None
    acquire(tmp_path).release()


def test_a_lock_on_a_failing_disk_is_let_go(tmp_path: Path) -> None:
    held = acquire(tmp_path)
    held._file.close()  # nothing can be written any more
    with pytest.raises(ValueError, match="closed"):
        held.release()
    held = acquire(tmp_path)

    class Failing:
        closed = False

        def truncate(self, _: int) -> None:
            raise OSError(5, "Input/output error")

        def close(self) -> None:
            self.closed = True

    file, held._file = held._file, Failing()
    held.release()
    assert held._file.closed
    file.close()
    acquire(tmp_path).release()


def test_nobody_holds_what_is_not_there(tmp_path: Path) -> None:
    assert holder(tmp_path / "none") is None


@pytest.mark.skipif(os.name == "nt", reason="no permission bits")
def test_the_lock_is_private(tmp_path: Path) -> None:
    acquire(tmp_path).release()
    assert (tmp_path / LOCK).stat().st_mode & 0o777 == 0o600


def signed(folder: Path, **changes: object) -> None:
    parts = {"host": "elsewhere", "pid": 7, "since": "2026-03-04T10:00:00Z", "machine": "m"}
    (folder / LOCK).write_text(json.dumps({**parts, **changes}))


def test_a_lock_of_another_computer_is_refused_with_the_way_out(tmp_path: Path) -> None:
    signed(tmp_path)
    with refused("held-elsewhere") as caught:
        acquire(tmp_path)
    said = str(caught.value)
    assert "computer elsewhere (process 7, since 2026-03-04T10:00:00Z)" in said
    assert f"delete {tmp_path / LOCK}" in said
    (tmp_path / LOCK).unlink()
    acquire(tmp_path).release()


def test_a_computer_that_changed_its_name_knows_its_own_lock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = Holder("new-name", 5, "2026-03-04T10:00:00Z", "mark-of-this-computer")
    monkeypatch.setattr(lock, "this_process", lambda: here)
    signed(tmp_path, machine="mark-of-this-computer")
    acquire(tmp_path).release()
    signed(tmp_path, machine="mark-of-another")
    with refused("held-elsewhere"):
        acquire(tmp_path)


def test_computers_without_a_mark_are_not_taken_for_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "this_process", lambda: Holder("here", 5, "now", ""))
    signed(tmp_path, machine="")
    with refused("held-elsewhere"):
        acquire(tmp_path)


@pytest.mark.parametrize("content", ["", "{", "[]", "{}", '{"host": 1, "pid": "x"}', "\xff"])
def test_an_unreadable_lock_of_nobody_is_taken_over(tmp_path: Path, content: str) -> None:
    (tmp_path / LOCK).write_bytes(content.encode("latin-1"))
    acquire(tmp_path).release()


def test_somebody_who_only_looks_does_not_turn_a_program_away(tmp_path: Path) -> None:
    acquire(tmp_path).release()
    with (tmp_path / LOCK).open("r+b") as file:
        assert oslock.try_lock(file, shared=True)
        end = threading.Timer(0.05, oslock.unlock, [file])
        end.start()
        acquire(tmp_path).release()
        end.join()


def test_a_holder_that_has_not_signed_yet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lock, "_PAUSE_S", 0)
    (tmp_path / LOCK).touch()
    with (tmp_path / LOCK).open("r+b") as file:
        assert oslock.try_lock(file)
        with refused("held"):
            acquire(tmp_path)


def test_a_file_system_without_locks_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_locks(_: IO[bytes]) -> bool:
        raise OSError(38, "Function Not Implemented")

    monkeypatch.setattr(lock, "try_lock", no_locks)
    with refused("no-locks") as caught:
        acquire(tmp_path)
    assert "function not implemented" in str(caught.value)


def test_a_folder_that_cannot_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with refused("cannot-open"):
        acquire(tmp_path / "none")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with refused("disk-full"):
        acquire(tmp_path)
    monkeypatch.undo()
    acquire(tmp_path).release()


def test_the_mark_of_an_installation(tmp_path: Path) -> None:
    place = tmp_path / "machine-id"
    assert lock._machine(place) == ""
    place.write_text("secret")
    mark = lock._machine(place)
    assert len(mark) == 16
    assert "secret" not in mark
    assert this_process().machine == lock._machine()


class Msvcrt(SimpleNamespace):
    """As much of Windows' module as is used; remembers where it locked."""

    LK_NBLCK, LK_UNLCK = 2, 0

    def __init__(self, taken: bool) -> None:
        super().__init__(taken=taken, asked=[])

    def locking(self, handle: int, how: int, count: int) -> None:
        self.asked.append((handle, how, count))
        if self.taken:
            raise PermissionError


class File(BytesIO):
    def fileno(self) -> int:
        return 77


def test_locks_of_windows(monkeypatch: pytest.MonkeyPatch) -> None:
    for taken in (False, True):
        module, file = Msvcrt(taken), File()
        monkeypatch.setattr(oslock, "import_module", {"msvcrt": module}.get)
        assert oslock.try_lock(file, system="nt") is not taken
        assert module.asked == [(77, 2, 1)]
        assert file.tell() == 1 << 30  # behind all content: a locked byte cannot be read there
    module.taken = False
    oslock.unlock(file, system="nt")
    assert module.asked[-1] == (77, 0, 1)


def test_a_store_is_held_while_it_is_open(tmp_path: Path) -> None:
    folder = tmp_path / "store"
    with Store.create(folder):
        for opener in (Store.open, Store.create):
            with refused("held"):
                opener(folder)
        found = holder(folder)
        assert found is not None
        with Store.read(folder) as beside:
            assert beside.census().entries == 0
    assert holder(folder) is None


def test_two_starts_at_one_moment_leave_one(tmp_path: Path) -> None:
    won, lost, gate = [], [], threading.Barrier(8)

    def start() -> None:
        gate.wait()
        try:
            won.append(acquire(tmp_path))
        except KnownError as bad:
            lost.append(bad.code)

    threads = [threading.Thread(target=start) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(won) == 1
    assert lost == ["held"] * 7
    won[0].release()
