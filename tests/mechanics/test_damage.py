"""What the damage index refuses, and that it is given for a low and a high exponent too."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.mechanics.damage import (
    TISSUES,
    Bout,
    Exponents,
    cumulative_load,
    damage,
    exponents,
    load_of_equal_damage,
)
from footexam.mechanics.energy import energy_availability
from tests.published.cases import forms

BONE = Exponents(4, 6.7, 8)
BOUTS = st.lists(st.builds(Bout, st.floats(0, 1e5), st.floats(0, 3)), max_size=6)


@pytest.mark.parametrize("tissue", TISSUES)
def test_exponents_of_a_tissue_rise(tissue: str) -> None:
    found = exponents(forms().training, tissue)
    assert found.low < found.usual < found.high


@pytest.mark.parametrize("tissue", ["cartilage", "fascia", "fat-pad"])
def test_no_exponent_is_made_up(tissue: str) -> None:
    with pytest.raises(KeyError):
        exponents(forms().training, tissue)


@pytest.mark.parametrize("bout", [Bout(-1, 1), Bout(1, -1)])
def test_nothing_is_negative(bout: Bout) -> None:
    with pytest.raises(ValueError, match="never negative"):
        damage([bout], BONE)


@pytest.mark.parametrize(("cycles", "exponent"), [(0, 6.7), (-1, 6.7), (1, 0), (1, -2)])
def test_no_load_of_equal_damage(cycles: float, exponent: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        load_of_equal_damage(cycles, exponent)


@pytest.mark.parametrize("lean", [0, -1])
def test_no_energy_availability_without_lean_mass(lean: float) -> None:
    with pytest.raises(ValueError, match="fat-free mass"):
        energy_availability(2000, 500, lean)


def test_no_bout_no_damage() -> None:
    assert damage([], BONE).usual == 0
    assert cumulative_load([]) == 0


@given(BOUTS)
def test_above_the_reference_a_higher_exponent_tells_more(bouts: list[Bout]) -> None:
    found = damage([Bout(bout.cycles, 1 + bout.load) for bout in bouts], BONE)
    assert found.low <= found.usual <= found.high


@given(BOUTS, BOUTS)
def test_damage_adds_up(first: list[Bout], second: list[Bout]) -> None:
    both = damage([*first, *second], BONE).usual
    assert both == pytest.approx(damage(first, BONE).usual + damage(second, BONE).usual)


@given(st.floats(0.1, 10), st.floats(1, 12))
def test_equal_damage_is_equal(cycles: float, exponent: float) -> None:
    load = load_of_equal_damage(cycles, exponent)
    same = Exponents(exponent, exponent, exponent)
    assert damage([Bout(cycles, load)], same).usual == pytest.approx(1)
