"""The drawings of a device to one scale, with the shoe that it goes into and the person."""

from collections.abc import Callable, Iterator, Sequence

from footexam.drawing.device import EDGE, side_view
from footexam.drawing.device_parts import POINTS, Device
from footexam.drawing.device_plan import sole_view
from footexam.drawing.shapes import Drawing
from footexam.reports.blocks import (
    COMPACT,
    SMALL_INK,
    Block,
    Cell,
    Heading,
    Para,
    Picture,
    Row,
    Table,
    para,
)
from footexam.reports.fonts import Typeset
from footexam.reports.material import SIDES
from footexam.reports.prescribed import PREFABRICATED, Prescribed, digits
from footexam.reports.prescription_against import against
from footexam.reports.prescription_features import REMARK
from footexam.reports.sheet import GUTTER, Paper
from footexam.reports.text import Style
from footexam.reports.values import value_lines
from footexam.terms import Side

SCALES = (3.0, 4.0, 5.0, 8.0)
"""The scales of drawings, the largest first."""
SMALLEST = 5.0
"""The smallest scale that is taken to save room."""
BESIDE = 0.62
"""The most of the page's width that the drawings of one side take."""
NARROWEST = 140.0
"""The narrowest column that the shoe is told in, points."""
PART_GAP = 2.0
"""Room between the parts of a cell, points."""
ROOM = Style(SMALL_INK.size, bold=True)
SHOE = (
    "shoe-kind",
    "shoe-drop",
    "shoe-heel-height",
    "shoe-heel-depth",
    "shoe-forefoot-depth",
    "shoe-insole-thickness",
    "shoe-forefoot-width",
    "shoe-wear",
    "shoe-age",
)
"""What is told of the shoe."""
PERSON = (
    "body-mass",
    "body-height",
    "activity-level",
    "activity-kind",
    "occupation-standing",
    "foot-length",
    "truncated-foot-length",
    "ball-girth",
    "fpi-total",
    "monofilament-hallux",
    "monofilament-met-head-1",
    "monofilament-met-head-5",
)
"""What is told of the person."""
NEEDED = (
    "foot-length",
    "truncated-foot-length",
    "body-mass",
    "shoe-kind",
    "shoe-heel-depth",
    "shoe-forefoot-depth",
    "shoe-insole-thickness",
    "shoe-drop",
)
"""What a maker misses where it was not recorded."""
FEELING = ("monofilament-hallux", "monofilament-met-head-1", "monofilament-met-head-5")


# --- drawings


def scales_for(made: Prescribed, paper: Paper) -> tuple[float, ...]:
    """The scales at which the drawings of every side fit beside what stands there.

    The largest first, down to the smallest that may be chosen to save room; never empty.
    """
    devices = made.devices.values()
    share = BESIDE if len(devices) == 1 else 0.5
    room = (paper.width - 2 * paper.margin) * share - GUTTER
    widest = max(device.foot.length for device in devices) + 2 * EDGE
    fitting = [one for one in SCALES if widest * POINTS / one <= room] or [SCALES[-1]]
    return tuple(one for one in fitting if one <= max(SMALLEST, fitting[0]))


def drawings(made: Prescribed, paper: Paper, typeset: Typeset, scale: float) -> list[Block]:
    """Both drawings of each side, all to one scale, with shoe, person and what is against it."""
    phrases, devices = made.material.phrases, list(made.devices.values())

    def drawn(view: Callable[..., Drawing], device: Device) -> Drawing:
        told = {"language": made.material.language, "measure": typeset.width}
        return view(device, scale=scale, with_legend=False, **told)

    views = [(drawn(side_view, device), drawn(sole_view, device)) for device in devices]
    title = Heading(phrases("rx-drawings", scale=phrases("rx-scale", scale=f"{scale:g}")), 3)
    room = paper.width - 2 * paper.margin
    arranged = _beside_one if len(devices) == 1 else _of_both
    return [title, *arranged(made, views, room), para(phrases("rx-drawn"), style=REMARK)]


Views = Sequence[tuple[Drawing, Drawing]]
"""Side view and sole view of each side."""


def _beside_one(made: Prescribed, views: Views, room: float) -> list[Block]:
    """The drawings of one side under each other, the shoe and the person beside them."""
    ((side, sole),) = views
    share = (max(side.width, sole.width) + GUTTER + 3.0) / room
    person = (*_person(made), _gap(), *against(made))
    rows = (
        Row(((Picture(side),), _shoe(made)), lined=False, whole=True),
        Row(((Picture(sole),), person), lined=False, whole=True),
    )
    return [Table((share, 1 - share), rows)]


def _of_both(made: Prescribed, views: Views, room: float) -> list[Block]:
    """The drawings of both sides beside each other; the shoe beside them where it has room."""
    share = (max(one.width for pair in views for one in pair) + GUTTER + 3.0) / room
    if (1 - 2 * share) * room >= NARROWEST:
        columns: tuple[Cell, ...] = tuple(tuple(map(Picture, pair)) for pair in views)
        drawn = Table(
            (share, share, 1 - 2 * share), (Row((*columns, _shoe(made)), lined=False, whole=True),)
        )
        beside = Row((_person(made), against(made)), lined=False, whole=True)
        return [drawn, Table((0.5, 0.5), (beside,))]
    rows = tuple(
        Row(tuple((Picture(one),) for one in pair), lined=False)
        for pair in zip(*views, strict=True)
    )
    beside = Row((_shoe(made), (*_person(made), _gap(), *against(made))), lined=False, whole=True)
    return [Table((0.5, 0.5), rows), Table((0.5, 0.5), (beside,))]


def _gap() -> Picture:
    return Picture(Drawing(1.0, PART_GAP, ()))


def _part(title: str) -> Para:
    """The heading of a part that stands in a cell."""
    return para(title, style=COMPACT)


# --- shoe and person


def _shoe(made: Prescribed) -> Cell:
    phrases = made.material.phrases
    lines = []
    for sides in _alike(made):
        lines += list(_room(sides, made))
    if any(
        device.has_shell and not device.has("shell-thickness") and not device.has(PREFABRICATED)
        for device in made.devices.values()
    ):
        lines.append(phrases("rx-stack-without"))
    return (
        _part(phrases("rx-shoe")),
        *_facts(SHOE, made),
        para(phrases("rx-insole"), style=SMALL_INK),
        *(para(line, style=ROOM) for line in lines),
    )


def _alike(made: Prescribed) -> list[tuple[Side, ...]]:
    """The sides whose room was worked out, together where it is the same."""
    rooms = [one for one in made.plan.rooms if one.side in made.devices]
    if len(rooms) == len(SIDES):
        one, other = rooms
        if (one.heel, one.forefoot) == (other.heel, other.forefoot):
            return [(one.side, other.side)]
    return [(one.side,) for one in rooms]


def _room(sides: Sequence[Side], made: Prescribed) -> Iterator[str]:
    """The room by zone, or what it cannot be worked out without."""
    phrases = made.material.phrases
    room = next(one for one in made.plan.rooms if one.side is sides[0])
    heel, toes, named = room.heel, room.forefoot, made.sides(sides)
    stack = digits(heel.stack_mm)
    if heel.left_mm is None or heel.left_percent is None:
        yield phrases("rx-heel-unknown", side=named, stack=stack, what=_names(heel.missing, made))
    else:
        over = heel.over_mm or 0.0
        fits = phrases("rx-fits") if heel.fits else phrases("rx-fits-over", over=digits(over))
        left, percent = digits(heel.left_mm), f"{heel.left_percent:.0f}"
        yield phrases(
            "rx-heel-room", side=named, stack=stack, left=left, percent=percent, fits=fits
        )
    stack = digits(toes.stack_mm)
    if not toes.stack_mm:
        yield phrases("rx-toe-empty", side=named)
    elif toes.margin_mm is None:
        yield phrases("rx-toe-unknown", side=named, stack=stack, what=_names(toes.missing, made))
    else:
        fits = phrases("rx-fits" if toes.fits else "rx-fits-not")
        margin = digits(toes.margin_mm)
        yield phrases("rx-toe-room", side=named, stack=stack, margin=margin, fits=fits)


def _names(measures: tuple[str, ...], made: Prescribed) -> str:
    return ", ".join(made.material.label(name).lower().replace("-", " ") for name in measures)


def _person(made: Prescribed) -> Cell:
    phrases, material = made.material.phrases, made.material
    told = [_part(phrases("rx-person")), *_facts(PERSON, made)]
    if not any(_has(name, side, made) for name in FEELING for side in made.devices):
        told.append(para(phrases("rx-no-sense"), style=ROOM))
    missing = [
        material.sided_label(name, side)
        for name in NEEDED
        if name in material.catalogue.measures
        for side in (made.devices if material.measure(name).sided else (None,))
        if not _has(name, side, made)
    ]
    if missing:
        text = phrases("rx-missing-text", what="; ".join(missing))
        told.append(para((phrases("rx-missing") + "   ", ROOM), (text, SMALL_INK)))
    return tuple(told)


def _has(measure: str, side: Side | None, made: Prescribed) -> bool:
    reading = made.visit.reading(measure, side)
    return reading is not None and reading.absent is None


def _facts(measures: tuple[str, ...], made: Prescribed) -> Cell:
    """What was recorded of these, run on in one paragraph; sides spelled out."""
    told = []
    for name in measures:
        if name in made.material.catalogue.measures:
            told += list(_fact(name, made))
    return (para(". ".join(told) + ".", style=SMALL_INK),) if told else ()


def _fact(name: str, made: Prescribed) -> Iterator[str]:
    material, phrases = made.material, made.material.phrases
    if not material.measure(name).sided or material.reading(name):
        value = _value(name, None, made)
        if value:
            yield phrases("rx-one", label=material.label(name), value=value)
        return
    left, right = (_value(name, side, made) or phrases("not-recorded") for side in SIDES)
    if any(_has(name, side, made) for side in SIDES):
        yield phrases("rx-sides", label=material.label(name), left=left, right=right)


def _value(name: str, side: Side | None, made: Prescribed) -> str:
    reading = made.material.reading(name, side)
    return "; ".join(value_lines(reading, made.material)) if reading else ""
