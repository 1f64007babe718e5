"""The feedback document and the cohort report: what must stand on them, and what must not."""

from dataclasses import replace
from typing import Any

import pypdfium2
import pytest

from footexam.marking.cohort import gather
from footexam.marking.compared import Comparison
from footexam.marking.passmark import PassMark, pass_mark
from footexam.marking.rubric import BadMarks, Marks
from footexam.record.examination import Person
from footexam.reports.cohort import cohort_report
from footexam.reports.feedback import feedback
from tests.marking.build import CATALOGUE, compared
from tests.marking.term import exchanged, reference_readings
from tests.reports.hostile import LONG_WORD, MARKUP

RUBRIC = CATALOGUE.rubrics["whole-examination"]
STATION = CATALOGUE.rubrics["measuring-station"]
DANGER = "caution-fever-or-spreading-redness"
STUDENT: dict[str, Any] = {
    "lunge-distance": {"left": 15, "right": 9},
    "fpi-talar-head": {"left": -2, "right": 1},
    "limp": {"both": "no"},
    "activity-kind": ["cycling"],
    "heel-raise-count": {"left": 20},
    "body-height": 180,
    DANGER: "no",
}
REFERENCE: dict[str, Any] = {
    "lunge-distance": {"left": 9, "right": 9},
    "fpi-talar-head": {"left": 2, "right": 1},
    "limp": {"left": "no", "right": "yes"},
    "activity-kind": ["court-sport", "walking"],
    "heel-raise-count": {"left": 27},
    "body-height": 176,
    "body-mass": 80,
    "impression": "A tendon.",
    "caution-cold-pale-foot": "no",
    DANGER: "yes",
}


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    return compared(STUDENT, REFERENCE, limits={"body-height": 1.0})


def told(data: bytes) -> str:
    """All text of a document in one line."""
    document = pypdfium2.PdfDocument(data)
    pages = [document[n].get_textpage().get_text_range() for n in range(len(document))]
    return " ".join(" ".join(pages).split())


def given(mark: int = 3, **more: Any) -> Marks:
    domains = {domain.id: mark for domain in RUBRIC.domains}
    return replace(Marks(RUBRIC.id, "A student", "Ada Marker", domains=domains), **more)


def test_what_did_not_agree_stands_with_its_tolerance(comparison: Comparison) -> None:
    text = told(feedback(comparison, CATALOGUE))
    item = next(one for one in comparison.items if one.key == ("lunge-distance", "left"))
    assert item.beyond is not None
    assert "Lunge, toe to wall, left 15 cm 9 cm +6 cm" in text
    assert "Body height 180 cm 176 cm +4 cm 1 cm (stated) 3 cm" in text
    assert "Talar head, left sign? −2 points +2 points −4 points 1 level 3 points" in text
    assert "Not named: " in text


def test_dangers_come_first_and_the_marker_decides(comparison: Comparison) -> None:
    text = told(feedback(comparison, CATALOGUE))
    assert text.index("A danger sign was missed") < text.index("In short")
    assert "the marker decides" in text
    assert "A sign looks left out or turned: Talar head, left" in text
    assert "Danger questions not asked" in text


def test_counts_and_missing(comparison: Comparison) -> None:
    text = told(feedback(comparison, CATALOGUE))
    assert "Not recorded, without a reason: Body mass" in text
    assert "No error between two examiners is known: Heel raises" in text
    assert "for the marker to read: Impression of the examiner" in text
    assert "with 95 % confidence" in text


def test_the_patient_is_not_named(comparison: Comparison) -> None:
    text = told(feedback(comparison, CATALOGUE, marks=given()))
    assert "Volunteer1" not in text
    assert "V-1" in text
    assert "Marks are kept apart from the patient’s record." in text


def test_without_marks_there_is_room_to_write_them(comparison: Comparison) -> None:
    text = told(feedback(comparison, CATALOGUE))
    assert "(ring one): Fail Borderline Pass Good Excellent." in text
    assert "Seen by the student, date" in text
    assert text.count("Practise:") == len(RUBRIC.domains)
    assert all(domain.anchors[4]["en"] in text for domain in RUBRIC.domains)


def test_with_marks_points_and_grade_stand_apart(comparison: Comparison) -> None:
    marks = given(grade="good", lines=("Good order.", "Repeat the readings."))
    text = told(feedback(comparison, CATALOGUE, marks=marks, cut=60.0))
    assert "75 of 100 points. Global grade, given apart from the points: Good." in text
    assert "Pass mark 60.0 of 100. Passed." in text
    assert "Repeat the readings." in text
    assert "Ada Marker" in text
    assert "Not passed." in told(feedback(comparison, CATALOGUE, marks=marks, cut=80.0))


def test_a_critical_fail_counts_whatever_the_points(comparison: Comparison) -> None:
    marks = given(4, critical=("missed-danger",))
    text = told(feedback(comparison, CATALOGUE, marks=marks, cut=60.0))
    assert "Not passed, whatever the points: A danger sign was missed." in text


def test_marks_that_are_not_whole_are_not_decided(comparison: Comparison) -> None:
    marks = replace(given(), domains={"record": 4})
    text = told(feedback(comparison, CATALOGUE, marks=marks))
    assert "5 points so far; 8 domains have no mark yet." in text
    assert "The pass mark is not known yet. Not decided." in text
    with pytest.raises(BadMarks):
        feedback(comparison, CATALOGUE, marks=replace(given(), grade="splendid"))


def test_another_rubric(comparison: Comparison) -> None:
    text = told(feedback(comparison, CATALOGUE, rubric=STATION))
    assert "Measuring station" in text
    assert "Plan and prescription" not in text


def test_all_alike_and_nothing_at_all() -> None:
    alike = told(feedback(compared(REFERENCE, REFERENCE), CATALOGUE))
    assert "Everything that could be judged agrees." in alike
    assert "Everything that the reference has is there." in alike
    nothing = told(feedback(compared({}, {}), CATALOGUE))
    assert "Nothing in the two examinations could be judged" in nothing
    assert "No reading has a known error" in nothing


def test_exchanged_sides_and_one_person_are_said() -> None:
    readings = reference_readings(1)
    found = compared({name: exchanged(value) for name, value in readings.items()}, readings)
    text = told(feedback(found, CATALOGUE))
    assert "exchanged in the whole examination" in text
    assert "left and right?" in text
    same = replace(found, student=replace(found.student, examiner=Person("A supervisor")))
    assert "nothing was compared blind" in told(feedback(same, CATALOGUE))
    few = compared(
        {"lunge-distance": {"left": 5, "right": 11}}, {"lunge-distance": {"left": 11, "right": 5}}
    )
    assert "Left and right look exchanged: Lunge" in told(feedback(few, CATALOGUE))


def test_reasoning_and_plan_side_by_side() -> None:
    def decided(*hypotheses: str, features: tuple[str, ...] = ()) -> dict[str, Any]:
        return {
            "hypotheses": {"accepted": [{"id": one, "side": "left"} for one in hypotheses]},
            "features": [{"id": one, "side": "left"} for one in features],
        }

    found = compared(
        {DANGER: "no"},
        {DANGER: "yes"},
        student_decisions=decided("rapid-training-progression", features=("heel-lift",)),
        reference_decisions=decided("rapid-training-progression", "metabolic-or-drug-tendon"),
    )
    text = told(feedback(found, CATALOGUE))
    assert "Hypotheses accepted both: " in text
    assert "the reference only: " in text
    assert "Features you only: Heel lift" in text
    assert "A device was planned on a side on which a danger holds it back" in text


@pytest.mark.parametrize("name", [MARKUP, LONG_WORD])
@pytest.mark.parametrize("page", ["A4", "letter"])
def test_hostile_names_do_no_harm(comparison: Comparison, name: str, page: str) -> None:
    student = replace(comparison.student, examiner=Person(name[:200]))
    found = replace(comparison, student=student)
    assert feedback(found, CATALOGUE, page=page).startswith(b"%PDF")
    assert cohort_report(gather([found]), CATALOGUE, page=page).startswith(b"%PDF")


def test_the_same_comparison_gives_the_same_bytes(comparison: Comparison) -> None:
    assert feedback(comparison, CATALOGUE) == feedback(comparison, CATALOGUE)
    cohort = gather([comparison])
    assert cohort_report(cohort, CATALOGUE) == cohort_report(cohort, CATALOGUE)


# --- the cohort


def pair(student: int, lunge: float) -> Comparison:
    readings = {"lunge-distance": {"both": lunge}, "fpi-talar-head": {"both": 1}}
    found = compared(readings, {"lunge-distance": {"both": 9}, "fpi-talar-head": {"both": 1}})
    who = Person(f"Student {student}")
    return replace(found, student=replace(found.student, examiner=who))


def test_a_cohort_shows_examiners_and_figures_with_n_and_interval() -> None:
    cohort = gather([pair(n, 9 + n / 10) for n in range(1, 5)])
    text = told(cohort_report(cohort, CATALOGUE, left_out=["x.json: broken"]))
    assert "Students: 4. Examinations compared: 4. Patients: 1." in text
    assert "x.json: broken" in text
    assert "Student 1 1 4/4 (51–100 %)" in text
    assert "limits" in text
    assert "Talar head 8 (4 × 1) 8/8 (68–100 %) 0 kappa, quadratic not computable" in text
    assert "Differences against means" in text
    assert "No examiner read a measure often enough" in text


def test_an_anonymous_report_names_nobody() -> None:
    cohort = gather([pair(1, 9.5), pair(2, 9.6)])
    text = told(cohort_report(cohort, CATALOGUE, left_out=["Student 1.json"], anonymous=True))
    assert "Student 1" not in text
    assert "S1" in text


def test_one_student_only_is_said() -> None:
    assert "One student only" in told(cohort_report(gather([pair(1, 9.5)]), CATALOGUE))


def test_steady_differences_are_told() -> None:
    twice = gather([pair(1, 15.0), pair(1, 15.5)])
    text = told(cohort_report(twice, CATALOGUE))
    assert "Student 1, Lunge, toe to wall: +6.25 cm on average over 4 readings" in text
    steady = gather([pair(1, 9.0), pair(1, 9.1)])
    assert "No examiner differs steadily in any measure (looks: 1)." in told(
        cohort_report(steady, CATALOGUE)
    )


def test_the_pass_mark_with_all_that_must_be_said_of_it() -> None:
    grades = ["fail", "borderline", "pass", "good", "excellent", "good"]
    marked = [given(m, grade=g) for m, g in zip((0, 1, 2, 3, 4, 2), grades, strict=True)]
    strict = replace(RUBRIC, standard_errors=RUBRIC.points / RUBRIC.points)
    cohort = gather([pair(1, 9.5)])

    def report(rubric: str, mark: PassMark) -> str:
        return told(cohort_report(cohort, CATALOGUE, standards=[(rubric, mark)]))

    text = report(RUBRIC.id, pass_mark(strict, marked))
    assert "by regression on the global grade (n 6, R² " in text
    assert "The grades are taken to stand at 0, 1, 2, 3, 4." in text
    assert "With 1 standard error added by policy" in text
    assert "Fewer than 30 students" in text
    assert "Not computable. Fewer than three students" in report(RUBRIC.id, pass_mark(RUBRIC, []))
    assert "30.0 of 50, fixed beforehand." in report(STATION.id, pass_mark(STATION, []))
