"""The open examination: banner, outline, worksheet, what it adds up to, and the saved state."""

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QStackedWidget, QVBoxLayout, QWidget

from footexam.catalogue.letters import Document
from footexam.catalogue.model import say
from footexam.desktop.annotate import AnnotationLine
from footexam.desktop.banner import Banner, banner_words
from footexam.desktop.cells.frame import CellFrame
from footexam.desktop.judgement import Key
from footexam.desktop.lettering import Lettering
from footexam.desktop.outline import Outline, outline_rows
from footexam.desktop.plan_rows import Place
from footexam.desktop.planning import Planning
from footexam.desktop.session import Answer, Session
from footexam.desktop.state_line import StateLine
from footexam.desktop.summary import Line, Summary, next_words, summary_lines
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em, rule, small
from footexam.desktop.weigher import Weigher
from footexam.desktop.weighing import Subject
from footexam.desktop.worksheet import Worksheet
from footexam.reasoning.sheet import Sheet
from footexam.record.reading import Reading
from footexam.scoring.results import Finding
from footexam.store import KnownError
from footexam.terms import Absence, Kind, Side

IDLE_MS = 400
"""So long after a panel was opened the next one is made, unless somebody types."""
ROOMY, BESIDE, SHEET = 60.0, 46.0, 40.0
"""Widths in lines of text: room for all three columns; for the sheet and what it adds up to; for
the outline and the sheet. In a narrower window one column is shown at a time.
"""


class RecordPage(QWidget):
    """Everything of one open examination; its public methods are the actions of keys.py."""

    told = Signal(str)

    def __init__(
        self, session: Session, sheet: Sheet, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.session = session
        self.sheet = sheet
        self.theme = theme
        self.worksheets: dict[str, Worksheet] = {}
        self._wants_summary: bool | None = None
        self._idle = QTimer(self)
        self._idle.setSingleShot(True)
        self._idle.timeout.connect(self._make_next)
        session.touched.connect(self._idle.stop)
        self._known_lines: dict[Finding, Line] = {}
        self._order: list[Subject] = []
        """The hypotheses in the order shown: it stands still until another panel is opened."""
        self._again: Callable[[], None] | None = None
        self.panel = next(iter(session.catalogue.panels))
        self.banner = Banner(theme, self)
        self.outline = Outline(outline_rows(self.session, self.sheet), theme, self)
        self.stack = QStackedWidget(self)
        self.summary = Summary(theme, self)
        self.line = AnnotationLine(theme, self)
        self.line.session = session
        self.weigher = Weigher(session, theme, self.stack, self.line)
        self.planning = Planning(session, theme, self.stack, self.line)
        self.lettering = Lettering(session, theme, self.stack, self.line)
        self.pages = (self.weigher, self.planning, self.lettering)
        """What may stand in the place of the sheet."""
        self.state = StateLine(theme, self)
        self._build()
        if parent is not None:
            self.resize(parent.size())  # before it is added: no column may widen the window
        self._show_columns()
        self.outline.chosen.connect(self.open_panel)
        self.summary.wanted.connect(self._on_wanted)
        for page in self.pages:
            page.wanted.connect(self._on_wanted)
            page.told.connect(self.told)
            page.left.connect(self._on_left_page)
        self.planning.reason_wanted.connect(self._on_reason_wanted)
        self.line.done.connect(self._on_annotated)
        self.line.gone.connect(self._on_annotation_gone)
        self.line.amended.connect(self._on_amended)
        session.recorded.connect(self._on_recorded)
        session.saving.connect(self._show_state)
        session.told.connect(self.told)
        session.failed.connect(self._on_failed)
        self._show_all()
        self.open_panel(self.panel)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.banner)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        self.outline.setFixedWidth(round(em(self) * 9.5))
        self.summary.setFixedWidth(round(em(self) * 15.5))
        middle.addWidget(self.outline)
        middle.addWidget(rule(self.theme, self, vertical=True))
        self.centre = QWidget(self)
        centre = QVBoxLayout(self.centre)
        centre.setContentsMargins(0, 0, 0, 0)
        centre.setSpacing(0)
        centre.addWidget(self.stack, 1)
        centre.addWidget(self.line)
        middle.addWidget(self.centre, 1)
        self.beside = rule(self.theme, self, vertical=True)
        middle.addWidget(self.beside)
        middle.addWidget(self.summary)
        column.addLayout(middle, 1)
        column.addWidget(rule(self.theme, self))
        column.addLayout(self._foot())

    def _foot(self) -> QHBoxLayout:
        foot = QHBoxLayout()
        pad = round(em(self) * 0.5)
        foot.setContentsMargins(pad * 2, pad // 2, pad * 2, pad // 2)
        hint = QLabel(TEXTS["keys-hint"], self)
        hint.setFont(small(self))
        foot.addWidget(self.state, 1)
        foot.addWidget(hint)
        return foot

    # --- panels

    def open_panel(self, panel: str) -> None:
        """Show the worksheet of a panel and put the keys where they were last on it."""
        current = self.worksheets.get(self.panel)
        if current is not None and not current.commit_all():
            return
        for page in self.pages:
            page.leave()  # before the panel changes: its sheet may not be there yet
        if panel != self.panel:
            self._order.clear()
        self.panel = panel
        self.stack.setCurrentWidget(self._sheet_of(panel))
        self.outline.show_rows(outline_rows(self.session, self.sheet), panel)
        self.worksheets[panel].focus_first()
        self._idle.start(IDLE_MS)

    def _sheet_of(self, panel: str) -> Worksheet:
        """The worksheet of a panel, made at first need."""
        if panel not in self.worksheets:
            worksheet = Worksheet(
                self.session.catalogue.panels[panel], self.session, self.sheet, self.theme, self
            )
            worksheet.left.connect(self._on_left)
            worksheet.reason_wanted.connect(self._on_reason_wanted)
            self.worksheets[panel] = worksheet
            self.stack.addWidget(worksheet)
        return self.worksheets[panel]

    def _make_next(self) -> None:
        """Make the worksheet that comes next while nobody types: it opens at once then."""
        names = list(self.session.catalogue.panels)
        at = names.index(self.panel) + 1
        if at < len(names):
            self._sheet_of(names[at])

    def open_number(self, number: int) -> None:
        """Open the panel at a place of the outline, from 1."""
        names = list(self.session.catalogue.panels)
        if 1 <= number <= len(names):
            self.open_panel(names[number - 1])

    def turn(self, step: int) -> bool:
        """The next or the previous panel; False at the ends, where there is none."""
        names = list(self.session.catalogue.panels)
        at = names.index(self.panel) + step
        if not 0 <= at < len(names):
            return False
        self.open_panel(names[at])
        return True

    def _on_left(self, step: int) -> None:
        """Past the last cell the next panel opens; past the last panel comes the next area."""
        if not self.turn(step):
            self.focus_area(step)

    @property
    def worksheet(self) -> Worksheet:
        """The worksheet that is open."""
        return self.worksheets[self.panel]

    def _on_wanted(self, key: Key | Subject | Place) -> None:
        """Go to the cell of a line, of a difference to its left foot; or weigh what it names."""
        if isinstance(key, Place):
            self._show_centre()
            self.planning.open(key)
            return
        if isinstance(key, Subject):
            self._show_centre()
            self.weigher.open(key)
            return
        measure = self.session.catalogue.measures.get(key[0])
        if measure is None:
            return
        self._show_centre()
        self.open_panel(measure.panel)
        side = key[1] if key[1] is not None or not measure.sided else Side.LEFT
        if not self.worksheet.focus_key((measure.id, side)):
            self.worksheet.show_more(more=True)
            self.worksheet.focus_key((measure.id, side))

    def _show_centre(self) -> None:
        """In a narrow window, put what it adds up to away from over the sheet."""
        if not self.centre.isVisibleTo(self):
            self.toggle_summary()

    # --- weighing and planning

    def prepare(self, action: str) -> None:
        """Bring the sheet back before a key acts on a cell."""
        for page in self.pages:
            if action not in page.keeps:
                page.leave()

    def _on_left_page(self) -> None:
        """The keys to what is shown now: weighing may have been opened from the plan."""
        self._focus_centre()

    def _focus_centre(self) -> None:
        shown = self._page_shown()
        if shown is not None:
            shown.focus()
        else:
            self.worksheet.focus_first()

    def _page_shown(self) -> "Weigher | Planning | Lettering | None":
        """What is shown in the place of the sheet."""
        return next((page for page in self.pages if page.is_open), None)

    def plan(self) -> None:
        """Open the plan sheet; again, back to the sheet."""
        if self.planning.is_open:
            self.planning.leave()
        elif self.worksheet.commit_all():
            self._show_centre()
            self.planning.open()

    def letter(self) -> None:
        """Open the letter's texts; again, those of the leaflet, then back to the sheet."""
        if self.lettering.is_open:
            self.lettering.turn()
        elif self.commit_all():
            self._show_centre()
            self.lettering.open()

    def write_letter(self, document: str) -> None:
        """Open the words of one letter, by the name of the document."""
        self._show_centre()
        self.lettering.open(Document(document))

    def commit_all(self) -> bool:
        """Take over everything typed; False if something is refused (it has the keys then)."""
        return all(page.commit() for page in self.pages) and self.worksheet.commit_all()

    @property
    def is_half_typed(self) -> bool:
        """Whether something is typed beside the sheet that is not taken."""
        return self.line.isVisible() or any(page.is_half_typed for page in self.pages)

    def weigh(self) -> None:
        """Weigh the first caution or hypothesis that awaits a decision; again, the next."""
        if self.weigher.is_open or self.commit_all():
            self.weigher.weigh()

    def add_own(self) -> None:
        """Add a hypothesis in words of one's own, on the side of the cell at hand."""
        cell = self.worksheet.current()
        self.weigher.add_own(cell.key[1] if cell is not None else None)

    def next_test(self) -> None:
        """Go to the cell of the test that would help most."""
        if not self.worksheet.commit_all():
            return
        tests = self.session.assessment.reasons.suggested.tests
        if tests:
            self.told.emit(next_words(tests[0], self.session))
            self._on_wanted((tests[0].measure, tests[0].side))
        else:
            self.told.emit(TEXTS["no-next-test"])

    # --- actions

    def show_more(self) -> None:
        """Show everything of this position, or the usual sheet again."""
        self.worksheet.show_more(more=not self.worksheet.more)
        self.worksheet.focus_first()

    def undo(self) -> None:
        """Take back my last entry and go to its cell."""
        if not self._why_first(self.undo, danger=self.session.wants_reason_to_undo):
            self._after(self.session.undo(), TEXTS["nothing-to-undo"])

    def redo(self) -> None:
        """Bring back what was taken back last."""
        if not self._why_first(self.redo):
            self._after(self.session.redo(), TEXTS["nothing-to-redo"])

    def _after(self, key: Key | None, nothing: str) -> None:
        if key is None:
            self.session.drop_reason()
            self.told.emit(TEXTS["struck"] if self.session.in_error else nothing)
        elif key[0] in self.session.catalogue.measures or self._page_shown() is None:
            self._on_wanted(key)

    def absent(self, absence: Absence) -> None:
        """Note why the cell at hand has no value, and ask for the reason in one line."""
        cell = self.worksheet.current()
        if cell is None or not self._takes_entries(cell):
            return
        danger = self.session.holds_danger(cell.key) and not self.session.has_reason
        if self._why_first(lambda: self.absent(absence), danger=danger):
            return
        cell.revert()
        signed = self.session.has_reason
        answer = self.session.set_absent([cell.key], absence)
        if not answer.taken:
            self.told.emit(answer.refusal)
        elif not signed:  # otherwise the reason was given already
            words = self.session.judge.material.phrases(absence)
            self.line.ask_reason(cell.key, TEXTS["why-absent"].format(cell=cell.name, why=words))

    def panel_not_examined(self) -> None:
        """Everything open on this sheet that has no entry: not examined."""
        if not self.worksheet.commit_all() or self._why_first(self.panel_not_examined):
            return
        open_cells = [
            cell.key
            for cell in self.worksheet.order
            if self._takes_entries(cell) and self._reading(cell) is None
        ]
        answer = self.session.set_absent(open_cells, Absence.NOT_EXAMINED)
        told = TEXTS["panel-absent"].format(count=len(open_cells))
        self.told.emit(told if answer.taken else answer.refusal)

    def _takes_entries(self, cell: CellFrame) -> bool:
        return cell.measure.kind is not Kind.DERIVED

    def _reading(self, cell: CellFrame) -> Reading | None:
        return self.session.examination.reading(*cell.key)

    def note(self) -> None:
        """Write a note beside the reading at hand."""
        self._annotate(method=False)

    def method(self) -> None:
        """Choose the method of the reading at hand."""
        self._annotate(method=True)

    def from_paper(self) -> None:
        """Say when the readings that are typed now were taken."""
        if self.worksheet.commit_all():
            self.line.ask_words(TEXTS["from-paper"], self._take_time)

    def _take_time(self, typed: str) -> Answer:
        answer = self.session.enter_from_paper(typed)
        self._show_all()
        return answer

    def _annotate(self, *, method: bool) -> None:
        cell = self.worksheet.current()
        if cell is None or not cell.commit():
            return
        reading = self._reading(cell)
        if reading is None:
            self.told.emit(TEXTS["no-reading"])
        elif self._why_first(lambda: self._annotate(method=method)):
            return
        elif method:
            material = self.session.judge.material
            words = [(word, material.word(word)) for word in cell.measure.methods]
            self.line.ask_method(cell.key, cell.name, words, reading.method)
        else:
            self.line.ask_note(cell.key, cell.name, reading.note)

    def copy_side(self) -> None:
        """Ask whether the other side has the same value; never without asking."""
        cell = self.worksheet.current()
        reading = self._reading(cell) if cell is not None and cell.commit() else None
        if cell is None or reading is None or reading.value is None or cell.key[1] is None:
            self.told.emit(TEXTS["no-copy"])
            return
        other = Side.RIGHT if cell.key[1] is Side.LEFT else Side.LEFT
        danger = self.session.holds_danger((cell.key[0], other)) and not self.session.has_reason
        if self._why_first(self.copy_side, danger=danger):
            return
        shown = "; ".join(self.session.judge.values(reading))
        label = say(cell.measure.label)
        question = TEXTS["copy"].format(measure=label, side=other, value=shown)
        self.line.ask_copy((cell.key[0], other), reading, question)

    def _on_annotated(self, refusal: str) -> None:
        if refusal:
            self.told.emit(refusal)

    def _on_annotation_gone(self) -> None:
        self.session.drop_reason()

    # --- changes of a signed record

    def _why_first(self, again: Callable[[], None], *, danger: bool = False) -> bool:
        """Whether a reason has to be given first; `again` is done once it is there.

        `danger`: a yes on a danger question would be taken back.
        """
        if not (self.session.wants_reason or danger):
            return False
        self._again = again
        self.line.ask_why(TEXTS["why-change" if self.session.wants_reason else "why-danger"])
        return True

    def _on_reason_wanted(self, cell: CellFrame) -> None:
        self._why_first(cell.finish, danger=True)

    def _on_amended(self, given: bool) -> None:
        """The reason is there: do what was asked; without it, the cell stays as it was."""
        again, self._again = self._again, None
        cell = self.worksheet.current()
        if given and again is not None:
            again()
        elif self.planning.is_open:
            self.planning.page.advice.revert()
        elif cell is not None:
            cell.revert()

    def try_again(self) -> None:
        """Hand what is not saved to the store again."""
        if self.worksheet.commit_all():
            self.session.try_again()
            self._show_state()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show_columns()

    def _show_columns(self) -> None:
        """Show the columns that have room; without room for two, the one that was asked for."""
        lines = self.width() / em(self)
        wanted = self._shows_summary()
        self.summary.setVisible(wanted)
        self.beside.setVisible(wanted)
        self.centre.setVisible(not wanted or lines >= BESIDE)
        self.outline.setVisible(lines >= (ROOMY if wanted else SHEET))

    def _shows_summary(self) -> bool:
        """Whether what it adds up to is shown: as was asked for, else where there is room."""
        roomy = self.width() >= ROOMY * em(self)
        return roomy if self._wants_summary is None else self._wants_summary

    def toggle_summary(self) -> None:
        """Show or hide what it adds up to; in a narrow window it takes another column's place."""
        self._wants_summary = not self._shows_summary()
        self._show_columns()
        if self._wants_summary and not self.centre.isVisible():
            self.summary.list.setFocus(Qt.FocusReason.ShortcutFocusReason)
        else:
            self._focus_centre()

    # --- areas

    def areas(self) -> list[QWidget]:
        """The areas that F6 goes through."""
        areas = (self.banner, self.outline, self.stack, self.summary.list)
        return [area for area in areas if area.isVisible()]

    def focus_area(self, step: int) -> None:
        """Put the keys into the next or previous area."""
        areas = self.areas()
        at = next((at for at, area in enumerate(areas) if _holds_focus(area)), 0)
        area = areas[(at + step) % len(areas)]
        if area is self.stack:
            self._focus_centre()
        elif area is self.outline:
            self.outline.focus_current()
        else:
            area.setFocus(Qt.FocusReason.ShortcutFocusReason)

    # --- showing

    def _on_recorded(self, _keys: object) -> None:
        self._show_all()
        self._idle.start(IDLE_MS)

    def _show_all(self) -> None:
        self.banner.show_words(banner_words(self.session, self.session.judge.material.phrases))
        self.summary.show_lines(summary_lines(self.session, self._known_lines, self._order))
        for page in self.pages:
            page.refresh()
        self.outline.show_rows(outline_rows(self.session, self.sheet), self.panel)
        self._show_state()

    def _show_state(self) -> None:
        """Everything saved, being saved, or not: why, and what to do about it."""
        count, unsaved = len(self.session.journal), self.session.unsaved()
        why = self.session.store.trouble
        key = "not-saved" if unsaved and why else "saving" if unsaved else "saved"
        words = TEXTS[key].format(count=count, open=unsaved, why=why)
        self.state.say(words, trouble=key == "not-saved")

    def _on_failed(self, failure: object) -> None:
        known = isinstance(failure, KnownError)
        self.told.emit(str(failure) if known else TEXTS["fault"])


def _holds_focus(area: QWidget) -> bool:
    focus: QWidget | None = area.window().focusWidget()
    return focus is not None and (focus is area or area.isAncestorOf(focus))
