"""Brings an older database up to this version, behind a verified copy."""

from collections.abc import Callable
from itertools import count
from pathlib import Path

from sqlalchemy import Connection, Engine

from footexam.store.backup import Backup, back_up
from footexam.store.durable import make_private_folder
from footexam.store.engine import writing
from footexam.store.errors import CANNOT_WRITE, told
from footexam.store.layout import BACKUPS, DATABASE, VERSION

UPGRADES: dict[int, Callable[[Connection], None]] = {}
"""By the form it starts from: what makes the next form of it. There is none older so far."""


def upgrade(engine: Engine, folder: Path, form: int) -> Backup | None:
    """Bring a store from an older form to `VERSION`, all steps or none.

    The copy made before is never deleted by the program; None if there was nothing to do.
    Raises KnownError.
    """
    if form == VERSION:
        return None
    with told(folder, CANNOT_WRITE):
        make_private_folder(folder / BACKUPS)
        out = _free_name(folder / BACKUPS, form)
    made = back_up(engine, folder / DATABASE, out)
    with writing(engine, folder / DATABASE) as connection:
        for step in range(form, VERSION):
            UPGRADES[step](connection)
        connection.exec_driver_sql(f"PRAGMA user_version = {VERSION}")
    return made


def _free_name(folder: Path, form: int) -> Path:
    names = (folder / f"before-upgrade-of-form-{form}-{number}.backup" for number in count(1))
    return next(name for name in names if not name.exists())
