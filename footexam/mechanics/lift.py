"""The heel lift: how far a height under the heel tilts the foot, and what height a deficit asks."""

from math import atan, degrees, radians, tan

from footexam.mechanics.reach import above, not_below_zero, within

STEEPEST_DEG = 20
"""Beyond it a foot does not stay flat on a wedge: a limit of the method, not a finding."""
_OPEN_DEG = 60


def lever_estimated_mm(foot_length_mm: float, share: float) -> float:
    """The distance from heel contact to metatarsal heads, from the length of the foot.

    L = k · FL, with FL foot length (mm) and k the share of it (0 to 1).
    Assumes: proportions of an average foot.
    Holds: FL above 0, k from 0 to 1.
    Class: estimate. Source: handbook share, figure “lever-share”.
    """
    above("Foot length", foot_length_mm, "mm")
    within("The share of foot length", share, 0, 1)
    return share * foot_length_mm


def lever_measured_mm(
    truncated_length_mm: float, foot_length_mm: float, heel_share: float
) -> float:
    """The same distance where heel to first metatarsal head was measured.

    L = TL - k · FL, with TL truncated length (mm), FL foot length (mm) and k · FL the distance of
    the centre of heel contact from the back of the heel.
    Assumes: only the heel contact has average proportions.
    Holds: 0 < TL < FL, L above 0.
    Class: geometry. Source: McPoil 2008 for the truncated length; figure “heel-contact-share”.
    """
    above("Truncated foot length", truncated_length_mm, "mm")
    above("Foot length", foot_length_mm, "mm", truncated_length_mm)
    lever_mm = truncated_length_mm - heel_share * foot_length_mm
    above("The lever from heel to metatarsal heads", lever_mm, "mm")
    return lever_mm


def tilt_deg(height_mm: float, lever_mm: float) -> float:
    """How far a height under the heel tilts the foot downwards.

    θ = atan(h / L), with h height under load (mm) and L lever (mm); θ in degrees.
    Assumes: a rigid foot; in life part of the tilt appears in the midfoot.
    Holds: h from 0, θ up to 20 degrees.
    Class: geometry. Source: trigonometry.
    """
    not_below_zero("The height under the heel", height_mm, "mm")
    above("The lever from heel to metatarsal heads", lever_mm, "mm")
    tilt = degrees(atan(height_mm / lever_mm))
    within("The tilt", tilt, 0, STEEPEST_DEG, "deg")
    return tilt


def height_for_tilt_mm(wanted_deg: float, lever_mm: float) -> float:
    """The height under the heel that gives a tilt.

    H = L · tan θ, with L lever (mm) and θ tilt (degrees).
    Assumes: a rigid foot.
    Holds: θ from 0 to 20 degrees.
    Class: geometry. Source: trigonometry.
    """
    within("The tilt", wanted_deg, 0, STEEPEST_DEG, "deg")
    above("The lever from heel to metatarsal heads", lever_mm, "mm")
    return lever_mm * tan(radians(wanted_deg))


def lift_height_mm(lacking_deg: float, drop_mm: float, lever_mm: float) -> float:
    """The loaded lift that makes up for the dorsiflexion that is lacking, beside the shoe's drop.

    h = max(0, L · tan(Dr - Da) - s), with Dr dorsiflexion required and Da available, both by the
    same test (degrees; never a lunge angle beside another test), L lever (mm), s shoe drop (mm).
    Assumes: a rigid foot; drop and lift add to one wedge. No tendon force follows from it.
    Holds: Dr - Da up to 20 degrees; where nothing is lacking the answer is 0.
    Class: geometry, and an estimate of what it does. Source: trigonometry.
    """
    within("The dorsiflexion that is lacking", lacking_deg, -_OPEN_DEG, STEEPEST_DEG, "deg")
    above("The lever from heel to metatarsal heads", lever_mm, "mm")
    within("The shoe's drop", drop_mm, -lever_mm, lever_mm, "mm")
    return max(0.0, lever_mm * tan(radians(lacking_deg)) - drop_mm)


def dorsiflexion_demanded_deg(required_deg: float, height_mm: float, lever_mm: float) -> float:
    """The dorsiflexion still demanded of the ankle over a height under the heel.

    D = Dr - atan(h / L), with Dr required flat (degrees), h lift and drop together (mm), L lever.
    Assumes: a rigid foot and the same stride.
    Holds: as tilt_deg; Dr from 0 to 60 degrees.
    Class: geometry, and an estimate of what it does. Source: trigonometry.
    """
    within("The dorsiflexion required", required_deg, 0, _OPEN_DEG, "deg")
    return required_deg - tilt_deg(height_mm, lever_mm)


def cut_height_mm(loaded_mm: float, strain: float, most_strain: float) -> float:
    """The height to cut, so that this much is left under load.

    t = h / (1 - ε), with h height under load (mm) and ε strain under load (0 to 1).
    Assumes: the strain of foam.strain at this pressure.
    Holds: ε from 0 up to `most_strain`, beyond which a foam bottoms out.
    Class: geometry. Source: definition of strain; figure “foam-bottoms-out”.
    """
    not_below_zero("The height under load", loaded_mm, "mm")
    within("The strain under load", strain, 0, most_strain)
    return loaded_mm / (1 - strain)
