"""A whole term as JSON and as tables: agreement, markers, judges; nobody named who asked not to."""

import csv
import json
from dataclasses import replace
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest

from footexam.cli_marking import Marked, read_cohort
from footexam.exchange.cohort import cohort_tree
from footexam.exchange.cohort_tables import TermTables, tables, write_tables
from tests.marking.build import CATALOGUE
from tests.marking.term import angoff, marks, term

RUBRIC = CATALOGUE.rubrics["whole-examination"]
DOMAINS = [domain.id for domain in RUBRIC.domains]
GRADES = ("fail", "borderline", "pass", "good", "excellent")


def both(student: int) -> list[dict[str, Any]]:
    """Two markers of a student, the second a little harder on every other one."""
    mark = student % 5
    one = marks(student, 1, mark, GRADES[mark], DOMAINS)
    one["signed_at"] = "2026-03-05T10:20:00Z"
    other = {**one, "hand": "second", "marker": "Ben Second"}
    other["domains"] = dict.fromkeys(DOMAINS, max(0, mark - student % 2))
    return [one, other]


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Marked:
    folder = tmp_path_factory.mktemp("term")
    files = [*term(students=6, volunteers=3), ("judges.json", angoff())]
    for student in range(1, 7):
        files += [(f"m{student}-{at}.json", tree) for at, tree in enumerate(both(student))]
    for name, tree in files:
        Path(folder / name).write_text(json.dumps(tree), encoding="utf-8")
    found = read_cohort(folder, CATALOGUE, RUBRIC)
    assert found.problems == []
    return found


def tree_of(marked: Marked, *, anonymous: bool = False) -> dict[str, Any]:
    given = marked.cohort, (), marked.standards, marked.markers
    found = cohort_tree(*given, anonymous=anonymous)
    return json.loads(json.dumps(found, allow_nan=False))  # type: ignore[no-any-return]


def item(tree: dict[str, Any], measure: str) -> dict[str, Any]:
    return next(one for one in tree["items"] if one["measure"] == measure)


def test_a_number_has_bias_limits_and_icc_with_the_reference(marked: Marked) -> None:
    one = item(tree_of(marked), "lunge-distance")
    found = one["agreement"]
    assert (found["n"], found["students"], found["volunteers"]) == (36, 6, 3)
    assert found["bias_low"] < found["bias"] < found["bias_high"]
    assert found["lower_low"] < found["lower"] < found["lower_high"]
    assert found["upper_low"] < found["upper"] < found["upper_high"]
    assert found["limits_note"].startswith("approximate: held the true value in 87%")
    assert (found["icc_form"], found["icc"]["interval"], found["icc"]["coverage"]) == (
        *("ICC(2,1)", "crossed"),
        0.85,
    )
    assert one["kappa"] is None
    assert (one["spread"]["n"], one["spread"]["interval"]) == (6, "bootstrap")


def test_a_number_has_icc_and_error_among_students_by_side(marked: Marked) -> None:
    left, right = item(tree_of(marked), "lunge-distance")["among"]
    assert (left["side"], right["side"]) == ("left", "right")
    for one in (left, right):
        assert (one["volunteers"], one["students"], one["gaps"]) == (3, 6, 0)
        assert one["icc"]["n"] == 3
        assert one["icc"]["high"] - one["icc"]["low"] > 0.3
        assert one["sem"]["low"] < one["sem"]["value"] < one["sem"]["high"]
        assert one["fleiss_kappa"] is None
        assert (one["alpha_metric"], one["alpha"]["note"]) == (
            *("interval", "no interval: fewer than 6 subjects"),
        )


def test_levels_and_words_have_kappa_and_alpha(marked: Marked) -> None:
    tree = tree_of(marked)
    talar, limp = item(tree, "fpi-talar-head"), item(tree, "limp")
    assert (talar["kappa"]["weights"], limp["kappa"]["weights"]) == ("quadratic", "unweighted")
    assert talar["among"][0]["alpha_metric"] == "ordinal"
    assert limp["among"][0]["fleiss_kappa"]["value"] is not None
    assert (talar["agreement"], limp["agreement"], limp["spread"]) == (None, None, None)
    cold = item(tree, "caution-cold-pale-foot")
    assert cold["kappa"]["note"] == "not computable: no variation"
    site = item(tree, "complaint-site")
    assert (site["agreement"], site["kappa"], site["among"]) == (None, None, [])


def test_two_markers_and_all_rounds_of_judges(marked: Marked) -> None:
    tree = tree_of(marked)
    (found,) = tree["markers"]
    assert (found["examinations"], found["students"], found["whole"]) == (6, 6, 6)
    assert found["second_minus_first"]["value"] < 0
    assert found["same_verdict"]["n"] == 6
    assert len(found["domains"]) == len(DOMAINS)
    assert {"n", "low", "high"} <= found["domains"][0]["kappa"].keys()
    judged = next(one for one in tree["standards"] if one["standard"] == "angoff")
    assert (judged["cut"], judged["n"]) == (24.0, 3)
    assert judged["low"] < 24 < judged["high"]
    assert judged["warnings"] == ["few-judges"]
    first, last = judged["rounds"]
    assert first["sd_between_judges"] > last["sd_between_judges"]
    assert [one["judge"] for one in last["judges"]] == ["Judge 1", "Judge 2", "Judge 3"]


def test_without_names_judges_and_markers_have_codes(marked: Marked) -> None:
    hidden = json.dumps(tree_of(marked, anonymous=True))
    made = tables(given(marked, anonymous=True))
    told = hidden + b"".join(made.values()).decode()
    for name in ("Student 0", "Judge 1", "Ben Second", "Ada Reference", "Good order", "V-1"):
        assert name not in told
    assert '"J1"' in hidden
    assert b"S1,P1" in made["marks"]
    assert b"S1,,P1" in made["items"]
    assert b",M2," in made["marks"]


def given(marked: Marked, *, anonymous: bool = False) -> TermTables:
    parts = marked.cohort, CATALOGUE, marked.standards, marked.markers, marked.marks
    return TermTables(*parts, anonymous=anonymous)


def rows(made: dict[str, bytes], name: str) -> list[dict[str, str]]:
    text = made[name].decode("utf-8-sig")
    return list(csv.DictReader(StringIO(text, newline="")))


def test_every_table_of_a_term(marked: Marked) -> None:
    made = tables(given(marked))
    lengths = {name: len(rows(made, name)) for name in made}
    assert lengths["examiners"] == 6
    assert lengths["marks"] == 12
    assert lengths["domains"] == 12 * len(DOMAINS)
    assert lengths["passmarks"] == 2
    assert lengths["judges"] == 6
    assert lengths["markers"] == 6 + 3 * len(DOMAINS)
    assert lengths["items"] == sum(len(one.items) for one in marked.cohort.comparisons)
    first = rows(made, "marks")[0]
    assert (first["points"], first["of"], first["counts"], first["hand"]) == (
        *("25", "100", "yes", "first"),
    )
    assert first["verdict"] == "passed"
    assert {row["examiner"] for row in rows(made, "habits")} == {"Student 02"}


def test_agreement_as_a_table_tells_what_each_figure_is_over(marked: Marked) -> None:
    made = rows(tables(given(marked)), "agreement")
    lunge = [row for row in made if row["measure"] == "lunge-distance"]
    named = {(row["between"], row["side"], row["figure"]): row for row in lunge}
    assert {figure for between, _, figure in named if between == "students and reference"} == {
        *("bias", "lower limit", "upper limit", "icc", "spread of errors"),
    }
    icc = named["students", "left", "icc"]
    assert (icc["form"], icc["n"], icc["students"], icc["unit"]) == ("ICC(2,1)", "3", "6", "cm")
    assert float(icc["low"]) < float(icc["value"]) < float(icc["high"])
    assert {row["form"] for row in made if row["figure"] == "kappa"} == {
        *("quadratic", "unweighted", "Fleiss"),
    }


def test_the_archive_is_the_same_each_time_and_holds_plain_tables(marked: Marked) -> None:
    data = write_tables(given(marked))
    assert data == write_tables(given(marked))
    with ZipFile(BytesIO(data)) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == [f"{name}.csv" for name in tables(given(marked))]
        for name in archive.namelist():
            assert archive.read(name).startswith(b"\xef\xbb\xbf")


def test_a_term_without_marks_has_empty_tables_of_them(marked: Marked) -> None:
    bare = replace(given(marked), standards=(), markers=(), marks=())
    made = tables(bare)
    for name in ("marks", "domains", "markers", "passmarks", "judges"):
        assert rows(made, name) == []
        assert made[name].count(b"\r\n") == 1
