"""What was not examined or declined, told apart, each with its reason."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from footexam.assessment import CAUTION_PANEL
from footexam.reports.blocks import BODY, SMALL, STRONG, Block, Heading, Row, Table, cell, para
from footexam.reports.material import SIDES, Material
from footexam.reports.words import opened
from footexam.terms import Absence, Depth, Kind, Side

ORDER = (
    Absence.DECLINED,
    Absence.COULD_NOT_BE_TESTED,
    Absence.NOT_DONE_SAFETY,
    Absence.NOT_EXAMINED,
    Absence.NOT_APPLICABLE,
)
"""What tells the reader most comes first."""


def absences(material: Material) -> list[Block]:
    """One row for each kind of absence; last the measures of the core sheet without any entry."""
    rows = absence_rows(material, None, "")
    if not rows:
        return []
    return [Heading(material.phrases("absences")), Table(WIDTHS, tuple(rows))]


WIDTHS = (0.22, 0.78)


def absence_rows(
    material: Material, most: int | None, more: str, *, run_on: bool = False
) -> list[Row]:
    """The rows; of each kind at most so many measures, and how many more stand on page `more`.

    `run_on`: the texts of a row follow one another; otherwise each begins a line.
    """
    phrases, rows = material.phrases, []
    for absence in ORDER:
        told = _told(absence, material)
        if told:
            rows.append(
                _row(opened(phrases(absence)), _cut(told, most, more, material), True, run_on)
            )
    without = list(missing(material))
    if without:
        told = [_Alike(tuple(without), "")]
        rows.append(_row(phrases("no-entry-core"), _cut(told, most, more, material), False, run_on))
    return rows


def most_absent(material: Material) -> int:
    """How many measures the longest row names."""
    told = [_told(absence, material) for absence in ORDER]
    counts = [sum(len(alike.measures) for alike in row) for row in told]
    return max(*counts, sum(1 for _ in missing(material)))


@dataclass(frozen=True, slots=True)
class _Alike:
    """Measures absent for the same reason, in words with their sides."""

    measures: tuple[str, ...]
    reason: str


def _told(absence: Absence, material: Material) -> list[_Alike]:
    """What is absent in this way, by reason; both sides of a measure are one."""
    reasons: dict[str, dict[str, list[Side | None]]] = {}
    for reading in material.examination.readings.values():
        if reading.absent is absence:
            measures = reasons.setdefault(reading.reason, {})
            measures.setdefault(reading.measure, []).append(reading.side)
    return [
        _Alike(tuple(_sided(*item, material) for item in measures.items()), why)
        for why, measures in reasons.items()
    ]


def _cut(told: Sequence[_Alike], most: int | None, more: str, material: Material) -> list[str]:
    """One text for each reason, until `most` measures are named; then how many are left."""
    texts, left = [], most
    for alike in told:
        kept = alike.measures if left is None else alike.measures[: max(0, left)]
        if kept:
            texts.append(_with_reason("; ".join(kept), alike.reason, material))
        left = None if left is None else left - len(alike.measures)
    if left is not None and left < 0:
        texts.append(material.phrases("more", count=-left, page=more))
    return texts


def _sided(measure: str, sides: Sequence[Side | None], material: Material) -> str:
    """A measure with the side or the sides concerned."""
    if len(sides) == len(SIDES):
        both = material.phrases("both-word")
        return material.phrases("measure-side", measure=material.label(measure), side=both)
    return material.sided_label(measure, sides[0])


def _row(label: str, texts: Sequence[str], strong: bool, run_on: bool) -> Row:
    """A row; quiet for what nobody said anything about."""
    texts = ["; ".join(texts)] if run_on else texts
    style = BODY if strong else SMALL
    told = tuple(para(text, style=style) for text in texts)
    return Row((cell(label, STRONG if strong else SMALL), told))


def _with_reason(what: str, reason: str, material: Material) -> str:
    return material.phrases("reason", what=what, reason=reason) if reason else what


def missing(material: Material) -> Iterator[str]:
    """Core measures without an entry, or the side that has none; cautions are told in their box."""
    for measure in material.catalogue.measures.values():
        if measure.depth is not Depth.CORE or measure.panel == CAUTION_PANEL:
            continue
        if measure.kind is Kind.DERIVED or material.reading(measure.id):
            continue
        sides: list[Side | None] = [None]
        if measure.sided:
            without = [side for side in SIDES if not material.reading(measure.id, side)]
            sides = [None] if len(without) == len(SIDES) else list(without)
        for side in sides:
            yield material.sided_label(measure.id, side)
