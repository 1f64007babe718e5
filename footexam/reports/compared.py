"""Differences between the sides and changes since the last visit, against measurement error."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from footexam.reports.blocks import (
    BODY,
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Cell,
    Heading,
    Row,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.material import Material
from footexam.reports.sureness import SURE
from footexam.reports.text import Style
from footexam.reports.words import alike, quantity_words, rounded_words
from footexam.scoring.results import Change, Difference
from footexam.terms import WITHIN, ChangeLabel, Kind

TOLD = "history"
"""The panel of what is told, not measured."""

DIFFERENCE = (0.28, 0.11, 0.11, 0.12, 0.18, 0.20)
CHANGE = (0.34, 0.15, 0.15, 0.16, 0.20)

_IN_TABLE, _IN_TEXT = ("beyond-error", "inside-error"), ("beyond-told", "inside-told")
"""Phrases for a difference beyond its error and for one inside it."""


def differences(material: Material) -> list[Block]:
    """Side differences beyond error or beyond the usual; empty where nothing was compared."""
    found, notable = compared_sides(material)
    if not found:
        return []
    phrases = material.phrases
    blocks: list[Block] = [Heading(phrases("differences"))]
    if not notable:
        return [*blocks, para(phrases("differences-none"))]
    titles = ("measure", "left", "right", "minus", "beyond", "between")
    rows = tuple(difference_row(one, material, brief=False) for one in notable)
    table = Table(DIFFERENCE, rows, header(*map(phrases, titles)))
    return [*blocks, table, para(phrases("before-rounding"), style=SMALL)]


def compared_sides(material: Material) -> tuple[list[Difference], list[Difference]]:
    """All differences between the feet, and those beyond error or beyond the usual."""
    found = [one for one in material.assessment.differences if is_of_the_feet(one, material)]
    notable = [one for one in found if one.beyond_error or one.state not in {None, WITHIN}]
    return found, notable


def is_of_the_feet(one: Difference, material: Material) -> bool:
    """Whether a difference is one between the feet; pain told for each side is none."""
    return material.measure(one.measure).panel != TOLD


def difference_row(one: Difference, material: Material, *, brief: bool) -> Row:
    """One side difference; `brief` in the short words and small type of page one."""
    measure = material.measure(one.measure)
    return Row(
        (
            cell(material.label(one.measure)),
            cell(quantity_words(one.left, measure)),
            cell(quantity_words(one.right, measure)),
            cell(quantity_words(one.difference, measure, signed=True), STRONG),
            cell(beyond_words(one, material, brief=brief), SMALL_INK if brief else BODY),
            _between(one, material, brief=brief),
        )
    )


def beyond_words(one: Difference, material: Material, *, brief: bool, in_text: bool = False) -> str:
    """Whether the difference exceeds measurement error; `in_text` without a column's heading."""
    if one.change_needed is None:
        return material.phrases("error-unknown-short" if brief else "error-unknown")
    beyond, inside = _IN_TEXT if in_text else _IN_TABLE
    key = beyond if one.beyond_error else inside
    needed = rounded_words(one.change_needed, material.measure(one.measure))
    return material.phrases(key, needed=needed, cites=cite_error(one.measure, material)).strip()


def cite_error(measure: str, material: Material) -> str:
    """The numbers of the sources of a measure's error."""
    label = material.label(measure)
    return "".join(
        dict.fromkeys(
            material.citations.cite(
                size.source, size.provenance, "error-of", label, material.say(size.note)
            )
            for size in material.measure(measure).errors
            if size.used
        )
    )


def _between(one: Difference, material: Material, *, brief: bool) -> Cell:
    """How sure it is that the sides differ by more than is usual, and what is usual."""
    if one.usual_limit is None or one.state is None:
        return cell(material.phrases("nothing-usual"), SMALL)
    state = material.word(one.state)
    sure = material.phrases(str(one.label), state=state) if one.label in SURE else state
    key = "less-than" if one.operator == ">=" else "up-to"
    high = rounded_words(one.usual_limit, material.measure(one.measure))
    usual = material.phrases("usual", range=material.phrases(key, high=high))
    told = cell(f"{usual} {cite_difference(one, material)}".strip(), SMALL)
    size = SMALL.size if brief else BODY.size
    return (para(sure, style=Style(size, bold=one.label in SURE)), *told)


def cite_difference(one: Difference, material: Material) -> str:
    """The number of the source of the usual difference, with how well it was checked."""
    for norm in material.catalogue.differences.get(one.measure, ()):
        label, note = material.label(one.measure), material.say(norm.note)
        number = material.citations.cite(norm.source, norm.provenance, "difference-of", label, note)
        return f"{number}, {material.phrases(f'short-{norm.provenance}')}"
    return ""


@dataclass(frozen=True, slots=True)
class Changes:
    """Changes since the last visit: beyond error, inside it, and those that nothing judges."""

    real: tuple[Change, ...]
    inside: tuple[Change, ...]
    unknown: tuple[Change, ...]


def compared_visits(material: Material) -> Changes | None:
    """The changes; None where nothing was compared."""
    found = [
        one
        for one in material.assessment.changes
        if material.measure(one.measure).kind is not Kind.DURATION  # time passes by itself
    ]
    if not found:
        return None
    return Changes(
        tuple(one for one in found if one.label is ChangeLabel.CHANGED),
        tuple(one for one in found if one.label is ChangeLabel.INSIDE_ERROR),
        tuple(one for one in found if one.label is ChangeLabel.NOT_JUDGED and one.change),
    )


def changes(material: Material) -> list[Block]:
    """What has changed since the last visit, then what error alone may explain."""
    found = compared_visits(material)
    if found is None:
        return []
    phrases = material.phrases
    blocks: list[Block] = [Heading(phrases("changes"))]
    if found.real:
        blocks.append(change_table(found.real, material))
    else:
        blocks.append(para(phrases("changes-none")))
    return [
        *blocks,
        *change_lists(found, material),
        para(phrases("before-rounding"), style=SMALL),
    ]


def change_table(real: Iterable[Change], material: Material) -> Table:
    """Changes beyond error, one row each."""
    titles = ("measure", "before", "now", "change", "needed-head")
    rows = tuple(_change_row(one, material) for one in real)
    return Table(CHANGE, rows, header(*map(material.phrases, titles)))


def change_lists(found: Changes, material: Material) -> list[Block]:
    """The changes inside error and those not judged, in small."""
    blocks: list[Block] = []
    lists = (("changes-inside", found.inside), ("changes-unknown", found.unknown))
    for key, listed in lists:
        told = "; ".join(_listed(listed, material))
        blocks += [para(material.phrases(key, what=told), style=SMALL_INK)] if told else []
    return blocks


def _change_row(one: Change, material: Material) -> Row:
    measure = material.measure(one.measure)
    needed = "" if one.change_needed is None else rounded_words(one.change_needed, measure)
    return Row(
        (
            cell(material.sided_label(one.measure, one.side)),
            cell(quantity_words(one.before, measure)),
            cell(quantity_words(one.now, measure)),
            cell(quantity_words(one.change, measure, signed=True), STRONG),
            cell(f"{needed} {cite_error(one.measure, material)}".strip()),
        )
    )


def _listed(found: Iterable[Change], material: Material) -> list[str]:
    """Changes in one phrase for each measure, for the lists under the table."""
    by_measure: dict[str, list[Change]] = {}
    for one in found:
        by_measure.setdefault(one.measure, []).append(one)
    return [
        material.phrases(
            "measure-values",
            measure=material.label(measure),
            values=", ".join(_changes_told(listed, material)),
        )
        for measure, listed in by_measure.items()
    ]


def _changes_told(listed: Sequence[Change], material: Material) -> list[str]:
    """The changes of one measure, each with its side."""
    measure = material.measure(listed[0].measure)
    told = alike([one.change for one in listed], measure, signed=True)
    return [
        material.phrases("side-value", side=material.side_word(one.side), value=text)
        if one.side
        else text
        for one, text in zip(listed, told, strict=True)
    ]
