"""The patient list, read with the standard library alone before anything else is loaded."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from footexam.store import connect
from footexam.store.errors import KnownError, told
from footexam.store.finding import alike, find
from footexam.store.header import known_version
from footexam.store.layout import DATABASE, INDEX_VERSION, VERSION
from footexam.store.search import meanings

PAGE = 50
"""How many patients a page shows."""

_ROW = (
    "SELECT subject, family_name, given_names, title, record_number, birth_date, sex, "
    "last_visit, in_error FROM patient WHERE number = ?"
)


@dataclass(frozen=True, slots=True)
class PatientRow:
    """A patient as the list shows them; what is not known is "".

    `birth_date` is YYYY-MM-DD, YYYY-MM or YYYY; `last_visit` YYYY-MM-DD. `in_error` marks a
    record that was made by mistake: it is shown, struck through.
    """

    subject: str
    family_name: str
    given_names: str
    title: str
    record_number: str
    birth_date: str
    sex: str
    last_visit: str
    in_error: bool


@dataclass(frozen=True, slots=True)
class Page:
    """Some patients, in order, and whether more follow."""

    rows: tuple[PatientRow, ...]
    more: bool = False


class PatientList:
    """The patients of a store; stays open beside the store and sees each new patient.

    To be used and closed in the thread that opened it, and closed before a restore.
    """

    def __init__(self, folder: Path) -> None:
        """Open the list. Raises KnownError, `older` and `index-behind` until `Store.open` ran."""
        self._path = folder / DATABASE
        if not self._path.exists():
            raise KnownError("no-store", folder)
        if known_version(self._path) < VERSION:
            raise KnownError("older", self._path)
        with told(self._path):
            self._connection = connect.to_read(self._path)
        try:
            self._check_index()
        except BaseException:
            self.close()
            raise

    def __enter__(self) -> "PatientList":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, bad: BaseException | None, at: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()

    def count(self) -> int:
        """How many patients there are. Raises KnownError."""
        with told(self._path):
            return int(self._connection.execute("SELECT count(*) FROM patient").fetchone()[0])

    def first(self, limit: int = PAGE, offset: int = 0) -> Page:
        """Patients by name. Raises KnownError."""
        return self._listed("family_folded, given_folded, number", limit, offset)

    def recent(self, limit: int = PAGE, offset: int = 0) -> Page:
        """Patients by their last visit, the latest first. Raises KnownError."""
        return self._listed("last_visit DESC, number DESC", limit, offset)

    def search(self, text: str, limit: int = PAGE, offset: int = 0) -> Page:
        """Patients that fit a search, those whose family name begins with it first.

        Names in either order, from the beginning of any of their words, accents aside; a record
        number from its beginning or that of its digits; a birth date as a clinic writes it
        (see `birth_dates`). Nothing typed: all patients. Raises KnownError.
        """
        if not text.strip():
            return self.first(limit, offset)
        with told(self._path):
            for tokens in meanings(text):
                found = find(self._connection, tokens, limit + 1, offset)
                if found:
                    return self._page(found, limit)
        return Page(())

    def like(
        self, family_name: str, given_names: str, birth_date: str, record_number: str = ""
    ) -> tuple[PatientRow, ...]:
        """Patients who may be the same person, to be asked about before a new one is made.

        The same record number; or the same birth date and a word of the name that begins with
        the same three letters, in either order of names. Raises KnownError.
        """
        with told(self._path):
            name = f"{family_name} {given_names}"
            found = alike(self._connection, name, birth_date, record_number)
            return self._page(found, len(found)).rows

    def _check_index(self) -> None:
        """The tables below are those this version reads. Raises KnownError."""
        with told(self._path):
            select = "SELECT value FROM fact WHERE name = 'index'"
            found = self._connection.execute(select).fetchall()
        if found != [(INDEX_VERSION,)]:
            raise KnownError("index-behind", self._path)

    def _listed(self, order: str, limit: int, offset: int) -> Page:
        select = f"SELECT number FROM patient ORDER BY {order} LIMIT ? OFFSET ?"  # noqa: S608 - ours
        with told(self._path):
            wanted = self._connection.execute(select, (limit + 1, offset)).fetchall()
            return self._page([number for (number,) in wanted], limit)

    def _page(self, numbers: Sequence[int], limit: int) -> Page:
        """The rows of up to `limit` patients; one number more says that more follow."""
        rows = tuple(self._row(number) for number in numbers[:limit])
        return Page(rows, more=len(numbers) > limit)

    def _row(self, number: int) -> PatientRow:
        row = self._connection.execute(_ROW, (number,)).fetchone()
        return PatientRow(*[*row[:-1], bool(row[-1])])
