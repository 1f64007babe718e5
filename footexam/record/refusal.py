"""The refusal of a value that cannot be taken, and the plain forms every reader shares."""

import unicodedata
from collections.abc import Mapping, Sequence
from decimal import Decimal

from footexam.messages import sentence

LONGEST_TEXT = 4000

Typed = object
"""What stands in a file or a cell: text, an int, a Decimal, a list or an object of these."""


class Refusal(ValueError):
    """A value that is not taken; its text says what happened, what is safe, what to do."""

    def __init__(self, code: str, **values: object) -> None:
        super().__init__(sentence(code, values))
        self.code = code


def text(typed: Typed, longest: int = LONGEST_TEXT) -> str:
    """Free text in NFC without control characters, up to `longest` characters. Raises Refusal."""
    if not isinstance(typed, str):
        raise Refusal("not-text")
    if any(unicodedata.category(char) in {"Cc", "Cs"} for char in typed):
        raise Refusal("text-control")
    clean = unicodedata.normalize("NFC", typed)
    if len(clean) > longest:
        raise Refusal("text-too-long", count=len(clean), longest=longest)
    if not clean.strip():
        raise Refusal("text-empty")
    return clean


def number(typed: Typed) -> Decimal | None:
    """A number of a file as Decimal; None for anything else, truth values included."""
    if isinstance(typed, int | Decimal) and not isinstance(typed, bool):
        return Decimal(str(typed))
    return None


def fold(word: str) -> str:
    """A choice word as it is compared: case folded, spaces as hyphens."""
    return "-".join(word.casefold().split())


def as_typed(typed: Typed) -> str:
    """What was typed, as text to show beside the value."""
    if isinstance(typed, str):
        return typed
    if isinstance(typed, Mapping):
        return "; ".join(f"{key}: {as_typed(item)}" for key, item in typed.items())
    if isinstance(typed, Sequence):
        return " ".join(as_typed(item) for item in typed)
    return str(typed)
