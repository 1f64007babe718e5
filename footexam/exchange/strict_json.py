"""JSON as the examination file allows it: whole, without tricks, numbers as exact decimals."""

import json
import re
from decimal import Decimal
from typing import Any, NoReturn

from footexam.messages import sentence

LARGEST = 5 * 1024 * 1024
DEEPEST = 20
_MOST_DIGITS = 40
# a string up to its end or to that of the text, without ever going back; or a bracket
_MARK = re.compile(r'"[^"\\]*+(?:\\.[^"\\]*+)*+"?|[\[\]{}]', re.DOTALL)
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]{1,3})?")


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
    _check_depth(text)
    tree = _parse(text)
    if "\\u" in text:
        _check_characters(tree)
    return tree


def _parse(text: str) -> Any:
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


def _check_characters(tree: Any) -> None:
    """Refuse half of a character, which an escape can write and nothing can show or store."""
    try:
        json.dumps(tree, ensure_ascii=False, default=str).encode()
    except UnicodeEncodeError as bad:
        raise BadJson("file-half-character") from bad


def _check_depth(text: str) -> None:
    """Refuse brackets nested too deeply, strings left aside, before anything recurses on them."""
    depth = 0
    for found in _MARK.finditer(text):
        mark = text[found.start()]
        if mark in "[{":
            depth += 1
            if depth > DEEPEST:
                raise BadJson("file-too-deep")
        elif mark in "]}":
            depth -= 1


def _pairs(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise BadJson("file-duplicate-key", what=key)
        found[key] = value
    return found


def _number(digits: str) -> Decimal:
    """A number whose digits, written out without an exponent, are at most 40."""
    if len(digits) <= _MOST_DIGITS and _NUMBER.fullmatch(digits):
        value = Decimal(digits)
        if abs(value.adjusted()) < _MOST_DIGITS and len(f"{value:f}") <= _MOST_DIGITS:
            return value
    raise BadJson("file-not-a-number", what=digits)


def _constant(word: str) -> NoReturn:
    raise BadJson("file-not-a-number", what=word)
