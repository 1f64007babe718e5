"""The column at the right: what it adds up to so far, each line leading to its cell."""

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPainter, QPalette, QPixmap
from PySide6.QtWidgets import QLabel, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from footexam.desktop.judgement import Key, on_screen
from footexam.desktop.painting import Brush
from footexam.desktop.session import Session
from footexam.desktop.theme import Theme, em, large
from footexam.drawing.measured import mark_of
from footexam.drawing.palette import Ink
from footexam.drawing.ruler import Mark, Scale, ruler
from footexam.reports.compared import is_of_the_feet
from footexam.reports.sureness import is_outside, sure_ink, sure_words
from footexam.reports.words import quantity_words
from footexam.scoring.results import Finding
from footexam.terms import ChangeLabel


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the column; without a key it is a heading or a remark."""

    words: str
    key: Key | None = None
    ink: Ink = Ink.INK
    mark: Mark | None = None


def summary_lines(session: Session, known: dict[Finding, Line] | None = None) -> list[Line]:
    """Cautions first, then what lies outside, differences and changes beyond error, warnings.

    `known` keeps the lines of findings from one entry to the next.
    """
    lines = _cautions(session) + _outside(session, {} if known is None else known)
    lines += _differences(session) + _changes(session) + _problems(session)
    return lines


def _cautions(session: Session) -> list[Line]:
    material = session.judge.material
    found = []
    for caution in session.assessment.cautions:
        name = caution.because[0].partition(":")[2]
        words = material.sided_label(name, caution.side)
        found.append(Line(f"{words}: yes", (name, caution.side), Ink.CAUTION))
    return [Line("Cautions answered yes"), *found] if found else []


def _outside(session: Session, known: dict[Finding, Line]) -> list[Line]:
    found = []
    for finding in session.assessment.findings:
        if is_outside(finding):
            if finding not in known:
                known[finding] = _finding(finding, session)
            found.append(known[finding])
    remark = Line("Nothing judged lies outside yet.", ink=Ink.MUTED)
    return [Line("Outside the usual range"), *(found or [remark])]


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
    return [Line("Left and right differ"), *found] if found else []


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
    return [Line("Changed since the last visit"), *found] if found else []


def _problems(session: Session) -> list[Line]:
    material = session.judge.material
    found = [
        Line(
            f"{material.sided_label(problem.measure, problem.side)}\n{problem.message}",
            (problem.measure, problem.side),
        )
        for problem in session.assessment.problems
    ]
    return [Line("Look at again"), *found] if found else []


def _shared(one: list[Line], other: list[Line]) -> int:
    """How many lines two lists have in common from the first on."""
    count = 0
    for first, second in zip(one, other, strict=False):
        if first != second:
            break
        count += 1
    return count


class Summary(QWidget):
    """The list of lines; `wanted(key)` when one is entered."""

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
        palette = self.list.palette()
        palette.setColor(QPalette.ColorRole.Base, palette.color(QPalette.ColorRole.Window))
        self.list.setPalette(palette)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setIconSize(QSize(em(self), em(self)))
        self.list.setSpacing(round(em(self) * 0.1))
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
        old, self._lines = self._lines, lines
        start = _shared(old, lines)
        end = _shared(old[start:][::-1], lines[start:][::-1])
        for _ in range(start, len(old) - end):
            self.list.takeItem(start)
        for place in range(start, len(lines) - end):
            self.list.insertItem(place, self._item(lines[place]))

    def _item(self, line: Line) -> QListWidgetItem:
        item = QListWidgetItem(line.words)
        item.setData(Qt.ItemDataRole.UserRole, line.key)
        item.setForeground(self._theme.colour(line.ink))
        if line.mark is not None:
            item.setIcon(self._icon(line.mark))
        if line.key is None:
            font = item.font()
            font.setBold(line.ink is Ink.INK)
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
        key = self.list.item(index.row()).data(Qt.ItemDataRole.UserRole)
        if key is not None:
            self.wanted.emit(key)
