"""Numbers and units as people type them: a small grammar, exact factors, nothing evaluated.

What was typed is read here and nowhere else.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

_MINUS = "-\u2212\u2013"
_NUMBER = re.compile(r"[+\-\u2212\u2013]?[0-9]+(?:[.,][0-9]+)?")
_WHOLE = re.compile(r"[+\-\u2212]?[0-9]+")
# a person may type a plain, a no-break or a narrow space; a tab or a line end is a slip
BLANKS = " \u00a0\u2009\u202f"
_SEPARATOR = re.compile(f"[{BLANKS}]*;[{BLANKS}]*|[{BLANKS}]+")
_THOUSANDS = re.compile(r"(?<![0-9.,])([1-9][0-9]{0,2})[.,]([0-9]{3})(?![0-9.,])")
_LONGEST = 500
_MOST_DIGITS = 41
"""Digits, sign and point; an examination file holds numbers of up to 40."""

_PI = Fraction(Decimal("3.141592653589793238462643383279502884197"))
_DAY = Fraction(86400)
_INCH = Fraction(254, 10)
_MILE = Fraction(1609344, 1000)

_FACTORS: dict[str, dict[str, Fraction]] = {
    # to millimetres; inch and mile: international yard of 1959
    "length": {
        "mm": Fraction(1),
        "cm": Fraction(10),
        "m": Fraction(1000),
        "km": Fraction(10**6),
        "in": _INCH,
        "ft": 12 * _INCH,
        "mi": _MILE * 1000,
    },
    # to grams; pound 453.59237 g exactly (1959)
    "mass": {
        "g": Fraction(1),
        "kg": Fraction(1000),
        "lb": Fraction(45359237, 100000),
        "st": 14 * Fraction(45359237, 100000),
    },
    "angle": {
        "deg": Fraction(1),
        "Deg": Fraction(1),
        "°": Fraction(1),
        "degrees": Fraction(1),
        "rad": 180 / _PI,
    },
    # to seconds; a year is 365.25 days and a month its twelfth, as interface.md fixes
    "time": {
        **dict.fromkeys(("s", "sec", "second", "seconds"), Fraction(1)),
        **dict.fromkeys(("min", "minute", "minutes"), Fraction(60)),
        **dict.fromkeys(("h", "hour", "hours"), Fraction(3600)),
        **dict.fromkeys(("day", "days"), _DAY),
        **dict.fromkeys(("week", "weeks"), 7 * _DAY),
        **dict.fromkeys(("month", "months"), Fraction(304375, 10000) * _DAY),
        **dict.fromkeys(("year", "years"), Fraction(36525, 100) * _DAY),
    },
    # to pascals; conventional millimetre of mercury 13.5951 x 9.80665 Pa
    "pressure": {
        "mmHg": Fraction(133322387415, 10**9),
        "kPa": Fraction(1000),
        "N/cm2": Fraction(10000),
    },
    "speed": {
        "m/s": Fraction(1),
        "km/h": Fraction(1000, 3600),
        "mph": _MILE / 3600,
    },
    "torque": {"N.m": Fraction(1), "N·m": Fraction(1), "Nm": Fraction(1)},
    "temperature difference": {"K": Fraction(1), "°C": Fraction(1)},
    "share": {"%": Fraction(1), "percent": Fraction(1)},
    "repetitions": {"repetitions": Fraction(1), "reps": Fraction(1)},
    "rate": {"steps/min": Fraction(1), "spm": Fraction(1)},
}
_PACE = "min/km"
_CELSIUS = ("degC", "°C")
_FAHRENHEIT = "°F"
_COMPOUNDS = {("ft", "in"): 12, ("st", "lb"): 14}
_TIME_WORDS = {
    "day": "days",
    "week": "weeks",
    "month": "months",
    "year": "years",
    "minute": "minutes",
    "hour": "hours",
    "second": "seconds",
}


class NotANumber(ValueError):
    """What was typed is no number of the grammar; `code` names the message, `what` the part."""

    def __init__(self, code: str, what: str) -> None:
        super().__init__(code, what)
        self.code = code
        self.what = what


@dataclass(frozen=True, slots=True)
class UnitWords:
    """The unit of a measure and the further words it may be typed with."""

    unit: str
    words: tuple[str, ...] = ()

    def accepted(self) -> frozenset[str]:
        """Every word that may follow a number, both number forms of time words included."""
        listed = {self.unit, *self.words} - {""}
        if "deg" in listed:
            listed.add("Deg")
        for one, many in _TIME_WORDS.items():
            if one in listed or many in listed:
                listed |= {one, many}
        return frozenset(listed)


def to_decimal(typed: str) -> Decimal:
    """One number of the grammar, `.` or `,` before the decimals; NotANumber otherwise."""
    if not _NUMBER.fullmatch(typed) or len(typed) > _MOST_DIGITS:
        raise NotANumber("not-a-number", typed)
    return Decimal(_plain(typed))


def to_whole(typed: str) -> int:
    """One whole number with an optional sign; NotANumber otherwise."""
    text = typed.strip(BLANKS)
    if not _WHOLE.fullmatch(text) or len(text) > _MOST_DIGITS:
        raise NotANumber("not-a-whole-number", typed)
    return int(_plain(text))


def _plain(typed: str) -> str:
    for sign in _MINUS:
        typed = typed.replace(sign, "-")
    return typed.replace(",", ".")


def as_thousands(typed: str) -> str | None:
    """`typed` with `1,500` and `1.500` read as thousands; None where nothing looks so."""
    without = _THOUSANDS.sub(r"\1\2", typed)
    return without if without != typed else None


def read_quantity(typed: str, units: UnitWords) -> tuple[Decimal, ...]:
    """The readings in `typed`, converted to `units.unit`.

    Readings are separated by spaces or `;`; one unit may stand at the end. `5 ft 4 in` and
    `11 st 4 lb` are one reading. Raises NotANumber.
    """
    tokens = _tokens(typed, units.accepted())
    compound = _compound(tokens, units)
    if compound is not None:
        return (compound,)
    if any(unit for _, unit in tokens[:-1]):
        raise NotANumber("unit-only-at-the-end", typed)
    word = tokens[-1][1] or units.unit
    return tuple(convert(number, word, units.unit) for number, _ in tokens)


def read_duration(typed: str, units: UnitWords) -> Decimal:
    """A duration such as `11`, `3 months` or `1 year 2 months` in `units.unit`, unrounded."""
    tokens = _tokens(typed, units.accepted())
    if len(tokens) > 1 and not _is_one_duration(tokens):
        raise NotANumber("not-one-duration", typed)
    parts = (convert(number, word or units.unit, units.unit) for number, word in tokens)
    return sum(parts, Decimal(0))


def _is_one_duration(tokens: list[tuple[Decimal, str]]) -> bool:
    """Whether several parts make one duration: each with its unit, larger ones first, none < 0."""
    if any(number < 0 or not word for number, word in tokens):
        return False
    sizes = [_FACTORS["time"][word] for _, word in tokens]
    return all(large > small for large, small in pairwise(sizes))


def _tokens(typed: str, words: Iterable[str]) -> list[tuple[Decimal, str]]:
    """Pairs of number and unit word (empty if none) in the order typed."""
    if len(typed) > _LONGEST:
        raise NotANumber("too-long", typed[:20])
    text = typed.strip(BLANKS)
    if not text:
        raise NotANumber("nothing-typed", typed)
    longest_first = sorted(words, key=len, reverse=True)
    tokens: list[tuple[Decimal, str]] = []
    at = 0
    while at < len(text):
        number = _NUMBER.match(text, at)
        if not number:
            raise _leftover(text, at)
        at = number.end()
        unit, at = _unit_at(text, at, longest_first)
        tokens.append((to_decimal(number.group()), unit))
        if at < len(text):
            gap = _SEPARATOR.match(text, at)
            if not gap or gap.end() == len(text):
                raise _leftover(text, at)
            at = gap.end()
    return tokens


def _unit_at(text: str, at: int, words: list[str]) -> tuple[str, int]:
    """The unit word that follows at this place and where it ends; empty if none does."""
    after = len(text) - len(text[at:].lstrip(BLANKS))
    for word in words:
        end = after + len(word)
        if text.startswith(word, after) and text[end : end + 1] in f"{BLANKS};":
            return word, end
    return "", at


def _leftover(text: str, at: int) -> NotANumber:
    """Why the text from `at` on cannot be read: an unknown unit, or no number at all."""
    rest = text[at:].strip(BLANKS)
    if at and (rest[0].isalpha() or rest[0] in "°%"):
        return NotANumber("unknown-unit", rest)
    return NotANumber("not-a-number", text)


def _compound(tokens: list[tuple[Decimal, str]], units: UnitWords) -> Decimal | None:
    """`5 ft 4 in` as one reading; None where the tokens are not such a pair."""
    if len(tokens) != 2 or (tokens[0][1], tokens[1][1]) not in _COMPOUNDS:
        return None
    (whole, large), (rest, small) = tokens
    if not 0 <= rest < _COMPOUNDS[large, small] or whole < 0 or whole != whole.to_integral_value():
        raise NotANumber("not-one-reading", f"{whole} {large} {rest} {small}")
    return convert(whole, large, units.unit) + convert(rest, small, units.unit)


def convert(number: Decimal, word: str, unit: str) -> Decimal:
    """`number` of `word` in `unit`, exact where decimals can be. KeyError if they do not meet."""
    if word == unit:
        return number
    if word in _CELSIUS and unit in _CELSIUS:
        return number
    if word == _FAHRENHEIT and unit in _CELSIUS:
        return (number - 32) * 5 / 9
    if word == _PACE and unit == "m/s":
        return _from_pace(number)
    for table in _FACTORS.values():
        if word in table and unit in table:
            factor = table[word] / table[unit]
            return number * factor.numerator / factor.denominator
    raise KeyError((word, unit))


def _from_pace(minutes_per_km: Decimal) -> Decimal:
    if minutes_per_km <= 0:
        raise NotANumber("not-a-number", f"{minutes_per_km} {_PACE}")
    return Decimal(1000) / (minutes_per_km * 60)


def meets(word: str, unit: str) -> bool:
    """Whether `convert` can turn `word` into `unit`; the catalogue asks this of every unit word."""
    try:
        convert(Decimal(1), word, unit)
    except KeyError:
        return False
    return True
