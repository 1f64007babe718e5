"""What every document of this practice has: whose letterhead it is, and the size of the paper."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFormLayout, QPushButton, QWidget

from footexam.desktop.input_line import InputLine
from footexam.desktop.pages import Page, Radios
from footexam.desktop.preferences import LONGEST, PAPERS, Preferences
from footexam.desktop.texts import TEXTS
from footexam.record.refusal import Refusal, text


class PracticePage(Page):
    """Letterhead and paper; Enter keeps them for all documents made from now on. `kept`."""

    kept = Signal()

    def __init__(self, preferences: Preferences, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._preferences = preferences
        self.add_label(TEXTS["practice-title"], 1.45)
        self.add_label(TEXTS["practice-what"])
        form = QFormLayout()
        form.setVerticalSpacing(self.column.spacing())
        self.name = InputLine(self.inner)
        self.name.setMaxLength(LONGEST)
        self.name.setAccessibleName(TEXTS["practice-name"])
        self.name.returnPressed.connect(self.keep)
        words = {name: TEXTS[f"paper-size-{name}"] for name in PAPERS}
        self.paper = Radios(words, TEXTS["paper-size"], self.inner)
        form.addRow(TEXTS["practice-name"], self.name)
        form.addRow(TEXTS["paper-size"], self.paper)
        self.column.addLayout(form)
        self.go = QPushButton(TEXTS["practice-keep"], self.inner)
        self.go.setAutoDefault(True)
        self.go.clicked.connect(self.keep)
        self.column.addWidget(self.go, 0, Qt.AlignmentFlag.AlignLeft)
        self.remark = self.add_label()
        self.column.addStretch(1)
        self.setFocusProxy(self.name)

    def show_kept(self) -> None:
        """Show what is kept."""
        self.name.setText(self._preferences.practice)
        self.paper.set_value(self._preferences.paper)
        self.remark.clear()

    def keep(self) -> None:
        """Keep what is there; what cannot be printed is refused."""
        typed = " ".join(self.name.text().split())
        try:
            name = text(typed, LONGEST) if typed else ""
        except Refusal as bad:
            self.remark.setText(str(bad))
            return
        self._preferences.set_practice(name, self.paper.value())
        self.kept.emit()
