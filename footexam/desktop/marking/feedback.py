"""The child process that writes the feedback of a whole term; it can be stopped."""

import json
import sys
from collections.abc import Sequence

from PySide6.QtCore import QObject, QProcess, Signal

from footexam.desktop.marking.making import AllFeedback

CHILD = ("-m", "footexam.desktop.marking.making")
_STOP_MS = 2000


class FeedbackRun(QObject):
    """Writes documents, one run at a time.

    `progressed(done, of)` behind each; `ended(whole)` when the child has ended, by itself or not.
    `failed` holds why some are not written. After `stop` nothing more comes.
    """

    progressed = Signal(int, int)
    ended = Signal(bool)

    def __init__(
        self,
        program: str = sys.executable,
        arguments: Sequence[str] = CHILD,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._program, self._arguments = program, list(arguments)
        self._process: QProcess | None = None
        self.done = self.of = 0
        self.failed: list[str] = []

    @property
    def runs(self) -> bool:
        """Whether documents are being written."""
        return self._process is not None

    def run(self, wanted: AllFeedback) -> None:
        """Begin; what ran before is stopped."""
        self.stop()
        self.done, self.of, self.failed = 0, len(wanted.wanted), []
        process = QProcess(self)
        process.finished.connect(self._on_finished)
        process.errorOccurred.connect(self._on_error)
        process.readyReadStandardOutput.connect(self._on_output)
        self._process = process
        process.start(self._program, self._arguments)
        process.write(wanted.text())
        process.closeWriteChannel()

    def stop(self) -> bool:
        """End the child, if there is one; whether there was. Documents that are written stay."""
        process = self._let_go()
        if process is None:
            return False
        process.kill()
        process.waitForFinished(_STOP_MS)
        process.deleteLater()
        return True

    def _let_go(self) -> QProcess | None:
        """Hear nothing more of the process."""
        process, self._process = self._process, None
        if process is not None:
            process.finished.disconnect(self._on_finished)
            process.errorOccurred.disconnect(self._on_error)
            process.readyReadStandardOutput.disconnect(self._on_output)
        return process

    def _on_output(self) -> None:
        process = self._process
        while process is not None and process.canReadLine():
            line = json.loads(bytes(process.readLine().data()))
            if line["why"]:
                self.failed.append(f"{line['name']}: {line['why']}")
            else:
                self.done += 1
            self.progressed.emit(self.done + len(self.failed), self.of)

    def _on_error(self, error: QProcess.ProcessError) -> None:
        if error is QProcess.ProcessError.FailedToStart:
            self._end(whole=False)

    def _on_finished(self, status: int, how: QProcess.ExitStatus) -> None:
        self._on_output()
        self._end(whole=how is QProcess.ExitStatus.NormalExit and status == 0)

    def _end(self, *, whole: bool) -> None:
        process = self._let_go()
        if process is not None:
            process.deleteLater()
            self.ended.emit(whole)
