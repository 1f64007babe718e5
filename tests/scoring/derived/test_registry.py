"""Every derived measure of the contract has its formula, on the sides of the contract."""

import csv
from pathlib import Path

import pytest

from footexam.scoring.derived.registry import SIDED, SLOPES, WHOLE, has_formula, work_out
from footexam.scoring.visit import Visit
from footexam.terms import Kind
from tests.scoring.builders import LEFT, examination, measure

with (Path(__file__).parents[2] / "data" / "measures.csv").open(encoding="utf-8") as file:
    DERIVED = {row["id"]: row for row in csv.DictReader(file) if row["kind"] == "derived"}


@pytest.mark.parametrize("name", DERIVED)
def test_every_derived_id_of_the_contract(name: str) -> None:
    sided = DERIVED[name]["sided"] == "yes"
    assert has_formula(measure(name, kind=Kind.DERIVED, sided=sided))
    assert work_out(name, Visit(examination({}), {}), LEFT if sided else None) is None


def test_no_formula_without_a_measure() -> None:
    assert {*SIDED, *WHOLE} == set(DERIVED)
    assert set(SLOPES) <= set(DERIVED)
    assert not has_formula(measure("unheard-of", kind=Kind.DERIVED))
