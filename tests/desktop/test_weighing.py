"""Weighing in the window: cautions, hypotheses, decisions, and the way back to the cell."""

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QTextDocument

from footexam.desktop.weighing import DRAWING, Subject
from footexam.record.entry import Draft, EntryKind
from footexam.terms import Side
from tests.desktop.user import User

ALT = Qt.KeyboardModifier.AltModifier
CONTROL = Qt.KeyboardModifier.ControlModifier
LEFT, RIGHT = Side.LEFT, Side.RIGHT
STIFF = "structural-hallux-dorsal-compression"


def lines(user: User) -> list[str]:
    return [line.words for line in user.record.summary.lines()]


def toe_hurts(user: User) -> None:
    """A stiff great toe on the left, for which one hypothesis speaks."""
    user.goes_to("complaint-site", LEFT)
    session = user.record.session
    session.enter(("complaint-site", LEFT), ["hallux-joint-dorsal"])
    session.enter(("hallux-dorsiflexion", LEFT), "30")
    session.enter(("hallux-dorsal-bump", LEFT), "yes")


@pytest.mark.usefixtures("visit")
def test_a_hypothesis_is_listed_opened_and_accepted_by_keys(user: User) -> None:
    toe_hurts(user)
    assert any("great toe" in words and "points" in words for words in lines(user))
    user.goes_to("hallux-dorsiflexion", LEFT).presses(Qt.Key.Key_G, CONTROL)
    page = user.record.weigher.page
    assert user.record.weigher.is_open
    assert page.subject == Subject("hypothesis", STIFF, LEFT)
    assert page.text.hasFocus()
    text = page.text.toPlainText()
    hypothesis = user.record.session.catalogue.hypotheses[STIFF]
    told = page.text.accessibleDescription()  # the drawing, for who cannot see it
    assert hypothesis.statement["en"] in told
    assert hypothesis.counter["en"] in told
    assert hypothesis.require[0].says["en"] in text
    assert "[1]" in text
    assert "%" not in page.title.text() + "".join(lines(user))  # points, never a chance
    assert page.text.document().resource(QTextDocument.ResourceType.ImageResource, QUrl(DRAWING))
    user.types("a")
    accepted = user.record.session.examination.decisions["hypotheses"]["accepted"]
    assert accepted == [{"id": STIFF, "side": "left"}]
    assert "accepted" in page.title.text()
    user.presses(Qt.Key.Key_Escape)
    assert not user.record.weigher.is_open
    assert "First MTPJ dorsiflexion" in user.place


@pytest.mark.usefixtures("visit")
def test_setting_aside_asks_why(user: User) -> None:
    toe_hurts(user)
    user.presses(Qt.Key.Key_G, CONTROL).types("s")
    assert "why is it set aside" in user.place
    user.presses(Qt.Key.Key_Return)
    made = user.record.session.examination.decisions["hypotheses"]
    assert made["rejected"] == []
    user.enters("the joint moves freely under load")
    (one,) = user.record.session.examination.decisions["hypotheses"]["rejected"]
    assert one == {"id": STIFF, "side": "left", "reason": "the joint moves freely under load"}
    assert user.record.weigher.page.text.hasFocus()
    assert any("set aside: the joint" in words for words in lines(user))


@pytest.mark.usefixtures("visit")
def test_a_hypothesis_of_ones_own(user: User) -> None:
    toe_hurts(user)
    user.presses(Qt.Key.Key_H, CONTROL).enters("The new work boot bends across the joint")
    (one,) = user.record.session.examination.decisions["hypotheses"]["own"]
    assert one["statement"] == "The new work boot bends across the joint"
    assert any("in your own words" in words for words in lines(user))


@pytest.mark.usefixtures("visit")
def test_a_caution_stands_until_a_named_person_says_what_was_done(user: User) -> None:
    user.presses(Qt.Key.Key_2, ALT).goes_to("caution-cold-pale-foot", LEFT).types("y")
    (caution,) = user.record.session.assessment.cautions
    assert caution.id == "acute-limb-ischaemia"
    banner = user.record.banner.words
    assert banner is not None
    assert "EMERGENCY" in banner.cautions
    assert user.record.session.assessment.held_by
    user.presses(Qt.Key.Key_G, CONTROL)
    text = user.record.weigher.page.text.toPlainText()
    assert caution.action is not None
    assert caution.action in text
    assert "advice to load" in text
    user.types("a").presses(Qt.Key.Key_Return)
    assert user.record.session.assessment.held_by  # nothing was written
    user.enters("vascular team on the phone, ambulance called")
    (caution,) = user.record.session.assessment.cautions
    assert caution.decision == "acted"
    made = user.record.session.examination.decisions["cautions"]["acute-limb-ischaemia"]
    assert (made["by"], made["done"]) == ("R. Lind", "vascular team on the phone, ambulance called")
    assert user.record.session.assessment.held_by == ()
    banner = user.record.banner.words
    assert "all decided" in banner.cautions
    assert not banner.open_cautions


@pytest.mark.usefixtures("visit")
def test_a_yes_that_leads_nowhere_yet_can_be_weighed_as_well(user: User) -> None:
    user.goes_to("caution-history-of-cancer").types("y").presses(Qt.Key.Key_G, CONTROL)
    page = user.record.weigher.page
    assert page.subject == Subject("caution", "caution-history-of-cancer", None)
    assert "have led to no caution yet" in page.text.toPlainText()
    user.types("x").enters("breast cancer 2011, no sign of return, seen yearly")
    (caution,) = user.record.session.assessment.cautions
    assert caution.decision == "excluded"


@pytest.mark.usefixtures("visit")
def test_a_decision_about_a_signed_record_keeps_its_reason(user: User) -> None:
    toe_hurts(user)
    sign(user)
    user.presses(Qt.Key.Key_G, CONTROL).types("a")
    assert "signed" in user.place
    user.enters("accepted after the team meeting")
    accepted = user.record.session.examination.decisions["hypotheses"]["accepted"]
    assert accepted == [{"id": STIFF, "side": "left"}]
    assert list(user.record.session.journal)[-1].draft.reason == "accepted after the team meeting"


def sign(user: User) -> None:
    session = user.record.session
    session.journal.append(Draft(EntryKind.SIGN, session.author, "2026-11-29T10:00:00Z", body={}))
    session.store.keep()
    session.take_signature([])


@pytest.mark.usefixtures("visit")
def test_the_next_test_is_gone_to_by_one_chord(user: User) -> None:
    user.presses(Qt.Key.Key_T, CONTROL)
    assert "Cannot put weight on it" in user.place  # danger first
    toe_hurts(user)
    for name in ("caution-cannot-bear-weight",):
        user.goes_to(name, LEFT).types("n")
    user.presses(Qt.Key.Key_T, CONTROL)
    first = user.record.session.assessment.reasons.suggested.tests[0]
    assert user.record.worksheet.current().key[0] == first.measure


@pytest.mark.usefixtures("visit")
def test_links_lead_to_the_cell_and_keys_of_the_sheet_lead_back(user: User) -> None:
    toe_hurts(user)
    user.presses(Qt.Key.Key_G, CONTROL)
    user.record.weigher.page.text.anchorClicked.emit(QUrl("cell:hallux-dorsal-bump:left"))
    assert not user.record.weigher.is_open
    assert user.record.worksheet.current().key == ("hallux-dorsal-bump", LEFT)
    user.presses(Qt.Key.Key_G, CONTROL).presses(Qt.Key.Key_F7)
    assert not user.record.weigher.is_open  # a key of the sheet never works behind the page


@pytest.mark.usefixtures("visit")
def test_hypotheses_do_not_jump_while_somebody_types(user: User) -> None:
    toe_hurts(user)
    session = user.record.session
    user.goes_to("first-ray-position", LEFT)
    session.enter(("first-ray-position", LEFT), "dorsiflexed")
    shown = [line.key for line in user.record.summary.lines() if isinstance(line.key, Subject)]
    session.enter(("hallux-dorsiflexion-ray-loaded", LEFT), "12")
    session.enter(("hallux-dorsiflexion", LEFT), "64")
    after = [line.key for line in user.record.summary.lines() if isinstance(line.key, Subject)]
    kept = [one for one in shown if one in after]
    assert [one for one in after if one in kept] == kept


@pytest.mark.usefixtures("visit")
def test_nothing_to_weigh_is_said(user: User) -> None:
    told = []
    user.record.told.connect(told.append)
    user.presses(Qt.Key.Key_G, CONTROL)
    assert told == ["Nothing to weigh yet: no caution is raised, no hypothesis is open."]
    assert not user.record.weigher.is_open
