"""The list of the plan sheet: only changed rows are laid out, and at once."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from footexam.desktop.plan_list import PlanList
from footexam.desktop.plan_rows import Place, Row, What
from footexam.desktop.theme import LIGHT

ROWS = [
    Row(Place(What.HEAD), "Left foot"),
    *(
        Row(Place(What.FEATURE, str(number)), f"Feature {number}", checked=False)
        for number in range(9)
    ),
]
LONG = "fights " + "another feature, " * 12


@pytest.fixture
def shown(qtbot: QtBot) -> PlanList:
    made = PlanList(LIGHT)
    qtbot.addWidget(made)
    made.resize(300, 600)
    made.show()
    made.show_rows(list(ROWS))
    return made


def tops(shown: PlanList) -> list[int]:
    return [shown.visualItemRect(shown.item(number)).top() for number in range(shown.count())]


def test_a_row_that_grows_moves_the_others_at_once(shown: PlanList) -> None:
    before = tops(shown)
    rows = [*ROWS[:3], replace(ROWS[3], below=LONG), *ROWS[4:]]
    shown.show_rows(rows)
    after = tops(shown)
    assert after[:4] == before[:4]
    assert all(now > then + 30 for now, then in zip(after[4:], before[4:], strict=True))
    shown.show_rows(list(ROWS))
    assert tops(shown) == before


def test_what_stays_keeps_its_item_and_the_row_at_hand(shown: PlanList) -> None:
    shown.go_to(ROWS[5].place)
    changed: list[Place] = []
    shown.changed.connect(changed.append)
    kept = [shown.item(number) for number in (1, 5, 9)]
    shown.show_rows([*ROWS[:2], *ROWS[4:]])
    assert [shown.item(number) for number in (1, 3, 7)] == kept
    assert (shown.place, shown.currentRow()) == (ROWS[5].place, 3)
    assert changed == []


@pytest.mark.parametrize("gone", [1, 2, 3, 5])
def test_where_the_row_at_hand_goes_the_nearest_takes_its_place(shown: PlanList, gone: int) -> None:
    shown.go_to(ROWS[5].place)
    changed: list[Place] = []
    shown.changed.connect(changed.append)
    rows = [*ROWS[:5], *ROWS[5 + gone :]]
    shown.show_rows(rows)
    near = min(5, len(rows) - 1)
    assert (shown.place, shown.currentRow()) == (rows[near].place, near)
    assert changed == [rows[near].place]
