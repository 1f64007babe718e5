"""Comparisons and cohorts as JSON and as tables; marks as a file of their own."""

import csv
import json
from io import StringIO
from typing import Any

import pytest

from footexam.exchange.cohort import cohort_tree, write_cohort
from footexam.exchange.comparison import comparison_tree, write_comparison
from footexam.exchange.comparison_csv import COLUMNS, write_comparison_csv
from footexam.exchange.examination import BadInput
from footexam.exchange.marks import read_marks, write_marks
from footexam.marking.cohort import gather
from footexam.marking.compared import Comparison
from footexam.marking.passmark import pass_mark
from footexam.marking.rubric import Hand
from tests.marking.build import CATALOGUE, compared
from tests.marking.term import marks as marks_tree

RUBRIC = CATALOGUE.rubrics["whole-examination"]
DOMAINS = [domain.id for domain in RUBRIC.domains]
DANGER = "caution-fever-or-spreading-redness"


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    absent = {"absent": "declined", "reason": "tired"}
    return compared(
        {
            "lunge-distance": {"left": 15, "right": [9, 9.5, 9]},
            "fpi-talar-head": {"left": -2},
            "limp": {"left": "no", "right": absent},
            "allergies": "none-known",
            "impression": "=SUM(A1)",
            "activity-kind": ["cycling"],
            DANGER: "no",
        },
        {
            "lunge-distance": {"left": 9, "right": 9},
            "fpi-talar-head": {"left": 2},
            "limp": {"left": "no", "right": "yes"},
            "allergies": "none-known",
            "impression": "A tendon",
            "activity-kind": ["court-sport"],
            DANGER: "yes",
        },
    )


def test_the_keys_stand_in_a_fixed_order(comparison: Comparison) -> None:
    tree = json.loads(write_comparison(comparison))
    assert list(tree) == [
        "format",
        "version",
        "patient",
        "examined_on",
        "student",
        "reference",
        "one_person",
        "counts",
        "critical",
        "sides_exchanged",
        "items",
        "scales",
        "reasoning",
        "unread",
    ]
    assert (tree["format"], tree["version"]) == ("footexam/comparison", 1)
    assert tree["patient"] == {"record_number": "V-1", "birth_date": "1981-05-21"}
    assert write_comparison(comparison) == write_comparison(comparison)


def test_every_item_says_what_it_was_judged_by(comparison: Comparison) -> None:
    rows = {(one["measure"], one["side"]): one for one in comparison_tree(comparison)["items"]}
    lunge = rows["lunge-distance", "left"]
    assert (lunge["student"], lunge["reference"], lunge["difference"]) == (15.0, 9.0, 6.0)
    assert (lunge["unit"], lunge["outcome"]) == ("cm", "beyond")
    assert lunge["beyond"] == pytest.approx(6.0 - lunge["tolerance"])
    assert rows["fpi-talar-head", "left"]["slip"] == "sign"
    assert rows["limp", "right"]["student"] == {"absent": "declined", "reason": "tired"}
    assert rows["limp", "right"]["outcome"] == "missing-with-reason"
    assert rows["activity-kind", None]["missed"] == ["court-sport"]
    tree = comparison_tree(comparison)
    assert tree["critical"] == ["missed-caution"]
    assert tree["reasoning"]["cautions_missed"][0]["tier"]
    assert tree["unread"] == [{"measure": "impression", "side": None}]
    counts = tree["counts"]
    assert counts["judged"] == counts["agreed"] + counts["apart"]


def test_the_table_has_one_row_an_item_and_runs_no_formula(comparison: Comparison) -> None:
    data = write_comparison_csv([comparison], CATALOGUE)
    assert data.startswith("\ufeff".encode())
    rows = list(csv.DictReader(StringIO(data.decode("utf-8-sig"), newline="")))
    assert tuple(rows[0]) == COLUMNS
    assert len(rows) == len(comparison.items)
    by_measure = {(row["measure"], row["side"]): row for row in rows}
    assert by_measure["lunge-distance", "left"]["difference"] == "6"
    assert by_measure["allergies", ""]["student_value"] == "none-known"
    assert by_measure["activity-kind", ""]["student_value"] == "cycling"
    assert by_measure["limp", "right"]["student_value"] == "declined; tired"
    assert not any(cell.startswith("=") for row in rows for cell in row.values())


def test_an_anonymous_cohort_names_nobody(comparison: Comparison) -> None:
    cohort = gather([comparison])
    known = write_cohort(cohort, ["secret.json: broken"])
    hidden = write_cohort(cohort, ["secret.json: broken"], anonymous=True)
    assert b"A student" in known
    assert b"secret.json" in known
    assert b"A student" not in hidden
    assert b"secret.json" not in hidden
    table = write_comparison_csv([comparison], CATALOGUE, cohort)
    assert b"A student" not in table
    (row, *_) = csv.DictReader(StringIO(table.decode("utf-8-sig"), newline=""))
    assert (row["student"], row["reference_by"], row["record_number"]) == ("S1", "", "P1")


def test_a_cohort_tells_figures_with_n_and_interval(comparison: Comparison) -> None:
    marks = read_marks(json.dumps(marks_tree(1, 1, 3, "good", DOMAINS)).encode(), CATALOGUE.rubrics)
    tree = cohort_tree(gather([comparison]), (), [(RUBRIC.id, pass_mark(RUBRIC, [marks]))])
    assert (tree["format"], tree["comparisons"], tree["students"]) == ("footexam/cohort", 1, 1)
    lunge = next(one for one in tree["items"] if one["measure"] == "lunge-distance")
    assert lunge["agreement"]["n"] == 2
    assert {"low", "high", "n"} <= set(lunge["judged"])
    talar = next(one for one in tree["items"] if one["measure"] == "fpi-talar-head")
    assert (talar["kappa"]["n"], talar["agreement"]) == (1, None)
    (standard,) = tree["standards"]
    assert (standard["cut"], standard["warnings"]) == (None, ["not-computable-too-few"])
    assert (standard["rounds"], tree["markers"]) == ([], [])


# --- marks


def test_marks_are_read_and_written(comparison: Comparison) -> None:
    tree = marks_tree(1, 1, 3, "good", DOMAINS)
    found = read_marks(json.dumps(tree).encode(), CATALOGUE.rubrics)
    assert found.domains == dict.fromkeys(DOMAINS, 3)
    assert read_marks(write_marks(found), CATALOGUE.rubrics) == found
    bare = {key: tree[key] for key in tree if key not in {"domains", "grade", "lines"}}
    again = read_marks(json.dumps(bare).encode(), CATALOGUE.rubrics)
    assert (again.grade, again.domains) == (None, {})
    assert b"grade" not in write_marks(again)
    assert b"marks" not in write_comparison(comparison)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"format": "footexam/examination"}, "does not say that its format"),
        ({"version": 2}, "has version “2”"),
        ({"rubric": "charm"}, "not a rubric"),
        ({"student": ""}, "student"),
        ({"patient": {"name": "x"}}, "patient"),
        ({"patient": []}, "patient"),
        ({"domains": []}, "domains"),
        ({"domains": {"record": 5}}, "0 to 4"),
        ({"domains": {"record": 2.5}}, "0 to 4"),
        ({"domains": {"record": True}}, "0 to 4"),
        ({"domains": {"record": "3"}}, "0 to 4"),
        ({"domains": {"record": None}}, "0 to 4"),
        ({"critical": ["late"]}, "late"),
        ({"critical": "late"}, "critical"),
        ({"grade": "splendid"}, "splendid"),
        ({"grade": 3}, "grade"),
        ({"lines": [1]}, "lines"),
        ({"bonus": 1}, "bonus"),
        ({"hand": "third"}, "hand"),
        ({"hand": ["first"]}, "hand"),
        ({"signed_at": "2026-03-05T10:20:00"}, "signed_at"),
        ({"signed_at": "2026-03-05T10:20:00+01:00"}, "signed_at"),
        ({"signed_at": 5}, "signed_at"),
        ({"signed_at": "Zeit"}, "signed_at"),
    ],
)
def test_marks_that_cannot_be_used_are_refused(change: dict[str, Any], told: str) -> None:
    tree = {**marks_tree(1, 1, 3, "good", DOMAINS), **change}
    with pytest.raises(BadInput, match=told):
        read_marks(json.dumps(tree).encode(), CATALOGUE.rubrics)


def test_the_second_marker_and_a_signature_are_kept() -> None:
    tree = marks_tree(1, 1, 3, "good", DOMAINS)
    signed = {**tree, "hand": "second", "signed_at": "2026-03-05T10:20:00Z"}
    found = read_marks(json.dumps(signed).encode(), CATALOGUE.rubrics)
    assert (found.hand, found.signed_at) == (Hand.SECOND, "2026-03-05T10:20:00Z")
    assert read_marks(write_marks(found), CATALOGUE.rubrics) == found
    plain = read_marks(json.dumps(tree).encode(), CATALOGUE.rubrics)
    assert (plain.hand, plain.signed_at) == (Hand.FIRST, None)
    assert b"hand" not in write_marks(plain)


def test_marks_without_a_student_or_that_are_no_json_are_refused() -> None:
    tree = marks_tree(1, 1, 3, "good", DOMAINS)
    del tree["student"]
    with pytest.raises(BadInput, match="“student” is missing"):
        read_marks(json.dumps(tree).encode(), CATALOGUE.rubrics)
    with pytest.raises(BadInput, match="not JSON"):
        read_marks(b"{", CATALOGUE.rubrics)
