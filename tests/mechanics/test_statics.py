"""Forces on the foot, the axis and the arch against free bodies that are solved here by numpy."""

from math import cos, hypot, radians, sin, tan

import numpy as np
import pytest

from footexam.mechanics.forefoot import (
    achilles_force_n,
    forefoot_share,
    pitched_share,
    raised_lever_mm,
)
from footexam.mechanics.relief import Layer as Slab
from footexam.mechanics.relief import relieved_share, stiffness_through_tissue
from footexam.mechanics.subtalar import lever_mm, moment_nm
from footexam.mechanics.windlass import truss_tension_n


@pytest.mark.parametrize("centre", [-45, -10, 0, 25, 40, 80, 125])
def test_heel_and_forefoot_carry_the_load(centre: float) -> None:
    """Two supports under one load: forces and moments about the ankle vanish."""
    heel, forefoot, load = 45.0, 125.0, 343.35
    balance = np.array([[1, 1], [-heel, forefoot]])
    _, front = np.linalg.solve(balance, [load, load * centre])
    assert forefoot_share(heel, forefoot, centre) == pytest.approx(front / load)


@pytest.mark.parametrize("pitch", [0, 3.7, 7.3, 17.8])
def test_heel_and_forefoot_over_a_higher_heel(pitch: float) -> None:
    """The contacts are turned about the ankle by a matrix, then balanced."""
    angle = radians(pitch)
    turn = np.array([[cos(angle), sin(angle)], [-sin(angle), cos(angle)]])
    back, front = (turn @ place for place in (np.array([-45, -70]), np.array([125, -70])))
    balance = np.array([[1, 1], [back[0], front[0]]])
    _, share = np.linalg.solve(balance, [1, 40])
    assert pitched_share(45, 125, 70, 40, pitch) == pytest.approx(share)


@pytest.mark.parametrize("raised", [0, 10, 20, 30, 40])
def test_the_foot_on_its_toes(raised: float) -> None:
    """Ground at the heads, tendon behind, joint force free: three equations of the free body."""
    weight, arm = 686.7, 50.0
    angle = radians(raised)
    ahead = 125 * cos(angle) - 70 * sin(angle)
    # unknown: tendon force upwards, joint force across and along; moments about the ankle
    balance = np.array([[0, 1, 0], [1, 0, 1], [-arm, 0, 0]])
    tendon, across, along = np.linalg.solve(balance, [0, -weight, -weight * ahead])
    found = achilles_force_n(weight, raised_lever_mm(125, 70, raised), arm)
    assert found == pytest.approx(tendon)
    assert across == 0
    assert along == pytest.approx(-weight - tendon)  # the ankle carries both


@pytest.mark.parametrize("deviation", [0.0, 16.0, 23.0])
@pytest.mark.parametrize("place", [(25.0, 0.0), (160.0, 25.0), (140.0, -45.0)])
def test_moment_about_the_axis_is_a_vector_product(
    place: tuple[float, float], deviation: float
) -> None:
    """(r x F) along the axis; x forwards, y medial, z up."""
    incline, offset, force = 42.0, -20.0, 100.0
    across, up = radians(deviation), radians(incline)
    axis = np.array([cos(up) * cos(across), cos(up) * sin(across), sin(up)])
    on_axis = np.array([0, offset, 0])
    moment = np.cross(np.array([*place, 0]) - on_axis, np.array([0, 0, force]))
    by_vectors = float(moment @ axis) / 1000
    lever = lever_mm(*place, offset, deviation)
    assert moment_nm(force, lever, incline) == pytest.approx(by_vectors)


@pytest.mark.parametrize("height", [25, 35, 45])
def test_the_arch_as_a_truss(height: float) -> None:
    """Three joints, two members, one tie, three reactions: six equations of equilibrium."""
    load, apex, base = 350.0, 60.0, 160.0
    rear, fore = hypot(apex, height), hypot(base - apex, height)
    # unknown: rear member, fore member (tension), tie, heel x, heel y, head y
    balance = np.array(
        [
            [apex / rear, 0, 1, 1, 0, 0],
            [height / rear, 0, 0, 0, 1, 0],
            [-apex / rear, (base - apex) / fore, 0, 0, 0, 0],
            [-height / rear, -height / fore, 0, 0, 0, 0],
            [0, -(base - apex) / fore, -1, 0, 0, 0],
            [0, height / fore, 0, 0, 0, 1],
        ]
    )
    forces = np.linalg.solve(balance, [0, 0, 0, load, 0, 0])
    assert truss_tension_n(load, apex, base, height) == pytest.approx(forces[2])


@pytest.mark.parametrize("stiffness", [0.0, 0.4, 0.594, 1.0])
def test_relief_is_springs_that_settle_alike(stiffness: float) -> None:
    """A stiff plate on springs as stiff as their shares; one is weakened, the load is the same."""
    shares = np.array([0.26, 0.3, 0.2, 0.14, 0.1])
    springs = shares * np.array([stiffness, 1, 1, 1, 1])
    carried = springs * (600 / springs.sum()) / 600
    assert relieved_share(0.26, stiffness) == pytest.approx(carried[0])


def test_tissue_and_fill_are_springs_in_a_row() -> None:
    def gives(*layers: Slab) -> float:
        stiffness = np.diag([layer.modulus_mpa / layer.thickness_mm for layer in layers])
        return float(np.linalg.solve(stiffness, np.ones(len(layers))).sum())

    tissue, base, fill = Slab(10, 0.3), Slab(6, 2), Slab(6, 0.5)
    found = stiffness_through_tissue(tissue, base, fill)
    assert found == pytest.approx(gives(tissue, base) / gives(tissue, fill))


def test_an_axis_that_is_turned_inwards_takes_the_first_head_to_its_other_side() -> None:
    assert lever_mm(160, 25, -20, 15) > 0 > lever_mm(160, 25, -20, 23)
    assert tan(radians(15.7)) * 160 - 20 == pytest.approx(25, abs=0.1)
