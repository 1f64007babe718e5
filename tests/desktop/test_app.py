"""Starting: nothing heavy before the list, one window, faults told once, the blank screen."""

import logging
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from footexam.desktop.app import Faults, OneWindow, choose_theme, window_name
from footexam.desktop.desk import Desk
from footexam.desktop.preferences import Preferences
from footexam.desktop.theme import DARK, LIGHT, em
from footexam.desktop.window import TALL, Window
from footexam.store import Store
from footexam.terms import Side
from tests.desktop.user import User, settle

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
HEAVY = (
    "pydantic",
    "sqlalchemy",
    "reportlab",
    "pint",
    "pypdfium2",
    "footexam.catalogue",
    "footexam.assessment",
)
_LISTED = """
import sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
import footexam.cli
from footexam.desktop import app
from footexam.desktop.window import Window
application = QApplication([])
desk = app.Desk(Path(sys.argv[1]))
preferences = app.Preferences.load(Path(sys.argv[1]) / "none.toml")
window = Window(desk, app.LIGHT, preferences, app.load_forms)
window.show()
application.processEvents()
assert window.walk.patients.model.rowCount() == 2
print(*sorted(sys.modules))
"""


def test_nothing_heavy_is_loaded_before_the_list_is_shown(desk: Desk) -> None:
    done = subprocess.run(
        [sys.executable, "-c", _LISTED, str(desk.folder)],
        cwd=Path(__file__).parents[2],
        check=True,
        capture_output=True,
        text=True,
    )
    loaded = set(done.stdout.split())
    assert "footexam.desktop.window" in loaded
    assert [name for name in HEAVY if name in loaded] == []


@pytest.mark.qt_log_ignore("does not support raise", extend=True)
def test_second_start_raises_the_first_window(window: Window, qtbot: QtBot, home: Path) -> None:
    name = window_name(home)
    first = OneWindow(name, window)
    assert first.is_first()
    first.raised.connect(window.come_forward)
    window.showMinimized()
    second = OneWindow(name, window)
    with qtbot.waitSignal(first.raised, timeout=3000):
        assert not second.is_first()
    assert not window.isMinimized()
    assert window.isVisible()


def test_the_name_of_a_window_is_the_same_in_every_process(home: Path) -> None:
    code = "import sys, pathlib; from footexam.desktop.app import window_name as n; "
    code += "print(n(pathlib.Path(sys.argv[1])))"
    told = {
        subprocess.run(
            [sys.executable, "-c", code, str(home)],
            cwd=Path(__file__).parents[2],
            check=True,
            capture_output=True,
            text=True,
        ).stdout.strip()
        for _ in range(2)
    }
    assert told == {window_name(home)}
    assert window_name(home) != window_name(home / "other")


def fail(words: str) -> None:
    raise ZeroDivisionError(words)


def test_fault_is_told_plainly_and_logged_without_its_words(
    window: Window, caplog: pytest.LogCaptureFixture
) -> None:
    faults = Faults(window)
    faults.happened.connect(window.tell)
    with caplog.at_level(logging.ERROR, logger="footexam"):
        for _ in range(3):
            try:
                fail("Maren Quist")
            except ZeroDivisionError as bad:
                faults.hook(type(bad), bad, bad.__traceback__)
    assert "A fault of the program" in window.remark.text()
    assert len(caplog.records) == 1
    assert "Maren" not in caplog.text
    assert "test_app.py" in caplog.text


# --- the screen


def test_blank_screen_shows_nothing_and_comes_back(visit: Window, user: User) -> None:
    user.goes_to("lunge-distance", Side.LEFT).types("9,5").presses(Qt.Key.Key_B, CONTROL)
    assert visit.stack.currentWidget() is visit.blank
    shown = visit.windowTitle() + visit.blank.accessibleName() + visit.remark.text()
    assert "quist" not in shown.casefold()
    assert user.at is visit.blank
    user.presses(Qt.Key.Key_F7)  # no key of the sheet works there; it only wakes
    assert visit.stack.currentWidget() is user.record
    cell = user.cell("lunge-distance", Side.LEFT)
    assert cell.editor.typed() == "9,5"
    assert user.place.startswith("Lunge, toe to wall, left foot")


def test_idle_lock_discards_nothing(visit: Window, user: User, qtbot: QtBot) -> None:
    visit.preferences.idle_minutes = 0.001
    user.goes_to("lunge-distance", Side.LEFT).types("abc")
    settle()

    def blanked() -> None:
        assert visit.stack.currentWidget() is visit.blank

    qtbot.waitUntil(blanked, timeout=3000)
    visit.preferences.idle_minutes = 10
    user.types("x")
    assert visit.stack.currentWidget() is user.record
    assert user.cell("lunge-distance", Side.LEFT).editor.typed() == "abc"


def test_size_and_colours_keep_what_is_open(visit: Window, user: User) -> None:
    user.goes_to("lunge-distance", Side.LEFT).enters("9")
    session, panel = user.record.session, user.record.panel
    user.presses(Qt.Key.Key_D, CONTROL | SHIFT)
    assert visit.theme is DARK
    user.presses(Qt.Key.Key_Plus, CONTROL).presses(Qt.Key.Key_Plus, CONTROL)
    assert visit.preferences.zoom == 1.25
    assert (user.record.session, user.record.panel) == (session, panel)
    assert user.cell("lunge-distance", Side.LEFT).editor.typed() == "9"
    kept = Preferences.load(visit.preferences.path)
    assert (kept.zoom, kept.dark) == (1.25, True)
    for _ in range(3):
        user.presses(Qt.Key.Key_Minus, CONTROL)
    assert visit.preferences.zoom == 1.0


def test_the_line_of_remarks_stays_with_a_record_so_that_nothing_moves(
    visit: Window, user: User
) -> None:
    bar, page = visit.statusBar(), user.record
    height = page.height()
    visit.tell("first")
    settle()
    assert (visit.remark.text(), bar.isVisible(), page.height()) == ("first", True, height)
    visit._on_told_long_enough()
    settle()
    assert (visit.remark.text(), bar.isVisible(), page.height()) == ("", True, height)
    visit.tell("second")
    settle()
    assert (visit.remark.text(), page.height()) == ("second", height)
    visit._on_told_long_enough()
    user.presses(Qt.Key.Key_W, CONTROL)
    assert visit.record is None
    assert not bar.isVisible()
    visit.tell("third")
    assert bar.isVisible()
    visit._on_told_long_enough()
    assert not bar.isVisible()


def test_a_low_window_has_no_line_to_spare_for_remarks(visit: Window) -> None:
    bar = visit.statusBar()
    assert bar.isVisible()
    visit.resize(visit.width(), round(em(visit) * (TALL - 4)))
    settle()
    assert not bar.isVisible()
    visit.tell("first")
    assert bar.isVisible()
    visit._on_told_long_enough()
    assert not bar.isVisible()
    visit.resize(visit.width(), round(em(visit) * (TALL + 4)))
    settle()
    assert bar.isVisible()


def test_size_waits_for_a_refused_cell(visit: Window, user: User) -> None:
    user.goes_to("lunge-distance", Side.LEFT).types("abc").presses(Qt.Key.Key_Plus, CONTROL)
    assert visit.preferences.zoom == 1.0
    assert user.cell("lunge-distance", Side.LEFT).editor.typed() == "abc"


def test_size_waits_for_a_line_that_is_not_taken_over(visit: Window, user: User) -> None:
    user.goes_to("lunge-distance", Side.LEFT).enters("9").goes_to("lunge-distance", Side.LEFT)
    user.presses(Qt.Key.Key_F3).types("cold room").presses(Qt.Key.Key_Plus, CONTROL)
    assert visit.preferences.zoom == 1.0
    assert "press Enter" in visit.remark.text()
    assert user.record.line.line.text() == "cold room"


def test_size_and_colours_keep_the_form_of_a_new_patient_and_the_search(
    window: Window, user: User
) -> None:
    user.types("quist").presses(Qt.Key.Key_D, CONTROL | SHIFT)
    assert window.theme is DARK
    assert window.walk.patients.line.text() == "quist"
    assert window.walk.patients.model.rowCount() == 1
    user.presses(Qt.Key.Key_N, CONTROL).types("Nilsen")
    for key in (Qt.Key.Key_Plus, Qt.Key.Key_Minus):
        user.presses(key, CONTROL)
        assert window.walk.new.lines["family_name"].text() == "Nilsen"
    user.presses(Qt.Key.Key_D, CONTROL | SHIFT)
    assert window.theme is DARK
    user.presses(Qt.Key.Key_Escape).presses(Qt.Key.Key_D, CONTROL | SHIFT)
    assert window.theme is LIGHT


def test_remembered_colours(qapp: QApplication, home: Path) -> None:
    for dark, theme in ((True, DARK), (False, LIGHT)):
        preferences = Preferences(home / "p.toml", dark=dark)
        assert choose_theme(qapp, preferences) is theme
    assert choose_theme(qapp, Preferences(home / "p.toml")) in (LIGHT, DARK)


def test_areas_by_f6(visit: Window, user: User) -> None:
    places = []
    for _ in range(4):
        user.presses(Qt.Key.Key_F6)
        places.append(user.at)
    assert len(set(places)) == 4
    user.presses(Qt.Key.Key_F6, SHIFT)
    assert user.at is places[2]
    assert visit.record is not None


# --- closing, and a store that cannot be opened


def test_closing_makes_a_backup_that_opens(visit: Window, user: User, desk: Desk) -> None:
    user.goes_to("lunge-distance", Side.LEFT).enters("9")
    subject = user.record.session.journal.subject
    texts = [entry.text for entry in user.record.session.journal]
    user.presses(Qt.Key.Key_Q, CONTROL)
    assert not visit.isVisible()
    assert len(list((desk.folder / "backups").iterdir())) == 1
    with Store.open(desk.folder) as store:
        assert [entry.text for entry in store.journal(subject)] == texts


def test_refused_cell_stops_closing(visit: Window, user: User) -> None:
    user.goes_to("lunge-distance", Side.LEFT).types("abc").presses(Qt.Key.Key_Q, CONTROL)
    assert visit.isVisible()
    assert "not taken over" in visit.remark.text()
    user.presses(Qt.Key.Key_Escape)
    user.presses(Qt.Key.Key_Q, CONTROL)
    assert not visit.isVisible()


def test_store_that_another_program_holds_is_told(desk: Desk, window: Window, qtbot: QtBot) -> None:
    other = Desk(desk.folder)
    window.desk = other
    window.open_store()

    def told() -> None:
        words = window.walk.patients.remark.text()
        assert "open" in words
        assert "encrypted" not in words

    qtbot.waitUntil(told, timeout=3000)
    other.close(backup=False)


def test_first_run_says_that_nothing_is_encrypted(window: Window, qtbot: QtBot) -> None:
    window.open_store()

    def told() -> None:
        assert "not encrypted yet" in window.walk.patients.remark.text()

    qtbot.waitUntil(told, timeout=3000)
