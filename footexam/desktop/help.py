"""Help on F1: all keys; on a cell how the measure is taken, its error and its sources."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from footexam.catalogue.model import Catalogue, ErrorSize, Measure, say
from footexam.desktop.keys import words_of_keys
from footexam.desktop.theme import em, large
from footexam.reports.phrases import Phrases


class HelpPage(QWidget):
    """A page of plain text that can be read, searched by eye and copied with the keyboard."""

    escaped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        pad = round(em(self) * 2)
        column.setContentsMargins(pad, pad, pad, pad)
        self.title = QLabel(self)
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.title.setFont(large(self.title, 1.45))
        column.addWidget(self.title)
        self.text = QPlainTextEdit(self)
        self.text.setReadOnly(True)
        self.text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard
            | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self.text.setTabChangesFocus(True)
        self.text.setTabStopDistance(em(self) * 13.0)
        column.addWidget(self.text, 1)
        self.setFocusProxy(self.text)

    def show_keys(self) -> None:
        """All keys."""
        self._show("Keys", _keys())

    def show_measure(self, measure: Measure, catalogue: Catalogue) -> None:
        """One measure, and below it all keys."""
        self._show(say(measure.label), f"{measure_help(measure, catalogue)}\n\nKeys\n\n{_keys()}")

    def _show(self, title: str, words: str) -> None:
        self.title.setText(title)
        self.text.setAccessibleName(f"Help: {title}")
        self.text.setPlainText(f"{words}\n\nF1 or Escape: back.")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            super().keyPressEvent(event)


def _keys() -> str:
    """The keys by where they work."""
    lines = ["On the worksheet: Enter or Tab goes on, with Shift back; Escape puts a cell back."]
    shown = ""
    for where, keys, words in words_of_keys():
        if where != shown:
            lines.append(f"\n{where.capitalize()}")
            shown = where
        lines.append(f"   {keys}\t{words}")
    return "\n".join(lines)


def measure_help(measure: Measure, catalogue: Catalogue) -> str:
    """How a measure is taken, what is known against it, its error and its norms with sources."""
    parts = [say(measure.how), say(measure.against)]
    errors = [_error_words(error, measure, catalogue) for error in measure.errors if error.used]
    if errors:
        parts.append("Measurement error\n" + "\n".join(errors))
    norms = [
        f"   {say(norm.label)}: {_source(norm.source, catalogue)}, {_standing(norm.provenance)}."
        + (f" {say(norm.note)}" if norm.note else "")
        for norm in catalogue.norms.get(measure.id, ())
    ]
    if norms:
        parts.append("What is usual\n" + "\n".join(norms))
    return "\n\n".join(part for part in parts if part)


def _error_words(error: ErrorSize, measure: Measure, catalogue: Catalogue) -> str:
    who = {"same": "same examiner", "other": "another examiner"}[error.examiner]
    size = f"{error.standard_error():.2g} {measure.unit}".strip()
    method = f", {catalogue.word(error.method)}" if error.method else ""
    source = _source(error.source, catalogue)
    return f"   {who}{method}: {size} (SEM), {source}, {_standing(error.provenance)}"


def _source(source: str, catalogue: Catalogue) -> str:
    known = catalogue.sources.get(source)
    return known.citation if known else source


def _standing(provenance: str) -> str:
    return Phrases("en")(provenance)
