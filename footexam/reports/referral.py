"""The referral letter: to whom, about whom, why and how urgently in its first two lines."""

from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from itertools import groupby

from footexam.assessment import Assessment
from footexam.catalogue.letters import Document
from footexam.catalogue.model import Catalogue
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing, Line
from footexam.record.examination import Examination
from footexam.record.written import written
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
from footexam.reports.letter import Letter, Part, standing
from footexam.reports.letter_phrases import letter_phrase
from footexam.reports.letters import referral_letter, stale_words
from footexam.reports.material import Material
from footexam.reports.referral_words import Limits
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.text import Style
from footexam.reports.words import date_words, person_words
from footexam.resources import assets_dir

LEAD = Style(10.0, bold=True)
TEXT = Style(8.8)
COLUMNS = (0.16, 0.84)
DANGER = "cautions"
"""The block that stands in a frame."""
LITTLE, FEW = 0.5, 2
"""A letter with so much of its second page empty is a little too long; so many steps are few."""
WRITE, ROOM = 395.0, 14.0
"""Length of a line to write on, and the height above it, in points."""

_LADDER: Sequence[Limits] = (
    Limits(),
    Limits(outside=14, usual=14, absent=12, typed=900, table=900),
    Limits(outside=10, usual=10, absent=8, rests=6, rows=5, typed=500, table=700),
    Limits(outside=8, usual=7, absent=6, rests=5, rows=4, typed=400, table=600),
    Limits(outside=8, usual=5, absent=5, rests=3, rows=3, typed=300, table=500),
    Limits(outside=6, usual=3, absent=3, rests=1, rows=2, typed=240, table=400),
    Limits(outside=6, usual=3, absent=2, rests=0, rows=2, typed=200, table=400),
    Limits(outside=4, usual=1, absent=1, rests=0, rows=1, typed=160, table=300),
    Limits(outside=3, usual=0, absent=1, rests=0, rows=1, typed=140, table=250),
)
_LARGE, _SMALL = 8.8, 8.2
STEPS = (*((_LARGE, limits) for limits in _LADDER[:5]), *((_SMALL, one) for one in _LADDER[3:]))
"""Type size and limits, from everything to the least that one page may hold.

The cautions are never left out.
"""


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

    `to` is whom it goes to, before whom the record names; without either there is room to write.
    `edited` are texts typed for blocks of forms/letters, by id, before those kept with the record:
    in the place of what the record gives (an empty text leaves a block out), or behind it where a
    block may not be hidden. The other arguments and errors are those of `examination_report`.
    Raises UnknownBlock for an id that the letter does not have.
    """
    typeset = Typeset(assets_dir() / "fonts")
    first = Material(examination, assessment, catalogue, language)
    stand = standing(first, Document.REFERRAL)
    stale = _stale(first, to, edited)

    @cache
    def laid_out(step: int) -> tuple[Material, Sheet]:
        material = Material(examination, assessment, catalogue, language)
        sheet = Sheet(PAPERS[page], typeset)
        size, limits = STEPS[step]
        letter = referral_letter(material, to, edited, limits, stand)
        sheet.add(blocks(letter, size, practice, stale, invented=invented))
        return material, sheet

    material, sheet = laid_out(_first_fitting(lambda step: laid_out(step)[1]))
    add_feet(material, sheet, invented)
    return pdf_bytes(sheet, letter_phrase("referral", language), language)


def blocks(
    letter: Letter, size: float, practice: str, stale: Sequence[Block] = (), *, invented: bool
) -> list[Block]:
    """The letter from top to bottom in one size of type; `stale` tells what is to be read again.

    Raises UnknownBlock.
    """
    head = _head(letter.material, practice, invented=invented)
    return [*head, *stale, *_Body(size).blocks(letter.said()), *_close(letter.material)]


def _first_fitting(made: Callable[[int], Sheet]) -> int:
    """The first step that fits one page; the last where none does.

    Mostly it is the very first. A letter a little too long fits after few steps; any other is
    sought by halves, as the steps only shrink.
    """

    def fits(step: int) -> bool:
        return len(made(step).pages) == 1

    if fits(0):
        return 0
    whole, start = made(0), 1
    if len(whole.pages) == 2 and whole.room() > LITTLE * whole.paper.height:
        if fits(FEW):
            return next(step for step in range(1, FEW + 1) if fits(step))
        start = FEW + 1
    return bisect_left(range(len(STEPS) - 1), True, start, key=fits)


def _stale(material: Material, to: str, edited: Mapping[str, str] | None) -> list[Block]:
    """What has to be read again before the letter is sent."""
    if not written(material.examination.decisions):
        return []
    told = stale_words(referral_letter(material, to, edited).said(), material)
    return [para(told, style=Style(_SMALL, bold=True, ink=Ink.CAUTION)), Space(2)] if told else []


def _close(material: Material) -> list[Block]:
    """Where what is usual comes from, and the lines to sign on."""
    sources = material.citations.line()
    told = letter_phrase("letter-sources", material.language, what=sources)
    small = [para(told, style=SMALL)] if sources else []
    return [*small, Space(1), *signatures(material)]


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


class _Body:
    """The blocks of the letter in one size of type."""

    def __init__(self, size: float) -> None:
        self.text = Style(size)
        self.head = Style(size, bold=True)

    def blocks(self, said: Sequence[Part]) -> list[Block]:
        """The first lines, the dangers in their frame, then a row for each heading."""
        lead = [para(one.text, style=LEAD) for one in said if not one.heading]
        danger = [one for one in said if one.block.id == DANGER]
        rest = [one for one in said if one.heading and one not in danger]
        groups = groupby(rest, lambda one: one.heading)
        rows = tuple(self._row(head, list(group)) for head, group in groups)
        frames = [self._framed(one) for one in danger]
        return [*lead, Space(3), *frames, Space(3), Table(COLUMNS, rows)]

    def _framed(self, one: Part) -> Block:
        """The dangers, in the colour of cautions."""
        head = para(one.heading, style=Style(LEAD.size, bold=True, ink=Ink.CAUTION))
        return Box((head, *map(self._danger, one.text.split("\n"))), Ink.CAUTION, 1.5)

    def _danger(self, line: str) -> Para:
        """A danger with its name in bold type."""
        name, stop, rest = line.partition(". ")
        return Para(((name + stop, self.head), (rest, self.text)))

    def _row(self, heading: str, group: list[Part]) -> Row:
        """The blocks under one heading: short ones run on, lines stay lines."""
        pieces: list[Piece] = []
        running: list[str] = []
        for one in group:
            lines = one.text.split("\n") if one.text else []
            if len(lines) == 1:
                running += lines
            if len(lines) != 1 or one.write:
                pieces += self._run(running)
                running = []
            if len(lines) > 1:
                pieces += [para(line, style=self.text) for line in lines]
            pieces += [_line()] if one.write else []
        return Row((cell(heading, self.head), (*pieces, *self._run(running))))

    def _run(self, texts: list[str]) -> list[Piece]:
        return [para(" ".join(texts), style=self.text)] if texts else []


def _line() -> Picture:
    """A line to write on."""
    return Picture(Drawing(WRITE, ROOM, (Line(0.0, ROOM - 1, WRITE, ROOM - 1, Ink.INK, 0.6),)))
