"""Finds patients by the words of the index and puts them in order; plain SQL, no library."""

import sqlite3
from collections.abc import Generator, Iterable, Sequence
from contextlib import closing
from itertools import islice

from footexam.store.folding import BORN, NUMBER, compact, spellings
from footexam.store.search import Token, bounds

_FEW = 900
"""Up to so many patients are fetched and sorted; of more, a page is soon met walking by name.

Below the number of values that every SQLite takes in one statement (999).
"""

_ALIKE = 3
"""Letters from the beginning of a name that make two names alike."""


def matching(connection: sqlite3.Connection, tokens: Iterable[Token]) -> set[int]:
    """The numbers of the patients that have, for each token, a word that begins so."""
    found: set[int] | None = None
    for token in tokens:
        numbers = _with_word(connection, (bounds(beginning) for beginning in token))
        found = numbers if found is None else found & numbers
        if not found:
            break
    return found or set()


def alike(connection: sqlite3.Connection, name: str, birth_date: str, number: str) -> set[int]:
    """Patients of one record number, or of one birth date and a like name; "" is never alike."""
    words = {word[:_ALIKE] for spelling in spellings(name) for word in spelling.split()}
    found = _same(connection, NUMBER, compact(number))
    born = _same(connection, BORN, birth_date)
    return found | (born & _with_word(connection, map(bounds, words)) if born else set())


def in_order(
    connection: sqlite3.Connection,
    numbers: set[int],
    tokens: Sequence[Token],
    limit: int,
    offset: int,
) -> list[int]:
    """Some of these patients by name, those whose family name begins with a token first."""
    beginnings = tuple(sorted({one for token in tokens for one in token}))
    if len(numbers) <= _FEW:
        return _sort(connection, numbers, beginnings)[offset : offset + limit]
    with closing(_walk(connection, beginnings)) as walk:
        return list(islice((one for one in walk if one in numbers), offset, offset + limit))


def _with_word(connection: sqlite3.Connection, ranges: Iterable[tuple[str, str]]) -> set[int]:
    select = "SELECT patient FROM patient_word WHERE word >= ? AND word < ?"
    return {number for between in ranges for (number,) in connection.execute(select, between)}


def _same(connection: sqlite3.Connection, kind: str, word: str) -> set[int]:
    select = "SELECT patient FROM patient_word WHERE word = ?"
    found = connection.execute(select, (kind + word,)) if word else ()
    return {number for (number,) in found}


def _sort(
    connection: sqlite3.Connection, numbers: set[int], beginnings: tuple[str, ...]
) -> list[int]:
    marks = ", ".join("?" * len(numbers))
    select = f"SELECT family_folded, given_folded, number FROM patient WHERE number IN ({marks})"  # noqa: S608 - question marks
    rows = connection.execute(select, tuple(numbers)).fetchall()
    rows.sort(key=lambda row: (not row[0].startswith(beginnings), *row))
    return [number for _, _, number in rows]


def _walk(connection: sqlite3.Connection, beginnings: tuple[str, ...]) -> Generator[int]:
    """All patients by name, those whose family name begins with one of the beginnings first."""
    met: set[int] = set()
    for beginning in beginnings:
        for number in _by_name(connection, *bounds(beginning)):
            if number not in met:
                met.add(number)
                yield number
    for number in _by_name(connection, *bounds("")):
        if number not in met:
            yield number


def _by_name(connection: sqlite3.Connection, low: str, high: str) -> Generator[int]:
    select = (
        "SELECT number FROM patient WHERE family_folded >= ? AND family_folded < ? "
        "ORDER BY family_folded, given_folded, number"
    )
    with closing(connection.execute(select, (low, high))) as rows:
        for (number,) in rows:
            yield number
