"""The worksheet of one panel: one row a measure, left foot left, right foot right."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from footexam.catalogue.model import Measure, Panel, say
from footexam.desktop.cells.frame import CellFrame, Note
from footexam.desktop.cells.make import make_editor
from footexam.desktop.cells.shown import ShownCell
from footexam.desktop.judgement import Key
from footexam.desktop.session import Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em, large, rule
from footexam.drawing.palette import Ink
from footexam.reasoning.dangers import is_danger
from footexam.reasoning.sheet import OnSheet, Sheet
from footexam.terms import Depth, Kind, Side

MEASURED = (28, 30, 30, 16)
ASKED = (44, 26, 26, 10)
"""Shares of the width: measure, left, right, difference; a panel of questions gives it to them."""

_WIDE = frozenset({Kind.TEXT, Kind.TABLE, Kind.ACTIVITIES, Kind.SEVERAL})


class Row:
    """The widgets of one measure: label, one or two cells, the difference."""

    def __init__(
        self, measure: Measure, label: QLabel, cells: list[CellFrame], difference: Note
    ) -> None:
        self.measure = measure
        self.label = label
        self.cells = cells
        self.difference = difference

    def widgets(self) -> Iterable[QWidget]:
        """Everything of the row."""
        return (self.label, *self.cells, self.difference)

    def set_visible(self, visible: bool) -> None:
        """Show or hide the row; the difference shows itself when it has something to say."""
        self.label.setVisible(visible)
        for cell in self.cells:
            cell.setVisible(visible)
        self.difference.setVisible(visible and bool(self.difference.text()))


class Worksheet(QWidget):
    """The rows of a panel, made when they first come onto the sheet.

    `focused(key)`: the keys are in a cell. `left(step)`: the keys left the last or first cell.
    `reason_wanted(cell)`: the record is signed, and a change of the cell needs a reason.
    """

    focused = Signal(object)
    left = Signal(int)
    reason_wanted = Signal(object)

    def __init__(
        self,
        panel: Panel,
        session: Session,
        sheet: Sheet,
        theme: Theme,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.panel = panel
        self.session = session
        self.sheet = sheet
        self.theme = theme
        self.more = False
        self.rows: dict[str, Row] = {}
        self.order: list[CellFrame] = []
        self._headings: dict[str, QLabel] = {}
        self._shares = MEASURED if _is_measured(panel, session) else ASKED
        self._last: CellFrame | None = None
        self._shown: tuple[OnSheet, bool] | None = None
        self._build()
        session.recorded.connect(self._on_recorded)
        session.saving.connect(self._on_saving)

    # --- building

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._head())
        self._area = QScrollArea(self)
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._body = QWidget(self._area)
        self._grid = QGridLayout(self._body)
        self._spread(self._grid)
        self._hidden = Note(self.theme, Ink.MUTED, self._body)
        self._area.setWidget(self._body)
        column.addWidget(self._area, 1)
        self._arrange()

    def _spread(self, grid: QGridLayout) -> None:
        """The same columns in the head and in the body."""
        side = round(em(self) * 1.2)
        grid.setContentsMargins(side, 0, side, round(em(self) * 0.4))
        grid.setHorizontalSpacing(round(em(self) * 1.0))
        grid.setVerticalSpacing(0)
        for column, share in enumerate(self._shares):
            grid.setColumnStretch(column, share)
            grid.setColumnMinimumWidth(column, round(em(self) * share * 0.15))

    def _head(self) -> QWidget:
        head = QWidget(self)
        grid = QGridLayout(head)
        self._spread(grid)
        bar = self.style().pixelMetric(self.style().PixelMetric.PM_ScrollBarExtent)
        margins = grid.contentsMargins()
        margins.setRight(margins.right() + bar)
        margins.setTop(round(em(self) * 0.6))
        grid.setContentsMargins(margins)
        title = QLabel(say(self.panel.label), head)
        title.setFont(large(title, 1.45))
        grid.addWidget(title, 0, 0, 1, 4)
        hint = Note(self.theme, Ink.MUTED, head)
        hint.say(say(self.panel.hint), Ink.MUTED)
        grid.addWidget(hint, 1, 0, 1, 4)
        self._heads = [QLabel(words, head) for words in ("Left", "Right", "Difference")]
        for label in self._heads:
            font = label.font()
            font.setBold(label is not self._heads[-1])
            label.setFont(font)
        grid.setRowMinimumHeight(2, round(em(self) * 1.5))
        self._rule = rule(self.theme, head)
        grid.addWidget(self._rule, 3, 0, 1, 4)
        return head

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._align_heads)

    def _align_heads(self) -> None:
        """Put the column heads above the cells of the first row that has both sides."""
        row = next(
            (row for row in self.rows.values() if len(row.cells) == 2 and row.label.isVisible()),
            None,
        )
        for label in self._heads:
            label.setVisible(row is not None)
        self._heads[-1].setVisible(row is not None and self._shares is MEASURED)
        if row is None:
            return
        beside = row.cells[1].geometry().right() + self._grid.horizontalSpacing()
        lefts = (row.cells[0].x(), row.cells[1].x(), beside)
        for label, left in zip(self._heads, lefts, strict=True):
            y = self._rule.y() - round(em(self) * 1.45)
            label.setGeometry(left, y, label.sizeHint().width(), round(em(self) * 1.3))

    def _row(self, name: str) -> Row:
        """The row of a measure, made at first need."""
        if name in self.rows:
            return self.rows[name]
        measure = self.session.catalogue.measures[name]
        label = QLabel(say(measure.label), self._body)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        pad = round(em(self) * 0.3)
        label.setContentsMargins(0, pad, 0, pad)
        sides: tuple[Side | None, ...] = tuple(Side) if measure.sided else (None,)
        cells = [self._cell(measure, side) for side in sides]
        difference = Note(self.theme, Ink.MUTED, self._body)
        label.setBuddy(cells[0].editor.focus_widget())
        at = 2 * self.panel.measures.index(name) + 1
        top = Qt.AlignmentFlag.AlignTop
        self._grid.addWidget(label, at, 0, top)
        if measure.sided:
            self._grid.addWidget(cells[0], at, 1, top)
            self._grid.addWidget(cells[1], at, 2, top)
            self._grid.addWidget(difference, at, 3, top)
        else:
            span = 3 if measure.kind in _WIDE else 2
            self._grid.addWidget(cells[0], at, 1, 1, span, top)
            self._grid.addWidget(difference, at, 3, top)
        self.rows[name] = Row(measure, label, cells, difference)
        return self.rows[name]

    def _cell(self, measure: Measure, side: Side | None) -> CellFrame:
        catalogue = self.session.catalogue
        editor = make_editor(measure, self.theme, catalogue, self._body, side)
        name = say(measure.label)
        if side is not None:
            name = f"{name}, {side} foot"
        if measure.unit:
            name = f"{name}, in {measure.unit}"
        cell = CellFrame((measure.id, side), name, editor, self.session, self.theme, self._body)
        core = measure.depth is Depth.CORE
        cell.both_at_once = core and side is Side.LEFT and is_danger(measure.id, catalogue)
        cell.leave.connect(self.move_focus)
        cell.tabbed.connect(self.step_focus)
        cell.focused.connect(self._on_focused)
        cell.reason_wanted.connect(self.reason_wanted)
        return cell

    # --- what is on the sheet

    def _arrange(self) -> None:
        """Bring onto the sheet what belongs there, and set the order of the keys."""
        recorded = self.session.recorded_measures
        found = self.sheet.of(self.panel.id, self.session.facts, recorded, more=self.more)
        shown = self.session.offered(found)
        if (shown, self.more) != self._shown:
            self._shown = (shown, self.more)
            self._show_rows(shown)
        self._refresh(self.rows)

    def _show_rows(self, shown: OnSheet) -> None:
        wanted = set(shown.measures)
        for name in shown.measures:
            self._row(name)
        for name, row in self.rows.items():
            row.set_visible(name in wanted)
        self._arrange_headings(wanted)
        self._show_hidden(shown.hidden)
        self._set_order(shown.measures)
        QTimer.singleShot(0, self, self._align_heads)

    def _arrange_headings(self, wanted: set[str]) -> None:
        """A heading stands above the first shown row of its group."""
        heading = ""
        shown: dict[str, bool] = {}
        for name in self.panel.measures:
            measure = self.session.catalogue.measures[name]
            if measure.heading:
                heading = name
            if heading:
                shown[heading] = shown.get(heading, False) or name in wanted
        for name, visible in shown.items():
            self._heading(name).setVisible(visible)

    def _heading(self, name: str) -> QLabel:
        if name not in self._headings:
            label = QLabel(say(self.session.catalogue.measures[name].heading), self._body)
            label.setFont(large(label, 1.08))
            label.setContentsMargins(0, round(em(self) * 0.9), 0, round(em(self) * 0.2))
            self._grid.addWidget(label, 2 * self.panel.measures.index(name), 0, 1, 4)
            self._headings[name] = label
        return self._headings[name]

    def _show_hidden(self, count: int) -> None:
        last = 2 * len(self.panel.measures) + 2
        words = f"{count} more questions and tests can be shown: Ctrl+M." if count else ""
        if self.more:
            words = "Everything of this position is shown: Ctrl+M shows the usual sheet again."
        self._hidden.say(words, Ink.MUTED)
        self._grid.addWidget(self._hidden, last, 0, 1, 4)
        self._grid.setRowStretch(last + 1, 1)

    def _set_order(self, names: tuple[str, ...]) -> None:
        """Reading order: row by row, left before right; a foot at a time where forms/ says so."""
        order: list[CellFrame] = []
        group: list[Row] = []
        for name in names:
            row = self.rows[name]
            if row.measure.foot_by_foot and row.measure.sided:
                group.append(row)
                continue
            order += _foot_by_foot(group)
            group = []
            order += row.cells
        self.order = order + _foot_by_foot(group)
        for first, second in zip(self.order, self.order[1:], strict=False):
            QWidget.setTabOrder(first.editor.focus_widget(), second.editor.focus_widget())

    def show_more(self, more: bool) -> None:
        """Show every measure of the panel, or the usual sheet."""
        self.more = more
        self._arrange()

    def scrolled(self) -> int:
        """How far the sheet is scrolled, in pixels."""
        return self._area.verticalScrollBar().value()

    # --- keys

    def move_focus(self, cell: CellFrame, step: int) -> None:
        """On to the next cell that can be typed into; past the end, `left` is told."""
        at = self.order.index(cell) + step
        while 0 <= at < len(self.order) and self._passes(self.order[at], cell):
            at += step
        self._focus_place(at, step)

    def _passes(self, cell: CellFrame, left: CellFrame) -> bool:
        """Whether the keys pass a cell by: a value worked out, or just answered with the other."""
        if isinstance(cell.editor, ShownCell):
            return True
        reading = self.session.examination.reading(*cell.key)
        same = left.both_at_once and cell.key[0] == left.key[0]
        return same and reading is not None and reading.typed_both

    def step_focus(self, cell: CellFrame, step: int) -> None:
        """On to the next cell, also to one that is only read."""
        self._focus_place(self.order.index(cell) + step, step)

    def _focus_place(self, at: int, step: int) -> None:
        if 0 <= at < len(self.order):
            self.focus_cell(self.order[at])
        else:
            self.left.emit(step)

    def focus_cell(self, cell: CellFrame) -> None:
        """Put the keys into a cell and bring it into view."""
        cell.editor.focus_widget().setFocus(Qt.FocusReason.TabFocusReason)

    def focus_key(self, key: Key) -> bool:
        """Put the keys into the cell of a measure and side; False if it is not on this sheet."""
        for cell in self.order:
            if cell.key == key:
                self.focus_cell(cell)
                return True
        return False

    def focus_first(self, *, last: bool = False) -> None:
        """Put the keys where they were last on this sheet, else into the first cell."""
        if self._last in self.order and not last:
            self.focus_cell(self._last)
        elif self.order:
            self.focus_cell(self.order[-1 if last else 0])

    def current(self) -> CellFrame | None:
        """The cell that has the keys, or had them last."""
        return self._last

    def _on_focused(self, cell: CellFrame) -> None:
        self._last = cell
        margin = round(em(self) * 4)
        self._area.ensureWidgetVisible(cell, 0, margin)
        self.focused.emit(cell.key)

    # --- showing

    def _on_recorded(self, _keys: object) -> None:
        if self.isVisible():
            self._arrange()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._arrange()

    def _on_saving(self) -> None:
        """Only the marks of the cells whose saving has changed."""
        if self.isVisible():
            saving = self.session.saving_keys()
            for cell in self.order:
                if cell.awaits_saving or cell.key in saving:
                    cell.show_state()

    def _refresh(self, names: Iterable[str]) -> None:
        for name in names:
            row = self.rows[name]
            if not row.label.isHidden():
                self._refresh_row(row)

    def _refresh_row(self, row: Row) -> None:
        for cell in row.cells:
            if isinstance(cell.editor, ShownCell):
                cell.editor.show_value(self.session.judge.score_words(cell.key))
            cell.refresh()
        words = self.session.judge.difference(row.measure)
        told = f"{words.value}\n{words.weight}".strip()
        sideless = self._sideless(row.measure)
        row.difference.say(told or sideless, Ink.INK if words.beyond or sideless else Ink.MUTED)

    def _sideless(self, measure: Measure) -> str:
        """An answer for both feet whose side was not stated, as files may hold it."""
        reading = self.session.examination.reading(measure.id) if measure.sided else None
        if reading is None:
            return ""
        judge = self.session.judge
        told = judge.of((measure.id, None)).absent or "; ".join(judge.values(reading))
        return TEXTS["sideless"].format(value=told)

    def commit_all(self) -> bool:
        """Take over everything typed; False if a cell is refused (it has the keys then)."""
        for cell in self.order:
            if not cell.commit():
                self.focus_cell(cell)
                return False
        return True


def _is_measured(panel: Panel, session: Session) -> bool:
    """Whether most of a panel is measured or graded rather than asked by yes or no."""
    asked = {Kind.YES_NO, Kind.YES_SITES}
    kinds = [session.catalogue.measures[name].kind for name in panel.measures]
    return sum(kind in asked for kind in kinds) * 2 < len(kinds)


def _foot_by_foot(rows: list[Row]) -> list[CellFrame]:
    """All left cells, then all right cells."""
    return [row.cells[0] for row in rows] + [row.cells[1] for row in rows]
