"""The patient list: search on top, the list below; nothing heavy is needed to show it."""

from collections.abc import Callable, Sequence
from typing import Any, Protocol

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.input_line import InputLine
from footexam.desktop.table_rows import Index, RowModel, set_up_rows
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import em, large
from footexam.record.naming import listed_name

WIDTHS = (7.5, 8.5, 5.5, 7.5)
"""Of the columns behind the name, in lines of text."""
COLUMNS = ("Name", "Born", "Record number", "Sex", "Last visit")


class ListedPatient(Protocol):
    """A patient as the list shows them; the store's rows have this form."""

    @property
    def subject(self) -> str: ...
    @property
    def family_name(self) -> str: ...
    @property
    def given_names(self) -> str: ...
    @property
    def title(self) -> str: ...
    @property
    def record_number(self) -> str: ...
    @property
    def birth_date(self) -> str: ...
    @property
    def sex(self) -> str: ...
    @property
    def last_visit(self) -> str: ...
    @property
    def in_error(self) -> bool: ...


MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def short_date(day: str) -> str:
    """YYYY-MM-DD as 04-Mar-2026; shorter dates likewise; empty stays empty."""
    year, *rest = day.split("-")
    parts = [year, *(MONTHS[int(month) - 1] for month in rest[:1]), *rest[1:]]
    return "-".join(reversed(parts))


def name_of(patient: ListedPatient) -> str:
    """FAMILY, Given (Title)."""
    return listed_name(patient.family_name, patient.given_names, patient.title)


class PatientModel(RowModel[ListedPatient]):
    """Rows of the list; the first page of what was searched."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(COLUMNS, parent)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        patient = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._cell(patient, index.column())
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{COLUMNS[index.column()]}: {self._cell(patient, index.column()) or 'none'}"
        return None

    def _cell(self, patient: ListedPatient, column: int) -> str:
        struck = " (entered in error)" if patient.in_error else ""
        return (
            name_of(patient) + struck,
            short_date(patient.birth_date),
            patient.record_number,
            patient.sex,
            short_date(patient.last_visit),
        )[column]


class _Search(InputLine):
    """The search line; arrows and Enter go to the list."""

    to_list = Signal()
    entered = Signal()
    escaped = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in {Qt.Key.Key_Down, Qt.Key.Key_PageDown}:
            self.to_list.emit()
        elif event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.entered.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self._on_escape()
        else:
            super().keyPressEvent(event)

    def _on_escape(self) -> None:
        """Escape empties the line, and leaves it when it is empty."""
        if self.text():
            self.clear()
        else:
            self.escaped.emit()


class _Table(QTableView):
    """The list; Enter opens, letters go back to the search line."""

    opened = Signal()
    typed = Signal(str)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        first = self.currentIndex().row() <= 0
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.opened.emit()
        elif event.key() == Qt.Key.Key_Escape or (event.key() == Qt.Key.Key_Up and first):
            self.typed.emit("")
        elif event.text().strip() and event.text().isprintable() and not event.modifiers():
            self.typed.emit(event.text())
        else:
            super().keyPressEvent(event)


class PatientsPage(QWidget):
    """Search and list; `wanted(patient)` when one is opened, `new_wanted` for a new one.

    `form_wanted` for a blank paper form, `marking_wanted` for students. With a question as title
    the list only answers it: none of these is offered, and `escaped` tells that it is not to be
    answered.
    """

    wanted = Signal(object)
    new_wanted = Signal()
    form_wanted = Signal()
    marking_wanted = Signal()
    escaped = Signal()

    def __init__(
        self,
        search: Callable[[str], Sequence[ListedPatient]],
        parent: QWidget | None = None,
        question: str = "",
    ) -> None:
        super().__init__(parent)
        self._search = search
        self._question = question
        self.model = PatientModel(self)
        self.line = _Search(self)
        self.table = _Table(self)
        self.remark = QLabel(self)
        self._build()
        self.line.textChanged.connect(self._on_text)
        self.line.to_list.connect(self._on_to_list)
        self.line.entered.connect(self._on_entered)
        self.line.escaped.connect(self.escaped)
        self.table.opened.connect(self._on_opened)
        self.table.typed.connect(self._on_typed)
        self.table.doubleClicked.connect(self._on_opened)
        self.setFocusProxy(self.line)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        pad = round(em(self) * 1.2)
        column.setContentsMargins(pad, pad, pad, pad)
        column.setSpacing(round(em(self) * 0.6))
        title = QLabel(self._question or TEXTS["patients"], self)
        title.setFont(large(title, 1.45))
        column.addWidget(title)
        self.line.setPlaceholderText(TEXTS["search-hint"])
        self.line.setAccessibleName(TEXTS["search-name"])
        self.line.setClearButtonEnabled(True)
        row = QHBoxLayout()
        row.addWidget(self.line, 1)
        if not self._question:
            new = QPushButton(TEXTS["new-patient"], self)
            new.clicked.connect(self.new_wanted)
            row.addWidget(new)
            form = QPushButton(TEXTS["blank-form"], self)
            form.clicked.connect(self.form_wanted)
            row.addWidget(form)
            marking = QPushButton(TEXTS["marking"], self)
            marking.clicked.connect(self.marking_wanted)
            row.addWidget(marking)
        column.addLayout(row)
        self._build_table()
        column.addWidget(self.table, 1)
        self.remark.setWordWrap(True)
        self.remark.setTextFormat(Qt.TextFormat.PlainText)
        column.addWidget(self.remark)
        if not self._question:
            QWidget.setTabOrder(self.line, new)
            QWidget.setTabOrder(new, form)
            QWidget.setTabOrder(form, marking)
            QWidget.setTabOrder(marking, self.table)

    def _build_table(self) -> None:
        table = self.table
        table.setModel(self.model)
        table.setAccessibleName(TEXTS["patients"])
        set_up_rows(table, 1.9)
        head = table.horizontalHeader()
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for at, width in enumerate(WIDTHS, 1):
            table.setColumnWidth(at, round(em(self) * width))

    # --- showing

    def refresh(self) -> None:
        """Search again, so that new patients and visits show."""
        self._on_text(self.line.text())

    def _on_text(self, text: str) -> None:
        patients = self._search(text)
        self.model.show_rows(patients)
        if patients:
            self.remark.setText("")
            self.table.setCurrentIndex(self.model.index(0, 0))
        else:
            self.remark.setText(TEXTS["nobody-found" if text.strip() else "nobody-yet"])

    def tell(self, words: str) -> None:
        """Say something under the list."""
        self.remark.setText(words)

    # --- keys

    def _on_to_list(self) -> None:
        if self.model.rowCount():
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_typed(self, text: str) -> None:
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)
        if text:
            self.line.setText(self.line.text() + text)

    def _on_entered(self) -> None:
        """Enter in the search line opens the only patient found; otherwise it goes to the list."""
        if self.model.rowCount() == 1:
            self.wanted.emit(self.model.rows[0])
        else:
            self._on_to_list()

    def _on_opened(self) -> None:
        row = self.table.currentIndex().row()
        if 0 <= row < len(self.model.rows):
            self.wanted.emit(self.model.rows[row])
