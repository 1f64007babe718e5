"""What mechanics refuses: each refusal is a sentence of what is wrong and what to do."""

import string
from functools import partial
from math import inf, nan

import pytest

from footexam.mechanics.foam import foam_strain, loaded_thickness_mm, set_thickness_mm
from footexam.mechanics.forefoot import forefoot_share, leaning_centre_mm, raised_lever_mm
from footexam.mechanics.lift import cut_height_mm, lever_measured_mm, lift_height_mm
from footexam.mechanics.limb import StagingRule, staged_mm, staged_raise
from footexam.mechanics.reach import REFUSALS, OutOfReach, above, not_below_zero, within
from footexam.mechanics.relief import (
    Layer,
    relief_depth_mm,
    relieved_share,
    stiffness_through_tissue,
)
from footexam.mechanics.rocker import behind_heads_mm, sole_at_apex_mm, toe_rise_mm
from footexam.mechanics.shell import curved_second_moment_mm4, held_arch_thrust_n
from footexam.mechanics.stack import Piece, forefoot_room, heel_room, highest_lift_mm, stack_mm
from footexam.mechanics.strip import centre_sag_mm
from footexam.mechanics.subtalar import lever_mm, medial_mm, moment_change_percent
from footexam.mechanics.thickness import stock_mm
from footexam.mechanics.wedge import edge_height_mm, wedge_angle_deg
from footexam.mechanics.windlass import arch_rise_mm, slip_tension_n, truss_tension_n
from footexam.terms import Side


@pytest.mark.parametrize("code", REFUSALS)
def test_a_refusal_says_what_and_what_to_do(code: str) -> None:
    halves = REFUSALS[code]
    names = {name for half in halves for _, name, _, _ in string.Formatter().parse(half) if name}
    refusal = OutOfReach(code, **dict.fromkeys(names, "x"))
    assert isinstance(refusal, ValueError)
    assert str(refusal).endswith(".")
    assert str(refusal)[0].isupper()
    assert refusal.what.lower() in str(refusal).lower()
    assert refusal.do in str(refusal)
    assert "{" not in str(refusal)


@pytest.mark.parametrize("value", [0, -1, nan, inf, -inf])
def test_above(value: float) -> None:
    with pytest.raises(OutOfReach, match=r"Length is .* mm and has to be above 0 mm: measure"):
        above("Length", value, "mm")


@pytest.mark.parametrize("value", [-0.1, nan, inf])
def test_not_below_zero(value: float) -> None:
    with pytest.raises(OutOfReach, match="has to be a number from 0 on"):
        not_below_zero("Length", value, "mm")


@pytest.mark.parametrize("value", [0.9, 2.1, nan])
def test_within(value: float) -> None:
    with pytest.raises(OutOfReach, match="only from 1 to 2: check"):
        within("The share", value, 1, 2)


def test_ends_are_within() -> None:
    above("Length", 1e-9)
    not_below_zero("Length", 0)
    within("The share", 1, 1, 2)
    within("The share", 2, 1, 2)


RULE = StagingRule(0.75, 4, 9, 5)


@pytest.mark.parametrize(
    ("call", "code"),
    [
        (partial(lift_height_mm, 20.1, 0, 156), "outside"),
        (partial(lift_height_mm, 5, 160, 156), "outside"),
        (partial(lever_measured_mm, 30, 260, 0.13), "not-above"),
        (partial(cut_height_mm, 6, 0.61, 0.6), "outside"),
        (partial(edge_height_mm, 60, 45.1), "outside"),
        (partial(edge_height_mm, 60, -1), "outside"),
        (partial(wedge_angle_deg, 61, 60), "outside"),
        (partial(centre_sag_mm, 150, 100, 60, -3, 1300), "not-above"),
        (partial(centre_sag_mm, -1, 100, 60, 3, 1300), "below-zero"),
        (partial(centre_sag_mm, 150, 100, 60, 10.1, 1300), "too-thick"),
        (partial(centre_sag_mm, 150, 100, 60, 2, 1300), "sags-too-far"),
        (partial(curved_second_moment_mm4, 60, 3, 15.1), "too-curved"),
        (partial(held_arch_thrust_n, 150, 100, 34), "too-arched"),
        (partial(held_arch_thrust_n, 150, 100, 0), "not-above"),
        (partial(stock_mm, 2.7, 3, 5, 0.5), "outside"),
        (partial(moment_change_percent, 0, 1), "axis-under-load"),
        (partial(lever_mm, 25, 0, -20, 81), "outside"),
        (partial(lever_mm, nan, 0, -20, 16), "outside"),
        (partial(medial_mm, inf, Side.LEFT), "outside"),
        (partial(truss_tension_n, 350, 160, 160, 45), "not-above"),
        (partial(slip_tension_n, 0.11, 350, 58.6), "outside"),
        (partial(arch_rise_mm, 17, 60, 160, 45), "outside"),
        (partial(forefoot_share, 45, 125, 126), "outside"),
        (partial(raised_lever_mm, 125, 70, 41), "outside"),
        (partial(raised_lever_mm, 40, 70, 40), "not-above"),
        (partial(leaning_centre_mm, 40, 900, 6), "outside"),
        (partial(relieved_share, 1, 0.5), "outside"),
        (partial(relieved_share, 0.3, 1.1), "outside"),
        (partial(stiffness_through_tissue, Layer(10, 0.3), Layer(6, 1), Layer(6, 2)), "not-above"),
        (partial(relief_depth_mm, 0, Layer(10, 0.3), Layer(6, 2), 0.15), "outside"),
        (partial(relief_depth_mm, 1, Layer(10, 0.3), Layer(6, 2), 0.15), "outside"),
        (partial(relief_depth_mm, 0.6, Layer(0, 0.3), Layer(6, 2), 0.15), "not-above"),
        (partial(relief_depth_mm, 0.6, Layer(10, 0.3), Layer(6, 2), 1.2), "fill-too-firm"),
        (partial(relief_depth_mm, 0.6, Layer(10, 0.3), Layer(6, 2), 0.25), "fill-too-firm"),
        (partial(relief_depth_mm, 0.6, Layer(10, 0.3), Layer(0, 2), 0.15), "not-above"),
        (partial(relief_depth_mm, 0.6, Layer(10, 0.3), Layer(6, 2), nan), "not-above"),
        (partial(staged_mm, 4.9, RULE, radiograph=False), "too-small-to-correct"),
        (partial(staged_mm, 0, RULE, radiograph=True), "too-small-to-correct"),
        (partial(staged_mm, 201, RULE, radiograph=True), "outside"),
        (partial(staged_raise, 800, 0, RULE, radiograph=True), "not-above"),
        (partial(foam_strain, 200, 0.5, 1.1), "outside"),
        (partial(loaded_thickness_mm, 6, 500, 0.15, 0.8, 0.6), "too-soft"),
        (partial(set_thickness_mm, 6, 7, 50), "outside"),
        (partial(toe_rise_mm, 285, 52, 31), "outside"),
        (partial(sole_at_apex_mm, 10, 15, 5), "outside"),
        (partial(behind_heads_mm, 285, 55, 286), "outside"),
        (partial(stack_mm, [Piece("shell", -3)]), "below-zero"),
        (partial(stack_mm, [Piece("cover", 3, 1)]), "outside"),
        (partial(forefoot_room, [], -1, None, None, 2, 1), "below-zero"),
        (partial(heel_room, [], 0, 4, 0.75), "not-above"),
        (partial(highest_lift_mm, [], 60, 4, 1.1), "outside"),
    ],
)
def test_out_of_reach_is_refused(call: partial, code: str) -> None:
    with pytest.raises(OutOfReach) as refused:
        call()
    assert refused.value.code == code


def test_the_last_that_is_within_reach() -> None:
    assert centre_sag_mm(150, 100, 60, 10, 1300) > 0
    assert curved_second_moment_mm4(60, 3, 15) > 0
    assert staged_mm(5, RULE, radiograph=False) == (3.75,)
    assert staged_mm(200, RULE, radiograph=False)[-1] == 150
    assert stock_mm(2.75, 3, 5, 0.5) == 3
    assert stock_mm(5.25, 3, 5, 0.5) == 5
