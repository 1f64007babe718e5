"""The marking sheet: the comparison beside the rubric, two lines for the student, the signature."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QWidget

from footexam.catalogue.marking import BEST
from footexam.desktop.input_line import InputLine
from footexam.desktop.marking.common import KeyedPage, Pressed, Question
from footexam.desktop.marking.rows import Row as Compared
from footexam.desktop.marking.rubric import RubricList
from footexam.desktop.marking.rubric_rows import (
    Row,
    Sheet,
    What,
    rows_of,
    sum_words,
    unconfirmed,
    unfinished,
    unfinished_words,
)
from footexam.desktop.marking.table import ComparisonTable
from footexam.desktop.marking.words import WORDS
from footexam.desktop.theme import Theme, em
from footexam.marking.rubric import Marks

WIDE = 60
"""From this width in lines of text on comparison and rubric stand side by side."""
_NONE, _CONTROL = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier


class _Line(InputLine):
    """A line for the student; arrows go up and down between the fields."""

    stepped = Signal(int)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1, Qt.Key.Key_Return: 1, Qt.Key.Key_Enter: 1}
        if event.key() in steps and not event.modifiers() & _CONTROL:
            self.stepped.emit(steps[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)


class SheetPage(KeyedPage):
    """One student's examination with its marks.

    `changed(marks)` at every mark; `signed(marks)` once the marker has signed; `paper_wanted` for
    the feedback; `told(words)`; `escaped`.
    """

    ACTIONS: ClassVar[Mapping[Pressed, str]] = {
        (Qt.Key.Key_Return, _CONTROL): "sign",
        (Qt.Key.Key_Enter, _CONTROL): "sign",
        (Qt.Key.Key_F3, _NONE): "change_signed",
        (Qt.Key.Key_P, _CONTROL): "show_paper",
        (Qt.Key.Key_F6, _NONE): "next_area",
        (Qt.Key.Key_F6, Qt.KeyboardModifier.ShiftModifier): "previous_area",
        (Qt.Key.Key_Escape, _NONE): "leave",
    }
    changed = Signal(object)
    signed = Signal(object)
    paper_wanted = Signal()
    told = Signal(str)
    escaped = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet: Sheet | None = None
        self.title = self.add_label(" ", 1.3)
        self.by = self.add_label(" ")
        self.split = QSplitter(self)
        self.split.setChildrenCollapsible(False)
        self.table = ComparisonTable(theme, self.split)
        self.rubric = RubricList(theme, self.split)
        self.split.addWidget(self.table)
        self.split.addWidget(self.rubric)
        self.column.addWidget(self.split, 1)
        self.lines = tuple(_Line(self) for _ in range(2))
        self._add_lines()
        self.detail = self.add_label(" ")
        self.detail.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.detail.setMinimumHeight(self.detail.fontMetrics().lineSpacing() * (BEST + 1))
        self.sum = self.add_label(" ")
        self.question = Question(self)
        self.column.addWidget(self.question)
        self.keys = self.add_label(WORDS["sheet-keys"])
        self.setFocusProxy(self.rubric)
        self._connect()

    def _add_lines(self) -> None:
        """What the marker says, in two lines beside each other."""
        row = QHBoxLayout()
        for number, line in enumerate(self.lines, 1):
            line.setAccessibleName(WORDS[f"line-{number}"])
            line.setPlaceholderText(WORDS[f"line-{number}"])
            line.setMaxLength(400)
            row.addWidget(line)
        self.column.addLayout(row)

    def _connect(self) -> None:
        self.table.looked_at.connect(self.detail.setText)
        self.rubric.looked_at.connect(self.detail.setText)
        self.rubric.marked.connect(self._on_marked)
        self.rubric.confirmed.connect(self._on_confirmed)
        self.rubric.stepped.connect(self._on_stepped)
        self.rubric.passed.connect(self._on_passed)
        first, second = self.lines
        first.stepped.connect(self._on_first_stepped)
        second.stepped.connect(self._on_second_stepped)
        for line in self.lines:
            line.textEdited.connect(self._on_line)
        self.question.answered.connect(self._on_answered)

    # --- showing

    def show_sheet(self, title: str, by: str, compared: Sequence[Compared], sheet: Sheet) -> None:
        """A student's comparison and marks, with the keys on what must be looked at first."""
        self.title.setText(title)
        self.by.setText(by)
        self.setAccessibleName(title)
        self.table.show_rows(compared)
        self._take(sheet)
        for line, words in zip(self.lines, (*sheet.marks.lines, "", ""), strict=False):
            line.setText(words)
        if sheet.proposed:
            name = next(one.id for one in sheet.rubric.critical if one.seen in sheet.proposed)
            self.rubric.go_to(What.CRITICAL, name)
        else:
            self.rubric.go_to(What.DOMAIN)
        self.rubric.setFocus(Qt.FocusReason.OtherFocusReason)

    def _take(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.rubric.show_rows(rows_of(sheet))
        self.sum.setText(sum_words(sheet))
        for line in self.lines:
            line.setReadOnly(sheet.marks.signed_at is not None)

    @property
    def is_half_typed(self) -> bool:
        """Whether a reason was typed that is not taken yet; all else is kept at once."""
        return self.question.is_half_typed

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = self.width() >= em(self) * WIDE
        way = Qt.Orientation.Horizontal if wide else Qt.Orientation.Vertical
        if self.split.orientation() is not way or event.oldSize().width() != event.size().width():
            self.split.setOrientation(way)
            room = self.split.width() if wide else self.split.height()
            self.split.setSizes([round(room * 0.58), round(room * 0.42)])

    # --- marks

    def _set(self, marks: Marks) -> None:
        if self.sheet is not None:
            self._take(replace(self.sheet, marks=marks))
            self.changed.emit(marks)

    def _open_marks(self) -> Marks | None:
        """The marks, if they may be changed; signed ones are told."""
        if self.sheet is None:
            return None
        if self.sheet.marks.signed_at is not None:
            self.told.emit(WORDS["is-signed"])
            return None
        return self.sheet.marks

    def _on_marked(self, row: Row, digit: int) -> None:
        marks = self._open_marks()
        if marks is None or self.sheet is None:
            return
        if row.what is What.DOMAIN and digit <= BEST:
            self._set(replace(marks, domains={**marks.domains, row.id: digit}))
            self.rubric.go_on()
        elif row.what is What.GRADE and digit < len(self.sheet.rubric.grades):
            self._set(replace(marks, grade=self.sheet.rubric.grades[digit].id))

    def _on_confirmed(self, row: Row) -> None:
        marks = self._open_marks()
        if marks is None or self.sheet is None:
            return
        chosen = set(marks.critical) ^ {row.id}
        order = [one.id for one in self.sheet.rubric.critical if one.id in chosen]
        self._set(replace(marks, critical=tuple(order)))

    def _on_stepped(self, row: Row, step: int) -> None:
        marks = self._open_marks() if row.what is What.GRADE else None
        if marks is None or self.sheet is None:
            return
        names = [grade.id for grade in self.sheet.rubric.grades]
        at = names.index(marks.grade) + step if marks.grade in names else (0, -1)[step < 0]
        self._set(replace(marks, grade=names[max(0, min(len(names) - 1, at))]))

    def _on_line(self, _text: str) -> None:
        if self.sheet is not None:
            written = (" ".join(line.text().split()) for line in self.lines)
            self._set(replace(self.sheet.marks, lines=tuple(filter(None, written))))

    def _on_passed(self) -> None:
        self.lines[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_first_stepped(self, step: int) -> None:
        target = self.lines[1] if step > 0 else self.rubric
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_second_stepped(self, step: int) -> None:
        if step < 0:
            self.lines[0].setFocus(Qt.FocusReason.OtherFocusReason)

    # --- keys

    def sign(self) -> None:
        """Ask to sign what is whole; what is missing is told and gone to."""
        marks = self._open_marks()
        if marks is None or self.sheet is None:
            return
        missing = unfinished(self.sheet)
        if missing:
            self.told.emit(WORDS["not-whole"].format(what=unfinished_words(self.sheet)))
            self.rubric.go_to(*missing[0])
            self.rubric.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        words = WORDS["sign"].format(marker=marks.marker, sum=sum_words(self.sheet))
        open_fails = unconfirmed(self.sheet)
        if open_fails:
            words = f"{WORDS['sign-proposed'].format(what=open_fails)} {words}"
        self.question.ask(words, WORDS["sign-now"])

    def change_signed(self) -> None:
        """Ask why signed marks are changed."""
        if self.sheet is not None and self.sheet.marks.signed_at is not None:
            self.question.ask(WORDS["why-changed"])

    def _on_answered(self, words: str) -> None:
        if self.sheet is None:
            return
        marks = self.sheet.marks
        if marks.signed_at is None:
            self.question.close_line()
            self.signed.emit(marks)
        elif not words:
            self.told.emit(WORDS["why-missing"])
        else:
            self.question.close_line()
            self._take(replace(self.sheet, marks=replace(marks, signed_at=None, why_changed=words)))

    def show_paper(self) -> None:
        """Ask for the feedback document."""
        self.paper_wanted.emit()

    def leave(self) -> None:
        """Back to the list."""
        self.escaped.emit()

    def next_area(self) -> None:
        """From the marks to the lines, to the comparison, and to the marks again."""
        self._turn(1)

    def previous_area(self) -> None:
        """The other way round."""
        self._turn(-1)

    def _turn(self, step: int) -> None:
        areas: tuple[QWidget, ...] = (self.rubric, self.lines[0], self.table)
        at = next((n for n, one in enumerate(areas) if one.hasFocus()), 1)
        areas[(at + step) % len(areas)].setFocus(Qt.FocusReason.OtherFocusReason)
