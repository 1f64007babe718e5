"""The list of students to be marked: folder, marker and rubric on top, what is left out below."""

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QHeaderView,
    QListWidget,
    QTableView,
    QWidget,
)

from footexam.desktop.input_line import InputLine
from footexam.desktop.marking.common import KeyedPage, Pressed, Progress
from footexam.desktop.marking.students import COLUMNS, Line
from footexam.desktop.marking.words import WORDS
from footexam.desktop.pages import Radios
from footexam.desktop.table_rows import Index, RowModel, set_up_rows
from footexam.desktop.theme import em

HEADS = (*COLUMNS, WORDS["column-state"])
SHARES = (0.17, 0.23, 0.12, 0.16)
"""Of the width that the table has; the rest is for the state."""
_LEFT_OUT_LINES = 3.4
"""How high the list of files that are left out may be."""
_NONE, _CONTROL = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier
_SHIFT = Qt.KeyboardModifier.ShiftModifier


class _Model(RowModel[Line]):
    """The lines as a table."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(HEADS, parent)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        cell = self.rows[index.row()].cells[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return cell
        if role == Qt.ItemDataRole.ToolTipRole:
            return cell
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{HEADS[index.column()]}: {cell}"
        return None


class _Table(QTableView):
    """The students; Enter marks the one at hand."""

    opened = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and not event.modifiers():
            self.opened.emit()
        elif event.key() == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        for at, share in enumerate(SHARES):
            self.setColumnWidth(at, round(self.viewport().width() * share))


class ListPage(KeyedPage):
    """Who is to be marked.

    `wanted(student)`: mark this one. `read_wanted`, `feedback_wanted`, `cohort_wanted`, `escaped`.
    `folder_given` and `marker_given` when a line is left, `rubric_chosen`.
    """

    ACTIONS: ClassVar[Mapping[Pressed, str]] = {
        (Qt.Key.Key_F5, _NONE): "read_again",
        (Qt.Key.Key_P, _CONTROL | _SHIFT): "write_feedback",
        (Qt.Key.Key_M, _CONTROL): "show_cohort",
        (Qt.Key.Key_Escape, _NONE): "leave",
    }
    wanted = Signal(object)
    read_wanted = Signal()
    feedback_wanted = Signal()
    cohort_wanted = Signal()
    escaped = Signal()
    folder_given = Signal(str)
    marker_given = Signal(str)
    rubric_chosen = Signal(str)

    def __init__(self, rubrics: Mapping[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.add_label(WORDS["marking"], 1.45)
        self.folder = InputLine(self)
        self.marker = InputLine(self)
        self.rubric = Radios(rubrics, WORDS["rubric"], self)
        form = QFormLayout()
        for name, field in (("folder", self.folder), ("marker", self.marker)):
            field.setAccessibleName(WORDS[name])
            field.setMaxLength(1000 if name == "folder" else 200)
            form.addRow(WORDS[name], field)
        form.addRow(WORDS["rubric"], self.rubric)
        self.column.addLayout(form)
        self.progress = Progress(self)
        self.column.addWidget(self.progress)
        self.table = _Table(self)
        self.model = _Model(self)
        self._build_table()
        self.column.addWidget(self.table, 1)
        self.left_out = self.add_label()
        self.problems = QListWidget(self)
        self.problems.setMaximumHeight(round(em(self) * _LEFT_OUT_LINES))
        self.problems.setWordWrap(True)
        self.column.addWidget(self.problems)
        self.show_problems(())
        self.keys = self.add_label(WORDS["list-keys"])
        self.setFocusProxy(self.table)
        self.folder.returnPressed.connect(self._on_folder)
        self.marker.editingFinished.connect(self._on_marker)
        self.marker.returnPressed.connect(self._on_marker_entered)
        self.rubric.changed.connect(self._on_rubric)
        self.table.opened.connect(self._on_opened)
        self.table.doubleClicked.connect(self._on_opened)

    def _build_table(self) -> None:
        table = self.table
        table.setModel(self.model)
        table.setAccessibleName(WORDS["students"])
        set_up_rows(table, 1.9)
        head = table.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setStretchLastSection(True)

    # --- showing

    def show_settings(self, folder: str, marker: str, rubric: str) -> None:
        """The lines on top."""
        self.folder.setText(folder)
        self.marker.setText(marker)
        self.rubric.blockSignals(True)
        self.rubric.set_value(rubric)
        self.rubric.blockSignals(False)

    def show_lines(self, lines: Sequence[Line], problems: Sequence[str]) -> None:
        """The students and what is left out; the same student stays at hand."""
        at = self.chosen()
        self.model.show_rows(lines)
        names = [line.student.name for line in lines]
        self.go_to(names.index(at.student.name) if at and at.student.name in names else 0)
        self.show_problems(problems if lines or problems else [WORDS["nothing"]])

    def show_problems(self, problems: Sequence[str]) -> None:
        """What is left out, or what stands in the way."""
        is_left_out = bool(self.model.rows) and bool(problems)
        key = "left-out-one" if len(problems) == 1 else "left-out"
        self.left_out.setText(WORDS[key].format(count=len(problems)) if is_left_out else "")
        self.left_out.setVisible(is_left_out)
        self.problems.clear()
        self.problems.addItems(list(problems))
        self.problems.setVisible(bool(problems))
        self.problems.setAccessibleName(self.left_out.text() or "; ".join(problems))

    def chosen(self) -> Line | None:
        """The line at hand."""
        row = self.table.currentIndex().row()
        return self.model.rows[row] if 0 <= row < len(self.model.rows) else None

    def go_to(self, row: int) -> None:
        """Put a line at hand."""
        self.table.setCurrentIndex(self.model.index(row, 0))

    def go_on(self) -> None:
        """The next line behind this one at which this marker has something to do, if any."""
        row, count = self.table.currentIndex().row(), len(self.model.rows)
        for step in range(1, count):
            at = (row + step) % count
            if self.model.rows[at].open:
                self.go_to(at)
                return

    def ask_marker(self) -> None:
        """Put the keys into the line of the name."""
        self.marker.setFocus(Qt.FocusReason.OtherFocusReason)

    # --- keys

    def read_again(self) -> None:
        """Read the folder again."""
        self._on_marker()
        self.read_wanted.emit()

    def write_feedback(self) -> None:
        """Write all feedback."""
        self.feedback_wanted.emit()

    def show_cohort(self) -> None:
        """Look at the term as a whole."""
        self.cohort_wanted.emit()

    def leave(self) -> None:
        """Stop what takes a while, or go back."""
        self.escaped.emit()

    def _on_folder(self) -> None:
        self.folder_given.emit(self.folder.text().strip())

    def _on_marker(self) -> None:
        self.marker_given.emit(" ".join(self.marker.text().split()))

    def _on_marker_entered(self) -> None:
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_rubric(self) -> None:
        self.rubric_chosen.emit(self.rubric.value())

    def _on_opened(self) -> None:
        line = self.chosen()
        if line is not None:
            self.wanted.emit(line.student)
