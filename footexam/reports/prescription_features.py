"""The features of a prescription as a table: dimension, tolerance, place, material, reason."""

from collections.abc import Iterator, Mapping

from footexam.reasoning.planned import Candidate, Dimension
from footexam.reports.blocks import (
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
from footexam.reports.material import Material
from footexam.reports.prescribed import PREFABRICATED, Prescribed, digits
from footexam.reports.text import Style
from footexam.reports.words import opened, with_unit
from footexam.terms import Side

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
OWN_KEYS = frozenset({"id", "side", "material", "position", "note", "by", "at"})
"""What stands in a decision beside dimensions."""
DIMENSION = Style(SMALL_INK.size, bold=True)
REASON = Style(7.8)
REMARK = Style(7.8, ink=SMALL.ink)
WIDTHS = (0.048, 0.347, 0.245, 0.36)


def features(made: Prescribed) -> list[Block]:
    """A table for what both sides share and one for each side, numbered as in the drawings."""
    phrases = made.material.phrases
    heads = header(*map(phrases, ("rx-number", "rx-feature", "rx-where", "rx-why")))
    blocks: list[Block] = []
    for sides, chosen in made.groups:
        numbers = made.devices[sides[0]].numbers
        rows = tuple(
            Row(
                (
                    cell(str(numbers[one.id]), STRONG),
                    _what(one, sides[0], made),
                    _where(one, sides[0], made),
                    _why(one, made),
                )
            )
            for one in chosen
        )
        note = "" if blocks else phrases("rx-standings")
        title = phrases("rx-features", side=made.sides(sides))
        blocks += [Heading(title, 3, note), Table(WIDTHS, rows, heads)]
    return [*blocks, *_not_given(made)]


def _not_given(made: Prescribed) -> Iterator[Para]:
    """What a shell made to the foot cannot do without and nobody chose."""
    phrases = made.material.phrases
    lacking: dict[tuple[str, ...], list[Side]] = {}
    for side, device in made.devices.items():
        if device.has_shell and not device.has(PREFABRICATED):
            names = tuple(made.label(name) for name in SHELL if not device.has(name))
            lacking.setdefault(names, []).append(side)
    for names, sides in lacking.items():
        if not names:
            continue
        told = phrases("rx-not-given", what="; ".join(names))
        if len(sides) < len(made.devices):
            told = phrases("rx-not-given-side", side=made.sides(sides), told=told)
        yield para(told, style=STRONG)


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
    provenance = part.provenance if standing == "worked" else size.provenance
    cite = material.citations.cite(size.source, provenance, "dimension-of", label)
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
        provenance=phrases(f"rx-{provenance}"),
        cite=f"\u00a0{cite}" if cite else "",
    )
    if size.note is not None and (feature, size.id) not in FOR_PRESCRIBER:
        note += f" {_first_sentence(material.say(size.note))}"
    return para((told, DIMENSION), (note, REMARK))


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
    """What the feature does and asks for, the aims it serves, how well that is known."""
    material, phrases = made.material, made.material.phrases
    does = [material.say(one.feature.mechanism)]
    if one.feature.needs is not None:
        does.append(material.say(one.feature.needs))
    claim = next(iter(one.claims), None)
    if claim is None:
        known = phrases("rx-evidence-none", aim=_aims(one, made))
    else:
        cite = material.citations.cite(
            claim.source, claim.provenance, "evidence-of", made.label(one.id)
        )
        grade = phrases(f"rx-{claim.grade}")
        known = phrases("rx-grade", aim=_aims(one, made), grade=grade, cite=f"\u00a0{cite}")
    return (para((" ".join(does), REASON), (f" {known}", REMARK)),)


def _aims(one: Candidate, made: Prescribed) -> str:
    """The letters of the kept aims it serves, else the aim that it was chosen under."""
    letters = [made.letters[name] for name in one.feature.aims if name in made.letters]
    if letters:
        return made.material.phrases("rx-serves", letters=", ".join(sorted(letters)))
    return made.material.phrases("rx-serves-other", aim=made.label(one.aim))
