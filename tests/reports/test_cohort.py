"""The cohort report: agreement with n and interval, markers, judges, and what it cannot tell."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from footexam.cli_marking import Marked, cohort_output, read_cohort
from footexam.marking.cohort import gather
from footexam.marking.estimate import Estimate, Method, Reason
from footexam.marking.passmark import pass_mark
from footexam.reports.cohort import cohort_report
from footexam.reports.cohort_figures import estimate_words
from footexam.reports.marking_page import Words
from tests.exchange.test_cohort import both
from tests.marking.build import CATALOGUE
from tests.marking.term import angoff, term
from tests.reports.test_feedback import told

RUBRIC = CATALOGUE.rubrics["whole-examination"]


def read(folder: Path, students: int, volunteers: int, *, missing: bool = False) -> Marked:
    files = [*term(students=students, volunteers=volunteers), ("judges.json", angoff())]
    for student in range(1, students + 1):
        files += [(f"m{student}-{at}.json", tree) for at, tree in enumerate(both(student))]
    for name, tree in files:
        if missing and name == "v2-student-03.json":
            del tree["readings"]["lunge-distance"]
        (folder / name).write_text(json.dumps(tree), encoding="utf-8")
    return read_cohort(folder, CATALOGUE, RUBRIC)


def text(marked: Marked, *, anonymous: bool = False) -> str:
    return told(cohort_output(marked, CATALOGUE, "o.pdf", anonymous=anonymous, invented=False))


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Marked:
    return read(tmp_path_factory.mktemp("term"), 6, 3)


@pytest.fixture(scope="module")
def page(marked: Marked) -> str:
    return text(marked)


def test_every_measure_has_figures_with_interval_and_readings(page: str) -> None:
    assert "Lunge, toe to wall 36 (6 × 3)" in page
    assert "ICC(2,1) " in page
    assert "≈85 %)" in page
    assert "one like it held the true value in that share of simulations" in page
    assert "kappa, quadratic" in page
    assert "kappa not computable: no variation" in page


def test_few_volunteers_are_said_to_tell_next_to_nothing(page: str) -> None:
    assert "Only 3 volunteers: an ICC, kappa or alpha over so few says next to nothing" in page
    assert "kappa and alpha have no interval: of 3 volunteers one held" in page


def test_students_among_one_another_by_side(page: str) -> None:
    assert "Left and right of one person are not two persons" in page
    assert "a steady bias counts as disagreement" in page
    assert "3 × 6 left ICC(2,1)" in page
    assert "right Fleiss’ kappa" in page
    assert "left alpha, ordinal" in page
    assert "Nothing varies, so nothing can be computed: In the last two weeks: foot" in page


def test_ten_volunteers_are_enough_to_leave_the_warning_out(tmp_path: Path) -> None:
    found = text(read(tmp_path, 2, 10))
    assert "so few says next to nothing" not in found
    assert "One volunteer only" not in found


def test_one_volunteer_only_is_said(tmp_path: Path) -> None:
    assert "One volunteer only: nothing here tells" in text(read(tmp_path, 3, 1))


def test_missing_readings_are_counted_and_alpha_copes_with_them(tmp_path: Path) -> None:
    found = text(read(tmp_path, 4, 3, missing=True))
    assert "alpha, interval" in found
    assert "readings missing: 1" in found


def test_two_markers_are_told_with_who_marks_harder(page: str) -> None:
    assert "6 examinations of 6 students were marked twice." in page
    assert "against the first: neither is shown to mark harder." in page
    assert "ICC(2,1) of the points" in page
    assert "Same verdict at the pass mark: " in page
    assert "Domain Same mark, 95 % Quadratic kappa, 0–4 Second minus first" in page


def test_judges_round_by_round(marked: Marked, page: str) -> None:
    assert "24.0 of 40 by 3 judges, last of 2 rounds (standard error " in page
    assert "Fewer than 10 judges" in page
    assert "Judge Round 1 Round 2" in page
    assert "Spread between judges (SD)" in page
    hidden = text(marked, anonymous=True)
    assert "Judge 1" not in hidden
    assert "J1 " in hidden


def marks_told(marked: Marked, **changes: object) -> str:
    one = replace(marked.markers[0], **changes)  # type: ignore[arg-type]
    return told(cohort_report(marked.cohort, CATALOGUE, markers=[one]))


def test_markers_without_sums_or_without_a_pass_mark(marked: Marked) -> None:
    assert "In none did both mark every domain." in marks_told(marked, icc=None, difference=None)
    assert "No pass mark is known" in marks_told(marked, same=None)
    harder = Estimate(-2.0, -3.0, -1.0, 6, Method.CROSSED)
    said = marks_told(marked, difference=harder)
    assert "The second marker marks harder: −2.00 (−3.00 to −1.00) points" in said
    milder = Estimate(2.0, 1.0, 3.0, 6, Method.CROSSED)
    assert "marks more mildly: +2.00 (+1.00 to +3.00)" in marks_told(marked, difference=milder)


def test_one_judge_and_none(marked: Marked) -> None:
    reasoning = CATALOGUE.rubrics["reasoning-station"]
    one = pass_mark(reasoning, [], [[[0.6] * 4]])
    one = replace(one, angoff=(replace(one.angoff[0], judges=("Ada",)),))
    found = told(cohort_report(marked.cohort, CATALOGUE, standards=[(reasoning.id, one)]))
    assert "24.0 of 40 by one judge. One judge alone: nobody knows how steady it is." in found
    none = pass_mark(reasoning, [])
    found = told(cohort_report(marked.cohort, CATALOGUE, standards=[(reasoning.id, none)]))
    assert "Not computable. There are no estimates by judges." in found


def test_nothing_to_compare_is_an_empty_report() -> None:
    found = told(cohort_report(gather([]), CATALOGUE))
    assert "Students: 0" in found
    assert "Students among one another" not in found


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (
            Estimate(None, None, None, 1, Method.EXACT, Reason.TOO_FEW),
            "not computable: too few pairs",
        ),
        (Estimate(0.5, None, None, 3, Method.JACKKNIFE, Reason.FEW_UNITS), "0.50 (no interval)"),
        (
            Estimate(1.0, None, None, 9, Method.EXACT, Reason.IDENTICAL),
            "1.00 (no interval: the",
        ),
        (Estimate(0.5, 0.1, 0.8, 9, Method.EXACT), "0.50 (0.10 to 0.80)"),
        (Estimate(0.5, 0.1, 0.8, 9, Method.CROSSED, coverage=0.9), "0.50 (0.10 to 0.80 ≈90"),
        (Estimate(0.5, 0.1, 0.8, 9, Method.CROSSED, coverage=0.93), "0.50 (0.10 to 0.80)"),
    ],
)
def test_a_figure_never_stands_without_its_interval_or_the_reason(one: Estimate, said: str) -> None:
    assert estimate_words(Words(CATALOGUE, "en"), one).startswith(said)
