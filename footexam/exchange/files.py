"""Bytes from files and to files: bounded reading, and writing that is whole or not at all."""

import os
import sys
import tempfile
from pathlib import Path

from footexam.exchange.strict_json import LARGEST


def read_bytes(name: str) -> bytes:
    """The first 5 MB and one byte of a file, or of standard input for `-`. Raises OSError."""
    if name == "-":
        return sys.stdin.buffer.read(LARGEST + 1)
    with Path(name).open("rb") as file:
        return file.read(LARGEST + 1)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file by way of a part beside it: whole or not at all. Raises OSError."""
    handle, part = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(part).replace(path)
    except OSError:
        Path(part).unlink(missing_ok=True)
        raise


def why(bad: OSError) -> str:
    """The reason of an OSError in the system's words, without the path."""
    return (bad.strerror or str(bad)).lower()
