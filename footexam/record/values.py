"""Values as canonical JSON and back; numbers as decimal strings, so that nothing is rounded."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Word,
    Words,
)


def to_json(value: Value) -> dict[str, Any]:
    """The canonical JSON object of a value: one key that names its sort."""
    body: Any
    match value:
        case Numbers(readings):
            sort, body = "numbers", [str(reading) for reading in readings]
        case Word(word):
            sort, body = "word", word
        case Words(words):
            sort, body = "words", list(words)
        case Text(text):
            sort, body = "text", text
        case Sites(word, sites):
            return {"answer": word, "sites": list(sites)}
        case RegionValues(values):
            sort, body = "regions", [[region, str(number)] for region, number in values.items()]
        case Rows(rows):
            sort, body = "rows", [_row_to_json(row) for row in rows]
        case NoneKnown():
            sort, body = "none-known", True
        case _:
            sort, body = "activities", [list(item) for item in value.items]
    return {sort: body}


def _row_to_json(row: Mapping[str, str | Decimal]) -> dict[str, Any]:
    return {
        name: {"number": str(cell)} if isinstance(cell, Decimal) else cell
        for name, cell in row.items()
    }


def _row_from_json(row: Mapping[str, Any]) -> dict[str, str | Decimal]:
    return {
        name: Decimal(cell["number"]) if isinstance(cell, dict) else cell
        for name, cell in row.items()
    }


_SORTS: Mapping[str, Callable[[Mapping[str, Any]], Value]] = {
    "numbers": lambda body: Numbers(tuple(Decimal(number) for number in body["numbers"])),
    "word": lambda body: Word(body["word"]),
    "words": lambda body: Words(tuple(body["words"])),
    "text": lambda body: Text(body["text"]),
    "answer": lambda body: Sites(body["answer"], tuple(body["sites"])),
    "regions": lambda body: RegionValues(
        {region: Decimal(number) for region, number in body["regions"]}
    ),
    "rows": lambda body: Rows(tuple(_row_from_json(row) for row in body["rows"])),
    "none-known": lambda _: NoneKnown(),
    "activities": lambda body: Activities(
        tuple((name, int(score)) for name, score in body["activities"])
    ),
}


def from_json(body: Mapping[str, Any]) -> Value:
    """The value of a canonical JSON object; KeyError for a sort that is not known."""
    for sort, read in _SORTS.items():
        if sort in body:
            return read(body)
    raise KeyError(next(iter(body), ""))
