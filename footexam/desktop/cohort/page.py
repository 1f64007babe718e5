"""The cohort page: which measures agree, which students differ, where the pass mark falls."""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.cohort import rows
from footexam.desktop.cohort.data import MeasureLine, TermShown
from footexam.desktop.cohort.detail import DetailView
from footexam.desktop.cohort.feed import TermWanted
from footexam.desktop.cohort.parts import PartBar
from footexam.desktop.cohort.reader import CohortReader
from footexam.desktop.cohort.rows import Place
from footexam.desktop.cohort.saving import TableSaver
from footexam.desktop.cohort.table import Table, TableView
from footexam.desktop.cohort.told import detail_of, plots_of
from footexam.desktop.cohort.waiting import Waiting
from footexam.desktop.cohort.words import WORDS
from footexam.desktop.paper_page import Paper, PaperPage
from footexam.desktop.preview.child import Kind, Wanted
from footexam.desktop.preview.reader import overrides
from footexam.desktop.theme import Theme, em, large

WIDE = 48
"""This many lines wide, table and detail stand beside each other; else one above the other."""
_CTRL, _ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
_ACTIONS = {
    (Qt.Key.Key_A, _CTRL | Qt.KeyboardModifier.ShiftModifier): "switch_names",
    (Qt.Key.Key_P, _CTRL): "show_report",
    (Qt.Key.Key_S, _CTRL): "save_table",
    (Qt.Key.Key_PageDown, _CTRL): "next_part",
    (Qt.Key.Key_PageUp, _CTRL): "previous_part",
    (Qt.Key.Key_1, _ALT): "show_measures",
    (Qt.Key.Key_2, _ALT): "show_examiners",
    (Qt.Key.Key_3, _ALT): "show_standards",
    (Qt.Key.Key_4, _ALT): "show_left",
}
PARTS = ("measures", "examiners", "standards", "left")


@dataclass(slots=True)
class Level:
    """What the table shows: a part, or what one of its rows is about; `row` is the chosen row."""

    about: object
    row: int = 0


class CohortPage(QWidget):
    """A term as a cohort. Enter goes in, Escape goes back one level.

    `escaped` when it is left at the top, or stopped before there was anything; `told(words)`.
    """

    escaped = Signal()
    told = Signal(str)

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, reader: CohortReader | None = None
    ) -> None:
        super().__init__(parent)
        self.theme = theme
        self.wanted: TermWanted | None = None
        self.paper_size = "A4"
        """Of the report, as reports/ names it."""
        self.shown = TermShown()
        self.levels = [Level("measures")]
        self.reader = reader or CohortReader(self)
        self.reader.setParent(self)
        self.reader.came.connect(self._on_line)
        self.reader.failed.connect(self._on_failed)
        self.saver = TableSaver(self)
        self.saver.told.connect(self.told)
        self.stack = QStackedWidget(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.stack)
        self.waiting = Waiting(self.stack)
        self.waiting.cancel.clicked.connect(self.back)
        self.stack.addWidget(self.waiting)
        self._build_body()

    # --- parts

    def _build_body(self) -> None:
        self.body = QWidget(self.stack)
        column = QVBoxLayout(self.body)
        pad = round(em(self) * 0.9)
        column.setContentsMargins(pad, pad // 2, pad, pad // 2)
        column.setSpacing(round(em(self) * 0.4))
        self.title = QLabel(self.body)
        self.title.setFont(large(self.title, 1.3))
        self.state = QLabel(self.body)
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.state)
        column.addLayout(head)
        self.tabs = PartBar(self.theme, self.body)
        self.tabs.setAccessibleName(WORDS["tabs"])
        for number, part in enumerate(PARTS, 1):
            self.tabs.addTab(WORDS["tab"].format(number=number, part=WORDS[f"part-{part}"]))
        self.tabs.currentChanged.connect(self._on_tab)
        column.addWidget(self.tabs)
        self.path = QLabel(self.body)
        for label in (self.title, self.state, self.path):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(label is not self.state)
        column.addWidget(self.path)
        self.table = TableView(self.body)
        self.table.entered_row.connect(self._on_entered)
        self.table.moved.connect(self._on_moved)
        self.detail = DetailView(self.theme, self.body)
        self.both = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self.both.addWidget(self.table, 3)
        self.both.addWidget(self.detail, 2)
        column.addLayout(self.both, 1)
        column.addLayout(self._buttons())
        self.stack.addWidget(self.body)

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        self.buttons: dict[str, QPushButton] = {}
        slots = {
            "anonymous-on": self.switch_names,
            "report": self.show_report,
            "table": self.save_table,
            "back": self.back,
        }
        for name, slot in slots.items():
            button = QPushButton(WORDS[name], self.body)
            button.setAutoDefault(False)
            button.clicked.connect(slot)
            row.addWidget(button)
            self.buttons[name] = button
        row.addStretch(1)
        return row

    @cached_property
    def paper(self) -> PaperPage:
        """The page of the report, made at first need."""
        page = PaperPage(self.theme, self.stack)
        page.left.connect(self._on_paper_left)
        page.told.connect(self.told)
        self.stack.addWidget(page)
        return page

    # --- the term

    def show_term(self, folder: Path | str, rubric: str = "", store: Path | str = "") -> None:
        """Read, compare and show the files of a folder, and a store's examinations for marking.

        `rubric` has the stated limits ("" for the first one).
        """
        self.wanted = TermWanted(str(folder), rubric, str(store))
        self.shown = TermShown(anonymous=self.shown.anonymous)
        self.levels = [Level("measures")]
        self._show_step(WORDS["starting"], 0, 0)
        self._show_part_of(self.waiting, self.waiting.cancel)
        self.reader.read(self.wanted)

    def _on_line(self, line: dict[str, Any]) -> None:
        self.shown.take(line)
        kind = line["kind"]
        if kind == "step":
            words = WORDS[f"step-{line['what']}"].format(done=line["done"], of=line["of"])
            self._show_step(words, line["done"], line["of"])
        elif kind == "tables":
            self._show_body()
        elif kind == "plot" and line["of"] in plots_of(self._chosen()):
            self._show_detail()
        elif kind == "end":
            self._show_state()
            self._show_detail()

    def _show_step(self, words: str, done: int, of: int) -> None:
        self.waiting.show_step(words, done, of)
        if self.is_there:
            self._show_state(words)

    @property
    def is_there(self) -> bool:
        """Whether the tables are shown."""
        return self.stack.currentWidget() is self.body

    def _show_body(self) -> None:
        if not self.shown.measures:
            self.levels = [Level("left")]
        self._show_part_of(self.body, self.table)
        self.refresh()

    def _show_part_of(self, part: QWidget, focus: QWidget) -> None:
        self.stack.setCurrentWidget(part)
        self.setFocusProxy(focus)
        focus.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_failed(self, why: str) -> None:
        self.told.emit(WORDS["not-read"].format(why=why))
        if not self.is_there:
            self.escaped.emit()
        self._show_state()

    # --- showing

    def refresh(self) -> None:
        """Show everything anew, at the same row."""
        shown, count = self.shown, len(self.shown.examiners)
        words = WORDS["nothing"]
        if shown.pairs:
            words = WORDS["title-one"] if count == 1 else WORDS["title-of"]
            words = words.format(students=count, patients=len(shown.patients), pairs=shown.pairs)
        self.title.setText(words)
        self.buttons["anonymous-on"].setText(
            WORDS[f"anonymous-{'off' if shown.anonymous else 'on'}"]
        )
        words = WORDS["tab"].format(number=len(PARTS), part=WORDS["part-left"])
        self.tabs.setTabText(3, WORDS["tab-count"].format(tab=words, count=len(shown.left)))
        self._show_state()
        self._show_level()

    def _show_state(self, step: str = "") -> None:
        name = WORDS["anonymous" if self.shown.anonymous else "named"]
        self.state.setText(f"{name}   {step}" if step else name)

    @property
    def level(self) -> Level:
        """What the table shows."""
        return self.levels[-1]

    def _show_level(self) -> None:
        part = PARTS.index(str(self.levels[0].about))
        with QSignalBlocker(self.tabs):
            self.tabs.setCurrentIndex(part)
        names = [WORDS[f"part-{PARTS[part]}"]]
        names += [self._name_of(level.about) for level in self.levels[1:]]
        self.path.setText(" › ".join(names) if len(names) > 1 else WORDS["keys"])
        self.table.setAccessibleName(" › ".join(names))
        self.table.setAccessibleDescription(WORDS["keys"])
        self.table.show_table(self._table(), self.level.row)
        self._show_detail()

    def _table(self) -> Table:
        about, shown = self.level.about, self.shown
        if isinstance(about, MeasureLine):
            return rows.readings(shown, about)
        if isinstance(about, Place):
            return rows.one_reading(shown, about)
        if isinstance(about, int):
            return rows.items(shown, about)
        parts = {
            "measures": rows.measures,
            "examiners": rows.examiners,
            "standards": rows.standards,
            "left": rows.left,
        }
        return parts[str(about)](shown)

    def _name_of(self, about: object) -> str:
        if isinstance(about, MeasureLine):
            return about.name
        if isinstance(about, Place):
            return rows.sided(about)
        return self.shown.examiner(about) if isinstance(about, int) else str(about)

    def _chosen(self) -> object:
        """What the chosen row is about."""
        keys, row = self.table.rows.table.keys, self.table.row()
        return keys[row] if 0 <= row < len(keys) else self.level.about

    def _show_detail(self) -> None:
        self.detail.show_detail(detail_of(self.shown, self.level.about, self._chosen()))

    def _on_moved(self, row: int) -> None:
        self.level.row = row
        self._show_detail()

    # --- going in and back

    def _on_entered(self, row: int) -> None:
        about = self.table.rows.table.keys[row]
        deepest = isinstance(self.level.about, Place)
        if not deepest and isinstance(about, MeasureLine | Place | int):
            self.levels.append(Level(about))
            self._show_level()

    def back(self) -> None:
        """One level up; at the top, out of the page."""
        if self.saver.stop():
            self.told.emit(WORDS["stopped"])
        elif self.is_there and len(self.levels) > 1:
            self.levels.pop()
            self._show_level()
        else:
            if self.reader.stop() and not self.is_there:
                self.told.emit(WORDS["stopped"])
            self.escaped.emit()

    def _on_tab(self, number: int) -> None:
        self._show_part(PARTS[number])

    def _show_part(self, name: str) -> None:
        if self.is_there:
            self.levels = [Level(name)]
            self._show_level()
            self.table.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_measures(self) -> None:
        """The measures."""
        self._show_part("measures")

    def show_examiners(self) -> None:
        """The students."""
        self._show_part("examiners")

    def show_standards(self) -> None:
        """The pass marks."""
        self._show_part("standards")

    def show_left(self) -> None:
        """The files that were left out."""
        self._show_part("left")

    def next_part(self) -> None:
        """The next part, round and round."""
        self._show_part(PARTS[(self.tabs.currentIndex() + 1) % len(PARTS)])

    def previous_part(self) -> None:
        """The part before."""
        self._show_part(PARTS[self.tabs.currentIndex() - 1])

    # --- names, report, table

    def switch_names(self) -> None:
        """Codes for names, or names again; the words of the state say which."""
        self.shown.anonymous = not self.shown.anonymous
        if self.is_there:
            self.refresh()
        self.told.emit(WORDS["anonymous" if self.shown.anonymous else "named"])

    def _wanted(self, kind: Kind) -> Wanted:
        term = self.wanted or TermWanted("")
        return Wanted(
            term.store,
            "",
            page=self.paper_size,
            kind=kind,
            folder=term.folder,
            rubric=term.rubric,
            anonymous=self.shown.anonymous,
        )

    def show_report(self) -> None:
        """The cohort report, made in a child process and shown on its page."""
        if not self.is_there or not self.shown.pairs:
            self.told.emit(WORDS["empty"])
            return
        end = "-anonymous" if self.shown.anonymous else ""
        title = WORDS["report-anonymous" if self.shown.anonymous else "report-title"]
        paper = Paper(self._wanted(Kind.COHORT), title, f"cohort{end}.pdf")
        self.stack.setCurrentWidget(self.paper)
        self.setFocusProxy(self.paper)
        self.paper.show_paper(paper)

    def _on_paper_left(self) -> None:
        self.paper.close_documents()
        self._show_part_of(self.body, self.table)

    def save_table(self) -> None:
        """Save every comparison as a table, where the person says."""
        if not self.is_there or not self.shown.pairs:
            self.told.emit(WORDS["empty"])
            return
        end = "-anonymous" if self.shown.anonymous else ""
        self.saver.save(self._wanted(Kind.COHORT_TABLE), f"cohort{end}.csv")

    # --- the page itself

    def close_term(self) -> None:
        """Let go of everything that is read or made."""
        self.reader.stop()
        self.saver.stop()
        if "paper" in self.__dict__:
            self.paper.close_documents()

    def take_over(self, old: "CohortPage") -> None:
        """Go on where a page was that this one replaces, as for other colours; the old one ends."""
        running = old.reader.runs
        if running and old.wanted is not None:
            self.shown.anonymous = old.shown.anonymous
            self.show_term(old.wanted.folder, old.wanted.rubric, old.wanted.store)
        else:
            self.wanted, self.shown, self.levels = old.wanted, old.shown, old.levels
            self._show_body()
        old.close_term()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Beside each other where there is room."""
        super().resizeEvent(event)
        way = QBoxLayout.Direction
        wide = self.width() >= WIDE * em(self)
        self.both.setDirection(way.LeftToRight if wide else way.TopToBottom)

    def event(self, event: QEvent) -> bool:
        """Keep the page's keys from the window's shortcuts, and end the child with the page."""
        if isinstance(event, QKeyEvent) and overrides(event, self._action(event)):
            return True
        if event.type() is QEvent.Type.DeferredDelete:
            self.close_term()
        return super().event(event)

    def _action(self, event: QKeyEvent) -> str | None:
        """The method that a key calls; the keys of a report are its own."""
        if self.stack.currentWidget() not in {self.body, self.waiting}:
            return None
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        return _ACTIONS.get((Qt.Key(event.key()), held))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        name = self._action(event)
        if name is not None:
            getattr(self, name)()
        elif event.key() == Qt.Key.Key_Escape:
            self.back()
        else:
            super().keyPressEvent(event)
