"""The table of what lies outside the usual range, with rulers; both sides stand together."""

from collections.abc import Iterable

from footexam.drawing.palette import Ink
from footexam.record.reading import Numbers, Reading
from footexam.reports.blocks import (
    BODY,
    SMALL,
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
from footexam.reports.sureness import is_outside, ruler_of, scale_of, sure_ink, sure_words
from footexam.reports.text import Style
from footexam.reports.values import numbers_words, repeats_words, value_lines
from footexam.reports.words import quantity_words
from footexam.scoring.results import Finding
from footexam.terms import Kind, Label, Side

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
        return cell("; ".join(without(measure, reading, material)), SMALL)
    if isinstance(finding.value, str):
        told = value_lines(reading, material) if reading else [material.word(finding.value)]
        return (word_para(told[0], finding, material),)
    repeats = repeats_words(reading, material) if reading else ""
    return (value_para(finding, material), sure_para(finding, material), *cell(repeats, SMALL))


def without(measure: str, reading: Reading | None, material: Material) -> list[str]:
    """What stands where there is no finding: a usual word, an absence, or no entry."""
    if reading is not None:
        return value_lines(reading, material)
    derived = material.measure(measure).kind is Kind.DERIVED
    return [material.phrases("not-worked-out" if derived else "no-entry")]


def word_para(told: str, finding: Finding, material: Material) -> Para:
    """A word outside the usual, as `told` with its places, and the number of its source."""
    return Para(((f"{told}   ", STRONG), (sure_words(finding, material), SMALL)))


def value_para(finding: Finding, material: Material) -> Para:
    """The value, strong where it lies outside, with its ruler beside it."""
    style = STRONG if is_outside(finding) else BODY
    drawing = ruler_of(finding, scale_of(finding.measure, material), material)
    return Para(((finding_value(finding, material), style),), drawing)


def finding_value(finding: Finding, material: Material) -> str:
    """A finding's number with its unit, or its word; a mean as its readings allow."""
    if isinstance(finding.value, str):
        return material.word(finding.value)
    measure = material.measure(finding.measure)
    reading = material.reading(finding.measure, finding.side)
    if reading is not None and isinstance(reading.value, Numbers):
        return numbers_words(reading.value, measure)
    return quantity_words(finding.value, measure, decimals=measure.decimals)


def sure_para(finding: Finding, material: Material) -> Para:
    """How sure it is, in the colour of its side of the range where it lies outside."""
    outside = is_outside(finding)
    style = Style(SMALL.size, outside, sure_ink(finding) if outside else Ink.MUTED)
    return para(sure_words(finding, material), style=style)
