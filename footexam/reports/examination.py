"""The examination report: who, cautions, why, what is outside the usual, all readings, sources."""

import unicodedata
from collections.abc import Collection, Sequence

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.record.examination import Examination
from footexam.reports.absences import absences
from footexam.reports.arguments import arguments
from footexam.reports.arguments_brief import ARGUMENTS
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
from footexam.reports.brief import (
    ABSENCES,
    CAUTIONS,
    CHANGES,
    DIFFERENCES,
    OUTSIDE,
    Limits,
    shortened,
)
from footexam.reports.canvas import pdf_bytes
from footexam.reports.cautions import cautions_whole
from footexam.reports.compared import changes, differences
from footexam.reports.fonts import Typeset
from footexam.reports.foot import Place, foot
from footexam.reports.growth import growth
from footexam.reports.hypotheses import Decided
from footexam.reports.maps import maps
from footexam.reports.material import Material
from footexam.reports.norms import norms
from footexam.reports.outside import outside
from footexam.reports.page_one import fitting, page_one
from footexam.reports.readings import readings
from footexam.reports.review_plan import review_plan
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
    earlier: Sequence[Examination] = (),
    set_aside: bool = True,
) -> bytes:
    """The report as PDF; the same input gives the same bytes, whatever the computer's settings.

    `page` is "A4" or "letter"; `invented` marks every page of a demo or test; `practice` is the
    name that heads page one; `earlier` are visits before this one, for the growth of a child;
    `set_aside` False leaves out the hypotheses that the examiner set aside.
    Raises KeyError for another page size and OSError without the fonts.
    """
    material = Material(examination, assessment, catalogue, language, earlier, set_aside=set_aside)
    typeset = Typeset(assets_dir() / "fonts")
    sheet = layout(material, PAPERS[page], typeset, practice, invented)
    title = material.phrases("title")
    return pdf_bytes(sheet, title, language)


def layout(
    material: Material, paper: Paper, typeset: Typeset, practice: str, invented: bool
) -> Sheet:
    """The pages of the report as plain shapes, each with its footer."""
    front, rest = Sheet(paper, typeset), Sheet(paper, typeset)
    limits = fitting(material, front, practice, invented=invented)
    whole = shortened(material, limits)
    rest.add(body_blocks(material, whole))
    _close(rest, material)
    rest.add(_coded(material, typeset))
    front = _front(material, limits, rest, practice, invented)
    front.append(rest)
    add_feet(material, front, invented)
    return front


def _front(material: Material, limits: Limits, rest: Sheet, practice: str, invented: bool) -> Sheet:
    """Page one, or the pages it needs where no limits are enough; it tells pages of the rest."""
    titles = {material.phrases("all-of", title=material.phrases(s)): s for s in SECTIONS}
    titles[material.phrases(ARGUMENTS)] = ARGUMENTS
    titles |= {title: title for title in Decided(material).titles}
    places = {titles[mark.text]: mark.page for mark in rest.marks if mark.text in titles}
    before = 1
    while True:
        front = Sheet(rest.paper, rest.typeset)
        pages = {section: place + before + 1 for section, place in places.items()}
        front.add(page_one(material, limits, pages, practice, invented=invented))
        if len(front.pages) <= before:
            return front
        before = len(front.pages)


def add_feet(material: Material, sheet: Sheet, invented: bool) -> None:
    """The footer of every page."""
    for number, shapes in enumerate(sheet.pages, 1):
        place = Place(number, len(sheet.pages))
        shapes.extend(foot(material, sheet.paper, sheet.typeset, place, invented))


SECTIONS = {
    CAUTIONS: cautions_whole,
    OUTSIDE: outside,
    DIFFERENCES: differences,
    CHANGES: changes,
    ABSENCES: absences,
}
"""The sections of page one as they stand whole."""


def rest_blocks(material: Material, whole: Collection[str]) -> list[Block]:
    """What follows page one, in one list."""
    body = body_blocks(material, whole)
    return [*body, *material.citations.blocks(), *_intended_use(material)]


def _close(sheet: Sheet, material: Material) -> None:
    """The sources, then what the document is for; before them where that saves a page."""
    sources, use = material.citations.blocks(), _intended_use(material)
    place = sheet.place()
    sheet.add(sources)
    before = len(sheet.pages)
    sheet.add(use)
    if len(sheet.pages) == before:
        return
    sheet.back_to(place)
    sheet.add([*use, *sources])
    if len(sheet.pages) > before:
        sheet.back_to(place)
        sheet.add([*sources, *use])


def body_blocks(material: Material, whole: Collection[str]) -> list[Block]:
    """What was argued, the sections that page one shortened, all readings, ranges, remarks."""
    others = [section for section in SECTIONS if section in whole and section != CAUTIONS]
    return [
        *(_whole(CAUTIONS, material) if CAUTIONS in whole else ()),
        *arguments(material),
        *review_plan(material),
        *(block for section in others for block in _whole(section, material)),
        *growth(material),
        *maps(material),
        *readings(material),
        *scores(material),
        *norms(material),
        *_remarks(material),
    ]


def _whole(section: str, material: Material) -> list[Block]:
    """A section of page one without anything left out, under its own heading."""
    title = material.phrases("all-of", title=material.phrases(section))
    _, *blocks = SECTIONS[section](material)
    return [Heading(title), *blocks]


def _intended_use(material: Material) -> list[Block]:
    """What the program is for, in a few sentences."""
    return [
        Heading(material.phrases("intended-head")),
        para(material.phrases("intended-text"), style=SMALL_INK),
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
