"""Foams under load: how much they give way, what height is left, what they lose for good.

Moduli are handbook values with a wide range: put in the supplier's. Rate, heat, age and how a
foam is held at its sides are left out.
"""

from footexam.mechanics.reach import OutOfReach, above, not_below_zero, within


def foam_strain(pressure_kpa: float, modulus_mpa: float, densification: float) -> float:
    """The strain of a foam under a pressure, 0 to below its densification.

    ε = p / (E + p / εD), the inverse of σ = E · ε / (1 - ε / εD), with p pressure, E modulus for
    small strains (MPa, p in the same unit) and εD strain at which the cells have closed.
    Assumes: one curve for loading, slow and even.
    Holds: p from 0, E above 0, εD above 0 up to 1.
    Class: model. Source: foam theory, textbook; E from the table of materials.
    """
    not_below_zero("The pressure", pressure_kpa, "kPa")
    above("The modulus", modulus_mpa, "MPa")
    above("The strain at densification", densification)
    within("The strain at densification", densification, 0, 1)
    return pressure_kpa / (1000 * modulus_mpa + pressure_kpa / densification)


def pressure_for_strain_kpa(strain: float, modulus_mpa: float, densification: float) -> float:
    """The pressure that presses a foam so far.

    σ = 1000 · E · ε / (1 - ε / εD), symbols as foam_strain; kPa.
    Assumes: as foam_strain.
    Holds: ε from 0 to 0.99 · εD.
    Class: model. Source: as foam_strain.
    """
    above("The modulus", modulus_mpa, "MPa")
    above("The strain at densification", densification)
    within("The strain", strain, 0, 0.99 * densification)
    return 1000 * modulus_mpa * strain / (1 - strain / densification)


def loaded_thickness_mm(
    thickness_mm: float,
    pressure_kpa: float,
    modulus_mpa: float,
    densification: float,
    most_strain: float,
) -> float:
    """The thickness that is left of a foam under a pressure.

    t = t0 · (1 - ε), with t0 thickness at rest (mm) and ε of foam_strain.
    Assumes: as foam_strain.
    Holds: t0 from 0; ε up to `most_strain`, above which a foam bottoms out.
    Class: model. Source: as foam_strain; figure “foam-bottoms-out”.
    """
    not_below_zero("The thickness", thickness_mm, "mm")
    strain = foam_strain(pressure_kpa, modulus_mpa, densification)
    if strain > most_strain:
        raise OutOfReach("too-soft", value=f"{100 * (1 - strain):.0f} %")
    return thickness_mm * (1 - strain)


def set_thickness_mm(thickness_mm: float, held_mm: float, set_percent: float) -> float:
    """The thickness that comes back after a foam was held compressed.

    t = t0 - CS / 100 · (t0 - ti), with t0 at rest, ti held (mm), CS compression set (%).
    Assumes: worn as in the test of compression set.
    Holds: ti from 0 to t0, CS from 0 to 100 %.
    Class: model. Source: definition of compression set.
    """
    not_below_zero("The thickness", thickness_mm, "mm")
    within("The thickness held", held_mm, 0, thickness_mm, "mm")
    within("The compression set", set_percent, 0, 100, "%")
    return thickness_mm - set_percent / 100 * (thickness_mm - held_mm)
