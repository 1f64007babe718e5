"""The column at the right: what it adds up to so far, each line leading to its cell."""

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPainter, QPalette, QPixmap
from PySide6.QtWidgets import (
    QLabel,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from footexam.catalogue.model import say
from footexam.desktop.changed import changed_part
from footexam.desktop.judgement import Key, on_screen
from footexam.desktop.painting import Brush
from footexam.desktop.plan_rows import Place, What, feature_words, real_clashes
from footexam.desktop.session import Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em, large
from footexam.desktop.weighing import Subject, hypothesis_state
from footexam.desktop.weighing_words import caution_title
from footexam.drawing.measured import mark_of
from footexam.drawing.palette import Ink
from footexam.drawing.ruler import Mark, Scale, ruler
from footexam.reasoning.argue import Argument
from footexam.reasoning.dangers import Caution
from footexam.reasoning.next_test import NextTest, Route
from footexam.reports.cautions import held_words
from footexam.reports.compared import is_of_the_feet
from footexam.reports.sureness import is_outside, sure_ink, sure_words
from footexam.reports.words import quantity_words
from footexam.scoring.results import Finding
from footexam.terms import ChangeLabel

Target = Key | Subject | Place
"""What a line leads to: a cell, a caution or hypothesis to be weighed, or a row of the plan."""
LINE = Qt.ItemDataRole.UserRole
"""Where an item of the list keeps its line."""
KEPT_HEIGHTS = 2000
"""How many laid out lines are kept before they are laid out anew."""
SOON = 2
"""How many of the next tests are named; the others stand in the report."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the column; a heading or a remark leads nowhere."""

    words: str
    key: Target | None = None
    ink: Ink = Ink.INK
    mark: Mark | None = None
    heading: bool = False


def _head(words: str) -> Line:
    return Line(words, heading=True)


def summary_lines(
    session: Session,
    known: dict[Finding, Line] | None = None,
    order: list[Subject] | None = None,
) -> list[Line]:
    """Cautions first, what might explain it and what to test next, then what lies outside.

    `known` keeps the lines of findings from one entry to the next, `order` the place of the
    hypotheses, so that no line jumps under the eye.
    """
    lines = _cautions(session) + _hypotheses(session, [] if order is None else order)
    lines += _plan(session) + _next(session) + _outside(session, {} if known is None else known)
    lines += _differences(session) + _changes(session) + _problems(session)
    return lines


def _cautions(session: Session) -> list[Line]:
    material = session.judge.material
    found = []
    for caution in session.assessment.cautions:
        title = caution_title(caution, material)
        ink = Ink.CAUTION if caution.is_open else Ink.INK
        subject = Subject("caution", caution.about, caution.side)
        found.append(Line(_caution_words(caution, title, session), subject, ink))
    if not found:
        return []
    return [_head("Cautions (Ctrl+G weighs them)"), *found, *_held(session)]


def _caution_words(caution: Caution, title: str, session: Session) -> str:
    """How soon, what, and what was done; a yes that leads nowhere yet says so."""
    phrases = session.judge.material.phrases
    if caution.id is None and caution.is_open:
        return f"{title}: yes\nits own questions are not finished"
    soon = f"{phrases(f'tier-{caution.tier}')}: " if caution.tier else ""
    done = phrases(f"decision-{caution.decision}") if caution.decision else ""
    return f"{soon}{title}\n{done or 'undecided'}"


def _held(session: Session) -> list[Line]:
    told = held_words(session.judge.material)
    return [Line(f"Held back: {'; '.join(told)}", ink=Ink.CAUTION)] if told else []


def _hypotheses(session: Session, order: list[Subject]) -> list[Line]:
    """Those that lead, where they stood before; and what the clinician added."""
    leading = {
        Subject("hypothesis", one.id, one.side): one for one in session.assessment.reasons.leading
    }
    order[:] = [one for one in order if one in leading]
    order += [one for one in leading if one not in order]
    lines = [Line(_argument(leading[one], session), one) for one in order]
    own = session.examination.decisions.get("hypotheses", {}).get("own", ())
    lines += [Line(f"{one['statement']}\nin your own words", ink=Ink.INK) for one in own]
    return [_head("What might explain it"), *lines] if lines else []


def _argument(argument: Argument, session: Session) -> str:
    """Name, side and points; how many rows speak for, against, and were not examined."""
    material = session.judge.material
    side = f", {material.side_word(argument.side)}" if argument.side else ""
    state = hypothesis_state(session, argument.id, argument.side)
    counts = f"for {len(argument.speaks_for)}, against {len(argument.speaks_against)}"
    unknown = f", not examined {len(argument.not_examined)}" if argument.not_examined else ""
    points = "1 point" if argument.shown == 1 else f"{argument.shown} points"
    told = f"{say(argument.hypothesis.label)}{side}: {points}"
    return f"{told}\n{counts}{unknown}{f'; {state}' if state else ''}"


def _plan(session: Session) -> list[Line]:
    """The aims that are kept and the features that are chosen, with their dimensions."""
    material, plan = session.judge.material, session.assessment.reasons.plan
    kept = [one for one in plan.aims if one.kept]
    lines = []
    for aim in kept:
        side = f", {material.side_word(aim.side)}" if aim.side else ""
        place = Place(What.AIM, aim.id, aim.side)
        lines.append(Line(f"{say(aim.aim.label)}{side}\naim", place))
    for one in plan.chosen:
        side = f", {material.side_word(one.side)}" if one.side else ""
        worry = bool(one.avoid or real_clashes(one, plan))
        words = f"{feature_words(one)}{side}\n{TEXTS['plan-look' if worry else 'plan-taken']}"
        place = Place(What.FEATURE, one.id, one.side)
        lines.append(Line(words, place, Ink.CAUTION if worry else Ink.INK))
    if plan.aims and not kept:
        count = len(plan.aims)
        key = "plan-empty-one" if count == 1 else "plan-empty-summary"
        first = plan.aims[0]
        place = Place(What.AIM, first.id, first.side)
        lines.insert(0, Line(TEXTS[key].format(count=count), place))
    return [_head("Plan (Ctrl+L opens it)"), *lines] if lines else []


def _next(session: Session) -> list[Line]:
    """The tests that would help most; danger questions as one line with their number."""
    tests = session.assessment.reasons.suggested.tests
    dangers = [one for one in tests if one.route is Route.DANGER]
    others = [one for one in tests if one.route is not Route.DANGER][:SOON]
    lines = []
    if dangers:
        first = dangers[0]
        count = f"{len(dangers)} danger questions open" if len(dangers) > 1 else first.why
        label = session.judge.material.label(first.measure)
        lines.append(Line(f"{label}\n{count}", (first.measure, first.side)))
    lines += [Line(next_words(one, session), (one.measure, one.side)) for one in others]
    return [_head("Next (Ctrl+T goes there)"), *lines] if lines else []


def next_words(test: NextTest, session: Session) -> str:
    """A test with its side, what it would tell, and whether the patient has to move."""
    material = session.judge.material
    last = session.assessment.reasons.here
    move = "" if test.position == last else f"; {test.position}"
    return f"{material.sided_label(test.measure, test.side)}\n{test.why}{move}"


def _outside(session: Session, known: dict[Finding, Line]) -> list[Line]:
    found = []
    for finding in session.assessment.findings:
        if is_outside(finding):
            if finding not in known:
                known[finding] = _finding(finding, session)
            found.append(known[finding])
    remark = Line("Nothing judged lies outside yet.", ink=Ink.MUTED)
    return [_head("Outside the usual range"), *(found or [remark])]


def _finding(finding: Finding, session: Session) -> Line:
    material = session.judge.material
    label = material.sided_label(finding.measure, finding.side)
    measure = session.catalogue.measures[finding.measure]
    value = finding.value
    told = material.word(value) if isinstance(value, str) else quantity_words(value, measure)
    sure = on_screen(sure_words(finding, material))
    words = label + f"\n{told}" if told == sure else f"{label}\n{told}: {sure}"
    mark = mark_of(finding, session.catalogue)
    return Line(words, (finding.measure, finding.side), sure_ink(finding), mark)


def _differences(session: Session) -> list[Line]:
    material = session.judge.material
    found = []
    for row in session.assessment.differences:
        if row.beyond_error and is_of_the_feet(row, material):
            measure = session.catalogue.measures[row.measure]
            side = "left" if row.difference > 0 else "right"
            amount = quantity_words(abs(row.difference), measure)
            words = f"{material.label(row.measure)}\n{side} larger by {amount}, beyond error"
            found.append(Line(words, (row.measure, None)))
    return [_head("Left and right differ"), *found] if found else []


def _changes(session: Session) -> list[Line]:
    material = session.judge.material
    found = []
    for row in session.assessment.changes:
        if row.label is ChangeLabel.CHANGED:
            measure = session.catalogue.measures[row.measure]
            label = material.sided_label(row.measure, row.side)
            before = quantity_words(row.before, measure)
            words = f"{label}\n{before} to {quantity_words(row.now, measure)}, beyond error"
            found.append(Line(words, (row.measure, row.side)))
    return [_head("Changed since the last visit"), *found] if found else []


def _problems(session: Session) -> list[Line]:
    material = session.judge.material
    found = [
        Line(
            f"{material.sided_label(problem.measure, problem.side)}\n{problem.message}",
            (problem.measure, problem.side),
        )
        for problem in session.assessment.problems
    ]
    return [_head("Look at again"), *found] if found else []


class _Heights(QStyledItemDelegate):
    """Lays each line out once for a width: after an entry nearly all of them are the same."""

    def __init__(self, spacing: int, parent: QWidget) -> None:
        super().__init__(parent)
        self._spacing = spacing
        self._known: dict[tuple[str, bool, bool, int, int], QSize] = {}

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        line: Line = index.data(LINE)
        size = option.rect.width(), option.fontMetrics.height()
        key = line.words, line.heading, line.mark is not None, *size
        if key not in self._known:
            if len(self._known) > KEPT_HEIGHTS:
                self._known.clear()
            narrow = QStyleOptionViewItem(option)  # Qt lays out for the room beside the spacing too
            narrow.rect = option.rect.adjusted(0, 0, -2 * self._spacing, 0)
            self._known[key] = super().sizeHint(narrow, index)
        return self._known[key]


class Summary(QWidget):
    """The list of lines; `wanted(target)` when one is entered."""

    wanted = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._lines: list[Line] = []
        column = QVBoxLayout(self)
        pad = round(em(self) * 0.8)
        column.setContentsMargins(pad, pad, pad, pad)
        title = QLabel("What it adds up to", self)
        title.setFont(large(title, 1.15))
        column.addWidget(title)
        self.list = QListWidget(self)
        self.list.setAccessibleName("What it adds up to")
        self.list.setFrameShape(QListWidget.Shape.NoFrame)
        self.list.setWordWrap(True)
        self.list.setTextElideMode(Qt.TextElideMode.ElideNone)
        palette = self.list.palette()
        palette.setColor(QPalette.ColorRole.Base, palette.color(QPalette.ColorRole.Window))
        self.list.setPalette(palette)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setIconSize(QSize(em(self), em(self)))
        self.list.setSpacing(round(em(self) * 0.1))
        self.list.setItemDelegate(_Heights(self.list.spacing(), self.list))
        self.list.activated.connect(self._on_activated)
        self.list.clicked.connect(self._on_activated)
        column.addWidget(self.list, 1)

    def lines(self) -> tuple[Line, ...]:
        """What is shown."""
        return tuple(self._lines)

    def show_lines(self, lines: list[Line]) -> None:
        """Show the lines; what stays the same keeps its item, and the chosen one stays chosen."""
        if lines == self._lines:
            return
        gone, new = changed_part(self._lines, lines)
        for _ in self._lines[gone]:
            self.list.takeItem(gone.start)
        for place, line in enumerate(lines[new], new.start):
            self.list.insertItem(place, self._item(line))
        self._lines = lines
        if self.isVisible():
            self.list.doItemsLayout()  # now: it is painted with all else, not a frame later

    def _item(self, line: Line) -> QListWidgetItem:
        item = QListWidgetItem(line.words)
        item.setData(LINE, line)
        item.setForeground(self._theme.colour(line.ink))
        if line.mark is not None:
            item.setIcon(self._icon(line.mark))
        if line.key is None:
            font = item.font()
            font.setBold(line.heading)
            item.setFont(font)
            item.setFlags(Qt.ItemFlag.ItemIsEnabled)
        return item

    def _icon(self, mark: Mark) -> QIcon:
        """The mark of the reading alone, as it stands on its ruler."""
        size, ratio = em(self), self.devicePixelRatioF()
        pixmap = QPixmap(round(size * ratio), round(size * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        bare = Mark(mark.value, place=mark.place, uncertain=mark.uncertain)
        painter = QPainter(pixmap)
        Brush(painter, self._theme, size / 12).drawing(
            ruler(bare, Scale(mark.value - 1, mark.value + 1), 12, 12), 0, 0
        )
        painter.end()
        return QIcon(pixmap)

    def _on_activated(self, index: QModelIndex) -> None:
        line: Line = index.data(LINE)
        if line.key is not None:
            self.wanted.emit(line.key)
