"""The footer of every page: who, which page, which version of the record, draft or signed."""

from dataclasses import dataclass

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Line, Shape, Text
from footexam.reports.fonts import Typeset, clusters
from footexam.reports.front import status_words
from footexam.reports.material import Material
from footexam.reports.phrases import Phrases
from footexam.reports.sheet import Paper
from footexam.reports.words import date_words, patient_name

SIZE = 8.4
GAP = 12.0
HEAD_LENGTH = 8
"""Characters of the chain's head that are printed, enough to compare by eye."""


@dataclass(frozen=True, slots=True)
class Place:
    """Which page of how many."""

    number: int
    pages: int


def foot(
    material: Material, paper: Paper, typeset: Typeset, place: Place, invented: bool
) -> list[Shape]:
    """The shapes of one page's footer, inside the foot of the paper."""
    phrases = material.phrases
    left, right = paper.margin, paper.width - paper.margin
    top = paper.height - paper.foot + 12.0
    count = phrases("page", page=place.number, pages=place.pages)
    marks = [status_words(material), _record(material)]
    who = _identity(material, typeset, right - left - typeset.width(count, SIZE) - GAP)
    return [
        Line(left, top, right, top, Ink.RULE, 0.6),
        Text(left, top + 13.0, who, SIZE, Ink.INK, bold=True),
        Text(right, top + 13.0, count, SIZE, anchor=Anchor.END),
        Text(left, top + 24.0, cut(" · ".join(marks), right - left, typeset), SIZE, Ink.MUTED),
        *_last(phrases, (left, right), top + 35.0, invented),
    ]


def _last(phrases: Phrases, ends: tuple[float, float], y: float, invented: bool) -> list[Shape]:
    """The last line: what the document is for, and whether the patient is invented."""
    shapes: list[Shape] = [Text(ends[0], y, phrases("intended-use"), SIZE, Ink.MUTED)]
    if invented:
        text = phrases("invented")
        shapes.append(Text(ends[1], y, text, SIZE, Ink.INK, bold=True, anchor=Anchor.END))
    return shapes


def _identity(material: Material, typeset: Typeset, width: float) -> str:
    """Both identifiers: a name too long is shortened, birth date and number are not."""
    patient, phrases = material.examination.patient, material.phrases
    born = f"{phrases('born')} {date_words(patient.birth_date, phrases)}"
    record = patient.record_number or phrases("not-known")
    number = cut(f"{phrases('number')} {record}", width * 0.4, typeset, bold=True)
    rest = f"   {born}   {number}"
    room = width - typeset.width(rest, SIZE, bold=True)
    return cut(patient_name(patient, phrases), room, typeset, bold=True) + rest


def _record(material: Material) -> str:
    """Version of the record and the head of its chain."""
    version, chain = material.examination.version, material.examination.head[:HEAD_LENGTH]
    if not chain:
        return material.phrases("record-file", version=version)
    return material.phrases("record", version=version, head=chain)


def cut(text: str, width: float, typeset: Typeset, bold: bool = False) -> str:
    """The text, shortened with three dots where it is wider than `width`; whole on page one."""
    shown = typeset.shown(text)
    if typeset.width(shown, SIZE, bold) <= width:
        return shown
    kept = ""
    for cluster in clusters(shown):
        if typeset.width(f"{kept}{cluster}…", SIZE, bold) > width:
            break
        kept += cluster
    return f"{kept}…"
