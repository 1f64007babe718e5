"""Pass marks against worked figures: the regression, Angoff rounds, what cannot be computed."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from footexam.catalogue.marking import Rubric, Standard
from footexam.catalogue.model import Catalogue
from footexam.marking.passmark import (
    Warn,
    angoff,
    angoff_rounds,
    borderline_regression,
    pass_mark,
)
from footexam.marking.rubric import BadMarks, Marks, Verdict, check_marks, total, verdict

DATA = Path(__file__).parents[1] / "data"
SPACING = (0.0, 1.0, 2.0, 3.0, 4.0)
WORKED_GRADES = (0, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 4)
WORKED_POINTS = (38, 44, 50, 47, 55, 58, 52, 61, 66, 70, 64, 79)


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def whole(catalogue: Catalogue) -> Rubric:
    return catalogue.rubrics["whole-examination"]


@pytest.fixture(scope="module")
def station(catalogue: Catalogue) -> Rubric:
    return catalogue.rubrics["measuring-station"]


def marks(rubric: Rubric, mark: int = 3, **more: object) -> Marks:
    given = {domain.id: mark for domain in rubric.domains}
    return Marks(rubric.id, "A student", "A marker", domains=given, **more)  # type: ignore[arg-type]


@pytest.mark.derived
def test_borderline_regression_of_the_synthetic_station() -> None:
    """Recomputed by statsmodels and by hand."""
    table = rows("borderline_regression_synthetic.csv")
    grades = [float(row["global_rating"]) for row in table]
    points = [float(row["checklist_score"]) for row in table]
    found = borderline_regression(grades, points, 1.0, SPACING)
    assert found.slope == pytest.approx(3.857142857, abs=1e-8)
    assert found.intercept == pytest.approx(10.952380952, abs=1e-8)
    assert found.cut == pytest.approx(14.80952381, abs=1e-8)
    assert found.se == pytest.approx(0.437732769, abs=1e-8)
    assert (found.low, found.high) == (
        pytest.approx(13.834194419, abs=1e-8),
        pytest.approx(15.7848532, abs=1e-8),
    )
    assert found.r_squared == pytest.approx(0.943893, abs=1e-6)
    assert found.residual_sd == pytest.approx(1.112697, abs=1e-6)
    assert (found.group, found.group_mean) == (3, 15.0)
    assert found.warnings == (Warn.SMALL,)


@pytest.mark.derived
def test_the_spacing_of_the_grades_moves_the_cut() -> None:
    table = rows("borderline_regression_synthetic.csv")
    places = (0.0, 0.33, 0.55, 0.77, 1.0)
    grades = [places[int(row["global_rating"])] for row in table]
    points = [float(row["checklist_score"]) for row in table]
    found = borderline_regression(grades, points, 0.33, places)
    assert found.cut == pytest.approx(15.255, abs=5e-4)


@pytest.mark.derived
def test_borderline_regression_of_the_worked_example() -> None:
    found = borderline_regression(WORKED_GRADES, WORKED_POINTS, 1, SPACING)
    assert found.slope == pytest.approx(10.07, abs=0.005)
    assert found.intercept == pytest.approx(36.86, abs=0.005)
    assert found.cut == pytest.approx(46.9, abs=0.05)
    assert found.r_squared == pytest.approx(0.94, abs=0.005)
    assert found.residual_sd == pytest.approx(2.97, abs=0.005)
    assert found.se == pytest.approx(1.17, abs=0.005)
    assert found.cut is not None
    assert found.se is not None
    assert sum(points < found.cut for points in WORKED_POINTS) == 2
    assert sum(points < found.cut + found.se for points in WORKED_POINTS) == 3


@pytest.mark.parametrize(
    ("grades", "points", "warn"),
    [
        ((1, 2), (10, 20), Warn.TOO_FEW),
        ((), (), Warn.TOO_FEW),
        ((2, 2, 2), (10, 20, 30), Warn.NO_SPREAD),
        ((1, 2, 3), (20, 20, 20), Warn.NO_SPREAD),
    ],
)
def test_what_cannot_be_computed_says_so(
    grades: tuple[int, ...], points: tuple[int, ...], warn: Warn
) -> None:
    found = borderline_regression(grades, points, 1)
    assert (found.cut, found.se, found.warnings) == (None, None, (warn,))


def test_points_that_fall_and_grades_that_are_all_above_are_told() -> None:
    found = borderline_regression((2, 3, 4), (30, 20, 15), 1)
    assert {Warn.NOT_RISING, Warn.BEYOND} <= set(found.warnings)


def test_from_thirty_students_on_nothing_is_said_of_their_number() -> None:
    found = borderline_regression([n % 5 for n in range(30)], range(30), 1)
    assert Warn.SMALL not in found.warnings


@pytest.mark.derived
def test_angoff_of_the_synthetic_judges() -> None:
    table = rows("angoff_synthetic.csv")
    estimates = [[float(row[f"item{n}"]) for n in range(1, 13)] for row in table]
    found = angoff(estimates)
    assert found.sums == pytest.approx((7.55, 7.50, 7.65, 7.05, 8.75))
    assert found.cut == pytest.approx(7.7, abs=1e-8)
    assert found.se == pytest.approx(0.281957444, abs=1e-8)
    assert found.low == pytest.approx(6.917161, abs=1e-6)
    assert found.high == pytest.approx(8.482839364, abs=1e-8)
    assert found.trimmed == pytest.approx(7.566666667, abs=1e-8)
    assert found.median == pytest.approx(7.55, abs=1e-8)
    assert (found.of, found.warnings) == (12.0, (Warn.FEW_JUDGES,))


def test_angoff_by_weights_rounds_and_few_judges() -> None:
    first, second = angoff_rounds([[[0.5, 0.7], [0.7, 0.9]], [[0.6, 0.8], [0.6, 0.8]]], [2, 3])
    assert (first.round, second.round) == (1, 2)
    assert first.sums == pytest.approx((3.1, 4.1))
    assert (first.of, first.trimmed) == (5.0, None)
    assert second.se == pytest.approx(0.0)
    assert angoff([[0.5, 0.5]]).warnings == (Warn.ONE_JUDGE,)
    assert angoff([]).cut is None
    assert Warn.FEW_JUDGES not in angoff([[0.5], [0.6]] * 5).warnings
    with pytest.raises(ValueError, match="every judge"):
        angoff([[0.5], [0.5, 0.6]])
    with pytest.raises(ValueError, match="between 0 and 1"):
        angoff([[1.5]])


def test_points_are_weight_times_mark_over_four(whole: Rubric) -> None:
    assert total(whole, marks(whole, 4)).points == 100
    assert total(whole, marks(whole, 3)).points == 75
    part = Marks(whole.id, "A", "B", domains={"technique": 3})
    found = total(whole, part)
    assert (found.points, found.is_complete) == (Decimal(15), False)
    assert "record" in found.missing


def test_a_critical_fail_is_applied_after_the_cut(whole: Rubric) -> None:
    assert verdict(whole, marks(whole), 75.0) is Verdict.PASSED
    assert verdict(whole, marks(whole), 75.1) is Verdict.FAILED
    assert verdict(whole, marks(whole, critical=("missed-danger",)), 10.0) is Verdict.CRITICAL
    assert verdict(whole, marks(whole), None) is Verdict.OPEN
    assert verdict(whole, Marks(whole.id, "A", "B"), 10.0) is Verdict.OPEN


@pytest.mark.parametrize(
    "wrong",
    [
        {"domains": {"charm": 3}},
        {"domains": {"record": 5}},
        {"domains": {"record": True}},
        {"critical": ("late",)},
        {"grade": "splendid"},
    ],
)
def test_marks_that_do_not_fit_are_refused(whole: Rubric, wrong: dict[str, object]) -> None:
    with pytest.raises(BadMarks):
        check_marks(whole, Marks(whole.id, "A", "B", **wrong))  # type: ignore[arg-type]


def test_a_pass_mark_by_each_standard(whole: Rubric, station: Rubric) -> None:
    grades = ["fail", "borderline", "pass", "good", "excellent"]
    graded = [marks(whole, mark, grade=grade) for mark, grade in enumerate(grades)]
    found = pass_mark(whole, graded)
    assert found.cut == pytest.approx(25.0)
    assert found.used == found.cut
    assert found.borderline is not None
    assert found.borderline.spacing == SPACING
    fixed = pass_mark(station, [])
    assert (fixed.cut, fixed.used, fixed.se) == (30.0, 30.0, None)
    assert pass_mark(whole, []).used is None
    falling = [marks(whole, 4 - mark, grade=grade) for mark, grade in enumerate(grades)]
    assert pass_mark(whole, falling).cut is None


def test_one_standard_error_is_added_by_policy_only(whole: Rubric) -> None:
    from dataclasses import replace

    grades = ["fail", "borderline", "pass", "good", "excellent", "good"]
    graded = [marks(whole, m, grade=g) for m, g in zip((0, 1, 2, 3, 4, 2), grades, strict=True)]
    strict = replace(whole, standard_errors=Decimal(1))
    plain, added = pass_mark(whole, graded), pass_mark(strict, graded)
    assert plain.se is not None
    assert plain.used is not None
    assert added.used == pytest.approx(plain.used + plain.se)


def test_an_angoff_cut_is_in_points_of_the_weights(whole: Rubric) -> None:
    from dataclasses import replace

    judged = replace(whole, standard=Standard.ANGOFF)
    estimates = [[0.6] * len(whole.domains), [0.5] * len(whole.domains)]
    assert pass_mark(judged, [], [estimates]).cut == pytest.approx(55.0)
    assert pass_mark(judged, []).cut is None
