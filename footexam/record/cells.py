"""Cells of table measures: dates, numbers, sides, words and text by the column's kind."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal

from footexam.catalogue.model import Catalogue, Column
from footexam.messages import listed
from footexam.record.numbers import in_column
from footexam.record.refusal import Refusal, Typed, as_typed, fold, in_digits, text

_DATE = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?", re.ASCII)
_LONGEST_CELL = 400
_WHOLE_DAY = len("YYYY-MM-DD")


def read(typed: Typed, column: Column, catalogue: Catalogue) -> str | Decimal:
    """The value of a cell: a Decimal for numbers, text for everything else. Raises Refusal."""
    return _READERS[column.kind](typed, column, catalogue)


def partial_date(typed: Typed) -> str:
    """A date as YYYY-MM-DD, YYYY-MM or YYYY that exists in the calendar. Raises Refusal."""
    if not isinstance(typed, str) or not _DATE.fullmatch(typed):
        raise Refusal("not-a-date", what=as_typed(typed))
    try:
        date.fromisoformat(typed + "-01-01"[len(typed) - len("YYYY") :])
    except ValueError as bad:
        raise Refusal("not-a-date", what=typed) from bad
    return typed


def whole_date(typed: Typed) -> date:
    """A date as YYYY-MM-DD. Raises Refusal."""
    try:
        day = partial_date(typed)
    except Refusal as bad:
        raise Refusal("not-a-day", what=as_typed(typed)) from bad
    if len(day) != _WHOLE_DAY:
        raise Refusal("not-a-day", what=day)
    return date.fromisoformat(day)


def _date(typed: Typed, _: Column, __: Catalogue) -> str:
    return partial_date(typed)


def _week(typed: Typed, _: Column, __: Catalogue) -> str:
    day = whole_date(typed)
    if day.weekday() != 0:
        raise Refusal("not-a-monday", what=as_typed(typed))
    return day.isoformat()


def _number(typed: Typed, column: Column, _: Catalogue) -> Decimal:
    value = in_column(typed, column)
    if value is None:
        low, high = in_digits(column.hard_low), in_digits(column.hard_high)
        raise _bad(typed, column, f"a number from {low} to {high}")
    return value


def _text(typed: Typed, _: Column, __: Catalogue) -> str:
    return text(typed, _LONGEST_CELL)


def _one_of(words: tuple[str, ...]) -> Callable[[Typed, Column, Catalogue], str]:
    def read_word(typed: Typed, column: Column, _: Catalogue) -> str:
        allowed = words or column.words
        word = fold(typed) if isinstance(typed, str) else ""
        if word not in allowed:
            raise _bad(typed, column, listed(allowed))
        return word

    return read_word


def _region(typed: Typed, column: Column, catalogue: Catalogue) -> str:
    if not isinstance(typed, str) or typed not in catalogue.regions:
        raise _bad(typed, column, "the id of a place of the foot map, as in heel-plantar")
    return typed


def _bad(typed: Typed, column: Column, words: str) -> Refusal:
    return Refusal("bad-cell", what=as_typed(typed), column=column.id, words=words)


_READERS: Mapping[str, Callable[[Typed, Column, Catalogue], str | Decimal]] = {
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
