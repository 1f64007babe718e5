"""The thickness of a shell: between materials at equal stiffness, and by body mass."""

from contextlib import suppress
from dataclasses import dataclass
from math import floor

from footexam.mechanics.reach import OutOfReach, above, not_below_zero, within
from footexam.mechanics.result import Span, Spread


@dataclass(frozen=True, slots=True)
class TrialRule:
    """The thicknesses of polypropylene that a trial used, mm: by body mass and foot posture.

    Below and above `mass_kg`; `cavus_…` are for a foot posture index below 0, the others for one
    above 0. An index of 0 and, with an index below 0, the very mass are not covered.
    """

    mass_kg: float
    light_mm: float
    heavy_mm: float
    cavus_light_mm: float
    cavus_heavy_mm: float


@dataclass(frozen=True, slots=True)
class MassRule:
    """The rule of thumb: a thickness at a body mass, and the masses between which it holds."""

    thickness_mm: float
    mass_kg: float
    lightest_kg: float
    heaviest_kg: float
    work_extra_mm: float


def equal_stiffness_mm(thickness_mm: float, modulus_mpa: float, other_mpa: float) -> float:
    """The thickness of another material that bends as little.

    t2 = t1 · (E1 / E2)^(1/3), with t thickness (mm) and E modulus (MPa).
    Assumes: flat strips of the same span and width; a curved shell needs less difference.
    Holds: all above 0; strength and creep are not looked at.
    Class: model. Source: beam theory, textbook; moduli from the table of materials.
    """
    above("The thickness", thickness_mm, "mm")
    above("The modulus", modulus_mpa, "MPa")
    above("The modulus of the other material", other_mpa, "MPa")
    return float(thickness_mm * (modulus_mpa / other_mpa) ** (1 / 3))


def thickness_by_mass_mm(mass_kg: float, rule: MassRule) -> float:
    """The thickness of polypropylene for a body mass, by the rule of thumb.

    t = t0 · (m / m0)^(1/3), with m body mass (kg); t0 (mm) and m0 (kg) from the rule.
    Assumes: equal sag under load by mass, as of a flat strip; age, shape and pace left out.
    Holds: m within the masses of the rule.
    Class: estimate. Source: own rule, figures “shell-reference-…”; agrees with McCormick 2013.
    """
    within("Body mass", mass_kg, rule.lightest_kg, rule.heaviest_kg, "kg")
    return float(rule.thickness_mm * (mass_kg / rule.mass_kg) ** (1 / 3))


def trial_thickness_mm(mass_kg: float, posture_index: float, rule: TrialRule) -> float:
    """The thickness of polypropylene that the trial gave a person of this mass and posture.

    A table of four cells: index above or below 0, mass below or from the mark.
    Assumes: nothing; it says what was done, not that it is best.
    Holds: index -12 to 12 but not 0; with an index below 0 not the very mark.
    Class: estimate. Source: McCormick 2013, methods, figures “trial-rule-…”.
    """
    above("Body mass", mass_kg, "kg")
    within("The foot posture index", posture_index, -12, 12)
    if posture_index == 0:
        raise OutOfReach("rule-has-a-gap", name="a foot posture index", value="0", unit="")
    if posture_index > 0:
        return rule.light_mm if mass_kg < rule.mass_kg else rule.heavy_mm
    if mass_kg == rule.mass_kg:
        raise OutOfReach("rule-has-a-gap", name="a mass", value=f"{mass_kg:g}", unit=" kg")
    return rule.cavus_light_mm if mass_kg < rule.mass_kg else rule.cavus_heavy_mm


def cavus_reduction_mm(mass_kg: float, posture_index: float, rule: TrialRule) -> Span:
    """How much thinner a shell is made where the foot posture index is below 0.

    Δ = what the trial rule takes off: the light cell less the light cavus cell, or the heavy ones.
    Assumes: the difference in the rule may be taken off another thickness.
    Holds: mass above 0, index -12 to 12; at the very mark both differences stand in the span.
    Class: estimate. Source: McCormick 2013, figures “trial-rule-…”.
    """
    above("Body mass", mass_kg, "kg")
    within("The foot posture index", posture_index, -12, 12)
    light, heavy = rule.light_mm - rule.cavus_light_mm, rule.heavy_mm - rule.cavus_heavy_mm
    if posture_index >= 0:
        return Span(0, 0, 0)
    if mass_kg == rule.mass_kg:
        low, high = sorted((light, heavy))
        return Span(low, (low + high) / 2, high)
    return Span(light, light, light) if mass_kg < rule.mass_kg else Span(heavy, heavy, heavy)


def shell_thickness(
    mass_kg: float, posture_index: float | None, trial: TrialRule, rule: MassRule, *, heavy: bool
) -> Spread:
    """The thickness of a polypropylene shell for a person, with the trial rule in the band, mm.

    t = t0 · (m / m0)^(1/3) - reduction for an index below 0 + extra for heavy work or running.
    `posture_index` None where it was not scored: nothing is then taken off, and the band goes down
    by what it could have taken.
    Assumes: the rules above may be added.
    Holds: as thickness_by_mass_mm.
    Class: estimate. Source: as thickness_by_mass_mm and cavus_reduction_mm.
    """
    base = thickness_by_mass_mm(mass_kg, rule)
    extra = rule.work_extra_mm if heavy else 0.0
    taken = cavus_reduction_mm(mass_kg, -1 if posture_index is None else posture_index, trial)
    if posture_index is None:
        return Spread(base + extra, base + extra - taken.high, base + extra)
    found = [base + extra - part for part in (taken.low, taken.usual, taken.high)]
    with suppress(OutOfReach):
        found.append(trial_thickness_mm(mass_kg, posture_index, trial) + extra)
    return Spread(base + extra - taken.usual, min(found), max(found))


def stock_mm(thickness_mm: float, low_mm: float, high_mm: float, step_mm: float) -> float:
    """The sheet on the shelf that is nearest; of two equally near the thicker one.

    t = low + n · step, n whole and nearest to (t - low) / step.
    Assumes: sheets in even steps.
    Holds: half a step beyond the thinnest and the thickest sheet.
    Class: geometry. Source: common practice, figures “shell-stock-…”.
    """
    not_below_zero("The thinnest sheet", low_mm, "mm")
    above("The step of thickness", step_mm, "mm")
    within("The thickness", thickness_mm, low_mm - step_mm / 2, high_mm + step_mm / 2, "mm")
    return min(high_mm, low_mm + step_mm * floor((thickness_mm - low_mm) / step_mm + 0.5))
