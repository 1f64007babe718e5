"""The features of a prescription: dimension, tolerance, place, material, reason, objections."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from functools import cached_property
from typing import Any

from footexam.catalogue.plan_model import Severity
from footexam.drawing.device_parts import Device, device_of
from footexam.reasoning.planned import Candidate, Dimension
from footexam.reports.blocks import (
    COMPACT,
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Cell,
    Heading,
    Para,
    Row,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.material import SIDES, Material
from footexam.reports.text import Style
from footexam.reports.words import number_words, opened, rounded, with_unit
from footexam.scoring.visit import Visit
from footexam.terms import Side

PREFABRICATED = "prefabricated-orthosis"
SHELL = (
    "shell-thickness",
    "shell-length-and-width",
    "heel-cup-depth",
    "cover-material",
    "cover-length",
)
"""What every shell has in some size."""
FOR_PRESCRIBER = frozenset(
    {
        ("arch-fill", "height"),
        ("cover-material", "thickness"),
        ("first-ray-extension", "height"),
        ("forefoot-post-lateral", "angle"),
        ("forefoot-post-medial", "angle"),
        ("full-length-lateral-wedge", "angle"),
        ("heel-cup-depth", "depth"),
        ("heel-lift", "height"),
        ("inverted-correction", "angle"),
        ("medial-heel-skive", "depth"),
        ("metatarsal-bar", "front-edge-behind-heads"),
        ("metatarsal-dome", "height"),
        ("prefabricated-orthosis", "lift"),
        ("prefabricated-orthosis", "wedge"),
        ("rearfoot-post-medial", "angle"),
        ("rocker-sole", "angle"),
        ("shell-thickness", "thickness"),
        ("shoe-drop", "drop"),
    }
)
"""Dimensions whose note says how to choose them, which is no concern of the maker."""
DIMENSION = Style(SMALL_INK.size, bold=True)
OWN_KEYS = frozenset({"id", "side", "material", "position", "note", "by", "at"})
"""What stands in a decision beside dimensions."""


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
    def alike(self) -> tuple[tuple[Side, ...], ...]:
        """The sides that get something; together where they get the very same."""
        listed = {side: self._listed(side) for side in self.devices}
        if len(listed) == len(SIDES) and len({repr(one) for one in listed.values()}) == 1:
            return (tuple(listed),)
        return tuple((side,) for side in listed)

    def _listed(self, side: Side) -> list[Any]:
        """What the table of a side tells."""
        return [
            (
                one.id,
                one.aim,
                [_told(part) for part in one.dimensions],
                {key: told for key, told in self.typed(one, side).items() if key != "side"},
            )
            for one in self.devices[side].features
        ]

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


# --- the table


def features(made: Prescribed) -> list[Block]:
    """A table for each side, its numbers as in the drawings."""
    phrases = made.material.phrases
    blocks: list[Block] = []
    for sides in made.alike:
        side, device = sides[0], made.devices[sides[0]]
        rows = tuple(
            Row(
                (
                    cell(str(number), STRONG),
                    _what(one, side, made),
                    _where(one, side, made),
                    _why(one, made),
                )
            )
            for number, one in enumerate(device.features, 1)
        )
        heads = header(*map(phrases, ("rx-number", "rx-feature", "rx-where", "rx-why")))
        title = phrases("rx-features", side=made.sides(sides))
        blocks += [Heading(title, 3), Table((0.045, 0.325, 0.26, 0.37), rows, heads)]
        blocks += _not_given(device, made)
    return blocks


def _not_given(device: Device, made: Prescribed) -> list[Block]:
    """What a shell made to the foot cannot do without and nobody chose."""
    if not device.has_shell or device.has(PREFABRICATED):
        return []
    names = [made.label(name) for name in SHELL if not device.has(name)]
    if not names:
        return []
    return [para(made.material.phrases("rx-not-given", what="; ".join(names)), style=STRONG)]


def _what(one: Candidate, side: Side, made: Prescribed) -> Cell:
    """The name, each dimension with its tolerance, and what was typed besides."""
    material, label = made.material, made.label(one.id)
    lines = [para(label, style=STRONG)]
    lines += [_size(part, one.id, label, material) for part in one.dimensions]
    if not one.dimensions:
        lines.append(para(material.phrases("rx-no-size"), style=SMALL_INK))
    sizes = {part.size.id for part in one.dimensions}
    for key, told in made.typed(one, side).items():
        if key not in OWN_KEYS | sizes:
            named = material.phrases("rx-one", label=opened(key.replace("-", " ")), value=told)
            lines.append(para(named, style=SMALL_INK))
    return tuple(lines)


def _size(part: Dimension, feature: str, label: str, material: Material) -> Para:
    phrases, size = material.phrases, part.size
    standing = "chosen" if part.chosen else "worked" if part.result else "usual"
    cite = material.citations.cite(size.source, size.provenance, "dimension-of", label)
    told = phrases(
        "rx-size",
        name=opened(size.id.replace("-", " ")),
        value=with_unit(digits(part.value), size.unit, abs(part.value) == 1),
        tolerance=with_unit(digits(size.tolerance), size.unit, size.tolerance == 1),
    )
    low, high = digits(part.low, 1), digits(part.high, 1)
    banded = part.result is not None and not part.chosen and low != high
    span = phrases("rx-size-span", low=low, high=high) if banded else ""
    note = phrases(
        "rx-size-note",
        standing=phrases(f"rx-standing-{standing}"),
        span=span,
        provenance=phrases(f"short-{size.provenance}"),
        cite=f"\u00a0{cite}" if cite else "",
    )
    if size.note is not None and (feature, size.id) not in FOR_PRESCRIBER:
        note += f" {_first_sentence(material.say(size.note))}"
    return para((told, DIMENSION), (note, SMALL))


def _first_sentence(text: str) -> str:
    """Up to the first full stop that ends a sentence; what follows is for the prescriber."""
    first, stop, _ = text.partition(". ")
    return f"{first}." if stop else text


def _where(one: Candidate, side: Side, made: Prescribed) -> Cell:
    phrases, typed = made.material.phrases, made.typed(one, side)
    usual = one.feature.where
    where = typed.get("position") or (made.material.say(usual) if usual else "")
    told = phrases("rx-position", where=where) if where else phrases("rx-position-line")
    lines = [para(told, style=SMALL_INK), para(_material(one, typed, made), style=SMALL_INK)]
    if typed.get("note"):
        lines.append(para(phrases("rx-feature-note", note=typed["note"]), style=SMALL_INK))
    return tuple(lines)


def _material(one: Candidate, typed: Mapping[str, str], made: Prescribed) -> str:
    """The material with its hardness: as typed, else the usual one, which is said.

    Who must ask where a feature lies must ask what it is made of as well.
    """
    phrases = made.material.phrases
    if typed.get("material"):
        return phrases("rx-material", what=_named(typed["material"], one, made))
    if not one.feature.made_of:
        return phrases("rx-material-none" if one.feature.where else "rx-material-line")
    what = " + ".join(_named(name, one, made) for name in one.feature.made_of)
    return phrases("rx-material-usual", what=what)


def _named(name: str, one: Candidate, made: Prescribed) -> str:
    """A material of forms/ by its name; what is no id of one stands as typed."""
    known = made.material.catalogue.materials.get(name)
    if known is None:
        return name
    label = made.material.say(known.label)
    if known.hardness is None or any(part.size.unit == "Shore A" for part in one.dimensions):
        return label  # a hardness that is a dimension counts
    hardness = made.material.say(known.hardness)
    return made.material.phrases("rx-hardness", name=label, hardness=hardness)


def _why(one: Candidate, made: Prescribed) -> Cell:
    material, phrases = made.material, made.material.phrases
    told = phrases(
        "rx-aim-mechanism",
        aim=made.label(one.aim),
        mechanism=material.say(one.feature.mechanism),
    )
    claim = next(iter(one.claims), None)
    if claim is None:
        grade = phrases("rx-evidence-none")
    else:
        cite = material.citations.cite(
            claim.source, claim.provenance, "evidence-of", made.label(one.id)
        )
        grade = phrases("rx-grade", grade=phrases(f"grade-{claim.grade}"), cite=f"\u00a0{cite}")
    needs = f" {material.say(one.feature.needs)}" if one.feature.needs is not None else ""
    return (para((told, SMALL_INK), (grade + needs, SMALL)),)


def digits(value: Decimal | float, decimals: int | None = None) -> str:
    """A number without needless zeros; a float and what was worked out with one decimal."""
    exact = value if isinstance(value, Decimal) else Decimal(repr(round(value, 1)))
    if decimals is not None:
        exact = rounded(exact, decimals)
    whole = exact.to_integral_value()
    return number_words(whole if exact == whole else exact.normalize())


# --- against


def against(made: Prescribed) -> Cell:
    """Clashes, reasons not to use a feature that hold, numbers that are not sound, open checks."""
    material, phrases = made.material, made.material.phrases
    lines = [
        para((f"{phrases(f'rx-{kind}')}. ", DIMENSION), (told, SMALL_INK))
        for kind, told in _reasons(made)
    ]
    for unmet in made.plan.unmet:
        missing = "; ".join(material.label(name) for name in unmet.missing)
        told = phrases("rx-unmet", what=material.say(unmet.check.says), missing=missing)
        lines.append(para(told, style=DIMENSION))
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
            told = phrases("rx-avoid", feature=feature, why=f"{why} {number}".strip())
            yield reason.severity, why, about, told
        for clash in one.clashes:
            key = "rx-avoid" if clash.other == one.id else "rx-clash"
            other = made.label(clash.other)
            number = cite(clash.conflict.source, clash.conflict.provenance, "avoid-of", feature)
            why = f"{clash.why} {number}".strip()
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
