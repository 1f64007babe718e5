"""A lock on an open file that the system gives back when its process ends, however it ends."""

import os
from importlib import import_module
from typing import IO, Any

_BEYOND = 1 << 30
"""Windows lets nobody read a locked byte: the one we lock lies behind all content."""


def try_lock(file: IO[bytes], shared: bool = False, system: str = os.name) -> bool:
    """Lock an open file; False if another holds it. OSError where there are no locks.

    Two shared locks may be held at once, except on Windows.
    """
    return _windows(file) if system == "nt" else _posix(file, shared)


def unlock(file: IO[bytes], system: str = os.name) -> None:
    """Give the lock back. Raises OSError."""
    if system == "nt":
        msvcrt: Any = import_module("msvcrt")
        file.seek(_BEYOND)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)
    else:
        fcntl: Any = import_module("fcntl")
        fcntl.flock(file.fileno(), fcntl.LOCK_UN)


def _posix(file: IO[bytes], shared: bool) -> bool:
    fcntl: Any = import_module("fcntl")
    kind = fcntl.LOCK_SH if shared else fcntl.LOCK_EX
    try:
        fcntl.flock(file.fileno(), kind | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _windows(file: IO[bytes]) -> bool:
    msvcrt: Any = import_module("msvcrt")
    file.seek(_BEYOND)
    try:
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    except PermissionError:
        return False
    return True
