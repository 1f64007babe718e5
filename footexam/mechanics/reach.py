"""The refusal of mechanics: what lies outside the reach of a formula is not extrapolated."""

from math import inf

REFUSALS: dict[str, tuple[str, str]] = {
    # code: (what happened, what to do)
    "not-above": (
        "{name} is {value}{unit} and has to be above {low}{unit}",
        "measure it again, or leave it out",
    ),
    "below-zero": (
        "{name} is {value}{unit} and has to be a number from 0 on",
        "measure it again, or leave it out",
    ),
    "outside": (
        "{name} is {value}{unit}; this is worked out only from {low}{unit} to {high}{unit}",
        "check it, or decide without this number",
    ),
    "no-such-measure": ("{value} is no number that is measured", "check it"),
    "too-thick": (
        "the strip is thicker than a tenth of its span, so that it no longer bends as a beam",
        "take a thinner strip or a longer span",
    ),
    "sags-too-far": (
        "the strip would sag by more than a fifth of its span, where the formula no longer holds",
        "take it for too soft, or choose a thicker or stiffer material",
    ),
    "too-curved": (
        "the section is curved by more than a quarter of its width",
        "measure the curve again, or treat the device as too deep to be worked out",
    ),
    "too-arched": (
        "the arch rises by more than a third of its span",
        "measure rise and span again",
    ),
    "axis-under-load": (
        "the subtalar axis may pass under this point, so that the change has no size",
        "mark the axis on this foot, or look only at which way the moment changes",
    ),
    "rule-has-a-gap": (
        "the trial rule says nothing about {name} of exactly {value}{unit}",
        "choose between the thicknesses of its two neighbours",
    ),
    "too-small-to-correct": (
        "a difference of {value}{unit} is within the error of a tape",
        "have it measured on a radiograph before anything is raised",
    ),
    "fill-too-firm": (
        "a fill of {value} MPa is too firm to be felt as a relief within {depth} mm",
        "take a softer fill, or leave the place open",
    ),
    "too-soft": (
        "the foam would be pressed to {value} of its height and bottom out",
        "take a firmer or a thicker foam",
    ),
}


class OutOfReach(ValueError):
    """A formula does not hold for what it was given; says what, and what to do.

    `code` is a key of REFUSALS, `what` and `do` its two halves.
    """

    def __init__(self, code: str, **values: object) -> None:
        what, do = (part.format(**values) for part in REFUSALS[code])
        super().__init__(f"{what[:1].upper()}{what[1:]}: {do}.")
        self.code = code
        self.what = what
        self.do = do


def above(name: str, value: float, unit: str = "", low: float = 0) -> None:
    """Refuses a value that is not finite and above `low`, both in `unit`, with OutOfReach."""
    if not low < value < inf:
        raise OutOfReach(
            "not-above", name=name, value=f"{value:g}", low=f"{low:g}", unit=_apart(unit)
        )


def within(name: str, value: float, low: float, high: float, unit: str = "") -> None:
    """Refuses a value outside `low` to `high`, both included and in `unit`, with OutOfReach."""
    if not low <= value <= high:
        raise OutOfReach(
            "outside",
            name=name,
            value=f"{value:g}",
            low=f"{low:g}",
            high=f"{high:g}",
            unit=_apart(unit),
        )


def not_below_zero(name: str, value: float, unit: str = "") -> None:
    """Refuses a value in `unit` that is below 0 or not finite with OutOfReach."""
    if not 0 <= value < inf:
        raise OutOfReach("below-zero", name=name, value=f"{value:g}", unit=_apart(unit))


def _apart(unit: str) -> str:
    return f" {unit}" if unit else ""
