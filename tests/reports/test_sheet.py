"""Blocks flow over pages: headings stay with their text, tables repeat theirs, rows split."""

import pytest

from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Drawing, Rect, Text
from footexam.reports.blocks import (
    BODY,
    Block,
    Box,
    Heading,
    Para,
    Picture,
    Row,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.canvas import pdf_bytes
from footexam.reports.fonts import Typeset
from footexam.reports.sheet import PAPERS, Sheet
from footexam.resources import assets_dir
from tests.reports.pages import texts

WIDTHS = (0.5, 0.5)


@pytest.fixture
def sheet() -> Sheet:
    return Sheet(PAPERS["A4"], Typeset(assets_dir() / "fonts"))


def words(sheet: Sheet, page: int) -> list[str]:
    return [shape.text for shape in sheet.pages[page] if isinstance(shape, Text)]


def lines(count: int) -> list[Block]:
    return [para(f"line {number}") for number in range(count)]


def test_paragraphs_go_on_on_the_next_page_in_order(sheet: Sheet) -> None:
    sheet.add(lines(120))
    told = [text for page in range(len(sheet.pages)) for text in words(sheet, page)]
    assert len(sheet.pages) > 1
    assert told == [f"line {number}" for number in range(120)]


@pytest.mark.parametrize("before", range(44, 56))
def test_a_heading_never_ends_a_page(sheet: Sheet, before: int) -> None:
    sheet.add([*lines(before), Heading("A section"), *lines(3)])
    page = next(number for number in range(2) if "A section" in words(sheet, number))
    assert words(sheet, page)[-1] != "A section"
    assert sheet.marks[0].page == page


@pytest.mark.parametrize("before", range(44, 56))
def test_a_heading_of_a_table_stays_with_its_first_row(sheet: Sheet, before: int) -> None:
    table = Table(WIDTHS, (Row((cell("a"), cell("b"))),), header("Measure", "Left"))
    sheet.add([*lines(before), Heading("A section"), Heading("A part", 1), table])
    for page in range(len(sheet.pages)):
        told = words(sheet, page)
        assert not {"A section", "A part", "Measure", "Left"} & set(told) or told[-1] == "b"


def test_a_table_repeats_its_heading_on_every_page(sheet: Sheet) -> None:
    rows = tuple(Row((cell(f"row {number}"), cell("x"))) for number in range(100))
    sheet.add([Table(WIDTHS, rows, header("Measure", "Left"))])
    assert len(sheet.pages) > 1
    for page in range(len(sheet.pages)):
        assert words(sheet, page)[:2] == ["Measure", "Left"]


def test_a_heading_row_does_not_outlive_its_table(sheet: Sheet) -> None:
    sheet.add([Table(WIDTHS, (Row((cell("a"), cell("b"))),), header("Measure", "Left"))])
    sheet.new_page()
    assert words(sheet, 1) == []


def test_a_row_longer_than_a_page_is_split_and_whole(sheet: Sheet) -> None:
    typed = " ".join(f"w{number}" for number in range(3000))
    sheet.add([Table(WIDTHS, (Row((cell("label"), cell(typed))),), header("Measure", "Answer"))])
    told = [text for page in range(len(sheet.pages)) for text in words(sheet, page)]
    joined = " ".join(part for part in told if part not in {"label", "Measure", "Answer"})
    assert len(sheet.pages) > 2
    assert joined.split() == typed.split()


def test_a_short_row_is_not_split(sheet: Sheet) -> None:
    row = Row((cell("a"), tuple(para(f"part {number}") for number in range(6))))
    sheet.add([*lines(50), Table(WIDTHS, (row,))])
    pages = [page for page in range(2) if any("part" in text for text in words(sheet, page))]
    assert len(pages) == 1


def test_a_row_with_fewer_cells_spans(sheet: Sheet) -> None:
    sheet.add([Table((0.2, 0.4, 0.4), (Row((cell("a"), cell("x " * 60))),))])
    inner = sheet.right - sheet.left
    widest = max(
        shape.x + sheet.typeset.width(shape.text, shape.size)
        for shape in sheet.pages[0]
        if isinstance(shape, Text)
    )
    assert widest > sheet.left + 0.75 * inner


def test_a_frame_goes_on_over_pages_and_holds_its_text(sheet: Sheet) -> None:
    sheet.add([*lines(40), Box(tuple(lines(60)), Ink.CAUTION, 1.5), para("after")])
    assert len(sheet.pages) > 1
    for page, shapes in enumerate(sheet.pages[:2]):
        (frame,) = [shape for shape in shapes if isinstance(shape, Rect)]
        assert frame.stroke is Ink.CAUTION
        inside = [
            shape
            for shape in shapes
            if isinstance(shape, Text) and shape.x > sheet.left and shape.text.startswith("line")
        ]
        assert inside, page
        assert all(frame.y < shape.y < frame.y + frame.height for shape in inside)


def test_space_does_not_run_into_the_footer(sheet: Sheet) -> None:
    sheet.add([*lines(50), Space(500), para("next")])
    assert words(sheet, 1) == ["next"]


def test_text_set_to_the_right_ends_at_the_edge(sheet: Sheet) -> None:
    sheet.add([Para((("right", BODY),), to_right=True)])
    (text,) = [shape for shape in sheet.pages[0] if isinstance(shape, Text)]
    end = text.x + sheet.typeset.width(text.text, text.size)
    assert end == pytest.approx(sheet.right)


def test_an_outline_entry_for_every_heading(sheet: Sheet) -> None:
    sheet.add([Heading("One"), *lines(60), Heading("Two", 1), *lines(2)])
    data = pdf_bytes(sheet, "title", "en")
    assert len(texts(data)) == 2
    assert [(mark.text, mark.level, mark.page) for mark in sheet.marks] == [
        ("One", 0, 0),
        ("Two", 1, 1),
    ]
    assert b"/Outlines" in data


def test_the_label_of_a_picture_never_stays_behind_on_the_page_before(sheet: Sheet) -> None:
    room = sheet.paper.height - sheet.paper.top - sheet.paper.foot
    tall = Picture(Drawing(50.0, room * 0.3, (Rect(0, 0, 50, room * 0.3, fill=Ink.INK),)))
    sheet.add([Space(room * 0.8), Table((0.5, 0.5), (Row((cell("Tenderness"), (tall, tall))),))])
    assert len(sheet.pages) == 2
    assert not any(isinstance(shape, Text) for shape in sheet.pages[0])
    assert any(isinstance(shape, Text) for shape in sheet.pages[1])
