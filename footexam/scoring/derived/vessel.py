"""Derived measures of vessel and skin: pressure indices, temperature difference, wounds."""

from collections.abc import Mapping
from decimal import Decimal

from footexam.record.reading import RegionValues, Rows
from footexam.scoring.derived.result import Derived, Slopes
from footexam.scoring.visit import Key, Visit
from footexam.terms import Side

ARM, TOE = "pressure-arm", "pressure-toe"
ANKLE = ("pressure-dorsalis-pedis", "pressure-posterior-tibial")


def ankle_brachial_index(visit: Visit, side: Side) -> Derived | None:
    """Higher ankle pressure of the leg over the higher arm, a ratio (guideline of 2016).

    Worked out from what was measured; a missing artery or arm is named, as the index may then be
    too low or too high.
    """
    return _index(visit, side, ANKLE)


def toe_brachial_index(visit: Visit, side: Side) -> Derived | None:
    """Toe pressure over the higher arm, a ratio."""
    return _index(visit, side, (TOE,))


def _index(visit: Visit, side: Side | None, measures: tuple[str, ...]) -> Derived | None:
    leg, arms = _pressures(visit, side, measures), _arms(visit)
    if not leg or not arms:
        return None
    arm = max(arms.values())
    if not arm:
        return None
    missing = tuple(measure for measure in measures if (measure, side) not in leg)
    if len(arms) < len(Side):
        missing = (ARM, *missing)
    found = (ARM, *(measure for measure, _ in leg))
    return Derived(max(leg.values()) / arm, found, missing)


def _arms(visit: Visit) -> dict[Key, Decimal]:
    found = {(ARM, side): visit.number(ARM, side) for side in Side}
    return {key: number for key, number in found.items() if number is not None}


def _pressures(visit: Visit, side: Side | None, measures: tuple[str, ...]) -> dict[Key, Decimal]:
    found = {(measure, side): visit.number(measure, side) for measure in measures}
    return {key: number for key, number in found.items() if number is not None}


def ankle_slopes(visit: Visit, side: Side | None) -> Slopes:
    """Slopes of the ankle index by the two pressures that made it."""
    return _index_slopes(visit, side, ANKLE)


def toe_slopes(visit: Visit, side: Side | None) -> Slopes:
    """Slopes of the toe index by the two pressures that made it."""
    return _index_slopes(visit, side, (TOE,))


def _index_slopes(visit: Visit, side: Side | None, measures: tuple[str, ...]) -> Slopes:
    leg, upper = _highest(_pressures(visit, side, measures))
    arm, lower = _highest(_arms(visit))
    return (leg, 1.0 / lower), (arm, -upper / lower**2)


def _highest(pressures: Mapping[Key, Decimal]) -> tuple[Key, float]:
    key = max(pressures, key=pressures.__getitem__)
    return key, float(pressures[key])


def skin_temperature_difference(visit: Visit) -> Derived | None:
    """Left less right in K, at the region where the feet differ most; the first of equal ones."""
    left = visit.value("skin-temperature", Side.LEFT)
    right = visit.value("skin-temperature", Side.RIGHT)
    if not isinstance(left, RegionValues) or not isinstance(right, RegionValues):
        return None
    both = [
        left.values[region] - right.values[region]
        for region in left.values
        if region in right.values
    ]
    return Derived(max(both, key=abs), ("skin-temperature",)) if both else None


def wound_weeks(visit: Visit, side: Side) -> Derived | None:
    """Age in weeks of the oldest wound of the side; None if no age was written."""
    weeks = [row["weeks"] for row in _wounds(visit, side) if "weeks" in row]
    ages = [age for age in weeks if isinstance(age, Decimal)]
    return Derived(max(ages), ("wound",)) if ages else None


def wound_infected(visit: Visit, side: Side) -> Derived | None:
    """The word yes when any wound is infected, no when all are answered no."""
    answers = [row.get("infected") for row in _wounds(visit, side)]
    if "yes" in answers:
        return Derived("yes", ("wound",))
    return Derived("no", ("wound",)) if answers and set(answers) == {"no"} else None


def _wounds(visit: Visit, side: Side | None) -> tuple[Mapping[str, str | Decimal], ...]:
    value = visit.value("wound", side)
    return value.rows if isinstance(value, Rows) else ()
