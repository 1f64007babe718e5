"""The referral letter: to whom, about whom, why and how urgently in its first two lines."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from footexam.assessment import Assessment
from footexam.catalogue.letters import Document
from footexam.catalogue.model import Catalogue
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing, Line
from footexam.record.examination import Examination
from footexam.reports.blocks import (
    SMALL,
    STRONG,
    Block,
    Box,
    Para,
    Picture,
    Piece,
    Row,
    Rule,
    Space,
    Table,
    cell,
    para,
)
from footexam.reports.canvas import pdf_bytes
from footexam.reports.closing import signatures
from footexam.reports.examination import add_feet
from footexam.reports.fonts import Typeset
from footexam.reports.front import TITLE, is_draft, status_tag, status_words
from footexam.reports.letter import Letter, Said
from footexam.reports.letter_phrases import letter_phrase
from footexam.reports.material import Material
from footexam.reports.referral_words import Limits, Words
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.text import Style
from footexam.reports.words import date_words, person_words
from footexam.resources import assets_dir

LEAD = Style(10.4, bold=True)
TEXT = Style(8.8)
HEAD = Style(8.8, bold=True)
COLUMNS = (0.17, 0.83)
DANGER = "cautions"
"""The block that stands in a frame."""
WRITE, ROOM = 395.0, 15.0
"""Length of a line to write on, and the height above it, in points."""

LADDER: Sequence[Limits] = (
    Limits(),
    Limits(outside=14, usual=14, absent=12, typed=900),
    Limits(outside=10, usual=10, absent=8, rests=6, rows=5, typed=500),
    Limits(outside=8, usual=7, absent=6, rests=5, rows=4, typed=350),
    Limits(outside=6, usual=5, absent=5, rests=4, rows=3, typed=250),
    Limits(outside=5, usual=3, absent=4, rests=3, rows=2, typed=200),
    Limits(outside=4, usual=2, absent=3, rests=2, rows=2, typed=150),
)
"""From everything to the least that one page may hold; the cautions are never left out."""


def referral(
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
    *,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
    practice: str = "",
    to: str = "",
    edited: Mapping[str, str] | None = None,
) -> bytes:
    """The letter as PDF, on one page where that can be; the same input gives the same bytes.

    `to` is whom it goes to; without it there is room to write. `edited` are texts typed for
    blocks of forms/letters, by id: in the place of what the record gives (an empty text leaves a
    block out), or behind it where a block may not be hidden. The other arguments and errors are
    those of `examination_report`. Raises UnknownBlock for an id that the letter does not have.
    """
    typeset = Typeset(assets_dir() / "fonts")
    for limits in LADDER:
        material = Material(examination, assessment, catalogue, language)
        sheet = Sheet(PAPERS[page], typeset)
        sheet.add(_blocks(material, limits, practice, to, edited or {}, invented=invented))
        if len(sheet.pages) == 1:
            break
    add_feet(material, sheet, invented)
    return pdf_bytes(sheet, letter_phrase("referral", language), language)


def _blocks(
    material: Material,
    limits: Limits,
    practice: str,
    to: str,
    edited: Mapping[str, str],
    *,
    invented: bool,
) -> list[Block]:
    """The letter from top to bottom."""
    letter = Letter(material, Document.REFERRAL, Words(material, limits, to).slots, edited)
    said = letter.said()
    lead = [para(one.text, style=LEAD) for one in said if not one.heading]
    danger = [one for one in said if one.block.id == DANGER]
    rest = [one for one in said if one.heading and one not in danger]
    rows = tuple(_row(head, list(group)) for head, group in groupby(rest, lambda one: one.heading))
    sources = material.citations.line()
    told = letter_phrase("letter-sources", material.language, what=sources)
    return [
        *_head(material, practice, invented=invented),
        *lead,
        Space(3),
        *(_framed(one) for one in danger),
        Space(3),
        Table(COLUMNS, rows),
        *([para(told, style=SMALL)] if sources else []),
        Space(4),
        *signatures(material),
    ]


def _head(material: Material, practice: str, *, invented: bool) -> list[Block]:
    """The letterhead, what it is, whether it is signed, when and by whom it was written."""
    examination, phrases = material.examination, material.phrases
    mark = phrases("invented") if invented else ""
    right = (Para(((mark, SMALL),), to_right=True),) if mark else ()
    blocks: list[Block] = []
    if practice or mark:
        blocks = [Table((0.6, 0.4), (Row((cell(practice, STRONG), right)),)), Space(3)]
    marked = is_draft(examination) or examination.in_error
    tag = status_tag(status_words(material)) if marked else None
    say, language = letter_phrase, material.language
    day = date_words(examination.examined_on, phrases)
    told = [say("dated", language, day=day, who=person_words(examination.examiner, phrases))]
    if examination.supervisor is not None:
        told.append(say("under", language, name=examination.supervisor.name))
    title = Para(((say("referral", language), TITLE),), beside=tag)
    return [*blocks, title, para(" ".join(told), style=TEXT), Space(1), Rule(), Space(4)]


def _framed(one: Said) -> Block:
    """The dangers, in the colour of cautions."""
    head = para(one.heading, style=Style(LEAD.size, bold=True, ink=Ink.CAUTION))
    return Box((head, *(para(line, style=TEXT) for line in one.text.split("\n"))), Ink.CAUTION, 1.5)


def _row(heading: str, group: list[Said]) -> Row:
    """The blocks under one heading: short ones run on, lines stay lines."""
    pieces: list[Piece] = []
    running: list[str] = []
    for one in group:
        lines = one.text.split("\n") if one.text else []
        if len(lines) == 1:
            running += lines
        elif lines:
            pieces += _run(running)
            running = []
            pieces += [para(line, style=TEXT) for line in lines]
        if one.write:
            pieces += [*_run(running), _line()]
            running = []
    return Row((cell(heading, HEAD), (*pieces, *_run(running))))


def _run(texts: list[str]) -> list[Piece]:
    return [para(" ".join(texts), style=TEXT)] if texts else []


def _line() -> Picture:
    """A line to write on."""
    return Picture(Drawing(WRITE, ROOM, (Line(0.0, ROOM - 1, WRITE, ROOM - 1, Ink.INK, 0.6),)))
