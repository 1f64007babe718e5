"""Keeps the parsed forms/ as JSON under the hash of their bytes; never trusted beyond that hash."""

import hashlib
import json
import os
import re
from collections.abc import Mapping
from contextlib import suppress
from decimal import Decimal
from pathlib import Path
from typing import Any

from footexam import __version__

_FORM = "2"
"""Rises when the layout of a cache file changes."""
_MARK = "\0"
_MARKED = re.compile(r'"\\u0000([-+.0-9E]+)"')


def digest(texts: Mapping[str, bytes]) -> str:
    """SHA-256 over names and bytes of all files and the version that read them, as hex."""
    seen = hashlib.sha256(f"{_FORM} {__version__}".encode())
    for name, data in texts.items():
        seen.update(f"{name}\0{len(data)}\0".encode())
        seen.update(data)
    return seen.hexdigest()


def load(folder: Path, key: str) -> Mapping[str, Mapping[str, Any]] | None:
    """The parsed files kept under `key`; None if there are none or they are damaged."""
    try:
        check, _, body = _file(folder, key).read_bytes().partition(b"\n")
    except OSError:
        return None
    if hashlib.sha256(body).hexdigest().encode() != check:
        return None
    trees: dict[str, dict[str, Any]] = json.loads(body, parse_float=Decimal)
    return trees


def save(folder: Path, key: str, trees: Mapping[str, Any]) -> None:
    """Keep the parsed files; a folder that cannot be written just stays without a cache.

    Without blanks and in ASCII, which json reads a third faster than the same with dashes in it.
    """
    body = _digits(json.dumps(trees, separators=(",", ":"), default=_decimal)).encode()
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        _write(_file(folder, key), hashlib.sha256(body).hexdigest().encode() + b"\n" + body)
        for old in folder.glob("forms-*.json"):
            if old != _file(folder, key):
                old.unlink()


def _write(path: Path, data: bytes) -> None:
    """By way of a part, so that a second program never reads half a cache."""
    part = path.with_suffix(f".{os.getpid()}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def _decimal(value: object) -> str:
    """A Decimal, marked; json has no way to write one with the digits that it has."""
    return f"{_MARK}{value}"


def _digits(body: str) -> str:
    """Marked Decimals as bare numbers, idle zeros included."""
    return _MARKED.sub(r"\1", body)


def _file(folder: Path, key: str) -> Path:
    return folder / f"forms-{key[:32]}.json"
