"""The plan sheet: what is aimed at, what a device may have, whether it fits, what is advised."""

from collections.abc import Mapping
from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, QUrl, Signal
from PySide6.QtGui import QKeyEvent, QPalette, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from footexam.catalogue.model import say
from footexam.catalogue.plan_model import Feature
from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.cells.make import make_editor
from footexam.desktop.plan_drawings import PlanDrawings
from footexam.desktop.plan_list import PlanList
from footexam.desktop.plan_rows import Place, What, find_candidate, plan_rows
from footexam.desktop.plan_sizes import SizeLine, SizesBox, follows, typed_size
from footexam.desktop.plan_words import plan_html, plan_title
from footexam.desktop.session import ADVICE, Session
from footexam.desktop.supposing import dimensions_with, plan_with, value_on
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em, large, rule
from footexam.desktop.weighing_words import CELL
from footexam.reasoning.planned import Plan
from footexam.terms import Side

WIDE = 42
"""So many lines of text wide, list and detail stand beside each other; else one below the other."""
TALL = 34
"""So many lines high, the drawings have a strip of their own below both."""
KEYS = ("Space  keep or drop", "Enter  go in", "Esc  back")


class _Text(QTextBrowser):
    """The words of a row, as high as they need; nothing is read from a disk or a network."""

    escaped = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._html = ""
        self.setOpenLinks(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Base, palette.color(QPalette.ColorRole.Window))
        self.setPalette(palette)

    def loadResource(self, _kind: int, _name: QUrl | str) -> object:
        """Nothing."""
        return None

    def show_html(self, html: str) -> None:
        """Show words; what stands there already is left alone."""
        if html != self._html:
            self._html = html
            colour = self.palette().link().color().name()
            self.setHtml(f"<style>a {{ color: {colour} }}</style>{html}")
            self.fit()

    def fit(self) -> None:
        """Be as high as the words."""
        self.document().setTextWidth(self.viewport().width())
        self.setFixedHeight(round(self.document().size().height()) + 2)

    def top_of(self, name: str) -> int:
        """How far down the paragraph with an anchor stands, in pixels; 0 where there is none."""
        block, layout = self.document().begin(), self.document().documentLayout()
        while block.isValid():
            parts = block.begin()
            while not parts.atEnd():
                if name in parts.fragment().charFormat().anchorNames():
                    return round(layout.blockBoundingRect(block).top())
                parts += 1
            block = block.next()
        return 0

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        elif event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            event.ignore()  # the area around it scrolls
        else:
            super().keyPressEvent(event)


class _Area(QScrollArea):
    """What scrolls the detail; Up and Down move it while the text in it has the keys."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)


class PlanPage(QWidget):
    """The plan of the open examination; its keys ask, `planning.py` records.

    `toggled(place)`: keep or drop what a row is about. `sized(place, sizes)`: choose a feature
    with these dimensions. `weighed(place)`: open the caution of a held side. `wanted(key)`: a cell
    was asked for. `escaped`: back. `told(words)`. `reason_wanted(cell)`: of the advice.
    """

    toggled = Signal(object)
    sized = Signal(object, object)
    weighed = Signal(object)
    wanted = Signal(object)
    escaped = Signal()
    told = Signal(str)
    reason_wanted = Signal(object)

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.theme = theme
        self._open: dict[Place, bool] = {}
        """What was unfolded (True) or folded by hand."""
        self._strip: bool | None = None
        self._build()

    # --- building

    def _build(self) -> None:
        self.column = column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self.body.setSpacing(0)
        self.list = PlanList(self.theme, self)
        self._rule = rule(self.theme, self, vertical=True)
        self.area = _Area(self)
        self.area.setWidget(self._detail())
        pad = round(em(self) * 0.6)
        self.list.setViewportMargins(0, pad, 0, pad)
        self.body.addWidget(self.list, 10)
        self.body.addWidget(self._rule)
        self.body.addWidget(self.area, 14)
        column.addLayout(self.body, 1)
        self._under = rule(self.theme, self)
        column.addWidget(self._under)
        column.addWidget(rule(self.theme, self))
        column.addLayout(self._buttons())
        self.setFocusProxy(self.list)
        self.list.changed.connect(self._on_changed)
        self.list.toggled.connect(self._on_toggled)
        self.list.entered.connect(self._on_entered)
        self.list.escaped.connect(self.escaped)
        self.list.folded.connect(self._on_folded)
        self.list.started.connect(self._on_started)

    def _detail(self) -> QWidget:
        detail = QWidget(self)
        column = QVBoxLayout(detail)
        pad = round(em(self) * 1.0)
        column.setContentsMargins(pad, round(pad * 0.7), pad, pad)
        column.setSpacing(round(em(self) * 0.5))
        self.title = QLabel(detail)
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.title.setWordWrap(True)
        self.title.setFont(large(self.title, 1.3))
        self.sizes = SizesBox(self.theme, self.session.judge.material, detail)
        self.advice = self._advice(detail)
        self.text = _Text(detail)
        self.drawings = PlanDrawings(self.session.catalogue, self.theme, detail)
        for widget in (self.title, self.sizes, self.advice, self.drawings, self.text):
            column.addWidget(widget)
        column.addStretch(1)
        self._inner = column
        self.sizes.tried.connect(self._on_tried)
        self.sizes.taken.connect(self._on_taken)
        self.sizes.left.connect(self.focus_list)
        self.text.escaped.connect(self.focus_list)
        self.text.anchorClicked.connect(self._on_link)
        return detail

    def _advice(self, parent: QWidget) -> CellFrame:
        """The cell of the advice, as on the worksheet, with its prompts as a hint in it."""
        measure = self.session.catalogue.measures[ADVICE]
        editor = make_editor(measure, self.theme, self.session.catalogue, parent)
        cell = CellFrame((ADVICE, None), say(measure.label), editor, self.session, self.theme)
        cell.setParent(parent)
        cell.leave.connect(self._on_advised)
        cell.tabbed.connect(self._on_advice_tabbed)
        cell.reason_wanted.connect(self.reason_wanted)
        editor.focus_widget().installEventFilter(self)
        cell.hide()
        return cell

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        pad = round(em(self) * 0.5)
        row.setContentsMargins(pad * 2, pad, pad * 2, pad)
        row.setSpacing(pad)
        buttons = [QPushButton(words, self) for words in KEYS]
        for button in buttons:
            button.setAccessibleName(button.text())
            row.addWidget(button)
        keep, enter, back = buttons
        keep.clicked.connect(self._on_keep_clicked)
        enter.clicked.connect(self._on_enter_clicked)
        back.clicked.connect(self.escaped)
        row.addStretch(1)
        return row

    # --- showing

    @property
    def plan(self) -> Plan:
        """The plan that follows from the record."""
        return self.session.assessment.reasons.plan

    @property
    def place(self) -> Place | None:
        """What the row at hand is about."""
        return self.list.place

    def refresh(self) -> None:
        """Show what follows from the record now."""
        self._show(self.plan)
        self.advice.refresh()

    def go_to(self, place: Place) -> None:
        """Put a row at hand; a feature under the first aim that shows it."""
        if place.what is What.FEATURE and not place.aim:
            place = self._row_of(place) or place
        if place.aim:
            self._open[Place(What.AIM, place.aim, place.side)] = True
            self._show_rows(self.plan)
        self.list.go_to(place)

    def _row_of(self, place: Place) -> Place | None:
        for aim in self.plan.aims:
            if aim.side is place.side and any(one.id == place.id for one in aim.candidates):
                return Place(What.FEATURE, place.id, place.side, aim.id)
        return None

    def _show(self, plan: Plan) -> None:
        self._show_rows(plan)
        self._show_detail(plan)

    def _show_rows(self, plan: Plan) -> None:
        kept = {Place(What.AIM, one.id, one.side): one.kept for one in plan.aims}
        opened = (place for place, is_kept in kept.items() if self._open.get(place, is_kept))
        self.list.show_rows(plan_rows(self.session, plan, frozenset(opened)))

    def _show_detail(self, plan: Plan) -> None:
        place = self.place
        if place is None:
            return
        self.title.setText(plan_title(place, self.session, plan))
        one = find_candidate(plan, place) if place.what is What.FEATURE else None
        if self.sizes.show_feature(one, self.stored(place)):
            self._order_keys()
        self.advice.setVisible(place.what is What.ADVICE and not self.session.bars_load)
        self.text.setAccessibleName(self.title.text())
        self._draw(plan)
        self.text.show_html(plan_html(place, self.session, plan))

    def _order_keys(self) -> None:
        """Tab goes from the list through the dimensions and the advice to the text."""
        order = [self.list, *self.sizes.lines, self.advice.editor.focus_widget(), self.text]
        for first, second in pairwise(order):
            QWidget.setTabOrder(first, second)

    def stored(self, place: Place) -> dict[str, str]:
        """The dimensions of a chosen feature as they were typed."""
        for one in self.session.examination.decisions.get("features", ()):
            if (one["id"], one.get("side")) == (place.id, place.side):
                return {name: str(size) for name, size in one.items() if name not in _NOT_SIZES}
        return {}

    def _draw(self, plan: Plan) -> None:
        """The device of the side at hand; what serves both feet is drawn for the left one."""
        place = self.place
        if place is not None and place.what in _ON_A_SIDE:
            side = place.side or Side.LEFT
            self.drawings.show_plan(plan, side, value_on(side, self.session.assessment))
        else:
            self.drawings.clear()
        self._under.setVisible(bool(self._strip) and not self.drawings.is_empty)

    # --- what if

    def _whole(self, feature: Feature, place: Place, sizes: Mapping[str, str]) -> dict[str, str]:
        """What is recorded of a feature: what was typed, and what was shown and chosen with it.

        What was cleared is not what the record still holds; what follows from another dimension
        is left to follow.
        """
        session = self.session
        parts = dimensions_with(
            feature.id, place.side, sizes, session.assessment, session.catalogue
        )
        shown = {
            part.size.id: typed_size(part) for part in parts if not follows(part.size, feature)
        }
        return {**shown, **sizes}

    def proposed(self, place: Place, sizes: Mapping[str, str]) -> tuple[dict[str, str], Plan]:
        """What would be recorded of a feature, and the plan with it."""
        session, one = self.session, find_candidate(self.plan, place)
        whole = dict(sizes) if one is None else self._whole(one.feature, place, sizes)
        now = session.examination, session.assessment, session.catalogue
        return whole, plan_with(place.id, place.side, whole, *now)

    def _on_tried(self) -> None:
        """While somebody types: effects, clashes, room and drawings as they would be."""
        place = self.place
        if place is None or place.what is not What.FEATURE:
            return
        self.session.touched.emit()
        if not self.sizes.is_dirty:
            self._show(self.plan)
            return
        _, plan = self.proposed(place, self.sizes.typed())
        self._show_rows(plan)
        one = find_candidate(plan, place)
        if one is not None:
            self.sizes.show_numbers(one)
            self._draw(plan)
            self.text.show_html(plan_html(place, self.session, plan))

    @property
    def is_half_typed(self) -> bool:
        """Whether something stands in a line that is not taken."""
        return self.sizes.is_dirty or self.advice.editor.dirty

    def commit(self) -> bool:
        """Take over the advice; False while a dimension is half typed, which gets the keys."""
        if not self.advice.commit():
            self.list.go_to(Place(What.ADVICE))
            self.advice.editor.focus_widget().setFocus(Qt.FocusReason.OtherFocusReason)
            return False
        for line in self.sizes.lines:
            if line.is_dirty:
                line.setFocus(Qt.FocusReason.OtherFocusReason)
                return False
        return True

    def put_back(self) -> str:
        """Put back what was only tried; in words what it was."""
        tried = self.sizes.put_back() if self.sizes.is_dirty else ""
        if tried:
            self._show(self.plan)
        return tried

    # --- keys of the list

    def focus_list(self) -> None:
        """The keys to the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_changed(self, place: Place | None) -> None:
        tried = self.sizes.put_back() if self.sizes.is_dirty else ""
        self._show(self.plan)
        self.area.verticalScrollBar().setValue(0)
        if tried and place is not None:
            self.told.emit(TEXTS["plan-put-back"].format(words=tried))

    def _on_toggled(self) -> None:
        place = self.place
        if place is None:
            return
        if place.what in {What.AIM, What.FEATURE}:
            self.toggled.emit(place)
        else:
            self._on_entered()

    def _on_entered(self) -> None:
        """Into what the row is about: its dimensions, its caution, its text."""
        place = self.place
        if place is None:
            return
        if place.what is What.AIM:
            self._on_folded(True)
            self._step_in()
        elif place.what is What.HELD or (place.what is What.ADVICE and self.session.bars_load):
            self.weighed.emit(place)
        elif place.what is What.ADVICE:
            self.advice.editor.focus_widget().setFocus(Qt.FocusReason.OtherFocusReason)
        elif not (place.what is What.FEATURE and self.sizes.start()):
            self.text.setFocus(Qt.FocusReason.OtherFocusReason)

    def _step_in(self) -> None:
        """To the first feature of the aim at hand."""
        at = self.list.currentRow() + 1
        rows = self.list.rows()
        if at < len(rows) and rows[at].level:
            self.list.setCurrentRow(at)

    def _on_folded(self, unfold: bool) -> None:
        place = self.place
        if place is not None and place.what is What.FEATURE and place.aim and not unfold:
            self.list.go_to(Place(What.AIM, place.aim, place.side))
        elif place is not None and place.what is What.AIM:
            self._open[place] = unfold
            self._show_rows(self.plan)

    def _on_started(self, text: str) -> None:
        if self.place is not None and self.place.what is What.FEATURE:
            self.sizes.start(text)

    def kept(self, place: Place) -> None:
        """An aim was kept or dropped: it is unfolded or folded as it then stands."""
        self._open.pop(place, None)

    def _on_taken(self, line: SizeLine) -> None:
        place = self.place
        if place is None:
            return
        sizes = self.stored(place)
        name, text = line.part.size.id, line.text().strip()
        sizes.pop(name, None)
        if text:
            sizes[name] = text
        if line.is_dirty or not self._is_chosen(place):
            self.sized.emit(place, sizes)
        if not line.is_dirty:
            self.sizes.go_on(line)

    def _is_chosen(self, place: Place) -> bool:
        one = find_candidate(self.plan, place)
        return one is not None and one.chosen

    # --- the advice

    def _on_advised(self, _cell: CellFrame, _step: int) -> None:
        self.focus_list()

    def _on_advice_tabbed(self, _cell: CellFrame, step: int) -> None:
        if step > 0:
            self.text.setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self.focus_list()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Escape leaves the advice for the list; the cell itself puts back what is half typed."""
        pressed = event.key() if isinstance(event, QKeyEvent) else None
        leaves = event.type() == QEvent.Type.KeyPress and pressed == Qt.Key.Key_Escape
        if leaves and not self.advice.editor.dirty:
            self.focus_list()
            return True
        return super().eventFilter(watched, event)

    # --- buttons, links, size

    def _on_keep_clicked(self) -> None:
        self.focus_list()
        self._on_toggled()

    def _on_enter_clicked(self) -> None:
        self.focus_list()
        self._on_entered()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leads back from a button as well."""
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        else:
            event.ignore()

    def _on_link(self, link: QUrl) -> None:
        words = link.toString()
        if words.startswith("#"):
            bar = self.area.verticalScrollBar()
            bar.setValue(self.text.y() + self.text.top_of(words.removeprefix("#")))
        elif words.startswith(f"{CELL}:"):
            _, measure, side = words.split(":")
            self.wanted.emit((measure, Side(side) if side else None))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._lay_out()
        QTimer.singleShot(0, self.text, self.text.fit)

    def _lay_out(self) -> None:
        """Beside each other where there is room, else one below the other."""
        wide = self.width() >= WIDE * em(self)
        ways = QBoxLayout.Direction
        self.body.setDirection(ways.LeftToRight if wide else ways.TopToBottom)
        self._rule.setFrameShape(QFrame.Shape.VLine if wide else QFrame.Shape.HLine)
        strip = wide and self.height() >= TALL * em(self)
        if strip is not self._strip:
            self._strip = strip
            self._move_drawings()

    def _move_drawings(self) -> None:
        """The drawings below list and detail where there is room; else among the details."""
        pad = round(em(self) * 0.9) if self._strip else 0
        if self._strip:
            self.column.insertWidget(2, self.drawings)
        else:
            self._inner.insertWidget(3, self.drawings)
        self.drawings.set_beside(bool(self._strip), pad)
        self._under.setVisible(bool(self._strip) and not self.drawings.is_empty)


_ON_A_SIDE = frozenset({What.AIM, What.FEATURE, What.ROOM})
_NOT_SIZES = frozenset({"id", "side"})
