"""Files that are on the disk before anything relies on them."""

import os
import sys
from importlib import import_module
from pathlib import Path
from typing import Any


def sync_file(path: Path) -> None:
    """Return when the content of a file is on the disk. Raises OSError."""
    handle = os.open(path, os.O_RDWR)
    try:
        _sync(handle, sys.platform)
    finally:
        os.close(handle)


def sync_folder(folder: Path, system: str = os.name) -> None:
    """Return when new and renamed files of a folder are on the disk. Raises OSError.

    Windows does it by itself and cannot be asked.
    """
    if system == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def move_whole(part: Path, target: Path) -> None:
    """Give a finished part its name in one step that a power cut cannot halve. Raises OSError.

    An existing target is replaced.
    """
    sync_file(part)
    part.replace(target)
    sync_folder(target.parent)


def make_private_folder(folder: Path) -> None:
    """Make a folder that only its owner can enter; its parents as the system makes them."""
    if not folder.is_dir():
        folder.parent.mkdir(parents=True, exist_ok=True)
        folder.mkdir(mode=0o700, exist_ok=True)
        sync_folder(folder.parent)


def make_private(path: Path, mode: int) -> bool:
    """Take reading and writing from everybody but the owner; whether it is so now.

    True on Windows, where a user's own folder is private by the access list it inherits.
    """
    if os.name == "nt":
        return True
    if path.stat().st_mode & 0o077:
        try:
            path.chmod(mode)
        except OSError:
            return False
    return not path.stat().st_mode & 0o077


def _sync(handle: int, platform: str) -> None:
    if platform == "darwin":
        # there fsync alone stops at the cache of the drive
        fcntl: Any = import_module("fcntl")
        fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
    else:
        os.fsync(handle)
