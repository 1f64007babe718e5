"""What a formula gives: a value with the measures it was worked out from, or what is missing."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from footexam.scoring.results import BandShown
from footexam.scoring.visit import Key, Visit
from footexam.terms import Side


@dataclass(frozen=True, slots=True)
class Derived:
    """A value in the measure's unit, unrounded, or a word; None where something is missing.

    `inputs` are the measures it was worked out from, `missing` those that it should have and has
    not. `bands` are the rules that a word rests on.
    """

    value: Decimal | str | None
    inputs: tuple[str, ...]
    missing: tuple[str, ...] = ()
    bands: tuple[BandShown, ...] = ()


Formula = Callable[[Visit, Side], Derived | None]
"""Works a derived measure out of a visit for one side; None where nothing is recorded for it."""

WholeFormula = Callable[[Visit], Derived | None]
"""The same for a measure without sides."""

Slopes = tuple[tuple[Key, float], ...]
"""First derivatives of a derived value by each input (S7), in units of value by units of input."""

Slope = Callable[[Visit, Side | None], Slopes]
"""Works out the slopes at the readings of a visit; called only where the value exists."""


def numbers(visit: Visit, side: Side | None, measures: Sequence[str]) -> list[Decimal] | None:
    """The numbers of all these measures on a side; None if one is missing."""
    found = []
    for measure in measures:
        number = visit.number(measure, side)
        if number is None:
            return None
        found.append(number)
    return found


def total(visit: Visit, side: Side | None, items: tuple[str, ...]) -> Derived | None:
    """Sum of the items, all or none: with some missing there is no total, and it says which."""
    found = {item: visit.number(item, side) for item in items}
    recorded = {item: number for item, number in found.items() if number is not None}
    if not recorded:
        return None
    missing = tuple(item for item in items if item not in recorded)
    value = None if missing else sum(recorded.values(), Decimal())
    return Derived(value, tuple(recorded), missing)
