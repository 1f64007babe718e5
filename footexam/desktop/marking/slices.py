"""Long work in small slices: one step whenever the window has nothing else to do; it can stop."""

from collections.abc import Iterator

from PySide6.QtCore import QObject, QTimer, Signal

WAIT_MS = 20
"""So long the next step waits behind one that had nothing to do yet."""

Step = tuple[int, int] | None
"""How many of how many are done; None where the work waits for somebody else."""


class Slices(QObject):
    """Runs one iterator at a time; each step stays far below what a person notices.

    `progressed(done, of)` behind a step, `finished` at the end; `failed(why)` where a step raised
    OSError. Nothing more comes after `stop`.
    """

    progressed = Signal(int, int)
    finished = Signal()
    failed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._steps: Iterator[Step] | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._on_turn)

    @property
    def runs(self) -> bool:
        """Whether work is being done."""
        return self._steps is not None

    def run(self, steps: Iterator[Step]) -> None:
        """Begin; what ran before is stopped."""
        self.stop()
        self._steps = steps
        self._timer.start(0)

    def stop(self) -> bool:
        """Do no further step; whether there was work to stop."""
        steps, self._steps = self._steps, None
        self._timer.stop()
        return steps is not None

    def _on_turn(self) -> None:
        if self._steps is None:
            return
        try:
            step = next(self._steps)
        except StopIteration:
            self._steps = None
            self.finished.emit()
        except OSError as bad:
            self._steps = None
            self.failed.emit(bad)
        else:
            self._timer.start(0 if step else WAIT_MS)
            if step:
                self.progressed.emit(*step)
