"""What lies where in a store's folder, and the marks by which its database is known."""

from pathlib import Path

from footexam.settings import data_dir

DATABASE = "store.db"
BESIDE = ("-wal", "-shm", "-journal")
"""What the database engine may put beside a database, by the end of its name."""

NEW = "store.db.new"
"""A database that is being made; it becomes `store.db` when it is whole."""

RESTORED = "store.db.restored"
"""A database that is being restored; it becomes `store.db` when it is whole."""

LOCK = "store.lock"
BACKUPS = "backups"
SET_ASIDE = "set-aside"
"""What a restore replaced; never deleted by the program."""

DEMO_MARK = "FOOTEXAM-DEMO.txt"
"""Beside a store, or beside a file: everybody in it is invented."""

STORED = "store:"
"""An examination of the store is named `store:ID` where files are named."""

APPLICATION_ID = 0x666F6F74
"""Marks the file as ours ("foot"), at byte 68 of its header."""

VERSION = 1
"""Form of the database (`user_version`). A newer one is refused, an older one upgraded."""

INDEX_VERSION = "1"
"""Form of the index tables; any other form is thrown away and made again from the journals."""


def is_demo(place: Path) -> bool:
    """Whether a store, or a file, is that of a demo."""
    return (place.parent / DEMO_MARK).is_file()


def default_folder() -> Path:
    """The folder of the practice's store; not made by this call."""
    return data_dir() / "store"
