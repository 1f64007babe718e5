"""The factors of units.py against the definitions of the units.

SP 811: A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units, NIST
Special Publication 811 (2008); Table 6 and Appendix B.8, whose printed factors marked exact and
footnote 22 were read as quoted by others, not in the print itself. 1959: international yard and
pound agreement of six nations, 1 July 1959.
"""

import math
from decimal import Decimal

import pytest

from footexam.units import convert
from tests.published.cases import derived, published, unchecked

EXACT = [
    published("SP 811 B.8, inch 2.54 E-02 m exactly", "in", "mm", "25.4"),
    published("SP 811 B.8, foot 3.048 E-01 m exactly", "ft", "mm", "304.8"),
    published("SP 811 B.8, mile 1.609344 E+03 m exactly", "mi", "m", "1609.344"),
    published("1959 and SP 811 note 22, pound 0.45359237 kg", "lb", "kg", "0.45359237"),
    published("SP 811 Table 6, 1 min = 60 s", "min", "s", "60"),
    published("SP 811 Table 6, 1 h = 3600 s", "h", "s", "3600"),
    published("SP 811 Table 6, 1 d = 86400 s", "day", "s", "86400"),
    derived("1959, 14 pounds", "st", "kg", "6.35029318"),
    derived("SP 811 B.8, mile by hour", "mph", "m/s", "0.44704"),
    derived("mercury 13.5951 g/cm3 x g_n 9.80665 m/s2 x 1 mm", "mmHg", "kPa", "0.133322387415"),
    derived("Gregorian calendar without its century rule, 365.25 d", "year", "days", "365.25"),
    derived("a twelfth of 365.25 d", "month", "days", "30.4375"),
    derived("SI prefixes", "cm", "mm", "10"),
    derived("SI prefixes", "km", "m", "1000"),
    derived("SI prefixes, 1 N/cm2 = 10^4 Pa", "N/cm2", "kPa", "10"),
]


@pytest.mark.parametrize(("source", "word", "unit", "factor"), EXACT)
def test_exact_factors(source: str, word: str, unit: str, factor: str) -> None:
    assert convert(Decimal(1), word, unit) == Decimal(factor), source


@pytest.mark.parametrize(
    ("source", "word", "unit", "printed"),
    [
        # the printed factors are rounded to seven places
        unchecked("SP 811 B.8, 1.333224 E+02 Pa", "mmHg", "kPa", "0.1333224"),
        unchecked("SP 811 B.8, 4.535924 E-01 kg", "lb", "kg", "0.4535924"),
        unchecked("SP 811 B.8, 2.777778 E-01 m/s", "km/h", "m/s", "0.2777778"),
        unchecked("SP 811 B.8, 4.4704 E-01 m/s", "mph", "m/s", "0.4470400"),
    ],
)
def test_printed_factors(source: str, word: str, unit: str, printed: str) -> None:
    places = Decimal(printed)
    assert convert(Decimal(1), word, unit).quantize(places) == places, source


@pytest.mark.parametrize(
    ("source", "word", "unit", "factor"),
    [
        published("SP 811 Table 6, 1 deg = (pi/180) rad", "deg", "rad", math.pi / 180),
        derived("SP 811 Table 6, 1 rad = (180/pi) deg", "rad", "deg", 180 / math.pi),
    ],
)
def test_angles(source: str, word: str, unit: str, factor: float) -> None:
    assert float(convert(Decimal(1), word, unit)) == pytest.approx(factor, rel=1e-15), source


@pytest.mark.parametrize(
    ("source", "fahrenheit", "celsius"),
    [
        # T/K = (t/F + 459.67)/1.8 and T/K = t/C + 273.15
        derived("SP 811 B.8, formulas of temperature", "32", "0"),
        derived("SP 811 B.8, formulas of temperature", "212", "100"),
        derived("SP 811 B.8, formulas of temperature", "98.6", "37"),
        derived("SP 811 B.8, formulas of temperature", "-40", "-40"),
    ],
)
def test_temperatures(source: str, fahrenheit: str, celsius: str) -> None:
    kelvin = (Decimal(fahrenheit) + Decimal("459.67")) / Decimal("1.8")
    assert kelvin - Decimal("273.15") == Decimal(celsius), source
    assert convert(Decimal(fahrenheit), "°F", "degC") == Decimal(celsius), source
