"""Bending of a flat strip: the bound from which a curved shell is seen to differ.

Symbols: F load (N), L span (mm), b width (mm), t thickness (mm), E modulus (MPa), I second moment
of area (mm⁴). The stiffness of a flat strip goes by the cube of t; that of a made shell does not.
"""

from footexam.mechanics.reach import OutOfReach, above, not_below_zero

THICKEST_OF_SPAN = 0.1
"""Thicker, shear adds more than 3 % to the sag of a plastic strip."""
DEEPEST_OF_SPAN = 0.2
"""There the theory of small slopes is off by up to a sixth, more or less as the ends slide."""


def second_moment_mm4(width_mm: float, thickness_mm: float) -> float:
    """The second moment of area of a flat section.

    I = b · t³ / 12, with b width (mm) and t thickness (mm).
    Assumes: a full rectangle.
    Holds: b and t above 0.
    Class: geometry. Source: beam theory, textbook.
    """
    above("The width", width_mm, "mm")
    above("The thickness", thickness_mm, "mm")
    return width_mm * thickness_mm**3 / 12


def centre_sag_mm(
    load_n: float, span_mm: float, width_mm: float, thickness_mm: float, modulus_mpa: float
) -> float:
    """How far a strip on two supports sags under a load at its middle (three-point bending).

    δ = F · L³ / (48 · E · I) = F · L³ / (4 · E · b · t³).
    Assumes: flat, even, elastic, free to turn and slide at its ends, slopes small.
    Holds: t up to L / 10 and δ up to L / 5.
    Class: model, an upper bound for a curved shell. Source: beam theory, textbook.
    """
    _strip(load_n, span_mm, thickness_mm, modulus_mpa)
    stiffness = 48 * modulus_mpa * second_moment_mm4(width_mm, thickness_mm)
    return _shallow(load_n * span_mm**3 / stiffness, span_mm)


def spread_sag_mm(
    load_n: float, span_mm: float, width_mm: float, thickness_mm: float, modulus_mpa: float
) -> float:
    """How far the middle of the same strip sags when the load lies evenly over the span.

    δ = 5 · F · L³ / (384 · E · I): five eighths of what a load at the middle does.
    Assumes: as centre_sag_mm.
    Holds: as centre_sag_mm.
    Class: model, an upper bound for a curved shell. Source: beam theory, textbook.
    """
    _strip(load_n, span_mm, thickness_mm, modulus_mpa)
    stiffness = 384 * modulus_mpa * second_moment_mm4(width_mm, thickness_mm)
    return _shallow(5 * load_n * span_mm**3 / stiffness, span_mm)


def centre_stress_mpa(load_n: float, span_mm: float, width_mm: float, thickness_mm: float) -> float:
    """The greatest bending stress of a strip with a load at its middle.

    σ = 3 · F · L / (2 · b · t²). At the flexural strength the strip gives way before it bends so.
    Assumes: as centre_sag_mm.
    Holds: t up to L / 10.
    Class: model. Source: beam theory, textbook.
    """
    _strip(load_n, span_mm, thickness_mm, 1)
    above("The width", width_mm, "mm")
    return 3 * load_n * span_mm / (2 * width_mm * thickness_mm**2)


def flat_stiffness_ratio(thickness_mm: float, from_mm: float) -> float:
    """How many times as stiff a flat strip becomes: a bound, never the truth of a made device.

    k = (t2 / t1)³, with t2 the thickness and t1 the thickness before (mm).
    Assumes: flat, as centre_sag_mm.
    Holds: both above 0.
    Class: model, an upper bound. Source: beam theory; measured shells: Tavera Pelaez 2023.
    """
    above("The thickness", thickness_mm, "mm")
    above("The thickness before", from_mm, "mm")
    return (thickness_mm / from_mm) ** 3


def span_for_stiffness_mm(span_mm: float, times: float) -> float:
    """The span that makes a strip so many times as stiff: what posts under a shell amount to.

    L' = L / k^(1/3), with L span (mm) and k how many times as stiff.
    Assumes: as centre_sag_mm.
    Holds: L above 0, k from 1.
    Class: model. Source: beam theory; k of posts Tavera Pelaez 2023, figure “post-stiffening”.
    """
    above("The span", span_mm, "mm")
    not_below_zero("The gain in stiffness", times - 1)
    return float(span_mm / times ** (1 / 3))


def _strip(load_n: float, span_mm: float, thickness_mm: float, modulus_mpa: float) -> None:
    not_below_zero("The load", load_n, "N")
    above("The span", span_mm, "mm")
    above("The thickness", thickness_mm, "mm")
    above("The modulus", modulus_mpa, "MPa")
    if thickness_mm > THICKEST_OF_SPAN * span_mm:
        raise OutOfReach("too-thick")


def _shallow(sag_mm: float, span_mm: float) -> float:
    if sag_mm > DEEPEST_OF_SPAN * span_mm:
        raise OutOfReach("sags-too-far")
    return sag_mm
