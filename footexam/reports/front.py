"""The head of page one: who, when and by whom, the cautions, and why the patient came."""

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Drawing, Rect, Text
from footexam.record.examination import Examination, Person
from footexam.record.reading import Reading, Rows
from footexam.record.reading import Text as TypedText
from footexam.reports.blocks import (
    BODY,
    SMALL,
    STRONG,
    Block,
    Heading,
    Para,
    Row,
    Rule,
    Space,
    Table,
    cell,
    para,
)
from footexam.reports.fonts import Typeset
from footexam.reports.material import SIDES, Material
from footexam.reports.text import Span, Style
from footexam.reports.values import row_cells, typed_otherwise, value_lines
from footexam.reports.words import age_words, date_words, patient_name, person_words
from footexam.resources import assets_dir
from footexam.terms import Role

TITLE = Style(14.0, bold=True)
NAME = Style(12.5, bold=True)
QUIET = Style(9.2, ink=Ink.MUTED)

LONGEST_ON_PAGE_ONE = 600
"""Characters of a complaint that page one carries; the whole stands among the readings."""


def is_draft(examination: Examination) -> bool:
    """Whether a signature is missing or changes lie behind the last one.

    Wanted is the examiner's, and for a student a second person's.
    """
    signed = set(examination.signed_by)
    alone = examination.examiner.role is Role.STUDENT and len(signed) < 2
    return not signed or alone or examination.amended


def status_words(material: Material) -> str:
    """ENTERED IN ERROR, or DRAFT with what is missing, or who signed."""
    examination = material.examination
    if examination.in_error:
        return material.phrases("in-error")
    if not is_draft(examination):
        return material.phrases("signed-by", names=", ".join(examination.signed_by))
    if not examination.signed_by:
        return material.phrases("draft")
    return material.phrases("draft-amended" if examination.amended else "draft-counter")


def head(material: Material, practice: str, invented: bool, title: str = "title") -> list[Block]:
    """Practice, title (a phrase), the patient's banner and the visit."""
    phrases = material.phrases
    blocks: list[Block] = []
    if practice or invented:
        mark = phrases("invented") if invented else ""
        right = (Para(((mark, SMALL),), to_right=True),) if mark else ()
        blocks += [Table((0.6, 0.4), (Row((cell(practice, STRONG), right)),)), Space(3)]
    marked = is_draft(material.examination) or material.examination.in_error
    tag = status_tag(status_words(material)) if marked else None
    blocks.append(Para(((phrases(title), TITLE),), beside=tag))
    blocks += [_name(material), _identity(material), _visit(material), _allergies(material)]
    return [*blocks, Space(2), Rule(), Space(6)]


def status_tag(words: str) -> Drawing:
    """The frame, as wide as its text, so that no draft passes for a signed record."""
    size, pad, height = 9.5, 12.0, 17.0
    width = Typeset(assets_dir() / "fonts").width(words, size, bold=True) + 2 * pad
    frame = Rect(0.5, 0.5, width - 1, height - 1, stroke=Ink.INK, line_width=1.1, radius=2.5)
    text = Text(width / 2, 12.0, words, size, Ink.INK, bold=True, anchor=Anchor.MIDDLE)
    return Drawing(width, height, (frame, text))


def _name(material: Material) -> Block:
    return para(patient_name(material.examination.patient, material.phrases), style=NAME)


def _identity(material: Material) -> Block:
    """Birth date with age, sex, record number; labels quieter than values."""
    phrases, patient = material.phrases, material.examination.patient
    age = age_words(material.assessment.age, phrases)
    born = date_words(patient.birth_date, phrases) + (f" ({age})" if age else "")
    facts = {
        "born": born,
        "sex": phrases(f"sex-{patient.sex}"),
        "number": patient.record_number or phrases("not-known"),
    }
    spans: list[Span] = []
    for label, value in facts.items():
        spans += [(phrases(label) + " ", QUIET), (value, STRONG), ("     ", QUIET)]
    return Para(tuple(spans[:-1]))


def _visit(material: Material) -> Block:
    """When and by whom, under whose eyes, and for what purpose."""
    phrases, examination = material.phrases, material.examination
    examined = phrases(
        "examined",
        date=date_words(examination.examined_on, phrases),
        examiner=person_words(examination.examiner, phrases),
    )
    purpose = phrases(f"purpose-{examination.purpose}")
    told = [examined, _supervisor(examination.supervisor, material), purpose]
    return para(" ".join(filter(None, told)))


def _supervisor(person: Person | None, material: Material) -> str:
    """The supervisor with the level of supervision, if there is one."""
    if person is None:
        return ""
    if person.level is None:
        return material.phrases("supervised", name=person.name)
    return material.phrases("supervised-level", name=person.name, level=person.level)


def _allergies(material: Material) -> Block:
    """Allergies; "not recorded" is told apart from "none known"."""
    reading = material.reading("allergies")
    label = (material.phrases("allergies") + " ", QUIET)
    if reading is None:
        return Para((label, (material.phrases("not-recorded"), STRONG)))
    told = "; ".join(_allergy_lines(reading, material))
    return Para((label, (told, STRONG)))


def _allergy_lines(reading: Reading, material: Material) -> list[str]:
    """One text for each allergy: what it is, and the rest in brackets."""
    if not isinstance(reading.value, Rows):
        return value_lines(reading, material)
    told = []
    for row in reading.value.rows:
        columns = material.measure(reading.measure).columns
        what, *rest = row_cells(row, columns, material).values()
        told.append(f"{what} ({', '.join(rest)})" if rest else what)
    return told


def why(material: Material, longest: int = LONGEST_ON_PAGE_ONE) -> list[Block]:
    """The complaint in the patient's words, where and since when, and the examiner's impression.

    `longest` is how many characters of a typed text stand here.
    """
    phrases = material.phrases
    rows = [_why_row(phrases("own-words"), _complaint(material, longest))]
    where, since = _where(material), _since(material)
    if where or since:
        spans: list[Span] = [(where, BODY)] if where else []
        if since:
            quiet = ("     " if where else "") + phrases("since")
            spans += [(quiet, QUIET), (since, BODY)]
        rows.append(Row((cell(phrases("where"), QUIET), (Para(tuple(spans)),)), lined=False))
    impression = _excerpt(material, "impression", longest)
    if impression:
        rows.append(_why_row(phrases("impression"), impression))
    return [Heading(phrases("why"), 3), Table((0.22, 0.78), tuple(rows))]


def _why_row(label: str, text: str) -> Row:
    return Row((cell(label, QUIET), cell(text)), lined=False)


def _complaint(material: Material, longest: int) -> str:
    return _excerpt(material, "complaint", longest) or material.phrases("not-recorded")


def _excerpt(material: Material, measure: str, longest: int) -> str:
    """A typed text for page one; a long one is cut at a space and says where the whole stands."""
    reading = material.reading(measure)
    if reading is None:
        return ""
    if not isinstance(reading.value, TypedText) or len(reading.value.text) <= longest:
        return " ".join(value_lines(reading, material))
    start = reading.value.text[:longest]
    panel = material.catalogue.panels.get(material.measure(measure).panel)
    place = material.say(panel.label) if panel else material.phrases("readings")
    return f"{start.rpartition(' ')[0] or start} {material.phrases('continued', panel=place)}"


def _where(material: Material) -> str:
    """The places of the complaint, side by side in words."""
    told = []
    for side in SIDES:
        reading = material.reading("complaint-site", side)
        if reading:
            told.append(f"{material.phrases(side)}: {', '.join(value_lines(reading, material))}")
    return ". ".join(told)


def _since(material: Material) -> str:
    """How long it has lasted, as typed where that was another unit, and how it began."""
    lasted, began = material.reading("duration"), material.reading("onset")
    told = value_lines(lasted, material) if lasted else []
    if lasted and typed_otherwise(lasted, material):
        told = [material.phrases("typed-as", typed=lasted.typed, value=told[0])]
    return ", ".join([*told, *(value_lines(began, material) if began else [])])
