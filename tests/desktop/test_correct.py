"""Correcting: entered in error, the wrong patient, and changes of a signed record."""

import pytest
from PySide6.QtCore import Qt

from footexam.desktop import records
from footexam.desktop.desk import Desk
from footexam.desktop.window import Window
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.signing import ASSESSMENT, DOCUMENT, attach_draft
from footexam.terms import Role, Side
from tests.desktop.user import User

LEFT, RIGHT = Side.LEFT, Side.RIGHT
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def visited(visit: Window, user: User) -> str:
    """A visit with one reading, left again; its subject."""
    assert visit.record is not None
    user.goes_to("lunge-distance", LEFT).enters("9")
    subject = user.record.session.journal.subject
    user.presses(Qt.Key.Key_W, CONTROL)
    return subject


def facts(desk: Desk, subject: str) -> dict[str, object]:
    return {
        entry.draft.target: entry.draft.body["is"]
        for entry in desk.journal(subject).live()
        if entry.draft.target.startswith("exam:")
    }


# --- entered in error


def test_struck_with_a_reason(window: Window, visited: str, user: User, desk: Desk) -> None:
    user.presses(Qt.Key.Key_E, CONTROL | SHIFT)
    assert user.place == "Reason"
    user.presses(Qt.Key.Key_Return)
    assert "Both are needed" in window.walk.correcting.correct.remark.text()
    assert "exam:entered-in-error" not in facts(desk, visited)
    user.enters("typed into the wrong day")
    assert facts(desk, visited)["exam:entered-in-error"] == {"reason": "typed into the wrong day"}
    assert list(desk.journal(visited))[-1].draft.author.name == "R. Lind"
    item = window.walk.patient_page.list.item(0)
    assert "entered in error" in item.text()
    assert item.font().strikeOut()


@pytest.mark.usefixtures("window")
def test_struck_visit_is_read_and_takes_nothing(visited: str, user: User, desk: Desk) -> None:
    user.presses(Qt.Key.Key_E, CONTROL | SHIFT).enters("mistake")
    before = len(desk.journal(visited))
    user.presses(Qt.Key.Key_Return)
    words = user.record.banner.words
    assert words is not None
    assert words.state == "Entered in error"
    user.goes_to("lunge-distance", RIGHT).enters("8")
    assert "entered in error" in user.cell("lunge-distance", RIGHT).message.text()
    user.presses(Qt.Key.Key_Escape).presses(Qt.Key.Key_F7).presses(Qt.Key.Key_Z, CONTROL)
    assert len(desk.journal(visited)) == before


@pytest.mark.usefixtures("window", "visited")
def test_struck_visit_is_not_compared_with(user: User) -> None:
    user.presses(Qt.Key.Key_E, CONTROL | SHIFT).enters("mistake")
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    assert user.record.session.before is None


def test_struck_once_only(window: Window, visited: str, user: User, desk: Desk) -> None:
    user.presses(Qt.Key.Key_E, CONTROL | SHIFT).enters("mistake")
    count = len(desk.journal(visited))
    for key in (Qt.Key.Key_E, Qt.Key.Key_M):
        user.presses(key, CONTROL | SHIFT)
        assert window.stack.currentWidget() is window.walk.patient_page
    assert len(desk.journal(visited)) == count


# --- the wrong patient


def test_wrong_patient_moves_with_a_trace(
    window: Window, visited: str, user: User, desk: Desk
) -> None:
    user.presses(Qt.Key.Key_M, CONTROL | SHIFT).enters("two patients in the room")
    assert user.place == "Search for a patient"
    user.types("lodzki").presses(Qt.Key.Key_Return)
    confirm = window.walk.confirm
    assert "ŁÓDZKI, Paweł" in confirm.name.text()
    assert "03-Feb-1985" in confirm.facts.text()
    assert "T-0002" in confirm.facts.text()
    assert "Move the examination" in confirm.question.text()
    assert "exam:entered-in-error" not in facts(desk, visited)
    user.presses(Qt.Key.Key_Return)
    opened = window.walk.opened
    assert opened is not None
    assert opened.patient.family_name == "Łódzki"
    copy = opened.visits[0].subject
    assert facts(desk, copy)["exam:patient"] == opened.subject
    assert facts(desk, copy)["exam:copied-from"] == visited
    told = facts(desk, visited)["exam:entered-in-error"]
    assert isinstance(told, dict)
    assert copy in told["reason"]
    assert "two patients in the room" in told["reason"]
    user.presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Return)
    reading = user.goes_to("lunge-distance", LEFT).reading("lunge-distance", LEFT)
    assert reading is not None
    assert reading.typed == "9"


def test_no_signature_and_nothing_that_it_named_moves(visited: str, desk: Desk) -> None:
    journal = desk.journal(visited)
    author = Author("Ann Berg", Role.CLINICIAN, "s")
    body = {"hash": "0" * 64, "size": "1", "type": "application/pdf"}
    for target in (DOCUMENT, ASSESSMENT):
        journal.append(attach_draft(target, body, author, "2026-03-04T08:00:00.000Z"))
    journal.append(Draft(EntryKind.SIGN, author, "2026-03-04T08:00:00.000Z"))
    _, drafts = records.moved(journal, "patient:other", author)
    assert {draft.kind for draft in drafts} == {EntryKind.SET}
    assert "measure:lunge-distance" in {draft.target for draft in drafts}


def test_moving_to_the_same_patient_is_refused(
    window: Window, visited: str, user: User, desk: Desk
) -> None:
    user.presses(Qt.Key.Key_M, CONTROL | SHIFT).enters("slip")
    user.types("quist").presses(Qt.Key.Key_Return)
    assert "That is the patient" in window.walk.correcting.whose.remark.text()
    assert "exam:entered-in-error" not in facts(desk, visited)


@pytest.mark.parametrize("steps", [1, 2, 3])
def test_escape_moves_nothing(
    window: Window, visited: str, user: User, desk: Desk, steps: int
) -> None:
    user.presses(Qt.Key.Key_M, CONTROL | SHIFT)
    if steps > 1:
        user.enters("slip")
    if steps > 2:
        user.types("lodzki").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Escape)
        assert window.stack.currentWidget() is window.walk.correcting.whose
        user.presses(Qt.Key.Key_Escape)
    user.presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.walk.patient_page
    assert "exam:entered-in-error" not in facts(desk, visited)
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    assert window.record is not None


# --- after a signature


@pytest.fixture
def signed(window: Window, visited: str, user: User, desk: Desk) -> User:
    """The signed visit, opened again by the same person, at the lunge."""
    sign = Draft(EntryKind.SIGN, Author("R. Lind"), "2026-05-12T09:00:00Z", body={"document": ""})
    desk.keep(visited, desk.journal(visited).head, [sign]).result()
    user.presses(Qt.Key.Key_W, CONTROL)
    window.walk.patients.line.clear()
    user.types("quist").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Return)
    assert "signed" in window.walk.patient_page.list.item(0).text()
    user.presses(Qt.Key.Key_Return)
    assert "each change asks for its reason" in window.walk.card.remark.text()
    user.presses(Qt.Key.Key_Return)
    return user.goes_to("lunge-distance", LEFT)


def test_change_of_a_signed_record_needs_a_reason(signed: User) -> None:
    count = len(signed.record.session.journal)
    signed.types("7").presses(Qt.Key.Key_Return)
    assert len(signed.record.session.journal) == count
    assert "signed" in signed.place
    signed.presses(Qt.Key.Key_Return)
    assert "only with a reason" in signed.window.remark.text()
    signed.enters("misread the tape")
    entry = list(signed.record.session.journal)[-1]
    assert len(signed.record.session.journal) == count + 1
    assert (entry.draft.reason, entry.draft.body["typed"]) == ("misread the tape", "7")
    assert signed.place.startswith("Lunge, toe to wall, right foot")
    signed.types("8").presses(Qt.Key.Key_Return)
    assert len(signed.record.session.journal) == count + 1  # each change has its own reason


def test_escape_leaves_the_signed_record_as_it_was(signed: User) -> None:
    count = len(signed.record.session.journal)
    signed.types("7").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Escape)
    assert len(signed.record.session.journal) == count
    assert signed.cell("lunge-distance", LEFT).editor.typed() == "9"
    assert signed.place.startswith("Lunge, toe to wall, left foot")


@pytest.mark.parametrize(
    ("key", "held", "then"),
    [
        (Qt.Key.Key_F7, Qt.KeyboardModifier.NoModifier, ""),
        (Qt.Key.Key_F3, Qt.KeyboardModifier.NoModifier, "a note"),
        (Qt.Key.Key_F5, Qt.KeyboardModifier.NoModifier, "y"),
        (Qt.Key.Key_F7, CONTROL, ""),
    ],
)
def test_every_change_of_a_signed_record_needs_a_reason(
    signed: User, key: Qt.Key, held: Qt.KeyboardModifier, then: str
) -> None:
    count = len(signed.record.session.journal)
    signed.presses(key, held)
    assert len(signed.record.session.journal) == count
    signed.enters("asked again")
    if then:
        assert len(signed.record.session.journal) == count
        signed.enters(then)
    assert len(signed.record.session.journal) > count
    assert list(signed.record.session.journal)[-1].draft.reason == "asked again"


def test_undo_after_a_signature_needs_a_reason(signed: User) -> None:
    signed.types("7").presses(Qt.Key.Key_Return).enters("misread")
    count = len(signed.record.session.journal)
    signed.presses(Qt.Key.Key_Z, CONTROL)
    assert len(signed.record.session.journal) == count
    signed.enters("it was right")
    entry = list(signed.record.session.journal)[-1]
    assert (entry.draft.kind, entry.draft.reason) == (EntryKind.RETRACT, "it was right")
    reading = signed.reading("lunge-distance", LEFT)
    assert reading is not None
    assert reading.typed == "9"


def test_reason_of_a_note_that_was_not_made_is_forgotten(signed: User) -> None:
    signed.presses(Qt.Key.Key_F3).enters("asked again").presses(Qt.Key.Key_Escape)
    count = len(signed.record.session.journal)
    signed.types("7").presses(Qt.Key.Key_Return)
    assert len(signed.record.session.journal) == count
