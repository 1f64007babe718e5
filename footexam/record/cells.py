"""Cells of table measures: dates, numbers, sides, words and text by the column's kind."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal

from footexam.catalogue.model import Catalogue, Column
from footexam.messages import listed
from footexam.record.refusal import Refusal, number, text
from footexam.units import NotANumber, to_decimal

_DATE = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?", re.ASCII)
_LONGEST_CELL = 400


def read(typed: object, column: Column, catalogue: Catalogue) -> str | Decimal:
    """The value of a cell: a Decimal for numbers, text for everything else. Raises Refusal."""
    return _READERS[column.kind](typed, column, catalogue)


def partial_date(typed: object) -> str:
    """A date as YYYY-MM-DD, YYYY-MM or YYYY that exists in the calendar. Raises Refusal."""
    if not isinstance(typed, str) or not _DATE.fullmatch(typed):
        raise Refusal("not-a-date", what=typed)
    try:
        date.fromisoformat(typed + "-01-01"[len(typed) - 4 :])
    except ValueError as bad:
        raise Refusal("not-a-date", what=typed) from bad
    return typed


def _date(typed: object, _: Column, __: Catalogue) -> str:
    return partial_date(typed)


def _week(typed: object, _: Column, __: Catalogue) -> str:
    day = partial_date(typed)
    if len(day) != len("YYYY-MM-DD"):
        raise Refusal("not-a-date", what=day)
    if date.fromisoformat(day).weekday() != 0:
        raise Refusal("not-a-monday", what=day)
    return day


def _number(typed: object, column: Column, _: Catalogue) -> Decimal:
    try:
        value = to_decimal(typed.strip()) if isinstance(typed, str) else number(typed)
    except NotANumber:
        value = None
    low, high = column.hard_low, column.hard_high
    if value is None or (low is not None and value < low) or (high is not None and value > high):
        raise _bad(typed, column, f"a number from {low} to {high}")
    return value


def _text(typed: object, _: Column, __: Catalogue) -> str:
    return text(typed, _LONGEST_CELL)


def _one_of(words: tuple[str, ...]) -> Callable[[object, Column, Catalogue], str]:
    def read_word(typed: object, column: Column, _: Catalogue) -> str:
        allowed = words or column.words
        if not isinstance(typed, str) or typed.casefold() not in allowed:
            raise _bad(typed, column, listed(allowed))
        return typed.casefold()

    return read_word


def _region(typed: object, column: Column, catalogue: Catalogue) -> str:
    if not isinstance(typed, str) or typed not in catalogue.regions:
        raise _bad(typed, column, "a region id, as in heel-plantar")
    return typed


def _bad(typed: object, column: Column, words: str) -> Refusal:
    return Refusal("bad-cell", what=typed, column=column.id, words=words)


_READERS: Mapping[str, Callable[[object, Column, Catalogue], str | Decimal]] = {
    "date": _date,
    "week": _week,
    "number": _number,
    "text": _text,
    "choice": _one_of(()),
    "yes-no": _one_of(("yes", "no")),
    "side": _one_of(("left", "right", "both")),
    "region": _region,
}

COLUMN_KINDS = frozenset(_READERS)
"""Kinds that a column in forms/panels may have."""
