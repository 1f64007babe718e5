"""Makes documents in a child process, so that the window stays free, and opens them."""

import sys
from pathlib import Path

from PySide6.QtCore import QObject, QProcess, QUrl, Signal
from PySide6.QtGui import QDesktopServices

from footexam.settings import data_dir


class Printer(QObject):
    """One document at a time; `told(words)` says what came of it, `made(path)` that it is there."""

    told = Signal(str)
    made = Signal(object)

    def __init__(self, store: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._store = store
        self._out = Path()
        self._process = QProcess(self)
        self._process.finished.connect(self._on_finished)
        self._process.errorOccurred.connect(self._on_error)

    def make(self, subject: str) -> None:
        """Make the examination report of an examination in the store."""
        if self._process.state() is not QProcess.ProcessState.NotRunning:
            self.told.emit("A document is being made; try again when it is there.")
            return
        folder = data_dir() / "documents"
        try:
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        except OSError as bad:
            self.told.emit(f"The folder of documents cannot be made: {bad.strerror}.")
            return
        number = subject.partition(":")[2][:12]
        self._out = folder / f"examination-{number}.pdf"
        command = ["-m", "footexam", "print", f"store:{number_of(subject)}", "--as", "examination"]
        command += ["--store", str(self._store), "-o", str(self._out)]
        self._process.start(sys.executable, command)
        self.told.emit("The report is being made.")

    def _on_finished(self, status: int, _how: object) -> None:
        if status == 0:
            self.told.emit(f"The report is {self._out.name}; it opens in your viewer.")
            self.made.emit(self._out)
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._out)))
            return
        why = self._process.readAllStandardError().toStdString().strip()
        self.told.emit(f"The report could not be made; the examination is saved. {why}")

    def _on_error(self, _error: object) -> None:
        self.told.emit("The report could not be started; the examination is saved. Try again.")


def number_of(subject: str) -> str:
    """What stands behind the kind in a subject's id."""
    return subject.partition(":")[2]
