"""Reads a term in a child process for the cohort page; its lines are taken up in short slices."""

import json
import sys
from collections import deque
from collections.abc import Sequence

from PySide6.QtCore import QCoreApplication, QElapsedTimer, QObject, QProcess, QTimer, Signal

from footexam.desktop.cohort.feed import TermWanted
from footexam.desktop.preview.words import WORDS

CHILD = ("-m", "footexam.desktop.cohort.feed")
SLICE_MS = 4
"""So long lines are taken up before keys are looked at again."""
_STOP_MS = 2000


class CohortReader(QObject):
    """One term at a time.

    `came(dict)` for each line of the child, in order; `failed(words)` with one sentence where it
    cannot be read. After `stop()` nothing more comes.
    """

    came = Signal(object)
    failed = Signal(str)

    def __init__(
        self,
        parent: QObject | None = None,
        program: str = sys.executable,
        arguments: Sequence[str] = CHILD,
    ) -> None:
        super().__init__(parent)
        self._program, self._arguments = program, list(arguments)
        self._process: QProcess | None = None
        self._part = b""
        self._lines: deque[bytes] = deque()
        self._failure = ""
        self._slice = QTimer(self)
        self._slice.setInterval(0)
        self._slice.timeout.connect(self._on_slice)
        application = QCoreApplication.instance()
        if application is not None:
            application.aboutToQuit.connect(self.stop)

    @property
    def runs(self) -> bool:
        """Whether something is still to come."""
        return self._process is not None or self._slice.isActive()

    def read(self, wanted: TermWanted) -> None:
        """Read a term; one that is being read is stopped."""
        self.stop()
        process = QProcess(self)
        process.readyReadStandardOutput.connect(self._on_output)
        process.finished.connect(self._on_finished)
        process.errorOccurred.connect(self._on_error)
        self._process = process
        process.start(self._program, self._arguments)
        process.write(wanted.text())
        process.closeWriteChannel()

    def stop(self) -> bool:
        """End the child, if there is one; whether there was something to come."""
        ran = self.runs
        self._slice.stop()
        self._lines.clear()
        self._part = b""
        self._failure = ""
        process = self._let_go()
        if process is not None:
            process.kill()
            process.waitForFinished(_STOP_MS)
            process.deleteLater()
        return ran

    def _let_go(self) -> QProcess | None:
        """Hear nothing more of the process."""
        process, self._process = self._process, None
        if process is not None:
            process.readyReadStandardOutput.disconnect(self._on_output)
            process.finished.disconnect(self._on_finished)
            process.errorOccurred.disconnect(self._on_error)
        return process

    def _on_output(self) -> None:
        if self._process is None:
            return
        data = self._part + bytes(self._process.readAllStandardOutput().data())
        *lines, self._part = data.split(b"\n")
        self._lines.extend(lines)
        self._slice.start()

    def _on_slice(self) -> None:
        """Take up lines for a moment; the rest comes after the keys."""
        clock = QElapsedTimer()
        clock.start()
        while self._lines and clock.elapsed() < SLICE_MS:
            try:
                line = json.loads(self._lines.popleft())
            except ValueError:
                self.stop()
                self.failed.emit(WORDS["not-understood"])
                return
            self.came.emit(line)
        if not self._lines:
            self._slice.stop()
            if self._failure:
                why, self._failure = self._failure, ""
                self.failed.emit(why)

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error is not QProcess.ProcessError.FailedToStart:
            return  # a crash is told by `finished`
        process = self._let_go()
        if process is not None:
            process.deleteLater()
        self.failed.emit(WORDS["not-started"])

    def _on_finished(self, status: int, how: QProcess.ExitStatus) -> None:
        self._on_output()
        process = self._let_go()
        if process is None:
            return
        told = bytes(process.readAllStandardError().data()).decode(errors="replace").split("\n")
        process.deleteLater()
        if status or how is not QProcess.ExitStatus.NormalExit:
            self._failure = next(filter(None, map(str.strip, told)), WORDS["broke-off"])
            self._slice.start()
