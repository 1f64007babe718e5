"""Bytes from files and to files: bounded reading, and writing that is whole or not at all."""

import errno
import os
import secrets
import sys
from contextlib import suppress
from pathlib import Path

from footexam.exchange.strict_json import LARGEST

INPUT = "-"
"""The name that stands for standard input."""


def read_bytes(name: str) -> bytes:
    """The first 5 MB and one byte of a file, or of standard input for `-`. Raises OSError."""
    if name != INPUT:
        with Path(name).open("rb") as file:
            return file.read(LARGEST + 1)
    if sys.stdin is None:  # closed by who started the program
        raise OSError(errno.EBADF, os.strerror(errno.EBADF))
    return sys.stdin.buffer.read(LARGEST + 1)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file by way of a part beside it: whole or not at all. Raises OSError.

    What is no file (a device, a pipe) is written to as it is, never replaced.
    """
    if path.exists() and not path.is_file():
        with path.open("wb") as device:
            device.write(data)
        return
    part = path.with_name(f".{secrets.token_hex(6)}.part")
    try:
        with part.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    """Make the new name durable where the system can; the bytes of the file already are."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def why(bad: OSError) -> str:
    """The reason of an OSError in the system's words, without the path."""
    return (bad.strerror or str(bad)).lower()
