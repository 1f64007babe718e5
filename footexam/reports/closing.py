"""The foot of page one: ruled room for argument and plan, and the lines for signatures."""

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing, Line, Text
from footexam.reports.blocks import (
    SMALL,
    STRONG,
    Block,
    Cell,
    Heading,
    Picture,
    Row,
    Rule,
    Space,
    Table,
    para,
)
from footexam.reports.material import Material
from footexam.terms import Role

LINE = 19.0
"""Height in points of a line written by hand."""

SIGNATURE = 216.0
"""Width of a line for a signature in points."""

ROOM = 16.0
"""Height above it."""


def plan(material: Material, lines: int) -> list[Block]:
    """The titled room with so many ruled lines."""
    ruled = [block for _ in range(lines) for block in (Space(LINE), Rule())]
    return [Heading(material.phrases("plan"), 3), *ruled]


def signatures(material: Material) -> list[Block]:
    """The examiner's line and, for a student, the line of who countersigns."""
    examination, phrases = material.examination, material.phrases
    role = phrases(f"role-{examination.examiner.role}")
    signed = examination.signed_by
    is_student = examination.examiner.role is Role.STUDENT
    here = "" if examination.amended else phrases("signed-here")
    first = signed[0] if signed else examination.examiner.name
    done = signed and here
    key = "signed-examiner-done" if done else "signed-examiner"
    cells = [_line(first, phrases(key, role=role), here if done else "")]
    if is_student:
        second = signed[1] if len(signed) > 1 else ""
        done = second and here
        key = "signed-counter-done" if done else "signed-counter"
        cells.append(_line(second, phrases(key), here if done else ""))
    cells += [()] * (2 - len(cells))
    return [Table((0.5, 0.5), (Row(tuple(cells), lined=False),))]


def _line(name: str, told: str, here: str) -> Cell:
    """A line to sign on, with the name and what signing it means under it.

    `here` stands on the line of whoever has signed in the program.
    """
    line = Line(0.0, ROOM, SIGNATURE, ROOM, Ink.INK, 0.8)
    signed = (Text(0.0, ROOM - 4.0, here, STRONG.size),) if here else ()
    rule = Drawing(SIGNATURE, ROOM, (line, *signed))
    under = (para(told, style=SMALL),)
    return (Picture(rule), para(name, style=STRONG), *under) if name else (Picture(rule), *under)
