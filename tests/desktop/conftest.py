"""A window on a real store in a folder of the test: shipped fonts, own settings, nothing left."""

import gc
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from footexam.catalogue.model import Catalogue
from footexam.demo_store import make_demo_store
from footexam.desktop.desk import Desk
from footexam.desktop.preferences import Preferences
from footexam.desktop.preview.child import Made, Wanted
from footexam.desktop.preview.keeping import Viewer
from footexam.desktop.preview.making import Maker
from footexam.desktop.preview.page import PreviewPage
from footexam.desktop.theme import LIGHT, Theme, apply, register_fonts
from footexam.desktop.window import Window
from footexam.record.entry import Author
from footexam.record.examination import Patient
from footexam.resources import assets_dir
from footexam.terms import Role, Sex
from tests.desktop.preview.pdfs import numbered
from tests.desktop.user import User, settle
from tests.shipped import shipped

MAREN = Patient("Quist", "Maren", "Ms", "T-0001", "1979-08-30", Sex.FEMALE)
PAWEL = Patient("Łódzki", "Paweł", "", "T-0002", "1985-02-03", Sex.MALE)


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    """The shipped forms; what lives as long as the run is left out of garbage collections."""
    found = shipped()
    gc.collect()
    gc.freeze()
    return found


@pytest.fixture(scope="session")
def demo_master(catalogue: Catalogue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The store of the demo clinic, made once; tests copy it."""
    return make_demo_store(tmp_path_factory.mktemp("demo"), catalogue)


@pytest.fixture(scope="session", autouse=True)
def _look(qapp: QApplication) -> None:
    """The fonts and style that the program sets itself."""
    QLocale.setDefault(QLocale.c())
    register_fonts(assets_dir() / "fonts")
    apply(qapp, LIGHT, 1.0)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Settings, cache and store in a folder of the test."""
    place = tmp_path / "home"
    monkeypatch.setenv("FOOTEXAM_HOME", str(place))
    return place


@pytest.fixture
def demo_desk(home: Path, demo_master: Path) -> None:
    """Put the demo clinic's store in the place of the empty one; ask for it before the desk."""
    shutil.copytree(demo_master, home / "store", ignore=shutil.ignore_patterns("*.lock"))


@pytest.fixture
def desk(home: Path) -> Iterator[Desk]:
    """A desk on a store with two patients, or on that of the demo clinic."""
    made = Desk(home / "store")
    is_demo = (home / "store").exists()
    made.open_store().result()
    for patient in () if is_demo else (MAREN, PAWEL):
        made.new_patient(patient, Author("R. Lind", Role.CLINICIAN, made.sitting))
    yield made
    made.close(backup=False)


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every document is made at once and without a child; nothing leaves the window."""

    def make(maker: Maker, wanted: Wanted) -> None:
        maker.stop()
        maker.made.emit(Made(numbered(3), b"{}", wanted.subject, 0, ""))

    monkeypatch.setattr(Maker, "make", make)
    monkeypatch.setattr(Maker, "warm", lambda _: None)
    monkeypatch.setattr(Viewer, "open", classmethod(lambda *_: True))
    monkeypatch.setattr(PreviewPage, "ask", classmethod(lambda *_: ""))


MakeWindow = Callable[..., Window]


@pytest.fixture
def make_window(
    desk: Desk, home: Path, catalogue: Catalogue, qapp: QApplication
) -> Iterator[MakeWindow]:
    """Makes windows on the desk; closed, freed and nothing left at the end."""
    made: list[Window] = []

    def make(theme: Theme = LIGHT, zoom: float = 1.0) -> Window:
        apply(qapp, theme, zoom)
        preferences = Preferences.load(home / "preferences.toml")
        preferences.examiner, preferences.zoom = "R. Lind", zoom
        window = Window(desk, theme, preferences, lambda: catalogue)
        window.resize(1440, 900)
        window.show()
        QTest.qWaitForWindowExposed(window)
        made.append(window)
        return window

    yield make
    for window in made:
        window.hide()
        if window.record is not None:
            window.walk.drop_record()
        window.deleteLater()
    made.clear()
    settle()
    apply(qapp, LIGHT, 1.0)
    assert not [widget for widget in QApplication.topLevelWidgets() if widget.isVisible()]
    gc.collect()


@pytest.fixture
def window(make_window: MakeWindow) -> Window:
    """The window in light colours at 100 %, with the patient list."""
    return make_window()


@pytest.fixture
def opened(window: Window, user: User) -> Window:
    """The window with Maren Quist confirmed and her page shown."""
    user.types("quist").presses(Qt.Key.Key_Return).presses(Qt.Key.Key_Return)
    return window


@pytest.fixture
def visit(opened: Window, user: User) -> Window:
    """The window with a visit of today begun."""
    user.presses(Qt.Key.Key_F2).presses(Qt.Key.Key_Return)
    assert opened.record is not None
    return opened


@pytest.fixture
def user(window: Window) -> User:
    """Somebody at the keyboard."""
    return User(window)
