"""What the command line does with the store: examinations by id, backup, restore, the window."""

import os
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from footexam.store.layout import STORED, default_folder

if TYPE_CHECKING:
    from footexam.record.examination import Examination
    from footexam.store.backup import Backup
    from footexam.store.restoring import Restored


def add_store(parser: ArgumentParser) -> None:
    """The option that names another store than the user's."""
    parser.add_argument("--store", metavar="DIR", default=SUPPRESS, help="the folder of the store")


def folder_of(options: Namespace) -> Path:
    """The folder of the store that is meant."""
    return Path(options.store) if hasattr(options, "store") else default_folder()


def examination_in(folder: Path, name: str) -> "Examination":
    """An examination of the store by `store:ID`, also beside an open window. Raises KnownError."""
    from footexam.store import Store

    with Store.read(folder) as store:
        return store.examination(name.removeprefix(STORED))


def before_in(folder: Path, name: str) -> "Examination | None":
    """The patient's latest earlier examination in the store. Raises KnownError."""
    from footexam.store import Store

    with Store.read(folder) as store:
        return store.earlier(name.removeprefix(STORED))


def visits_before_in(folder: Path, name: str) -> "tuple[Examination, ...]":
    """All earlier examinations of the patient in the store, oldest first. Raises KnownError."""
    from footexam.store import Store

    with Store.read(folder) as store:
        return store.visits_before(name.removeprefix(STORED))


def signed_document(folder: Path, name: str) -> bytes | None:
    """The report as it was signed last; None where nothing is signed, or was changed since."""
    from footexam.store import Store
    from footexam.store.signed import as_signed

    with Store.read(folder) as store:
        found = as_signed(store, f"examination:{name.removeprefix(STORED)}")
        return found.document if found is not None else None


def back_up(folder: Path, out: Path) -> "Backup":
    """A verified copy of the store, also beside an open window. Raises KnownError."""
    from footexam.store import Store

    with Store.read(folder) as store:
        return store.back_up(out)


def restore_from(folder: Path, file: Path) -> "Restored":
    """Put a backup in the place of the store; the present one is set aside. Raises KnownError."""
    from footexam.store import restore

    return restore(folder, file)


def has_screen() -> bool:
    """Whether a window can be shown here."""
    if sys.platform in {"win32", "darwin"} or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def open_window(folder: Path, *, demo: bool = False) -> int:
    """Open the window and stay until it is closed. ImportError where Qt cannot be loaded."""
    from footexam.desktop.app import run

    return run([], folder=folder, demo=demo)
