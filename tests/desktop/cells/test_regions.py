"""Places are chosen by keys or clicks, seen on map and list, and taken over when left."""

import gc
import weakref
from functools import partial

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QKeySequence, QShortcut, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from footexam.desktop import theme
from footexam.drawing.outlines import VIEWS, view_names, view_of
from footexam.record.reading import Words
from footexam.terms import Side
from tests.desktop.cells.driving import Desk, Open, click, press


@pytest.fixture
def desk(open_cell: Open) -> Desk:
    return open_cell("complaint-site", Side.LEFT)


def test_letters_and_enter_choose_places_taken_over_when_the_cell_is_left(desk: Desk) -> None:
    press("nav", "Enter", "heel me", "Enter")
    assert desk.entries() == 0
    press("Tab")
    assert desk.value() == Words(("heel-plantar-medial", "navicular"))
    assert (desk.entries(), desk.steps) == (1, [1])


def test_enter_unfolds_and_enter_again_goes_on_without_an_entry(desk: Desk) -> None:
    assert not desk.editor.chooser.is_open
    press("Enter")
    assert desk.editor.chooser.is_open
    assert desk.steps == []
    press("Enter")
    assert desk.steps == [1]
    assert desk.entries() == 0


@pytest.mark.parametrize("key", ["Space", "Down", "Up", "h"])
def test_space_arrows_and_letters_unfold_too(desk: Desk, key: str) -> None:
    press(key)
    assert desk.editor.chooser.is_open


def test_shift_enter_and_shift_tab_go_back(desk: Desk) -> None:
    press("nav", "Enter", "Shift+Enter")
    assert desk.steps == [-1]
    assert desk.value() == Words(("navicular",))
    desk.enter()
    press("Shift+Tab")
    assert desk.steps == [-1, -1]


def test_arrows_bring_places_to_hand_and_enter_adds_and_removes(desk: Desk) -> None:
    press("Down", "Down", "Enter")
    assert list(desk.editor.places.marks) == ["heel-plantar-medial"]
    press("Down", "Up", "Enter")
    assert not desk.editor.places.marks


def test_arrows_stay_among_the_places_that_fit(desk: Desk) -> None:
    press("web", "Down", "Down", "Down", "Down", "Down", "Enter", "Enter")
    assert desk.value() == Words(("web-space-4",))


def test_left_and_right_turn_to_another_view_and_choose_nothing(desk: Desk) -> None:
    press("nav", "Enter", "Right")
    assert desk.editor.chooser.panel.map.view == "lateral"
    press("Left", "Left")
    assert desk.editor.chooser.panel.map.view == "dorsal"
    press("Enter")
    assert desk.steps == [1]
    assert desk.value() == Words(("navicular",))


@pytest.mark.parametrize("key", ["Delete", "Backspace"])
def test_every_chosen_place_is_removed_by_keys_alone(desk: Desk, key: str) -> None:
    press("heel me", "Enter", "calf", "Enter", "groin", "Enter", "Enter")
    desk.enter()
    press("Down")
    for _ in desk.editor.places.catalogue.regions:
        press(key, "Down")
    press("Tab")
    assert desk.reading() is None
    assert not desk.editor.places.marks


def test_typing_the_name_of_a_chosen_place_removes_it(desk: Desk) -> None:
    press("calf", "Enter", "calf", "Enter", "Tab")
    assert desk.entries() == 0


def test_escape_takes_the_letters_then_folds_then_puts_the_cell_back(desk: Desk) -> None:
    press("calf", "Enter", "Tab")
    desk.enter()
    press("nav", "Enter", "gro")
    press("Escape")
    assert desk.editor.chooser.line.text() == ""
    assert desk.editor.chooser.is_open
    press("Escape")
    assert not desk.editor.chooser.is_open
    assert list(desk.editor.places.marks) == ["navicular", "calf"]
    press("Escape")
    assert list(desk.editor.places.marks) == ["calf"]
    assert desk.value() == Words(("calf",))
    assert desk.entries() == 1


def test_letters_that_are_not_entered_choose_nothing(desk: Desk) -> None:
    press("calf", "Tab")
    desk.go_elsewhere()
    assert desk.entries() == 0
    assert desk.editor.chooser.line.text() == ""


def test_letters_that_mean_no_place_stay_and_are_told(desk: Desk) -> None:
    press("xyz", "Enter")
    assert desk.editor.chooser.line.text() == "xyz"
    assert "No place" in desk.editor.chooser.message.text()
    assert "No place" in desk.editor.chooser.line.accessibleDescription()
    assert desk.steps == []


def test_losing_the_keys_takes_over_what_is_chosen_and_folds(desk: Desk) -> None:
    press("calf", "Enter")
    desk.go_elsewhere()
    assert desk.value() == Words(("calf",))
    assert not desk.editor.chooser.is_open


def test_choosing_and_removing_again_is_no_change(desk: Desk) -> None:
    press("calf", "Enter")
    assert desk.editor.dirty
    press("Delete")
    assert not desk.editor.dirty


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("side", list(Side))
def test_a_click_on_the_map_adds_and_another_removes(
    open_cell: Open, view: str, side: Side
) -> None:
    desk = open_cell("complaint-site", side)
    press("Enter")
    chooser = desk.editor.chooser
    click(chooser.strip, chooser.strip.boxes()[view].center().toPoint())
    assert chooser.panel.map.view == view
    for patch in view_of(view, side).patches:
        click(chooser.panel.map, chooser.panel.map.point_of(*patch.at))
        assert list(desk.editor.places.marks) == [patch.region]
        assert chooser.line.hasFocus()
        click(chooser.panel.map, chooser.panel.map.point_of(*patch.at))
        assert not desk.editor.places.marks


def test_a_click_beside_the_foot_and_the_other_button_choose_nothing(
    desk: Desk, qtbot: object
) -> None:
    press("Enter")
    shown = desk.editor.chooser.panel.map
    click(shown, QPoint(1, 1))
    at = shown.point_of(*view_of("plantar", Side.LEFT).patches[0].at)
    qtbot.mouseClick(shown, Qt.MouseButton.RightButton, pos=at)  # type: ignore[attr-defined]
    assert not desk.editor.places.marks


def test_a_click_in_the_list_adds_and_removes(desk: Desk) -> None:
    press("nav")
    shown = desk.editor.chooser.list
    at = shown.visualItemRect(shown.item(0)).center()
    click(shown.viewport(), at)
    assert list(desk.editor.places.marks) == ["navicular"]
    assert desk.editor.chooser.line.hasFocus()
    assert desk.editor.chooser.line.text() == ""


def test_the_list_holds_every_place_with_what_it_holds_in_words(desk: Desk) -> None:
    press("calf", "Enter")
    shown = desk.editor.chooser.list
    told = [shown.item(at).data(Qt.ItemDataRole.AccessibleTextRole) for at in range(shown.count())]
    assert len(told) == 60
    assert "Calf, chosen" in told
    assert "Groin, not chosen" in told


def test_a_wheel_scrolls_and_changes_nothing(desk: Desk) -> None:
    press("calf", "Enter")
    before = dict(desk.editor.places.marks)
    for widget in [desk.editor, *desk.editor.findChildren(QWidget)]:
        if widget.isVisible():
            wheel(widget)
    assert desk.editor.places.marks == before
    assert desk.editor.places.at == "calf"


def wheel(widget: QWidget) -> None:
    middle = QPointF(widget.rect().center())
    event = QWheelEvent(
        middle,
        widget.mapToGlobal(middle),
        QPoint(0, -120),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(widget, event)


def test_what_is_chosen_is_told_in_words_under_the_line(desk: Desk) -> None:
    press("calf", "Enter", "nav", "Enter", "Tab")
    assert desk.editor.chooser.summary.text() == "Navicular\nCalf"
    assert "Navicular; Calf" in desk.editor.chooser.line.accessibleDescription()


def test_what_takes_the_keys_is_named_and_described(desk: Desk) -> None:
    press("calf")
    for widget in desk.editor.findChildren(QWidget):
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and widget.isVisible():
            told = QAccessible.queryAccessibleInterface(widget)
            assert told.text(QAccessible.Text.Name), widget
            assert told.text(QAccessible.Text.Description), widget
    name = desk.editor.chooser.line.accessibleName()
    assert name == "Where it hurts, left foot: find a place"
    assert desk.editor.chooser.list.accessibleName() == "Where it hurts, left foot: places"


def test_undo_shows_the_places_before(desk: Desk) -> None:
    press("calf", "Enter", "Tab")
    desk.enter()
    press("nav", "Enter", "Tab")
    desk.session.undo()
    assert list(desk.editor.places.marks) == ["calf"]
    desk.session.undo()
    assert not desk.editor.places.marks


def test_undo_is_left_to_the_record_unless_something_is_half_typed(
    desk: Desk, qtbot: QtBot
) -> None:
    undone: list[str] = []
    shortcut = QShortcut(QKeySequence.StandardKey.Undo, desk.window)
    shortcut.activated.connect(partial(undone.append, "record"))
    qtbot.keyClick(desk.editor.chooser.line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert undone == ["record"]
    press("calf", "Enter", "nav")
    qtbot.keyClick(desk.editor.chooser.line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert undone == ["record"]


def test_the_cell_tells_the_sheet_once_that_the_keys_are_here(desk: Desk) -> None:
    told: list[object] = []
    desk.go_elsewhere()
    desk.cell.focused.connect(told.append)
    desk.enter()
    press("Enter", "calf", "Enter")
    assert told == [desk.cell]


@pytest.mark.parametrize("mode", [theme.LIGHT, theme.DARK])
@pytest.mark.parametrize("width", [160, 420, 900])
def test_every_place_can_be_painted_chosen_and_at_hand(
    open_cell: Open, mode: theme.Theme, width: int
) -> None:
    desk = open_cell("complaint-site", Side.RIGHT, mode, width)
    press("Space")
    for region in view_names():
        desk.editor.places.toggle(region)
        desk.editor.places.at = region
    desk.editor.chooser.refresh()
    for view in VIEWS:
        desk.editor.places.show_view(view)
        desk.editor.chooser.refresh()
        assert not desk.window.grab().isNull()
    assert desk.editor.typed() == list(desk.editor.places.catalogue.regions)


def test_a_closed_cell_is_freed(open_cell: Open) -> None:
    desk = open_cell("complaint-site", Side.LEFT)
    press("calf", "Enter", "Tab")
    editor = weakref.ref(desk.editor)
    panel = weakref.ref(desk.editor.chooser.panel)
    desk.session.recorded.disconnect(desk.refresh)
    desk.window.close()
    desk.window.deleteLater()
    desk.cells.clear()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()
    assert editor() is None
    assert panel() is None
