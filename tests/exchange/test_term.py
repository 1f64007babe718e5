"""The folder of a term: which of its marks count, and marks of volunteers without a number."""

import json
from pathlib import Path
from typing import Any

import pytest

from footexam.exchange.marks import read_marks, write_marks
from footexam.exchange.term import cohort_of, read_term, standards, uncounted
from tests.marking.build import CATALOGUE
from tests.marking.term import marks as marks_tree
from tests.marking.term import term

RUBRIC = CATALOGUE.rubrics["whole-examination"]
DOMAINS = [domain.id for domain in RUBRIC.domains]
SIGNED = {"signed_at": "2026-03-05T10:00:00Z"}


def write(folder: Path, name: str, tree: dict[str, Any]) -> None:
    (folder / name).write_text(json.dumps(tree), encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, tree in term(students=4, volunteers=1):
        write(tmp_path, name, tree)
    return tmp_path


def test_a_student_counts_once_however_many_marked(folder: Path) -> None:
    for student, (mark, grade) in enumerate(((1, "fail"), (2, "borderline"), (3, "pass")), 1):
        tree = {**marks_tree(student, 1, mark, grade, DOMAINS), **SIGNED}
        write(folder, f"m{student}.json", tree)
        second = {**tree, "hand": "second", "domains": dict.fromkeys(DOMAINS, 4)}
        write(folder, f"m{student}-second.json", second)
    write(folder, "m4.json", marks_tree(4, 1, 4, "good", DOMAINS))
    term_read = read_term(folder, CATALOGUE)
    assert len(term_read.marks) == 7
    ((_, found),) = standards(term_read.marks, CATALOGUE)
    assert found.borderline is not None
    assert (found.borderline.n, found.cut) == (3, pytest.approx(50.0))
    (line,) = uncounted(term_read.marks)
    assert line.startswith("m4.json: no first marker has signed")


def test_marks_of_a_volunteer_without_a_number_are_matched_by_name(folder: Path) -> None:
    for name, tree in term(students=4, volunteers=1):
        patient = {**tree["patient"], "record_number": "", "given_names": "Ann"}
        write(folder, name, {**tree, "patient": patient})
    read = read_term(folder, CATALOGUE)
    pair = read.pairs[0]
    assert not pair.student.patient.record_number
    who = {"family_name": "Volunteer1", "given_names": "Ann", "birth_date": "1981-05-21"}
    tree = {**marks_tree(1, 1, 3, "good", DOMAINS), "patient": who}
    write(folder, "marks.json", tree)
    found = read_term(folder, CATALOGUE)
    ((_, marks),) = found.marks
    assert found.problems == ()
    assert read_marks(write_marks(marks), CATALOGUE.rubrics) == marks
    write(folder, "marks.json", {**tree, "patient": {**who, "given_names": "Berta"}})
    assert read_term(folder, CATALOGUE).marks == ()


def test_of_400_files_three_are_broken_and_named_and_all_others_compared(tmp_path: Path) -> None:
    files = list(term(students=396, volunteers=1))
    for name, tree in files:
        write(tmp_path, name, tree)
    _, student = files[1]
    stranger = {**student["patient"], "record_number": "V-9"}
    (tmp_path / "x1-damaged.json").write_bytes(json.dumps(student).encode()[:400])
    write(tmp_path, "x2-other-version.json", {**student, "version": 9})
    write(tmp_path, "x3-other-patient.json", {**student, "patient": stranger})
    assert len(list(tmp_path.iterdir())) == 400
    read = read_term(tmp_path, CATALOGUE)
    assert len(cohort_of(read.pairs, CATALOGUE, RUBRIC).comparisons) == 396
    damaged, version, patient = read.problems
    assert damaged.startswith("x1-damaged.json: the file is not JSON")
    assert version.startswith("x2-other-version.json: ")
    assert "version “9”" in version
    assert patient.startswith("x3-other-patient.json: no reference of this patient")


def test_another_day_has_no_reference_and_is_named(folder: Path) -> None:
    _, student = list(term(students=1, volunteers=1))[1]
    write(folder, "later.json", {**student, "examined_on": "2026-03-05"})
    read = read_term(folder, CATALOGUE)
    (line,) = read.problems
    assert line.startswith("later.json: ")
    assert len(read.pairs) == 4
