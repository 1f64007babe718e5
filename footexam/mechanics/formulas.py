"""All formulas that a feature in forms/ may name, by id."""

from collections.abc import Mapping

from footexam.catalogue.model import Rule
from footexam.mechanics import for_forefoot, for_heel, for_relief, for_shell, for_shoe
from footexam.mechanics.formula import Formula, Inputs, NotGiven, worked_out
from footexam.mechanics.result import Result

FORMULAS: dict[str, Formula] = {
    formula.id: formula
    for formula in (
        *for_heel.FORMULAS,
        *for_shell.FORMULAS,
        *for_forefoot.FORMULAS,
        *for_relief.FORMULAS,
        *for_shoe.FORMULAS,
    )
}


def work_out(formula: str, inputs: Inputs, figures: Mapping[str, Rule]) -> Result | NotGiven:
    """The number of a formula for a person, or why it is not given.

    `inputs` by the names of formula.INPUTS, None where a value is not known; `figures` are
    Catalogue.figures. KeyError for a formula that is not in FORMULAS. Bad input never raises.
    """
    return worked_out(FORMULAS[formula], inputs, figures)
