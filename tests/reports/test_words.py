"""Dates, names, ages and numbers as they stand on paper."""

from datetime import date
from decimal import Decimal

import pytest

from footexam.record.examination import Age, Patient, Person
from footexam.reports.phrases import PHRASES, Phrases
from footexam.reports.words import (
    age_words,
    date_words,
    opened,
    patient_name,
    person_words,
    quantity_words,
    rounded_words,
    time_words,
    with_unit,
)
from footexam.terms import Role
from tests.reports.builders import CATALOGUE

PHRASE = Phrases("en")
FPI = CATALOGUE.measures["fpi-total"]
LUNGE = CATALOGUE.measures["lunge-distance"]
ANKLE = CATALOGUE.measures["ankle-dorsiflexion"]


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (date(2026, 3, 4), "04-Mar-2026"),
        ("1979-08-30", "30-Aug-1979"),
        ("1979-08", "Aug-1979"),
        ("1979", "1979"),
        (None, "Not known"),
    ],
)
def test_dates(day: str | date | None, words: str) -> None:
    assert date_words(day, PHRASE) == words


def test_times_are_of_24_hours_and_say_utc() -> None:
    assert time_words("2026-03-04T17:05:59Z", PHRASE) == "04-Mar-2026 17:05 UTC"


@pytest.mark.parametrize(
    ("patient", "words"),
    [
        (Patient("Okonjo", "Adaeze", "Ms"), "OKONJO, Adaeze (Ms)"),
        (Patient("Łódź"), "ŁÓDŹ"),
        (Patient("", "Ελένη"), "Ελένη"),
        (Patient(""), "Name not known"),
    ],
)
def test_names(patient: Patient, words: str) -> None:
    assert patient_name(patient, PHRASE) == words


def test_people_with_their_role() -> None:
    assert person_words(Person("M. Tau", Role.SUPERVISOR), PHRASE) == "M. Tau (supervisor)"


@pytest.mark.parametrize(
    ("age", "words"),
    [
        (None, ""),
        (Age(0, 1), "1 month"),
        (Age(1, 17), "17 months"),
        (Age(3, 40), "3 years and 4 months"),
        (Age(7, 84), "7 years"),
        (Age(46, 558), "46 years"),
    ],
)
def test_ages(age: Age | None, words: str) -> None:
    assert age_words(age, PHRASE) == words


@pytest.mark.parametrize(
    ("value", "measure", "decimals", "words"),
    [
        ("9", FPI, None, "+9 points"),
        ("0", FPI, None, "0 points"),
        ("-1", FPI, None, "−1 point"),
        ("10.0", LUNGE, None, "10.0 cm"),
        ("3.81", LUNGE, None, "3.81 cm"),
        ("10.71428571", LUNGE, None, "10.7 cm"),
        ("9.333333333", ANKLE, 1, "9.3 deg"),
        ("-6", ANKLE, None, "−6 deg"),
        ("1E+1", ANKLE, None, "10 deg"),
    ],
)
def test_quantities_carry_sign_digits_and_unit(
    value: object, measure: object, decimals: int | None, words: str
) -> None:
    assert quantity_words(Decimal(value), measure, decimals=decimals) == words


def test_differences_take_a_sign() -> None:
    assert quantity_words(Decimal("3.6"), LUNGE, signed=True) == "+3.6 cm"


@pytest.mark.parametrize(
    ("value", "words"), [(1.9, "1.9 cm"), (6.512, "6.51 cm"), (20.0, "20 cm"), (0.005, "0.01 cm")]
)
def test_computed_numbers_are_rounded_half_up(value: object, words: str) -> None:
    assert rounded_words(value, LUNGE) == words


@pytest.mark.parametrize(
    ("digits", "unit", "one", "words"),
    [
        ("2", "grade", False, "grade 2"),
        ("0.48", "ratio", False, "0.48"),
        ("1", "s", True, "1 s"),
        ("1", "answers", True, "1 answer"),
        ("7", "", False, "7"),
    ],
)
def test_units(digits: str, unit: str, one: bool, words: str) -> None:
    assert with_unit(digits, unit, one) == words


def test_opening_a_sentence_leaves_the_rest_alone() -> None:
    assert opened("note: heel JUST down") == "Note: heel JUST down"


def test_an_unknown_language_falls_back_to_english() -> None:
    assert Phrases("xx")("cautions") == "Cautions"
    assert date_words("2026-05-01", Phrases("xx")) == "01-May-2026"


def test_every_phrase_has_english() -> None:
    assert all(texts["en"] or key == "purpose-record" for key, texts in PHRASES.items())
