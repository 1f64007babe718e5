"""The prescription: what a maker needs for a device without asking, on one page or two."""

from collections.abc import Iterator, Sequence

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import Device as Kind
from footexam.drawing.device import EDGE, side_view
from footexam.drawing.device_parts import POINTS, Device
from footexam.drawing.device_plan import sole_view
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.reasoning.planned import PlanAim
from footexam.record.examination import Examination
from footexam.reports.blocks import (
    BODY,
    COMPACT,
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Box,
    Cell,
    Heading,
    Para,
    Picture,
    Row,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.canvas import pdf_bytes
from footexam.reports.cautions import caution_name
from footexam.reports.closing import signatures
from footexam.reports.examination import add_feet
from footexam.reports.fonts import Typeset
from footexam.reports.front import head
from footexam.reports.material import SIDES, Material
from footexam.reports.prescription_features import (
    PREFABRICATED,
    Prescribed,
    against,
    digits,
    features,
)
from footexam.reports.sheet import GUTTER, PAPERS, Paper, Sheet
from footexam.reports.text import Style
from footexam.reports.values import value_lines
from footexam.resources import assets_dir
from footexam.terms import Side

SCALES = (3.0, 4.0, 5.0, 8.0)
"""The scales of drawings, the largest first."""
BESIDE = 0.62
"""The most of the page's width that the drawings of one side take."""
PART_GAP = 2.0
"""Room between the parts of a cell, points."""
LINE = 9.0
"""Room to write under the words of a line, points."""
MOST_RESTS = 2
"""Findings named for each proposed explanation."""
ROOM = Style(SMALL_INK.size, bold=True)
SOURCES = Style(7.4, ink=Ink.MUTED)
HELD = Style(10.5, bold=True, ink=Ink.CAUTION)

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
BY_HAND = (
    "rx-phone",
    "rx-hand-shape",
    "rx-hand-cover",
    "rx-hand-order",
    "rx-hand-success",
    "rx-hand-trace",
)


def prescription(
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
    *,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
    practice: str = "",
) -> bytes:
    """The prescription as PDF; the same input gives the same bytes.

    A side that a caution holds back is named with the caution, without any dimension. The
    arguments and errors are those of `examination_report`.
    """
    material = Material(examination, assessment, catalogue, language)
    sheet = layout(material, PAPERS[page], Typeset(assets_dir() / "fonts"), practice, invented)
    return pdf_bytes(sheet, material.phrases("rx-title"), language)


def layout(
    material: Material, paper: Paper, typeset: Typeset, practice: str, invented: bool
) -> Sheet:
    """The pages as plain shapes, each with its footer."""
    sheet = Sheet(paper, typeset)
    sheet.add(blocks(material, paper, typeset, practice, invented))
    add_feet(material, sheet, invented)
    return sheet


def blocks(
    material: Material, paper: Paper, typeset: Typeset, practice: str, invented: bool
) -> list[Block]:
    """The prescription from top to bottom."""
    made = Prescribed(material)
    told = [*head(material, practice, invented, "rx-title"), *_held(made)]
    if made.devices:
        told += [
            *_what(made),
            *_aims(made),
            *features(made),
            *_drawings(made, paper, typeset),
            *_keep(made),
            *_by_hand(made),
        ]
    elif not made.plan.held:
        told.append(para(material.phrases("rx-nothing-all"), style=STRONG))
    told += [Space(4), *signatures(material)]
    sources = material.citations.line()
    if sources:
        title = material.phrases("sources") + "  "
        told += [Space(3), para((title, STRONG), (sources, SOURCES))]
    return told


# --- held back


def _held(made: Prescribed) -> list[Block]:
    """The sides that a caution holds back, with its name; never a dimension."""
    phrases = made.material.phrases
    sides = [side for side in SIDES if side in made.plan.held]
    if not sides:
        return []
    lines: list[Block] = [para(phrases("rx-held-head"), style=HELD)]
    for side in sides:
        names = dict.fromkeys(
            caution_name(one, made.material)
            for one in made.material.assessment.held_by
            if one.side in {None, side}
        )
        told = "; ".join(names) or phrases("rx-held-unnamed")
        lines.append(para(phrases("rx-held", side=made.side(side), names=told), style=BODY))
    return [Box(tuple(lines), Ink.CAUTION, 1.5), Space(4)]


# --- what and why


def _what(made: Prescribed) -> list[Block]:
    phrases = made.material.phrases
    told: list[Block] = [Heading(phrases("rx-what"), 3)]
    for side in SIDES:
        device = made.devices.get(side)
        if device is not None:
            told.append(para(phrases(_kind(device), side=made.side(side)), style=STRONG))
        elif side not in made.plan.held:
            told.append(para(phrases("rx-nothing", side=made.side(side)), style=BODY))
    told.append(para(phrases("rx-mirror"), style=SMALL_INK))
    rows = []
    for kind in Kind:
        says = [
            made.material.say(one.says)
            + " "
            + made.material.citations.cite(one.source, one.provenance, "device-of", kind)
            for one in made.plan.device
            if one.points_to is kind
        ]
        if says:
            label = cell(phrases(f"rx-for-{kind}"), STRONG)
            rows.append(Row((label, cell(" ".join(says), SMALL_INK)), lined=False))
    return [*told, Table((0.2, 0.8), tuple(rows))] if rows else told


def _kind(device: Device) -> str:
    """The phrase for the kind of device; it follows from the features chosen."""
    if not device.has_shell:
        return "rx-kind-parts"
    if not device.has(PREFABRICATED):
        return "rx-kind-custom"
    custom = device.has("medial-heel-skive") or device.has("lateral-heel-skive")
    shaped = device.has("inverted-correction") or device.has("everted-correction")
    return "rx-kind-both" if custom or shaped else "rx-kind-prefabricated"


def _aims(made: Prescribed) -> list[Block]:
    """The kept aims with the explanations they serve, and what does not belong together."""
    material, phrases = made.material, made.material.phrases
    kept = [aim for aim in made.plan.aims if aim.kept and aim.side not in made.plan.held]
    told: list[Block] = [Heading(phrases("rx-aims"), 3)]
    if not kept:
        return [*told, para(phrases("rx-aims-none"))]
    rows = tuple(
        Row(
            (
                (para(material.say(aim.aim.label), style=STRONG),),
                cell(made.side(aim.side)),
                cell(" ".join(_serves(aim, made)), SMALL_INK),
            )
        )
        for aim in kept
    )
    heads = header(*map(phrases, ("rx-aim", "rx-aim-side", "rx-aim-serves")))
    told.append(Table((0.27, 0.13, 0.60), rows, heads))
    return [*told, *_unpaired(kept, made)]


def _serves(aim: PlanAim, made: Prescribed) -> Iterator[str]:
    """Each explanation that the aim serves, with the findings that weigh most for it."""
    material = made.material
    for name in aim.hypotheses:
        known = material.catalogue.hypotheses.get(name)
        label = material.say(known.label) if known else name
        rows = [
            row
            for one in material.assessment.reasons.arguments
            if one.id == name and one.side in {None, aim.side}
            for row in one.speaks_for
        ]
        rows.sort(key=lambda row: -row.points)
        says = " ".join(material.say(row.row.says) for row in rows[:MOST_RESTS])
        yield material.phrases("rx-rests", name=label, findings=says) if says else f"{label}."


def _unpaired(kept: list[PlanAim], made: Prescribed) -> list[Block]:
    """Aims without a feature and features without an aim."""
    phrases = made.material.phrases
    chosen = [one for device in made.devices.values() for one in device.features]
    served = {aim for one in chosen for aim in one.feature.aims}
    wanted = {aim.id for aim in kept}
    without = dict.fromkeys(made.label(aim.id) for aim in kept if aim.id not in served)
    stray = dict.fromkeys(
        made.label(one.id) for one in chosen if wanted.isdisjoint(one.feature.aims)
    )
    told = []
    if without:
        told.append(phrases("rx-aim-without", what="; ".join(without)))
    if stray:
        told.append(phrases("rx-feature-without", what="; ".join(stray)))
    return [para(" ".join(told), style=SMALL_INK)] if told else []


# --- drawings, with the shoe and the person beside those of one side


def _drawings(made: Prescribed, paper: Paper, typeset: Typeset) -> list[Block]:
    """Both drawings of each side, all to one scale, with shoe, person and what is against it."""
    phrases, devices = made.material.phrases, list(made.devices.values())
    room = paper.width - 2 * paper.margin
    one_side = len(devices) == 1
    scale = scale_for(devices, room * (BESIDE if one_side else 0.5) - GUTTER)
    views = [
        [
            view(
                device,
                scale=scale,
                language=made.material.language,
                measure=typeset.width,
                with_legend=False,
            )
            for device in devices
        ]
        for view in (side_view, sole_view)
    ]
    title = phrases("rx-drawings", scale=phrases("rx-scale", scale=f"{scale:g}"))
    drawn = para(phrases("rx-drawn"), style=SMALL)
    gap = Picture(Drawing(1.0, PART_GAP, ()))
    shoe, rest = _shoe(made), (*_person(made), gap, *against(made))
    if one_side:
        share = (views[0][0].width + GUTTER + 3.0) / room
        pictures: Cell = tuple(Picture(pair[0]) for pair in views)
        row = Row(((*pictures, drawn), (*shoe, gap, *rest)), lined=False)
        return [Heading(title, 3), Table((share, 1 - share), (row,))]
    rows = tuple(Row(tuple((Picture(one),) for one in pair), lined=False) for pair in views)
    beside = Row((shoe, rest), lined=False)
    return [Heading(title, 3), Table((0.5, 0.5), rows), drawn, Table((0.5, 0.5), (beside,))]


def scale_for(devices: Sequence[Device], room: float) -> float:
    """The largest scale at which the drawings of every side fit into a width."""
    widest = max(device.foot.length for device in devices) + 2 * EDGE
    return next((one for one in SCALES if widest * POINTS / one <= room), SCALES[-1])


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


# --- the end


def _keep(made: Prescribed) -> list[Block]:
    phrases = made.material.phrases
    return [
        Heading(phrases("rx-keep"), 3),
        para((phrases("rx-keep-text") + " ", SMALL_INK), (phrases("rx-ask"), ROOM)),
    ]


def _by_hand(made: Prescribed) -> list[Block]:
    """What the record has no place for, with room to write."""
    phrases = made.material.phrases
    cells = [
        (para(phrases(key), style=SMALL_INK), Picture(Drawing(1.0, LINE, ()))) for key in BY_HAND
    ]
    rows = tuple(map(Row, zip(cells[::3], cells[1::3], cells[2::3], strict=True)))
    return [
        Heading(phrases("rx-hand"), 3, phrases("rx-local")),
        Table((0.33, 0.34, 0.33), rows),
    ]
