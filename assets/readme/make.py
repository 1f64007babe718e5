"""Makes the pictures of README.md anew from the demo: python assets/readme/make.py.

Needs the project's environment. No screen is needed: Qt draws offscreen.
"""

import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HERE = Path(__file__).resolve().parent
PATIENT = "HQ-0003"
REPORT = "03-heel-pain-visit-1-report.pdf"
SIZE = (1440, 900)
COLOURS = 256
"""Colours of a picture: few enough for a small file, enough for smooth letters."""


def main(folder: Path) -> None:
    """Make the demo in a folder, then a picture of the window and one of page one."""
    os.environ["FOOTEXAM_HOME"] = str(folder / "home")
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    from footexam.catalogue.load import load_catalogue
    from footexam.demo import make_demo
    from footexam.demo_store import make_demo_store

    catalogue = load_catalogue()
    make_demo(folder / "demo", catalogue)
    window(make_demo_store(folder / "demo", catalogue))
    page(folder / "demo" / REPORT)


def window(store: Path) -> None:
    """The window with a visit open, light, at 100 %."""
    from PySide6.QtCore import QLocale, Qt
    from PySide6.QtWidgets import QApplication

    from footexam.catalogue.load import load_catalogue
    from footexam.desktop.desk import Desk
    from footexam.desktop.preferences import Preferences
    from footexam.desktop.theme import LIGHT, apply, register_fonts
    from footexam.desktop.window import Window
    from footexam.resources import assets_dir
    from footexam.settings import data_dir
    from footexam.terms import Side
    from tests.desktop.user import User, settle

    QLocale.setDefault(QLocale.c())
    application = QApplication([])
    register_fonts(assets_dir() / "fonts")
    apply(application, LIGHT, 1.0)
    desk = Desk(store)
    preferences = Preferences.load(data_dir() / "preferences.toml")
    preferences.examiner = "Tomás Ferreira Quintela"
    made = Window(desk, LIGHT, preferences, load_catalogue, demo=True)
    made.resize(*SIZE)
    made.show()
    made.open_store()
    user = User(made)
    settle()
    user.types(PATIENT)
    enter = Qt.Key.Key_Return
    user.presses(enter).presses(enter)  # found, and it is the right person
    user.presses(Qt.Key.Key_Down).presses(Qt.Key.Key_Down)  # the visit in January
    user.presses(enter).presses(enter)
    user.goes_to("ankle-dorsiflexion-knee-straight", Side.RIGHT)
    settle()
    made.grab().save(str(HERE / "window.png"))
    made.close()
    desk.close(backup=False)
    small(HERE / "window.png")


def page(report: Path) -> None:
    """Page one of a report."""
    import pypdfium2

    document = pypdfium2.PdfDocument(report)
    document[0].render(scale=1.6).to_pil().save(HERE / "page-one.png")
    document.close()
    small(HERE / "page-one.png")


def small(picture: Path) -> None:
    """Few colours, no data besides the picture."""
    from PIL import Image

    with Image.open(picture) as image:
        flat = image.convert("RGB").quantize(COLOURS, Image.Quantize.MAXCOVERAGE)
    flat.save(picture, optimize=True)


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    with tempfile.TemporaryDirectory() as made:
        main(Path(made))
