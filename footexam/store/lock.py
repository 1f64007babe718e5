"""One program per store: a lock file that says who has it open, and since when."""

import hashlib
import json
import os
import platform
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import IO

from footexam.store.errors import KnownError, told
from footexam.store.layout import LOCK
from footexam.store.oslock import try_lock, unlock

_TRIES = 10
_PAUSE_S = 0.02
"""Somebody who only asks who holds the lock has it for an instant."""


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a store open: name of the computer, process, and since when (UTC, ISO)."""

    host: str
    pid: int
    since: str
    machine: str = ""


class Lock:
    """A store held by this process, until `release` or until the process ends."""

    def __init__(self, file: IO[bytes]) -> None:
        self._file = file

    def release(self) -> None:
        """Let others open the store. The file stays: deleting it could split a lock in two."""
        # on a disk that fails, the end of the process gives the lock back
        with suppress(OSError):
            self._file.truncate(0)
            unlock(self._file)
        self._file.close()


def acquire(folder: Path) -> Lock:
    """Hold the store of a folder; what a process that ended left is taken over.

    Raises KnownError when another process on this computer has it open, when another computer
    is written down as having it open, and where the file system has no locks.
    """
    with told(folder):
        file = _open(folder)
    try:
        _hold(file, folder)
        _take_over(file, folder)
        with told(folder):
            _write(file, this_process())
    except BaseException:
        file.close()
        raise
    return Lock(file)


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold the store of a folder for a while; see `acquire`."""
    lock = acquire(folder)
    try:
        yield
    finally:
        lock.release()


def holder(folder: Path) -> Holder | None:
    """The living process of this computer that has the store open; None if there is none."""
    try:
        with (folder / LOCK).open("r+b") as file:
            if try_lock(file, shared=True):
                unlock(file)
                return None
            return _read(file)
    except OSError:
        return None


def this_process() -> Holder:
    """How this process signs a lock."""
    now = datetime.now(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
    return Holder(platform.node(), os.getpid(), now, _machine())


def _hold(file: IO[bytes], folder: Path) -> None:
    for _ in range(_TRIES):
        try:
            if try_lock(file):
                return
        except OSError as bad:
            raise KnownError("no-locks", folder, why=(bad.strerror or str(bad)).lower()) from bad
        time.sleep(_PAUSE_S)
    who = _read(file) or Holder(platform.node(), 0, "now")
    raise KnownError("held", folder, pid=who.pid, since=who.since)


def _take_over(file: IO[bytes], folder: Path) -> None:
    """Refuse what another computer has signed; what this one signed, its writer left behind."""
    left = _read(file)
    if left and not _is_here(left):
        raise KnownError("held-elsewhere", folder, lock=folder / LOCK, **asdict(left))


def _open(folder: Path) -> IO[bytes]:
    """The lock file, made if need be; never emptied by opening."""
    handle = os.open(folder / LOCK, os.O_RDWR | os.O_CREAT, 0o600)
    return os.fdopen(handle, "r+b", buffering=0)


def _read(file: IO[bytes]) -> Holder | None:
    """Who signed the lock; None if it is empty or not written to the end."""
    file.seek(0)
    try:
        parts = json.loads(file.read(4096))
        return Holder(
            str(parts["host"]), int(parts["pid"]), str(parts["since"]), str(parts["machine"])
        )
    except (ValueError, KeyError, TypeError):
        return None


def _write(file: IO[bytes], who: Holder) -> None:
    file.truncate(0)
    file.seek(0)
    file.write(json.dumps(asdict(who)).encode())
    os.fsync(file.fileno())


def _is_here(who: Holder) -> bool:
    """Whether a lock was signed on this computer: by name, or by mark if its name changed."""
    here = this_process()
    return who.host == here.host or (bool(here.machine) and who.machine == here.machine)


def _machine(place: Path = Path("/etc/machine-id")) -> str:
    """A mark of this installation that outlives a change of name; "" where there is none.

    Hashed, as the system asks of those who use it.
    """
    try:
        return hashlib.sha256(b"footexam" + place.read_bytes()).hexdigest()[:16]
    except OSError:
        return ""
