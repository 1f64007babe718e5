"""Judges' estimates as a file: read whole or refused with what to mend; used by the term."""

import json
from pathlib import Path
from typing import Any

import pytest

from footexam.exchange.angoff import read_angoff
from footexam.exchange.examination import BadInput
from footexam.exchange.term import read_term, standards
from tests.marking.build import CATALOGUE
from tests.marking.term import angoff, marks, term

JUDGE = {"name": "Ada", "estimates": dict.fromkeys(("reasoning", "plan"), 0.5)}


def read(tree: Any) -> Any:
    return read_angoff(json.dumps(tree).encode(), CATALOGUE.rubrics, "a.json")


def test_a_file_is_read_as_it_stands() -> None:
    found = read(angoff())
    assert (found.rubric, len(found.rounds)) == ("reasoning-station", 2)
    assert [judge.name for judge in found.rounds[0]] == ["Judge 1", "Judge 2", "Judge 3"]
    assert found.rounds[1][2].estimates["plan"] == 0.65


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"format": "footexam/marks"}, "does not say that its format is footexam/angoff"),
        ({"version": 2}, "has version “2”"),
        ({"rubric": "charm"}, "“charm” is not a rubric"),
        ({"rubric": "whole-examination"}, "“whole-examination” does not come from judges"),
        ({"bonus": 1}, "bonus"),
        ({"rounds": []}, "rounds"),
        ({"rounds": "two"}, "rounds"),
        ({"rounds": ["one"]}, "cannot be used: one"),
        ({"rounds": [{"judges": []}]}, "judges"),
        ({"rounds": [{"judges": [], "talked": True}]}, "talked"),
        ({"rounds": [{}]}, "judges"),
        ({"rounds": [{"judges": [{**JUDGE, "mood": "good"}]}]}, "mood"),
        ({"rounds": [{"judges": [{"name": "Ada"}]}]}, "estimates"),
        ({"rounds": [{"judges": [{**JUDGE, "name": ""}]}]}, "name"),
        ({"rounds": [{"judges": [{**JUDGE, "name": 5}]}]}, "name"),
        ({"rounds": [{"judges": [{**JUDGE, "estimates": [0.5]}]}]}, "estimates"),
        ({"rounds": [{"judges": [JUDGE]}]}, "for “communication” is missing"),
    ],
)
def test_what_cannot_be_used_is_refused(change: dict[str, Any], told: str) -> None:
    with pytest.raises(BadInput, match=told) as refused:
        read({**angoff(), **change})
    assert len(refused.value.problems) == 1
    assert str(refused.value.problems[0]).startswith("a.json: ")


@pytest.mark.parametrize("wrong", [-0.1, 1.01, "0.5", None, True, [0.5]])
def test_an_estimate_is_a_number_from_0_to_1(wrong: Any) -> None:
    tree = angoff()
    tree["rounds"][0]["judges"][0]["estimates"]["plan"] = wrong
    with pytest.raises(BadInput, match="“plan” is not a number from 0 to 1"):
        read(tree)


def test_a_damaged_file_is_refused() -> None:
    for data in (b"{", json.dumps([1]).encode(), b"\xff"):
        with pytest.raises(BadInput):
            read_angoff(data, CATALOGUE.rubrics)
    missing = angoff()
    del missing["rounds"]
    with pytest.raises(BadInput, match="“rounds” is missing"):
        read(missing)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, tree in [*term(students=3, volunteers=1), ("judges.json", angoff())]:
        (tmp_path / name).write_text(json.dumps(tree), encoding="utf-8")
    return tmp_path


def test_a_term_takes_its_pass_mark_from_the_judges(folder: Path) -> None:
    read = read_term(folder, CATALOGUE)
    assert read.problems == ()
    ((name, found),) = standards(read.marks, CATALOGUE, read.judged)
    assert (name, found.standard) == ("reasoning-station", "angoff")
    assert found.cut == pytest.approx(24.0)
    domains = ["reasoning", "plan", "communication", "record"]
    given = {**marks(1, 1, 3, "good", domains), "rubric": "reasoning-station"}
    given["signed_at"] = "2026-03-05T10:20:00Z"
    (folder / "m.json").write_text(json.dumps(given), encoding="utf-8")
    again = read_term(folder, CATALOGUE)
    ((name, found),) = standards(again.marks, CATALOGUE, again.judged)
    assert found.cut == pytest.approx(24.0)
    ((name, found),) = standards(again.marks, CATALOGUE)
    assert found.cut is None


def test_a_second_file_for_a_rubric_and_a_broken_one_are_named(folder: Path) -> None:
    (folder / "kudges.json").write_text(json.dumps(angoff()), encoding="utf-8")
    (folder / "ludges.json").write_text(json.dumps({**angoff(), "rounds": []}), encoding="utf-8")
    read = read_term(folder, CATALOGUE)
    second, broken = sorted(read.problems)
    assert second.startswith("kudges.json: another file of estimates for “reasoning-station”")
    assert broken.startswith("ludges.json: the judges’ estimates cannot be used: rounds")
    assert len(read.judged) == 1
    assert len(read.pairs) == 3
