"""A term as the window holds it: who is to be marked, by whose marks, and what may be seen."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import Catalogue
from footexam.exchange.marks_files import MarksFiles
from footexam.exchange.term import Term, compared, standards
from footexam.marking.compared import Comparison
from footexam.marking.matching import Left
from footexam.marking.pairing import ExaminedKey, examined_key, identity
from footexam.marking.passmark import pass_mark
from footexam.marking.rubric import Hand, Marks
from footexam.marking.standing import Standing, standings
from footexam.record.examination import Examination
from footexam.store.layout import STORED

_LISTED = {Left.NO_REFERENCE: "no-reference", Left.OTHER_DAY: "other-day"}
"""Students whose examination has no pair, and how the list says so."""


@dataclass(frozen=True, slots=True)
class Student:
    """A student's examination, its reference, and the names that both are found by."""

    name: str
    examination: Examination
    reference_name: str = ""
    reference: Examination | None = None
    why_alone: str = ""
    key: ExaminedKey = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "key", examined_key(self.examination))

    @property
    def closed(self) -> str:
        """Why the reference may not be shown beside it; "" if it may.

        A file that was handed in counts as signed; an examination of the store is signed in it.
        """
        if self.reference is None:
            return self.why_alone
        if not _is_signed(self.name, self.examination):
            return "student-unsigned"
        return "" if _is_signed(self.reference_name, self.reference) else "reference-unsigned"


def _is_signed(name: str, examination: Examination) -> bool:
    return not name.startswith(STORED) or bool(examination.signed_by)


class OpenTerm:
    """The examinations and marks of a term. Marks go to files; nothing else is ever written."""

    def __init__(self, catalogue: Catalogue, term: Term, files: MarksFiles) -> None:
        self.catalogue = catalogue
        self.term = term
        self.files = files
        self.students = tuple(sorted(_students(term), key=_order))
        self._follow()

    def _follow(self) -> None:
        """Take up what the files of marks hold now."""
        marks = self.files.all
        self._standings = standings(one for _, one in marks)
        found = standards(marks, self.catalogue, self.term.judged)
        self._cuts = {name: one.used for name, one in found}

    def standing(self, student: Student) -> Standing:
        """The marks of a student's examination."""
        return self._standings.get(student.key, Standing())

    def cut(self, rubric: Rubric) -> float | None:
        """The pass mark in points; None while it is not known."""
        if rubric.id in self._cuts:
            return self._cuts[rubric.id]
        return pass_mark(rubric, ()).used

    def rubric_of(self, student: Student, chosen: str) -> Rubric:
        """The rubric of the marks that there are, else the one that is chosen."""
        found = self.standing(student)
        for hand in Hand:
            marks = found.signed.get(hand) or found.drafts.get(hand)
            if marks is not None:
                return self.catalogue.rubrics[marks.rubric]
        return self.catalogue.rubrics[chosen]

    def needs_moderation(self, student: Student) -> bool:
        """Whether two markers lie apart and have not agreed yet."""
        found = self.standing(student)
        if found.both is None:
            return False
        rubric = self.catalogue.rubrics[found.both[0].rubric]
        return found.needs_moderation(rubric, self.cut(rubric))

    def compare(self, student: Student, rubric: Rubric) -> Comparison:
        """The comparison; only of a student that is not closed."""
        if student.reference is None or student.closed:
            raise ValueError(student.closed)
        return compared(student.examination, student.reference, self.catalogue, rubric)

    # --- whose marks

    def hand(self, student: Student, marker: str) -> Hand | None:
        """Whose marks this marker gives; None for a third one before two have signed."""
        found = self.standing(student)
        if found.both is not None:
            return Hand.MODERATION
        for hand in (Hand.FIRST, Hand.SECOND):
            taken = found.drafts.get(hand) or found.signed.get(hand)
            if taken is None or _is_one(taken.marker, marker):
                return hand
        return None

    def marks(self, student: Student, hand: Hand, marker: str, rubric: Rubric) -> Marks:
        """The marks to go on with: the draft, else what is signed, else none yet."""
        found = self.standing(student)
        there = found.drafts.get(hand) or found.signed.get(hand)
        if there is not None:
            return there
        made = Marks(
            rubric.id,
            student.examination.examiner.name,
            marker,
            identity(student.examination.patient),
            student.examination.examined_on.isoformat(),
            hand=hand,
        )
        return _agreed(made, *found.both) if found.both and hand is Hand.MODERATION else made

    def save(self, marks: Marks) -> None:
        """Write marks. Raises OSError and MarksChanged; nothing is then written."""
        self.files.save(marks)
        self._follow()


def now_signed(marks: Marks) -> Marks:
    """The marks with the time of their signature."""
    return replace(marks, signed_at=f"{datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ}")


def _is_one(name: str, other: str) -> bool:
    return name.strip().casefold() == other.strip().casefold()


def _agreed(made: Marks, first: Marks, second: Marks) -> Marks:
    """Marks to be agreed on; where both gave the same, it stands already."""
    same = {name: mark for name, mark in first.domains.items() if second.domains.get(name) == mark}
    critical = tuple(one for one in first.critical if one in second.critical)
    grade = first.grade if first.grade == second.grade else None
    return replace(made, domains=same, critical=critical, grade=grade)


def _students(term: Term) -> Iterator[Student]:
    for pair in term.pairs:
        yield Student(pair.student_name, pair.student, pair.reference_name, pair.reference)
    examinations = dict(term.examinations)
    for name, why in term.left:
        if why in _LISTED:
            yield Student(name, examinations[name], why_alone=_LISTED[why])


def _order(student: Student) -> tuple[str, str, str]:
    one = student.examination
    day, number = one.examined_on.isoformat(), one.patient.record_number
    return one.examiner.name.casefold(), day, number
