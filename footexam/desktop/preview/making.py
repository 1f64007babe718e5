"""Makes a report in a child process, so that the window stays free; it can be stopped."""

import sys
from collections.abc import Sequence

from PySide6.QtCore import QElapsedTimer, QObject, QProcess, QTimer, Signal

from footexam.desktop.preview.child import Wanted, unpack
from footexam.desktop.preview.words import WORDS

CHILD = ("-m", "footexam.desktop.preview.child")
LARGEST = 200_000_000
"""Bytes; a document larger than that is not taken in."""
_STOP_MS = 2000


class Maker(QObject):
    """One report at a time.

    `made(Made)` when it is there, `failed(words)` with one sentence if not, `waiting(seconds)`
    once a second meanwhile. After `stop()` nothing more comes.
    """

    made = Signal(object)
    failed = Signal(str)
    waiting = Signal(int)

    def __init__(
        self,
        program: str = sys.executable,
        arguments: Sequence[str] = CHILD,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._program, self._arguments = program, list(arguments)
        self._process: QProcess | None = None
        self._ahead: QProcess | None = None
        self._clock = QElapsedTimer()
        self._timer = QTimer(self)
        self._timer.setInterval(1000)
        self._timer.timeout.connect(self._on_second)

    @property
    def runs(self) -> bool:
        """Whether a report is being made."""
        return self._process is not None

    def make(self, wanted: Wanted) -> None:
        """Make a report; one that is being made is stopped."""
        self.stop()
        process = self._taken() or self._started()
        process.finished.connect(self._on_finished)
        process.errorOccurred.connect(self._on_error)
        process.readyReadStandardOutput.connect(self._on_output)
        self._process = process
        self._clock.start()
        self._timer.start()
        process.write(wanted.text())
        process.closeWriteChannel()
        if process.error() is QProcess.ProcessError.FailedToStart:
            self._on_error(process.error())

    def warm(self) -> None:
        """Start the next child ahead, while a record is open: the report is there sooner then."""
        if self._ahead is None:
            self._ahead = self._started()

    def cool(self) -> None:
        """End the child that was started ahead, if there is one."""
        ahead, self._ahead = self._ahead, None
        if ahead is not None:
            self._end(ahead)

    def _started(self) -> QProcess:
        process = QProcess(self)
        process.start(self._program, self._arguments)
        return process

    def _taken(self) -> QProcess | None:
        """The child that was started ahead; None if there is none or it has ended."""
        ahead, self._ahead = self._ahead, None
        if ahead is not None and ahead.state() is QProcess.ProcessState.NotRunning:
            ahead.deleteLater()
            return None
        return ahead

    def stop(self) -> bool:
        """End the child, if there is one; whether there was. Returns when it is gone."""
        process = self._let_go()
        if process is None:
            return False
        self._end(process)
        return True

    def _end(self, process: QProcess) -> None:
        process.kill()
        process.waitForFinished(_STOP_MS)
        process.deleteLater()

    def _let_go(self) -> QProcess | None:
        """Hear nothing more of the process."""
        process, self._process = self._process, None
        self._timer.stop()
        if process is not None:
            process.finished.disconnect(self._on_finished)
            process.errorOccurred.disconnect(self._on_error)
            process.readyReadStandardOutput.disconnect(self._on_output)
        return process

    def _on_second(self) -> None:
        self.waiting.emit(round(self._clock.elapsed() / 1000))

    def _on_output(self) -> None:
        if self._process is not None and self._process.bytesAvailable() > LARGEST:
            self.stop()
            self.failed.emit(WORDS["too-large"])

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error is not QProcess.ProcessError.FailedToStart:
            return  # a crash is told by `finished`; a child that does not read its input fails
        process = self._let_go()
        if process is not None:
            process.deleteLater()
        self.failed.emit(WORDS["not-started"])

    def _on_finished(self, status: int, how: QProcess.ExitStatus) -> None:
        process = self._let_go()
        if process is None:
            return
        written = bytes(process.readAllStandardOutput().data())
        told = bytes(process.readAllStandardError().data()).decode(errors="replace").split("\n")
        process.deleteLater()
        if how is not QProcess.ExitStatus.NormalExit:
            self.failed.emit(WORDS["broke-off"])
            return
        if status:
            self.failed.emit(next(filter(None, map(str.strip, told)), WORDS["broke-off"]))
            return
        try:
            made = unpack(written)
        except ValueError:
            self.failed.emit(WORDS["not-understood"])
            return
        self.made.emit(made)
