"""Saves a term as a table or as all tables: where is asked first, then it is made in a child."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from footexam.desktop.cohort.words import WORDS
from footexam.desktop.preview.child import Kind, Made, Wanted
from footexam.desktop.preview.keeping import write_private
from footexam.desktop.preview.making import Maker

_KINDS = {".csv": Kind.COHORT_TABLE, ".zip": Kind.COHORT_TABLES}


class TableSaver(QObject):
    """One table at a time; `told(words)` says what came of it."""

    told = Signal(str)

    def __init__(self, parent: QWidget, maker: Maker | None = None) -> None:
        super().__init__(parent)
        self._widget = parent
        self._path = Path()
        self._anonymous = False
        self.maker = maker or Maker(parent=self)
        self.maker.made.connect(self._on_made)
        self.maker.failed.connect(self._on_failed)

    @classmethod
    def ask(cls, parent: QWidget, name: str) -> str:
        """Where to save; "" if it is not to be saved. Tests replace this."""
        return QFileDialog.getSaveFileName(parent, WORDS["save-title"], name, WORDS["save-kind"])[0]

    def save(self, wanted: Wanted, name: str) -> None:
        """Ask where, then make what the name asks for (.csv or .zip) and write it there."""
        chosen = self.ask(self._widget, name)
        if not chosen:
            return
        path = Path(chosen)
        kind = _KINDS.get(path.suffix.lower())
        self._path = path if kind else path.with_name(f"{path.name}.csv")
        self._anonymous = wanted.anonymous
        self.told.emit(WORDS["saving"])
        self.maker.make(replace(wanted, kind=kind or Kind.COHORT_TABLE))

    def stop(self) -> bool:
        """Stop making a table; whether one was being made."""
        return self.maker.stop()

    def _on_made(self, made: Made) -> None:
        try:
            write_private(self._path, made.document)
        except OSError as bad:
            why = (bad.strerror or type(bad).__name__).lower()
            self.told.emit(WORDS["not-saved"].format(name=self._path.name, why=why))
            return
        key = "saved-anonymous" if self._anonymous else "saved"
        self.told.emit(WORDS[key].format(name=self._path.name))

    def _on_failed(self, why: str) -> None:
        self.told.emit(WORDS["not-made"].format(why=why))
