"""JSON as the examination file allows it: whole, without tricks, numbers as exact decimals."""

import json
import re
from decimal import Decimal
from typing import Any, NoReturn

from footexam.messages import sentence

LARGEST = 5 * 1024 * 1024
DEEPEST = 20
_MOST_DIGITS = 40
_STRING = re.compile(r'"(?:[^"\\]|\\.)*"', re.DOTALL)


class BadJson(ValueError):
    """A file that is not JSON of the allowed form; its text is the sentence to show."""

    def __init__(self, code: str, **values: object) -> None:
        super().__init__(sentence(code, values))
        self.code = code


def loads(data: bytes) -> Any:
    """The value of JSON bytes, at most 5 MB and 20 levels deep. Raises BadJson."""
    if len(data) > LARGEST:
        raise BadJson("file-too-large")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        raise BadJson("file-not-utf8") from bad
    if not text.strip():
        raise BadJson("file-empty")
    if _depth(text) > DEEPEST:
        raise BadJson("file-too-deep")
    try:
        return json.loads(
            text,
            object_pairs_hook=_pairs,
            parse_float=_number,
            parse_int=_number,
            parse_constant=_constant,
        )
    except json.JSONDecodeError as bad:
        why = f"line {bad.lineno}, column {bad.colno}: {bad.msg}"
        raise BadJson("file-not-json", why=why) from bad


def _depth(text: str) -> int:
    """How deeply brackets are nested outside of strings."""
    depth = deepest = 0
    for mark in re.findall(r"[\[\]{}]", _STRING.sub("", text)):
        depth += 1 if mark in "[{" else -1
        deepest = max(deepest, depth)
    return deepest


def _pairs(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise BadJson("file-duplicate-key", what=key)
        found[key] = value
    return found


def _number(digits: str) -> Decimal:
    if len(digits) > _MOST_DIGITS:
        raise BadJson("file-not-a-number", what=f"{digits[:_MOST_DIGITS]}…")
    value = Decimal(digits)
    if value and abs(value.adjusted()) > _MOST_DIGITS:
        raise BadJson("file-not-a-number", what=digits)
    return value


def _constant(word: str) -> NoReturn:
    raise BadJson("file-not-a-number", what=word)
