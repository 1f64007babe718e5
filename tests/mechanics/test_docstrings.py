"""Every formula says what it is: formula, assumptions, reach, class and source."""

import inspect
import re
from collections.abc import Callable
from importlib import import_module

import pytest

from footexam.mechanics.result import Standing

SUBJECTS = (
    "foam",
    "forefoot",
    "insert",
    "lift",
    "limb",
    "relief",
    "rocker",
    "shell",
    "stack",
    "strip",
    "subtalar",
    "thickness",
    "wedge",
    "windlass",
)
UNITS = ("deg", "kg", "kpa", "mm", "mm2", "mm4", "mpa", "n", "nm", "cm2", "cm3", "percent")
PLAIN = {  # numbers without a unit, and inputs that are no numbers
    *("arch_share", "densification", "exponent", "fraction", "head_share", "heel_share"),
    *("least_share", "most_strain", "per_degree", "posture_index", "restraint", "share"),
    *("stiffness", "strain", "times", "before_kpa", "after_kpa", "region", "rule", "trial"),
    *("pieces", "others", "plates", "tissue", "base", "fill", "side", "radiograph", "heavy"),
    *("push_off", "moment_nm_kg", "gravity_n_kg", "sensitivity_mm_rad"),
}


def functions() -> list[tuple[str, Callable]]:
    found = []
    for subject in SUBJECTS:
        module = import_module(f"footexam.mechanics.{subject}")
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and not name.startswith("_"):
                found.append((f"{subject}.{name}", function))
    return found


FUNCTIONS = functions()


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_a_formula_is_explained(name: str, function: Callable) -> None:
    text = inspect.getdoc(function)
    summary, _, rest = text.partition("\n\n")
    assert len(summary.splitlines()) <= 2
    parts = re.match(
        r"(?P<formula>.+?)\nAssumes: (?P<assumes>.+?)\nHolds: (?P<holds>.+?)\n"
        r"Class: (?P<standing>\w+)(?P<how>.*?)\. Source: (?P<source>.+)\.$",
        rest,
        re.DOTALL,
    )
    assert parts, name
    assert re.search(r"[=≤·]|as |Ordered|table", parts["formula"]), name
    assert parts["standing"] in set(Standing)


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_a_number_carries_its_unit_in_its_name(name: str, function: Callable) -> None:
    for parameter in inspect.signature(function).parameters:
        assert parameter in PLAIN or parameter.rsplit("_", 1)[-1] in UNITS, (name, parameter)


def test_there_are_formulas_to_be_explained() -> None:
    assert len(FUNCTIONS) > 60
