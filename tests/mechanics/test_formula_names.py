"""The names of formulas that forms/ may use are those that mechanics has."""

from footexam.mechanics.formulas import FORMULAS
from footexam.terms import FORMULAS as NAMES


def test_every_formula_has_its_name_and_every_name_its_formula() -> None:
    assert set(NAMES) == set(FORMULAS)
    assert len(NAMES) == len(FORMULAS)
