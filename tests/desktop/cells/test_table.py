"""Tables and activities: field by field with Enter, rows come and go, the whole is one reading."""

from collections.abc import Sequence
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QSpinBox, QWidget

from footexam.catalogue.model import Catalogue
from footexam.desktop.cells.rows import Field
from footexam.desktop.cells.table import field_kind
from footexam.record.cells import COLUMN_KINDS
from footexam.record.reading import Activities, NoneKnown, Rows
from footexam.terms import Kind
from tests.desktop.cells.driving import Desk, Open, press


@pytest.fixture
def illnesses(open_cell: Open) -> Desk:
    return open_cell("conditions", width=700)


@pytest.fixture
def wounds(open_cell: Open) -> Desk:
    return open_cell("wound", width=900)


@pytest.fixture
def activities(open_cell: Open) -> Desk:
    return open_cell("function-activities", width=700)


def rows(desk: Desk) -> Sequence[object]:
    value = desk.value()
    assert isinstance(value, Rows)
    return [dict(row) for row in value.rows]


def texts(desk: Desk) -> list[list[str]]:
    return [[field.text() for field in row] for row in desk.editor.rows]


def at(desk: Desk) -> tuple[int, int]:
    """Row and column of the field that has the keys."""
    focus = QApplication.focusWidget()
    return next(
        (row, fields.index(focus)) for row, fields in enumerate(desk.editor.rows) if focus in fields
    )


def test_enter_goes_field_by_field_and_on_to_a_new_row(wounds: Desk) -> None:
    press("heel me", "Enter", "3", "Enter", "f", "Enter", "12,5", "Enter", "y", "Enter")
    assert at(wounds) == (1, 0)
    press("toe 5", "Enter", "1", "Tab", "Tab", "Tab", "Tab")
    assert wounds.steps == [1]
    assert rows(wounds) == [
        {
            "region": "heel-plantar-medial",
            "weeks": Decimal(3),
            "depth": "fat",
            "size_mm": Decimal("12.5"),
            "infected": "yes",
        },
        {"region": "toe-5", "weeks": Decimal(1)},
    ]
    assert wounds.entries() == 1


def test_nothing_is_recorded_before_the_table_is_left(wounds: Desk) -> None:
    press("heel", "Enter", "3", "Enter")
    assert wounds.entries() == 0
    wounds.go_elsewhere()
    assert rows(wounds) == [{"region": "heel-plantar", "weeks": Decimal(3)}]


def test_enter_on_an_empty_row_leaves_and_the_row_is_nothing(wounds: Desk) -> None:
    press("Enter")
    assert wounds.steps == [1]
    assert wounds.entries() == 0
    wounds.enter()
    press("heel", "Enter", "Enter", "Enter", "Enter", "Enter")
    assert at(wounds) == (1, 0)
    press("Enter")
    assert wounds.steps == [1, 1]
    assert rows(wounds) == [{"region": "heel-plantar"}]


def test_coming_back_shows_the_rows_in_words_and_makes_no_entry(wounds: Desk) -> None:
    press("heel me", "Enter", "3", "Enter", "f", "Enter", "Enter", "y", "Enter", "Enter")
    assert texts(wounds) == [["Medial plantar heel", "3", "fat", "", "yes"]]
    wounds.enter()
    press(*["Enter"] * 5)
    press("Enter")
    assert wounds.entries() == 1


def test_shift_enter_and_shift_tab_go_back_field_by_field_and_out(wounds: Desk) -> None:
    press("heel", "Enter", "Enter", "Shift+Enter", "Shift+Tab")
    assert at(wounds) == (0, 0)
    press("Shift+Tab")
    assert wounds.steps == [-1]
    assert rows(wounds) == [{"region": "heel-plantar"}]


def test_up_and_down_stay_in_the_column(wounds: Desk) -> None:
    press("heel", *["Enter"] * 5, "calf", "Enter", "4", "Up")
    assert at(wounds) == (0, 1)
    press("Up")
    assert at(wounds) == (0, 1)
    press("Down")
    assert at(wounds) == (1, 1)


def test_control_delete_removes_a_row_and_undo_brings_it_back(wounds: Desk) -> None:
    press("heel", *["Enter"] * 5, "calf", *["Enter"] * 5, "groin", "Tab")
    wounds.go_elsewhere()
    assert len(rows(wounds)) == 3
    wounds.enter()
    press("Down", "Ctrl+Delete")
    assert at(wounds) == (1, 0)
    assert [row[0] for row in texts(wounds)] == ["Plantar heel", "Groin"]
    wounds.go_elsewhere()
    assert [row["region"] for row in rows(wounds)] == ["heel-plantar", "groin"]  # type: ignore[index]
    wounds.session.undo()
    assert [row[0] for row in texts(wounds)] == ["Plantar heel", "Calf", "Groin"]


def test_removing_the_only_row_empties_the_table(wounds: Desk) -> None:
    press("heel", "Tab")
    wounds.go_elsewhere()
    wounds.enter()
    press("Ctrl+Delete")
    assert at(wounds) == (0, 0)
    wounds.go_elsewhere()
    assert wounds.value() is None


def test_removing_the_last_row_goes_to_the_one_before(wounds: Desk) -> None:
    press("heel", *["Enter"] * 5, "calf", "Ctrl+Delete")
    assert at(wounds) == (0, 0)
    assert [row[0] for row in texts(wounds)] == ["Plantar heel"]


def test_a_place_is_shown_while_its_letters_are_typed(wounds: Desk) -> None:
    press("heel me")
    assert wounds.editor.note.text().startswith("Enter takes the first: Medial plantar heel")
    press("xx")
    assert "No place" in wounds.editor.note.text()


def test_letters_of_several_places_are_never_taken_unseen(wounds: Desk) -> None:
    press("heel")
    press("x", "Backspace", "Backspace", "Backspace")
    assert wounds.editor.rows[0][0].text() == "he"
    wounds.go_elsewhere()
    assert wounds.entries() == 0
    assert wounds.cell.message.text()
    assert wounds.editor.rows[0][0].text() == "he"


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        (("heel", "Enter", "x"), "x"),
        (("heel", "Enter", "9999"), "9999"),
        (("heel", "Enter", "Enter", "muscle"), "muscle"),
        (("heel", "Enter", "Enter", "Enter", "Enter", "perhaps"), "perhaps"),
    ],
)
def test_what_a_field_does_not_take_is_refused_and_stays(
    wounds: Desk, keys: tuple[str, ...], told: str
) -> None:
    press(*keys)
    wounds.go_elsewhere()
    assert wounds.entries() == 0
    assert told in wounds.cell.message.text()
    assert told in [text for row in texts(wounds) for text in row]


def test_a_table_refused_at_tab_keeps_the_keys(open_cell: Open) -> None:
    desk = open_cell("weekly-load", width=900)
    press("2026-02-24", *["Tab"] * 5)  # a Tuesday
    assert desk.steps == []
    assert "Monday" in desk.cell.message.text()
    press(*["Shift+Tab"] * 4, "2026-02-23", *["Tab"] * 5)
    assert rows(desk) == [{"week": "2026-02-23"}]
    assert desk.steps == [1]


def test_escape_puts_the_table_back(wounds: Desk) -> None:
    press("heel", "Enter", "3", "Escape")
    assert texts(wounds) == [["", "", "", "", ""]]
    assert not wounds.editor.dirty
    wounds.go_elsewhere()
    assert wounds.entries() == 0


def test_typing_and_taking_away_again_is_no_change(wounds: Desk) -> None:
    press("h")
    assert wounds.editor.dirty
    press("Backspace")
    assert not wounds.editor.dirty


def test_n_answers_none_known_and_goes_on(illnesses: Desk) -> None:
    press("n")
    assert illnesses.value() == NoneKnown()
    assert illnesses.steps == [1]
    assert not illnesses.editor.rows[0][0].isVisible()


def test_other_letters_begin_the_first_row(illnesses: Desk) -> None:
    press("gout", "Enter", "left toe", "Enter", "2019", "Enter", "Enter")
    assert rows(illnesses) == [{"what": "gout", "detail": "left toe", "since": "2019"}]
    assert illnesses.steps == [1]


@pytest.mark.parametrize("key", ["Enter", "Tab", "Down"])
def test_a_word_with_n_is_typed_in_the_row(illnesses: Desk, key: str) -> None:
    press(key, "neuropathy")
    illnesses.go_elsewhere()
    assert rows(illnesses) == [{"what": "neuropathy"}]


def test_enter_twice_passes_an_empty_table_by(illnesses: Desk) -> None:
    press("Enter", "Enter")
    assert illnesses.steps == [1]
    assert illnesses.entries() == 0


def test_none_known_is_emptied_by_the_same_key_or_by_a_line(illnesses: Desk) -> None:
    press("n")
    illnesses.enter()
    press("Space")
    assert illnesses.editor.rows[0][0].isVisible()
    illnesses.go_elsewhere()
    assert illnesses.value() is None
    illnesses.enter()
    press("n")
    illnesses.enter()
    press("gout")
    illnesses.go_elsewhere()
    assert rows(illnesses) == [{"what": "gout"}]


def test_none_known_over_filled_rows_is_undone_to_them(illnesses: Desk) -> None:
    press("gout")
    illnesses.go_elsewhere()
    illnesses.enter()
    press("n")
    assert illnesses.value() == NoneKnown()
    illnesses.session.undo()
    assert rows(illnesses) == [{"what": "gout"}]
    assert texts(illnesses) == [["gout", "", ""]]
    assert illnesses.editor.rows[0][0].isVisible()


def test_only_tables_that_take_none_known_have_its_box(wounds: Desk, illnesses: Desk) -> None:
    assert wounds.editor.none is None
    assert illnesses.editor.none is not None


def test_activities_with_their_scores(activities: Desk) -> None:
    press("stairs", "Enter", "4", "Enter", "running, 5 km", "Enter", "0", "Enter", "Enter")
    assert activities.value() == Activities((("stairs", 4), ("running, 5 km", 0)))
    assert activities.steps == [1]
    activities.enter()
    assert texts(activities) == [["stairs", "4"], ["running, 5 km", "0"]]


def test_after_five_activities_enter_leaves(activities: Desk) -> None:
    for number in "12345":
        press(f"number {number}", "Enter", number, "Enter")
    assert activities.steps == [1]
    value = activities.value()
    assert isinstance(value, Activities)
    assert len(value.items) == 5


@pytest.mark.parametrize("score", ["", "11", "4.5", "x"])
def test_an_activity_without_a_whole_score_is_refused(activities: Desk, score: str) -> None:
    press("stairs", "Enter", *([score] if score else []), "Tab")
    assert activities.entries() == 0
    assert activities.steps == []
    assert activities.cell.message.text()


def test_every_field_is_named_by_row_and_column_and_says_what_it_takes(illnesses: Desk) -> None:
    press("gout", "Enter", "Enter", "Enter", "asthma")
    names = []
    for widget in illnesses.editor.findChildren(QWidget):
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and widget.isVisible():
            told = QAccessible.queryAccessibleInterface(widget)
            names.append(told.text(QAccessible.Text.Name))
            assert told.text(QAccessible.Text.Description), widget
    assert "Illnesses: None known" in names
    assert "Illnesses, line 1, Since" in names
    assert "Illnesses, line 2, Illness" in names
    assert all(names)


def test_the_order_of_tab_is_the_order_of_reading(wounds: Desk) -> None:
    press("heel", *["Enter"] * 5, "calf")
    wounds.enter()
    walked = []
    for _ in wounds.editor.fields():
        walked.append(QApplication.focusWidget())
        press("Tab")
    assert walked == wounds.editor.fields()
    assert wounds.after.hasFocus()


def test_the_chain_of_qt_is_the_order_of_reading_too(wounds: Desk) -> None:
    press("heel", *["Enter"] * 5, "calf")
    chain, widget = [], wounds.editor.rows[0][0]
    while len(chain) < 10:
        if isinstance(widget, Field):
            chain.append(widget)
        widget = widget.nextInFocusChain()
    assert chain == wounds.editor.fields()


@pytest.mark.parametrize("width", [200, 420, 1000])
def test_a_narrow_table_puts_a_row_on_several_lines_in_reading_order(
    open_cell: Open, width: int
) -> None:
    desk = open_cell("session-log", width=width)
    press("2026-05-01", "Enter", "run", "Enter", "30")
    places = [(field.y(), field.x()) for field in desk.editor.fields()]
    assert places == sorted(places)
    lines = len({top for top, _ in places})
    assert lines == {200: len(places), 1000: 1}.get(width, lines)
    assert 1 < lines < len(places) or width != 420
    for field in desk.editor.fields():
        assert field.label.isVisible()
        assert field.geometry().right() <= desk.editor.width()


def test_there_are_no_spin_boxes(wounds: Desk, activities: Desk) -> None:
    for desk in (wounds, activities):
        assert not desk.editor.findChildren(QSpinBox)


def test_every_column_of_the_forms_has_a_field(catalogue: Catalogue) -> None:
    kinds = set()
    for measure in catalogue.measures.values():
        if measure.kind is Kind.TABLE:
            for column in measure.columns:
                kinds.add(column.kind)
                kind = field_kind(column, catalogue)
                assert kind.label
                assert kind.takes
    assert kinds == COLUMN_KINDS
