"""All readings by position, both sides in words, with what was noted; then the derived scores."""

from collections.abc import Iterable, Sequence

from footexam.catalogue.model import Panel
from footexam.record.reading import Reading
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
from footexam.reports.outside import SIDED, UNSIDED, label_cell, sure_para, value_para, word_para
from footexam.reports.sureness import is_outside, ruler_of, scale_of
from footexam.reports.values import remarks, value_lines
from footexam.reports.words import opened, quantity_words
from footexam.scoring.results import BandShown, Finding, Score
from footexam.terms import Label

WIDE_SIDED = (0.56, 0.22, 0.22)
WIDE_UNSIDED = (0.56, 0.44)

MOST_INPUTS = 4
"""Inputs of a derived score that are named; of more, their number is told."""

SHORT = 14
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
    phrases = material.phrases
    sided = [measure for measure in present if material.measure(measure).sided]
    single = [measure for measure in present if measure not in sided]
    blocks: list[Block] = [Heading(material.say(panel.label), 1, material.say(panel.position))]
    rows = [
        Row((_label(measure, material), _reading_cell(measure, material))) for measure in single
    ]
    pairs = [_sided_row(measure, material) for measure in sided]
    wide = _is_short([*rows, *pairs])
    if single:
        heads = header(phrases("measure"), phrases("answer"))
        blocks.append(Table(WIDE_UNSIDED if wide else UNSIDED, tuple(rows), heads))
    if sided:
        heads = header(phrases("measure"), phrases("left"), phrases("right"))
        blocks += [Space(5)] if single else []
        blocks.append(Table(WIDE_SIDED if wide else SIDED, tuple(pairs), heads))
    return blocks


def _is_short(rows: Sequence[Row]) -> bool:
    """Whether most answers are a word or two, so that long questions may have the width."""
    cells = (piece for row in rows for content in row.cells[1:] for piece in content)
    answers = [piece for piece in cells if isinstance(piece, Para)]
    if any(answer.beside for answer in answers):
        return False
    lengths = [sum(len(text) for text, _ in answer.spans) for answer in answers]
    return bool(lengths) and sum(lengths) / len(lengths) <= SHORT


def _label(measure: str, material: Material) -> Cell:
    return label_cell(measure, material, (None,))


def _sided_row(measure: str, material: Material) -> Row:
    """Left and right; an answer without a side stands across both and says so."""
    bare = material.reading(measure)
    if bare is not None:
        told = [f"{opened(material.phrases('no-side'))}: {value_lines(bare, material)[0]}"]
        whole = _told((*told, *value_lines(bare, material)[1:]), None, bare, material)
        return Row((label_cell(measure, material, SIDES), whole))
    cells = (_told_side(material.reading(measure, side), material) for side in SIDES)
    return Row((label_cell(measure, material, SIDES), *cells))


def _reading_cell(measure: str, material: Material) -> Cell:
    return _told_side(material.reading(measure), material)


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


def scores(material: Material) -> list[Block]:
    """Derived scores with the band each published set gives them."""
    found = {(score.measure, score.side): score for score in material.assessment.scores}
    if not found:
        return []
    phrases = material.phrases
    measures = list(dict.fromkeys(measure for measure, _ in found))
    sided = [measure for measure in measures if (measure, None) not in found]
    single = [measure for measure in measures if (measure, None) in found]
    blocks: list[Block] = [Heading(phrases("scores"))]
    if single:
        rows = tuple(_score_row(m, [found[m, None]], material) for m in single)
        blocks.append(Table(UNSIDED, rows, header(phrases("measure"), phrases("answer"))))
    if sided:
        rows = tuple(
            _score_row(m, [found.get((m, side)) for side in SIDES], material) for m in sided
        )
        heads = header(phrases("measure"), phrases("left"), phrases("right"))
        blocks += [Space(5)] if single else []
        blocks.append(Table(SIDED, rows, heads))
    return blocks


def _score_row(measure: str, sides: Iterable[Score | None], material: Material) -> Row:
    """A derived measure: its name, what it rests on, and each side's value with its bands."""
    told = cell(_from(material.measure(measure).derived_from, material), SMALL)
    label = (para(material.label(measure)), *told)
    return Row((label, *(_score_cell(score, material) for score in sides)))


def _from(inputs: Sequence[str], material: Material) -> str:
    """What a score was worked out from; only how many where they are many."""
    if len(inputs) > MOST_INPUTS:
        return material.phrases("derived-from-many", count=len(inputs))
    told = ", ".join(map(material.label, inputs))
    return material.phrases("derived-from", inputs=told) if told else ""


def _score_cell(score: Score | None, material: Material) -> Cell:
    """A score with the bands of the judging set first, then of the others."""
    if score is None:
        return cell(material.phrases("no-entry"), SMALL)
    if isinstance(score.value, str):
        value = material.word(score.value)
    else:
        value = quantity_words(score.value, material.measure(score.measure))
    bands = sorted(score.bands, key=lambda band: not band.default)
    told = [para(_band_words(score.measure, band, material), style=SMALL) for band in bands]
    finding = material.findings.get((score.measure, score.side))
    if finding is None or finding.label is Label.NOT_JUDGED:
        return (para(value), *told)
    return (value_para(finding, material), sure_para(finding, material), *told)


def _band_words(measure: str, band: BandShown, material: Material) -> str:
    """The band that one set gives, with the set's name and the number of its source."""
    known = {norm.id: norm for norm in material.catalogue.norms.get(measure, ())}.get(band.set)
    use = material.phrases("usual-range-of", measure=material.label(measure))
    if known is None:
        cite = material.citations.cite(band.source, band.provenance, use)
        return material.phrases("band-bare", band=material.word(band.band), cite=cite)
    name = material.say(known.label)
    use = material.phrases("usual-set", use=use, set=name)
    cite = material.citations.cite(band.source, band.provenance, use, material.say(known.note))
    key = "band-default" if band.default else "band-other"
    return material.phrases(key, band=material.word(band.band), set=name, cite=cite)
