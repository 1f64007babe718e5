"""A curved shell: what its curves and its held ends do to bending, as an estimate with a band.

Symbols as in strip.py; s sagitta of the transverse curve (mm), f rise of the lengthwise arch (mm),
κ how far the shoe holds the ends (0 free, 1 held).
"""

from dataclasses import dataclass
from math import hypot

from footexam.mechanics.reach import OutOfReach, above, not_below_zero, within
from footexam.mechanics.result import Span, Spread, spread
from footexam.mechanics.strip import flat_stiffness_ratio, second_moment_mm4

CURVED_MOST_OF_WIDTH = 0.25
"""There the formula of a shallow section is too soft by up to 22 %."""
ARCHED_MOST_OF_SPAN = 1 / 3
"""There the formula of a shallow arch is too stiff by up to 16 %."""
HELD = 48 / 2048
"""The sag of an arch with held ends as a share of that of a flat strip: 42.7 times as stiff."""
_STEPS = 100


@dataclass(frozen=True, slots=True)
class StiffnessChange:
    """How many times as stiff a shell becomes with another thickness, by three ways.

    `measured` is what printed shells did, `curved` the estimate for a curved section, `flat_bound`
    the cube law, which no finished device was seen to reach.
    """

    measured: Span
    curved: float
    flat_bound: float


def curved_second_moment_mm4(width_mm: float, thickness_mm: float, sagitta_mm: float) -> float:
    """The second moment of a section that is curved from side to side.

    I = b · t³ / 12 + (4 / 45) · b · t · s²; the second part is linear in t.
    Assumes: a thin, shallow parabola that keeps its shape under load.
    Holds: s from 0 up to b / 4.
    Class: model. Source: derived from beam theory; agrees in size with Tavera Pelaez 2023.
    """
    flat = second_moment_mm4(width_mm, thickness_mm)
    not_below_zero("The transverse curve", sagitta_mm, "mm")
    if sagitta_mm > CURVED_MOST_OF_WIDTH * width_mm:
        raise OutOfReach("too-curved")
    return flat + 4 / 45 * width_mm * thickness_mm * sagitta_mm**2


def free_arch_factor(rise_mm: float, span_mm: float) -> float:
    """How many times as far an arch sags as a flat strip when its front end is free to slide.

    k = ∫ x² · √(1 + y'²) dx / ∫ x² dx over half the span, y = 4 · f · x · (L - x) / L².
    Assumes: a parabola with the load at its middle; an arc of a circle sags a little less.
    Holds: f from 0 up to L / 3.
    Class: model. Source: derived from beam theory.
    """
    _arched(rise_mm, span_mm)
    step = 0.5 / _STEPS
    places = [number * step for number in range(_STEPS + 1)]
    weights = [1, *([4, 2] * (_STEPS // 2))[:-1], 1]
    slopes = [hypot(1, 4 * rise_mm / span_mm * (1 - 2 * x)) for x in places]
    whole = sum(w * x**2 * s for w, x, s in zip(weights, places, slopes, strict=True))
    return whole * step / 3 / (0.5**3 / 3)


def held_arch_thrust_n(load_n: float, span_mm: float, rise_mm: float) -> float:
    """How hard an arch with held ends pushes outwards under a load at its middle.

    H = 25 · F · L / (128 · f).
    Assumes: a shallow parabola whose ends cannot move and are free to turn.
    Holds: f above 0 up to L / 3.
    Class: model. Source: arch theory, textbook.
    """
    not_below_zero("The load", load_n, "N")
    above("The rise of the arch", rise_mm, "mm")
    _arched(rise_mm, span_mm)
    return 25 * load_n * span_mm / (128 * rise_mm)


def held_arch_sag_mm(load_n: float, span_mm: float, moment_mm4: float, modulus_mpa: float) -> float:
    """How far an arch with held ends sags under a load at its middle.

    δ = F · L³ / (2048 · E · I): 42.7 times as stiff as the flat strip, whatever the rise.
    Assumes: as held_arch_thrust_n; nothing shortens along the arch.
    Holds: I and E above 0.
    Class: model, a lower bound: no shoe holds a device so. Source: derived from arch theory.
    """
    not_below_zero("The load", load_n, "N")
    above("The span", span_mm, "mm")
    above("The second moment", moment_mm4, "mm4")
    above("The modulus", modulus_mpa, "MPa")
    return load_n * span_mm**3 / (2048 * modulus_mpa * moment_mm4)


def restraint_factor(restraint: float) -> float:
    """What holding the ends leaves of the sag: 1 when they are free, 1 / 42.7 when held.

    k = 1 - (1 - 48 / 2048) · κ.
    Assumes: the sag falls evenly with κ, which nobody measured in a shoe.
    Holds: κ from 0 to 1.
    Class: estimate. Source: own interpolation, figure “end-restraint”.
    """
    within("The hold of the shoe on the ends", restraint, 0, 1)
    return 1 - (1 - HELD) * restraint


def shell_sag_mm(
    load_n: float,
    span_mm: float,
    width_mm: float,
    thickness_mm: float,
    modulus_mpa: float,
    sagitta_mm: float,
    restraint: float,
) -> float:
    """How far the middle of a curved shell sags under a load spread over its span.

    δ = 5 · F · L³ / (384 · E · I) · (1 - (1 - 48 / 2048) · κ), I of the curved section.
    Assumes: even thickness and curve; posts, heel cup and flanges are left out and stiffen it.
    Holds: as curved_second_moment_mm4 and restraint_factor.
    Class: estimate. Source: derived; sizes compared with Tavera Pelaez 2023.
    """
    not_below_zero("The load", load_n, "N")
    above("The span", span_mm, "mm")
    above("The modulus", modulus_mpa, "MPa")
    moment = curved_second_moment_mm4(width_mm, thickness_mm, sagitta_mm)
    return 5 * load_n * span_mm**3 / (384 * modulus_mpa * moment) * restraint_factor(restraint)


def shell_sag(
    load_n: Span,
    span_mm: Span,
    width_mm: Span,
    thickness_mm: Span,
    modulus_mpa: Span,
    sagitta_mm: Span,
    restraint: Span,
) -> Spread:
    """The same with the band that its uncertain inputs imply, mm.

    δ as in shell_sag_mm at every end of every span.
    Assumes: the uncertain inputs may all stand at their ends at once.
    Holds: as shell_sag_mm.
    Class: estimate. Source: as shell_sag_mm.
    """
    return spread(
        shell_sag_mm,
        load_n=load_n,
        span_mm=span_mm,
        width_mm=width_mm,
        thickness_mm=thickness_mm,
        modulus_mpa=modulus_mpa,
        sagitta_mm=sagitta_mm,
        restraint=restraint,
    )


def stiffness_change(
    thickness_mm: float, from_mm: float, width_mm: float, sagitta_mm: float, exponent: Span
) -> StiffnessChange:
    """How many times as stiff a shell becomes with another thickness.

    Measured (t2 / t1)^n with n as seen in printed shells; curved I2 / I1; flat (t2 / t1)³.
    Assumes: the shape stays as it is.
    Holds: thicknesses above 0; the exponents come from 2.6 to 3.4 mm of one material.
    Class: estimate. Source: Tavera Pelaez 2023, figures “shell-exponent-low” and “-high”.
    """
    flat = flat_stiffness_ratio(thickness_mm, from_mm)
    powers = sorted(
        (thickness_mm / from_mm) ** power for power in (exponent.low, exponent.usual, exponent.high)
    )
    curved = curved_second_moment_mm4(width_mm, thickness_mm, sagitta_mm)
    before = curved_second_moment_mm4(width_mm, from_mm, sagitta_mm)
    return StiffnessChange(Span(*powers), curved / before, flat)


def _arched(rise_mm: float, span_mm: float) -> None:
    above("The span", span_mm, "mm")
    not_below_zero("The rise of the arch", rise_mm, "mm")
    if rise_mm > ARCHED_MOST_OF_SPAN * span_mm:
        raise OutOfReach("too-arched")
