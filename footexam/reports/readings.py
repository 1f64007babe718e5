"""All readings by position, both sides in words, with what was noted."""

from collections.abc import Iterable, Sequence

from footexam.catalogue.model import Panel
from footexam.record.reading import Reading, Rows
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
from footexam.reports.load import training_blocks
from footexam.reports.material import SIDES, Material
from footexam.reports.outside import SIDED, UNSIDED, label_cell, sure_para, word_para
from footexam.reports.own_tables import own_table
from footexam.reports.sureness import is_outside, ruler_of, scale_of
from footexam.reports.values import remarks, value_lines
from footexam.scoring.results import Finding
from footexam.terms import Label

WIDE_SIDED = (0.56, 0.22, 0.22)
WIDE_UNSIDED = (0.56, 0.44)

LONGEST = 100
"""Characters of one answer that need the width themselves."""

SHORT = 20
"""Mean length in characters of answers that need little width."""


def readings(material: Material) -> list[Block]:
    """Every reading, panel by panel in the order of forms/, then those that have left it."""
    blocks: list[Block] = [Heading(material.phrases("readings"))]
    for panel in material.catalogue.panels.values():
        blocks += _panel(panel, material)
    blocks += _retired(material)
    if len(blocks) == 1:
        blocks.append(para(material.phrases("readings-none")))
    return blocks


def _panel(panel: Panel, material: Material) -> list[Block]:
    """One position: measures of the whole person first, then those of a side."""
    recorded = {measure for measure, _ in material.examination.readings}
    present = [measure for measure in panel.measures if measure in recorded]
    if not present:
        return []
    blocks: list[Block] = [Heading(material.say(panel.label), 1, material.say(panel.position))]
    singles = [_single(name, material) for name in present if not material.measure(name).sided]
    pairs = [_sided_row(name, material) for name in present if material.measure(name).sided]
    wide = _is_short([*(part for part in singles if isinstance(part, Row)), *pairs])
    blocks += _single_blocks(singles, WIDE_UNSIDED if wide else UNSIDED, material)
    if pairs:
        heads = header(*map(material.phrases, ("measure", "left", "right")))
        blocks += [Space(5)] if singles else []
        blocks.append(Table(WIDE_SIDED if wide else SIDED, tuple(pairs), heads))
    return blocks


def _single(measure: str, material: Material) -> Row | list[Block]:
    """The answer of the whole person: a row, or a table of its own where it was given in rows."""
    reading = material.reading(measure)
    if reading is not None and isinstance(reading.value, Rows):
        return [*own_table(reading, reading.value, material), *training_blocks(measure, material)]
    return Row((label_cell(measure, material, (None,)), _told_side(reading, material)))


def _single_blocks(
    parts: Iterable[Row | list[Block]], widths: tuple[float, ...], material: Material
) -> list[Block]:
    """Rows that follow one another as one table, and the tables of their own between them."""
    blocks: list[Block] = []
    rows: list[Row] = []
    heads = header(material.phrases("measure"), material.phrases("answer"))
    for part in parts:
        if isinstance(part, Row):
            rows.append(part)
            continue
        blocks += [Table(widths, tuple(rows), heads)] if rows else []
        blocks += part
        rows = []
    return [*blocks, Table(widths, tuple(rows), heads)] if rows else blocks


def _is_short(rows: Sequence[Row]) -> bool:
    """Whether most answers are a word or two, so that long questions may have the width."""
    cells = (piece for row in rows for content in row.cells[1:] for piece in content)
    answers = [piece for piece in cells if isinstance(piece, Para)]
    if any(answer.beside for answer in answers):
        return False
    lengths = [sum(len(text) for text, _ in answer.spans) for answer in answers]
    if not lengths or max(lengths) > LONGEST:
        return False
    return sum(lengths) / len(lengths) <= SHORT


def _sided_row(measure: str, material: Material) -> Row:
    """Left and right; an answer without a side stands across both and says so."""
    bare = material.reading(measure)
    if bare is not None:
        first, *others = value_lines(bare, material)
        told = [material.phrases("bare", value=first), *others]
        whole = _told(told, None, bare, material)
        return Row((label_cell(measure, material, SIDES), whole))
    cells = (_told_side(material.reading(measure, side), material) for side in SIDES)
    return Row((label_cell(measure, material, SIDES), *cells))


def _told_side(reading: Reading | None, material: Material) -> Cell:
    """One reading with its ruler, how sure it is, and its remarks."""
    if reading is None:
        return cell(material.phrases("no-entry"), SMALL)
    finding = material.findings.get((reading.measure, reading.side))
    return _told(value_lines(reading, material), finding, reading, material)


def _told(
    lines: Sequence[str], finding: Finding | None, reading: Reading, material: Material
) -> Cell:
    """The lines of a value, then what belongs to it in small."""
    if finding and isinstance(finding.value, str):
        small = [para(text, style=SMALL) for text in remarks(reading, material)]
        return (word_para(lines[0], finding, material), *small)
    style = STRONG if finding and is_outside(finding) else BODY
    drawing = None
    if finding and finding.label is not Label.NOT_JUDGED:
        drawing = ruler_of(finding, scale_of(finding.measure, material), material)
    first = Para(((lines[0], style),), drawing)
    small = [para(text, style=SMALL) for text in remarks(reading, material)]
    sure = [sure_para(finding, material)] if drawing and finding else []
    return (first, *(para(line, style=style) for line in lines[1:]), *sure, *small)


def _retired(material: Material) -> list[Block]:
    """Readings of measures that have left the catalogue: kept and shown as typed."""
    rows = tuple(
        Row(
            (
                cell(material.sided_label(measure, side)),
                cell(" ".join(value_lines(found, material))),
            )
        )
        for (measure, side), found in material.examination.readings.items()
        if measure not in material.catalogue.measures
    )
    if not rows:
        return []
    return [Heading(material.phrases("retired"), 1), Table(UNSIDED, rows)]
