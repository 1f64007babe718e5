"""Wedges: heights and angles of posts, skives and ramps, and what a post does to the bones."""

from math import atan, degrees, radians, tan

from footexam.mechanics.reach import above, not_below_zero, within

STEEPEST_DEG = 45
"""Steeper, it is a wall and no wedge."""


def edge_height_mm(width_mm: float, angle_deg: float) -> float:
    """How much one edge of a wedge is higher than the other.

    h = w · tan φ, with w width (mm) and φ angle (degrees).
    Assumes: a straight wedge on a flat base.
    Holds: w above 0, φ from 0 to 45 degrees.
    Class: geometry. Source: trigonometry.
    """
    above("The width of the wedge", width_mm, "mm")
    within("The angle of the wedge", angle_deg, 0, STEEPEST_DEG, "deg")
    return width_mm * tan(radians(angle_deg))


def centre_rise_mm(width_mm: float, angle_deg: float) -> float:
    """How much a wedge lifts the middle; it counts as lift.

    h = (w / 2) · tan φ, with w width (mm) and φ angle (degrees).
    Assumes: as edge_height_mm; the heel stands over the middle.
    Holds: as edge_height_mm.
    Class: geometry. Source: trigonometry.
    """
    return edge_height_mm(width_mm, angle_deg) / 2


def wedge_angle_deg(height_mm: float, width_mm: float) -> float:
    """The angle of a wedge of this height.

    φ = atan(h / w), with h height of the thick edge (mm) and w width (mm); φ in degrees.
    Assumes: as edge_height_mm.
    Holds: h from 0 up to w.
    Class: geometry. Source: trigonometry.
    """
    above("The width of the wedge", width_mm, "mm")
    within("The height of the wedge", height_mm, 0, width_mm, "mm")
    return degrees(atan(height_mm / width_mm))


def skive_facet_mm(depth_mm: float, facet_deg: float) -> float:
    """How wide the facet of a heel skive is; a deeper skive reaches further across the heel.

    l = d / tan φ, with d depth (mm) and φ angle of the facet (degrees).
    Assumes: a flat facet.
    Holds: d from 0, φ above 0 up to 45 degrees.
    Class: geometry. Source: trigonometry; angle Kirby 1992, figure “skive-facet-angle”.
    """
    not_below_zero("The depth of the skive", depth_mm, "mm")
    above("The angle of the facet", facet_deg, "deg")
    within("The angle of the facet", facet_deg, 0, STEEPEST_DEG, "deg")
    return depth_mm / tan(radians(facet_deg))


def thick_edge_mm(lift_mm: float, width_mm: float, angle_deg: float) -> float:
    """The thick edge of a lift with a wedge on it.

    h = lift + w · tan φ, with lift (mm), w width (mm) and φ angle of the wedge (degrees).
    Assumes: both lie on each other without loss.
    Holds: as edge_height_mm; lift from 0.
    Class: geometry. Source: trigonometry.
    """
    not_below_zero("The lift", lift_mm, "mm")
    return lift_mm + edge_height_mm(width_mm, angle_deg)


def bone_change_deg(
    post_deg: float, neutral_deg: float, per_degree: float, tested_most_deg: float
) -> float:
    """By how much peak rearfoot eversion may fall over a medial post: far less than its angle.

    Δ = Δ0 + k · φ, with Δ0 change over a neutral post (degrees), k change for each degree of post
    and φ medial post (degrees).
    Assumes: the mean of one study is true of this foot, and steady from neutral to the most.
    Holds: φ from 0 to the most that was tested.
    Class: estimate. Source: Telfer 2013, figures “post-change-neutral”, “post-change-per-degree”.
    """
    within("The medial post", post_deg, 0, tested_most_deg, "deg")
    return neutral_deg + per_degree * post_deg
