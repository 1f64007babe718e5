"""The plan sheet at the keyboard: aims, features, dimensions, what if, undo, signed, held back."""

import random

import pytest
from PySide6.QtCore import QPoint, Qt, QUrl
from PySide6.QtWidgets import QLineEdit, QWidget

from footexam.desktop.plan_page import PlanPage
from footexam.desktop.plan_rows import Place, What
from footexam.desktop.session import ADVICE
from footexam.desktop.theme import DARK, LIGHT
from footexam.reasoning.planned import Plan
from footexam.reasoning.sheet import OnSheet
from footexam.record.entry import EntryKind
from footexam.terms import Side
from tests.desktop.conftest import MakeWindow
from tests.desktop.test_audit import clipped, focusable, name_of, tab_chain, top_left
from tests.desktop.test_weighing import lines, sign
from tests.desktop.user import User, settle

ALT = Qt.KeyboardModifier.AltModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
KEY = Qt.Key
LEFT, RIGHT = Side.LEFT, Side.RIGHT
EQUINUS = "gastroc-equinus-forefoot-load"
AIM = "offset-ankle-dorsiflexion-deficit"
LIFT = "heel-lift"
COLD = "caution-cold-pale-foot"


def accepted(user: User, side: Side = LEFT) -> PlanPage:
    """A stiff ankle that loads the forefoot stands accepted; the plan is open."""
    session = user.record.session
    session.enter(("complaint-site", side), ["met-head-2"])
    session.enter(("ankle-dorsiflexion-knee-straight", side), "2")
    session.enter(("foot-length", side), "26 cm")
    session.enter(("shoe-drop", side), "4 mm")
    assert session.accept(EQUINUS, side).taken
    user.presses(KEY.Key_L, CONTROL)
    assert user.record.planning.is_open
    return user.record.planning.page


def plan(user: User) -> Plan:
    return user.record.session.assessment.reasons.plan


def decisions(user: User, kind: str) -> list[dict[str, str]]:
    return list(user.record.session.examination.decisions[kind])


def walks_to(user: User, page: PlanPage, place: Place) -> None:
    """Press the arrow keys until a row is at hand."""
    user.presses(KEY.Key_Home)
    for _ in page.list.rows():
        if page.place == place:
            return
        user.presses(KEY.Key_Down)
    pytest.fail(f"{place} is not shown: {[row.words for row in page.list.rows()]}")


def keeps_the_aim(user: User, page: PlanPage) -> None:
    walks_to(user, page, Place(What.AIM, AIM, LEFT))
    user.presses(KEY.Key_Space)
    assert decisions(user, "aims") == [{"id": AIM, "side": "left"}]


def goes_to_the_lift(user: User, page: PlanPage) -> None:
    walks_to(user, page, Place(What.FEATURE, LIFT, LEFT, AIM))


def height(user: User) -> str:
    (one,) = [one for one in decisions(user, "features") if one["id"] == LIFT]
    return one["height"]


# --- the walk


@pytest.mark.usefixtures("visit")
def test_aims_are_proposed_and_one_is_kept_and_dropped_by_one_key(user: User) -> None:
    page = accepted(user)
    assert page.list.hasFocus()
    assert page.list.rows()[0].words == "Left foot"
    assert not any(row.checked for row in page.list.rows())
    walks_to(user, page, Place(What.AIM, AIM, LEFT))
    assert "Because you accepted" in page.text.toPlainText()
    assert "in this order" in page.text.toPlainText()
    before = len(user.record.session.journal)
    user.presses(KEY.Key_Space)
    (entry,) = list(user.record.session.journal)[before:]
    assert entry.draft.kind is EntryKind.DECIDE
    assert (entry.draft.target, entry.draft.side) == (f"aim:{AIM}", LEFT)
    assert any(row.level for row in page.list.rows())  # kept: its features unfold
    assert any("Make up for lost ankle dorsiflexion, left" in words for words in lines(user))
    user.presses(KEY.Key_Space)
    assert decisions(user, "aims") == []
    user.presses(KEY.Key_Y, CONTROL)
    assert decisions(user, "aims") == [{"id": AIM, "side": "left"}]
    assert page.list.hasFocus()


@pytest.mark.usefixtures("visit")
def test_the_features_stand_in_the_order_of_the_plan_with_evidence_and_grade(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    (aim,) = [one for one in plan(user).aims if one.id == AIM]
    shown = [row.place.id for row in page.list.rows() if row.place.aim == AIM]
    assert shown == [one.id for one in aim.candidates]
    goes_to_the_lift(user, page)
    text = page.text.toPlainText()
    (lift,) = [one for one in aim.candidates if one.id == LIFT]
    assert lift.feature.mechanism["en"] in text
    assert lift.claims[0].text["en"] in text
    assert "Best evidence" in text
    assert "Controlled trials" in text or "Cohorts followed" in text or "Expert opinion" in text
    assert "E1" not in text  # grades stand in words
    assert lift.cautions[0].says["en"] in text
    assert "Sources" in text


@pytest.mark.usefixtures("visit")
def test_a_feature_is_chosen_with_the_dimensions_that_are_shown(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    shown = page.sizes.lines[0].placeholderText().replace("\u00a0", " ")
    user.presses(KEY.Key_Space)
    assert height(user) == shown
    assert any(words.startswith("Heel lift") and shown in plain(words) for words in lines(user))
    user.presses(KEY.Key_Space)
    assert decisions(user, "features") == []


def plain(words: str) -> str:
    return words.replace("\u00a0", " ")


@pytest.mark.usefixtures("visit")
def test_six_millimetres_are_tried_then_taken_then_undone(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.presses(KEY.Key_Space)
    chosen, count = height(user), len(user.record.session.journal)
    effects, drawn = page.sizes.effects.text(), page.drawings.views[0]._drawing
    user.types("6 mm")  # the digit goes into the first dimension by itself
    assert isinstance(user.at, QLineEdit)
    assert user.at.text() == "6 mm"
    assert "height" in user.place.casefold()
    assert "mm" in user.place
    assert len(user.record.session.journal) == count  # only tried
    assert height(user) == chosen
    tried = page.sizes.effects.text()
    assert tried != effects
    assert page.drawings.views[0]._drawing != drawn
    assert "not taken yet" in page.sizes.remark.text()
    user.presses(KEY.Key_Return)
    assert height(user) == "6 mm"
    assert page.sizes.effects.text() == tried  # what was shown is what was taken
    assert page.sizes.remark.text() == ""
    assert page.list.hasFocus()
    user.presses(KEY.Key_Z, CONTROL)
    assert height(user) == chosen
    assert page.sizes.effects.text() == effects
    assert user.record.planning.is_open


@pytest.mark.usefixtures("visit")
def test_escape_puts_back_what_was_tried_and_then_leads_back(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.presses(KEY.Key_Space)
    chosen, count = height(user), len(user.record.session.journal)
    effects = page.sizes.effects.text()
    user.types("9,5")
    assert page.sizes.effects.text() != effects
    user.presses(KEY.Key_Escape)
    assert (height(user), len(user.record.session.journal)) == (chosen, count)
    assert page.sizes.effects.text() == effects
    assert user.at.text() == chosen
    user.presses(KEY.Key_Escape)
    assert page.list.hasFocus()
    user.presses(KEY.Key_Escape)
    assert not user.record.planning.is_open
    assert user.record.worksheet.current().editor.isAncestorOf(user.at)


@pytest.mark.usefixtures("visit")
def test_typing_a_dimension_chooses_the_feature(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.types("7,5").presses(KEY.Key_Return)
    assert height(user) == "7,5"  # as it was typed
    (lift,) = [one for one in plan(user).chosen if one.id == LIFT]
    assert lift.dimensions[0].value == pytest.approx(7.5)


@pytest.mark.usefixtures("visit")
@pytest.mark.parametrize("typed", ["6 cm", "six", "6 mm mm", "1e3", "6-"])
def test_what_is_no_number_in_the_unit_is_refused_and_stays(user: User, typed: str) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.presses(KEY.Key_Return).types(typed).presses(KEY.Key_Return)
    assert decisions(user, "features") == []
    assert user.at.text() == typed
    assert "is not a number in mm" in page.sizes.remark.text()


@pytest.mark.usefixtures("visit")
@pytest.mark.parametrize("typed", ["60", "-3 mm"])
def test_beyond_what_it_can_have_is_asked_once_and_kept_as_typed(user: User, typed: str) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.types(typed).presses(KEY.Key_Return)
    assert decisions(user, "features") == []
    assert "Enter again keeps it" in page.sizes.remark.text()
    user.presses(KEY.Key_Return)
    assert height(user) == typed
    assert "outside what it can have" in page.sizes._rests[0].text()


@pytest.mark.usefixtures("visit")
def test_another_row_puts_back_what_was_tried_and_says_so(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    told: list[str] = []
    user.record.told.connect(told.append)
    user.types("9")
    page.list.setFocus()
    user.presses(KEY.Key_Down)
    assert told == ["9 was tried and is put back; Enter would have taken it."]
    assert decisions(user, "features") == []
    assert not page.is_half_typed


@pytest.mark.usefixtures("visit")
def test_what_is_half_typed_keeps_the_record_open(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.types("9").presses(KEY.Key_W, CONTROL)
    assert user.window.record is not None
    assert user.at.text() == "9"
    user.presses(KEY.Key_D, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    assert user.at.text() == "9"  # no other look while something is half typed
    user.presses(KEY.Key_Escape).presses(KEY.Key_W, CONTROL)
    assert user.window.record is None


# --- clashes, room, device


@pytest.mark.usefixtures("visit")
def test_features_that_fight_each_other_are_named(user: User) -> None:
    page = accepted(user)
    session = user.record.session
    catalogue = session.catalogue
    conflict = next(
        one
        for one in catalogue.conflicts.values()
        if len(one.features) == 2 and not (one.when or one.aims or one.limits)
    )
    first, second = conflict.features
    session.choose_feature(first, LEFT, {})
    session.choose_feature(second, LEFT, {})
    serving = next(
        aim for aim in catalogue.aims.values() if aim.id in catalogue.features[first].aims
    )
    assert session.accept(serving.hypotheses[0], LEFT).taken
    page.go_to(Place(What.FEATURE, first, LEFT))
    settle()
    assert page.place == Place(What.FEATURE, first, LEFT, page.place.aim)
    row = next(row for row in page.list.rows() if row.place == page.place)
    name = catalogue.features[second].label["en"]
    assert name in row.below
    text = page.text.toPlainText()
    assert "Fights what is chosen" in text
    assert conflict.why["en"] in text


@pytest.mark.usefixtures("visit")
def test_a_number_of_a_source_leads_to_its_line(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.window.resize(user.window.width(), 420)
    settle()
    bar, text = page.area.verticalScrollBar(), page.text
    for number in (1, 2):
        bar.setValue(0)
        text.anchorClicked.emit(QUrl(f"#source-{number}"))
        top = text.top_of(f"source-{number}")
        line = text.cursorForPosition(QPoint(4, top + 4)).block().text()
        assert line.startswith(f"[{number}] ")
        assert bar.value() == min(bar.maximum(), text.y() + top) > 0
    assert text.top_of("source-1") < text.top_of("source-2")
    assert text.top_of("nowhere") == 0


@pytest.mark.usefixtures("visit")
def test_the_room_in_the_shoe_follows_the_lift_and_says_what_is_missing(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.types("6 mm").presses(KEY.Key_Return)
    room = Place(What.ROOM, side=LEFT)
    walks_to(user, page, room)
    assert "6 mm high under the heel" in plain(page.text.toPlainText())
    assert "whether it fits is not known" in page.text.toPlainText()
    page.text.anchorClicked.emit(QUrl("cell:shoe-heel-depth:"))
    assert not user.record.planning.is_open
    assert user.record.worksheet.current().key[0] == "shoe-heel-depth"
    session = user.record.session
    key = user.record.worksheet.current().key
    session.enter(key, "40 mm")
    session.enter(("shoe-insole-thickness", key[1]), "2 mm")
    user.presses(KEY.Key_L, CONTROL)
    walks_to(user, page, room)
    assert "36 mm of the counter left, 90 %" in plain(page.text.toPlainText())
    goes_to_the_lift(user, page)
    user.types("20")
    shown = next(row for row in page.list.rows() if row.place == room)
    assert shown.below.startswith("heel does not fit")  # while it is only tried
    user.presses(KEY.Key_Escape)
    shown = next(row for row in page.list.rows() if row.place == room)
    assert shown.below.startswith("heel fits")


@pytest.mark.usefixtures("visit")
def test_before_a_boot_what_is_not_recorded_is_named(user: User) -> None:
    page = accepted(user)
    session = user.record.session
    session.choose_feature("walking-boot", LEFT, {})
    settle()
    walks_to(user, page, Place(What.UNMET))
    text = page.text.toPlainText()
    missing = [name for one in plan(user).unmet for name in one.missing]
    assert missing
    for name in missing:
        assert session.catalogue.measures[name].label["en"] in text


@pytest.mark.usefixtures("visit")
def test_a_feature_that_is_refused_for_this_person_is_not_chosen(user: User) -> None:
    page = accepted(user)
    session = user.record.session
    session.enter(("shoe-kind", None), "trainer")
    blocked = [one for one in plan(user).candidates if one.avoid and one.is_blocked]
    told: list[str] = []
    user.record.told.connect(told.append)
    for one in blocked[:1]:
        page.go_to(Place(What.FEATURE, one.id, one.side))
        user.presses(KEY.Key_Space)
        assert decisions(user, "features") == []
        assert "not to be used here" in told[-1]


# --- signed, held back, struck


@pytest.mark.usefixtures("visit")
def test_a_signed_record_asks_for_the_reason(user: User) -> None:
    page = accepted(user)
    sign(user)
    walks_to(user, page, Place(What.AIM, AIM, LEFT))
    user.presses(KEY.Key_Space)
    assert decisions(user, "aims") == []
    assert "signed" in user.place
    user.presses(KEY.Key_Return)
    assert decisions(user, "aims") == []  # nothing is no reason
    user.enters("agreed with the patient on the telephone")
    assert decisions(user, "aims") == [{"id": AIM, "side": "left"}]
    last = list(user.record.session.journal)[-1]
    assert last.draft.reason == "agreed with the patient on the telephone"
    assert page.list.hasFocus()
    goes_to_the_lift(user, page)
    user.types("6").presses(KEY.Key_Return)
    assert decisions(user, "features") == []
    user.enters("the same")
    assert height(user) == "6"
    user.record.planning.page.focus_list()
    user.presses(KEY.Key_Space).enters("no lift after all")
    assert decisions(user, "features") == []
    assert list(user.record.session.journal)[-1].draft.reason == "no lift after all"


@pytest.mark.usefixtures("visit")
def test_a_held_side_says_which_caution_holds_it_and_how_to_lift_it(user: User) -> None:
    page = accepted(user)
    session = user.record.session
    keeps_the_aim(user, page)
    assert session.choose_feature(LIFT, LEFT, {"height": "6 mm"}).taken
    session.enter((COLD, LEFT), "yes")
    settle()
    mine = [row for row in page.list.rows() if row.place.side is LEFT and not row.is_head]
    assert [row.place.what for row in mine] == [What.HELD]
    caution = session.catalogue.cautions["acute-limb-ischaemia"].label["en"]
    assert caution in mine[0].words
    walks_to(user, page, Place(What.HELD, side=LEFT))
    assert "Ctrl+G" in page.text.toPlainText()
    assert caution in page.text.toPlainText()
    assert not page.sizes.isVisible()
    assert page.drawings.is_empty
    user.presses(KEY.Key_Return)
    assert user.record.weigher.is_open
    user.types("a").enters("vascular team on the phone, ambulance called")
    user.presses(KEY.Key_Escape)
    assert user.record.planning.is_open  # back where one came from
    assert page.list.hasFocus()
    assert any(row.place.id == LIFT and row.checked for row in page.list.rows())


@pytest.mark.usefixtures("visit")
def test_what_is_struck_through_takes_no_decision(user: User) -> None:
    page = accepted(user)
    user.record.session.in_error = True
    walks_to(user, page, Place(What.AIM, AIM, LEFT))
    user.presses(KEY.Key_Space)
    assert decisions(user, "aims") == []


@pytest.mark.usefixtures("visit")
def test_what_was_never_decided_cannot_be_dropped(user: User) -> None:
    session = user.record.session
    before = len(session.journal)
    answer = session.drop_decision(f"feature:{LIFT}", LEFT)
    assert not answer.taken
    assert answer.refusal
    assert len(session.journal) == before


@pytest.mark.usefixtures("visit")
def test_dropping_takes_back_every_time_it_was_decided(user: User) -> None:
    session = user.record.session
    for size in ("6 mm", "7 mm", "8 mm"):
        session.choose_feature(LIFT, LEFT, {"height": size})
    session.choose_feature(LIFT, RIGHT, {"height": "5 mm"})
    assert session.drop_decision(f"feature:{LIFT}", LEFT).taken
    assert decisions(user, "features") == [{"id": LIFT, "side": "right", "height": "5 mm"}]


# --- exercise and load


@pytest.mark.usefixtures("visit")
def test_advice_is_written_with_prompts_beside_it(user: User) -> None:
    page = accepted(user)
    walks_to(user, page, Place(What.ADVICE))
    text = page.text.toPlainText()
    for prompt in ("calf", "First steps", "Return to running"):
        assert prompt in text
    user.presses(KEY.Key_Return).types("heel raises, slow, every other day")
    user.presses(KEY.Key_Escape)  # puts back
    assert user.reading(ADVICE) is None
    user.types("heel raises").presses(KEY.Key_Tab)
    reading = user.reading(ADVICE)
    assert reading is not None
    assert reading.value.text == "heel raises"
    row = next(row for row in page.list.rows() if row.place.what is What.ADVICE)
    assert row.below == "heel raises"


@pytest.mark.usefixtures("visit")
def test_advice_half_written_is_taken_over_before_the_record_is_left(user: User) -> None:
    page = accepted(user)
    walks_to(user, page, Place(What.ADVICE))
    user.presses(KEY.Key_Return).types("walk").presses(KEY.Key_L, CONTROL)
    reading = user.reading(ADVICE)
    assert reading is not None
    assert reading.value.text == "walk"


@pytest.mark.usefixtures("visit")
def test_advice_is_never_offered_while_a_caution_forbids_to_load(user: User) -> None:
    user.presses(KEY.Key_2, ALT).goes_to(COLD, LEFT).types("y")
    session = user.record.session
    assert session.bars_load
    user.presses(KEY.Key_L, CONTROL)
    page = user.record.planning.page
    walks_to(user, page, Place(What.ADVICE))
    assert not page.advice.isVisible()
    assert "Ctrl+G" in page.text.toPlainText()
    refused = session.enter((ADVICE, None), "heel raises")
    assert not refused.taken
    assert user.reading(ADVICE) is None
    user.presses(KEY.Key_1, ALT).presses(KEY.Key_M, CONTROL)
    assert ADVICE not in [cell.key[0] for cell in user.record.worksheet.order]
    assert session.offered(OnSheet((ADVICE, "complaint"), 0)).measures == ("complaint",)
    session.decide_caution("acute-limb-ischaemia", LEFT, "acted", "ambulance called")
    settle()
    assert ADVICE in [cell.key[0] for cell in user.record.worksheet.order]


# --- keys, looks, audits


@pytest.mark.usefixtures("visit")
def test_keys_of_the_sheet_lead_back_and_ctrl_l_again_does_too(user: User) -> None:
    accepted(user)
    user.presses(KEY.Key_L, CONTROL)
    assert not user.record.planning.is_open
    assert user.record.worksheet.current().editor.isAncestorOf(user.at)
    user.presses(KEY.Key_L, CONTROL).presses(KEY.Key_4, ALT)
    assert not user.record.planning.is_open
    assert user.record.panel == "lying"
    user.presses(KEY.Key_L, CONTROL).presses(KEY.Key_F6).presses(KEY.Key_F6)
    user.presses(KEY.Key_F6).presses(KEY.Key_F6)
    assert user.record.planning.page.list.hasFocus()  # once round all areas


@pytest.mark.usefixtures("visit")
def test_undo_of_a_reading_goes_to_its_cell(user: User) -> None:
    user.goes_to("foot-length", LEFT).enters("26 cm")
    user.presses(KEY.Key_L, CONTROL).presses(KEY.Key_Z, CONTROL)
    assert user.reading("foot-length", LEFT) is None
    assert not user.record.planning.is_open
    assert user.record.worksheet.current().key == ("foot-length", LEFT)


@pytest.mark.usefixtures("visit")
def test_lines_of_the_plan_lead_to_their_row(user: User) -> None:
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.types("6").presses(KEY.Key_Return).presses(KEY.Key_L, CONTROL)
    line = next(one for one in user.record.summary.lines() if one.words.startswith("Heel lift"))
    user.record.summary.wanted.emit(line.key)
    assert user.record.planning.is_open
    assert (page.place.what, page.place.id, page.place.side) == (What.FEATURE, LIFT, LEFT)


@pytest.mark.usefixtures("visit")
@pytest.mark.parametrize("chord", [KEY.Key_L, KEY.Key_G])
def test_a_line_leads_to_a_panel_that_was_never_opened(user: User, chord: Qt.Key) -> None:
    accepted(user)
    user.presses(KEY.Key_L, CONTROL).presses(chord, CONTROL)
    user.record.summary.wanted.emit(("hallux-dorsiflexion", LEFT))
    settle()
    assert user.record.worksheet.current().key == ("hallux-dorsiflexion", LEFT)
    assert not user.record.planning.is_open
    assert not user.record.weigher.is_open


@pytest.mark.usefixtures("visit")
def test_nothing_to_plan_says_how_a_plan_begins(user: User) -> None:
    user.presses(KEY.Key_L, CONTROL)
    page = user.record.planning.page
    assert page.list.rows()[0].place == Place(What.NOTHING)
    assert "accept" in page.text.toPlainText()


@pytest.mark.parametrize(("zoom", "dark"), [(1.0, False), (1.25, True), (1.5, False), (2.0, True)])
def test_names_order_and_room_at_every_size(
    make_window: MakeWindow, zoom: float, dark: bool
) -> None:
    user = User(make_window(DARK if dark else LIGHT, zoom))
    user.types("quist").presses(KEY.Key_Return).presses(KEY.Key_Return)
    user.presses(KEY.Key_F2).presses(KEY.Key_Return)
    page = accepted(user)
    keeps_the_aim(user, page)
    goes_to_the_lift(user, page)
    user.types("6").presses(KEY.Key_Return)
    for row in page.list.rows():
        if row.is_head:
            continue
        page.list.go_to(row.place)
        settle()
        assert clipped(page) == [], row
        assert [repr(w) for w in focusable(page) if not name_of(w).strip()] == [], row
        places = [place_of(widget, page) for widget in tab_chain(page)]
        assert places == sorted(places), row
        assert page.text.width() <= page.area.viewport().width()


def place_of(widget: QWidget, page: PlanPage) -> tuple[int, int, int]:
    """Where a widget stands: the list, then what is beside it in its own order, then buttons."""
    part = 0 if widget is page.list else 1 if page.area.isAncestorOf(widget) else 2
    return (part, *top_left(widget, page))


# --- any keys at all

WALK = (
    *[(KEY.Key_Down, Qt.KeyboardModifier.NoModifier)] * 6,
    *[(KEY.Key_Up, Qt.KeyboardModifier.NoModifier)] * 2,
    *[(KEY.Key_Space, Qt.KeyboardModifier.NoModifier)] * 5,
    *[(KEY.Key_Return, Qt.KeyboardModifier.NoModifier)] * 5,
    *[(key, Qt.KeyboardModifier.NoModifier) for key in (KEY.Key_3, KEY.Key_6, KEY.Key_Minus)],
    *[(key, Qt.KeyboardModifier.NoModifier) for key in (KEY.Key_Tab, KEY.Key_Backtab)],
    *[(key, Qt.KeyboardModifier.NoModifier) for key in (KEY.Key_Left, KEY.Key_Right)],
    *[(key, Qt.KeyboardModifier.NoModifier) for key in (KEY.Key_Escape, KEY.Key_End)],
    *[(key, CONTROL) for key in (KEY.Key_Z, KEY.Key_Y, KEY.Key_L)],
)


@pytest.mark.parametrize("seed", [3, 4])
@pytest.mark.usefixtures("visit")
def test_whatever_is_pressed_the_page_shows_what_the_record_holds(user: User, seed: int) -> None:
    page = accepted(user)
    session, chance = user.record.session, random.Random(seed)
    most = 0
    for _ in range(250):
        key, held = chance.choice(WALK)
        user.presses(key, held)
        if not user.record.planning.is_open:
            user.presses(KEY.Key_Escape).presses(KEY.Key_L, CONTROL)
            continue
        made = session.examination.decisions
        kept = {(one["id"], one["side"]) for one in made["aims"]}
        chosen = {(one["id"], one["side"]) for one in made["features"]}
        most = max(most, len(chosen))
        for row in page.list.rows():
            about = (row.place.id, row.place.side)
            if row.place.what is What.AIM:
                assert row.checked is (about in kept)
            elif row.place.what is What.FEATURE and not page.sizes.is_dirty:
                assert row.checked is (about in chosen)
        place = page.place
        if place is not None and place.what is What.FEATURE and not page.sizes.is_dirty:
            stored = page.stored(place)
            lines_shown = {line.part.size.id: line.text().strip() for line in page.sizes.lines}
            assert lines_shown == {name: stored.get(name, "") for name in lines_shown}
        assert name_of(user.at).strip()
    assert most >= 1
