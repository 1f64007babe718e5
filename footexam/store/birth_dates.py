"""Recognises a birth date in what is typed into the search, as a clinic writes it."""

import re
from collections.abc import Callable
from datetime import date

_MONTHS = (
    *("january", "february", "march", "april", "may", "june", "july", "august"),
    *("september", "october", "november", "december"),
)
_SHORTEST_MONTH = 3
_EARLIEST = 1850
"""Nobody alive was born earlier; such digits are of a record number."""

_NAME = r"([a-z]{3,9})\.?"

Found = tuple[str, ...]
"""Dates as YYYY-MM-DD or YYYY-MM, the likelier first; empty if it was none."""


def birth_dates(folded: str) -> tuple[Found, str]:
    """The dates a search names, and the search without them.

    `folded` is the search in lower case. Day first (30.8.1979, 30/08/1979, 30-Aug-1979,
    30 aug 79), the month first only where it cannot be otherwise (08/30/1979); year first
    (1979-08-30, 1979-08). Two digits of a year may mean either century.
    """
    for pattern, read in _FORMS:
        match = pattern.search(folded)
        found = read(match) if match else ()
        if match and found:
            rest = folded[: match.start()] + " " + folded[match.end() :]
            return found, " ".join(rest.split())
    return (), folded


def eight_digits(digits: str) -> Found:
    """The dates that 30081979 or 19790830 may be; empty if none."""
    both = (
        *_days(digits[4:], digits[2:4], digits[:2]),
        *_days(digits[:4], digits[4:6], digits[6:]),
    )
    return both if len(digits) == len("YYYYMMDD") else ()


def _days(year: str, month: str, day: str) -> Found:
    years = (year,) if len(year) == len("YYYY") else (f"20{year}", f"19{year}")
    return tuple(found for one in years for found in _day(one, month, day))


def _day(year: str, month: str, day: str) -> Found:
    try:
        born = date(int(year), int(month), int(day))
    except ValueError:
        return ()
    return (born.isoformat(),) if born.year >= _EARLIEST else ()


def _numeric(match: re.Match[str]) -> Found:
    first, second, year = match.groups()
    return _days(year, second, first) or _days(year, first, second)


def _iso(match: re.Match[str]) -> Found:
    return _days(*match.groups())


def _named(match: re.Match[str]) -> Found:
    day, name, year = match.groups()
    return _days(year, _month(name), day)


def _named_first(match: re.Match[str]) -> Found:
    name, day, year = match.groups()
    return _days(year, _month(name), day)


def _year_month(match: re.Match[str]) -> Found:
    year, month = match.groups()
    return tuple(found[: len("YYYY-MM")] for found in _days(year, month, "1"))


def _month(name: str) -> str:
    """The number of a month by the beginning of its name, three letters or more; "0" if none."""
    for number, month in enumerate(_MONTHS, 1):
        if month.startswith(name) or name == month[:_SHORTEST_MONTH]:
            return str(number)
    return "0"


def _form(pattern: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w.,/-]){pattern}(?![\w/-])", re.ASCII)


_YEAR = r"(\d{4}|\d{2})"
_FORMS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Found]], ...] = (
    (_form(r"(\d{4})[-./](\d{1,2})[-./](\d{1,2})"), _iso),
    (_form(rf"(\d{{1,2}})[-./](\d{{1,2}})[-./]{_YEAR}"), _numeric),
    (_form(r"(\d{1,2}) +(\d{1,2}) +(\d{4})"), _numeric),
    (_form(rf"(\d{{1,2}})[-. ]*{_NAME}[-, ]*{_YEAR}"), _named),
    (_form(rf"{_NAME}[-. ]*(\d{{1,2}})[-, ]+{_YEAR}"), _named_first),
    (_form(r"(\d{4})[-./](\d{1,2})"), _year_month),
)
