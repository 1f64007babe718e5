"""The prescription: what a maker needs for a device without asking, on one page or two."""

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing
from footexam.record.examination import Examination
from footexam.reports.blocks import (
    BODY,
    SMALL_INK,
    STRONG,
    Block,
    Box,
    Heading,
    Picture,
    Row,
    Space,
    Table,
    para,
)
from footexam.reports.canvas import pdf_bytes
from footexam.reports.cautions import caution_name
from footexam.reports.closing import signatures
from footexam.reports.examination import add_feet
from footexam.reports.fonts import Typeset
from footexam.reports.front import head
from footexam.reports.material import SIDES, Material
from footexam.reports.prescribed import Prescribed
from footexam.reports.prescription_features import features
from footexam.reports.prescription_place import drawings, scales_for
from footexam.reports.prescription_why import what_and_why
from footexam.reports.sheet import PAPERS, Paper, Sheet
from footexam.reports.text import Style
from footexam.resources import assets_dir

WANTED_PAGES = 2
"""With more pages, the drawings are tried at a smaller scale."""
LINE = 9.0
"""Room to write under the words of a line, points."""
ROOM = Style(SMALL_INK.size, bold=True)
SOURCES = Style(7.4, ink=Ink.MUTED)
HELD = Style(10.5, bold=True, ink=Ink.CAUTION)

BY_HAND = (
    "rx-phone",
    "rx-hand-shape",
    "rx-hand-cover",
    "rx-hand-order",
    "rx-hand-success",
    "rx-hand-trace",
)


def prescription(
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
    *,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
    practice: str = "",
) -> bytes:
    """The prescription as PDF; the same input gives the same bytes.

    A side that a caution holds back is named with the caution, without any dimension. The
    arguments and errors are those of `examination_report`.
    """
    material = Material(examination, assessment, catalogue, language)
    sheet = layout(material, PAPERS[page], Typeset(assets_dir() / "fonts"), practice, invented)
    return pdf_bytes(sheet, material.phrases("rx-title"), language)


def layout(
    material: Material, paper: Paper, typeset: Typeset, practice: str, invented: bool
) -> Sheet:
    """The pages as plain shapes, each with its footer.

    The drawings have the largest scale that keeps to two pages, else that with the fewest.
    """
    made = Prescribed(material)
    tried = []
    for scale in scales_for(made, paper) if made.devices else (1.0,):
        sheet = Sheet(paper, typeset)
        sheet.add(blocks(made, paper, typeset, practice, invented, scale))
        tried.append(sheet)
        if len(sheet.pages) <= WANTED_PAGES:
            break
    best = min(tried, key=lambda sheet: len(sheet.pages))
    add_feet(material, best, invented)
    return best


def blocks(
    made: Prescribed, paper: Paper, typeset: Typeset, practice: str, invented: bool, scale: float
) -> list[Block]:
    """The prescription from top to bottom, with drawings at 1:`scale`."""
    material = made.material
    told = [*head(material, practice, invented, "rx-title"), *_held(made)]
    if made.devices:
        told += [
            *what_and_why(made),
            *features(made),
            *drawings(made, paper, typeset, scale),
            *_keep(made),
            *_by_hand(made),
        ]
    elif not made.plan.held:
        told.append(para(material.phrases("rx-nothing-all"), style=STRONG))
    told += [Space(4), *signatures(material)]
    sources = material.citations.line()
    if sources:
        title = material.phrases("sources") + "  "
        told += [Space(3), para((title, STRONG), (sources, SOURCES))]
    return told


# --- held back


def _held(made: Prescribed) -> list[Block]:
    """The sides that a caution holds back, with its name; never a dimension."""
    phrases = made.material.phrases
    sides = [side for side in SIDES if side in made.plan.held]
    if not sides:
        return []
    lines: list[Block] = [para(phrases("rx-held-head"), style=HELD)]
    for side in sides:
        names = dict.fromkeys(
            caution_name(one, made.material)
            for one in made.material.assessment.held_by
            if one.side in {None, side}
        )
        told = "; ".join(names) or phrases("rx-held-unnamed")
        lines.append(para(phrases("rx-held", side=made.side(side), names=told), style=BODY))
    return [Box(tuple(lines), Ink.CAUTION, 1.5), Space(4)]


# --- the end


def _keep(made: Prescribed) -> list[Block]:
    phrases = made.material.phrases
    return [
        Heading(phrases("rx-keep"), 3),
        para((phrases("rx-keep-text") + " ", SMALL_INK), (phrases("rx-ask"), ROOM)),
    ]


def _by_hand(made: Prescribed) -> list[Block]:
    """What the record has no place for, with room to write."""
    phrases = made.material.phrases
    cells = [
        (para(phrases(key), style=SMALL_INK), Picture(Drawing(1.0, LINE, ()))) for key in BY_HAND
    ]
    rows = tuple(map(Row, zip(cells[::3], cells[1::3], cells[2::3], strict=True)))
    return [
        Heading(phrases("rx-hand"), 3, phrases("rx-local")),
        Table((0.33, 0.34, 0.33), rows),
    ]
