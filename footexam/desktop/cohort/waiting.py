"""What the cohort page shows while files are read and compared: how far it is, and how to stop."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from footexam.desktop.cohort.words import WORDS
from footexam.desktop.theme import em, large


class Waiting(QWidget):
    """The step, a bar, and a button to stop."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        pad = round(em(self) * 2)
        column.setContentsMargins(pad, pad, pad, pad)
        title = QLabel(WORDS["title"], self)
        title.setFont(large(title, 1.45))
        self.step = QLabel(self)
        self.bar = QProgressBar(self)
        self.bar.setAccessibleName(WORDS["progress"])
        self.bar.setMaximumWidth(round(em(self) * 30))
        self.cancel = QPushButton(WORDS["cancel"], self)
        for part in (title, self.step, self.bar):
            column.addWidget(part)
        column.addWidget(self.cancel, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)

    def show_step(self, words: str, done: int, of: int) -> None:
        """How many of how many are done; of 0: nobody knows yet."""
        self.step.setText(words)
        self.bar.setRange(0, of)
        self.bar.setValue(done)
