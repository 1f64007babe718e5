"""Two markers: kappa by domain over all marks, points, verdicts; who marks harder."""

from dataclasses import replace

import numpy as np
import pytest
from sklearn.metrics import cohen_kappa_score

from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import Catalogue
from footexam.marking.cohort import Share
from footexam.marking.estimate import Reason
from footexam.marking.icc import Form, icc
from footexam.marking.markers import Markers, markers
from footexam.marking.rubric import Hand, Marks
from tests.marking.cohorts import SEED

NAME = "measuring-station"
SIGNED = "2026-03-05T10:20:00Z"


@pytest.fixture(scope="module")
def rubric(catalogue: Catalogue) -> Rubric:
    return catalogue.rubrics[NAME]


def given(student: int, hand: Hand, marks: dict[str, int], volunteer: int = 1) -> Marks:
    who = (f"V-{volunteer}", "1981-05-21")
    marker = "Ada" if hand is Hand.FIRST else "Ben"
    return Marks(
        NAME, f"Student {student}", marker, who, "2026-03-04", marks, hand=hand, signed_at=SIGNED
    )


def both(rubric: Rubric, students: int, harder: int = 1, volunteers: int = 1) -> list[Marks]:
    """Every domain by two; the second gives `harder` marks less now and then."""
    rng = np.random.default_rng(SEED)
    found = []
    for student in range(students):
        for volunteer in range(1, volunteers + 1):
            first = {d.id: int(rng.integers(1, 5)) for d in rubric.domains}
            second = {d: max(0, m - harder * int(rng.integers(0, 2))) for d, m in first.items()}
            found.append(given(student, Hand.FIRST, first, volunteer))
            found.append(given(student, Hand.SECOND, second, volunteer))
    return found


def only(marks: list[Marks], rubric: Rubric, cut: float | None = 30.0) -> Markers:
    (found,) = markers(marks, {NAME: rubric}, {NAME: cut})
    return found


def test_each_domain_has_kappa_over_all_marks(rubric: Rubric) -> None:
    marks = both(rubric, 20)
    found = only(marks, rubric)
    assert (found.examinations, found.students, found.whole) == (20, 20, 20)
    assert [one.domain for one in found.domains] == [d.id for d in rubric.domains]
    for one in found.domains:
        first, second = ([m.domains[one.domain] for m in marks[at::2]] for at in (0, 1))
        levels = list(range(5))
        expected = cohen_kappa_score(first, second, labels=levels, weights="quadratic")
        pairs = list(zip(first, second, strict=True))
        assert one.kappa.value == pytest.approx(expected)
        assert one.kappa.n == 20
        assert one.kappa.low is not None
        assert one.same == Share(sum(a == b for a, b in pairs), 20)
        assert one.difference.value == pytest.approx(np.mean([b - a for a, b in pairs]))


def points(marks: list[Marks], rubric: Rubric) -> np.ndarray:
    sums = [sum(float(d.weight) * m.domains[d.id] / 4 for d in rubric.domains) for m in marks]
    return np.array(sums).reshape(-1, 2)


def test_points_of_both_and_who_marks_harder(rubric: Rubric) -> None:
    marks = both(rubric, 20)
    found = only(marks, rubric)
    sums = points(marks, rubric)
    assert found.icc is not None
    assert found.difference is not None
    assert found.icc.value == pytest.approx(icc(sums)[Form.AGREEMENT].estimate().value)
    assert found.difference.value == pytest.approx(float((sums[:, 1] - sums[:, 0]).mean()))
    assert found.difference.value < 0
    wide = 2.093024 * (sums[:, 1] - sums[:, 0]).std(ddof=1) / 20**0.5
    assert found.difference.high == pytest.approx(found.difference.value + wide, rel=1e-6)


def test_verdicts_at_the_pass_mark(rubric: Rubric) -> None:
    marks = both(rubric, 20)
    sums = points(marks, rubric) >= 30
    found = only(marks, rubric)
    assert found.same == Share(int((sums[:, 0] == sums[:, 1]).sum()), 20)
    assert found.verdicts is not None
    assert found.verdicts.value == pytest.approx(cohen_kappa_score(sums[:, 0], sums[:, 1]))
    failed = [replace(marks[0], critical=("missed-danger",)), *marks[1:]]
    assert only(failed, rubric).same != found.same
    without = only(marks, rubric, cut=None)
    assert (without.same, without.verdicts) == (None, None)
    assert without.icc == found.icc


def test_marks_of_one_student_stay_together(rubric: Rubric) -> None:
    found = only(both(rubric, 6, volunteers=3), rubric)
    assert (found.examinations, found.students) == (18, 6)
    assert found.difference is not None
    assert found.difference.n == 18


def test_one_examination_and_equal_marks_say_why_there_is_no_interval(rubric: Rubric) -> None:
    one = only(both(rubric, 1), rubric)
    assert one.difference is not None
    assert one.difference.reason is Reason.TOO_FEW
    alike = only(both(rubric, 5, harder=0), rubric)
    assert alike.difference is not None
    assert (alike.difference.value, alike.difference.reason) == (0.0, Reason.IDENTICAL)


def test_what_is_not_whole_counts_where_it_can(rubric: Rubric) -> None:
    marks = both(rubric, 3)
    part = [replace(one, domains={"technique": one.domains["technique"]}) for one in marks]
    found = only(part, rubric)
    assert [one.domain for one in found.domains] == ["technique"]
    assert (found.whole, found.icc, found.same) == (0, None, None)
    mixed = only([*marks[:4], *part[4:]], rubric)
    assert mixed.whole == 2


def test_only_two_signed_marks_by_one_rubric_are_compared(rubric: Rubric) -> None:
    first, second = both(rubric, 1)
    alone = {NAME: rubric}, {NAME: 30.0}
    assert markers([first], *alone) == ()
    assert markers([first, replace(second, signed_at=None)], *alone) == ()
    assert markers([first, replace(second, rubric="whole-examination")], *alone) == ()
    agreed = replace(first, hand=Hand.MODERATION)
    assert len(markers([first, second, agreed], *alone)) == 1
