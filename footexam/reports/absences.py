"""What was not examined or declined, told apart, each with its reason."""

from collections.abc import Iterator

from footexam.assessment import CAUTION_PANEL
from footexam.reports.blocks import BODY, SMALL, STRONG, Block, Heading, Row, Table, cell
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
        told = [
            _with_reason(
                material.sided_label(reading.measure, reading.side), reading.reason, material
            )
            for reading in material.examination.readings.values()
            if reading.absent is absence
        ]
        if told:
            rows.append(_row(opened(phrases(absence)), "; ".join(told), strong=True))
    missing = "; ".join(_missing(material))
    if missing:
        rows.append(_row(phrases("no-entry-core"), missing, strong=False))
    if not rows:
        return []
    return [Heading(phrases("absences")), Table((0.22, 0.78), tuple(rows))]


def _row(label: str, text: str, *, strong: bool) -> Row:
    """A row; quiet for what nobody said anything about."""
    return Row((cell(label, STRONG if strong else SMALL), cell(text, BODY if strong else SMALL)))


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
