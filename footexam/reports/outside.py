"""What lies outside the usual, what differs between the sides, and what has changed."""

from collections.abc import Iterable

from footexam.drawing.palette import Ink
from footexam.reports.blocks import (
    BODY,
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Cell,
    Heading,
    Para,
    Row,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.material import SIDES, Material
from footexam.reports.ranges import usual_words
from footexam.reports.sureness import SURE, is_outside, ruler_of, scale_of, sure_ink, sure_words
from footexam.reports.text import Style
from footexam.reports.values import repeats_words, value_lines
from footexam.reports.words import quantity_words, rounded_words
from footexam.scoring.results import Change, Difference, Finding
from footexam.terms import WITHIN, ChangeLabel, Label, Side

SIDED = (0.30, 0.35, 0.35)
UNSIDED = (0.30, 0.70)


def outside(material: Material) -> list[Block]:
    """The table of everything outside its usual range; both sides of a measure stand together."""
    phrases = material.phrases
    findings = [finding for finding in material.assessment.findings if is_outside(finding)]
    blocks: list[Block] = [Heading(phrases("outside"))]
    if not findings:
        judged = any(f.label is not Label.NOT_JUDGED for f in material.assessment.findings)
        return [*blocks, para(phrases("outside-none" if judged else "nothing-judged"))]
    measures = dict.fromkeys(finding.measure for finding in findings)
    sided = [measure for measure in measures if material.measure(measure).sided]
    single = [measure for measure in measures if measure not in sided]
    if sided:
        heads = header(phrases("measure"), phrases("left"), phrases("right"))
        rows = tuple(_sided_row(measure, material) for measure in sided)
        blocks.append(Table(SIDED, rows, heads))
    if single:
        heads = header(phrases("measure"), phrases("answer"))
        blocks += [Space(4)] if sided else []
        rows = tuple(_single_row(measure, material) for measure in single)
        blocks.append(Table(UNSIDED, rows, heads))
    return [*blocks, para(phrases("key"), style=SMALL)]


def _sided_row(measure: str, material: Material) -> Row:
    label = label_cell(measure, material, SIDES)
    return Row((label, *(finding_cell(measure, side, material) for side in SIDES)))


def _single_row(measure: str, material: Material) -> Row:
    return Row((label_cell(measure, material, (None,)), finding_cell(measure, None, material)))


def label_cell(measure: str, material: Material, sides: Iterable[Side | None]) -> Cell:
    """The name of a measure, and under it its usual range; that of each side where they differ."""
    found = (material.findings.get((measure, side)) for side in sides)
    ranges = dict.fromkeys(usual_words(finding, material) for finding in found if finding)
    return (
        para(material.label(measure)),
        *(para(text, style=SMALL) for text in ranges if text),
    )


def finding_cell(measure: str, side: Side | None, material: Material) -> Cell:
    """The value of one side with its ruler and how sure it is; an absence in words."""
    finding, reading = material.findings.get((measure, side)), material.reading(measure, side)
    if finding is None:
        told = value_lines(reading, material) if reading else [material.phrases("no-entry")]
        return cell("; ".join(told), SMALL)
    repeats = repeats_words(reading, material) if reading else ""
    return (value_para(finding, material), sure_para(finding, material), *cell(repeats, SMALL))


def value_para(finding: Finding, material: Material) -> Para:
    """The value, strong where it lies outside, with its ruler beside it."""
    style = STRONG if is_outside(finding) else BODY
    drawing = ruler_of(finding, scale_of(finding.measure, material), material)
    return Para(((finding_value(finding, material), style),), drawing)


def finding_value(finding: Finding, material: Material) -> str:
    """A finding's number with its unit, or its word."""
    if isinstance(finding.value, str):
        return material.word(finding.value)
    return quantity_words(finding.value, material.measure(finding.measure), repeats=finding.repeats)


def sure_para(finding: Finding, material: Material) -> Para:
    """How sure it is, in the colour of its side of the range where it lies outside."""
    outside = is_outside(finding)
    style = Style(SMALL.size, outside, sure_ink(finding) if outside else Ink.MUTED)
    return para(sure_words(finding, material), style=style)


def differences(material: Material) -> list[Block]:
    """Side differences beyond error or beyond the usual; empty where nothing was compared."""
    found = material.assessment.differences
    if not found:
        return []
    phrases = material.phrases
    blocks: list[Block] = [Heading(phrases("differences"))]
    notable = [one for one in found if one.beyond_error or one.state not in {None, WITHIN}]
    if not notable:
        return [*blocks, para(phrases("differences-none"))]
    titles = ("measure", "left", "right", "minus", "weight")
    rows = tuple(_difference_row(one, material) for one in notable)
    widths = (0.30, 0.12, 0.12, 0.14, 0.32)
    return [*blocks, Table(widths, rows, header(*map(phrases, titles)))]


def _difference_row(one: Difference, material: Material) -> Row:
    measure = material.measure(one.measure)
    return Row(
        (
            cell(material.label(one.measure)),
            cell(quantity_words(one.left, measure)),
            cell(quantity_words(one.right, measure)),
            cell(quantity_words(one.difference, measure, signed=True), STRONG),
            (para(_beyond(one, material)), *cell(_usual_difference(one, material), SMALL_INK)),
        )
    )


def _beyond(one: Difference, material: Material) -> str:
    """Whether the difference exceeds measurement error."""
    if one.change_needed is None:
        return material.phrases("error-unknown")
    needed = _needed(one.measure, one.change_needed, material)
    key = "beyond-error" if one.beyond_error else "inside-error"
    return material.phrases(key, needed=needed)


def _needed(measure: str, change: float, material: Material) -> str:
    """A change needed with its unit, and the numbers of the error's sources."""
    known = material.measure(measure)
    cites = dict.fromkeys(
        material.citations.cite(
            size.source,
            size.provenance,
            material.phrases("error-of", measure=material.label(measure)),
            material.say(size.note),
        )
        for size in known.errors
        if size.used
    )
    needed = rounded_words(change, known)
    return material.phrases("needed", needed=needed, cites="".join(cites)).strip()


def _usual_difference(one: Difference, material: Material) -> str:
    """The usual difference between sides, and how sure it is that this one is more."""
    if one.usual_limit is None:
        return ""
    phrases, measure = material.phrases, material.measure(one.measure)
    key = "less-than" if one.operator == ">=" else "up-to"
    text = phrases(key, high=rounded_words(one.usual_limit, measure))
    told = phrases("difference-usual", range=f"{text} {_cite_difference(one, material)}".strip())
    if one.label not in SURE or one.state is None:
        return told
    return f"{phrases(str(one.label), state=material.word(one.state))}; {told}"


def _cite_difference(one: Difference, material: Material) -> str:
    """The number of the source of the usual difference, with how well it was checked."""
    for norm in material.catalogue.differences.get(one.measure, ()):
        use = material.phrases("difference-of", measure=material.label(one.measure))
        number = material.citations.cite(norm.source, norm.provenance, use, material.say(norm.note))
        return f"{number}, {material.phrases(f'short-{norm.provenance}')}"
    return ""


def changes(material: Material) -> list[Block]:
    """What has changed since the last visit, then what error alone may explain."""
    found = material.assessment.changes
    if not found:
        return []
    phrases = material.phrases
    real = [one for one in found if one.label is ChangeLabel.CHANGED]
    blocks: list[Block] = [Heading(phrases("changes"))]
    if real:
        titles = ("measure", "before", "now", "change", "weight")
        rows = tuple(_change_row(one, material) for one in real)
        blocks.append(Table((0.30, 0.12, 0.12, 0.14, 0.32), rows, header(*map(phrases, titles))))
    for label, key in (
        (ChangeLabel.INSIDE_ERROR, "changes-inside"),
        (ChangeLabel.NOT_JUDGED, "changes-unknown"),
    ):
        told = [_change_words(one, material) for one in found if one.label is label]
        if told:
            blocks.append(para(phrases(key, what="; ".join(told)), style=SMALL_INK))
    return blocks


def _change_row(one: Change, material: Material) -> Row:
    measure = material.measure(one.measure)
    needed = "" if one.change_needed is None else _needed(one.measure, one.change_needed, material)
    return Row(
        (
            cell(material.sided_label(one.measure, one.side)),
            cell(quantity_words(one.before, measure)),
            cell(quantity_words(one.now, measure)),
            cell(quantity_words(one.change, measure, signed=True), STRONG),
            cell(material.phrases("changed", needed=needed)),
        )
    )


def _change_words(one: Change, material: Material) -> str:
    """A change in one phrase, for the lists under the table."""
    measure = material.measure(one.measure)
    change = quantity_words(one.change, measure, signed=True)
    return f"{material.sided_label(one.measure, one.side)} {change}"
