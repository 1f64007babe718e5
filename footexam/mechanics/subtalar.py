"""Moment about the subtalar axis: how a shift of load under the foot changes it, relatively.

Places are seen on the sole: x forwards from the back of the axis line (mm), y towards the middle
of the body (mm). The axis crosses x = 0 at y0 and runs forwards and inwards. Positive moments
supinate. Medial is positive on either foot, so the two sides have one arithmetic.
"""

from math import cos, radians, tan

from footexam.mechanics.reach import OutOfReach, above, not_below_zero, within
from footexam.mechanics.result import Span, Spread, spread
from footexam.terms import Side

STEEPEST_DEG = 80
FARTHEST_MM = 500
"""Farther away nothing lies on a sole."""


def medial_mm(rightward_mm: float, side: Side) -> float:
    """A place or a shift to the patient's right, as one towards the middle of the body.

    y = -r on the right foot and r on the left, both in mm.
    Assumes: nothing.
    Holds: within 500 mm.
    Class: geometry. Source: definition.
    """
    within("A place on the sole", rightward_mm, -FARTHEST_MM, FARTHEST_MM, "mm")
    return rightward_mm if side is Side.LEFT else -rightward_mm


def lever_mm(x_mm: float, y_mm: float, axis_offset_mm: float, deviation_deg: float) -> float:
    """The distance of a point of the sole from the axis, seen from above; medial is positive.

    e = (y - (y0 + x · tan δ)) · cos δ, with y0 offset of the axis at x = 0 (mm) and δ deviation
    of the axis from straight ahead (degrees).
    Assumes: a fixed straight hinge; in life the axis is a moving screw through the middle facet.
    Holds: δ from -80 to 80 degrees, places within 500 mm.
    Class: model. Source: Kirby 2001 for the idea; figure “axis-deviation”.
    """
    within("The deviation of the axis", deviation_deg, -STEEPEST_DEG, STEEPEST_DEG, "deg")
    for place_mm in (x_mm, y_mm, axis_offset_mm):
        within("A place on the sole", place_mm, -FARTHEST_MM, FARTHEST_MM, "mm")
    angle = radians(deviation_deg)
    return (y_mm - (axis_offset_mm + x_mm * tan(angle))) * cos(angle)


def moment_nm(force_n: float, lever_of_force_mm: float, inclination_deg: float) -> float:
    """The moment of a vertical force about the axis; positive supinates.

    M = N · e · cos α / 1000, with N force (N), e lever (mm), α inclination to the ground (degrees).
    Assumes: a vertical force only, no shear and no muscle.
    Holds: N from 0, α from 0 to 80 degrees.
    Class: model; show it only where the axis was marked. Source: statics.
    """
    not_below_zero("The force", force_n, "N")
    within("The inclination of the axis", inclination_deg, 0, STEEPEST_DEG, "deg")
    return force_n * lever_of_force_mm * cos(radians(inclination_deg)) / 1000


def moment_change_percent(before_mm: float, after_mm: float) -> float:
    """By how much the moment grows, from the levers alone; below 0 it falls.

    Δ = (e2 / e1 - 1) · 100, with e1 and e2 the levers before and after (mm).
    Assumes: the same force and the same axis.
    Holds: e1 not 0.
    Class: model, relative only. Source: statics.
    """
    if before_mm == 0:
        raise OutOfReach("axis-under-load")
    return (after_mm / before_mm - 1) * 100


def shift_change(
    x_mm: float, y_mm: float, shift_mm: float, axis_offset_mm: Span, deviation_deg: Span
) -> Spread:
    """By how much a medial shift of the load changes the moment, %, over where the axis may lie.

    Δ = (e(y + shift) / e(y) - 1) · 100 at every end of the axis.
    Assumes: as lever_mm and moment_change_percent.
    Holds: the load lies on one side of every axis that is possible.
    Class: model, relative only. Source: as lever_mm.
    """

    def lever(offset: float, deviation: float) -> float:
        return lever_mm(x_mm, y_mm, offset, deviation)

    levers = spread(lever, offset=axis_offset_mm, deviation=deviation_deg)
    if levers.low <= 0 <= levers.high:
        raise OutOfReach("axis-under-load")

    def change(offset: float, deviation: float) -> float:
        after = lever_mm(x_mm, y_mm + shift_mm, offset, deviation)
        return moment_change_percent(lever(offset, deviation), after)

    return spread(change, offset=axis_offset_mm, deviation=deviation_deg)


def tendon_force_n(moment_about_nm: float, arm_mm: float) -> float:
    """The force of a tendon that balances a moment.

    F = |M| · 1000 / d, with M moment (N m) and d arm of the tendon (mm).
    Assumes: one tendon does it alone.
    Holds: d above 0.
    Class: estimate. Source: statics; figure “posterior-tibial-arm”.
    """
    above("The arm of the tendon", arm_mm, "mm")
    return abs(moment_about_nm) * 1000 / arm_mm
