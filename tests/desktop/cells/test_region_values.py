"""A number for each place looked at: typed, refused, removed, kept as typed; 0 is a finding too."""

from decimal import Decimal

import pytest
from PySide6.QtCore import Qt

from footexam.desktop.cells.places import begins_number
from footexam.drawing.outlines import view_of
from footexam.record.reading import RegionValues
from footexam.terms import Side
from tests.desktop.cells.driving import Desk, Open, click, press


@pytest.fixture
def desk(open_cell: Open) -> Desk:
    return open_cell("tenderness", Side.RIGHT)


def values(desk: Desk) -> dict[str, Decimal]:
    value = desk.value()
    assert isinstance(value, RegionValues)
    return dict(value.values)


def test_a_place_by_its_letters_then_its_number(desk: Desk) -> None:
    press("heel me", "Enter", "6", "Enter", "arch ce", "Enter", "0", "Enter")
    assert desk.entries() == 0
    press("Tab")
    assert values(desk) == {"heel-plantar-medial": 6, "arch-central": 0}
    assert desk.entries() == 1


def test_the_line_asks_for_the_number_of_the_place_at_hand(desk: Desk) -> None:
    press("heel me", "Enter")
    assert desk.editor.chooser.line.placeholderText() == "0 to 10 for Medial plantar heel"
    assert "no number yet" in desk.editor.chooser.line.accessibleDescription()


def test_enter_after_the_last_number_leaves_the_cell(desk: Desk) -> None:
    press("nav", "Enter", "3", "Enter", "Enter")
    assert desk.steps == [1]
    assert values(desk) == {"navicular": 3}


def test_arrows_go_from_place_to_place_and_take_the_number_along(desk: Desk) -> None:
    press("web", "Enter", "1", "Down", "2", "Down", "3", "Enter")
    assert desk.editor.places.marks == {
        "web-space-1": "1",
        "web-space-2": "2",
        "web-space-3": "3",
    }


def test_a_number_typed_and_not_entered_is_taken_when_the_cell_is_left(desk: Desk) -> None:
    press("nav", "Enter", "4", "Tab")
    assert values(desk) == {"navicular": 4}


def test_a_number_typed_and_not_entered_is_taken_when_the_keys_are_lost(desk: Desk) -> None:
    press("nav", "Enter", "4")
    desk.go_elsewhere()
    assert values(desk) == {"navicular": 4}


def test_a_place_without_a_number_is_no_finding(desk: Desk) -> None:
    press("nav", "Enter", "Tab")
    assert desk.entries() == 0
    assert desk.steps == [1]


def test_a_number_without_a_place_asks_for_the_place(desk: Desk) -> None:
    press("6", "Enter")
    assert "First the place" in desk.editor.chooser.message.text()
    assert not desk.editor.places.marks
    press("Tab")
    assert desk.entries() == 0


@pytest.mark.parametrize("typed", ["11", "-1", "6.5", "6 7", "6x"])
def test_a_number_that_cannot_be_is_refused_and_stays(desk: Desk, typed: str) -> None:
    press("nav", "Enter", typed, "Enter", "Tab")
    assert desk.entries() == 0
    assert desk.steps == []
    assert desk.cell.message.text()
    assert desk.editor.places.marks == {"navicular": typed}
    press("6", "Enter", "Tab")
    assert values(desk) == {"navicular": 6}
    assert not desk.cell.message.text()


def test_a_new_number_replaces_the_old_one_and_delete_removes_it(desk: Desk) -> None:
    press("nav", "Enter", "6", "Enter", "7", "Enter")
    assert desk.editor.places.marks == {"navicular": "7"}
    press("Delete")
    assert not desk.editor.places.marks
    assert not desk.editor.dirty


def test_zero_is_told_as_looked_at_and_drawn_as_a_ring(desk: Desk) -> None:
    press("nav", "Enter", "0", "Enter")
    assert "Navicular: 0, looked at, nothing" in desk.editor.chooser.summary.text()
    shown = desk.editor.chooser.list
    told = [shown.item(at).data(Qt.ItemDataRole.AccessibleTextRole) for at in range(shown.count())]
    assert "Navicular, 0, looked at, nothing" in told
    assert "Groin, no number yet" in told


def test_a_click_on_the_map_brings_a_place_to_hand_for_its_number(desk: Desk) -> None:
    press("Space")
    shown = desk.editor.chooser.panel.map
    patches = view_of("plantar", Side.RIGHT).patches
    patch = next(patch for patch in patches if patch.region == "arch-central")
    click(shown, shown.point_of(*patch.at))
    assert not desk.editor.places.marks
    press("5", "Enter")
    assert desk.editor.places.marks == {"arch-central": "5"}


def test_a_click_elsewhere_takes_the_number_typed_before(desk: Desk) -> None:
    press("web", "Enter", "5")
    shown = desk.editor.chooser.list
    at = next(row for row in range(shown.count()) if shown.region(row) == "web-space-2")
    click(shown.viewport(), shown.visualItemRect(shown.item(at)).center())
    assert desk.editor.places.marks == {"web-space-1": "5"}
    assert desk.editor.places.at == "web-space-2"


def test_what_was_typed_with_a_unit_is_kept_when_another_place_is_added(
    open_cell: Open,
) -> None:
    desk = open_cell("skin-temperature", Side.LEFT)
    press("nav", "Enter", "88 °F", "Enter", "Tab")
    first = values(desk)["navicular"]
    desk.enter()
    press("cuboid", "Enter", "31,2", "Enter", "Tab")
    assert values(desk) == {"navicular": first, "cuboid": Decimal("31.2")}
    reading = desk.reading()
    assert reading is not None
    assert reading.typed == "navicular: 88 °F; cuboid: 31,2"
    assert desk.editor.places.marks == {"navicular": "88 °F", "cuboid": "31,2"}
    assert "Cuboid: 31,2 degC" in desk.editor.chooser.summary.text()


def test_coming_and_going_again_makes_no_entry(desk: Desk) -> None:
    press("nav", "Enter", "6", "Enter", "Tab")
    desk.enter()
    press("Enter", "Down", "Enter")
    assert desk.entries() == 1


@pytest.mark.parametrize("typed", ["6", " 6", "-1", "−1", "+2", ".5", ",5"])
def test_digits_and_signs_begin_a_number(typed: str) -> None:
    assert begins_number(typed)


@pytest.mark.parametrize("typed", ["", " ", "heel", "m1"])
def test_letters_begin_a_place(typed: str) -> None:
    assert not begins_number(typed)
