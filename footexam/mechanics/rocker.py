"""The rocker sole: where its apex lies, how high the toe rises and how thick the sole becomes."""

from math import radians, tan

from footexam.mechanics.reach import above, not_below_zero, within

STEEPEST_DEG = 30


def apex_mm(shoe_mm: float, apex_percent: float) -> float:
    """How far in front of the back of the shoe the apex lies.

    x = L · k / 100, with L length of the shoe (mm) and k place of the apex (% of it).
    Assumes: length as seen from below.
    Holds: L above 0, k from 0 to 100 %.
    Class: geometry. Source: Preece 2017 for usual places, figure “rocker-apex”.
    """
    above("The length of the shoe", shoe_mm, "mm")
    within("The place of the apex", apex_percent, 0, 100, "%")
    return shoe_mm * apex_percent / 100


def head_line_mm(foot_mm: float, head_share: float, offset_mm: float) -> float:
    """How far in front of the back of the shoe the metatarsal heads lie.

    x = k · FL + o, with FL length of the foot (mm), k share of it to the heads (0 to 1) and o gap
    between heel and back of the shoe (mm).
    Assumes: average proportions, unless k comes from the measured truncated length.
    Holds: FL above 0, k from 0 to 1, o from 0.
    Class: geometry. Source: figures “head-line-share”, “rocker-offset”.
    """
    above("Foot length", foot_mm, "mm")
    within("The share to the metatarsal heads", head_share, 0, 1)
    not_below_zero("The gap behind the heel", offset_mm, "mm")
    return head_share * foot_mm + offset_mm


def behind_heads_mm(shoe_mm: float, apex_percent: float, heads_mm: float) -> float:
    """How far the apex lies behind the metatarsal heads; below 0 in front of them.

    d = x_heads - L · k / 100, all in mm from the back of the shoe.
    Assumes: as apex_mm and head_line_mm.
    Holds: as apex_mm; the heads lie within the shoe.
    Class: geometry. Source: as apex_mm.
    """
    within("The metatarsal heads", heads_mm, 0, shoe_mm, "mm")
    return heads_mm - apex_mm(shoe_mm, apex_percent)


def toe_rise_mm(shoe_mm: float, apex_percent: float, angle_deg: float) -> float:
    """How high the tip of the sole rises in front of the apex.

    r = (L - x) · tan ρ, with L length of the shoe and x place of the apex (mm), ρ rocker angle.
    Assumes: a straight stiff sole in front of the apex.
    Holds: ρ from 0 to 30 degrees.
    Class: geometry. Source: trigonometry; angles Preece 2017.
    """
    within("The rocker angle", angle_deg, 0, STEEPEST_DEG, "deg")
    return (shoe_mm - apex_mm(shoe_mm, apex_percent)) * tan(radians(angle_deg))


def sole_at_apex_mm(rise_mm: float, toe_spring_mm: float, tip_mm: float) -> float:
    """How thick the sole has to be at the apex.

    t = rise - toe spring of the last + thickness of the tip, all in mm.
    Assumes: the last's toe spring lies in front of the apex.
    Holds: all from 0; toe spring up to the rise.
    Class: geometry. Source: figures “toe-spring”, “rocker-tip”.
    """
    not_below_zero("The rise of the toe", rise_mm, "mm")
    not_below_zero("The thickness of the tip", tip_mm, "mm")
    within("The toe spring", toe_spring_mm, 0, rise_mm, "mm")
    return rise_mm - toe_spring_mm + tip_mm
