"""A difference of limb length: how much to raise, in which stages, where; and room for the toes."""

from dataclasses import dataclass
from math import ceil, degrees

from footexam.mechanics.reach import OutOfReach, above, not_below_zero, within
from footexam.terms import Side

MOST_MM = 200
"""A greater difference is not made up with a raise."""
MOST_ANGLE_RAD = 0.8
"""Beyond it an angle and its sine differ by more than a tenth."""


@dataclass(frozen=True, slots=True)
class Raise:
    """A raise under the shorter limb: its whole height (mm), and the height at each stage.

    `in_shoe_mm` is what lies in the shoe at the end, `on_sole_mm` what goes on the sole.
    """

    side: Side
    target_mm: float
    stages_mm: tuple[float, ...]
    in_shoe_mm: float
    on_sole_mm: float


@dataclass(frozen=True, slots=True)
class StagingRule:
    """What a raise is planned by: share to correct, step (mm), most in the shoe (mm).

    Below `least_mm` nothing is raised unless a radiograph supports it.
    """

    fraction: float
    step_mm: float
    in_shoe_mm: float
    least_mm: float


def staged_mm(difference_mm: float, rule: StagingRule, *, radiograph: bool) -> tuple[float, ...]:
    """The height of a raise at each stage, mm; the last is the whole of it.

    target = D · k, stages = ceil(target / step), with D difference (mm) and k share to correct.
    Assumes: a difference of structure, measured well; raised slowly so that the body can follow.
    Holds: D above 0, k above 0 up to 1; a D below the least only where a radiograph supports it.
    Class: geometry; the shares and steps are common practice. Source: figures “raise-…”.
    """
    above("The share to correct", rule.fraction)
    within("The share to correct", rule.fraction, 0, 1)
    above("The step", rule.step_mm, "mm")
    not_below_zero("The difference of limb length", difference_mm, "mm")
    if difference_mm == 0 or (difference_mm < rule.least_mm and not radiograph):
        raise OutOfReach("too-small-to-correct", value=f"{difference_mm:g}", unit=" mm")
    within("The difference of limb length", difference_mm, 0, MOST_MM, "mm")
    target = difference_mm * rule.fraction
    count = ceil(target / rule.step_mm - 1e-9)
    return (*(number * rule.step_mm for number in range(1, count)), target)


def staged_raise(right_mm: float, left_mm: float, rule: StagingRule, *, radiograph: bool) -> Raise:
    """The raise for two limb lengths, in stages.

    D = |right - left|, staged as staged_mm; up to a height in the shoe, the rest on the sole.
    Assumes: as staged_mm.
    Holds: lengths above 0, otherwise as staged_mm.
    Class: geometry; the shares and steps are common practice. Source: figures “raise-…”.
    """
    above("The length of the right limb", right_mm, "mm")
    above("The length of the left limb", left_mm, "mm")
    not_below_zero("The most in the shoe", rule.in_shoe_mm, "mm")
    stages = staged_mm(abs(right_mm - left_mm), rule, radiograph=radiograph)
    side = Side.RIGHT if right_mm < left_mm else Side.LEFT
    inside = min(stages[-1], rule.in_shoe_mm)
    return Raise(side, stages[-1], stages, inside, stages[-1] - inside)


def clearance_change_mm(lost_deg: float, sensitivity_mm_rad: float) -> float:
    """The toe clearance lost with an angle of a joint that is lost.

    Δ = k · θ · π / 180, with k sensitivity of the clearance (mm/rad) and θ angle (degrees).
    Assumes: linear, the other joints unchanged.
    Holds: θ from 0 to 45.8 degrees (0.8 rad).
    Class: model. Source: sensitivities Gait Posture 2006;24:493, figures “clearance-…”.
    """
    above("The sensitivity of toe clearance", sensitivity_mm_rad, "mm/rad")
    within("The angle", lost_deg, 0, degrees(MOST_ANGLE_RAD), "deg")
    return sensitivity_mm_rad * lost_deg / degrees(1)


def angle_for_clearance_deg(height_mm: float, sensitivity_mm_rad: float) -> float:
    """The angle of a joint that makes room for a sole that is thicker.

    θ = h / k · 180 / π, with h height (mm) and k sensitivity (mm/rad).
    Assumes: as clearance_change_mm; that joint does it alone.
    Holds: θ up to 45.8 degrees (0.8 rad).
    Class: model. Source: as clearance_change_mm.
    """
    not_below_zero("The height", height_mm, "mm")
    above("The sensitivity of toe clearance", sensitivity_mm_rad, "mm/rad")
    within("The angle, in radians,", height_mm / sensitivity_mm_rad, 0, MOST_ANGLE_RAD)
    return degrees(height_mm / sensitivity_mm_rad)
