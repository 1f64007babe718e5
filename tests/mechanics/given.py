"""The figures that mechanics takes from forms/; and agreement with what is printed."""

from collections.abc import Mapping
from decimal import Decimal

from footexam.catalogue.model import Rule
from tests.published.cases import forms


def figures() -> Mapping[str, Rule]:
    return forms().figures


def at(name: str) -> float:
    return float(figures()[name].at)


def agrees(value: float, printed: str) -> bool:
    """Whether a value rounds to what is printed, in the digits that are printed."""
    half = Decimal(5).scaleb(Decimal(printed).as_tuple().exponent - 1)
    return abs(value - float(printed)) <= float(half) * (1 + 1e-6)
