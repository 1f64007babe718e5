"""Words of a plan, the same on screen and paper: dimensions, effects, what they rest on."""

from collections.abc import Iterable
from decimal import Decimal

from footexam.mechanics.formula import INPUTS, NotGiven
from footexam.mechanics.result import Result, Standing
from footexam.mechanics.stack import ForefootRoom, HeelRoom
from footexam.reasoning.planned import Dimension, ShoeRoom
from footexam.record.refusal import in_digits
from footexam.reports.words import MINUS, opened

DEGREES = "°"
EFFECTS = {
    "heel-height-wanted": "Height that the heel would want",
    "lift-height": "Height of the lift",
    "lift-tilt": "Tilt of the foot",
    "dorsiflexion-demanded": "Dorsiflexion demanded of the ankle, change",
    "post-height": "Height of the post",
    "forefoot-post-height": "Height of the forefoot post",
    "post-change": "Fall of peak eversion expected",
    "skive-facet": "Length of the facet",
    "hallux-ramp-angle": "Angle of the ramp under the great toe",
    "shell-thickness": "Thickness of the shell",
    "shell-sag": "Sag of the shell under the body, as curved",
    "shell-sag-flat-bound": "The same as a flat strip, which is the bound",
    "forefoot-share": "Share of the forefoot in standing",
    "forefoot-share-change": "Share of the forefoot, change",
    "forefoot-lever-change": "Lever of the forefoot, change",
    "achilles-force-standing": "Force of the Achilles tendon in standing",
    "achilles-force-walking": "Force of the Achilles tendon in walking",
    "moment-change": "Moment about the subtalar axis, change",
    "fascia-tension-change": "Tension of the plantar fascia, change",
    "relief-change": "Pressure under the relief, change",
    "relief-neighbours": "Pressure beside the relief, change at most",
    "relief-depth": "Depth at which the fill is felt as soft as the relief that was tested",
    "head-relief-change": "Pressure under the first head at this depth, change",
    "head-relief-neighbours": "Pressure beside it, change at most",
    "limb-length-target": "Difference of limb length to make up",
    "limb-length-stage": "First stage of it",
    "rocker-apex": "Place of the apex from the heel",
    "rocker-behind-heads": "Apex behind the metatarsal heads",
    "rocker-toe-rise": "Rise of the toe",
    "rocker-sole": "Thickness of the sole at the apex",
    "insert-torque": "Resistance of the plate to bending",
}
"""What each formula gives, for a line that ends in its number."""
STANDINGS = {
    Standing.GEOMETRY: "geometry",
    Standing.MODEL: "a model",
    Standing.ESTIMATE: "an estimate",
}


def size_words(value: Decimal, unit: str) -> str:
    """A dimension with its unit."""
    digits = in_digits(value).replace("-", MINUS)
    if unit == "deg":
        return f"{digits}{DEGREES}"
    return f"{digits}\u00a0{unit}" if unit else digits


def range_of_size(low: Decimal, high: Decimal, unit: str) -> str:
    """A range of a dimension, rounded for reading; one number where both ends are the same."""
    ends = [_short(low), _short(high)]
    if ends[0] == ends[1]:
        return f"{ends[0]}{_unit(unit)}"
    return f"{ends[0]} to {ends[1]}{_unit(unit)}"


def result_words(found: Result) -> str:
    """A worked-out number with its band."""
    value, low, high = (_rounded(one, found) for one in (found.value, found.low, found.high))
    band = f" ({low} to {high})" if low != high else ""
    return f"{value}{_unit(found.unit)}{band}"


def effect_words(found: Result | NotGiven) -> str:
    """What a formula gives: its name, its number with the band, its class; or why it does not."""
    name = EFFECTS.get(found.formula, opened(found.formula.replace("-", " ")))
    if isinstance(found, NotGiven):
        return f"{name}: {_lower(found.sentence)}"
    return f"{name}: {result_words(found)}, {STANDINGS[found.standing]}"


def rests_words(part: Dimension) -> str:
    """What the worked-out number of a dimension rests on; empty for one that is only usual."""
    if part.result is None:
        return ""
    inputs = [INPUTS[name][0] for name in part.result.inputs if name in INPUTS]
    named = f" from {_listed(inputs)}" if inputs else ""
    return f"worked out{named}: {result_words(part.result)}, {STANDINGS[part.result.standing]}"


def size_name(part: Dimension) -> str:
    """The name of a dimension, to stand before its number."""
    return opened(part.size.id.replace("-", " "))


# --- the shoe


def heel_words(room: HeelRoom) -> str:
    """Whether the counter holds the heel over the device."""
    stack = f"device {_mm(room.stack_mm)} high under the heel"
    if room.left_mm is None or room.left_percent is None:
        return f"{stack}; whether it fits is not known"
    left = f"{_mm(room.left_mm)} of the counter left, {room.left_percent:.0f} %"
    if room.fits:
        return f"{stack}; {left}: fits"
    return f"{stack}; {left}: too high by {_mm(room.over_mm or 0)}"


def forefoot_words(room: ForefootRoom) -> str:
    """Whether the toes have room over the device."""
    stack = f"device {_mm(room.stack_mm)} high under the forefoot"
    if room.margin_mm is None:
        return f"{stack}; whether it fits is not known"
    if room.fits:
        return f"{stack}; {_mm(room.margin_mm)} over the toes: fits"
    if room.margin_mm < 0:
        return f"{stack}; {_mm(-room.margin_mm)} too little for the toes: does not fit"
    return f"{stack}; only {_mm(room.margin_mm)} over the toes: too tight"


def verdict(room: ShoeRoom) -> str:
    """Heel and forefoot in three words each."""
    return f"heel {_fit(room.heel.fits)}, forefoot {_fit(room.forefoot.fits)}"


def _fit(fits: bool | None) -> str:
    return {True: "fits", False: "does not fit", None: "not known"}[fits]


# --- numbers


def _mm(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0") + "\u00a0mm"


def _unit(unit: str) -> str:
    if unit == "deg":
        return DEGREES
    return f"\u00a0{unit}" if unit else ""


def _short(value: Decimal) -> str:
    return in_digits(Decimal(f"{value:.3g}")).replace("-", MINUS)


def _rounded(value: float, found: Result) -> str:
    """Two figures behind the first of the band: nothing finer is known."""
    largest = max(abs(found.value), abs(found.low), abs(found.high))
    if largest >= 100:
        value = round(value, -1)
    digits = 0 if largest >= 10 else 1 if largest >= 1 else 2
    words = f"{value:.{digits}f}"
    words = words.rstrip("0").rstrip(".") if "." in words else words
    return "0" if words == "-0" else words.replace("-", MINUS)


def _lower(sentence: str) -> str:
    """A sentence to follow a colon."""
    return sentence[:1].lower() + sentence[1:].rstrip(".")


def _listed(words: Iterable[str]) -> str:
    *before, last = list(dict.fromkeys(words))
    return f"{', '.join(before)} and {last}" if before else last
