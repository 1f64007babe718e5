"""Derived scores with the band that each published set gives them."""

from collections.abc import Iterable, Sequence

from footexam.reports.blocks import (
    BODY,
    SMALL,
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
from footexam.reports.outside import SIDED, UNSIDED, sure_para, value_para, word_para
from footexam.reports.ranges import USUAL
from footexam.reports.words import quantity_words
from footexam.scoring.results import BandShown, Finding, Score
from footexam.terms import Label

MOST_INPUTS = 4
"""Inputs of a derived score that are named; of more, their number is told."""


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
        return cell(material.phrases("not-worked-out"), SMALL)
    finding = material.findings.get((score.measure, score.side))
    if isinstance(score.value, str):
        return (_score_word(score.value, score, finding, material),)
    bands = sorted(score.bands, key=lambda band: not band.default)
    told = [para(_band_words(score.measure, band, material), style=SMALL) for band in bands]
    if finding is None or finding.label is Label.NOT_JUDGED:
        measure = material.measure(score.measure)
        return (para(quantity_words(score.value, measure, decimals=measure.decimals)), *told)
    return (value_para(finding, material), sure_para(finding, material), *told)


def _score_word(word: str, score: Score, finding: Finding | None, material: Material) -> Para:
    """A word worked out, with the numbers of the sources of its rule."""
    if finding is not None:
        return word_para(material.word(word), finding, material)
    label, cite = material.label(score.measure), material.citations.cite
    cites = (cite(band.source, band.provenance, USUAL, label) for band in score.bands)
    return Para(((f"{material.word(word)}   ", BODY), ("".join(dict.fromkeys(cites)), SMALL)))


def _band_words(measure: str, band: BandShown, material: Material) -> str:
    """The band that one set gives, with the set's name and the number of its source."""
    known = {norm.id: norm for norm in material.catalogue.norms.get(measure, ())}.get(band.set)
    label = material.label(measure)
    if known is None:
        cite = material.citations.cite(band.source, band.provenance, USUAL, label)
        return material.phrases("band-bare", band=material.word(band.band), cite=cite)
    name = material.say(known.label)
    note = material.say(known.note)
    cite = material.citations.cite(band.source, band.provenance, USUAL, label, note)
    key = "band-default" if band.default else "band-other"
    return material.phrases(key, band=material.word(band.band), set=name, cite=cite)
