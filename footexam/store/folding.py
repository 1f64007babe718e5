"""Folds names and numbers, so that they are found however they are typed."""

import re
import unicodedata

_APOSTROPHES = str.maketrans("", "", "'’‘ʼʹ`´")

# letters that Unicode does not take apart into a letter and a mark
_LETTERS = str.maketrans(
    {"ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe"}
    | {"ħ": "h", "ı": "i", "ŋ": "n", "ŧ": "t", "ĸ": "k", "ſ": "s"}
)

# how these letters are written where a keyboard lacks them
_SPELLED_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})

_WORD = re.compile(r"[^\W_]+")
_AFTER_APOSTROPHE = re.compile(r"[^\W_]+['’‘ʼʹ`´]([^\W_]+)")
_DIGITS = re.compile(r"[0-9]+")

NUMBER, BORN = "#", "@"
"""What stands before the words of a record number and of a birth date; no name has them."""


def fold(text: str) -> str:
    """A text as it is compared: without accents, apostrophes and case, single blanks."""
    bare = text.translate(_APOSTROPHES).casefold()
    apart = unicodedata.normalize("NFKD", bare).casefold()
    plain = apart.translate(_APOSTROPHES).translate(_LETTERS)
    letters = "".join(char for char in plain if unicodedata.category(char)[0] != "M")
    return " ".join(_WORD.findall(letters))


def spellings(text: str) -> tuple[str, ...]:
    """The folded text, and the folded text with its umlauts spelled out if that differs."""
    composed = unicodedata.normalize("NFC", text).casefold()
    return tuple(dict.fromkeys((fold(text), fold(composed.translate(_SPELLED_OUT)))))


def compact(number: str) -> str:
    """A record number as it is compared: letters and digits only, folded."""
    return fold(number).replace(" ", "")


def found_by(family: str, given: str, number: str, birth_date: str) -> set[str]:
    """The words a patient is found by; each is found from its beginning.

    Of a name: every word, umlauts spelled out too, and what follows an apostrophe (O'Neill).
    Of a record number: the whole, and each run of digits, without leading zeros too.
    Of a birth date: the date as it is kept, YYYY-MM-DD or less.
    """
    names = f"{family} {given}"
    after = " ".join(_AFTER_APOSTROPHE.findall(names))
    words = {word for text in (names, after) for one in spellings(text) for word in one.split()}
    whole = compact(number)
    numbers = {whole, whole.lstrip("0"), *_DIGITS.findall(fold(number))}
    numbers |= {digits.lstrip("0") for digits in numbers}
    words |= {NUMBER + digits for digits in numbers if digits}
    return words | ({BORN + birth_date} if birth_date else set())
