"""Audits over every page: names, order of the keys, nothing clipped, contrast, nothing kept."""

import ast
import gc
import weakref
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible, QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QWidget

import footexam.desktop
from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.cells.shown import ShownCell
from footexam.desktop.desk import Desk
from footexam.desktop.keys import KEYS, Where
from footexam.desktop.marking.words import LIST_KEYS, SHEET_KEYS
from footexam.desktop.preview.words import KEYS as PREVIEW_KEYS
from footexam.desktop.record_page import RecordPage
from footexam.desktop.theme import DARK, LIGHT, Theme
from footexam.desktop.walk import Walk
from footexam.desktop.window import Window
from footexam.drawing.palette import Ink
from tests.desktop.conftest import MakeWindow
from tests.desktop.marking.terms import marks_all, open_marking, put_term
from tests.desktop.user import User, settle

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
PANELS = range(1, 7)


def focusable(page: QWidget) -> Iterator[QWidget]:
    """Every shown widget of a page that can have the keys."""
    for widget in (page, *page.findChildren(QWidget)):
        takes = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        if takes and widget.isVisibleTo(page) and widget.isEnabled():
            yield widget


def name_of(widget: QWidget) -> str:
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)


def to_new(user: User) -> None:
    user.presses(Qt.Key.Key_N, CONTROL)


def to_confirm(user: User) -> None:
    user.types("quist").presses(Qt.Key.Key_Return)


def to_patient(user: User) -> None:
    to_confirm(user)
    user.presses(Qt.Key.Key_Return)


def to_card(user: User) -> None:
    to_patient(user)
    user.presses(Qt.Key.Key_F2)


def to_record(user: User) -> None:
    to_card(user)
    user.presses(Qt.Key.Key_Return)


def to_correct(user: User) -> None:
    to_record(user)
    user.presses(Qt.Key.Key_W, CONTROL).presses(Qt.Key.Key_M, CONTROL | SHIFT)


def to_whose(user: User) -> None:
    to_correct(user)
    user.enters("slip")


def to_preview(user: User) -> None:
    to_record(user)
    user.presses(Qt.Key.Key_P, CONTROL)


def to_found(user: User) -> None:
    to_preview(user)
    user.presses(Qt.Key.Key_F, CONTROL).enters("leaf")


def to_copy(user: User) -> None:
    to_record(user)
    user.presses(Qt.Key.Key_W, CONTROL).presses(Qt.Key.Key_P, CONTROL | SHIFT)


def to_form(user: User) -> None:
    user.presses(Qt.Key.Key_F, CONTROL | SHIFT)


def to_signing(user: User) -> None:
    to_record(user)
    user.presses(Qt.Key.Key_Return, CONTROL)


def to_marking(user: User) -> None:
    put_term(user.window)
    open_marking(user)


def to_sheet(user: User) -> None:
    to_marking(user)
    user.presses(Qt.Key.Key_Return)


def to_sheet_question(user: User) -> None:
    to_sheet(user)
    marks_all(user).presses(Qt.Key.Key_Return, CONTROL)


def to_help(user: User) -> None:
    user.presses(Qt.Key.Key_F1)


def to_blank(user: User) -> None:
    user.presses(Qt.Key.Key_B, CONTROL)


def to_list(user: User) -> None:
    user.types("")


PAGES: tuple[Callable[[User], None], ...] = (
    to_list,
    to_new,
    to_confirm,
    to_patient,
    to_card,
    to_record,
    to_correct,
    to_whose,
    to_preview,
    to_found,
    to_copy,
    to_form,
    to_signing,
    to_marking,
    to_sheet,
    to_sheet_question,
    to_help,
    to_blank,
)


def all_pages(user: User) -> Iterator[tuple[str, QWidget]]:
    """Every page but the worksheets, one after the other."""
    window = user.window
    for way in PAGES:
        way(user)
        page = window.stack.currentWidget()
        if not isinstance(page, RecordPage):
            yield way.__name__, page
        user.presses(Qt.Key.Key_Escape)
        for one in window.walk.papers.pages():
            one.close_documents()
        window.walk.drop_record()
        window.walk.opened = None
        window.walk.patients.line.clear()
        window.walk.show_patients()


@pytest.mark.usefixtures("window", "at_once")
def test_all_that_has_the_keys_has_a_name(user: User) -> None:
    for way, page in all_pages(user):
        found = list(focusable(page))
        assert found, way
        assert [repr(widget) for widget in found if not name_of(widget).strip()] == [], way
        assert user.place.strip(), way


@pytest.mark.usefixtures("window", "at_once")
def test_order_of_the_keys_is_the_reading_order(user: User) -> None:
    for way, page in all_pages(user):
        places = [top_left(widget, page) for widget in tab_chain(page)]
        assert places == sorted(places), way


@pytest.mark.parametrize("zoom", [1.0, 1.5, 2.0])
@pytest.mark.usefixtures("at_once")
def test_nothing_is_clipped(make_window: MakeWindow, zoom: float) -> None:
    user = User(make_window(LIGHT, zoom))
    for way, page in all_pages(user):
        assert clipped(page) == [], way


@pytest.mark.parametrize("zoom", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("beside", [True, False])
@pytest.mark.usefixtures("demo_desk")
def test_nothing_is_clipped_on_the_worksheets(
    make_window: MakeWindow, zoom: float, beside: bool
) -> None:
    """With a full examination, and with what it adds up to beside the sheet and without."""
    user = User(make_window(LIGHT, zoom))
    user.types("HQ-0003").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Return)
    user.presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Return)
    if user.record.summary.isVisible() is not beside:
        user.presses(Qt.Key.Key_J, CONTROL)
    assert user.record.summary.isVisible() is beside
    assert (user.window.width(), user.window.height()) == (1440, 900)
    if not user.record.centre.isVisible():
        assert clipped(user.record) == []
        return
    for panel in PANELS:
        user.window.act(f"open_number:{panel}")
        settle()
        assert clipped(user.record) == [], panel
        for cell in user.record.worksheet.order:
            assert cell.width() >= cell.minimumSizeHint().width(), cell.name
            assert inside(cell, user.record), cell.name


def top_left(widget: QWidget, page: QWidget) -> tuple[int, int]:
    """Where a widget stands, to the half line: what stands in one row is read from the left."""
    place = widget.mapTo(page, QPoint(0, 0))
    return (place.y() // 20, place.x())


def tab_chain(page: QWidget) -> list[QWidget]:
    """The shown widgets in the order in which Tab goes through them, from the first one of a page.

    Qt passes over the radio buttons of a group that are not chosen.
    """
    chain = []
    widget = page.nextInFocusChain()
    while widget is not page:
        inside = page.isAncestorOf(widget)
        if inside and widget in set(focusable(page)) and not widget.focusProxy():
            chain.append(widget)
        widget = widget.nextInFocusChain()
    return chain


def clipped(page: QWidget) -> list[str]:
    """The words that have less room than they need."""
    found = []
    for label in page.findChildren(QLabel):
        if label.isVisibleTo(page) and label.text():
            width = label.width()
            wraps = label.wordWrap()
            needed = label.heightForWidth(width) if wraps else label.sizeHint().height()
            narrow = not wraps and label.sizeHint().width() > width
            if needed > label.height() + 1 or narrow or not inside(label, page):
                found.append(label.text())
    for button in page.findChildren(QAbstractButton):
        if button.isVisibleTo(page) and not isinstance(button.parent(), QLineEdit):
            hint = button.minimumSizeHint()
            if hint.width() > button.width() or hint.height() > button.height():
                found.append(button.text())
    return found


def inside(widget: QWidget, page: QWidget) -> bool:
    """Whether a widget lies within its page from left to right, and in what scrolls it."""
    parent: QWidget | None = widget.parentWidget()
    while parent is not None and parent is not page.parentWidget():
        left = widget.mapTo(parent, QPoint(0, 0)).x()
        if left < -1 or left + widget.width() > parent.width() + 1:
            return False
        parent = parent.parentWidget()
    return True


def test_order_on_the_worksheets(visit: Window, user: User) -> None:
    """Tab goes through all cells of a sheet row by row, a foot at a time where forms/ says so."""
    for panel in PANELS:
        visit.act(f"open_number:{panel}")
        visit.act("show_more")
        worksheet = user.record.worksheet
        worksheet.focus_cell(worksheet.order[0])
        settle()
        typed_into = [c.name for c in worksheet.order if not isinstance(c.editor, ShownCell)]
        shown = {c.name for c in worksheet.order if isinstance(c.editor, ShownCell)}
        assert [name for name in tabbed(user, 400) if name not in shown] == typed_into
        assert in_reading_order(worksheet.order)


def tabbed(user: User, most: int) -> list[str]:
    """The cells through which Tab goes until it leaves the sheet."""
    names: list[str] = []
    worksheet = user.record.worksheet
    for _ in range(most):
        at: QWidget | None = user.at
        while at is not None and not isinstance(at, CellFrame):
            at = at.parentWidget()
        if at is None or at not in worksheet.order:
            return names
        if names[-1:] != [at.name]:
            names.append(at.name)
        QTest.keyClick(user.at, Qt.Key.Key_Tab)
    return names


def in_reading_order(order: list[CellFrame]) -> bool:
    """Rows from the top, left before right; a foot at a time: each column from the top."""
    plain = [(cell.y(), cell.x()) for cell in order if not cell.measure.foot_by_foot]
    tall = [cell for cell in order if cell.measure.foot_by_foot]
    half = len(tall) // 2
    columns = ([cell.y() for cell in tall[:half]], [cell.y() for cell in tall[half:]])
    return plain == sorted(plain) and all(column == sorted(column) for column in columns)


def test_names_on_the_worksheets(visit: Window, user: User) -> None:
    for panel in PANELS:
        visit.act(f"open_number:{panel}")
        visit.act("show_more")
        settle()
        unnamed = [repr(widget) for widget in focusable(user.record) if not name_of(widget).strip()]
        assert unnamed == []
        for cell in user.record.worksheet.order:
            name = name_of(first_of(cell))
            assert cell.name.partition(",")[0] in name
            assert cell.key[1] is None or cell.key[1] in name


def first_of(cell: CellFrame) -> QWidget:
    """The first widget of a cell that takes the keys."""
    widget = cell.editor.focus_widget()
    while widget.focusProxy() is not None:
        widget = widget.focusProxy()
    return widget


# --- nothing is kept


def test_record_is_freed_when_it_is_left(visit: Window, user: User) -> None:
    for panel in PANELS:
        visit.act(f"open_number:{panel}")
    record = user.record
    kept = [weakref.ref(one) for one in (record, record.session, *record.worksheets.values())]
    kept += [weakref.ref(cell) for cell in record.worksheet.order]
    del record
    gc.collect()
    gc.disable()
    try:
        user.presses(Qt.Key.Key_W, CONTROL)
        settle()
        alive = [repr(ref()) for ref in kept if ref() is not None]
    finally:
        gc.enable()
    assert alive == []


def test_pages_are_freed_when_they_are_made_anew(window: Window) -> None:
    papers = window.walk.papers.page
    pages = (*window.walk.pages(), papers.preview, papers.signing, window.help, window.blank)
    del papers
    kept = [weakref.ref(page) for page in pages]
    del pages
    gc.collect()
    gc.disable()
    try:
        window.switch_theme()
        settle()
        alive = [repr(ref()) for ref in kept if ref() is not None]
    finally:
        gc.enable()
        window.switch_theme()
    assert alive == []


@pytest.mark.usefixtures("qapp")
def test_window_is_freed(desk: Desk, make_window: MakeWindow) -> None:
    window = Window(desk, LIGHT, make_window().preferences, lambda: None)  # type: ignore[arg-type, return-value]
    kept = weakref.ref(window)
    window.deleteLater()
    del window
    settle()
    assert kept() is None


def sources() -> Iterator[tuple[Path, ast.Module]]:
    folder = Path(footexam.desktop.__file__).parent
    for path in sorted(folder.rglob("*.py")):
        yield path, ast.parse(path.read_text(encoding="utf-8"))


def test_only_methods_are_connected() -> None:
    """A lambda or partial that is connected keeps its owner for ever."""
    wrong = [
        f"{path.name}:{node.lineno}"
        for path, tree in sources()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in {"connect", "add_done_callback", "singleShot"}
        and any(isinstance(argument, ast.Lambda | ast.Call) for argument in node.args)
    ]
    assert wrong == []


def test_colours_stand_in_the_theme_alone() -> None:
    wrong = [
        f"{path.name}:{node.lineno}"
        for path, tree in sources()
        if path.name != "theme.py"
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and node.value.startswith("#")
        and len(node.value) == 7
    ]
    assert wrong == []


def test_every_key_has_a_method() -> None:
    owners: dict[Where, tuple[type, ...]] = {
        Where.EVERYWHERE: (Window,),
        Where.LIST: (Walk,),
        Where.PATIENT: (Walk,),
        Where.BEFORE: (Walk,),
        Where.OPENED: (Walk,),
        Where.SHEET: (RecordPage, Walk),
    }
    for key in KEYS:
        assert any(callable(getattr(owner, key.action, None)) for owner in owners[key.where]), key
    assert len({key.name for key in KEYS}) == len(KEYS)
    everywhere = [(sequence, key.name) for key in KEYS for sequence in key.keys]
    assert len({sequence for sequence, _ in everywhere}) == len(everywhere)


def test_help_lists_every_key(window: Window, user: User) -> None:
    user.presses(Qt.Key.Key_F1)
    shown = window.help.text.toPlainText()
    for key in KEYS:
        if key.words:
            assert key.words in shown
            assert all(sequence in shown for sequence in key.keys)
    for keys, words in (*PREVIEW_KEYS, *LIST_KEYS, *SHEET_KEYS):
        assert f"{keys}\t{words}" in shown


# --- colours


def luminance(colour: QColor) -> float:
    """Relative luminance of WCAG 2.2."""
    parts = []
    for channel in (colour.redF(), colour.greenF(), colour.blueF()):
        low = channel <= 0.04045
        parts.append(channel / 12.92 if low else ((channel + 0.055) / 1.055) ** 2.4)
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one: QColor, other: QColor) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_computed_as_published() -> None:
    assert contrast(QColor("#000000"), QColor("#FFFFFF")) == pytest.approx(21)
    assert contrast(QColor("#777777"), QColor("#FFFFFF")) == pytest.approx(4.48, abs=0.005)


TEXT_INKS = (Ink.INK, Ink.MUTED, Ink.ACCENT, Ink.BELOW, Ink.ABOVE, Ink.CAUTION)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_contrast(theme: Theme) -> None:
    for behind in (theme.paper, theme.surface):
        for ink in TEXT_INKS:
            assert contrast(theme.colour(ink), QColor(behind)) >= 4.5, (ink, behind)
        assert contrast(theme.colour(Ink.BORDER), QColor(behind)) >= 3.0, behind
        assert contrast(QColor(theme.focus), QColor(behind)) >= 3.0
    chosen = contrast(theme.colour(Ink.SURFACE), theme.colour(Ink.ACCENT))
    assert chosen >= 4.5  # the words of a chosen box
    for ink in (Ink.INK, Ink.BELOW, Ink.ABOVE):
        assert contrast(theme.colour(ink), theme.colour(Ink.BAND)) >= 3.0, ink
