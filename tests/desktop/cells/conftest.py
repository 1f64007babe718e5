"""Real cells of an open examination in a shown window."""

from collections.abc import Iterator
from concurrent.futures import Future
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from footexam.catalogue.model import Catalogue, say
from footexam.desktop import theme
from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.cells.make import make_editor
from footexam.desktop.session import Session
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Patient
from footexam.record.journal import Journal
from footexam.terms import Role, Sex, Side
from tests.desktop.cells.driving import Desk, Open

AT = "2026-05-12T09:00:00.000Z"
AUTHOR = Author("R. Lindqvist", Role.CLINICIAN, "sitting")


class Memory:
    """Keeps nothing; every entry is durable at once."""

    def keep(self, _subject: str, _head: str, _drafts: object) -> Future[Any]:
        future: Future[Any] = Future()
        future.set_result(None)
        return future


@pytest.fixture
def session(catalogue: Catalogue, qapp: QApplication) -> Session:
    del qapp
    journal = Journal("examination-1")
    facts = {
        "patient": "patient-1",
        "examined-on": "2026-05-12",
        "purpose": "record",
        "examiner": {"name": AUTHOR.name, "role": "clinician"},
    }
    for name, fact in facts.items():
        draft = Draft(EntryKind.SET, AUTHOR, AT, target=f"exam:{name}", body={"is": fact})
        journal.append(draft)
    patient = Patient("Okonjo", "Adaeze", birth_date="1981-03-14", sex=Sex.FEMALE)
    return Session(catalogue, Memory(), patient, journal, AUTHOR)


@pytest.fixture
def open_cell(qtbot: QtBot, session: Session, catalogue: Catalogue) -> Iterator[Open]:
    """Open the cell of a measure with the keys in it."""

    def make(
        name: str, side: Side | None = None, mode: theme.Theme = theme.LIGHT, width: int = 420
    ) -> Desk:
        window = QWidget()
        qtbot.addWidget(window)
        column = QVBoxLayout(window)
        measure = catalogue.measures[name]
        editor = make_editor(measure, mode, catalogue, window, side)
        label = say(measure.label) + (f", {side} foot" if side else "")
        cell = CellFrame((name, side), label, editor, session, mode, window)
        after = QLineEdit(window)
        column.addWidget(cell)
        column.addWidget(after)
        column.addStretch(1)
        desk = Desk(window, session, [cell], after)
        cell.leave.connect(desk._on_leave)
        cell.tabbed.connect(desk._on_leave)
        session.recorded.connect(desk.refresh)
        window.resize(width, 800)
        window.show()
        qtbot.waitExposed(window)
        window.activateWindow()
        desk.enter()
        return desk

    return make
