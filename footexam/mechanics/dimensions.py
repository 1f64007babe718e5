"""Units at the edge: the one module that knows pint, for who wants a result in another unit.

Inside mechanics/ numbers are plain floats with the unit in their name. What people type is read
by units.py alone and never handed to pint.
"""

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry

WORDS = {
    "": "dimensionless",
    "%": "percent",
    "MPa": "megapascal",
    "N": "newton",
    "N m": "newton * meter",
    "N/kg": "newton / kilogram",
    "N m/kg": "newton * meter / kilogram",
    "cm": "centimeter",
    "cm2": "centimeter ** 2",
    "cm3": "centimeter ** 3",
    "deg": "degree",
    "in": "inch",
    "kPa": "kilopascal",
    "kg": "kilogram",
    "lb": "pound",
    "m": "meter",
    "mm": "millimeter",
    "mm/rad": "millimeter / radian",
    "mm2": "millimeter ** 2",
    "mm4": "millimeter ** 4",
    "rad": "radian",
    "weeks": "week",
}
"""Our words for units; a closed list, so that nothing typed reaches the parser of pint."""


def converted(value: float, unit: str, to: str) -> float:
    """A value of `unit` in the unit `to`, both words of WORDS.

    KeyError for another word, ValueError where the two measure different things.
    """
    registry = _registry()
    quantity = registry.Quantity(value, WORDS[unit])
    if not quantity.is_compatible_with(WORDS[to]):
        raise ValueError(f"“{unit}” and “{to}” measure different things")
    return float(quantity.m_as(WORDS[to]))


@cache
def _registry() -> "UnitRegistry[float]":
    from pint import UnitRegistry

    return UnitRegistry(cache_folder=None)
