"""Cumulative load on tissue as a power law: a relative index, an estimate and never a risk.

Tissue fails after N = C·S^(-b) cycles of load S. C is not known for a person, so damage is only
compared: the sum of n·(S/reference)^b over cycles n, summed as Miner does (Edwards 2018). The
exponent b is a parameter that is shown, and a result is always given for a low and a high one too.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from footexam.catalogue.model import Rule
from footexam.mechanics.figures import figure

TISSUES = ("bone", "tendon")
"""Tissues for which an exponent was published; for cartilage, fascia and fat pad there is none."""

SECONDS_A_MINUTE = 60
METRES_A_KM = 1000
LEGS = 2


@dataclass(frozen=True, slots=True)
class Exponents:
    """The usual exponent of a tissue with a low and a high one to try."""

    low: float
    usual: float
    high: float


@dataclass(frozen=True, slots=True)
class Damage:
    """A damage index at the low, the usual and the high exponent; no unit."""

    low: float
    usual: float
    high: float


@dataclass(frozen=True, slots=True)
class Bout:
    """So many cycles (steps of one leg) at a load, as a share of a reference load."""

    cycles: float
    load: float


def exponents(training: Mapping[str, Rule], tissue: str) -> Exponents:
    """Those of a tissue of TISSUES, from Catalogue.training; KeyError for any other."""
    low, usual, high = (
        figure(training, f"{tissue}-exponent{end}") for end in ("-low", "", "-high")
    )
    return Exponents(low, usual, high)


def damage(bouts: Iterable[Bout], tissue: Exponents) -> Damage:
    """The damage index of bouts together. ValueError where cycles or a load are below 0."""
    all_bouts = tuple(bouts)
    if any(bout.cycles < 0 or bout.load < 0 for bout in all_bouts):
        raise ValueError("cycles and loads are never negative")
    low, usual, high = (
        sum((bout.cycles * bout.load**power for bout in all_bouts), 0.0)
        for power in (tissue.low, tissue.usual, tissue.high)
    )
    return Damage(low, usual, high)


def cumulative_load(bouts: Iterable[Bout]) -> float:
    """Cycles times load: what damage is not, as it can fall while damage rises."""
    return sum((bout.cycles * bout.load for bout in bouts), 0.0)


def load_of_equal_damage(cycles: float, exponent: float) -> float:
    """The load, as a share, at which this many times the cycles do the same damage.

    `cycles` is a ratio above 0: 1.05 for 5 % more. ValueError otherwise.
    """
    if cycles <= 0 or exponent <= 0:
        raise ValueError("the ratio of cycles and the exponent are above 0")
    return float(cycles ** (-1 / exponent))


def steps_per_km(speed_m_s: float, cadence_per_min: float) -> float:
    """Steps of both legs over a kilometre; half of them fall on each leg."""
    return METRES_A_KM / (speed_m_s * SECONDS_A_MINUTE) * cadence_per_min


def cycles_of_a_leg(minutes: float, cadence_per_min: float) -> float:
    """Steps of one leg in so many minutes."""
    return minutes * cadence_per_min / LEGS
