"""What was not examined or declined, told apart, each with its reason."""

from collections.abc import Iterator, Sequence

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
    phrases, rows = material.phrases, []
    for absence in ORDER:
        told = _told(absence, material)
        if told:
            rows.append(_row(opened(phrases(absence)), told, strong=True))
    missing = "; ".join(_missing(material))
    if missing:
        rows.append(_row(phrases("no-entry-core"), [missing], strong=False))
    if not rows:
        return []
    return [Heading(phrases("absences")), Table((0.22, 0.78), tuple(rows))]


def _told(absence: Absence, material: Material) -> list[str]:
    """What is absent in this way, one text for each reason; both sides of a measure are one."""
    reasons: dict[str, dict[str, list[Side | None]]] = {}
    for reading in material.examination.readings.values():
        if reading.absent is absence:
            measures = reasons.setdefault(reading.reason, {})
            measures.setdefault(reading.measure, []).append(reading.side)
    return [
        _with_reason("; ".join(_sided(*item, material) for item in measures.items()), why, material)
        for why, measures in reasons.items()
    ]


def _sided(measure: str, sides: Sequence[Side | None], material: Material) -> str:
    """A measure with the side or the sides concerned."""
    if len(sides) == len(SIDES):
        both = material.phrases("both-word")
        return material.phrases("measure-side", measure=material.label(measure), side=both)
    return material.sided_label(measure, sides[0])


def _row(label: str, texts: Sequence[str], *, strong: bool) -> Row:
    """A row; quiet for what nobody said anything about."""
    style = BODY if strong else SMALL
    told = tuple(para(text, style=style) for text in texts)
    return Row((cell(label, STRONG if strong else SMALL), told))


def _with_reason(what: str, reason: str, material: Material) -> str:
    return material.phrases("reason", what=what, reason=reason) if reason else what


def _missing(material: Material) -> Iterator[str]:
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
