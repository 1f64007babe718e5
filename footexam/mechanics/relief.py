"""Relief: what a softer place under the foot takes from a region and gives to its neighbours.

Symbols: s share of the load that the region carries before (0 to 1), q stiffness of the support
under it against that around it (0 none, 1 alike). Mean pressures, never peaks: show changes only.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from footexam.mechanics.reach import OutOfReach, above, not_below_zero, within

LEAST = 1e-6
"""Between no support and this share of it, and as near to all of it, no depth is worked out."""


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer under a load: its thickness (mm) and modulus (MPa)."""

    thickness_mm: float
    modulus_mpa: float


def mean_pressure_kpa(load_n: float, share: float, area_cm2: float) -> float:
    """The mean pressure under a region.

    p = 10 · F · s / A, with F load on the foot (N) and A area (cm²).
    Assumes: the load lies evenly in the region; peaks are higher.
    Holds: F from 0, s from 0 to 1, A above 0.
    Class: model. Source: definition of pressure.
    """
    not_below_zero("The load", load_n, "N")
    within("The share of the load", share, 0, 1)
    above("The area", area_cm2, "cm2")
    return 10 * load_n * share / area_cm2


def relieved_share(share: float, stiffness: float) -> float:
    """The share that the region carries with a relief under it.

    s' = s · q / (1 - s + s · q).
    Assumes: regions are springs side by side that settle equally, total load unchanged.
    Holds: s from 0 to below 1, q from 0 to 1.
    Class: estimate. Source: derived; q fitted to Lin 2013, figure “relief-factor”.
    """
    within("The share of the load", share, 0, 0.99)
    within("The stiffness of the relief", stiffness, 0, 1)
    return share * stiffness / (1 - share + share * stiffness)


def relief_change_percent(share: float, stiffness: float) -> float:
    """By how much the pressure of the region changes; 0 or below.

    Δ = (s' / s - 1) · 100 = (q / (1 - s + s · q) - 1) · 100.
    Assumes: as relieved_share; the area in contact stays.
    Holds: as relieved_share.
    Class: estimate. Source: as relieved_share.
    """
    within("The share of the load", share, 0, 0.99)
    within("The stiffness of the relief", stiffness, 0, 1)
    return (stiffness / (1 - share + share * stiffness) - 1) * 100


def neighbour_rise_percent(share: float, stiffness: float) -> float:
    """The most by which the pressure of every other region rises: an upper bound.

    Δ = ((1 - s') / (1 - s) - 1) · 100.
    Assumes: all that leaves the region goes to the others evenly; measured rises were smaller.
    Holds: as relieved_share.
    Class: estimate, an upper bound. Source: as relieved_share.
    """
    return ((1 - relieved_share(share, stiffness)) / (1 - share) - 1) * 100


def fitted_stiffness(share: float, fall_percent: float) -> float:
    """The stiffness of a relief that explains a measured fall of pressure under it.

    With r = 1 - fall / 100: q = r · (1 - s) / (1 - r · s), the inverse of relieved_share.
    Assumes: as relieved_share, with the share that the region had.
    Holds: s from 0 to below 1, fall from 0 to 100 %.
    Class: estimate. Source: derived; fall of 32.3 % Lin 2013, figure “relief-fall”.
    """
    within("The share of the load", share, 0, 0.99)
    within("The fall of pressure", fall_percent, 0, 100, "%")
    left = 1 - fall_percent / 100
    return left * (1 - share) / (1 - left * share)


def stiffness_through_tissue(tissue: Layer, base: Layer, fill: Layer) -> float:
    """The stiffness of a relief felt through the soft tissue above it; tissue blunts softness.

    q = (ts / Es + tb / Eb) / (ts / Es + tf / Ef), with t thickness (mm) and E modulus (MPa) of
    tissue s, base b and fill f.
    Assumes: layers in series, linear.
    Holds: all above 0 and the fill not stiffer than the base.
    Class: estimate. Source: derived; moduli from the table of materials.
    """
    tissue_gives, base_gives, fill_gives = (_gives(layer) for layer in (tissue, base, fill))
    above("What the fill gives way, against the base", fill_gives / base_gives, "", 1 - 1e-9)
    return (tissue_gives + base_gives) / (tissue_gives + fill_gives)


def relief_depth_mm(stiffness: float, tissue: Layer, base: Layer, fill_mpa: float) -> float:
    """How deep a soft fill has to be, so that a relief is felt through tissue as this stiff.

    d = (1 - q) · ts / Es / (q / Ef - 1 / Eb), with t thickness (mm) and E modulus (MPa) of tissue
    s, base b and fill f: stiffness_through_tissue turned round, the fill in place of as much base.
    Assumes: layers in series, linear; the fill does not bottom out and its rim carries nothing.
    Holds: q from 0 to 1, the ends left out; all others above 0; d up to the thickness of the base.
    Class: estimate. Source: derived; q fitted to Lin 2013, figure “relief-factor”.
    """
    within("The stiffness of the relief", stiffness, LEAST, 1 - LEAST)
    above("The thickness of a layer", base.thickness_mm, "mm")
    tissue_gives, base_gives, fill_gives = (
        _gives(layer) for layer in (tissue, Layer(1, base.modulus_mpa), Layer(1, fill_mpa))
    )
    gained = stiffness * fill_gives - base_gives
    needed = (1 - stiffness) * tissue_gives
    if gained * base.thickness_mm < needed:
        parts = {"value": f"{fill_mpa:g}", "depth": f"{base.thickness_mm:g}"}
        raise OutOfReach("fill-too-firm", **parts)
    return needed / gained


def relieved_pressures(
    before_kpa: Mapping[str, float], region: str, share: float, stiffness: float
) -> dict[str, float]:
    """Mean pressures of all regions with a relief under one: the others at their upper bound.

    p' = p · (1 + Δ / 100), Δ of relief_change_percent for the region, of neighbour_rise_percent
    for the others; pressures in kPa.
    Assumes: as these two.
    Holds: the region is among them; pressures from 0.
    Class: estimate; show changes, and check in the shoe. Source: as relieved_share.
    """
    for name, pressure in before_kpa.items():
        not_below_zero(f"The pressure under {name}", pressure, "kPa")
    fall = relief_change_percent(share, stiffness)
    rise = neighbour_rise_percent(share, stiffness)
    after = {name: kpa * (1 + rise / 100) for name, kpa in before_kpa.items()}
    after[region] = before_kpa[region] * (1 + fall / 100)
    return after


def risen_past(
    before_kpa: Mapping[str, float], after_kpa: Mapping[str, float], mark_kpa: float
) -> tuple[str, ...]:
    """The regions whose pressure crosses a mark upwards, in their order.

    p ≤ mark < p', all in kPa.
    Assumes: nothing.
    Holds: mark above 0, both maps with the same regions.
    Class: estimate. Source: mark of Martinez-Santos 2019 and Preece 2017, figure “pressure-mark”.
    """
    above("The mark", mark_kpa, "kPa")
    return tuple(n for n, kpa in before_kpa.items() if kpa <= mark_kpa < after_kpa[n])


def _gives(layer: Layer) -> float:
    above("The thickness of a layer", layer.thickness_mm, "mm")
    above("The modulus of a layer", layer.modulus_mpa, "MPa")
    return layer.thickness_mm / layer.modulus_mpa
