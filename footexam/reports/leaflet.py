"""The leaflet: the patient's plan on one page in plain words."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.drawing.palette import Ink
from footexam.record.examination import Examination
from footexam.reports.blocks import SMALL, Block, Heading, Row, Rule, Space, Table, cell, para
from footexam.reports.canvas import pdf_bytes
from footexam.reports.examination import add_feet
from footexam.reports.fonts import Typeset
from footexam.reports.front import is_draft
from footexam.reports.letter import Part
from footexam.reports.letters import leaflet_letter, stale_words
from footexam.reports.material import Material
from footexam.reports.patient_copy import NAME, TITLE
from footexam.reports.plain_phrases import plain_phrase
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.text import Style
from footexam.reports.words import date_words, patient_name
from footexam.resources import assets_dir
from footexam.terms import Provenance

SIZES = (10.6, 10.0, 9.4, 8.8)
"""Of the type; the first with which it is one page."""
HELD = "held"
DASH = (0.03, 0.97)


def leaflet(
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
    *,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
    practice: str = "",
    ask: str = "",
    edited: Mapping[str, str] | None = None,
) -> bytes:
    """The leaflet as PDF; the same input gives the same bytes.

    `ask` is whom to ask and how; without it there is a line to write on. `edited` are texts typed
    for blocks of forms/letters, as for a referral. The other arguments and errors are those of
    `examination_report`. Raises UnknownBlock for an id that the leaflet does not have.
    """
    typeset = Typeset(assets_dir() / "fonts")
    material = Material(examination, assessment, catalogue, language)
    said = leaflet_letter(material, ask, edited or {}).said()
    for size in SIZES:
        sheet = Sheet(PAPERS[page], typeset)
        sheet.add(_blocks(material, said, practice, ask, Style(size)))
        if len(sheet.pages) == 1:
            break
    add_feet(material, sheet, invented)
    return pdf_bytes(sheet, plain_phrase("leaflet-title", language), language)


def _blocks(
    material: Material, said: Sequence[Part], practice: str, ask: str, text: Style
) -> list[Block]:
    """The leaflet from top to bottom."""
    blocks = _head(material, practice, text, stale_words(said, material))
    for heading, group in groupby(said, lambda one: one.heading):
        blocks += [Heading(heading, 3), *_under(list(group), text)]
    if not ask:
        line = plain_phrase("ask-line", material.language)
        blocks += [para(line, style=text), Space(14), Rule(), Space(3)]
    return [*blocks, *_sources(material, said)]


def _head(material: Material, practice: str, text: Style, stale: str) -> list[Block]:
    """The practice, what it is, whose it is and when; whether it is a draft or has to be read."""
    examination, phrases, language = material.examination, material.phrases, material.language
    strong = Style(text.size, bold=True)
    day = date_words(examination.examined_on, phrases)
    blocks: list[Block] = [para(practice, style=strong)] if practice else []
    blocks += [
        para(plain_phrase("leaflet-title", language), style=TITLE),
        para(patient_name(examination.patient, phrases), style=NAME),
        para(plain_phrase("seen", language, day=day, who=examination.examiner.name), style=text),
    ]
    if examination.in_error:
        blocks.append(para(plain_phrase("in-error", language), style=strong))
    elif is_draft(examination):
        blocks.append(para(plain_phrase("draft", language), style=strong))
    if stale:
        blocks.append(para(stale, style=Style(text.size, bold=True, ink=Ink.CAUTION)))
    return [*blocks, Space(2), Rule()]


def _under(group: Sequence[Part], text: Style) -> Iterator[Block]:
    """The blocks of one heading: sentences run on, lines stay lines, what is held is strong."""
    running: list[str] = []
    for one in group:
        lines = one.text.split("\n")
        is_held = HELD in one.block.facts
        if len(lines) == 1 and not is_held:
            running += lines
            continue
        yield from _run(running, text)
        running = []
        yield (
            para(" ".join(lines), style=Style(text.size, bold=True))
            if is_held
            else _list(lines, text)
        )
    yield from _run(running, text)


def _run(texts: list[str], style: Style) -> list[Block]:
    return [para(" ".join(texts), style=style)] if texts else []


def _list(lines: Sequence[str], style: Style) -> Table:
    """Lines with a dash before each."""
    rows = tuple(Row((cell("–", style), cell(line, style)), lined=False) for line in lines)
    return Table(DASH, rows)


def _sources(material: Material, said: Sequence[Part]) -> list[Block]:
    """Where the figures come from, in small type."""
    catalogue, told = material.catalogue, dict[str, None]()
    practice = False
    for one in said:
        practice |= one.block.provenance is Provenance.COMMON_PRACTICE
        source = catalogue.sources.get(one.block.source)
        if source is not None and one.block.provenance is not Provenance.COMMON_PRACTICE:
            told[source.citation] = None
    own = [plain_phrase("leaflet-practice", material.language)] if practice else []
    what = "; ".join((*told, *own))
    if not what:
        return []
    text = plain_phrase("leaflet-sources", material.language, what=what)
    return [Space(2), para(text, style=SMALL)]
