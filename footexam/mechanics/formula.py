"""What a formula for a person is, and how it is asked: with what was measured and the figures.

Inputs and figures share their names: an input takes the place of the figure of the same name, as
when somebody tries another value. Inputs are named after measures (“foot-length”), or after a
feature and its size (“heel-lift.height”).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from footexam.catalogue.model import Rule
from footexam.mechanics.figures import figure
from footexam.mechanics.reach import OutOfReach
from footexam.mechanics.result import Result, Span, Spread, Standing, exactly, weakest

Inputs = Mapping[str, float | None]
"""Measured and chosen values by name, in the unit of INPUTS; None stands for not known."""


SMALLEST, LARGEST = 1e-6, 1e6
"""Between them lies, in our units, everything that is measured at a person or a shoe, beside 0."""


class Asked:
    """Hands a formula its inputs and figures, and keeps in mind which it took."""

    def __init__(self, inputs: Inputs, figures: Mapping[str, Rule]) -> None:
        self._inputs = inputs
        self._figures = figures
        self._taken: dict[str, None] = {}

    def known(self, name: str) -> bool:
        """Whether an input is known."""
        return self._inputs.get(name) is not None

    def at(self, name: str) -> float:
        """An input, or else the figure of that name; KeyError where there is neither.

        OutOfReach for an input that no instrument gives, as one that is not finite.
        """
        self._taken[name] = None
        value = self._inputs.get(name)
        if value is None:
            return figure(self._figures, name)
        if value != 0 and not SMALLEST <= abs(value) <= LARGEST:
            raise OutOfReach("no-such-measure", value=f"{value:g}")
        return value

    def first(self, names: Sequence[str]) -> float:
        """The first of several inputs that is known; that one is known the formula's needs say."""
        return self.at(next(name for name in names if self.known(name)))

    def span(self, name: str) -> Span:
        """An input without a band, or else the figure with those named …-low and …-high."""
        usual = self.at(name)
        if self.known(name):
            return exactly(usual)
        ends = [f"{name}-{end}" for end in ("low", "high")]
        low, high = (self.at(end) if end in self._figures else usual for end in ends)
        return Span(low, usual, high)

    def taken(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """The names of the inputs and of the figures that were taken, in that order."""
        inputs = tuple(name for name in self._taken if self.known(name))
        return inputs, tuple(name for name in self._taken if not self.known(name))


@dataclass(frozen=True, slots=True)
class Formula:
    """A number that may be worked out for a person.

    `needs` are inputs without which it is not given; of a tuple with several, one is enough.
    `figures` are all that it may take from forms/.
    """

    id: str
    unit: str
    standing: Standing
    needs: tuple[tuple[str, ...], ...]
    figures: tuple[str, ...]
    run: Callable[[Asked], Spread]


@dataclass(frozen=True, slots=True)
class NotGiven:
    """A number that is not given: what is missing, or why the formula refuses; and in words."""

    formula: str
    missing: tuple[str, ...]
    refusal: OutOfReach | None
    sentence: str


INPUTS: dict[str, tuple[str, str]] = {
    # name: (in words, unit)
    "ankle-dorsiflexion-knee-straight": ("dorsiflexion with the knee straight", "deg"),
    "axis-offset": ("the subtalar axis marked on the sole", "mm"),
    "body-mass": ("body mass", "kg"),
    "device-arch-load": ("what the device carries at the arch", "N"),
    "first-metatarsal-head-relief.depth": ("the depth of the relief", "mm"),
    "foot-length": ("foot length", "mm"),
    "forefoot-post-medial.angle": ("the angle of the medial forefoot post", "deg"),
    "forefoot-post-lateral.angle": ("the angle of the lateral forefoot post", "deg"),
    "fpi-total": ("the foot posture index", ""),
    "hallux-dorsiflexion-wedge.height": ("the height of the hallux ramp", "mm"),
    "hard-use": ("whether the device is used hard, 1 or 0", ""),
    "heel-lift.height": ("the height of the heel lift", "mm"),
    "lateral-heel-skive.depth": ("the depth of the lateral skive", "mm"),
    "lever": ("the lever from heel to metatarsal heads", "mm"),
    "limb-length-difference": ("the difference of limb length", "mm"),
    "limb-length-radiograph": ("whether that was seen on a radiograph, 1 or 0", ""),
    "load-forward": ("where the load acts, forwards", "mm"),
    "load-medial": ("where the load acts, inwards", "mm"),
    "load-shift": ("how far the load is shifted inwards", "mm"),
    "medial-heel-skive.depth": ("the depth of the medial skive", "mm"),
    "material-modulus": ("the modulus of the material", "MPa"),
    "material-modulus-high": ("the highest modulus of the material", "MPa"),
    "plate-modulus": ("the modulus of the plate", "MPa"),
    "plate-modulus-high": ("the highest modulus of the plate", "MPa"),
    "rearfoot-post-lateral.angle": ("the angle of the lateral rearfoot post", "deg"),
    "rearfoot-post-medial.angle": ("the angle of the medial rearfoot post", "deg"),
    "region-share": ("the share of the load under the region", ""),
    "rocker-sole.angle": ("the rocker angle", "deg"),
    "rocker-sole.apex": ("the place of the apex", "%"),
    "shell-modulus-chosen": ("the modulus of the material chosen for the shell", "MPa"),
    "shell-thickness.thickness": ("the thickness of the shell", "mm"),
    "shoe-drop": ("the drop of the shoe", "mm"),
    "shoe-length": ("the outer length of the shoe", "mm"),
    "stiff-forefoot-insert.thickness": ("the thickness of the plate", "mm"),
    "truncated-foot-length": ("truncated foot length", "mm"),
}


def worked_out(formula: Formula, inputs: Inputs, figures: Mapping[str, Rule]) -> Result | NotGiven:
    """The number of a formula for a person, or why there is none; never raises for bad input.

    KeyError where forms/ gives a figure that the formula takes under no such name.
    """
    missing = tuple(
        names[0] for names in formula.needs if all(inputs.get(name) is None for name in names)
    )
    if missing:
        words = " and ".join(INPUTS[name][0] for name in missing)
        return NotGiven(formula.id, missing, None, f"Not worked out without {words}.")
    asked = Asked(inputs, figures)
    try:
        found = formula.run(asked)
    except OutOfReach as refusal:
        return NotGiven(formula.id, (), refusal, str(refusal))
    measured, taken = asked.taken()
    rules = [figures[name] for name in taken]
    return Result(
        formula.id,
        found.value,
        found.low,
        found.high,
        formula.unit,
        formula.standing,
        weakest(tuple(rule.provenance for rule in rules)),
        tuple(dict.fromkeys(rule.source for rule in rules)),
        taken,
        measured,
        found.parts,
    )
