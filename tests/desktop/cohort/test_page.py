"""The cohort page by keyboard: in and back, names and codes, stopping, report and table."""

import gc
import weakref
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QWidget

from footexam.desktop.cohort.data import MeasureLine
from footexam.desktop.cohort.page import CohortPage
from footexam.desktop.cohort.rows import Place
from footexam.desktop.cohort.saving import TableSaver
from footexam.desktop.cohort.words import WORDS
from footexam.desktop.keys import KEYS, Where
from footexam.desktop.painting import DrawingView
from footexam.desktop.preview.child import Kind, Made, Wanted
from footexam.desktop.preview.making import Maker
from footexam.desktop.theme import DARK
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Circle, Drawing, Rect
from tests.desktop.cohort.conftest import STUDENTS, Line, MakePage, Still
from tests.desktop.preview.pdfs import numbered
from tests.desktop.user import settle
from tests.drawing.plotted import dots, scale

KEY = Qt.Key
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier
NAMES = [f"Student {number:02}" for number in range(1, STUDENTS + 1)]


def press(
    page: QWidget, *keys: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
) -> None:
    for key in keys:
        QTest.keyClick(page.focusWidget() or page, key, held)
        settle()


def cells(page: CohortPage) -> list[tuple[str, ...]]:
    return list(page.table.rows.table.rows)


def go_to(page: CohortPage, words: str) -> None:
    """Choose the row that begins so, by keys."""
    press(page, KEY.Key_Home)
    names = [row[0] for row in cells(page)]
    press(page, *[KEY.Key_Down] * names.index(words))


def said(page: CohortPage) -> list[str]:
    """Everything on the page that can be read or heard."""
    found = [word for row in cells(page) for word in row]
    for widget in page.findChildren(QWidget):
        if widget.isVisibleTo(page):
            found += [widget.accessibleName(), widget.accessibleDescription()]
            if isinstance(widget, QLabel | QPushButton):
                found.append(widget.text())
    return found


def views(page: CohortPage) -> list[Drawing]:
    shown = [view for view in page.detail.findChildren(DrawingView) if not view.isHidden()]
    return [view._drawing for view in shown if view._drawing is not None]


def told(page: CohortPage) -> list[str]:
    heard: list[str] = []
    page.told.connect(heard.append)
    return heard


def escapes(page: CohortPage) -> list[bool]:
    found: list[bool] = []
    page.escaped.connect(lambda: found.append(True))
    return found


# --- in and back


def test_from_the_measures_down_to_one_reading_and_back(page: CohortPage) -> None:
    left = escapes(page)
    assert (
        page.title.text()
        == f"{STUDENTS} students, 3 volunteers, {3 * STUDENTS} examinations compared"
    )
    go_to(page, "Ankle dorsiflexion, knee straight")
    measure = page.table.rows.table.keys[page.table.row()]
    assert isinstance(measure, MeasureLine)
    press(page, KEY.Key_Return)
    assert len(cells(page)) == 6 * STUDENTS
    assert page.path.text() == "Measures › Ankle dorsiflexion, knee straight"
    first = cells(page)[0]
    assert first[0] == "Student 02"  # who reads dorsiflexion 8 degrees high
    assert first[7] == "beyond error"
    errors = [abs(float(row[6].replace("−", "-"))) for row in cells(page) if row[7] == first[7]]
    assert errors == sorted(errors, reverse=True)
    press(page, KEY.Key_Down, KEY.Key_Return)
    rows = dict(cells(page))
    assert rows["Student"] == "Student 02"
    assert rows["Judged"] == "beyond error"
    assert "two examiners" in rows["Rule"]
    assert rows["Allowed"].endswith("deg")
    press(page, KEY.Key_Return)  # there is nothing below one reading
    assert dict(cells(page)) == rows
    press(page, KEY.Key_Escape)
    assert page.table.row() == 1
    press(page, KEY.Key_Escape)
    assert cells(page)[page.table.row()][0] == "Ankle dorsiflexion, knee straight"
    assert not left
    press(page, KEY.Key_Escape)
    assert left == [True]


def test_from_a_student_to_what_the_student_read(page: CohortPage) -> None:
    press(page, KEY.Key_2, held=ALT)
    go_to(page, "Student 02")
    assert any("+8" in label for label in page.detail.told.text().splitlines())
    press(page, KEY.Key_Return)
    assert page.path.text() == "Students › Student 02"
    assert cells(page)[0][0].startswith("Ankle dorsiflexion")
    assert len(cells(page)) == sum(1 for _ in page.shown.readings_of(1))
    press(page, KEY.Key_Return)
    assert dict(cells(page))["Student"] == "Student 02"
    press(page, KEY.Key_Escape, KEY.Key_Escape)
    assert cells(page)[page.table.row()][0] == "Student 02"


def test_the_parts_by_key(page: CohortPage) -> None:
    press(page, KEY.Key_3, held=ALT)
    (row,) = cells(page)
    assert row[0] == "Whole examination"
    assert row[5] == str(STUDENTS)
    assert "Fewer than 30 students" in page.detail.told.text()
    assert len(views(page)) == 1
    press(page, KEY.Key_Return)  # nothing lies below a pass mark
    assert cells(page) == [row]
    press(page, KEY.Key_PageDown, held=CONTROL)
    assert cells(page)[0][0] == "secret-name.json"
    press(page, KEY.Key_PageDown, held=CONTROL)
    assert page.tabs.currentIndex() == 0
    press(page, KEY.Key_PageUp, held=CONTROL)
    assert page.tabs.currentIndex() == 3
    press(page, KEY.Key_1, held=ALT)
    assert page.tabs.currentIndex() == 0
    page.tabs.setCurrentIndex(1)
    assert cells(page)[0][0] == "Student 01"
    press(page, KEY.Key_4, held=ALT)
    assert page.tabs.tabText(3).endswith("(1)")


def test_the_measures_that_agree_least_stand_first(page: CohortPage) -> None:
    told = [row[2].split(" ", maxsplit=1)[0].split("/") for row in cells(page)]
    shares = [int(count) / int(n) for count, n in told]
    assert shares == sorted(shares)
    assert shares[0] < shares[-1]


def test_home_and_end_go_to_the_first_and_the_last_row(page: CohortPage) -> None:
    press(page, KEY.Key_End)
    assert page.table.row() == len(cells(page)) - 1
    press(page, KEY.Key_Home)
    assert page.table.row() == 0


def test_a_double_click_goes_in(page: CohortPage) -> None:
    page.table.doubleClicked.emit(page.table.rows.index(0, 0))
    assert len(page.levels) == 2


# --- the plots


def test_the_reading_is_ringed_where_its_numbers_say(page: CohortPage) -> None:
    go_to(page, "Lunge, toe to wall")
    press(page, KEY.Key_Return, KEY.Key_Down, KEY.Key_Down)
    place = page.table.rows.table.keys[page.table.row()]
    assert isinstance(place, Place)
    (drawing,) = views(page)
    across, up = scale(drawing)
    rings = [s for s in drawing.shapes if isinstance(s, Circle) and s.stroke is Ink.CAUTION]
    student, reference = (number(w) for w in (place.reading.student, place.reading.reference))
    assert {(round(r.x, 2), round(r.y, 2)) for r in rings} == {(rings[0].x, rings[0].y)}
    assert across(rings[0].x) == pytest.approx((student + reference) / 2, abs=0.05)
    assert up(rings[0].y) == pytest.approx(student - reference, abs=0.05)
    assert (rings[0].x, rings[0].y) in {(dot.x, dot.y) for dot in dots(drawing)}


def number(words: str) -> float:
    return float(words.split(maxsplit=1)[0].replace("−", "-"))


def test_the_measure_is_framed_among_all(page: CohortPage) -> None:
    go_to(page, "Talar head")
    drawing = views(page)[-1]
    frame = next(s for s in drawing.shapes if isinstance(s, Rect) and s.stroke is Ink.ACCENT)
    texts = [s for s in drawing.shapes if getattr(s, "text", "") == "Talar head"]
    (name,) = texts
    assert frame.y < name.y < frame.y + frame.height  # type: ignore[union-attr]
    assert len(views(page)) == 1  # a short scale has no differences to plot
    assert "no plot" in page.detail.told.text()


def test_every_plot_is_told_in_words(page: CohortPage) -> None:
    go_to(page, "Lunge, toe to wall")
    words = page.detail.accessibleDescription()
    assert f"{6 * STUDENTS} readings by students against the reference" in words
    assert "95 % of differences lie between" in words
    assert "ICC(2,1)" in words


def test_plots_that_come_later_are_shown_when_they_come(
    make_page: MakePage, lines: list[Line], term_folder: Path
) -> None:
    reader = Still()
    page = make_page(reader)
    page.show_term(term_folder)
    tables = next(place for place, line in enumerate(lines) if line["kind"] == "tables")
    reader.gives(lines[: tables + 1])
    go_to(page, "Lunge, toe to wall")
    assert not views(page)
    assert page.detail.told.text().endswith(WORDS["plot-coming"])
    reader.gives(lines[tables + 1 :])
    assert len(views(page)) == 2
    assert cells(page)[page.table.row()][0] == "Lunge, toe to wall"


# --- names


def test_codes_stand_for_every_name(page: CohortPage) -> None:
    heard = told(page)
    hidden = [*NAMES, "V-1", "V-2", "secret-name"]

    def everywhere() -> Iterator[list[str]]:
        for part in (KEY.Key_1, KEY.Key_2, KEY.Key_3, KEY.Key_4):
            press(page, part, held=ALT)
            yield said(page)
        press(page, KEY.Key_2, held=ALT)
        press(page, KEY.Key_Return)
        yield said(page)
        press(page, KEY.Key_Return)
        yield said(page)
        press(page, KEY.Key_1, held=ALT)
        press(page, KEY.Key_Return)
        yield said(page)

    named = " ".join(word for words in everywhere() for word in words)
    assert all(name in named for name in hidden)
    press(page, KEY.Key_A, held=CONTROL | SHIFT)
    assert page.state.text() == WORDS["anonymous"]
    coded = " ".join(word for words in everywhere() for word in words)
    assert not [name for name in hidden if name in coded]
    assert "S1" in coded
    assert "P1" in coded
    press(page, KEY.Key_A, held=CONTROL | SHIFT)
    assert page.state.text() == WORDS["named"]
    assert heard == [WORDS["anonymous"], WORDS["named"]]
    assert "Student 01" in " ".join(said(page))


def test_codes_stay_when_another_term_is_read(page: CohortPage, term_folder: Path) -> None:
    page.switch_names()
    page.show_term(term_folder)
    assert page.shown.anonymous


# --- reading, stopping, failing


def test_the_work_is_told_and_can_be_stopped(make_page: MakePage, term_folder: Path) -> None:
    reader = Still()
    page = make_page(reader)
    left, heard = escapes(page), told(page)
    page.show_term(term_folder)
    reader.gives([{"kind": "step", "what": "compare", "done": 3, "of": 12}])
    assert page.waiting.step.text() == "Comparing: 3 of 12"
    assert (page.waiting.bar.value(), page.waiting.bar.maximum()) == (3, 12)
    press(page, KEY.Key_Escape)
    assert not reader.runs
    assert left == [True]
    assert heard == [WORDS["stopped"]]


def test_nothing_is_reported_before_there_is_anything(
    make_page: MakePage, term_folder: Path
) -> None:
    page = make_page(Still())
    heard = told(page)
    page.show_term(term_folder)
    press(page, KEY.Key_P, KEY.Key_S, held=CONTROL)
    press(page, KEY.Key_2, held=ALT)
    press(page, KEY.Key_A, held=CONTROL | SHIFT)
    assert heard == [WORDS["empty"], WORDS["empty"], WORDS["anonymous"]]


def test_a_term_that_cannot_be_read_is_told(make_page: MakePage, term_folder: Path) -> None:
    reader = Still()
    page = make_page(reader)
    left, heard = escapes(page), told(page)
    page.show_term(term_folder)
    reader.failed.emit("There is no such folder.")
    assert left == [True]
    assert heard == ["The term could not be read. There is no such folder."]


def test_where_nothing_could_be_compared_the_files_are_shown(
    make_page: MakePage, term_folder: Path
) -> None:
    reader = Still()
    page = make_page(reader)
    page.show_term(term_folder)
    head = {"kind": "head", "examiners": [], "patients": [], "pairs": 0, "left": ["a.json: why"]}
    reader.gives([head, {"kind": "tables"}, {"kind": "end"}])
    assert page.title.text() == WORDS["nothing"]
    assert cells(page) == [("a.json", "why")]
    press(page, KEY.Key_1, held=ALT)
    assert cells(page) == []
    press(page, KEY.Key_Return, KEY.Key_Home)
    press(page, KEY.Key_3, held=ALT)
    assert page.detail.told.text() == WORDS["no-standards"]


# --- report and table


@pytest.fixture
def wanted(monkeypatch: pytest.MonkeyPatch) -> list[Wanted]:
    """What children were asked for; each document is made at once."""
    asked: list[Wanted] = []

    def make(maker: Maker, wanted: Wanted) -> None:
        asked.append(wanted)
        maker.made.emit(Made(numbered(3), b"", "", 0, ""))

    monkeypatch.setattr(Maker, "make", make)
    monkeypatch.setattr(Maker, "warm", lambda _: None)
    return asked


def test_the_report_is_shown_and_left(
    page: CohortPage, wanted: list[Wanted], term_folder: Path
) -> None:
    left = escapes(page)
    press(page, KEY.Key_A, held=CONTROL | SHIFT)
    press(page, KEY.Key_P, held=CONTROL)
    (one,) = wanted
    assert (one.kind, one.folder, one.anonymous) == (Kind.COHORT, str(term_folder), True)
    assert page.stack.currentWidget() is page.paper
    assert page.paper.preview.name == "cohort-anonymous.pdf"
    press(page, KEY.Key_Escape)
    assert page.is_there
    assert page.focusWidget() is page.table
    assert not left


def test_the_table_is_saved(
    page: CohortPage, wanted: list[Wanted], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard = told(page)
    monkeypatch.setattr(TableSaver, "ask", classmethod(lambda *_: str(tmp_path / "term")))
    press(page, KEY.Key_S, held=CONTROL)
    (one,) = wanted
    assert (one.kind, one.anonymous) == (Kind.COHORT_TABLE, False)
    assert (tmp_path / "term.csv").read_bytes() == numbered(3)
    assert heard[-1] == WORDS["saved"].format(name="term.csv")
    monkeypatch.setattr(TableSaver, "ask", classmethod(lambda *_: str(tmp_path / "all.zip")))
    press(page, KEY.Key_S, held=CONTROL)
    assert wanted.pop().kind == Kind.COHORT_TABLES
    assert (tmp_path / "all.zip").exists()
    monkeypatch.setattr(TableSaver, "ask", classmethod(lambda *_: ""))
    press(page, KEY.Key_S, held=CONTROL)
    assert len(wanted) == 1
    nowhere = str(tmp_path / "nowhere" / "term.csv")
    monkeypatch.setattr(TableSaver, "ask", classmethod(lambda *_: nowhere))
    press(page, KEY.Key_S, held=CONTROL)
    assert heard[-1].startswith("It could not be saved as term.csv")
    page.saver.maker.failed.emit("It broke off.")
    assert heard[-1] == "The table could not be made. It broke off."


def test_escape_stops_a_table_that_is_made(
    page: CohortPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    left, heard = escapes(page), told(page)
    monkeypatch.setattr(Maker, "stop", lambda _: True)
    press(page, KEY.Key_Escape)
    assert not left
    assert heard == [WORDS["stopped"]]


# --- the page itself


@pytest.mark.parametrize("zoom", [1.0, 1.5])
def test_everything_that_takes_keys_has_a_name(
    make_page: MakePage, lines: list[Line], term_folder: Path, zoom: float
) -> None:
    reader = Still()
    page = make_page(reader, DARK, zoom)
    page.show_term(term_folder)
    for part in (lines[:3], lines[3:]):
        reader.gives(part)
        for widget in page.findChildren(QWidget):
            takes = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
            if takes and widget.isVisibleTo(page):
                name = QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)
                assert name, widget
    model = page.table.rows
    spoken = model.data(model.index(0, 2), Qt.ItemDataRole.AccessibleTextRole)
    assert spoken.startswith("Within error, 95 %: ")
    assert model.data(model.index(0, 0), Qt.ItemDataRole.DecorationRole) is None
    assert model.headerData(0, Qt.Orientation.Vertical) is None


def test_the_keys_of_the_page_are_free() -> None:
    ours = {"Ctrl+Shift+A", "Ctrl+PgDown", "Ctrl+PgUp"}
    taken = {key for one in KEYS if one.where is Where.EVERYWHERE for key in one.keys}
    assert not ours & taken


def test_tab_reaches_the_detail_and_it_scrolls(page: CohortPage) -> None:
    go_to(page, "Lunge, toe to wall")
    page.detail.setFocus()
    page.detail.verticalScrollBar().setValue(0)
    press(page, KEY.Key_Down)
    assert page.detail.verticalScrollBar().value() > 0
    press(page, KEY.Key_Return, KEY.Key_2)
    press(page, KEY.Key_2, held=ALT)
    assert page.focusWidget() is page.table
    assert cells(page)[0][0] == "Student 01"


def test_a_narrow_page_has_the_detail_below(page: CohortPage) -> None:
    wide = page.detail.y()
    page.resize(700, 900)
    settle()
    assert page.detail.y() > wide


def test_another_page_goes_on_where_this_one_was(page: CohortPage, make_page: MakePage) -> None:
    press(page, KEY.Key_2, held=ALT)
    press(page, KEY.Key_Down, KEY.Key_Return)
    before = cells(page)
    other = make_page(Still(), DARK)
    other.take_over(page)
    assert cells(other) == before
    press(other, KEY.Key_Escape)
    assert other.table.row() == 1


def test_another_page_reads_on_what_was_being_read(make_page: MakePage, term_folder: Path) -> None:
    page, reader = make_page(Still()), Still()
    page.switch_names()
    page.show_term(term_folder)
    other = make_page(reader)
    other.take_over(page)
    assert reader.runs
    assert other.shown.anonymous
    assert not page.reader.runs


@pytest.mark.usefixtures("qapp")
def test_the_page_is_freed(lines: list[Line], term_folder: Path) -> None:
    reader: Any = Still()
    page: Any = CohortPage(DARK, reader=reader)
    page.show_term(term_folder)
    reader.gives(lines)
    seen = weakref.ref(page)
    page.deleteLater()
    del page, reader
    settle()
    gc.collect()
    assert seen() is None
    assert QApplication.instance() is not None
