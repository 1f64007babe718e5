"""The windlass: plantar fascia between heel and toes, wound up by the hallux and loaded as a tie.

Everything here is an estimate of the order of magnitude: slips are taken as even, muscles are
left out.
"""

from math import hypot, radians

from footexam.mechanics.reach import above, not_below_zero, within

MOST_EXTENSION_DEG = 90


def excursion_mm(head_radius_mm: float, extension_deg: float) -> float:
    """How far extending the hallux pulls the fascia around the metatarsal head.

    u = r · θ · π / 180, with r radius of the head with its sesamoids (mm), θ extension (degrees).
    Assumes: a round head.
    Holds: θ from 0 to 90 degrees.
    Class: estimate. Source: figure “head-radius”.
    """
    above("The radius of the metatarsal head", head_radius_mm, "mm")
    within("The extension of the hallux", extension_deg, 0, MOST_EXTENSION_DEG, "deg")
    return head_radius_mm * radians(extension_deg)


def strain_share(excursion_of_fascia_mm: float, length_mm: float, arch_share: float) -> float:
    """The strain of the fascia, as a share of its length.

    ε = (1 - a) · u / L0, with a share of the excursion that the arch takes by shortening (0 to 1),
    u excursion (mm), L0 length (mm).
    Assumes: what the arch does not take stretches the fascia.
    Holds: a from 0 to 1. A locked arch (a = 0) gives strains that no fascia was seen to reach.
    Class: estimate. Source: Caravaggi 2009 and 2010 for the mechanism; figure “fascia-arch-share”.
    """
    not_below_zero("The excursion", excursion_of_fascia_mm, "mm")
    above("The length of the fascia", length_mm, "mm")
    within("The share that the arch takes", arch_share, 0, 1)
    return (1 - arch_share) * excursion_of_fascia_mm / length_mm


def slip_tension_n(strain: float, modulus_mpa: float, area_mm2: float) -> float:
    """The tension of a slip of the fascia that is strained.

    T = E · A · ε, with E modulus (MPa), A area (mm²), ε strain (share).
    Assumes: linear and alike along its length.
    Holds: ε from 0 to 0.1.
    Class: estimate. Source: usual inputs of models, figures “fascia-modulus”, “fascia-slip-area”.
    """
    within("The strain", strain, 0, 0.1)
    above("The modulus", modulus_mpa, "MPa")
    above("The area", area_mm2, "mm2")
    return modulus_mpa * area_mm2 * strain


def truss_tension_n(
    load_n: float, heel_to_apex_mm: float, heel_to_head_mm: float, apex_height_mm: float
) -> float:
    """The tension of the fascia as the tie of a truss under a load on the arch.

    T = W · x1 · (B - x1) / (B · h), with W load at the apex (N), x1 heel to apex, B heel to
    metatarsal head and h height of the apex (mm).
    Assumes: two stiff members hinged at the apex, the fascia as the only tie.
    Holds: 0 < x1 < B, h above 0.
    Class: estimate. Source: statics; scale from Erdemir 2004.
    """
    not_below_zero("The load on the arch", load_n, "N")
    above("The distance from heel to apex", heel_to_apex_mm, "mm")
    above("The distance from heel to head", heel_to_head_mm, "mm", heel_to_apex_mm)
    above("The height of the arch", apex_height_mm, "mm")
    left_mm = heel_to_head_mm - heel_to_apex_mm
    return load_n * heel_to_apex_mm * left_mm / (heel_to_head_mm * apex_height_mm)


def tension_change_percent(load_n: float, carried_n: float) -> float:
    """By how much the tension of the tie falls when a device carries part of the arch's load.

    ΔT / T = -P / W · 100, with P carried by the device and W load on the arch (N).
    Assumes: as truss_tension_n; the device pushes at the apex.
    Holds: P from 0 up to W.
    Class: estimate. Source: statics.
    """
    above("The load on the arch", load_n, "N")
    within("What the device carries", carried_n, 0, load_n, "N")
    return -100 * carried_n / load_n


def arch_rise_mm(
    shortening_mm: float, heel_to_apex_mm: float, heel_to_head_mm: float, apex_height_mm: float
) -> float:
    """How much the apex rises when heel and metatarsal head come nearer to each other.

    With members of fixed length a = √(x1² + h²) and b = √((B - x1)² + h²) over a base of B - Δ:
    x' = (a² - b² + (B - Δ)²) / (2 · (B - Δ)) and rise = √(a² - x'²) - h.
    Assumes: as truss_tension_n.
    Holds: 0 < x1 < B, h above 0, Δ from 0 up to B / 10.
    Class: estimate. Source: trigonometry.
    """
    above("The distance from heel to apex", heel_to_apex_mm, "mm")
    above("The distance from heel to head", heel_to_head_mm, "mm", heel_to_apex_mm)
    above("The height of the arch", apex_height_mm, "mm")
    within("The shortening of the arch", shortening_mm, 0, heel_to_head_mm / 10, "mm")
    back = hypot(heel_to_apex_mm, apex_height_mm)
    front = hypot(heel_to_head_mm - heel_to_apex_mm, apex_height_mm)
    base = heel_to_head_mm - shortening_mm
    foot = (back**2 - front**2 + base**2) / (2 * base)
    return float((back**2 - foot**2) ** 0.5 - apex_height_mm)
