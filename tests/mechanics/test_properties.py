"""What must hold of every device: rising with thickness, alike on both sides, right in its units.

Units are checked by writing each formula once more with quantities of pint, in units of another
country, and comparing: a factor of a thousand cannot hide there.
"""

from math import pi

import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from footexam.mechanics.foam import foam_strain, loaded_thickness_mm, pressure_for_strain_kpa
from footexam.mechanics.forefoot import achilles_force_n, push_off_force_n, weight_n
from footexam.mechanics.insert import bending_torque_nm
from footexam.mechanics.lift import (
    cut_height_mm,
    dorsiflexion_demanded_deg,
    height_for_tilt_mm,
    lift_height_mm,
    tilt_deg,
)
from footexam.mechanics.limb import (
    StagingRule,
    angle_for_clearance_deg,
    clearance_change_mm,
    staged_raise,
)
from footexam.mechanics.reach import OutOfReach
from footexam.mechanics.relief import (
    Layer,
    fitted_stiffness,
    mean_pressure_kpa,
    neighbour_rise_percent,
    relief_change_percent,
    relief_depth_mm,
    relieved_share,
    stiffness_through_tissue,
)
from footexam.mechanics.result import Span, spread
from footexam.mechanics.shell import (
    curved_second_moment_mm4,
    held_arch_sag_mm,
    held_arch_thrust_n,
    shell_sag_mm,
    stiffness_change,
)
from footexam.mechanics.stack import Piece, displaced_volume_cm3, highest_lift_mm, stack_mm
from footexam.mechanics.strip import (
    centre_sag_mm,
    centre_stress_mpa,
    second_moment_mm4,
    spread_sag_mm,
)
from footexam.mechanics.subtalar import lever_mm, medial_mm, moment_nm, tendon_force_n
from footexam.mechanics.thickness import equal_stiffness_mm
from footexam.mechanics.wedge import edge_height_mm, wedge_angle_deg
from footexam.mechanics.windlass import excursion_mm, slip_tension_n, truss_tension_n
from footexam.terms import Side

UNITS = pint.UnitRegistry(cache_folder=None)
Q = UNITS.Quantity
THICK = st.floats(1.5, 5)
LEVERS = st.floats(80, 220)
SHARES = st.floats(0.01, 0.95)


# --- monotone


@given(st.floats(2, 5), st.floats(0.05, 3), st.floats(5, 45), st.floats(0, 10))
def test_a_thicker_shell_sags_less(
    thickness: float, more: float, load: float, sagitta: float
) -> None:
    assume(thickness + more <= 8)
    strip = (load, 100.0, 60.0)
    for sag in (centre_sag_mm, spread_sag_mm):
        assert sag(*strip, thickness + more, 1300) < sag(*strip, thickness, 1300)
    thin = shell_sag_mm(*strip, thickness, 1300, sagitta, 0.25)
    assert shell_sag_mm(*strip, thickness + more, 1300, sagitta, 0.25) < thin
    # a curve and a hold only ever stiffen: the flat strip is the bound
    assert thin <= spread_sag_mm(*strip, thickness, 1300) * (1 + 1e-12)


@given(st.floats(1.5, 5), st.floats(1.01, 2), st.floats(0.1, 15))
def test_no_shell_gains_as_much_as_the_cube_law_says(
    thickness: float, times: float, sagitta: float
) -> None:
    found = stiffness_change(thickness * times, thickness, 60, sagitta, Span(0.67, 0.8, 0.98))
    assert times < found.curved < found.flat_bound
    assert 1 < found.measured.low <= found.measured.usual <= found.measured.high < found.flat_bound


@given(st.floats(1, 9), st.floats(10, 60_000), st.floats(10, 60_000))
def test_a_stiffer_material_may_be_thinner(thickness: float, one: float, two: float) -> None:
    assume(one != two)
    other = equal_stiffness_mm(thickness, one, two)
    assert (other < thickness) == (two > one) or other == pytest.approx(thickness)
    assert equal_stiffness_mm(other, two, one) == pytest.approx(thickness)
    flat = one * second_moment_mm4(60, thickness)
    assert two * second_moment_mm4(60, other) == pytest.approx(flat)


@given(st.floats(0, 25), st.floats(0.1, 3), LEVERS)
def test_a_higher_lift_tilts_more_and_demands_less(h: float, more: float, lever: float) -> None:
    assert tilt_deg(h + more, lever) > tilt_deg(h, lever)
    assert dorsiflexion_demanded_deg(10, h + more, lever) < dorsiflexion_demanded_deg(10, h, lever)
    assert height_for_tilt_mm(tilt_deg(h, lever), lever) == pytest.approx(h)


@given(st.floats(-30, 19), st.floats(0.1, 1), st.floats(-10, 20), st.floats(0.1, 5), LEVERS)
def test_more_is_lacking_more_lift_more_drop_less(
    lacking: float, more: float, drop: float, higher: float, lever: float
) -> None:
    lift = lift_height_mm(lacking, drop, lever)
    assert lift >= 0
    assert lift_height_mm(lacking + more, drop, lever) >= lift
    assert lift_height_mm(lacking, drop + higher, lever) <= lift
    if lift > 0 and drop >= 0:
        assert tilt_deg(lift + drop, lever) == pytest.approx(lacking)


@given(st.floats(1, 400), st.floats(1, 100), st.floats(0.1, 10), st.floats(0.5, 1))
def test_more_pressure_presses_a_foam_further(
    pressure: float, more: float, modulus: float, closed: float
) -> None:
    strain = foam_strain(pressure, modulus, closed)
    assert 0 < strain < foam_strain(pressure + more, modulus, closed) < closed
    if strain < 0.99 * closed:
        assert pressure_for_strain_kpa(strain, modulus, closed) == pytest.approx(pressure)
    left = loaded_thickness_mm(6, pressure, modulus, closed, 1)
    assert cut_height_mm(left, strain, 1) == pytest.approx(6)


@given(SHARES, st.floats(0, 0.98), st.floats(0.01, 0.02))
def test_a_firmer_relief_relieves_less_and_loads_others_less(
    share: float, soft: float, more: float
) -> None:
    assert relieved_share(share, soft) < relieved_share(share, soft + more) <= share
    fall = relief_change_percent(share, soft)
    assert -100 <= fall < relief_change_percent(share, soft + more) <= 1e-9
    assert neighbour_rise_percent(share, soft) > neighbour_rise_percent(share, soft + more) > -1e-9
    assert fitted_stiffness(share, -fall) == pytest.approx(soft, abs=1e-9)
    # nothing is lost: what leaves the region arrives at the others
    rise = neighbour_rise_percent(share, soft)
    whole = share * (1 + fall / 100) + (1 - share) * (1 + rise / 100)
    assert whole == pytest.approx(1)


@given(st.floats(0.1, 0.9), st.floats(5, 20), st.floats(0.1, 1), st.floats(0.02, 0.09))
def test_the_depth_of_a_relief_gives_the_stiffness_it_was_worked_out_for(
    wanted: float, thick: float, modulus: float, soft: float
) -> None:
    tissue, base = Layer(thick, modulus), Layer(1e6, 2.0)
    fill = soft * wanted * 2.0
    depth = relief_depth_mm(wanted, tissue, base, fill)
    felt = stiffness_through_tissue(tissue, Layer(depth, 2.0), Layer(depth, fill))
    assert felt == pytest.approx(wanted)
    # softer still needs more depth, thicker tissue too, a firmer fill too
    assert relief_depth_mm(wanted - 0.05, tissue, base, fill) > depth
    assert relief_depth_mm(wanted, Layer(thick + 1, modulus), base, fill) > depth
    assert relief_depth_mm(wanted, tissue, base, 1.1 * fill) > depth


@given(st.floats(0.2, 0.9), st.floats(5, 20), st.floats(0.05, 0.15))
def test_the_depth_of_a_relief_in_inches_and_psi(wanted: float, thick: float, soft: float) -> None:
    gives = length(thick) / pressure(0.3)
    found = (1 - wanted) * gives / (wanted / pressure(soft) - 1 / pressure(2))
    assert relief_depth_mm(wanted, Layer(thick, 0.3), Layer(1e6, 2), soft) == pytest.approx(
        found.m_as("mm")
    )


@given(st.lists(st.floats(0, 8), max_size=5), st.floats(0.1, 3), st.floats(30, 80))
def test_every_piece_takes_room(heights: list[float], more: float, counter: float) -> None:
    pieces = [Piece("layer", height) for height in heights]
    assert stack_mm([*pieces, Piece("more", more)]) > stack_mm(pieces)
    lift = highest_lift_mm(pieces, counter, 4, 0.75)
    assert highest_lift_mm([*pieces, Piece("more", more)], counter, 4, 0.75) <= lift
    assert highest_lift_mm(pieces, counter + 1, 4, 0.75) >= lift


@given(st.floats(20, 80), st.floats(0.1, 40), st.floats(0.1, 4))
def test_a_wider_and_a_steeper_wedge_is_higher(width: float, angle: float, more: float) -> None:
    height = edge_height_mm(width, angle)
    assert edge_height_mm(width + more, angle) > height
    assert edge_height_mm(width, angle + more) > height
    assert wedge_angle_deg(height, width) == pytest.approx(angle)


@given(st.floats(0.5, 3), st.floats(0.1, 1), st.floats(0.1, 60))
def test_a_thicker_plate_bends_harder(thickness: float, more: float, bend: float) -> None:
    thin, thick = (bending_torque_nm(t, 80, 60, bend, 1300) for t in (thickness, thickness + more))
    assert thick > thin


# --- symmetric in side


@given(st.floats(-60, 60), st.floats(-20, 20), st.floats(0, 200), st.floats(-40, 40))
def test_mirrored_feet_have_one_moment(
    rightward: float, axis_rightward: float, forward: float, deviation: float
) -> None:
    def moment(side: Side, mirror: int) -> float:
        place = medial_mm(mirror * rightward, side)
        axis = medial_mm(mirror * axis_rightward, side)
        return moment_nm(100, lever_mm(forward, place, axis, deviation), 42)

    assert moment(Side.LEFT, 1) == moment(Side.RIGHT, -1)
    assert medial_mm(rightward, Side.LEFT) == -medial_mm(rightward, Side.RIGHT)


@given(st.floats(600, 1000), st.floats(5, 60))
def test_swapped_limbs_swap_the_side_and_nothing_else(longer: float, difference: float) -> None:
    rule = StagingRule(0.75, 4, 9, 5)
    assume(longer - (longer - difference) >= 5)
    left = staged_raise(longer, longer - difference, rule, radiograph=False)
    right = staged_raise(longer - difference, longer, rule, radiograph=False)
    assert (left.side, right.side) == (Side.LEFT, Side.RIGHT)
    assert (left.stages_mm, left.in_shoe_mm, left.on_sole_mm) == (
        right.stages_mm,
        right.in_shoe_mm,
        right.on_sole_mm,
    )
    assert left.in_shoe_mm + left.on_sole_mm == left.target_mm == left.stages_mm[-1]
    assert list(left.stages_mm) == sorted(set(left.stages_mm))
    steps = [b - a for a, b in zip((0, *left.stages_mm), left.stages_mm, strict=False)]
    assert max(steps) <= 4 + 1e-6


# --- bands


@given(st.floats(0, 10), st.floats(0, 3), st.floats(120, 180), st.floats(0, 10))
def test_a_band_holds_every_value_in_it(
    lacking: float, error: float, lever: float, lever_error: float
) -> None:
    found = spread(
        lift_height_mm,
        lacking_deg=Span(lacking - error, lacking, lacking + error),
        drop_mm=Span(4, 4, 4),
        lever_mm=Span(lever - lever_error, lever, lever + lever_error),
    )
    assert found.low <= found.value <= found.high
    for part in (-0.7, 0.2, 0.9):
        within = lift_height_mm(lacking + part * error, 4, lever - part * lever_error)
        assert found.low - 1e-9 <= within <= found.high + 1e-9
    for part in found.parts:
        assert found.low - 1e-9 <= part.low <= found.value <= part.high <= found.high + 1e-9


# --- units


def length(value_mm: float) -> pint.Quantity:
    return Q(value_mm, "mm").to("inch")


def force(value_n: float) -> pint.Quantity:
    return Q(value_n, "N").to("pound_force")


def pressure(value_mpa: float) -> pint.Quantity:
    return Q(value_mpa, "MPa").to("psi")


@given(st.floats(1, 150), st.floats(80, 120), st.floats(40, 80), st.floats(3, 5))
def test_bending_in_inches_and_pounds(load: float, span: float, width: float, t: float) -> None:
    f, l, b, h, e = force(load), length(span), length(width), length(t), pressure(1300)  # noqa: E741
    second = b * h**3 / 12
    assert second_moment_mm4(width, t) == pytest.approx(second.m_as("mm**4"))
    sag = (f * l**3 / (48 * e * second)).m_as("mm")
    assume(sag < 0.19 * span)
    assert centre_sag_mm(load, span, width, t, 1300) == pytest.approx(sag)
    assert spread_sag_mm(load, span, width, t, 1300) == pytest.approx(0.625 * sag)
    stress = (3 * f * l / (2 * b * h**2)).m_as("MPa")
    assert centre_stress_mpa(load, span, width, t) == pytest.approx(stress)
    curved = second + 4 / 45 * b * h * length(8) ** 2
    assert curved_second_moment_mm4(width, t, 8) == pytest.approx(curved.m_as("mm**4"))
    shell = (5 * f * l**3 / (384 * e * curved)).m_as("mm")
    assert shell_sag_mm(load, span, width, t, 1300, 8, 0) == pytest.approx(shell)
    held = (f * l**3 / (2048 * e * second)).m_as("mm")
    assert held_arch_sag_mm(load, span, second_moment_mm4(width, t), 1300) == pytest.approx(held)
    thrust = (25 * f * l / (128 * length(20))).m_as("N")
    assert held_arch_thrust_n(load, span, 20) == pytest.approx(thrust)
    torque = (e * second * Q(30, "degree").to("rad").m / length(60)).m_as("N*m")
    assert bending_torque_nm(t, width, 60, 30, 1300) == pytest.approx(torque)


@given(st.floats(45, 120), st.floats(10, 120), st.floats(30, 60))
def test_forces_in_stones_and_inches(mass: float, ahead: float, arm: float) -> None:
    weight = Q(mass, "kg").to("stone") * Q(9.81, "m/s**2").to("ft/s**2")
    assert weight_n(mass, 9.81) == pytest.approx(weight.m_as("N"))
    tendon = (weight * length(ahead) / length(arm)).m_as("N")
    assert achilles_force_n(weight_n(mass, 9.81), ahead, arm) == pytest.approx(tendon)
    push = (Q(1.54, "N*m/kg") * Q(mass, "kg").to("lb") / length(arm)).m_as("N")
    assert push_off_force_n(mass, 1.54, arm) == pytest.approx(push)
    moment = (force(700) * length(ahead)).m_as("N*m")
    assert moment_nm(700, ahead, 0) == pytest.approx(moment)
    assert tendon_force_n(moment, arm) == pytest.approx((force(700) * ahead / arm).m_as("N"))
    truss = force(350) * length(60) * length(100) / (length(160) * length(arm))
    assert truss_tension_n(350, 60, 160, arm) == pytest.approx(truss.m_as("N"))
    slip = (pressure(350) * Q(58.6, "mm**2").to("inch**2") * 0.009).m_as("N")
    assert slip_tension_n(0.009, 350, 58.6) == pytest.approx(slip)
    wound = (length(arm) * Q(40, "degree").to("rad").m).m_as("mm")
    assert excursion_mm(arm, 40) == pytest.approx(wound)


@given(st.floats(1, 900), st.floats(0.05, 1), st.floats(1, 60))
def test_pressures_in_psi(load: float, share: float, area: float) -> None:
    found = (force(load) * share / Q(area, "cm**2").to("inch**2")).m_as("kPa")
    assert mean_pressure_kpa(load, share, area) == pytest.approx(found)
    p, e = Q(200, "kPa").to("psi"), pressure(0.6)
    strain = (p / (e + p / 0.7)).m_as("dimensionless")
    assert foam_strain(200, 0.6, 0.7) == pytest.approx(strain)
    back = (e * strain / (1 - strain / 0.7)).m_as("kPa")
    assert pressure_for_strain_kpa(strain, 0.6, 0.7) == pytest.approx(back)
    room = (Q(area, "cm**2").to("inch**2") * length(4)).m_as("cm**3")
    assert displaced_volume_cm3(area, 4) == pytest.approx(room)


@given(st.floats(0.1, 40), st.floats(50, 200))
def test_toe_clearance_in_inches(lost: float, sensitivity: float) -> None:
    found = (Q(sensitivity, "mm/rad").to("inch/degree") * Q(lost, "degree")).m_as("mm")
    assert clearance_change_mm(lost, sensitivity) == pytest.approx(found)
    assert angle_for_clearance_deg(found, sensitivity) == pytest.approx(lost)
    assert angle_for_clearance_deg(sensitivity * pi / 6, sensitivity) == pytest.approx(30)


def test_sags_that_are_refused_are_refused_in_any_unit() -> None:
    with pytest.raises(OutOfReach, match="sag by more than a fifth"):
        spread_sag_mm(150, 100, 60, 2, 1300)
