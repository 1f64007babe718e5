"""Posture, arch, mobility and range, and the slopes that carry their errors."""

from dataclasses import replace
from decimal import Decimal

import pytest

from footexam.scoring.derived import body, feet, vessel
from footexam.scoring.derived.registry import SLOPES, work_out
from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import Visit
from tests.scoring.builders import LEFT, RIGHT, examination, measure, reading


def visit(readings: dict) -> Visit:
    measures = {name: measure(name) for name, _ in readings}
    return Visit(examination(readings), measures)


def left(**numbers: object) -> Visit:
    return visit({(name.replace("_", "-"), LEFT): number for name, number in numbers.items()})


def test_fpi_total_and_its_items() -> None:
    full = {
        (item, LEFT): point for item, point in zip(feet.FPI_ITEMS, (2, 2, 2, 2, 1, 1), strict=True)
    }
    assert feet.fpi_total(visit(full), LEFT) == Derived(Decimal(10), feet.FPI_ITEMS)
    assert feet.fpi_total(visit(full), RIGHT) is None
    del full[feet.FPI_ITEMS[2], LEFT]
    found = feet.fpi_total(visit(full), LEFT)
    assert found is not None
    assert (found.value, found.missing) == (None, (feet.FPI_ITEMS[2],))


def test_navicular_drop_and_its_sign() -> None:
    drop = left(navicular_height_neutral=48, navicular_height_resting=41)
    assert feet.navicular_drop(drop, LEFT) == Derived(Decimal(7), feet.NAVICULAR)
    assert feet.navicular_drop(left(navicular_height_neutral=48), LEFT) is None
    rise = left(navicular_height_neutral=40, navicular_height_resting=41)
    assert feet.navicular_drop(rise, LEFT) == Derived(Decimal(-1), feet.NAVICULAR)


def test_arch_height_indices() -> None:
    # dorsal height 66 seated, 62 standing, truncated length 182: .3626 and .3407
    arch = left(
        dorsal_arch_height_seated=66, dorsal_arch_height_standing=62, truncated_foot_length=182
    )
    values = [
        float(formula(arch, LEFT).value)
        for formula in (
            feet.arch_height_index_seated,
            feet.arch_height_index,
            feet.arch_height_change,
        )
    ]
    assert values == pytest.approx([0.3626, 0.3407, 4 / 182], abs=5e-5)
    assert feet.arch_height_change(arch, LEFT).inputs == feet.INDICES


def test_arch_height_needs_both_and_a_length() -> None:
    seated = left(dorsal_arch_height_seated=66, truncated_foot_length=182)
    assert feet.arch_height_index(seated, LEFT) is None
    assert feet.arch_height_change(seated, LEFT) is None
    standing = left(dorsal_arch_height_standing=66, truncated_foot_length=182)
    assert feet.arch_height_index_seated(standing, LEFT) is None
    assert feet.arch_height_change(standing, LEFT) is None
    nothing = left(dorsal_arch_height_standing=66, truncated_foot_length=0)
    assert feet.arch_height_index(nothing, LEFT) is None


def test_foot_mobility_magnitude() -> None:
    # height difference 12, width difference 9: 15.0 mm
    foot = left(
        dorsal_arch_height_seated=70,
        dorsal_arch_height_standing=58,
        midfoot_width_unloaded=80,
        midfoot_width_standing=89,
    )
    assert feet.foot_mobility_magnitude(foot, LEFT) == Derived(Decimal(15), feet.MOBILITY)
    assert feet.foot_mobility_magnitude(foot, RIGHT) is None


def test_gastrocnemius_difference_is_of_the_lunges_at_20_degrees() -> None:
    lunges = left(lunge_angle_knee_bent_20=36, lunge_angle_knee_straight=22)
    assert feet.gastrocnemius_difference(lunges, LEFT) == Derived(Decimal(14), feet.LUNGES)
    # the knee-to-wall angle is another protocol
    wall = left(lunge_angle_knee_bent=40, lunge_angle_knee_straight=26)
    assert feet.gastrocnemius_difference(wall, LEFT) is None


def test_first_ray_total_travel() -> None:
    assert feet.first_ray_total_travel(
        left(first_ray_dorsal_travel=5, first_ray_plantar_travel=4), LEFT
    ) == Derived(Decimal(9), feet.TRAVELS)
    half = feet.first_ray_total_travel(left(first_ray_dorsal_travel=5), LEFT)
    assert half == Derived(None, feet.TRAVELS[:1], feet.TRAVELS[1:])


def test_limb_length_difference_is_never_negative() -> None:
    # means 872 and 881: 9 mm
    limbs = visit({("limb-length", LEFT): (870, 874), ("limb-length", RIGHT): (882, 880)})
    assert feet.limb_length_difference(limbs) == Derived(Decimal(9), ("limb-length",))
    assert feet.limb_length_difference(visit({("limb-length", LEFT): 870})) is None
    assert feet.limb_length_difference(visit({("limb-length", RIGHT): 870})) is None


def test_body_mass_index() -> None:
    found = body.body_mass_index(visit({("body-mass", None): 62, ("body-height", None): 168}))
    assert float(found.value) == pytest.approx(21.9671, abs=5e-5)
    assert body.body_mass_index(visit({("body-mass", None): 62})) is None
    assert body.body_mass_index(visit({("body-mass", None): 62, ("body-height", None): 0})) is None


FULL = {
    **{(item, LEFT): 1 for item in feet.FPI_ITEMS},
    ("navicular-height-neutral", LEFT): 48,
    ("navicular-height-resting", LEFT): 41,
    ("dorsal-arch-height-seated", LEFT): 66,
    ("dorsal-arch-height-standing", LEFT): 60,
    ("truncated-foot-length", LEFT): 182,
    ("midfoot-width-unloaded", LEFT): 80,
    ("midfoot-width-standing", LEFT): 88,
    ("lunge-angle-knee-bent-20", LEFT): 36,
    ("lunge-angle-knee-straight", LEFT): 22,
    ("first-ray-dorsal-travel", LEFT): 5,
    ("first-ray-plantar-travel", LEFT): 4,
    ("limb-length", LEFT): 890,
    ("limb-length", RIGHT): 882,
    ("body-height", None): 168,
    ("body-mass", None): 62,
    ("pressure-arm", LEFT): 118,
    ("pressure-arm", RIGHT): 124,
    ("pressure-dorsalis-pedis", LEFT): 132,
    ("pressure-posterior-tibial", LEFT): 120,
    ("pressure-toe", LEFT): 80,
}
UNSIDED = ("body-mass-index", "limb-length-difference")


@pytest.mark.parametrize("name", SLOPES)
def test_slopes_are_the_first_derivatives(name: str) -> None:
    side = None if name in UNSIDED else LEFT

    def at(readings: dict) -> float:
        found = work_out(name, visit(readings), side)
        assert found is not None
        return float(found.value)

    slopes = SLOPES[name](visit(FULL), side)
    assert slopes
    step = Decimal("0.001")
    for key, slope in slopes:
        higher = at({**FULL, key: FULL[key] + step})
        lower = at({**FULL, key: FULL[key] - step})
        assert slope == pytest.approx((higher - lower) / float(2 * step), rel=1e-5), key


def test_mobility_of_nothing_has_no_slope() -> None:
    still = {**FULL, ("dorsal-arch-height-seated", LEFT): 60, ("midfoot-width-standing", LEFT): 80}
    assert feet.mobility_slopes(visit(still), LEFT) == ()


def test_slopes_of_pressures_follow_the_highest() -> None:
    names = [key for key, _ in vessel.ankle_slopes(visit(FULL), LEFT)]
    assert names == [("pressure-dorsalis-pedis", LEFT), ("pressure-arm", RIGHT)]


def test_a_reading_keeps_its_repeats() -> None:
    one = replace(reading("limb-length", LEFT, (1, 2, 3)), note="again")
    assert visit({("limb-length", LEFT): one}).repeats("limb-length", LEFT) == 3
