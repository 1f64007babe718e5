"""Checks a database file as a whole: a backup, a copied store, what a restore is about to use."""

from dataclasses import dataclass
from pathlib import Path

from footexam.store import connect
from footexam.store.census import Census, check_file, take_census
from footexam.store.engine import database_told, make_engine
from footexam.store.errors import BAD_INPUT, broken_journal
from footexam.store.header import known_version
from footexam.store.verify import verify


@dataclass(frozen=True, slots=True)
class Checked:
    """A file that was found whole: the form of its database, and what it holds."""

    form: int
    census: Census


def check(file: Path, name: Path | None = None) -> Checked:
    """Walk every chain of a database file, and change nothing in it.

    `name` is what the file is called in sentences, when it is a copy of another. Raises
    KnownError with status 3: no store, newer, damaged, or an entry that is not as it was written.
    """
    name = name or file
    form = known_version(file, BAD_INPUT)
    engine = make_engine(file, connect.to_check)
    try:
        with database_told(name, BAD_INPUT), engine.connect() as connection:
            check_file(connection, name, BAD_INPUT)
            for broken in verify(connection).broken:
                raise broken_journal(name, broken.subject, broken.seq, BAD_INPUT)
            return Checked(form, take_census(connection))
    finally:
        engine.dispose()
