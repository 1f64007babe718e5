"""What stands against a device: clashes, reasons not to use a feature, numbers, open checks."""

from collections.abc import Iterator

from footexam.catalogue.plan_model import Severity
from footexam.drawing.device_parts import Device
from footexam.reasoning.planned import Dimension
from footexam.reports.blocks import COMPACT, SMALL_INK, Cell, para
from footexam.reports.prescribed import Prescribed
from footexam.reports.text import Style
from footexam.terms import Side

HARD = Style(SMALL_INK.size, bold=True)


def against(made: Prescribed) -> Cell:
    """Clashes, reasons not to use a feature that hold, numbers that are not sound, open checks."""
    material, phrases = made.material, made.material.phrases
    lines = [
        para((f"{phrases(f'rx-{kind}')}. ", HARD), (told, SMALL_INK))
        for kind, told in _reasons(made)
    ]
    for unmet in made.plan.unmet:
        missing = "; ".join(material.label(name) for name in unmet.missing)
        told = phrases("rx-unmet", what=material.say(unmet.check.says), missing=missing)
        lines.append(para(told, style=HARD))
    if not lines:
        lines.append(para(phrases("rx-against-none"), style=SMALL_INK))
    return (para(phrases("rx-against"), style=COMPACT), *lines)


def _reasons(made: Prescribed) -> Iterator[tuple[str, str]]:
    """Each reason once with its kind and its sides, the hardest first."""
    found: dict[tuple[str, str, frozenset[str]], tuple[list[Side], str]] = {}
    for side, device in made.devices.items():
        for kind, what, names, told in _each(device, made):
            sides, _ = found.setdefault((kind, what, names), ([], told))
            if side not in sides:
                sides.append(side)
    kinds = [(kind, f"{made.sides(sides)}: {told}") for (kind, *_), (sides, told) in found.items()]
    yield from (one for one in kinds if one[0] == Severity.BLOCK)
    yield from (one for one in kinds if one[0] != Severity.BLOCK)


def _each(device: Device, made: Prescribed) -> Iterator[tuple[str, str, frozenset[str], str]]:
    """The kind of each reason, why, what it is about, and all of it in words."""
    phrases, cite = made.material.phrases, made.material.citations.cite
    for one in device.features:
        feature, about = made.label(one.id), frozenset({one.id})
        for reason in one.avoid:
            why = made.material.say(reason.says)
            number = cite(reason.source, reason.provenance, "avoid-of", feature)
            told = phrases("rx-avoid", feature=feature, why=f"{why}\u00a0{number}".strip())
            yield reason.severity, why, about, told
        for clash in one.clashes:
            key = "rx-avoid" if clash.other == one.id else "rx-clash"
            other = made.label(clash.other)
            number = cite(clash.conflict.source, clash.conflict.provenance, "avoid-of", feature)
            why = f"{clash.why}\u00a0{number}".strip()
            told = phrases(key, feature=feature, other=other, why=why)
            yield clash.severity, clash.why, about | {clash.other}, told
        for part in one.dimensions:
            if part.remark:
                size = part.size.id.replace("-", " ")
                told = phrases("rx-remark", feature=feature, size=size, why=part.remark)
                yield ("odd" if _is_odd(part) else "bare"), told, about, told


def _is_odd(part: Dimension) -> bool:
    """Whether what was typed is no number or lies outside; else only the calculation is missing."""
    return part.remark.startswith("“") or not part.size.low <= part.value <= part.size.high
