"""An examination and its patient as their journals fold to; values without behaviour."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from footexam.record.reading import Reading, Value
from footexam.record.withdrawn import Withdrawn
from footexam.terms import Purpose, Role, Sex, Side


@dataclass(frozen=True, slots=True)
class Age:
    """Age in completed years and in completed months."""

    years: int
    months: int


@dataclass(frozen=True, slots=True)
class Patient:
    """Who is examined; `birth_date` is YYYY-MM-DD, YYYY-MM, YYYY or None."""

    family_name: str
    given_names: str = ""
    title: str = ""
    record_number: str = ""
    birth_date: str | None = None
    sex: Sex = Sex.UNKNOWN


@dataclass(frozen=True, slots=True)
class Person:
    """An examiner or supervisor; `level` of supervision only for a supervisor."""

    name: str
    role: Role = Role.CLINICIAN
    level: int | None = None


Made = tuple[str, str]
"""Purpose and examiner's name of an examination."""


def is_series(one: Made, other: Made) -> bool:
    """Whether the earlier of two examinations of a patient may be shown beside the later one.

    Both have one purpose, and a student sees only what is the student's own: no reference and no
    other student's readings.
    """
    if one[0] != other[0]:
        return False
    names = {name.strip().casefold() for _, name in (one, other)}
    return one[0] != Purpose.STUDENT or len(names) == 1


@dataclass(frozen=True, slots=True)
class Examination:
    """One visit's examination by one examiner.

    `readings` is keyed by (measure id, side); side None for unsided measures and for caution
    questions answered without a side. `decisions` has the shape of the examination file.
    `amended` says that something was entered behind the last signature, `in_error` that the whole
    visit is struck through. `withdrawn` are answers of yes that were taken back.
    `version` and `head` are the number of entries and the last hash of its journal.
    """

    patient: Patient
    examined_on: date
    examiner: Person
    supervisor: Person | None = None
    purpose: Purpose = Purpose.RECORD
    readings: Mapping[tuple[str, Side | None], Reading] = field(default_factory=dict)
    decisions: Mapping[str, Any] = field(default_factory=dict)
    signed_by: tuple[str, ...] = ()
    version: int = 0
    head: str = ""
    amended: bool = False
    in_error: bool = False
    withdrawn: tuple[Withdrawn, ...] = ()

    def reading(self, measure: str, side: Side | None = None) -> Reading | None:
        """The reading of a measure on a side, absent ones included; None if never entered."""
        return self.readings.get((measure, side))

    def value(self, measure: str, side: Side | None = None) -> Value | None:
        """The value of a measure on a side; None if absent or never entered."""
        reading = self.readings.get((measure, side))
        return reading.value if reading else None

    def age(self) -> Age | None:
        """Age on the day of the examination; None unless the whole birth date is known.

        Born on 29 February: the birthday is 1 March in other years.
        """
        born = self.patient.birth_date
        if born is None or len(born) != len("YYYY-MM-DD"):
            return None
        birth, now = date.fromisoformat(born), self.examined_on
        months = (now.year - birth.year) * 12 + now.month - birth.month
        if now.day < birth.day:
            months -= 1
        return Age(months // 12, months)
