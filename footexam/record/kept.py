"""What was typed, as it is kept beside the value: for people to read, and to be read back.

Numbers and words are kept to the letter. Lists and objects are kept in the order of the value; it
says all that was typed but for the units, and these are kept.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from footexam.record.reading import (
    Activities,
    Numbers,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Words,
)
from footexam.record.refusal import as_typed
from footexam.units import NotANumber, to_decimal

BETWEEN = " | "
"""Stands between the readings of a list if one has a unit of its own; no text may hold it."""


def kept(typed: Any, value: Value) -> str:
    """The text to keep for `typed`, which was read as `value`."""
    match value:
        case Numbers(readings):
            return _numbers(typed, readings)
        case Text(text):
            return text
        case Words(words):
            return ", ".join(words)
        case Rows(rows):
            return "; ".join(map(_row, rows))
        case _:
            return _pairs(typed, value)


def _numbers(typed: Any, readings: tuple[Decimal, ...]) -> str:
    if isinstance(typed, str):
        return typed
    if not isinstance(typed, Sequence):
        return as_typed(readings[0])
    items = [as_typed(item) for item in typed]
    return (" " if all(map(_is_bare, items)) else BETWEEN).join(items)


def _is_bare(item: str) -> bool:
    try:
        to_decimal(item)
    except NotANumber:
        return False
    return True


def _row(row: Mapping[str, str | Decimal]) -> str:
    return ", ".join(f"{name}: {as_typed(cell)}" for name, cell in row.items())


def _pairs(typed: Any, value: Value) -> str:
    match value:
        case RegionValues(values):
            return "; ".join(f"{region}: {as_typed(typed[region])}" for region in values)
        case Sites(word, (_, *_) as sites):
            return f"{word}: {', '.join(sites)}"
        case Activities(items):
            return "; ".join(f"{name}: {score}" for name, score in items)
        case Sites(word) if not isinstance(typed, str):
            return word
        case _:
            return as_typed(typed)
