"""The cells on real worksheets: Tab is the order of reading and everything is named."""

from collections.abc import Callable

import pytest
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from footexam.catalogue.model import Catalogue
from footexam.desktop.cells.compound import Compound
from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.cells.regions import RegionsCell
from footexam.desktop.cells.several import SeveralCell
from footexam.desktop.cells.shown import ShownCell
from footexam.desktop.cells.sites import SitesCell
from footexam.desktop.session import Session
from footexam.desktop.theme import LIGHT, em
from footexam.desktop.worksheet import Worksheet
from footexam.reasoning.sheet import Sheet
from footexam.terms import Side
from tests.desktop.cells.driving import press

MakeSheet = Callable[[str], Worksheet]


@pytest.fixture
def make_sheet(qtbot: QtBot, session: Session, catalogue: Catalogue) -> MakeSheet:
    def make(panel: str) -> Worksheet:
        sheet = Worksheet(catalogue.panels[panel], session, Sheet(catalogue), LIGHT)
        qtbot.addWidget(sheet)
        sheet.resize(860, 700)
        sheet.show_more(True)
        sheet.show()
        qtbot.waitExposed(sheet)
        sheet.focus_first()
        QApplication.processEvents()
        return sheet

    return make


def cell_of(widget: QWidget | None) -> CellFrame:
    while widget is not None and not isinstance(widget, CellFrame):
        widget = widget.parentWidget()
    assert widget is not None
    return widget


def to_cell(sheet: Worksheet, measure: str, side: Side | None = None) -> CellFrame:
    assert sheet.focus_key((measure, side))
    QApplication.processEvents()
    return cell_of(QApplication.focusWidget())


@pytest.mark.parametrize("panel", ["history", "cautions", "nerve-and-vessel", "lying", "moving"])
def test_tab_walks_every_cell_in_reading_order_and_all_are_named(
    make_sheet: MakeSheet, panel: str
) -> None:
    sheet = make_sheet(panel)
    over: list[int] = []
    sheet.left.connect(over.append)
    wanted = [cell for cell in sheet.order if not isinstance(cell.editor, ShownCell)]
    walked: list[CellFrame] = []
    for _ in range(20 * len(wanted)):
        focus = QApplication.focusWidget()
        assert focus is not None
        assert QAccessible.queryAccessibleInterface(focus).text(QAccessible.Text.Name), focus
        cell = cell_of(focus)
        if not isinstance(cell.editor, ShownCell) and (not walked or walked[-1] is not cell):
            walked.append(cell)
        if cell is wanted[-1]:
            break
        press("Tab")
    assert [cell.key for cell in walked] == [cell.key for cell in wanted]
    assert not sheet.session.examination.readings


def test_shift_tab_comes_back_into_the_first_field_of_a_table(make_sheet: MakeSheet) -> None:
    sheet = make_sheet("history")
    to_cell(sheet, "weekly-load")
    table = cell_of(QApplication.focusWidget())
    at = sheet.order.index(table)
    to_cell(sheet, *sheet.order[at + 1].key)
    press("Shift+Tab")
    assert cell_of(QApplication.focusWidget()) is table


def test_enter_goes_on_from_places_to_the_other_side(make_sheet: MakeSheet) -> None:
    sheet = make_sheet("history")
    to_cell(sheet, "complaint-site", Side.LEFT)
    press("heel me", "Enter", "Enter")
    assert cell_of(QApplication.focusWidget()).key == ("complaint-site", Side.RIGHT)
    assert sheet.session.examination.reading("complaint-site", Side.LEFT) is not None


def test_the_unfolded_map_and_its_line_are_in_view(make_sheet: MakeSheet) -> None:
    sheet = make_sheet("history")
    cell = to_cell(sheet, "complaint-site", Side.LEFT)
    press("Enter")
    QApplication.processEvents()
    view = sheet._area.viewport()
    line = cell.editor.focusProxy()
    assert view.rect().contains(line.mapTo(view, line.rect().center()))
    assert view.rect().contains(
        cell.editor.chooser.panel.map.mapTo(  # type: ignore[attr-defined]
            view,
            cell.editor.chooser.panel.map.rect().center(),  # type: ignore[attr-defined]
        )
    )


def test_a_yes_counts_on_the_sheet_before_its_place_is_known(make_sheet: MakeSheet) -> None:
    sheet = make_sheet("cautions")
    to_cell(sheet, "caution-focal-bone-tenderness", Side.LEFT)
    press("y")
    reading = sheet.session.examination.reading("caution-focal-bone-tenderness", Side.LEFT)
    assert reading is not None
    assert cell_of(QApplication.focusWidget()).key[1] is Side.LEFT
    press("nav", "Enter", "Enter")
    assert cell_of(QApplication.focusWidget()).key[1] is Side.RIGHT


@pytest.mark.parametrize("panel", ["history", "cautions", "nerve-and-vessel", "lying", "moving"])
def test_no_cell_asks_for_more_than_a_narrow_column(make_sheet: MakeSheet, panel: str) -> None:
    sheet = make_sheet(panel)
    looked_at = 0
    for cell in sheet.order:
        if isinstance(cell.editor, RegionsCell):
            to_cell(sheet, *cell.key)
            press("Enter", "web")
        if isinstance(cell.editor, Compound | SeveralCell):
            looked_at += 1
            assert cell.editor.minimumSizeHint().width() <= 8 * em(cell), cell.key
    assert looked_at


def test_the_question_stays_in_view_above_a_map_higher_than_the_sheet(
    make_sheet: MakeSheet,
) -> None:
    sheet = make_sheet("cautions")
    sheet.resize(640, 420)
    cell = to_cell(sheet, "caution-focal-bone-tenderness", Side.LEFT)
    press("y")
    for _ in range(3):
        QApplication.processEvents()
    assert isinstance(cell.editor, SitesCell)
    view = sheet._area.viewport()
    assert cell.editor.height() > view.height()
    for widget in (cell.editor.answer, cell.editor.chooser.line):
        assert view.rect().contains(widget.mapTo(view, widget.rect().center()))
