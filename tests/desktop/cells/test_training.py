"""The chart under the training tables of the sheet: drawn, described, spoken, and held back."""

from datetime import date, timedelta

import pytest
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication

from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.session import Session
from footexam.desktop.theme import DARK, LIGHT, Theme, em
from footexam.drawing.load_chart import LONGEST, WIDTH
from footexam.drawing.palette import Ink
from footexam.terms import Side
from tests.desktop.cells.conftest import Open
from tests.desktop.cells.driving import Desk, press

LOADS = (1000, 1000, 1000, 1500)


def weeks(session: Session, *loads: int) -> list[dict[str, str]]:
    """Whole weeks up to the last before the examination, at effort 5."""
    today: date = session.examination.examined_on
    monday = today - timedelta(days=today.weekday())
    return [
        {
            "week": (monday - timedelta(weeks=len(loads) - place)).isoformat(),
            "minutes": str(load // 5),
            "effort": "5",
        }
        for place, load in enumerate(loads)
    ]


def sessions(session: Session) -> list[dict[str, str]]:
    today: date = session.examination.examined_on
    days = (today - timedelta(days=7 - place) for place in range(7))
    return [
        {"date": day.isoformat(), "minutes": "30", "effort": str(n)} for n, day in enumerate(days)
    ]


def enter(desk: Desk, measure: str, rows: list[dict[str, str]]) -> CellFrame:
    assert desk.session.enter((measure, None), rows).taken
    QApplication.processEvents()
    return desk.cell


def test_no_chart_before_a_load_is_written(open_cell: Open) -> None:
    desk = open_cell("weekly-load", width=900)
    cell = desk.cell
    assert cell.view.isHidden()
    assert cell.sure.isHidden()


def test_weeks_typed_are_drawn_described_and_spoken(open_cell: Open, session: Session) -> None:
    desk = open_cell("weekly-load", width=900)
    for row in weeks(session, 500, 600):
        press(
            row["week"], "Enter", "3", "Enter", row["minutes"], "Enter", "", "Enter", "5", "Enter"
        )
    press("Enter")
    assert desk.session.examination.reading("weekly-load") is not None
    cell = desk.cell
    assert cell.view.isVisible()
    assert "against the week before: 20 % more" in cell.sure.text()
    assert "Frandsen et al. 2025" in cell.usual.text()
    spoken = cell.editor.focus_widget().accessibleDescription()
    assert "600, 20 % more" in spoken


@pytest.mark.parametrize("mode", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("width", [420, 900])
def test_the_bars_are_painted_whole_in_the_theme_and_in_one_grey(
    open_cell: Open, session: Session, mode: Theme, width: int
) -> None:
    desk = open_cell("weekly-load", mode=mode, width=width)
    cell = enter(desk, "weekly-load", weeks(session, *LOADS))
    image = cell.view.grab().toImage()
    scale = min(em(cell) / 11, cell.view.width() / WIDTH)
    assert longest_run(image, mode.colour(Ink.MUTED)) == pytest.approx(LONGEST * scale, abs=3)
    points = [(x, y) for x in range(0, image.width(), 2) for y in range(0, image.height(), 2)]
    rgb = [image.pixelColor(*point).getRgb()[:3] for point in points]
    assert max(max(one) - min(one) for one in rgb) < 40  # greys: nothing red, amber or green


def longest_run(image: QImage, colour: QColor) -> int:
    """The longest stretch of one colour in any line, in pixels."""
    best = 0
    for y in range(image.height()):
        run = 0
        for x in range(image.width()):
            run = run + 1 if image.pixelColor(x, y).rgb() == colour.rgb() else 0
            best = max(best, run)
    return best


def test_the_log_has_its_own_chart_and_monotony(open_cell: Open, session: Session) -> None:
    desk = open_cell("session-log", width=900)
    cell = enter(desk, "session-log", sessions(session))
    assert cell.view.isVisible()
    assert "Monotony of these 7 days (mean over sample SD): 1.39" in cell.sure.text()


def test_a_caution_holds_the_description_back_at_once_and_a_decision_gives_it(
    open_cell: Open, session: Session
) -> None:
    desk = open_cell("weekly-load", width=900)
    cell = enter(desk, "weekly-load", weeks(session, *LOADS))
    free = cell.sure.text(), cell.usual.text()
    assert "50 % more" in free[0]
    assert session.enter(("caution-cold-pale-foot", Side.LEFT), "yes").taken
    assert cell.view.isVisible()
    assert cell.sure.text().startswith("A caution that holds back loading is open")
    assert "Suddenly bloodless limb" in cell.sure.text()
    for words in (
        cell.sure.text(),
        cell.usual.text(),
        cell.editor.focus_widget().accessibleDescription(),
    ):
        assert "50 % more" not in words
        assert "Mean of" not in words
    for one in session.assessment.cautions:
        assert session.decide_caution(one.about, one.side, "acted", "sent to hospital").taken
    assert (cell.sure.text(), cell.usual.text()) == free


def test_the_chart_goes_when_the_table_is_taken_back(open_cell: Open, session: Session) -> None:
    desk = open_cell("weekly-load", width=900)
    cell = enter(desk, "weekly-load", weeks(session, *LOADS))
    assert session.take_back(("weekly-load", None)).taken
    QApplication.processEvents()
    assert cell.view.isHidden()
    assert cell.sure.isHidden()
