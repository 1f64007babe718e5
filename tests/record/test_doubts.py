"""Warn limits ask once and stop nothing."""

from dataclasses import replace
from decimal import Decimal

import pytest

from footexam.catalogue.model import Catalogue, Measure
from footexam.record.doubts import doubt
from footexam.record.examination import Age
from footexam.record.reading import Numbers, Reading, RegionValues, Value, Word
from footexam.terms import Absence

ADULT, CHILD = Age(40, 480), Age(17, 215)


def told(measure: Measure, value: Value | None, age: Age | None = ADULT) -> str | None:
    absent = Absence.DECLINED if value is None else None
    return doubt(Reading(measure.id, None, value, absent=absent), measure, age)


def numbers(*readings: str) -> Numbers:
    return Numbers(tuple(map(Decimal, readings)))


@pytest.mark.parametrize(
    ("name", "readings", "begin"),
    [
        ("lunge-distance", ["2.9"], "2.9 cm lies outside 3 to 20 cm"),
        ("lunge-distance", ["8", "25", "2"], "25 and 2 cm lie outside 3 to 20 cm"),
        ("lunge-distance", ["25", "25"], "25 cm lie outside"),
        ("body-mass-change-6-months", ["8.5"], "8.5 kg lies above 8 kg"),
        ("duration", [str(Decimal(1571) / 3)], "523.666667 weeks lies outside 0 to 520 weeks"),
        ("footprint-arch-index", ["0.4"], "0.4 lies outside 0.02 to 0.37,"),
    ],
)
def test_doubted(catalogue: Catalogue, name: str, readings: list[str], begin: str) -> None:
    why = told(catalogue.measures[name], numbers(*readings))
    assert why is not None
    assert why.startswith(begin)
    assert why.endswith(
        ", the usual span of this measure; the value is kept; look for a slip in number, sign "
        "and unit, or measure again."
    )


@pytest.mark.parametrize(
    ("name", "readings"),
    [
        ("lunge-distance", ["3", "20"]),
        ("body-mass-change-6-months", ["-40"]),
        ("single-leg-stance", ["300"]),
        ("fpi-talar-head", ["2"]),
    ],
)
def test_not_doubted(catalogue: Catalogue, name: str, readings: list[str]) -> None:
    assert told(catalogue.measures[name], numbers(*readings)) is None


def test_adult_limits_are_not_asked_of_a_child_or_at_unknown_age(catalogue: Catalogue) -> None:
    height = catalogue.measures["body-height"]
    assert told(height, numbers("100"), CHILD) is None
    assert told(height, numbers("100"), None) is None
    assert told(height, numbers("100"), Age(18, 216)) is not None


def test_regions_words_and_absences(catalogue: Catalogue) -> None:
    skin = replace(catalogue.measures["skin-temperature"], ask_low=Decimal(20))
    value = RegionValues({"navicular": Decimal(19), "arch-central": Decimal(30)})
    assert str(told(skin, value)).startswith("19 degC lies below 20 degC")
    assert told(skin, Word("warm")) is None
    assert told(skin, None) is None


def test_without_a_unit() -> None:
    from footexam.terms import Depth, Kind

    bare = Measure("n", "p", Kind.QUANTITY, {}, Depth.CORE, {}, {}, ask_high=Decimal(9))
    assert str(told(bare, numbers("10"))).startswith("10 lies above 9, the usual span")
