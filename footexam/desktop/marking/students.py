"""Students in words: the lines of the list, and what stands above a sheet; no Qt."""

from dataclasses import dataclass

from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import say
from footexam.desktop.marking.rubric_rows import Sheet
from footexam.desktop.marking.term import OpenTerm, Student
from footexam.desktop.marking.words import WORDS
from footexam.desktop.patients import short_date
from footexam.marking.rubric import Hand
from footexam.marking.standing import Standing
from footexam.record.examination import Patient
from footexam.record.naming import listed_name

COLUMNS = tuple(WORDS[f"column-{name}"] for name in ("student", "volunteer", "day", "reference"))


@dataclass(frozen=True, slots=True)
class Line:
    """One student's examination in the list; `open` while this marker has something to do."""

    student: Student
    cells: tuple[str, ...]
    open: bool


def lines_of(term: OpenTerm, marker: str) -> list[Line]:
    """All lines, for a marker."""
    return [Line(one, _cells(term, one), _is_open(term, one, marker)) for one in term.students]


def volunteer_words(patient: Patient) -> str:
    """A volunteer by record number and birth date; by name only where there is no number."""
    who = patient.record_number or listed_name(patient.family_name, patient.given_names, "")
    return ", born ".join(filter(None, (who, short_date(patient.birth_date or ""))))


def state_words(term: OpenTerm, student: Student) -> str:
    """How far the marking of an examination is."""
    if student.closed:
        return WORDS[student.closed]
    found = term.standing(student)
    names = {hand: _marker(found, hand) for hand in Hand}
    key = _signed_key(term, student, found) if found.both else _draft_key(found)
    first, second, third = (names[hand] for hand in Hand)
    return WORDS[key].format(first=first, second=second, third=third)


def _cells(term: OpenTerm, student: Student) -> tuple[str, ...]:
    one = student.examination
    by = student.reference.examiner.name if student.reference else ""
    day = short_date(one.examined_on.isoformat())
    who = volunteer_words(one.patient)
    return one.examiner.name, who, day, by, state_words(term, student)


def _is_open(term: OpenTerm, student: Student, marker: str) -> bool:
    if student.closed:
        return False
    hand = term.hand(student, marker)
    if hand is Hand.MODERATION:
        return term.needs_moderation(student)
    return hand is Hand.FIRST and hand not in term.standing(student).signed


def _marker(found: Standing, hand: Hand) -> str:
    marks = found.drafts.get(hand) or found.signed.get(hand)
    return marks.marker if marks else ""


def _signed_key(term: OpenTerm, student: Student, found: Standing) -> str:
    """Both have signed."""
    if Hand.MODERATION in found.signed:
        return "moderated"
    if Hand.MODERATION in found.drafts:
        return "moderation-draft"
    return "needs-moderation" if term.needs_moderation(student) else "both-signed"


def _draft_key(found: Standing) -> str:
    """Not both have signed."""
    steps = [_step(found, hand) for hand in (Hand.FIRST, Hand.SECOND)]
    return _BEFORE_BOTH[steps[0], steps[1]]


def _step(found: Standing, hand: Hand) -> int:
    return 2 if hand in found.signed else 1 if hand in found.drafts else 0


_BEFORE_BOTH = {
    (0, 0): "not-marked",
    (1, 0): "draft",
    (2, 0): "signed",
    (0, 1): "second-begun",
    (1, 1): "both-draft",
    (2, 1): "second-draft",
    (0, 2): "second-only",
    (1, 2): "first-draft",
}
"""By how far the first and the second marker are: nothing, a draft, signed."""


def heads(student: Student, rubric: Rubric, sheet: Sheet, term: OpenTerm) -> tuple[str, str]:
    """Whose examination it is, and by whom and by what it is marked."""
    one = student.examination
    title = WORDS["sheet-of"].format(
        student=one.examiner.name,
        volunteer=volunteer_words(one.patient),
        day=short_date(one.examined_on.isoformat()),
    )
    first, second = (marks.marker for marks in sheet.both) if sheet.both else ("", "")
    hand = WORDS[f"hand-{sheet.marks.hand}"].format(
        marker=sheet.marks.marker, first=first, second=second
    )
    reference = student.reference.examiner.name if student.reference else ""
    told = [WORDS["sheet-by"].format(reference=reference, rubric=say(rubric.label), hand=hand)]
    if sheet.both:
        why = term.standing(student).apart(rubric, sheet.cut)
        if why:
            words = "; ".join(WORDS[f"apart-{one}"] for one in why)
            told.append(WORDS["lie-apart"].format(why=words))
    if sheet.marks.why_changed:
        told.append(WORDS["changes"].format(why=sheet.marks.why_changed))
    return title, "   ".join(told)
