"""Keeps what is marked: a draft a moment after the last mark, signed marks at once."""

from PySide6.QtCore import QObject, QTimer, Signal

from footexam.desktop.marking.term import OpenTerm, now_signed
from footexam.desktop.marking.words import WORDS
from footexam.exchange import files
from footexam.exchange.marks_files import MarksChanged
from footexam.marking.rubric import Marks

SAVE_MS = 600
"""So long after the last mark a draft is written."""


class Drafts(QObject):
    """Writes marks of a term to their files. `told(words)` where that is not possible."""

    told = Signal(str)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.why = ""
        """Why the last marks are not written; "" if they are."""
        self._term: OpenTerm | None = None
        self._unsaved: Marks | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(SAVE_MS)
        self._timer.timeout.connect(self._on_quiet)

    def take(self, term: OpenTerm, marks: Marks) -> None:
        """Marks have changed: they are written as soon as the keys are quiet."""
        self._term, self._unsaved = term, marks
        self._timer.start()

    def keep(self) -> bool:
        """Write what is not written yet; whether nothing is left."""
        self._timer.stop()
        if self._term is not None and self._unsaved is not None:
            self._write(self._term, self._unsaved)
        return self._unsaved is None

    def sign(self, term: OpenTerm, marks: Marks) -> bool:
        """Write marks as signed now; whether they are. If not, the draft is as it was."""
        self._timer.stop()
        return self._write(term, now_signed(marks))

    def give_up(self) -> None:
        """Leave unwritten what cannot be written; it was told."""
        self._timer.stop()
        self._unsaved = None

    def _on_quiet(self) -> None:
        self.keep()

    def _write(self, term: OpenTerm, marks: Marks) -> bool:
        try:
            term.save(marks)
        except OSError as bad:
            self.why = WORDS["not-saved"].format(why=files.why(bad))
        except MarksChanged:
            self.why = WORDS["changed-meanwhile"]
        else:
            self.why, self._unsaved = "", None
            return True
        self.told.emit(self.why)
        return False
