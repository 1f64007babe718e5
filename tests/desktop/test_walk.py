"""The walk of a visit by real keys: from the search to readings that are kept and judged."""

from PySide6.QtCore import Qt

from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.window import Window
from footexam.record.entry import EntryKind
from footexam.record.reading import Numbers
from footexam.terms import Absence, Label, Side
from tests.desktop.conftest import User

FPI = (
    "fpi-talar-head",
    "fpi-malleolar-curves",
    "fpi-calcaneal-position",
    "fpi-talonavicular-bulge",
    "fpi-medial-arch",
    "fpi-forefoot-abduction",
)


def test_start_of_the_walk(window: Window, user: User) -> None:
    assert user.place == "Search for a patient"
    user.types("maren q")
    assert window.walk.patients.model.rowCount() == 1
    user.presses(Qt.Key.Key_Return)
    assert window.stack.currentWidget() is window.walk.confirm
    assert "QUIST, Maren" in window.walk.confirm.name.text()
    assert "30-Aug-1979" in window.walk.confirm.facts.text()
    assert "T-0001" in window.walk.confirm.facts.text()
    user.presses(Qt.Key.Key_Return)
    assert window.stack.currentWidget() is window.walk.patient_page
    before = user.keys
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    assert user.keys - before == 2
    assert window.record is not None
