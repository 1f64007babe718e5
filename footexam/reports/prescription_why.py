"""What is to be made, and beside it the aims and explanations that it serves."""

from collections.abc import Iterator

from footexam.catalogue.plan_model import Device as Kind
from footexam.drawing.device_parts import Device
from footexam.reasoning.planned import PlanAim
from footexam.reports.blocks import (
    BODY,
    COMPACT,
    SMALL_INK,
    STRONG,
    Block,
    Cell,
    Para,
    Row,
    Table,
    para,
)
from footexam.reports.material import SIDES
from footexam.reports.prescribed import PREFABRICATED, Prescribed
from footexam.reports.text import Style
from footexam.terms import Side

MOST_RESTS = 2
"""Findings named for each proposed explanation."""
LABEL = Style(SMALL_INK.size, bold=True)


def what_and_why(made: Prescribed) -> list[Block]:
    """Both in two columns."""
    return [Table((0.58, 0.42), (Row((_what(made), _why(made)), lined=False),))]


def _what(made: Prescribed) -> Cell:
    phrases = made.material.phrases
    told = [para(phrases("rx-what"), style=COMPACT)]
    for side in SIDES:
        device = made.devices.get(side)
        if device is not None:
            told.append(para(phrases(_kind(device), side=made.side(side)), style=STRONG))
        elif side not in made.plan.held:
            told.append(para(phrases("rx-nothing", side=made.side(side)), style=BODY))
    told.append(para(phrases("rx-mirror"), style=SMALL_INK))
    return (*told, *_speaks(made))


def _speaks(made: Prescribed) -> Iterator[Para]:
    """What speaks for which kind of device."""
    cite = made.material.citations.cite
    for kind in Kind:
        says = [
            f"{made.material.say(one.says)}\u00a0"
            + cite(one.source, one.provenance, "device-of", kind)
            for one in made.plan.device
            if one.points_to is kind
        ]
        if says:
            label = made.material.phrases(f"rx-for-{kind}")
            yield para((f"{label}   ", LABEL), (" ".join(says), SMALL_INK))


def _kind(device: Device) -> str:
    """The phrase for the kind of device; it follows from the features chosen."""
    if not device.has_shell:
        return "rx-kind-parts"
    if not device.has(PREFABRICATED):
        return "rx-kind-custom"
    custom = device.has("medial-heel-skive") or device.has("lateral-heel-skive")
    shaped = device.has("inverted-correction") or device.has("everted-correction")
    return "rx-kind-both" if custom or shaped else "rx-kind-prefabricated"


def _why(made: Prescribed) -> Cell:
    """The kept aims with the explanations they serve, and what does not belong together."""
    phrases = made.material.phrases
    told = [para(phrases("rx-aims"), style=COMPACT)]
    if not made.aims:
        return (*told, para(phrases("rx-aims-none"), style=SMALL_INK))
    served: dict[tuple[str, str], list[Side | None]] = {}
    for aim in made.aims:
        served.setdefault((aim.id, " ".join(_serves(aim, made))), []).append(aim.side)
    for (name, serves), sides in served.items():
        letter = made.letters.get(name, "")
        named = phrases(
            "rx-aim", letter=letter, aim=made.label(name), side=" ".join(_sides(sides, made))
        )
        told.append(para(named, style=LABEL))
        if serves:
            told.append(para(serves, style=SMALL_INK))
    return (*told, *_unpaired(made))


def _sides(sides: list[Side | None], made: Prescribed) -> list[str]:
    """One or both sides in words."""
    known = [side for side in SIDES if side in sides]
    return [made.sides(known)] if known else [made.side(None)]


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


def _unpaired(made: Prescribed) -> list[Para]:
    """Aims without a feature and features without an aim."""
    phrases = made.material.phrases
    chosen = [one for device in made.devices.values() for one in device.features]
    served = {aim for one in chosen for aim in one.feature.aims}
    wanted = {aim.id for aim in made.aims}
    without = dict.fromkeys(made.label(aim.id) for aim in made.aims if aim.id not in served)
    stray = dict.fromkeys(
        made.label(one.id) for one in chosen if wanted.isdisjoint(one.feature.aims)
    )
    told = []
    if without:
        told.append(phrases("rx-aim-without", what="; ".join(without)))
    if stray:
        told.append(phrases("rx-feature-without", what="; ".join(stray)))
    return [para(" ".join(told), style=SMALL_INK)] if told else []
