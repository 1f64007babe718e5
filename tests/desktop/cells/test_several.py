"""Several boxes: letters and Space fill and empty them; none stands alone."""

import pytest

from footexam.record.reading import Words
from tests.desktop.cells.driving import Desk, Open, click, press


@pytest.fixture
def desk(open_cell: Open) -> Desk:
    return open_cell("activity-kind", width=500)


def test_first_letters_fill_boxes_and_enter_takes_them_over(desk: Desk) -> None:
    press("r", "wa", "sta")
    assert desk.entries() == 0
    press("Enter")
    assert desk.value() == Words(("running", "standing-work", "walking"))
    assert (desk.entries(), desk.steps) == (1, [1])


def test_the_same_letters_empty_a_box(desk: Desk) -> None:
    press("r", "r", "Enter")
    assert desk.entries() == 0


def test_letters_that_two_words_begin_with_wait_and_point_at_the_first(desk: Desk) -> None:
    press("st")
    assert not desk.editor.filled
    assert desk.editor.options[desk.editor.at].value == "strength"
    press("a")
    assert desk.editor.filled == {"standing-work"}


def test_none_empties_the_others_and_they_empty_it(desk: Desk) -> None:
    press("r", "n")
    assert desk.editor.filled == {"none"}
    press("wa")
    assert desk.editor.filled == {"walking"}


def test_arrows_and_space_fill_and_empty(desk: Desk) -> None:
    press("Right", "Space", "Right", "Space", "Left", "Space")
    assert desk.editor.filled == {"running"}


def test_up_and_down_go_to_the_nearest_box_of_the_next_line(desk: Desk) -> None:
    boxes = desk.editor.boxes()
    assert len({box.top() for box in boxes}) > 1
    press("Down")
    below = desk.editor.at
    assert boxes[below].top() > boxes[0].top()
    assert boxes[below].left() == boxes[0].left()
    press("Up")
    assert desk.editor.at == 0
    press("Up")
    assert desk.editor.at == 0


@pytest.mark.parametrize("key", ["Backspace", "Delete"])
def test_all_boxes_are_emptied_by_one_key(desk: Desk, key: str) -> None:
    press("r", "wa", "Enter")
    desk.enter()
    press(key, "Enter")
    assert desk.value() is None


def test_a_click_fills_a_box_and_waits_for_more(desk: Desk) -> None:
    for at in (1, 2):
        click(desk.editor, desk.editor.boxes()[at].center().toPoint())
    assert desk.editor.filled == {"walking", "running"}
    assert desk.entries() == 0
    desk.go_elsewhere()
    assert desk.value() == Words(("running", "walking"))


def test_a_reading_shows_and_coming_back_makes_no_entry(desk: Desk) -> None:
    press("r", "Enter")
    desk.enter()
    assert desk.editor.filled == {"running"}
    press("Enter")
    assert desk.entries() == 1


def test_what_is_filled_is_told(desk: Desk) -> None:
    press("r", "wa", "Right")
    told = desk.editor.accessibleDescription()
    assert "chosen: walking, running" in told
    assert "at hand: " not in told
    press("Right")
    assert "at hand: jumping" in desk.editor.accessibleDescription()
    assert desk.editor.accessibleName() == "Activities"
