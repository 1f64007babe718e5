"""Somebody who fills a sheet from its first cell to its last, with a clock on every entry."""

import pickle
import random
import subprocess
import sys
import time
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from footexam.desktop.app import load_forms
from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.cells.lines import NumberCell
from footexam.desktop.cells.options import ScoreCell, WordCell
from footexam.desktop.desk import Desk
from footexam.desktop.preferences import Preferences
from footexam.desktop.record_page import RecordPage
from footexam.desktop.session import Session
from footexam.desktop.theme import LIGHT, apply, register_fonts
from footexam.desktop.window import Window
from footexam.record.drafts import draft_of
from footexam.record.entry import Author
from footexam.record.examination import Examination
from footexam.resources import assets_dir
from footexam.settings import data_dir

PAINTS = 4
"""So often waiting events are worked off after a key; more find nothing left."""
PAUSE_S = 0.02
"""Between two cells: less than any hand needs, enough for what the window does when idle."""


def examination_of(file: Path) -> Examination:
    """The examination of a file, read by another process: the window has no reader of files."""
    read = (
        "import pickle, sys; from datetime import date; from pathlib import Path; "
        "from footexam.catalogue.load import load_catalogue as load; "
        "from footexam.exchange.examination import read_examination as read; "
        "found = read(Path(sys.argv[1]).read_bytes(), load(), date(2100, 1, 1)).examination; "
        "sys.stdout.buffer.write(pickle.dumps(found))"
    )
    done = subprocess.run(
        [sys.executable, "-c", read, str(file)], check=True, stdout=subprocess.PIPE
    )
    found: Examination = pickle.loads(done.stdout)  # noqa: S301 - written by the line above
    return found


class Examiner:
    """The program's window, a visit with the readings of a file, and the times of all entries."""

    def __init__(self, zoom: float) -> None:
        self.application = QApplication([])
        register_fonts(assets_dir() / "fonts")
        apply(self.application, LIGHT, zoom)
        preferences = Preferences.load(data_dir() / "preferences.toml")
        preferences.examiner = "Bench"
        self.desk = Desk(data_dir() / "store")
        self.window = Window(self.desk, LIGHT, preferences, load_forms)
        self.window.resize(1440, 900)
        self.window.show()
        self.desk.open_store().result()
        self.chance = random.Random(2)
        self.times: list[float] = []
        """ms from the key to durable, judged and painted."""
        self.own: list[float] = []
        """ms of processor time of the window's thread in them: other programs add nothing to it."""

    @property
    def record(self) -> RecordPage:
        record = self.window.record
        assert record is not None
        return record

    @property
    def session(self) -> Session:
        return self.record.session

    def opens(self, file: Path) -> None:
        """Begin a visit, write all readings of an examination file into it, and continue it."""
        loaded = examination_of(file)
        subject = self.desk.new_patient(loaded.patient, Author("Bench"))
        self.window.walk.opened = self.desk.open_patient(subject)
        self.window.walk.show_patient()
        self.window.act("start_visit")
        self.presses(Qt.Key.Key_Return)
        session = self.session
        at = "2026-03-04T10:00:00Z"
        drafts = [draft_of(one, session.author, at) for one in loaded.readings.values()]
        self.desk.keep(session.journal.subject, session.journal.head, drafts).result()
        self.window.act("close_patient")
        self.presses(Qt.Key.Key_Return)
        self.presses(Qt.Key.Key_Return)
        self.window.act("open_number:5")
        QTest.qWait(1000)

    def presses(self, key: str | Qt.Key) -> None:
        """Press a key where the keys are."""
        QTest.keyClick(self.window.focusWidget(), key)

    def paints(self) -> None:
        """Let the window paint all that has changed: lists are laid out, and painted after that."""
        for _ in range(PAINTS):
            self.application.processEvents()

    def goes_through(self, panel: str) -> None:
        """Enter something new into every cell of a panel that takes one key or a line."""
        self.record.open_panel(panel)
        worksheet = self.record.worksheet
        for cell in list(worksheet.order):
            if self.record.worksheet is not worksheet:
                self.record.open_panel(panel)  # the last cell carried on to the next panel
            worksheet.focus_cell(cell)
            QTest.qWait(round(PAUSE_S * 1000))
            key = self._key_for(cell)
            if key is not None:
                self._enters(cell, key)

    def _key_for(self, cell: CellFrame) -> str | Qt.Key | None:
        """The key that takes over a value; a line is typed before it."""
        editor = cell.editor
        if isinstance(editor, ScoreCell):
            return str(self.chance.randint(0, min(2, editor.high)))
        if isinstance(editor, WordCell):
            return self.chance.choice(editor.options).shown[0]
        if isinstance(editor, NumberCell):
            QTest.keyClicks(self.window.focusWidget(), self.chance.choice(["7", "8,5", "9 10 8"]))
            self.application.processEvents()
            return Qt.Key.Key_Return
        return None

    def _enters(self, cell: CellFrame, key: str | Qt.Key) -> None:
        """Press the key; its time counts if the store has acknowledged an entry by then."""
        before = len(self.session.journal)
        begun, own = time.perf_counter(), time.thread_time()
        self.presses(key)
        self.paints()
        took, own = time.perf_counter() - begun, time.thread_time() - own
        if len(self.session.journal) > before and not self.session.unsaved():
            self.times.append(took * 1000)
            self.own.append(own * 1000)
        elif cell.editor.dirty:
            cell.revert()
