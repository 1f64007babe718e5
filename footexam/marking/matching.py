"""Which examinations of a folder belong together: each student's with the reference of that day."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from footexam.marking.pairing import Identity, identity
from footexam.record.examination import Examination
from footexam.terms import Purpose

Named = tuple[str, Examination]
"""The name of a file and what it holds."""


class Left(StrEnum):
    """Why an examination of the folder is not compared."""

    NO_REFERENCE = "cohort-no-reference"
    OTHER_DAY = "cohort-other-day"
    SECOND_REFERENCE = "cohort-second-reference"
    UNUSED_REFERENCE = "cohort-unused-reference"
    NEITHER = "cohort-neither"
    STRUCK_OUT = "mark-struck-out"
    TWICE = "cohort-twice"


@dataclass(frozen=True, slots=True)
class Pair:
    """A student's examination and its reference, with the names of their files."""

    student_name: str
    student: Examination
    reference_name: str
    reference: Examination


@dataclass(frozen=True, slots=True)
class Matched:
    """The pairs in the order of the files, and what was left out with its reason."""

    pairs: tuple[Pair, ...]
    left: tuple[tuple[str, Left], ...]


def match(examinations: Iterable[Named]) -> Matched:
    """Pair by patient and day; the first reference of a patient and day is used.

    An examination for the record is taken for a student's where a reference of that day is there.
    """
    left: list[tuple[str, Left]] = []
    students: list[Named] = []
    references: dict[tuple[Identity, str], Named] = {}
    for name, one in examinations:
        key = identity(one.patient), one.examined_on.isoformat()
        if one.in_error:
            left.append((name, Left.STRUCK_OUT))
        elif one.purpose is not Purpose.REFERENCE:
            students.append((name, one))
        elif key in references:
            left.append((name, Left.SECOND_REFERENCE))
        else:
            references[key] = name, one
    pairs = _paired(students, references, left)
    used = {pair.reference_name for pair in pairs}
    left += [(n, Left.UNUSED_REFERENCE) for n, _ in references.values() if n not in used]
    return Matched(tuple(pairs), tuple(sorted(left)))


def _paired(
    students: Iterable[Named],
    references: dict[tuple[Identity, str], Named],
    left: list[tuple[str, Left]],
) -> list[Pair]:
    """The pairs; students without a reference, or who stand there twice, go to `left`."""
    patients = {who for who, _ in references}
    pairs: list[Pair] = []
    seen = set[tuple[Identity, str, str]]()
    for name, one in students:
        who, day = identity(one.patient), one.examined_on.isoformat()
        own = who, day, one.examiner.name.strip().casefold()
        found = references.get((who, day))
        if found is None:
            left.append((name, _unpaired(one, is_known=who in patients)))
        elif own in seen:
            left.append((name, Left.TWICE))
        else:
            seen.add(own)
            pairs.append(Pair(name, one, *found))
    return pairs


def _unpaired(one: Examination, *, is_known: bool) -> Left:
    """Why an examination has no reference."""
    if one.purpose is not Purpose.STUDENT:
        return Left.NEITHER
    return Left.OTHER_DAY if is_known else Left.NO_REFERENCE
