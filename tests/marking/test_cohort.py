"""A term of students: matching of files, figures by measure and examiner, steady differences."""

import json
from dataclasses import replace
from datetime import date

import pytest

from footexam.assessment import assess
from footexam.exchange.examination import read_examination
from footexam.marking.cohort import Cohort, Share, codes, errors_of, gather
from footexam.marking.compare import compare
from footexam.marking.figures import kappa_of
from footexam.marking.matching import Left, Named, match
from footexam.record.examination import Examination
from footexam.terms import Purpose
from tests.marking.build import CATALOGUE, compared, examination
from tests.marking.term import BIASED, BLIND, SWAPPER, term


def read(files: object = None) -> list[Named]:
    return [
        (
            name,
            read_examination(json.dumps(tree).encode(), CATALOGUE, date(2026, 12, 31)).examination,
        )
        for name, tree in files or term()  # type: ignore[attr-defined]
    ]


def compared_all(named: list[Named]) -> Cohort:
    done: dict[int, object] = {}

    def of(one: Examination) -> object:
        return done.setdefault(id(one), assess(one, CATALOGUE))

    pairs = match(named).pairs
    return gather(
        [
            compare(p.student, of(p.student), p.reference, of(p.reference), CATALOGUE)  # type: ignore[arg-type]
            for p in pairs
        ]
    )


@pytest.fixture(scope="module")
def cohort() -> Cohort:
    return compared_all(read())


def test_a_term_is_matched_by_patient_and_day() -> None:
    found = match(read())
    assert len(found.pairs) == 36
    assert found.left == ()
    assert {pair.reference_name for pair in found.pairs} == {
        f"v{n}-reference.json" for n in (1, 2, 3)
    }


def test_what_does_not_fit_is_left_out_with_its_reason() -> None:
    student, reference = examination({}), examination({}, "reference")
    later = replace(student, examined_on=student.examined_on.replace(day=5))
    stranger = replace(student, patient=replace(student.patient, record_number="V-9"))
    others = replace(reference, patient=replace(reference.patient, record_number="V-8"))
    record = replace(stranger, purpose=Purpose.RECORD)
    found = match(
        [
            ("a", student),
            ("b", reference),
            ("c", replace(reference)),
            ("d", later),
            ("e", stranger),
            ("f", record),
            ("g", others),
            ("h", replace(student)),
            ("i", replace(student, in_error=True)),
        ]
    )
    assert [(pair.student_name, pair.reference_name) for pair in found.pairs] == [("a", "b")]
    assert dict(found.left) == {
        "c": Left.SECOND_REFERENCE,
        "d": Left.OTHER_DAY,
        "e": Left.NO_REFERENCE,
        "f": Left.NEITHER,
        "g": Left.UNUSED_REFERENCE,
        "h": Left.TWICE,
        "i": Left.STRUCK_OUT,
    }


def test_an_examination_for_the_record_counts_beside_a_reference() -> None:
    record = examination({}, "record")
    assert len(match([("a", record), ("b", examination({}, "reference"))]).pairs) == 1


def test_the_biased_examiner_is_found_and_nobody_else_in_those_measures(cohort: Cohort) -> None:
    names = {one.examiner for one in cohort.drifts}
    assert names == {f"Student {BIASED:02}"}
    assert {one.measure.id for one in cohort.drifts} == {
        "ankle-dorsiflexion-knee-straight",
        "ankle-dorsiflexion-knee-bent",
    }
    assert all(one.n == 6 and 6 < one.difference < 10 for one in cohort.drifts)
    assert cohort.looks == 48


@pytest.mark.parametrize("seed", range(5))
def test_steady_examiners_are_rarely_accused(seed: int) -> None:
    """48 looks at students without bias (all but the four with a fault): none in five terms."""
    found = compared_all(read(list(term(students=1, seed=seed))))
    assert found.drifts == ()


def test_exchanged_sides_and_missed_dangers_are_with_their_examiner(cohort: Cohort) -> None:
    critical = {
        one.name: {str(c) for each in one.comparisons for c in each.critical}
        for one in cohort.examiners
    }
    assert critical[f"Student {SWAPPER:02}"] == {"wrong-side"}
    assert critical[f"Student {BLIND:02}"] == {"missed-caution"}
    assert sum(map(bool, critical.values())) == 2


def test_examiners_are_counted(cohort: Cohort) -> None:
    first = cohort.examiners[0]
    assert (first.name, len(first.comparisons)) == ("Student 01", 3)
    assert first.judged.n == first.judged.count + first.apart
    assert first.missing == 0
    assert first.errors.n == 24
    assert first.errors.rms is not None
    assert codes(cohort)["Student 01"] == "S1"


def test_measures_are_gathered_over_students(cohort: Cohort) -> None:
    lunge = next(one for one in cohort.items if one.measure.id == "lunge-distance")
    assert len(lunge.pairs) == 72
    assert lunge.judged.n == 72
    assert lunge.errors.n == 72
    assert lunge.missing == 0


def test_a_share_has_its_interval() -> None:
    """Wilson: 8 of 10 is 0.490 to 0.943."""
    low, high = Share(8, 10).interval or (0.0, 0.0)
    assert (low, high) == (pytest.approx(0.4902, abs=1e-4), pytest.approx(0.9433, abs=1e-4))
    assert Share(8, 10).share == 0.8
    assert (Share(0, 0).share, Share(0, 0).interval) == (None, None)
    assert Share(0, 5).interval == (
        pytest.approx(0.0, abs=1e-12),
        pytest.approx(0.4345, abs=1e-4),
    )


def test_nothing_to_count_is_nothing() -> None:
    assert errors_of([]).rms is None
    assert (gather([]).looks, gather([]).drifts) == (0, ())


def test_one_student_only() -> None:
    found = gather([compared({"lunge-distance": {"left": 9}}, {"lunge-distance": {"left": 8}})])
    assert (len(found.examiners), found.looks) == (1, 0)
    assert found.items[0].judged.n == 1


# --- figures


def test_kappa_is_over_all_levels() -> None:
    found = kappa_of([(0, 0), (1, 1), (0, 1), (1, 0), (1, 1)], (-2, -1, 0, 1, 2))
    assert found.n == 5
    assert found.value is not None
    assert kappa_of([], (0, 1)).note == "not computable: too few pairs"
    assert kappa_of([(1, 1), (1, 1)], (0, 1)).note == "not computable: no variation"


def test_an_interval_that_covers_too_little_says_so() -> None:
    from footexam.marking.estimate import Estimate, Method
    from footexam.marking.figures import note_of

    found = Estimate(0.5, 0.1, 0.8, 12, Method.LARGE_SAMPLE, coverage=0.9)
    assert note_of(found) == "approximate: held the true value in 90% of simulations"
