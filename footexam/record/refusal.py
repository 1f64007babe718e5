"""The refusal of a value that cannot be taken, and the plain forms every reader shares."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from decimal import Decimal

from footexam.messages import sentence
from footexam.units import BLANKS

LONGEST_TEXT = 4000

Typed = object
"""What stands in a file or a cell: text, an int, a Decimal, a list or an object of these."""

# control characters and halves of surrogate pairs; line and paragraph separators
_NEVER = frozenset({"Cc", "Cs", "Zl", "Zp"})
# marks that turn the direction of writing for what follows them: a name could hide its letters
_TURNS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_BLANK = re.compile(f"[{BLANKS}]+")


class Refusal(ValueError):
    """A value that is not taken; its text says what happened, what is safe, what to do."""

    def __init__(self, code: str, **values: object) -> None:
        super().__init__(sentence(code, values))
        self.code = code


def text(typed: Typed, longest: int = LONGEST_TEXT) -> str:
    """Free text in NFC without control characters, up to `longest` characters. Raises Refusal."""
    if not isinstance(typed, str):
        raise Refusal("not-text", what=shape(typed))
    # NFC may shorten a text, at most to a quarter
    clean = unicodedata.normalize("NFC", typed) if len(typed) <= 4 * longest else typed
    if len(clean) > longest:
        raise Refusal("text-too-long", longest=longest)
    if any(unicodedata.category(char) in _NEVER or char in _TURNS for char in clean):
        raise Refusal("text-control")
    if not clean.strip():
        raise Refusal("text-empty")
    return clean


def number(typed: Typed) -> Decimal | None:
    """A number of a file as Decimal; None for anything else, truth values included."""
    if isinstance(typed, int | Decimal) and not isinstance(typed, bool):
        return Decimal(typed)
    return None


def fold(word: str) -> str:
    """A choice word as it is compared: case folded, spaces as hyphens."""
    return _BLANK.sub("-", word.strip(BLANKS).casefold())


def shape(typed: Typed) -> str:
    """What sort of thing was given, to be named in a sentence."""
    if typed is None:
        return "null"
    if isinstance(typed, bool):
        return "true or false"
    if isinstance(typed, str):
        return "a text"
    if isinstance(typed, Mapping):
        return "an object"
    return "a list" if isinstance(typed, Sequence) else "a number"


def as_typed(typed: Typed) -> str:
    """What was typed, as text to show beside the value; numbers without exponents."""
    if typed is None or isinstance(typed, bool):
        return str(typed).lower().replace("none", "null")
    if isinstance(typed, str):
        return typed
    if isinstance(typed, Mapping):
        return "; ".join(f"{key}: {as_typed(item)}" for key, item in typed.items())
    if isinstance(typed, Sequence):
        return " ".join(as_typed(item) for item in typed)
    return f"{typed:f}" if isinstance(typed, Decimal) else str(typed)


def after_number(unit: str) -> str:
    """A unit as it stands after a number in a sentence; a ratio is told by its number alone."""
    return "" if unit in {"", "ratio"} else f" {unit}"


def in_digits(value: Decimal | None) -> str:
    """A number to read in a sentence: up to 9 significant digits, without exponent or idle zeros.

    Empty for None, a limit that is not set.
    """
    if value is None:
        return ""
    return f"{Decimal(f'{value:.9g}').normalize() + 0:f}"
