"""Starts the window: list first, everything heavier after the first paint."""

import gc
import hashlib
import logging
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QLocale, QObject, QTimer, Signal
from PySide6.QtNetwork import QLocalServer, QLocalSocket
from PySide6.QtWidgets import QApplication

from footexam.desktop.desk import Desk
from footexam.desktop.preferences import Preferences
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import DARK, LIGHT, Mode, Theme, apply, register_fonts, theme_of
from footexam.desktop.window import Window
from footexam.resources import assets_dir
from footexam.settings import cache_dir, data_dir

if TYPE_CHECKING:
    from footexam.catalogue.model import Catalogue

LOG = logging.getLogger("footexam")
_WAIT_MS = 300


class Faults(QObject):
    """Unexpected faults: logged without patient data, told once in one plain remark.

    The hook may run in any thread, so it only logs and tells by a signal.
    """

    happened = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._seen: dict[str, int] = {}

    def hook(
        self, kind: type[BaseException], _fault: BaseException, at: TracebackType | None
    ) -> None:
        """For sys.excepthook; the same fault is logged once and counted."""
        frames = traceback.extract_tb(at)
        place = f"{kind.__name__} at {frames[-1].filename}:{frames[-1].lineno}" if frames else ""
        self._seen[place] = self._seen.get(place, 0) + 1
        if self._seen[place] == 1:
            where = " < ".join(f"{Path(f.filename).name}:{f.lineno}" for f in reversed(frames))
            LOG.error("%s (%s)", kind.__name__, where)
        self.happened.emit(TEXTS["fault"])


class OneWindow(QObject):
    """A second start raises the window of the first."""

    raised = Signal()

    def __init__(self, name: str, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._name = name
        self._server = QLocalServer(self)
        self._server.setSocketOptions(QLocalServer.SocketOption.UserAccessOption)
        self._server.newConnection.connect(self._on_connection)

    def is_first(self) -> bool:
        """Listen for later starts; False if another window is there, which is then raised."""
        socket = QLocalSocket()
        socket.connectToServer(self._name)
        if socket.waitForConnected(_WAIT_MS):
            socket.write(b"raise\n")
            socket.waitForBytesWritten(_WAIT_MS)
            return False
        QLocalServer.removeServer(self._name)
        self._server.listen(self._name)
        return True

    def _on_connection(self) -> None:
        connection = self._server.nextPendingConnection()
        if connection is not None:
            connection.disconnected.connect(connection.deleteLater)
        self.raised.emit()


def window_name(folder: Path) -> str:
    """The name under which the window of a store's folder is found by later starts."""
    return f"footexam-{hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:16]}"


def load_forms() -> "Catalogue":
    """The catalogue, which stays for good.

    So no collection of what is no longer used goes through it: that would hold up a key by 50 ms.
    """
    from footexam.catalogue.load import load_catalogue

    catalogue = load_catalogue(cache_dir=cache_dir())
    gc.freeze()
    return catalogue


def choose_theme(application: QApplication, preferences: Preferences) -> Theme:
    """The remembered theme, else the system's."""
    if preferences.dark is None:
        return theme_of(application, Mode.AUTO)
    return DARK if preferences.dark else LIGHT


def run(arguments: Sequence[str], *, folder: Path | None = None, demo: bool = False) -> int:
    """Open the window and stay until it is closed; the status to exit with."""
    QLocale.setDefault(QLocale.c())
    application = QApplication(list(arguments))
    application.setApplicationName("footexam")
    where = folder or data_dir() / "store"
    one = OneWindow(window_name(where), application)
    if not one.is_first():
        return 0
    _start_log()
    register_fonts(assets_dir() / "fonts")
    preferences = Preferences.load(data_dir() / "preferences.toml")
    theme = choose_theme(application, preferences)
    apply(application, theme, preferences.zoom)
    faults = Faults(application)
    sys.excepthook = faults.hook
    desk = Desk(where)
    window = Window(desk, theme, preferences, load_forms, demo=demo)
    faults.happened.connect(window.tell)
    one.raised.connect(window.come_forward)
    window.show()
    QTimer.singleShot(0, window, window.open_store)
    return application.exec()


def _start_log() -> None:
    """A log of faults in the data folder, without patient data; none if it cannot be written."""
    with suppress(OSError):
        data_dir().mkdir(parents=True, exist_ok=True)
        handler = logging.FileHandler(data_dir() / "footexam.log", encoding="utf-8")
        handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
        LOG.addHandler(handler)
