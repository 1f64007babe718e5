"""Puts a document where somebody wants it: a file of their choice, or the system's viewer.

What is handed to the viewer lies in a folder that only the user can read, and is removed again.
"""

import os
import secrets
import shutil
import time
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices

from footexam.settings import data_dir

_FOLDER = "viewer"
_OLD_S = 24 * 3600.0
"""Age from which what an earlier run left behind is removed."""


def write_private(path: Path, data: bytes) -> None:
    """Write a file that only its owner can read, whole or not at all. Raises OSError."""
    part = path.with_name(f".{secrets.token_hex(6)}.part")
    try:
        with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def safe_name(name: str) -> str:
    """A file name for a document from letters, digits, dots and dashes; `document.pdf` if none."""
    kept = "".join(char for char in name if char.isalnum() or char in "-_. ").strip(" .")
    stem = kept.removesuffix(".pdf")[:80].strip(" .")
    return f"{stem or 'document'}.pdf"


class Viewer:
    """Hands documents to the system's viewer and removes them at the end."""

    def __init__(self) -> None:
        self._folder: Path | None = None

    def show(self, data: bytes, name: str) -> bool:
        """Open a document in the system's viewer; False if none opened it. Raises OSError."""
        path = self._made() / safe_name(name)
        write_private(path, data)
        return self.open(path)

    @classmethod
    def open(cls, path: Path) -> bool:
        """Ask the system to open a file."""
        return QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def _made(self) -> Path:
        """This run's own folder; what lies there from long ago is removed."""
        if self._folder is None or not self._folder.is_dir():
            root = data_dir() / "documents" / _FOLDER
            root.mkdir(parents=True, exist_ok=True, mode=0o700)
            _remove_old(root)
            self._folder = root / secrets.token_hex(6)
            self._folder.mkdir(mode=0o700)
        return self._folder

    def clear(self) -> None:
        """Remove what was handed over, as far as the system lets go of it."""
        if self._folder is not None:
            shutil.rmtree(self._folder, ignore_errors=True)
            self._folder = None


def _remove_old(root: Path) -> None:
    with suppress(OSError):
        for folder in root.iterdir():
            if time.time() - folder.stat().st_mtime > _OLD_S:
                shutil.rmtree(folder, ignore_errors=True)
