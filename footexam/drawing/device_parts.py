"""What both drawings of a device share: the foot in mm, its features, hatches, numbered tags."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from itertools import pairwise
from math import ceil, floor

from footexam.catalogue.model import Rule, Texts, say
from footexam.catalogue.plan_model import Zone
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Circle, Line, Point, Polygon, Shape, Text
from footexam.drawing.wrapped import Width, wrapped
from footexam.mechanics.figures import figure
from footexam.mechanics.stack import ForefootRoom, HeelRoom
from footexam.reasoning.planned import Candidate, Plan
from footexam.terms import Side

POINTS = 72 / 25.4
"""Points of a millimetre."""
TITLE, NOTE = 8.6, 7.8
LEADING = 1.32
ADDED = frozenset(
    {"heel-lift", "limb-length-raise", "cover-material", "cover-length", "low-friction-patch"}
)
"""Features that need no shell to lie on."""
NOT_DRAWN = frozenset({"foot-capture-posture", "shell-stiffness", "toe-prop"})
"""Features of the whole device or a toe that have no place in either drawing."""

Value = Callable[[str], float | None]
"""What was measured, by the name of the measure, of the side that is drawn; None without it."""

WORDS: Mapping[str, Texts] = {
    "side": {"en": "{foot}, from the inner side"},
    "sole": {"en": "{foot}, from below, inner edge on top"},
    "left": {"en": "Left foot"},
    "right": {"en": "Right foot"},
    "scale": {"en": "Scale 1:{scale}"},
    "bar": {"en": "{length} mm"},
    "usual-foot": {"en": "Foot length not recorded: drawn at a usual {length} mm (not a measure)."},
    "usual-ball": {"en": "Heel to ball not recorded: drawn at {percent} % of the foot."},
    "open-shell": {"en": "Open outline: shell of a thickness that is not given."},
    "form": {"en": "Middle of the device; heights and places to scale, foot and arch a sketch."},
    "shoe": {"en": "Broken line: inside of the shoe, insole out (heel {heel}, toes {toes})."},
    "no-shoe": {"en": "Shoe not measured: no room drawn."},
    "mm": {"en": "{value} mm"},
    "unknown": {"en": "not measured"},
    "tight": {"en": "Does not fit: {where}."},
    "heel": {"en": "heel"},
    "toes": {"en": "toes"},
    "outer": {"en": "The post under the outer edge is hidden here and drawn open."},
    "not-drawn": {"en": "Not drawn in this view: {what}."},
}


def words(key: str, language: str, **parts: object) -> str:
    """Fixed words of the drawings."""
    return say(WORDS[key], language).format_map(parts)


class Style(Enum):
    """How a part is filled, so that it is told without colour."""

    SOLID = "solid"
    OPEN = "open"
    RISING = "rising"
    FALLING = "falling"
    LEVEL = "level"
    UPRIGHT = "upright"
    PALE = "pale"
    HOLE = "hole"


@dataclass(frozen=True, slots=True)
class Foot:
    """The foot that is drawn, in mm; `assumed` are the measures that were not recorded."""

    length: float
    ball: float
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Shoe:
    """The inside of the shoe in mm without its insole; None where it was not measured."""

    heel: float | None
    toes: float | None
    heel_room: HeelRoom | None = None
    forefoot_room: ForefootRoom | None = None


@dataclass(frozen=True)
class Device:
    """What is drawn of one side: its chosen features, foot and shoe.

    `numbers` from 1, as in a table of the features: one number for a feature on both sides.
    """

    side: Side
    foot: Foot
    shoe: Shoe
    features: tuple[Candidate, ...]
    numbers: Mapping[str, int]

    @cached_property
    def _chosen(self) -> Mapping[str, Candidate]:
        return {one.id: one for one in self.features}

    def has(self, feature: str) -> bool:
        """Whether a feature is chosen."""
        return feature in self._chosen

    def mm(self, feature: str, size: str) -> float:
        """A dimension of a chosen feature; 0 where it is not chosen or is negative."""
        one = self._chosen.get(feature)
        parts = one.dimensions if one else ()
        return max(0.0, next((float(p.value) for p in parts if p.size.id == size), 0.0))

    @property
    def has_shell(self) -> bool:
        """Whether something is chosen that lies on a shell."""
        inside = {Zone.HEEL, Zone.MIDFOOT, Zone.FOREFOOT, Zone.WHOLE}
        return any(one.feature.zone in inside and one.id not in ADDED for one in self.features)

    @property
    def front(self) -> float:
        """Where the shell ends, mm from the back of the heel."""
        behind = self.mm("shell-length-and-width", "edge-behind-heads") or 7.0
        return self.foot.ball - min(behind, 0.3 * self.foot.length)


def device_of(plan: Plan, side: Side, value: Value, figures: Mapping[str, Rule]) -> Device:
    """What a plan asks for on a side; a side that is held back has nothing.

    KeyError where forms/ has no figure for a foot that was not measured.
    """
    features = () if side in plan.held else _features(plan, side)
    room = next((one for one in plan.rooms if one.side is side), None)
    insole = value("shoe-insole-thickness")
    return Device(
        side,
        foot_of(value, figures),
        Shoe(
            _sum(value("shoe-heel-depth"), insole),
            _sum(value("shoe-forefoot-depth"), insole),
            room.heel if room else None,
            room.forefoot if room else None,
        ),
        features,
        _numbers(plan),
    )


def foot_of(value: Value, figures: Mapping[str, Rule]) -> Foot:
    """The foot as measured, what is missing at its usual size."""
    assumed = []
    length, ball = value("foot-length"), value("truncated-foot-length")
    if not length or length <= 0:
        assumed.append("foot-length")
        length = figure(figures, "reference-foot-length")
    if not ball or not 0.5 * length < ball < 0.95 * length:
        assumed.append("truncated-foot-length")
        ball = figure(figures, "head-line-share") * length
    return Foot(length, ball, tuple(assumed))


def _features(plan: Plan, side: Side) -> tuple[Candidate, ...]:
    """What is chosen for a side, each once: as chosen for it, else as chosen without a side."""
    found = {one.id: one for one in plan.chosen if one.side is None}
    own = {one.id: one for one in plan.chosen if one.side is side}
    names = dict.fromkeys(one.id for one in plan.chosen if one.side in {None, side})
    return tuple(own.get(name) or found[name] for name in names)


def _numbers(plan: Plan) -> dict[str, int]:
    """Numbers for all that is asked for on a side that is not held back."""
    names = dict.fromkeys(one.id for one in plan.chosen if one.side not in plan.held)
    return {name: number for number, name in enumerate(names, 1)}


def _sum(depth: float | None, insole: float | None) -> float | None:
    return None if depth is None or insole is None else depth + insole


# --- filling


def filled(points: Sequence[Point], style: Style, gap: float = 3.0) -> list[Shape]:
    """A part of the drawing, in points."""
    outline = tuple(points)
    if style is Style.SOLID:
        return [Polygon(outline, fill=Ink.INK, stroke=Ink.INK, line_width=0.5)]
    if style is Style.PALE:
        return [Polygon(outline, fill=Ink.BAND, stroke=Ink.BORDER, line_width=0.6)]
    if style is Style.HOLE:
        return [
            Polygon(outline, fill=Ink.SURFACE, stroke=Ink.INK, line_width=1.4),
            *_lines(outline, Style.UPRIGHT, 6.0),
        ]
    shape = Polygon(outline, fill=Ink.SURFACE, stroke=Ink.INK, line_width=0.8)
    return [shape] if style is Style.OPEN else [shape, *_lines(outline, style, gap)]


_TURNS: Mapping[Style, tuple[tuple[float, float], tuple[float, float]]] = {
    # along and across the lines of a hatch
    Style.RISING: ((0.7071, -0.7071), (0.7071, 0.7071)),
    Style.FALLING: ((0.7071, 0.7071), (-0.7071, 0.7071)),
    Style.LEVEL: ((1.0, 0.0), (0.0, 1.0)),
    Style.UPRIGHT: ((0.0, 1.0), (1.0, 0.0)),
}


def _lines(points: tuple[Point, ...], style: Style, gap: float) -> list[Shape]:
    """The lines of a hatch inside any figure."""
    (ax, ay), (bx, by) = _TURNS[style]
    turned = [(x * ax + y * ay, x * bx + y * by) for x, y in points]
    crossed: dict[int, list[float]] = {}
    for (u1, v1), (u2, v2) in pairwise([*turned, turned[0]]):
        low, high = (v1, v2) if v1 < v2 else (v2, v1)
        for step in range(floor(low / gap), ceil(high / gap) + 1):
            v = step * gap
            if (v1 > v) != (v2 > v):
                crossed.setdefault(step, []).append(u1 + (v - v1) / (v2 - v1) * (u2 - u1))
    lines: list[Shape] = []
    for step, ends in sorted(crossed.items()):
        v = step * gap
        ends.sort()
        for u1, u2 in zip(ends[::2], ends[1::2], strict=False):
            start = (u1 * ax + v * bx, u1 * ay + v * by)
            end = (u2 * ax + v * bx, u2 * ay + v * by)
            lines.append(Line(*start, *end, Ink.INK, 0.5))
    return lines


def broken(points: Sequence[Point], dash: float = 4.0) -> list[Shape]:
    """A broken line through points."""
    shapes: list[Shape] = []
    for (x1, y1), (x2, y2) in pairwise(points):
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
        count = max(1, round(length / (2 * dash)))
        for step in range(count):
            a, b = step / count, (step + 0.6) / count
            shapes.append(
                Line(
                    x1 + a * (x2 - x1),
                    y1 + a * (y2 - y1),
                    x1 + b * (x2 - x1),
                    y1 + b * (y2 - y1),
                    Ink.INK,
                    0.9,
                )
            )
    return shapes


# --- numbers


@dataclass(frozen=True, slots=True)
class Tag:
    """A number and the point that it stands for."""

    number: int
    at: Point


def tags(found: Iterable[Tag], row: float, left: float, right: float) -> list[Shape]:
    """Numbered discs in a row at y = `row`, each with a line to its point; none meets another."""
    ordered = sorted(found, key=lambda one: (one.at[0], one.number))
    if not ordered:
        return []
    room = (right - left) / len(ordered)
    radius = min(6.0, 0.45 * room)
    step = 2 * radius + min(3.0, 0.1 * room)
    places: list[float] = []
    for one in ordered:
        least = places[-1] + step if places else left + radius
        places.append(max(least, one.at[0]))
    most = right - radius
    for place in range(len(places) - 1, -1, -1):
        places[place] = min(places[place], most)
        most = places[place] - step
    shapes: list[Shape] = []
    for one, x in zip(ordered, places, strict=True):
        start = row + radius if one.at[1] > row else row - radius
        shapes.append(Line(x, start, *one.at, Ink.INK, 0.6))
        shapes.append(Circle(*one.at, 1.3, Ink.INK))
    for one, x in zip(ordered, places, strict=True):
        size = 1.25 * radius
        shapes.append(Circle(x, row, radius, Ink.SURFACE, Ink.INK, 0.8))
        text = Text(x, row + 0.36 * size, str(one.number), size, bold=True, anchor=Anchor.MIDDLE)
        shapes.append(text)
    return shapes


# --- words around the drawing


def rough(text: str, size: float, bold: bool) -> float:
    """A width that no text of our type exceeds, where the caller has none of its own."""
    return (0.68 if bold else 0.64) * size * len(text)


def lines(
    told: Iterable[str], y: float, width: float, measure: Width, *, bold: bool = False
) -> tuple[list[Shape], float]:
    """Texts broken into lines from `y` on, and where they end."""
    size = TITLE if bold else NOTE
    shapes: list[Shape] = []
    for text in told:
        for line in wrapped(text, size, width, measure, bold=bold):
            shapes.append(Text(0.0, y + 0.9 * size, line, size, bold=bold))
            y += LEADING * size
    return shapes, y


def scale_bar(
    y: float, scale: float, language: str, length: float = 50.0
) -> tuple[list[Shape], float]:
    """The scale in words and as a bar to lay a ruler on."""
    long = length * POINTS / scale
    base = y + 0.9 * NOTE
    told = words("scale", language, scale=f"{scale:g}")
    start = rough(told, NOTE, True) + 8.0
    shapes: list[Shape] = [
        Text(0.0, base, told, NOTE, bold=True),
        Line(start, base - 3.0, start + long, base - 3.0, Ink.INK, 1.2),
        *(Line(x, base - 6.0, x, base, Ink.INK, 0.8) for x in (start, start + long)),
        Text(start + long + 4.0, base, words("bar", language, length=f"{length:g}"), NOTE),
    ]
    return shapes, y + LEADING * NOTE


def legend(device: Device, language: str) -> list[str]:
    """Each feature with its number and its dimensions, one text each."""
    told = []
    for one in device.features:
        parts = ", ".join(
            f"{part.size.id.replace('-', ' ')} {part.value:f} {part.size.unit}"
            for part in one.dimensions
        )
        name = f"{device.numbers[one.id]}  {say(one.feature.label, language)}"
        told.append(f"{name}: {parts}" if parts else name)
    return told


def foot_notes(device: Device, language: str) -> list[str]:
    """What was assumed of the foot."""
    foot = device.foot
    told = []
    if "foot-length" in foot.assumed:
        told.append(words("usual-foot", language, length=f"{foot.length:g}"))
    if "truncated-foot-length" in foot.assumed:
        percent = f"{100 * foot.ball / foot.length:.0f}"
        told.append(words("usual-ball", language, percent=percent))
    return told
