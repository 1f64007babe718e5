"""The plan of a record as the maker of a device needs it: what is made for which side."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import cached_property
from string import ascii_uppercase
from typing import Any

from footexam.drawing.device_parts import Device, device_of
from footexam.reasoning.planned import Candidate, Dimension, PlanAim
from footexam.reports.material import SIDES, Material
from footexam.reports.words import number_words, rounded
from footexam.scoring.visit import Visit
from footexam.terms import Side

PREFABRICATED = "prefabricated-orthosis"
"""The one feature that is a device of its own."""


class Prescribed:
    """The plan of one record as a maker needs it: each side by itself, a held one empty."""

    def __init__(self, material: Material) -> None:
        self.material = material
        self.plan = material.assessment.reasons.plan
        self.visit = Visit(material.examination, material.catalogue.measures)

    @cached_property
    def devices(self) -> Mapping[Side, Device]:
        """What is drawn and listed, by side; only sides that get something."""
        made = {
            side: device_of(self.plan, side, self._value(side), self.material.catalogue.figures)
            for side in SIDES
            if side not in self.plan.held
        }
        return {side: device for side, device in made.items() if device.features}

    def _value(self, side: Side) -> Any:
        def value(measure: str) -> float | None:
            found = self.number(measure, side)
            return None if found is None else float(found)

        return value

    def number(self, measure: str, side: Side | None) -> Decimal | None:
        """What was measured, in the unit of the measure; None without it."""
        if measure not in self.material.catalogue.measures:
            return None
        return self.visit.number(measure, side)

    def side(self, side: Side | None) -> str:
        """The side spelled out."""
        return self.material.phrases(f"rx-side-{side or 'none'}")

    def sides(self, sides: Sequence[Side]) -> str:
        """One side or both, spelled out."""
        if len(sides) == 1:
            return self.side(sides[0])
        return self.material.phrases("rx-sides-both")

    @cached_property
    def groups(self) -> tuple[tuple[tuple[Side, ...], tuple[Candidate, ...]], ...]:
        """What is made, by the sides that get it: the very same on both first, each in its order.

        Only groups with something in them.
        """
        both: list[Candidate] = []
        if len(self.devices) == len(SIDES):
            one, other = (self._listed(side) for side in SIDES)
            both = [
                each
                for each in self.devices[SIDES[0]].features
                if one[each.id] == other.get(each.id)
            ]
        shared = {each.id for each in both}
        made = [((side,), device.features) for side, device in self.devices.items()]
        rest = [(side, [one for one in own if one.id not in shared]) for side, own in made]
        return tuple((side, tuple(own)) for side, own in ((SIDES, both), *rest) if own)

    def _listed(self, side: Side) -> Mapping[str, object]:
        """What the table of a side tells of each feature."""
        return {
            one.id: (
                [_told(part) for part in one.dimensions],
                {key: told for key, told in self.typed(one, side).items() if key != "side"},
            )
            for one in self.devices[side].features
        }

    @cached_property
    def aims(self) -> tuple[PlanAim, ...]:
        """The kept aims of sides that are not held back."""
        return tuple(aim for aim in self.plan.aims if aim.kept and aim.side not in self.plan.held)

    @cached_property
    def letters(self) -> Mapping[str, str]:
        """The letter of each kept aim, the same for both sides."""
        names = dict.fromkeys(aim.id for aim in self.aims)
        return dict(zip(names, ascii_uppercase, strict=False))

    def label(self, name: str) -> str:
        """A feature or an aim by its id."""
        catalogue = self.material.catalogue
        known = catalogue.features.get(name) or catalogue.aims.get(name)
        return self.material.say(known.label) if known else name

    def typed(self, one: Candidate, side: Side) -> Mapping[str, str]:
        """What was typed with a feature, that side before none."""
        found: dict[str, str] = {}
        made = self.material.examination.decisions.get("features", ())
        for wanted in (None, side):
            for decided in made:
                if decided["id"] == one.id and decided.get("side") == wanted:
                    found |= {k: v for k, v in decided.items() if isinstance(v, str)}
        return found


def _told(part: Dimension) -> tuple[object, ...]:
    """What of a dimension is told: the band only of one that was worked out."""
    worked = part.result is not None and not part.chosen
    return part.value, part.chosen, worked and (part.low, part.high)


def digits(value: Decimal | float, decimals: int | None = None) -> str:
    """A number without needless zeros; a float and what was worked out with one decimal."""
    exact = value if isinstance(value, Decimal) else Decimal(repr(round(value, 1)))
    if decimals is not None:
        exact = rounded(exact, decimals)
    whole = exact.to_integral_value()
    return number_words(whole if exact == whole else exact.normalize())
