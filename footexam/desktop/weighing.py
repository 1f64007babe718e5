"""The page that weighs one caution or one hypothesis, and takes what a person decides about it."""

from dataclasses import dataclass

from PySide6.QtCore import Qt, QTimer, QUrl, Signal
from PySide6.QtGui import (
    QFont,
    QFontMetricsF,
    QImage,
    QKeyEvent,
    QPainter,
    QPalette,
    QResizeEvent,
    QTextCursor,
    QTextDocument,
)
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QTextBrowser, QVBoxLayout, QWidget

from footexam.catalogue.model import say
from footexam.desktop.painting import Brush
from footexam.desktop.session import Session
from footexam.desktop.theme import Theme, em, large
from footexam.desktop.weighing_words import (
    CELL,
    DRAWING,
    Sources,
    argument_html,
    caution_html,
    caution_title,
    chain,
    spoken,
)
from footexam.drawing.argument import argument_drawing
from footexam.drawing.shapes import Drawing
from footexam.reasoning.argue import Argument
from footexam.reasoning.dangers import Caution
from footexam.terms import Side

PIXELS_A_POINT = 1 / 11
"""Of the height of a line of text: drawings grow with the type."""


@dataclass(frozen=True, slots=True)
class Subject:
    """What is weighed: a caution or a hypothesis by id, and the side."""

    kind: str
    id: str
    side: Side | None


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that may be decided: its key and words, and the question for its reason."""

    key: Qt.Key
    words: str
    decision: str
    question: str = ""


ABOUT_CAUTION = (
    Choice(Qt.Key.Key_A, "A  acted on", "acted", "what-done"),
    Choice(Qt.Key.Key_X, "X  excluded", "excluded", "why-excluded"),
    Choice(Qt.Key.Key_T, "T  handed over", "transferred", "to-whom"),
)
ABOUT_HYPOTHESIS = (
    Choice(Qt.Key.Key_A, "A  accept", "accepted"),
    Choice(Qt.Key.Key_S, "S  set aside", "rejected", "why-set-aside"),
)


BACK = Choice(Qt.Key.Key_Escape, "Esc  back", "")


class _Button(QPushButton):
    """A button for a choice; `chosen(choice)` when it is pressed."""

    chosen = Signal(object)

    def __init__(self, choice: Choice, parent: QWidget) -> None:
        super().__init__(choice.words, parent)
        self.choice = choice
        self.setAccessibleName(choice.words)
        self.clicked.connect(self._on_clicked)

    def _on_clicked(self) -> None:
        self.chosen.emit(self.choice)


class _Text(QTextBrowser):
    """The text with the drawing in it; decisions are keys of the page, links go by Tab."""

    pressed = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.image = QImage()
        self.setOpenLinks(False)

    def loadResource(self, _kind: int, name: QUrl | str) -> object:
        """The drawing; nothing is ever read from a disk or a network."""
        wanted = name.toString() if isinstance(name, QUrl) else name
        return self.image if wanted == DRAWING else None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        self.pressed.emit(event)
        if not event.isAccepted():
            event.accept()
            super().keyPressEvent(event)


class WeighingPage(QWidget):
    """One caution or hypothesis. Its keys decide; Escape goes back to the cell.

    `decided(subject, choice)`: a decision was asked for. `wanted(key)`: a cell was. `escaped`:
    back.
    `turned(step)`: the next or the previous one of its kind.
    """

    decided = Signal(object, object)
    wanted = Signal(object)
    escaped = Signal()
    turned = Signal(int)

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.theme = theme
        self.subject: Subject | None = None
        column = QVBoxLayout(self)
        pad = round(em(self) * 1.2)
        column.setContentsMargins(pad, round(pad / 2), pad, round(pad / 2))
        self.title = QLabel(self)
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.title.setWordWrap(True)
        self.title.setFont(large(self.title, 1.45))
        column.addWidget(self.title)
        self.text = _Text(self)
        self.text.setFrameShape(QTextBrowser.Shape.NoFrame)
        palette = self.text.palette()
        palette.setColor(QPalette.ColorRole.Base, palette.color(QPalette.ColorRole.Window))
        self.text.setPalette(palette)
        self.text.anchorClicked.connect(self._on_link)
        self.text.pressed.connect(self._on_pressed)
        column.addWidget(self.text, 1)
        self.row = QHBoxLayout()
        self.row.addStretch(1)
        column.addLayout(self.row)
        self._buttons: list[_Button] = []
        self.setFocusProxy(self.text)

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What may be decided about the subject."""
        if self.subject is None:
            return ()
        return ABOUT_CAUTION if self.subject.kind == "caution" else ABOUT_HYPOTHESIS

    def show_subject(self, subject: Subject) -> bool:
        """Show a caution or hypothesis; False where it does not stand any more."""
        self.subject = subject
        shown = self._caution() if subject.kind == "caution" else self._argument()
        if shown:
            self._show_buttons()
        return shown

    def refresh(self) -> bool:
        """Show the same anew after an entry, at the same place."""
        if self.subject is None:
            return False
        bar = self.text.verticalScrollBar()
        place = bar.value()
        shown = self.show_subject(self.subject)
        bar.setValue(place)
        return shown

    def _argument(self) -> bool:
        argument = find_argument(self.session, self.subject)
        if argument is None:
            return False
        material = self.session.judge.material
        sources = Sources(material)
        drawn = chain(argument, material, sources)
        self._draw(argument_drawing(drawn, self._width(), self._measure))
        where = f", {material.side_word(argument.side)}" if argument.side else ""
        state = hypothesis_state(self.session, argument.id, argument.side)
        self._show(
            f"{say(argument.hypothesis.label)}{where}{f' ({state})' if state else ''}",
            argument_html(argument, drawn, material, sources),
            spoken(drawn),
        )
        return True

    def _caution(self) -> bool:
        caution = find_caution(self.session, self.subject)
        if caution is None:
            return False
        material = self.session.judge.material
        html = caution_html(caution, material)
        self._show(caution_title(caution, material), html, caution.action or "")
        return True

    def _show(self, title: str, html: str, described: str) -> None:
        self.title.setText(title)
        self.text.setAccessibleName(title)
        self.text.setAccessibleDescription(described)
        self.text.setHtml(f"<style>a {{ color: {self._link_colour()} }}</style>{html}")
        self.text.moveCursor(QTextCursor.MoveOperation.Start)
        self.text.verticalScrollBar().setValue(0)  # a picture at the start scrolls it out of view

    def _link_colour(self) -> str:
        return self.palette().link().color().name()

    # --- the drawing

    def _scale(self) -> float:
        return em(self) * PIXELS_A_POINT

    def _width(self) -> float:
        """Points of the drawing's width that the text leaves."""
        room = max(self.text.viewport().width(), self.width() - 4 * em(self))
        return max(240.0, (room - em(self) * 1.5) / self._scale())

    def _measure(self, text: str, size: float, bold: bool) -> float:
        font = QFont(self.font())
        font.setPixelSize(max(1, round(size)))
        font.setBold(bold)
        return QFontMetricsF(font).horizontalAdvance(text)

    def _draw(self, drawing: Drawing) -> None:
        """Paint the drawing at the screen's own resolution."""
        ratio, scale = self.devicePixelRatioF(), self._scale()
        width, height = drawing.width * scale, drawing.height * scale
        image = QImage(round(width * ratio), round(height * ratio), QImage.Format.Format_ARGB32)
        image.setDevicePixelRatio(ratio)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        painter.setFont(self.font())
        Brush(painter, self.theme, scale).drawing(drawing, 0, 0)
        painter.end()
        self.text.image = image
        kind = QTextDocument.ResourceType.ImageResource
        self.text.document().addResource(kind, QUrl(DRAWING), image)

    # --- keys, links, buttons

    def _show_buttons(self) -> None:
        """One button for each thing that may be decided; made anew for another kind only."""
        wanted = (*self.choices, BACK)
        if [button.choice for button in self._buttons] == list(wanted):
            return
        for button in self._buttons:
            button.deleteLater()
        self._buttons = [_Button(choice, self) for choice in wanted]
        for place, button in enumerate(self._buttons):
            button.chosen.connect(self._on_chosen)
            self.row.insertWidget(place, button)

    def _on_chosen(self, choice: Choice) -> None:
        if choice is BACK:
            self.escaped.emit()
        else:
            self.decided.emit(self.subject, choice)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The drawing is as wide as the text."""
        super().resizeEvent(event)
        if self.isVisible() and event.oldSize().width() != event.size().width():
            QTimer.singleShot(0, self, self.refresh)

    def _on_pressed(self, event: QKeyEvent) -> None:
        """Take the page's own keys; the text takes the others."""
        steps = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}
        plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        chosen = [one for one in self.choices if one.key == event.key() and plain]
        event.accept()
        if event.key() == Qt.Key.Key_Escape:
            self.escaped.emit()
        elif chosen:
            self.decided.emit(self.subject, chosen[0])
        elif event.key() in steps and plain:
            self.turned.emit(steps[Qt.Key(event.key())])
        else:
            event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The same keys while a button has the focus."""
        self._on_pressed(event)

    def _on_link(self, link: QUrl) -> None:
        words = link.toString()
        if words.startswith("#"):
            self.text.scrollToAnchor(words[1:])
        elif words.startswith(f"{CELL}:"):
            _, measure, side = words.split(":")
            self.wanted.emit((measure, Side(side) if side else None))


def find_argument(session: Session, subject: Subject | None) -> Argument | None:
    """The open hypothesis of a subject."""
    for one in session.assessment.reasons.arguments:
        if subject is not None and (one.id, one.side) == (subject.id, subject.side):
            return one
    return None


def find_caution(session: Session, subject: Subject | None) -> Caution | None:
    """The caution of a subject."""
    for one in session.assessment.cautions:
        if subject is not None and (one.about, one.side) == (subject.id, subject.side):
            return one
    return None


def hypothesis_state(session: Session, name: str, side: Side | None) -> str:
    """Whether a hypothesis was accepted or set aside, in words; empty while undecided."""
    made = session.examination.decisions.get("hypotheses", {})
    for chosen, words in (("accepted", "accepted"), ("rejected", "set aside")):
        for one in made.get(chosen, ()):
            if (one.get("id"), one.get("side")) == (name, side):
                reason = one.get("reason", "")
                return f"{words}: {reason}" if reason else words
    return ""
