"""Finds patients by the words of the index and puts them in order; plain SQL, no library.

Two ways, the one that promises to be quicker: all that fit are fetched and sorted; or, where
many fit, a page of them is soon met by walking in the order of names. A walk that meets too few
in a bounded number of steps gives up, and they are fetched after all.
"""

import math
import sqlite3
from collections.abc import Iterable, Sequence
from contextlib import closing
from itertools import islice

from footexam.store.folding import BORN, NUMBER, compact, spellings
from footexam.store.search import Token, bounds

_LOOK_US, _FETCH_US, _STEP_US = 1.5, 4.0, 2.0
"""Measured with 100,000 patients, in microseconds: looking whether one of the rarest word fits
the other words too, fetching one that fits, and one step of a walk."""

_STEPS = 1500
"""After so many steps a walk gives up."""

_COUNTED = 30_000
"""Counting stops here: what is more frequent is not told apart."""

_ALIKE = 3
"""Letters from the beginning of a name that make two names alike."""

_NAME_ORDER = "family_folded, given_folded, number"
_RANGE = "(word >= ? AND word < ?)"


def find(
    connection: sqlite3.Connection, tokens: Sequence[Token], limit: int, offset: int
) -> list[int]:
    """Numbers of the patients that have, for each token, a word that begins so.

    By name, those first whose family name begins with a token; from `offset`, at most `limit`.
    """
    sizes = [_size(connection, token) for token in tokens]
    if _walking_is_quicker(connection, sizes, limit + offset):
        met = _walk(connection, tokens, limit + offset)
        if met is not None:
            return met[offset:]
    rarest = sizes.index(min(sizes))
    others = (*tokens[:rarest], *tokens[rarest + 1 :])
    return _fetch(connection, tokens[rarest], others, (limit, offset))


def alike(
    connection: sqlite3.Connection, name: str, birth_date: str, record_number: str
) -> list[int]:
    """Patients of one record number, or of one birth date and a like name; "" is like nothing."""
    words = {word[:_ALIKE] for spelling in spellings(name) for word in spelling.split()}
    number = compact(record_number)
    found = set(_with_word(connection, NUMBER + number)) if number else set()
    if birth_date and words:
        born = _with_word(connection, BORN + birth_date)
        found |= {one for one in born if _has(connection, one, tuple(words))}
    return sorted(found)


def _size(connection: sqlite3.Connection, token: Token) -> int:
    """How many words begin with a token, counted up to `_COUNTED`."""
    where, values = _ranges(token)
    query = f"SELECT count(*) FROM (SELECT 1 FROM patient_word WHERE {where} LIMIT {_COUNTED})"  # noqa: S608 - question marks and numbers
    return int(connection.execute(query, values).fetchone()[0])


def _walking_is_quicker(connection: sqlite3.Connection, sizes: list[int], wanted: int) -> bool:
    """Whether a page is likely met sooner by walking, if the words are spread evenly."""
    patients = connection.execute("SELECT max(number) FROM patient").fetchone()[0] or 1
    fitting = patients * math.prod(size / patients for size in sizes)
    fetching_us = _LOOK_US * min(sizes) + _FETCH_US * fitting
    return fitting > 0 and _STEP_US * wanted * patients / fitting < fetching_us


def _fetch(
    connection: sqlite3.Connection, token: Token, others: Sequence[Token], page: tuple[int, int]
) -> list[int]:
    """A page of all that fit, in order, looked for among those that fit one token."""
    where, values = _ranges(token)
    fits, more = _fitting(others, "named.patient")
    first, edges = _ranges((*token, *(one for other in others for one in other)))
    numbers = f"SELECT named.patient FROM patient_word AS named WHERE ({where}) AND {fits}"  # noqa: S608 - question marks and our own names
    query = (
        f"SELECT number FROM patient WHERE number IN ({numbers}) "  # noqa: S608 - as above
        f"ORDER BY ({first.replace('word', 'family_folded')}) DESC, {_NAME_ORDER} LIMIT ? OFFSET ?"
    )
    rows = connection.execute(query, (*values, *more, *edges, *page))
    return [number for (number,) in rows]


def _walk(connection: sqlite3.Connection, tokens: Sequence[Token], wanted: int) -> list[int] | None:
    """The first patients that fit, met in order; None if too few were met in so many steps."""
    fits, values = _fitting(tokens, "number")
    query = (
        f"SELECT number, {fits} FROM patient "  # noqa: S608 - question marks and our own names
        f"WHERE family_folded >= ? AND family_folded < ? ORDER BY {_NAME_ORDER}"
    )
    met: dict[int, None] = {}
    left = _STEPS
    for beginning in (*_beginnings(tokens), ""):
        with closing(connection.execute(query, (*values, *bounds(beginning)))) as rows:
            for number, fit in islice(rows, left):
                left -= 1
                if fit:
                    met[number] = None
                if len(met) == wanted:
                    return list(met)
    return list(met) if left else None


def _beginnings(tokens: Iterable[Token]) -> tuple[str, ...]:
    return tuple(sorted({one for token in tokens for one in token}))


def _fitting(tokens: Sequence[Token], number: str) -> tuple[str, tuple[str, ...]]:
    """The condition that a patient has a word for each token, and its values."""
    found = [_ranges(token) for token in tokens]
    conditions = [
        f"EXISTS (SELECT 1 FROM patient_word AS other WHERE other.patient = {number} AND ({where}))"  # noqa: S608 - question marks and a name of ours
        for where, _ in found
    ]
    return " AND ".join(["1", *conditions]), tuple(one for _, values in found for one in values)


def _ranges(token: Token) -> tuple[str, tuple[str, ...]]:
    """The condition that a word begins with a token, and its values."""
    values = tuple(edge for beginning in token for edge in bounds(beginning))
    return " OR ".join([_RANGE] * len(token)), values


def _with_word(connection: sqlite3.Connection, word: str) -> list[int]:
    query = "SELECT patient FROM patient_word WHERE word = ?"
    return [number for (number,) in connection.execute(query, (word,))]


def _has(connection: sqlite3.Connection, number: int, token: Token) -> bool:
    where, values = _ranges(token)
    query = f"SELECT 1 FROM patient_word WHERE patient = ? AND ({where}) LIMIT 1"  # noqa: S608 - question marks
    return connection.execute(query, (number, *values)).fetchone() is not None
