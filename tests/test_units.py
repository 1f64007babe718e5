"""Numbers and units as people type them, with pint as an independent judge of the factors."""

import functools
from contextlib import suppress
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.units import (
    NotANumber,
    UnitWords,
    as_thousands,
    convert,
    meets,
    read_duration,
    read_quantity,
    to_decimal,
    to_whole,
)

DEG = UnitWords("deg", ("°", "degrees", "rad"))
MM = UnitWords("mm", ("cm", "m", "in"))
CM = UnitWords("cm", ("mm", "m", "in", "ft"))
KG = UnitWords("kg", ("lb", "g", "st"))
PERCENT = UnitWords("%", ("percent",))
SPEED = UnitWords("m/s", ("km/h", "mph", "min/km"))
WEEKS = UnitWords("weeks", ("week", "days", "months", "years"))


@pytest.mark.parametrize(
    ("typed", "units", "readings"),
    [
        ("9", DEG, "9"),
        (" 9 ", DEG, "9"),
        ("+9", DEG, "9"),
        ("-3 deg", DEG, "-3"),
        ("\u22123 deg", DEG, "-3"),
        ("\u20133deg", DEG, "-3"),
        ("12.5 °", DEG, "12.5"),
        ("12,5°", DEG, "12.5"),
        ("10 Deg", DEG, "10"),
        ("9 10 8", DEG, "9 10 8"),
        ("9; 10;8 deg", DEG, "9 10 8"),
        ("9 ; 10", DEG, "9 10"),
        ("9\u00a010\u202f8\u2009deg", DEG, "9 10 8"),
        ("10 -12", DEG, "10 -12"),
        ("7,5 cm", MM, "75"),
        ("75 mm", MM, "75"),
        ("1 2 m", MM, "1000 2000"),
        ("12 %", PERCENT, "12"),
        ("12%", PERCENT, "12"),
        ("5 ft 4 in", CM, "162.56"),
        ("5ft 4in", CM, "162.56"),
        ("5 ft 0 in", CM, "152.4"),
        ("5 ft", CM, "152.4"),
        ("11 st 4,5 lb", KG, "71.894390645"),
        ("6 min/km", SPEED, "2.777777777777777777777777778"),
        ("3.6 km/h", SPEED, "1"),
        ("3 points", UnitWords("points"), "3"),
        ("4", UnitWords(""), "4"),
    ],
)
def test_quantities_read(typed: str, units: UnitWords, readings: str) -> None:
    assert read_quantity(typed, units) == tuple(map(Decimal, readings.split()))


NOT_A_NUMBER = "not-a-number"


@pytest.mark.parametrize(
    ("typed", "units", "code", "what"),
    [
        ("", DEG, "nothing-typed", ""),
        (" \u00a0", DEG, "nothing-typed", " \u00a0"),
        ("9,10,8", DEG, NOT_A_NUMBER, "9,10,8"),
        ("1.2.3", DEG, NOT_A_NUMBER, "1.2.3"),
        ("1'000", DEG, NOT_A_NUMBER, "1'000"),
        ("1_000", DEG, NOT_A_NUMBER, "1_000"),
        ("1,000.5", DEG, NOT_A_NUMBER, "1,000.5"),
        ("1e3", DEG, "unknown-unit", "e3"),
        ("1/2", DEG, NOT_A_NUMBER, "1/2"),
        (">30", DEG, NOT_A_NUMBER, ">30"),
        ("10-12", DEG, NOT_A_NUMBER, "10-12"),
        ("10 - 12", DEG, NOT_A_NUMBER, "10 - 12"),
        ("9;", DEG, NOT_A_NUMBER, "9;"),
        ("9 ;;8", DEG, NOT_A_NUMBER, "9 ;;8"),
        (".5", DEG, NOT_A_NUMBER, ".5"),
        ("5.", DEG, NOT_A_NUMBER, "5."),
        ("--3", DEG, NOT_A_NUMBER, "--3"),
        ("- 3", DEG, NOT_A_NUMBER, "- 3"),
        ("nan", DEG, NOT_A_NUMBER, "nan"),
        ("inf", DEG, NOT_A_NUMBER, "inf"),
        ("٣", DEG, NOT_A_NUMBER, "٣"),
        ("9\n10", DEG, NOT_A_NUMBER, "9\n10"),
        ("9\t10", DEG, NOT_A_NUMBER, "9\t10"),
        ("9\n", DEG, NOT_A_NUMBER, "9\n"),
        ("9**9**8 mm", MM, NOT_A_NUMBER, "9**9**8 mm"),
        ("9 cm", DEG, "unknown-unit", "cm"),
        ("12 %", DEG, "unknown-unit", "%"),
        ("9 DEG", DEG, "unknown-unit", "DEG"),
        ("9 MM", MM, "unknown-unit", "MM"),
        ("9 mmm", MM, "unknown-unit", "mmm"),
        ("9 mm2", MM, "unknown-unit", "mm2"),
        ("9 deg 8 deg", DEG, "unit-only-at-the-end", "9 deg 8 deg"),
        ("9 cm 8", MM, "unit-only-at-the-end", "9 cm 8"),
        ("5 ft 4", CM, "unit-only-at-the-end", "5 ft 4"),
        ("4 in 5 ft", CM, "unit-only-at-the-end", "4 in 5 ft"),
        ("5 ft 12 in", CM, "not-one-reading", "5 ft 12 in"),
        ("5 ft -4 in", CM, "not-one-reading", "5 ft -4 in"),
        ("-5 ft 4 in", CM, "not-one-reading", "-5 ft 4 in"),
        ("5.5 ft 4 in", CM, "not-one-reading", "5.5 ft 4 in"),
        ("11 st 14 lb", KG, "not-one-reading", "11 st 14 lb"),
        ("0 min/km", SPEED, NOT_A_NUMBER, "0 min/km"),
        ("9" * 42, DEG, NOT_A_NUMBER, "9" * 42),
        ("9 " * 251, DEG, "too-long", "9 " * 10),
    ],
)
def test_quantities_refused(typed: str, units: UnitWords, code: str, what: str) -> None:
    with pytest.raises(NotANumber) as refused:
        read_quantity(typed, units)
    assert (refused.value.code, refused.value.what) == (code, what)


@pytest.mark.parametrize(
    ("typed", "weeks"),
    [
        ("11", "11"),
        ("11 weeks", "11"),
        ("1 week", "1"),
        ("14 days", "2"),
        ("3 months", str(Decimal("91.3125") / 7)),
        ("1 year", str(Decimal("365.25") / 7)),
        ("1 year 2 weeks", str(Decimal("365.25") / 7 + 2)),
        ("2 years 3 days", str(Decimal("730.5") / 7 + Decimal(3) / 7)),
    ],
)
def test_durations_read_unrounded(typed: str, weeks: str) -> None:
    assert read_duration(typed, WEEKS) == Decimal(weeks)


def test_a_month_is_30_4375_days_and_a_year_365_25() -> None:
    days = UnitWords("days", ("months", "years"))
    assert read_duration("1 month", days) == Decimal("30.4375")
    assert read_duration("1 year 2 months", days) == Decimal("426.125")


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("1 2", "not-one-duration"),
        ("1 year 2", "not-one-duration"),
        ("2 months 1 year", "not-one-duration"),
        ("1 year 1 year", "not-one-duration"),
        ("1 year -2 months", "not-one-duration"),
        ("-1 year 2 months", "not-one-duration"),
        ("3 hours", "unknown-unit"),
        ("soon", "not-a-number"),
        ("", "nothing-typed"),
    ],
)
def test_durations_refused(typed: str, code: str) -> None:
    with pytest.raises(NotANumber) as refused:
        read_duration(typed, WEEKS)
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("typed", "value"), [("3", 3), ("+3", 3), ("-1", -1), ("\u22121", -1), (" 0 ", 0), ("-0", 0)]
)
def test_whole_numbers_read(typed: str, value: int) -> None:
    assert to_whole(typed) == value


@pytest.mark.parametrize(
    "typed", ["", "1.5", "1,0", "4+", "\u20131", "3 points", "1e1", "x", "1\n", "٣", "9" * 42]
)
def test_whole_numbers_refused(typed: str) -> None:
    with pytest.raises(NotANumber) as refused:
        to_whole(typed)
    assert (refused.value.code, refused.value.what) == ("not-a-whole-number", typed)


@pytest.mark.parametrize(
    ("typed", "thousands"),
    [
        ("1,500", "1500"),
        ("1.500 km", "1500 km"),
        ("12,500 13,250", "12500 13250"),
        ("-999.125", "-999125"),
        ("0,250", None),
        ("1,50", None),
        ("1,5000", None),
        ("1500", None),
        ("1234,500", None),
    ],
)
def test_what_may_be_thousands(typed: str, thousands: str | None) -> None:
    assert as_thousands(typed) == thousands


def test_words_of_time_stand_in_one_and_many_others_as_listed() -> None:
    assert UnitWords("min", ("minutes", "h")).accepted() == {"min", "minutes", "minute", "h"}
    assert UnitWords("mm", ("cm",)).accepted() == {"mm", "cm"}
    assert UnitWords("deg").accepted() == {"deg", "Deg"}
    assert UnitWords("").accepted() == frozenset()


def test_units_that_do_not_meet() -> None:
    assert meets("cm", "mm")
    assert meets("points", "points")
    for word, unit in [("kg", "mm"), ("furlong", "mm"), ("°F", "K"), ("min/km", "km/h")]:
        assert not meets(word, unit)
        with pytest.raises(KeyError):
            convert(Decimal(1), word, unit)


def test_absolute_temperatures_shift_and_differences_do_not() -> None:
    assert convert(Decimal("98.6"), "°F", "degC") == 37
    assert convert(Decimal(-40), "°F", "degC") == -40
    assert convert(Decimal(31), "°C", "degC") == 31
    assert convert(Decimal(2), "°C", "K") == 2


# --- any way of writing a number reads back

decimals = st.decimals(
    min_value=-(10**6), max_value=10**6, allow_nan=False, allow_infinity=False, places=6
)


def written(value: Decimal, minus: str, point: str, plus: bool) -> str:
    sign = minus if value < 0 else "+" if plus else ""
    return sign + f"{abs(value):f}".replace(".", point)


@given(
    decimals,
    st.sampled_from("-\u2212\u2013"),
    st.sampled_from(".,"),
    st.booleans(),
    st.sampled_from(["", " ", "\u00a0", "\u202f"]),
    st.sampled_from(["", "deg", "Deg", "°", "degrees"]),
)
def test_a_number_reads_back_however_it_is_written(
    value: Decimal, minus: str, point: str, plus: bool, gap: str, unit: str
) -> None:
    number = written(value, minus, point, plus)
    assert to_decimal(number) == value
    assert read_quantity(f"{gap}{number}{gap}{unit}", DEG) == (value,)


@given(
    st.lists(decimals, min_size=1, max_size=10),
    st.sampled_from([" ", ";", "; ", " ; ", "  ", "\u00a0"]),
    st.sampled_from(["", " deg"]),
)
def test_repeats_read_back(values: list[Decimal], between: str, unit: str) -> None:
    typed = between.join(f"{value:f}" for value in values) + unit
    assert read_quantity(typed, DEG) == tuple(values)


@given(st.integers(-(10**12), 10**12), st.sampled_from("-\u2212"), st.booleans())
def test_a_whole_number_reads_back(value: int, minus: str, plus: bool) -> None:
    sign = minus if value < 0 else "+" if plus else ""
    assert to_whole(f"{sign}{abs(value)}") == value


@given(st.text(alphabet="0123456789.,+-\u2212;/ '_eE*x°%degcm\n\t", max_size=30))
def test_whatever_is_typed_is_read_or_refused(typed: str) -> None:
    units = UnitWords("weeks", ("days",))
    with suppress(NotANumber):  # any other exception fails
        assert all(reading.is_finite() for reading in read_quantity(typed, units))
    with suppress(NotANumber):
        assert read_duration(typed, units).is_finite()
    with suppress(NotANumber):
        assert isinstance(to_whole(typed), int)


# --- pint, given numbers and unit names of its own, judges every factor

PINT = {
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "km": "kilometer",
    "in": "inch",
    "ft": "foot",
    "mi": "mile",
    "g": "gram",
    "kg": "kilogram",
    "lb": "pound",
    "st": "stone",
    "deg": "degree",
    "Deg": "degree",
    "°": "degree",
    "degrees": "degree",
    "rad": "radian",
    "s": "second",
    "sec": "second",
    "second": "second",
    "seconds": "second",
    "min": "minute",
    "minute": "minute",
    "minutes": "minute",
    "h": "hour",
    "hour": "hour",
    "hours": "hour",
    "day": "day",
    "days": "day",
    "week": "week",
    "weeks": "week",
    "month": "month",
    "months": "month",
    "year": "year",
    "years": "year",
    "mmHg": "millimeter_Hg",
    "kPa": "kilopascal",
    "N/cm2": "newton / centimeter ** 2",
    "m/s": "meter / second",
    "km/h": "kilometer / hour",
    "mph": "mile / hour",
    "N.m": "newton * meter",
    "N·m": "newton * meter",
    "Nm": "newton * meter",
    "%": "percent",
    "percent": "percent",
}
FAMILIES = [
    ["mm", "cm", "m", "km", "in", "ft", "mi"],
    ["g", "kg", "lb", "st"],
    ["deg", "Deg", "°", "degrees", "rad"],
    [word for word in PINT if PINT[word].split()[0] in
     {"second", "minute", "hour", "day", "week", "month", "year"}],
    ["mmHg", "kPa", "N/cm2"],
    ["m/s", "km/h", "mph"],
    ["N.m", "N·m", "Nm"],
    ["%", "percent"],
]  # fmt: skip
PAIRS = [(word, unit) for family in FAMILIES for word in family for unit in family]


@functools.cache
def registry() -> Any:
    import pint

    # pint's own decimals: no float comes between; a month is a twelfth of a year there as well
    return pint.UnitRegistry(non_int_type=Decimal)


@pytest.mark.parametrize(("word", "unit"), PAIRS)
def test_factors_agree_with_pint(word: str, unit: str) -> None:
    ours = convert(Decimal(1), word, unit)
    theirs = registry().Quantity(Decimal(1), PINT[word]).to(PINT[unit]).magnitude
    assert float(ours) == pytest.approx(float(theirs), rel=1e-12)


@given(st.decimals(min_value=-100, max_value=200, places=3))
def test_fahrenheit_agrees_with_pint(degrees: Decimal) -> None:
    theirs = registry().Quantity(degrees, "degF").to("degC").magnitude
    assert float(convert(degrees, "°F", "degC")) == pytest.approx(float(theirs), abs=1e-9)


@given(st.decimals(min_value=1, max_value=20, places=2))
def test_pace_agrees_with_pint(minutes: Decimal) -> None:
    theirs = (1 / registry().Quantity(minutes, "minute / kilometer")).to("meter / second").magnitude
    assert float(convert(minutes, "min/km", "m/s")) == pytest.approx(float(theirs), rel=1e-12)


@given(st.sampled_from(PAIRS), st.decimals(min_value=-9999, max_value=9999, places=4))
def test_units_invert(pair: tuple[str, str], number: Decimal) -> None:
    word, unit = pair
    back = convert(convert(number, word, unit), unit, word)
    assert abs(back - number) <= abs(number) * Decimal("1e-25")


@given(st.decimals(min_value=0, max_value=9999, places=3), st.sampled_from(PAIRS))
def test_conversion_keeps_order(number: Decimal, pair: tuple[str, str]) -> None:
    word, unit = pair
    assert convert(number, word, unit) < convert(number + 1, word, unit)
