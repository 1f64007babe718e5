"""Dimensions of a feature for this person: chosen, else worked out, else usual."""

import re
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import Feature, Size
from footexam.mechanics.formula import INPUTS, NotGiven
from footexam.mechanics.formulas import FORMULAS, work_out
from footexam.mechanics.result import Result, Standing
from footexam.reasoning.planned import Dimension
from footexam.reasoning.view import View
from footexam.record.refusal import in_digits
from footexam.terms import Provenance

_TYPED = re.compile(r"([+\-\u2212\u2013]?)(\d+(?:[.,]\d+)?)\s*(\S.*)?")
_NEGATIVE = frozenset("-\u2212\u2013")
_INPUTS_OF: dict[str, list[str]] = {}
"""The inputs that are dimensions of a feature, by its id; under "" those that are none."""
for _name in INPUTS:
    _INPUTS_OF.setdefault(_name.rpartition(".")[0], []).append(_name)


def known_inputs(view: View, decided: Mapping[str, Mapping[str, Any]]) -> dict[str, float | None]:
    """The inputs of the formulas for a side: measures by name, chosen sizes as feature.size."""
    found: dict[str, float | None] = {}
    for name, (_, unit) in INPUTS.items():
        feature, dot, size = name.partition(".")
        if dot:
            typed = decided.get(feature, {}).get(size)
            amount = read_size(typed, unit) if isinstance(typed, str) else None
            found[name] = None if amount is None else float(amount)
        else:
            number = view.measured(name)
            found[name] = None if number is None else float(number.value)
    return found


def read_size(typed: str, unit: str) -> Decimal | None:
    """A dimension as typed, in its unit; None where it is no number or another unit's."""
    found = _TYPED.fullmatch(typed.strip())
    if not found or (found[3] or unit).strip() not in {unit, "°" if unit == "deg" else unit}:
        return None
    amount = Decimal(found[2].replace(",", "."))
    return -amount if found[1] in _NEGATIVE and found[1] else amount


def dimensions(
    feature: Feature,
    inputs: Mapping[str, float | None],
    decided: Mapping[str, Any] | None,
    catalogue: Catalogue,
) -> tuple[Dimension, ...]:
    """All dimensions of a feature; `decided` is what was chosen of it, None where it was not.

    A dimension that follows from another takes the usual one where none was chosen.
    """
    known = _without_others(feature, inputs)
    for one in feature.sizes:
        name = f"{feature.id}.{one.id}"
        if not one.formula and known.get(name) is None:
            known[name] = float(one.usual)
    return tuple(_dimension(size, known, decided or {}, catalogue) for size in feature.sizes)


def with_material(
    feature: Feature,
    inputs: Mapping[str, float | None],
    decided: Mapping[str, Any] | None,
    catalogue: Catalogue,
) -> Mapping[str, float | None]:
    """The inputs with the modulus of what a feature is made of: as chosen, else the usual.

    Without it where that is no material of forms/, several, or one without a modulus.
    """
    chosen = (decided or {}).get("material")
    names = (chosen,) if isinstance(chosen, str) and chosen else feature.made_of
    found = [catalogue.materials[name] for name in names if name in catalogue.materials]
    if len(names) != 1 or not found or found[0].modulus_low is None:
        return inputs
    low, high = found[0].modulus_low, found[0].modulus_high or found[0].modulus_low
    return {**inputs, "material-modulus": float(low), "material-modulus-high": float(high)}


def effects_of(feature: Feature) -> tuple[str, ...]:
    """The formulas that a feature's own dimensions go into, beside those that size it."""
    own = {f"{feature.id}.{one.id}" for one in feature.sizes}
    sized = {one.formula for one in feature.sizes}
    return tuple(
        name
        for name, formula in FORMULAS.items()
        if name not in sized and not own.isdisjoint(need for one in formula.needs for need in one)
    )


def effects(
    feature: Feature,
    formulas: tuple[str, ...],
    sized: tuple[Dimension, ...],
    inputs: Mapping[str, float | None],
    catalogue: Catalogue,
) -> tuple[Result | NotGiven, ...]:
    """What a feature would do in these dimensions, as far as it can be worked out."""
    if not formulas:
        return ()
    known = _without_others(feature, inputs)
    known.update((f"{feature.id}.{part.size.id}", float(part.value)) for part in sized)
    return tuple(work_out(name, known, catalogue.figures) for name in formulas)


def _without_others(
    feature: Feature, inputs: Mapping[str, float | None]
) -> dict[str, float | None]:
    """The inputs but for the dimensions of other features: a post is not sized by another one."""
    names = (*_INPUTS_OF[""], *_INPUTS_OF.get(feature.id, ()))
    return {name: inputs.get(name) for name in names}


def _dimension(
    size: Size,
    inputs: Mapping[str, float | None],
    decided: Mapping[str, Any],
    catalogue: Catalogue,
) -> Dimension:
    found = work_out(size.formula, inputs, catalogue.figures) if size.formula else None
    result = found if isinstance(found, Result) else None
    remark = found.sentence if isinstance(found, NotGiven) else ""
    low, high, provenance = size.low, size.high, size.provenance
    value = size.usual
    if result is not None:
        low, high = _clamp(_exact(result.low), size), _clamp(_exact(result.high), size)
        value = _stepped(_clamp(_exact(result.value), size), size)
        estimate = result.standing is Standing.ESTIMATE or result.provenance is None
        provenance = Provenance.ESTIMATE if estimate else result.provenance or provenance
    typed = decided.get(size.id)
    if isinstance(typed, str):
        chosen = read_size(typed, size.unit)
        if chosen is None:
            remark = f"“{typed}” is not a number in {size.unit}: it was not taken."
        else:
            remark = _beyond(chosen, size) or remark
            return Dimension(size, chosen, low, high, provenance, True, result, remark)
    return Dimension(size, value, low, high, provenance, False, result, remark)


def _beyond(chosen: Decimal, size: Size) -> str:
    """Why a chosen value is not sound; empty for one inside what the feature can have."""
    if size.low <= chosen <= size.high:
        return ""
    low, high, unit = in_digits(size.low), in_digits(size.high), size.unit
    return f"{in_digits(chosen)} {unit} lies outside what it can have: {low} to {high} {unit}."


def _exact(number: float) -> Decimal:
    return Decimal(repr(round(number, 6)))


def _clamp(value: Decimal, size: Size) -> Decimal:
    return min(size.high, max(size.low, value))


def _stepped(value: Decimal, size: Size) -> Decimal:
    """To the steps that the feature comes in, inside its limits."""
    if not size.step:
        return value
    steps = (value / size.step).quantize(Decimal(1), ROUND_HALF_UP)
    return _clamp(steps * size.step, size)
