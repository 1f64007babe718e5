"""A reference is begun and opened by a supervisor only; no student sees it."""

from PySide6.QtCore import Qt

from footexam.desktop.desk import Desk
from footexam.desktop.window import Window
from footexam.terms import Purpose, Role, Side
from tests.desktop.user import User

CONTROL = Qt.KeyboardModifier.ControlModifier


def starts(window: Window, user: User, name: str, role: Role) -> None:
    """Begin a visit with today's card by keyboard, up to the choice of what it is for."""
    user.presses(Qt.Key.Key_F2)
    card = window.walk.card
    card.examiner.setFocus()
    card.examiner.selectAll()
    user.types(name).presses(Qt.Key.Key_Tab)
    roles = list(Role)
    steps = roles.index(role) - roles.index(Role(card.role.value()))
    for _ in range(abs(steps)):
        user.presses(Qt.Key.Key_Right if steps > 0 else Qt.Key.Key_Left)
    assert card.role.value() == role


def reference(window: Window, user: User) -> None:
    starts(window, user, "A. Reference", Role.SUPERVISOR)
    user.presses(Qt.Key.Key_Tab).presses(Qt.Key.Key_Right).presses(Qt.Key.Key_Return)
    user.goes_to("lunge-distance", Side.LEFT).enters("9").presses(Qt.Key.Key_W, CONTROL)


def test_a_supervisor_begins_a_reference_by_keyboard(opened: Window, user: User) -> None:
    reference(opened, user)
    visit = opened.walk.patient_page.chosen()
    assert visit is not None
    assert visit.purpose == Purpose.REFERENCE
    assert "reference" in opened.walk.patient_page.list.item(0).text()


def test_only_a_supervisor_is_asked_and_an_examination_is_for_the_record_unless_said(
    opened: Window, user: User
) -> None:
    starts(opened, user, "R. Lind", Role.CLINICIAN)
    assert opened.walk.card.purpose.isHidden()
    opened.walk.card.role.set_value(Role.SUPERVISOR)
    assert not opened.walk.card.purpose.isHidden()
    user.presses(Qt.Key.Key_Return)
    assert user.record.session.examination.purpose is Purpose.RECORD
    user.presses(Qt.Key.Key_W, CONTROL).presses(Qt.Key.Key_Return)
    assert opened.walk.card.purpose.isHidden()  # a visit that is continued stays what it is


def test_a_role_that_is_changed_again_begins_no_reference(opened: Window, user: User) -> None:
    starts(opened, user, "R. Lind", Role.SUPERVISOR)
    opened.walk.card.purpose.set_value(Purpose.REFERENCE)
    opened.walk.card.role.set_value(Role.CLINICIAN)
    user.presses(Qt.Key.Key_Return)
    assert user.record.session.examination.purpose is Purpose.RECORD


def test_a_student_sees_no_more_of_a_reference_than_its_line(opened: Window, user: User) -> None:
    reference(opened, user)
    user.presses(Qt.Key.Key_P, CONTROL)
    assert opened.walk.on_patient_page
    assert "only a supervisor" in opened.remark.text()
    user.presses(Qt.Key.Key_Return)
    opened.walk.card.role.set_value(Role.STUDENT)
    user.presses(Qt.Key.Key_Return)
    assert opened.record is None
    opened.walk.card.role.set_value(Role.SUPERVISOR)
    user.presses(Qt.Key.Key_Return)
    assert user.record.session.examination.purpose is Purpose.REFERENCE


def test_a_reference_in_error_stays_closed_to_others(
    opened: Window, user: User, desk: Desk
) -> None:
    reference(opened, user)
    visit = opened.walk.patient_page.chosen()
    assert visit is not None
    desk.strike(visit.subject, "slip", user.window.walk._somebody())
    opened.walk.show_patients()
    assert opened.walk.opened is not None
    opened.walk.open(opened.walk.opened.subject)
    opened.preferences.role = Role.STUDENT
    user.presses(Qt.Key.Key_Return)
    assert opened.record is None
    opened.preferences.role = Role.SUPERVISOR
    user.presses(Qt.Key.Key_Return)
    assert opened.record is not None


def test_a_students_sheet_shows_nothing_of_the_reference(opened: Window, user: User) -> None:
    reference(opened, user)
    starts(opened, user, "C. Student", Role.STUDENT)
    user.presses(Qt.Key.Key_Return).goes_to("lunge-distance", Side.LEFT)
    assert user.record.session.before is None
    assert "9 cm" not in user.cell("lunge-distance", Side.LEFT).before.text()
