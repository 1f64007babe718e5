"""Bands and units of results."""

import subprocess
import sys

import pytest

from footexam.mechanics.dimensions import WORDS, converted
from footexam.mechanics.formula import INPUTS
from footexam.mechanics.formulas import FORMULAS
from footexam.mechanics.limb import StagingRule, staged_raise
from footexam.mechanics.result import Part, around, around_percent, exactly, spread, weakest
from footexam.mechanics.subtalar import shift_change
from footexam.terms import Provenance
from tests.mechanics.given import figures


def test_a_band_and_its_parts() -> None:
    found = spread(
        lambda a, b, c: a - b + c, a=around(10, 1), b=around_percent(-20, 10), c=exactly(3)
    )
    assert (found.value, found.low, found.high) == (33, 30, 36)
    assert found.parts == (Part("a", 32, 34), Part("b", 31, 35))


def test_nothing_uncertain_no_band() -> None:
    found = spread(lambda a: 2 * a, a=exactly(3))
    assert (found.value, found.low, found.high, found.parts) == (6, 6, 6, ())


def test_the_weakest_provenance() -> None:
    assert weakest(()) is None
    assert weakest((Provenance.PUBLISHED,)) is Provenance.PUBLISHED
    assert weakest(tuple(Provenance)) is Provenance.ESTIMATE
    both = (Provenance.COMMON_PRACTICE, Provenance.PUBLISHED_UNCHECKED)
    assert weakest(both) is Provenance.COMMON_PRACTICE


def test_an_axis_that_may_lie_anywhere_near_has_a_wide_band() -> None:
    near, wide = (shift_change(25, 0, 3, around(-20, e), exactly(16)) for e in (1, 8))
    assert wide.high - wide.low > 5 * (near.high - near.low)


def test_a_raise_within_the_shoe_leaves_nothing_for_the_sole() -> None:
    found = staged_raise(784, 790, StagingRule(1, 4, 9, 5), radiograph=False)
    assert (found.stages_mm, found.in_shoe_mm, found.on_sole_mm) == ((4, 6), 6, 0)


@pytest.mark.parametrize(
    ("value", "unit", "to", "found"),
    [
        (25.4, "mm", "in", 1),
        (180, "deg", "rad", 3.14159265),
        (70, "kg", "lb", 154.3236),
        (0.3, "", "%", 30),
        (1, "MPa", "kPa", 1000),
        (6, "mm", "cm", 0.6),
    ],
)
def test_a_result_in_another_unit(value: float, unit: str, to: str, found: float) -> None:
    assert converted(value, unit, to) == pytest.approx(found)


def test_a_length_is_no_mass_and_a_word_of_nobody_no_unit() -> None:
    with pytest.raises(ValueError, match="“mm” and “kg” measure different things"):
        converted(1, "mm", "kg")
    with pytest.raises(KeyError):
        converted(1, "mm", "9**9**9")


def test_every_unit_of_mechanics_can_be_converted() -> None:
    units = {formula.unit for formula in FORMULAS.values()}
    units |= {unit for _, unit in INPUTS.values()}
    units |= {figure.unit for figure in figures().values()}
    assert units <= set(WORDS)
    for unit in WORDS:
        assert converted(2.5, unit, unit) == pytest.approx(2.5)


def test_mechanics_starts_without_heavy_libraries() -> None:
    """The window imports mechanics at its start; pint comes at first use, numpy and scipy never."""
    code = (
        "import sys, footexam.mechanics.formulas, footexam.mechanics.stack,"
        "footexam.mechanics.dimensions, footexam.mechanics.foam;"
        "print(sorted({'numpy', 'scipy', 'pint', 'PySide6', 'reportlab'} & set(sys.modules)))"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"
