"""What is meant by a search of the patient list: beginnings of names, numbers, birth dates."""

import re

from footexam.store.birth_dates import birth_dates, eight_digits
from footexam.store.folding import BORN, NUMBER, compact, spellings

Token = tuple[str, ...]
"""Beginnings of words (see `folding.found_by`); a patient needs a word with one of them."""

_LAST = "\U0010ffff"
_YEAR = re.compile(r"(18|19|20)\d\d", re.ASCII)
_DIGIT = re.compile(r"\d")


def meanings(search: str) -> list[tuple[Token, ...]]:
    """What a search may mean, the likelier first; each is a set of tokens that must all fit.

    A birth date is tried as a date first, digits with blanks between them as one number first.
    Empty if nothing can be searched for.
    """
    typed = " ".join(search.casefold().split())
    dates, rest = birth_dates(typed)
    meant = []
    if dates:
        meant.append((tuple(BORN + one for one in dates), *_tokens(rest)))
    meant += [_joined(typed), _tokens(typed)]
    return [tokens for tokens in dict.fromkeys(meant) if tokens]


def bounds(beginning: str) -> tuple[str, str]:
    """The lowest word with a beginning, and one above the highest."""
    return beginning, beginning + _LAST


def _tokens(typed: str) -> tuple[Token, ...]:
    return tuple(token for part in re.split(r"[\s,;]+", typed) for token in _part(part))


def _part(part: str) -> list[Token]:
    """The tokens of what stands between two blanks: one number, or the words of a name."""
    if _DIGIT.search(part):
        return [_number(compact(part))]
    plain, spelled = (spellings(part) * 2)[:2]
    return [tuple(dict.fromkeys(pair)) for pair in zip(plain.split(), spelled.split(), strict=True)]


def _number(digits: str) -> Token:
    """A record number, a year of birth, a birth date without points, or such a name (Ward3)."""
    bare = digits.lstrip("0") or digits
    years = (BORN + digits,) if _YEAR.fullmatch(digits) else ()
    dates = tuple(BORN + one for one in eight_digits(digits))
    return tuple(dict.fromkeys((NUMBER + digits, NUMBER + bare, *years, *dates, digits)))


def _joined(typed: str) -> tuple[Token, ...]:
    """Groups of digits side by side as one number: 943 476 5919. Empty if there are none."""
    joined = re.sub(r"(?<=\d)[ .-]+(?=\d)", "", typed)
    return _tokens(joined) if joined != typed else ()
