"""The figures that mechanics takes from forms/, as tests expect them; and agreement in print."""

import csv
from decimal import Decimal
from functools import cache
from pathlib import Path

from footexam.catalogue.model import Rule
from footexam.terms import Provenance

FIGURES = Path(__file__).parents[1] / "data" / "mechanics" / "figures.csv"


@cache
def figures() -> dict[str, Rule]:
    with FIGURES.open(encoding="utf-8", newline="") as file:
        return {
            row["id"]: Rule(
                row["id"],
                row["source"],
                Provenance(row["provenance"]),
                at=Decimal(row["at"]),
                unit=row["unit"],
            )
            for row in csv.DictReader(file)
        }


def at(name: str) -> float:
    return float(figures()[name].at)


def agrees(value: float, printed: str) -> bool:
    """Whether a value rounds to what is printed, in the digits that are printed."""
    half = Decimal(5).scaleb(Decimal(printed).as_tuple().exponent - 1)
    return abs(value - float(printed)) <= float(half) * (1 + 1e-6)
