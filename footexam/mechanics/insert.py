"""Stiff inserts for the forefoot: a torque by which they are ranked, and nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians

from footexam.mechanics.reach import above, within
from footexam.mechanics.result import Span, Spread, spread
from footexam.mechanics.strip import second_moment_mm4

MOST_BEND_DEG = 60


@dataclass(frozen=True, slots=True)
class Plate:
    """A plate of a material: thickness (mm) and the span of its modulus (MPa)."""

    thickness_mm: float
    modulus_mpa: Span


@dataclass(frozen=True, slots=True)
class Ranked:
    """A place in the order from stiff to soft; `like_next` where the next may be as stiff."""

    name: str
    torque_nm: Spread
    like_next: bool


def bending_torque_nm(
    thickness_mm: float, width_mm: float, length_mm: float, bend_deg: float, modulus_mpa: float
) -> float:
    """The torque that bends a flat plate at the toe joints.

    M = E · I · β / l / 1000, I = w · t³ / 12, with E modulus (MPa), w width, t thickness, l length
    that bends (mm) and β bend (radians, given in degrees).
    Assumes: an even bend over l; the shoe's own torque comes on top.
    Holds: all above 0, β up to 60 degrees.
    Class: estimate, for ranking only. Source: beam theory; figures “plate-…”.
    """
    above("The length that bends", length_mm, "mm")
    above("The modulus", modulus_mpa, "MPa")
    within("The bend", bend_deg, 0, MOST_BEND_DEG, "deg")
    moment = second_moment_mm4(width_mm, thickness_mm)
    return modulus_mpa * moment * radians(bend_deg) / length_mm / 1000


def ranked(
    plates: Mapping[str, Plate], width_mm: float, length_mm: float, bend_deg: float
) -> tuple[Ranked, ...]:
    """Plates from the stiffest to the softest; equal ones in the order of their names.

    Ordered by M of bending_torque_nm; `like_next` where the bands of two neighbours touch.
    Assumes: as bending_torque_nm, the same bend of all.
    Holds: as bending_torque_nm.
    Class: estimate, for ranking only. Source: as bending_torque_nm.
    """

    def torque(plate: Plate) -> Spread:
        def of(modulus_mpa: float) -> float:
            return bending_torque_nm(plate.thickness_mm, width_mm, length_mm, bend_deg, modulus_mpa)

        return spread(of, modulus_mpa=plate.modulus_mpa)

    found = sorted(
        ((name, torque(plate)) for name, plate in plates.items()),
        key=lambda row: (-row[1].value, row[0]),
    )
    softer = [row[1].high for row in found[1:]]
    likes = [row[1].low <= high for row, high in zip(found, softer, strict=False)]
    return tuple(
        Ranked(name, band, like) for (name, band), like in zip(found, [*likes, False], strict=False)
    )
