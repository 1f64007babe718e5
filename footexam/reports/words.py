"""Dates, names, ages and numbers in words as they stand on paper."""

from collections.abc import Sequence
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from footexam.catalogue.model import Measure
from footexam.record.examination import Age, Patient, Person
from footexam.record.naming import listed_name
from footexam.reports.phrases import Phrases

MINUS = "\u2212"

MONTHS_UNTIL = 24
"""Below this age in months a child's age is told in months."""

YEARS_UNTIL = 12
"""Below this age in years a child's age is told in years and months."""


def date_words(day: str | date | None, phrases: Phrases) -> str:
    """A date as 04-Mar-2026; YYYY-MM as Mar-2026, YYYY as it is, None as "Not known"."""
    if day is None:
        return phrases("not-known")
    year, *rest = (day.isoformat() if isinstance(day, date) else day).split("-")
    parts = [year, *(phrases.months[int(month) - 1] for month in rest[:1]), *rest[1:]]
    return "-".join(reversed(parts))


def time_words(moment: str, phrases: Phrases) -> str:
    """A UTC time of the record, 2026-03-04T10:20:00Z, as 04-Mar-2026 10:20 UTC."""
    day, _, clock = moment.partition("T")
    return f"{date_words(day, phrases)} {clock[:5]} UTC"


def patient_name(patient: Patient, phrases: Phrases) -> str:
    """FAMILY, Given (Title); what is missing is left out."""
    name = listed_name(patient.family_name, patient.given_names, patient.title)
    return name or phrases("unnamed")


def person_words(person: Person, phrases: Phrases) -> str:
    """A name with what the person is at this visit."""
    return f"{person.name} ({phrases('role-' + person.role)})"


def age_words(age: Age | None, phrases: Phrases) -> str:
    """An age in years, of small children in months or years and months; empty if not known."""
    if age is None:
        return ""
    if age.months < MONTHS_UNTIL:
        return _months(age.months, phrases)
    left = age.months - 12 * age.years
    if age.years < YEARS_UNTIL and left:
        return phrases(
            "years-months", years=_years(age.years, phrases), months=_months(left, phrases)
        )
    return _years(age.years, phrases)


def _months(months: int, phrases: Phrases) -> str:
    return phrases("month") if months == 1 else phrases("months", months=months)


def _years(years: int, phrases: Phrases) -> str:
    return phrases("year") if years == 1 else phrases("years", years=years)


def plain(value: Decimal, decimals: int) -> Decimal:
    """A value without the endless digits that a converted unit, a mean or a formula brings.

    Up to two digits more than `decimals` are kept as typed; a longer value is rounded half up.
    """
    return value if _places(value) <= decimals + 2 else rounded(value, decimals)


def rounded(value: Decimal, decimals: int) -> Decimal:
    """A value with at most so many decimals, rounded half up."""
    if _places(value) <= decimals:
        return value
    return value.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)


def _places(value: Decimal) -> int:
    """How many digits stand behind the point."""
    exponent = value.as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def number_words(value: Decimal, signed: bool = False) -> str:
    """The digits of a number; a plus sign where zero lies inside the scale."""
    digits = f"{abs(value):f}"
    if value < 0:
        return MINUS + digits
    return "+" + digits if signed and value > 0 else digits


def is_signed(measure: Measure) -> bool:
    """Whether a measure's points run to both sides of zero, so that a plus is written."""
    return measure.ordinal and measure.hard_low is not None and measure.hard_low < 0


NO_UNIT = frozenset({"count", "ratio"})
"""What forms/ writes where a number has no unit; nothing is printed for it."""


PRINTED = {"kg/m2": "kg/m²", "degC": "°C"}
"""Units that forms/ writes with letters of a keyboard, as they are printed."""


def with_unit(digits: str, unit: str, one: bool = False) -> str:
    """Digits with their unit; `one` takes its singular."""
    if not unit or unit in NO_UNIT:
        return digits
    if unit == "grade":
        return f"{unit} {digits}"
    unit = PRINTED.get(unit, unit)
    plural = len(unit) > len("min") and unit.endswith("s")
    return f"{digits} {unit[:-1] if one and plural else unit}"


def decimals_of(value: Decimal, most: int) -> int:
    """How many digits stand behind the point of a reading; `most` where a conversion left more."""
    places = _places(value)
    return most if places > most + 2 else places


def quantity_words(
    value: Decimal,
    measure: Measure,
    *,
    signed: bool | None = None,
    decimals: int | None = None,
) -> str:
    """A number of a measure with its unit.

    `signed` None: a plus only as the measure's scale asks. `decimals` is how far a mean is told;
    None: as typed, and as the measure says where a computation left more digits.
    """
    shown = plain(value, measure.decimals) if decimals is None else rounded(value, decimals)
    digits = number_words(shown, is_signed(measure) if signed is None else signed)
    return with_unit(digits, measure.unit, abs(shown) == 1)


def alike(values: Sequence[Decimal], measure: Measure, *, signed: bool) -> list[str]:
    """Numbers of one measure side by side, all with the decimals that the finest needs."""
    shown = [rounded(value, measure.decimals) for value in values]
    places = max((_places(value.normalize()) for value in shown), default=0)
    step = Decimal(1).scaleb(-places)
    return [
        with_unit(number_words(even, signed), measure.unit, abs(even) == 1)
        for even in (value.quantize(step) for value in shown)
    ]


def rounded_words(value: float, measure: Measure, signed: bool = False) -> str:
    """A computed number (a limit, a change needed), to one digit more than the measure's own."""
    shown = _rounded(value, measure)
    return with_unit(number_words(shown, signed), measure.unit, abs(shown) == 1)


def rounded_number(value: float, measure: Measure, signed: bool = False) -> str:
    """The same without its unit."""
    return number_words(_rounded(value, measure), signed)


def _rounded(value: float, measure: Measure) -> Decimal:
    places = Decimal(1).scaleb(-measure.decimals - 1)
    shown = Decimal(repr(value)).quantize(places, ROUND_HALF_UP)
    whole = shown.to_integral_value()
    return whole if shown == whole else shown.normalize()


def opened(text: str) -> str:
    """A text with its first letter as at the start of a sentence; the rest as it is."""
    return text[:1].upper() + text[1:]
