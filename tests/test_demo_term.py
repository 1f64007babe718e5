"""The demo's term: everybody is compared, each habit is found, and marks show every state."""

from pathlib import Path

import pytest

from footexam.catalogue.marking import Seen
from footexam.catalogue.model import Catalogue
from footexam.demo_term import (
    BLIND,
    BRIEF,
    EXCHANGING,
    FOLDER,
    HIGH,
    MARKED,
    STUDENTS,
    TURNING,
    TWICE,
    make_demo_term,
)
from footexam.exchange.term import Term, cohort_of, read_term, standards
from footexam.marking.cohort import Cohort
from footexam.marking.compared import Slip
from footexam.marking.standing import standings
from tests.shipped import shipped


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return shipped()


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory, catalogue: Catalogue) -> list[Path]:
    return make_demo_term(tmp_path_factory.mktemp("demo"), catalogue)


@pytest.fixture(scope="module")
def term(made: list[Path], catalogue: Catalogue) -> Term:
    return read_term(made[0].parent, catalogue)


@pytest.fixture(scope="module")
def cohort(term: Term, catalogue: Catalogue) -> Cohort:
    return cohort_of(term.pairs, catalogue, catalogue.rubrics["whole-examination"])


def test_twelve_students_examine_three_volunteers(made: list[Path], term: Term) -> None:
    assert made[0].parent.name == FOLDER
    assert (len(term.pairs), len(STUDENTS), term.problems) == (36, 12, ())
    assert {pair.student.examiner.name for pair in term.pairs} == set(STUDENTS)
    assert len({pair.reference_name for pair in term.pairs}) == 3


def test_every_habit_is_found_with_its_student(cohort: Cohort) -> None:
    assert {drift.examiner for drift in cohort.drifts} == {STUDENTS[HIGH]}
    critical = {
        one.name: {seen for each in one.comparisons for seen in each.critical}
        for one in cohort.examiners
    }
    assert (
        Seen.WRONG_SIDE in critical[STUDENTS[EXCHANGING]]
    )  # and so the danger is on the wrong one
    assert critical[STUDENTS[BLIND]] == {Seen.MISSED_CAUTION}
    assert [name for name, found in critical.items() if found] == [
        STUDENTS[EXCHANGING],
        STUDENTS[BLIND],
    ]
    missing = {one.name for one in cohort.examiners if one.missing}
    assert missing == {STUDENTS[BRIEF]}
    turned = {one.name for one in cohort.examiners for item in one.items if item.slip is Slip.SIGN}
    assert STUDENTS[TURNING] in turned
    assert turned <= {STUDENTS[TURNING], STUDENTS[EXCHANGING]}  # sides of unlike sign look turned


def test_marks_make_a_pass_mark_and_one_pair_of_markers_lies_apart(
    term: Term, catalogue: Catalogue
) -> None:
    ((rubric, found),) = standards(term.marks, catalogue)
    assert found.borderline is not None
    assert (found.borderline.n, found.used is not None) == (MARKED, True)
    standing = standings(marks for _, marks in term.marks).values()
    both = [one for one in standing if one.both]
    assert len(both) == len(TWICE)
    apart = [one for one in both if one.needs_moderation(catalogue.rubrics[rubric], found.used)]
    assert [one.both[0].student for one in apart if one.both] == [STUDENTS[TWICE[-1]]]


def test_made_again_it_is_the_same_and_marks_given_since_stay(
    made: list[Path], catalogue: Catalogue
) -> None:
    first = {path: path.read_bytes() for path in made}
    marks = next(path for path in made if path.name.startswith("marks-"))
    marks.write_bytes(b"changed since")
    assert make_demo_term(made[0].parents[1], catalogue) == made
    assert {path: path.read_bytes() for path in made} == {**first, marks: b"changed since"}
    marks.unlink()
    make_demo_term(made[0].parents[1], catalogue)
    assert marks.read_bytes() == first[marks]
