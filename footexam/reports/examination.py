"""The examination report: who, cautions, why, what is outside the usual, all readings, sources."""

import unicodedata

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.record.examination import Examination
from footexam.reports.absences import absences
from footexam.reports.blocks import (
    SMALL_INK,
    Block,
    Heading,
    Row,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.canvas import pdf_bytes
from footexam.reports.cautions import caution_box
from footexam.reports.compared import changes, differences
from footexam.reports.fonts import Typeset
from footexam.reports.foot import Place, foot
from footexam.reports.front import head, why
from footexam.reports.material import Material
from footexam.reports.outside import outside
from footexam.reports.readings import readings
from footexam.reports.scores import scores
from footexam.reports.sheet import PAPERS, Paper, Sheet
from footexam.reports.words import opened
from footexam.resources import assets_dir


def examination_report(
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
    *,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
    practice: str = "",
) -> bytes:
    """The report as PDF; the same input gives the same bytes, whatever the computer's settings.

    `page` is "A4" or "letter"; `invented` marks every page of a demo or test; `practice` is the
    name that heads page one. Raises KeyError for another page size and OSError without the fonts.
    """
    material = Material(examination, assessment, catalogue, language)
    typeset = Typeset(assets_dir() / "fonts")
    sheet = layout(material, PAPERS[page], typeset, practice, invented)
    title = material.phrases("title")
    return pdf_bytes(sheet, title, language)


def layout(
    material: Material, paper: Paper, typeset: Typeset, practice: str, invented: bool
) -> Sheet:
    """The pages of the report as plain shapes, each with its footer."""
    sheet = Sheet(paper, typeset)
    sheet.add(report_blocks(material, practice, invented))
    sheet.add(_coded(material, typeset))
    for number, shapes in enumerate(sheet.pages, 1):
        shapes.extend(
            foot(material, sheet.paper, typeset, Place(number, len(sheet.pages)), invented)
        )
    return sheet


def report_blocks(material: Material, practice: str, invented: bool) -> list[Block]:
    """What the report says, in its order; page one carries what matters."""
    return [
        *head(material, practice, invented),
        caution_box(material),
        *why(material),
        *outside(material),
        *differences(material),
        *changes(material),
        *absences(material),
        *readings(material),
        *scores(material),
        *_remarks(material),
        *material.citations.blocks(),
    ]


def _remarks(material: Material) -> list[Block]:
    """Kept warnings, incomplete scores, contradictions."""
    problems, phrases = material.assessment.problems, material.phrases
    if not problems:
        return []
    rows = tuple(
        Row(
            (
                cell(material.sided_label(problem.measure, problem.side)),
                cell(problem.value),
                cell(opened(problem.message)),
            )
        )
        for problem in problems
    )
    heads = header(phrases("measure"), phrases("typed-head"), phrases("remark"))
    return [Heading(phrases("remarks")), Table((0.30, 0.15, 0.55), rows, heads)]


def _coded(material: Material, typeset: Typeset) -> list[Block]:
    """The characters that were printed by their code, with their Unicode names."""
    if not typeset.coded:
        return []
    told = [
        f"U+{ord(char):04X} {unicodedata.name(char, '')}".strip() for char in sorted(typeset.coded)
    ]
    text = material.phrases("coded-text", what="; ".join(told))
    return [Heading(material.phrases("coded")), para(text, style=SMALL_INK)]
