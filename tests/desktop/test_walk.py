"""The walk of a visit by real keys: from the search to readings that are kept and judged."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest

from footexam.desktop.desk import Desk
from footexam.desktop.window import Window
from footexam.record.entry import EntryKind
from footexam.record.reading import Numbers, Word
from footexam.terms import Absence, Label, Role, Side
from tests.desktop.user import User, settle

LEFT, RIGHT = Side.LEFT, Side.RIGHT
CONTROL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
FPI = (
    "fpi-talar-head",
    "fpi-malleolar-curves",
    "fpi-calcaneal-position",
    "fpi-talonavicular-bulge",
    "fpi-medial-arch",
    "fpi-forefoot-abduction",
)


def numbers(user: User, measure: str, side: Side | None = None) -> list[str]:
    reading = user.reading(measure, side)
    assert reading is not None
    assert isinstance(reading.value, Numbers)
    return [f"{one:f}" for one in reading.value.readings]


# --- from the list to the worksheet


def test_search_confirm_start(window: Window, user: User) -> None:
    assert user.place == "Search for a patient"
    user.types("maren q")
    assert window.walk.patients.model.rowCount() == 1
    user.presses(Qt.Key.Key_Return)
    confirm = window.walk.confirm
    assert window.stack.currentWidget() is confirm
    assert "QUIST, Maren" in confirm.name.text()
    assert "30-Aug-1979" in confirm.facts.text()
    assert "T-0001" in confirm.facts.text()
    user.presses(Qt.Key.Key_Return)
    assert window.stack.currentWidget() is window.walk.patient_page
    before = user.keys
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    assert user.keys - before == 2
    session = user.record.session
    assert session.examination.examiner.name == "R. Lind"
    assert session.examination.value("consent") == Word("given-by-patient")


@pytest.mark.parametrize("typed", ["lodzki", "pawel łódz", "łódzki paweł", "T-0002", "3-Feb-1985"])
def test_search_finds_however_it_is_typed(window: Window, user: User, typed: str) -> None:
    user.types(typed)
    assert [row.record_number for row in window.walk.patients.model.rows] == ["T-0002"]


def test_escape_at_the_confirmation_opens_nothing(window: Window, user: User) -> None:
    user.types("quist").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.walk.patients
    assert window.walk.opened is None


def test_nobody_found_is_told(window: Window, user: User) -> None:
    user.types("zzz")
    assert "Nobody is found" in window.walk.patients.remark.text()
    user.presses(Qt.Key.Key_Escape)
    assert window.walk.patients.model.rowCount() == 2


def test_new_patient_asks_about_one_like_them(window: Window, user: User) -> None:
    user.presses(Qt.Key.Key_N, CONTROL)
    user.enters("Quist").enters("Mara").enters("Ms").enters("30-Aug-1979").enters("T-0009")
    user.presses(Qt.Key.Key_Return, CONTROL)
    assert "There is already QUIST, Maren" in window.walk.new.remark.text()
    assert window.walk.opened is None
    user.presses(Qt.Key.Key_Return, CONTROL)
    assert window.walk.opened is not None
    assert window.walk.opened.patient.given_names == "Mara"


def test_birth_date_that_cannot_be_is_refused(window: Window, user: User) -> None:
    user.presses(Qt.Key.Key_N, CONTROL)
    user.enters("Berg").enters("Ida").enters("").enters("31-Feb-1979").enters("")
    user.presses(Qt.Key.Key_Return, CONTROL)
    assert window.walk.new.remark.text()
    assert window.walk.new.lines["birth_date"].text() == "31-Feb-1979"
    assert window.walk.opened is None


def test_examiner_is_asked_for(opened: Window, user: User) -> None:
    opened.preferences.examiner = ""
    user.presses(Qt.Key.Key_F2)
    assert user.place == "Your name"
    user.presses(Qt.Key.Key_Return)
    assert opened.record is None
    user.enters("N. Adeyemi")
    assert user.record.session.author.name == "N. Adeyemi"
    assert opened.preferences.examiner == "N. Adeyemi"


# --- typing


@pytest.mark.usefixtures("visit")
def test_score_keys_carry_on(user: User) -> None:
    user.presses(Qt.Key.Key_5, ALT).types("211012")
    assert [numbers(user, measure, LEFT) for measure in FPI] == [[d] for d in "211012"]
    assert user.place == "Talar head, right foot, in points"
    user.types("00-10").types("-2").types("1")
    assert [numbers(user, measure, RIGHT)[0] for measure in FPI] == ["0", "0", "-1", "0", "-2", "1"]
    assert user.record.session.unsaved() == 0
    assert user.record.session.judge.score_words(("fpi-total", LEFT)) == "+7 points"
    user.presses(Qt.Key.Key_Z, CONTROL)
    assert user.reading(FPI[-1], RIGHT) is None
    assert user.place == "Forefoot seen from behind, right foot, in points"


@pytest.mark.usefixtures("visit")
def test_lunge_is_judged_at_once(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("3,5")
    assert user.place.startswith("Lunge, toe to wall, right foot")
    user.enters("10 10.5 9.5")
    assert numbers(user, "lunge-distance", LEFT) == ["3.5"]
    assert numbers(user, "lunge-distance", RIGHT) == ["10", "10.5", "9.5"]
    finding = user.record.session.judge.material.findings["lunge-distance", LEFT]
    assert finding.state == "below"
    left = user.cell("lunge-distance", LEFT)
    assert "below" in left.sure.text()
    assert finding.label in (Label.LIKELY, Label.POSSIBLE)
    assert finding.label in left.sure.text()
    assert "published" in left.usual.text()
    assert "2017" in left.usual.text()
    assert "mean of 10, 10.5, 9.5 cm" in user.cell("lunge-distance", RIGHT).remarks.text()
    row = user.record.worksheet.rows["lunge-distance"]
    assert "6.5 cm" in row.difference.text()
    assert "beyond error" in row.difference.text()
    lines = [line.words for line in user.record.summary.lines()]
    assert any("Lunge" in words and "below" in words for words in lines)


@pytest.mark.usefixtures("visit")
def test_refusal_keeps_text_and_focus(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("abc")
    left = user.cell("lunge-distance", LEFT)
    assert left.editor.typed() == "abc"
    assert user.place.startswith("Lunge, toe to wall, left foot")
    assert left.message.text()
    assert left.message.text() in user.at.accessibleDescription()
    assert user.reading("lunge-distance", LEFT) is None
    user.presses(Qt.Key.Key_Tab)
    assert user.place.startswith("Lunge, toe to wall, left foot")
    user.presses(Qt.Key.Key_Escape)
    assert left.editor.typed() is None
    assert left.message.text() == ""


@pytest.mark.usefixtures("visit")
def test_warn_limit_asks_once_and_is_recorded(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("25")
    left = user.cell("lunge-distance", LEFT)
    assert "25 cm lies outside" in left.message.text()
    assert "Enter again keeps it" in left.message.text()
    assert user.reading("lunge-distance", LEFT) is None
    user.presses(Qt.Key.Key_Return)
    assert numbers(user, "lunge-distance", LEFT) == ["25"]
    assert list(user.record.session.journal)[-1].draft.body["confirmed"] is True
    user.enters("12")
    assert "confirmed" not in list(user.record.session.journal)[-1].draft.body


@pytest.mark.usefixtures("visit")
def test_another_value_after_the_question_is_asked_again(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("25").types("6").presses(Qt.Key.Key_Return)
    assert user.reading("lunge-distance", LEFT) is None
    assert "256" in user.cell("lunge-distance", LEFT).message.text()


@pytest.mark.usefixtures("visit")
def test_escape_puts_back_what_the_record_holds(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("9").presses(Qt.Key.Key_Backtab).types("55")
    user.presses(Qt.Key.Key_Escape)
    assert user.cell("lunge-distance", LEFT).editor.typed() == "9"
    assert numbers(user, "lunge-distance", LEFT) == ["9"]


@pytest.mark.usefixtures("visit")
def test_undo_and_redo_from_a_number_cell(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("9")
    user.presses(Qt.Key.Key_Z, CONTROL)
    assert user.reading("lunge-distance", LEFT) is None
    assert user.place.startswith("Lunge, toe to wall, left foot")
    user.presses(Qt.Key.Key_Y, CONTROL)
    assert numbers(user, "lunge-distance", LEFT) == ["9"]
    assert len([e for e in user.record.session.journal if e.draft.kind is EntryKind.RETRACT]) == 2


@pytest.mark.usefixtures("visit")
def test_undo_while_typing_is_of_the_typing(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("9").types("44").presses(Qt.Key.Key_Z, CONTROL)
    assert numbers(user, "lunge-distance", LEFT) == ["9"]


def test_undo_never_takes_back_the_start_of_the_visit(visit: Window, user: User) -> None:
    before = user.record.session.examination.examiner
    for _ in range(4):
        user.presses(Qt.Key.Key_Z, CONTROL)
    assert user.record.session.examination.examiner == before
    assert "Nothing" in visit.remark.text()


@pytest.mark.usefixtures("visit")
def test_emptied_cell_is_taken_back(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("9").presses(Qt.Key.Key_Backtab)
    user.presses(Qt.Key.Key_Delete).presses(Qt.Key.Key_Return)
    assert user.reading("lunge-distance", LEFT) is None


# --- beside a reading


@pytest.mark.parametrize(
    ("key", "held", "absence"),
    [
        (Qt.Key.Key_F7, Qt.KeyboardModifier.NoModifier, Absence.NOT_EXAMINED),
        (Qt.Key.Key_F8, Qt.KeyboardModifier.NoModifier, Absence.DECLINED),
        (Qt.Key.Key_F9, Qt.KeyboardModifier.NoModifier, Absence.COULD_NOT_BE_TESTED),
        (Qt.Key.Key_F7, Qt.KeyboardModifier.ShiftModifier, Absence.NOT_APPLICABLE),
        (Qt.Key.Key_F9, Qt.KeyboardModifier.ShiftModifier, Absence.NOT_DONE_SAFETY),
    ],
)
@pytest.mark.usefixtures("visit")
def test_absence_in_one_key(
    user: User, key: Qt.Key, held: Qt.KeyboardModifier, absence: Absence
) -> None:
    user.goes_to("lunge-distance", LEFT).presses(key, held)
    reading = user.reading("lunge-distance", LEFT)
    assert reading is not None
    assert (reading.absent, reading.value, reading.reason) == (absence, None, "")
    user.enters("dressing")
    reading = user.reading("lunge-distance", LEFT)
    assert reading is not None
    assert (reading.absent, reading.reason) == (absence, "dressing")
    assert "dressing" in user.cell("lunge-distance", LEFT).sure.text()
    assert user.place.startswith("Lunge, toe to wall, left foot")


def test_note_and_method(visit: Window, user: User) -> None:
    user.goes_to("ankle-dorsiflexion-knee-straight", LEFT).enters("9")
    user.presses(Qt.Key.Key_Backtab).presses(Qt.Key.Key_F3).enters("guarding")
    user.presses(Qt.Key.Key_F4).enters("torque")
    reading = user.reading("ankle-dorsiflexion-knee-straight", LEFT)
    assert reading is not None
    assert (reading.note, reading.method, reading.typed) == ("guarding", "torque-device", "9")
    user.presses(Qt.Key.Key_F4).enters("thumb")
    assert "none of these methods" in visit.remark.text()
    user.presses(Qt.Key.Key_Escape)
    user.enters("12")
    reading = user.reading("ankle-dorsiflexion-knee-straight", LEFT)
    assert reading is not None
    assert (reading.note, reading.method, reading.typed) == ("guarding", "torque-device", "12")


def test_note_without_reading_is_told(visit: Window, user: User) -> None:
    user.goes_to("lunge-distance", LEFT).presses(Qt.Key.Key_F3)
    assert "enter the value first" in visit.remark.text()


@pytest.mark.usefixtures("visit")
def test_other_side_only_as_a_question(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("9").presses(Qt.Key.Key_Backtab)
    user.presses(Qt.Key.Key_F5)
    assert user.reading("lunge-distance", RIGHT) is None
    assert "right also 9 cm?" in user.record.line.question.text()
    user.presses(Qt.Key.Key_Return)
    assert user.reading("lunge-distance", RIGHT) is None
    user.presses(Qt.Key.Key_F5).enters("y")
    assert numbers(user, "lunge-distance", RIGHT) == ["9"]


@pytest.mark.usefixtures("visit")
def test_panel_not_examined(user: User) -> None:
    user.goes_to("lunge-distance", LEFT).enters("9").presses(Qt.Key.Key_F7, CONTROL)
    for cell in user.record.worksheet.order:
        reading = user.reading(*cell.key)
        if cell.key == ("lunge-distance", LEFT):
            assert reading is not None
            assert reading.absent is None
        elif cell.measure.kind != "derived":
            assert reading is not None
            assert reading.absent is Absence.NOT_EXAMINED


@pytest.mark.usefixtures("visit")
def test_caution_yes_shows_in_the_banner_at_once(user: User) -> None:
    user.presses(Qt.Key.Key_2, ALT).types("ny")
    words = user.record.banner.words
    assert words is not None
    assert words.open_cautions
    assert words.cautions.startswith("Caution: ")
    assert words.cautions in user.record.banner.accessibleDescription()


def test_wheel_scrolls_and_changes_nothing(visit: Window, user: User) -> None:
    user.presses(Qt.Key.Key_5, ALT).types("211012").presses(Qt.Key.Key_M, CONTROL)
    entries = len(user.record.session.journal)
    worksheet = user.record.worksheet
    for cell in worksheet.order[:12]:
        target = cell.editor.focus_widget()
        place = target.mapTo(visit, QPoint(9, 9))
        QTest.wheelEvent(visit.windowHandle(), QPointF(place), QPoint(0, -120))
        settle()
    assert worksheet.scrolled() > 0
    assert len(user.record.session.journal) == entries
    assert not any(cell.editor.dirty for cell in worksheet.order)


# --- the second visit


@pytest.mark.usefixtures("opened", "desk")
def test_last_visit_stands_beside_the_box(user: User) -> None:
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    user.goes_to("lunge-distance", LEFT).enters("9").presses(Qt.Key.Key_W, CONTROL)
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    user.goes_to("lunge-distance", LEFT)
    left = user.cell("lunge-distance", LEFT)
    assert left.editor.typed() is None
    assert "9 cm" in left.before.text()
    assert left.before.text().startswith("last visit ")
    assert user.reading("lunge-distance", LEFT) is None


@pytest.mark.usefixtures("desk")
def test_continued_visit_asks_who(opened: Window, user: User) -> None:
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    user.goes_to("lunge-distance", LEFT).enters("9").presses(Qt.Key.Key_W, CONTROL)
    assert opened.record is None
    user.presses(Qt.Key.Key_Return)
    assert opened.stack.currentWidget() is opened.walk.card
    assert "Continuing" in opened.walk.card.heading.text()
    opened.walk.card.examiner.setFocus()
    opened.walk.card.examiner.selectAll()
    user.enters("S. Okoye")
    session = user.record.session
    assert session.author.name == "S. Okoye"
    assert session.examination.examiner.name == "R. Lind"
    assert numbers(user, "lunge-distance", LEFT) == ["9"]
    user.goes_to("lunge-distance", RIGHT).enters("8")
    assert list(session.journal)[-1].draft.author.name == "S. Okoye"
    banner = user.record.banner.words
    assert banner is not None
    assert "writing now: S. Okoye" in banner.today
    user.presses(Qt.Key.Key_Z, CONTROL).presses(Qt.Key.Key_Z, CONTROL)
    assert numbers(user, "lunge-distance", LEFT) == ["9"]  # not theirs to take back by a key


def test_student_under_supervision(opened: Window, user: User) -> None:
    user.presses(Qt.Key.Key_F2)
    opened.walk.card.role.set_value(Role.STUDENT)
    opened.walk.card.supervisor.setText("M. Tau")
    user.presses(Qt.Key.Key_Return)
    examination = user.record.session.examination
    assert examination.examiner.role is Role.STUDENT
    assert examination.supervisor is not None
    assert examination.supervisor.name == "M. Tau"
    words = user.record.banner.words
    assert words is not None
    assert "supervised by M. Tau" in words.today


def test_everything_is_there_again(visit: Window, user: User, desk: Desk) -> None:
    user.presses(Qt.Key.Key_5, ALT).types("211012")
    subject = user.record.session.journal.subject
    texts = [entry.text for entry in user.record.session.journal]
    assert [entry.text for entry in desk.journal(subject)] == texts
    visit.close()
    again = Desk(desk.folder)
    try:
        assert [entry.text for entry in again.journal(subject)] == texts
    finally:
        again.close(backup=False)


@pytest.mark.usefixtures("visit")
def test_a_contradiction_is_asked_about_kept_and_marked(user: User) -> None:
    user.goes_to("hallux-dorsiflexion-ray-loaded", LEFT).enters("35")
    user.goes_to("hallux-dorsiflexion", LEFT).enters("20")
    cell = user.cell("hallux-dorsiflexion", LEFT)
    assert user.reading("hallux-dorsiflexion", LEFT) is None
    assert "moves less unloaded" in cell.message.text()
    user.presses(Qt.Key.Key_Return)
    assert numbers(user, "hallux-dorsiflexion", LEFT) == ["20"]
    told = [line.words for line in user.record.summary.lines()]
    assert any("moves less unloaded" in words for words in told)
    user.goes_to("hallux-dorsiflexion", LEFT).enters("21")  # known by now: not asked again
    assert numbers(user, "hallux-dorsiflexion", LEFT) == ["21"]
