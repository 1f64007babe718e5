"""One examination as scoring reads it: numbers as means of repeats, words, and the person."""

from collections.abc import Container, Mapping
from dataclasses import dataclass
from decimal import Decimal

from footexam.catalogue.model import Measure, Rule
from footexam.record.examination import Age, Examination
from footexam.record.reading import Numbers, Reading, Sites, Text, Value, Word
from footexam.terms import Sex, Side

Key = tuple[str, Side | None]
"""A measure id and a side; None for an unsided measure or a side not stated."""

ADULT_FROM = 18
"""Completed years from which a norm without ages holds (S12)."""


@dataclass(frozen=True, slots=True)
class Person:
    """What chooses a norm group: sex, age, and the answers that some groups ask for.

    `minor` is True where even a partial birth date shows an age under 18. `answers` holds the
    words of the measures that groups need, in a fixed order.
    """

    sex: Sex
    age: Age | None
    minor: bool
    answers: tuple[tuple[str, str | None], ...] = ()


def person(examination: Examination, needed: tuple[str, ...] = ()) -> Person:
    """The person examined, with the answers to the measures needed."""
    answers = tuple((measure, word(examination.value(measure))) for measure in needed)
    age = examination.age()
    return Person(examination.patient.sex, age, _minor(examination, age), answers)


def _minor(examination: Examination, age: Age | None) -> bool:
    """Whether the person is certainly under 18."""
    born = examination.patient.birth_date
    if age is not None:
        return age.years < ADULT_FROM
    return born is not None and examination.examined_on.year - int(born[:4]) < ADULT_FROM


def word(value: Value | None) -> str | None:
    """The word of a choice, of a yes or no, or of a yes or no with its sites; else None."""
    return value.word if isinstance(value, Word | Sites) else None


def mean(readings: tuple[Decimal, ...], best: bool = False) -> Decimal:
    """The mean of the repeats, unrounded; the highest where the panel says best of."""
    if len(readings) == 1:
        return readings[0]
    return max(readings) if best else sum(readings, Decimal()) / len(readings)


class Visit:
    """Look-ups in one examination for the formulas of derived measures.

    A sided question answered without a side counts for both sides.
    """

    __slots__ = ("_measures", "_method_asked", "_readings", "examination")

    def __init__(
        self,
        examination: Examination,
        measures: Mapping[str, Measure],
        method_asked: Container[str] = (),
    ) -> None:
        """Readings of an examination, with the measures of the catalogue.

        `method_asked` are the measures whose method has a question of its own.
        """
        self.examination = examination
        self._readings = examination.readings
        self._measures = measures
        self._method_asked = method_asked

    def reading(self, measure: str, side: Side | None = None) -> Reading | None:
        """The reading of that side, else the one without a side; absent ones included."""
        found = self._readings.get((measure, side))
        if found is None and side is not None:
            return self._readings.get((measure, None))
        return found

    def value(self, measure: str, side: Side | None = None) -> Value | None:
        """The value of that side, else the one without a side; None if absent or not recorded."""
        found = self.reading(measure, side)
        return None if found is None else found.value

    def word(self, measure: str, side: Side | None = None) -> str | None:
        """The word recorded; None if absent or not recorded."""
        return word(self.value(measure, side))

    def text(self, measure: str, side: Side | None = None) -> str | None:
        """The text recorded; None if absent or not recorded."""
        value = self.value(measure, side)
        return value.text if isinstance(value, Text) else None

    def number(self, measure: str, side: Side | None = None) -> Decimal | None:
        """The mean (or best) of the readings in the measure's unit; None without any."""
        value = self.value(measure, side)
        if not isinstance(value, Numbers):
            return None
        readings = value.readings
        if len(readings) == 1:
            return readings[0]
        return mean(readings, self._measures[measure].best)

    def figure(self, measure: str, rule: str) -> Decimal:
        """A number of a derived measure's rule, in its unit; KeyError where forms/ gives none."""
        at = self.rule(measure, rule).at
        if at is None:
            raise KeyError(f"the rule {rule} of {measure} is no number")
        return at

    def rule(self, measure: str, rule: str) -> Rule:
        """One line of a derived measure's rule; KeyError where forms/ gives none of that name."""
        return self._measures[measure].rule(rule)

    def repeats(self, measure: str, side: Side | None = None) -> int:
        """How many readings the number rests on; 0 without any."""
        value = self.value(measure, side)
        return len(value.readings) if isinstance(value, Numbers) else 0

    def method(self, measure: str, side: Side | None = None) -> str | None:
        """The method of the reading, else the answer to the measure's own method question."""
        found = self.reading(measure, side)
        return None if found is None else self.method_of(found)

    def method_of(self, reading: Reading) -> str | None:
        """The method of a reading in hand, else the answer to the measure's method question."""
        if reading.method or reading.measure not in self._method_asked:
            return reading.method or None
        return self.word(f"{reading.measure}-method", reading.side)

    def shared_method(self, measures: tuple[str, ...], side: Side | None) -> str | None:
        """The method that all these readings share; None where they have none or differ."""
        methods = {self.method(measure, side) for measure in measures}
        return methods.pop() if len(methods) == 1 else None
