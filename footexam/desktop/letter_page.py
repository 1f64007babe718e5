"""The letter sheet: the texts of a letter beside what the record gives, each to be changed."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPlainTextEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from footexam.catalogue.letters import Document
from footexam.desktop.letter_rows import Piece, letter_rows, pieces, state_words
from footexam.desktop.plan_list import PlanList
from footexam.desktop.plan_rows import Place, What
from footexam.desktop.session import Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme, em, large, rule, small
from footexam.drawing.palette import Ink
from footexam.record.written import ADDRESSEE

WIDE = 38
"""So many lines of text wide, list and text stand beside each other; else one below the other."""
KEYS = (
    "Enter  change",
    "Space  leave out or put back",
    "Backspace  as the record gives it",
    "Esc  back",
)
_SAYS = {ADDRESSEE: "who"}
"""What stands above the words of a text that the record gives nothing for."""


class Editor(QPlainTextEdit):
    """The words of one text; Tab leaves it and takes them over, Escape puts them back.

    `left`: it was left. `escaped`: the words are as they were.
    """

    left = Signal()
    escaped = Signal()

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._theme = theme
        self._before = ""
        self.setTabChangesFocus(True)
        self.setFrameStyle(QFrame.Shape.Box | QFrame.Shadow.Plain)
        self._frame(Ink.BORDER)

    def _frame(self, ink: Ink) -> None:
        """The style's own frame is too faint on dark."""
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.WindowText, self._theme.colour(ink))
        self.setPalette(palette)

    @property
    def is_dirty(self) -> bool:
        """Whether something else stands there than was put there."""
        return self.toPlainText() != self._before

    def lines(self) -> list[str]:
        """What is typed, line by line, without empty ones."""
        lines = (" ".join(line.split()) for line in self.toPlainText().split("\n"))
        return [line for line in lines if line]

    def put(self, text: str) -> None:
        """Show a text as it is kept."""
        self._before = text
        self.setPlainText(text)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._frame(Ink.ACCENT)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._frame(Ink.BORDER)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self.left.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put(self._before)
            self.escaped.emit()
        else:
            super().keyPressEvent(event)


class LetterPage(QWidget):
    """The texts of one letter of the open examination; `lettering.py` records what is written.

    `written(piece, lines)`: words were typed for a text. `left_out(piece)`, `put_back(piece)`.
    `escaped`: back.
    """

    written = Signal(object, object)
    left_out = Signal(object)
    put_back = Signal(object)
    escaped = Signal()

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.theme = theme
        self.document = Document.REFERRAL
        self._pieces: dict[str, Piece] = {}
        self._shown: Piece | None = None
        self._build()

    # --- building

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.title = self._label(self)
        self.title.setFont(large(self.title, 1.3))
        pad = round(em(self) * 0.6)
        head = QHBoxLayout()
        head.setContentsMargins(pad * 2, pad, pad * 2, pad)
        head.addWidget(self.title)
        column.addLayout(head)
        column.addWidget(rule(self.theme, self))
        self.body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self.body.setSpacing(0)
        self.list = PlanList(self.theme, self)
        self.list.setAccessibleName(TEXTS["letter-list"])
        self.list.setViewportMargins(0, pad, 0, pad)
        self._rule = rule(self.theme, self, vertical=True)
        self.body.addWidget(self.list, 10)
        self.body.addWidget(self._rule)
        self.body.addWidget(self._detail(), 14)
        column.addLayout(self.body, 1)
        column.addWidget(rule(self.theme, self))
        column.addLayout(self._buttons())
        self.setFocusProxy(self.list)
        self.list.changed.connect(self._on_changed)
        self.list.toggled.connect(self._on_toggled)
        self.list.entered.connect(self.edit)
        self.list.escaped.connect(self.escaped)
        self.editor.left.connect(self.commit)
        self.editor.escaped.connect(self.focus_list)

    def _detail(self) -> QWidget:
        detail = QWidget(self)
        column = QVBoxLayout(detail)
        pad = round(em(self) * 1.0)
        column.setContentsMargins(pad, round(pad * 0.7), pad, pad)
        column.setSpacing(round(em(self) * 0.4))
        self.heading = self._label(detail)
        self.heading.setFont(large(self.heading, 1.15))
        self.state = self._label(detail)
        self.given_head = self._label(detail, TEXTS["letter-given"])
        self.given = QPlainTextEdit(detail)
        self.given.setReadOnly(True)
        self.given.setTabChangesFocus(True)
        self.given.setFrameShape(QFrame.Shape.NoFrame)
        self.given.setAccessibleName(TEXTS["letter-given"])
        palette = self.given.palette()
        palette.setColor(QPalette.ColorRole.Base, palette.color(QPalette.ColorRole.Window))
        self.given.setPalette(palette)
        self.says = self._label(detail)
        self.editor = Editor(self.theme, detail)
        for label in (self.given_head, self.says):
            label.setFont(small(label))
        for lines, area in ((2, self.given), (3, self.editor)):
            area.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
            area.setMinimumHeight(round(em(self) * 1.3 * lines))
        self.list.setMinimumHeight(round(em(self) * 7))
        column.addWidget(self.heading)
        column.addWidget(self.state)
        column.addWidget(self.given_head)
        column.addWidget(self.given, 2)
        column.addWidget(self.says)
        column.addWidget(self.editor, 3)
        return detail

    def _label(self, parent: QWidget, words: str = "") -> QLabel:
        label = QLabel(words, parent)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        return label

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        pad = round(em(self) * 0.5)
        row.setContentsMargins(pad * 2, pad, pad * 2, pad)
        row.setSpacing(pad)
        slots = (self.edit, self._on_toggled, self._on_back, self.escaped.emit)
        for words, slot in zip(KEYS, slots, strict=True):
            button = QPushButton(words, self)
            button.setAccessibleName(words)
            button.clicked.connect(slot)
            row.addWidget(button)
        row.addStretch(1)
        return row

    # --- showing

    @property
    def piece(self) -> Piece | None:
        """The text at hand."""
        place = self.list.place
        return self._pieces.get(place.id) if place is not None else None

    def show_document(self, document: Document) -> None:
        """Show the texts of a letter from its beginning."""
        self.document = document
        self.refresh()
        self.list.go_first()

    def refresh(self) -> None:
        """Show what follows from the record now; what is half typed stays."""
        shown = pieces(self.document, self.session)
        self._pieces = {one.id: one for one in shown}
        self.title.setText(TEXTS[f"letter-{self.document}"])
        self.list.show_rows(letter_rows(shown))
        self._show_piece()

    def _show_piece(self) -> None:
        piece = self.piece
        if piece is None or (piece == self._shown and not self.editor.is_dirty):
            return
        same = self._shown is not None and self._shown.id == piece.id
        self._shown = piece
        self.heading.setText(piece.heading)
        self.state.setText(TEXTS["letter-stale-how"] if piece.stale else state_words(piece))
        self.state.setVisible(bool(self.state.text()))
        self._show_given(piece)
        named = TEXTS[f"letter-{_SAYS.get(piece.id, 'behind' if piece.adds else 'says')}"]
        self.says.setText(named)
        self.editor.setAccessibleName(f"{piece.heading}: {named}")
        if not (same and self.editor.is_dirty):
            self.editor.put((piece.typed or "") if piece.adds else piece.prints)

    def _show_given(self, piece: Piece) -> None:
        """What the record gives; for whom the letter goes to it gives nothing."""
        is_text = piece.id != ADDRESSEE
        self.given_head.setVisible(is_text)
        self.given.setVisible(is_text)
        self.given.setPlainText(piece.given or TEXTS["letter-given-none"])

    def _on_changed(self, _place: object) -> None:
        """Another text is at hand; words that are not taken keep theirs at hand."""
        if self.commit():
            self._show_piece()
        elif self._shown is not None:
            self.list.go_to(Place(What.BLOCK, self._shown.id))

    def focus_list(self) -> None:
        """Give the list the keys."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = self.width() >= WIDE * em(self)
        sides = QBoxLayout.Direction
        self.body.setDirection(sides.LeftToRight if wide else sides.TopToBottom)
        self._rule.setVisible(wide)

    # --- what is typed

    @property
    def is_half_typed(self) -> bool:
        """Whether words stand there that are not taken."""
        return self.editor.is_dirty

    def edit(self) -> None:
        """Put the keys into the words of the text at hand."""
        if self.piece is not None:
            self.editor.setFocus(Qt.FocusReason.OtherFocusReason)
            self.editor.selectAll()

    def commit(self) -> bool:
        """Take over what is typed; whether nothing is left that is not taken."""
        if self._shown is not None and self.editor.is_dirty:
            self.written.emit(self._shown, self.editor.lines())
        return not self.editor.is_dirty

    def taken(self) -> None:
        """What was typed is taken over: show what follows from it."""
        self.editor.put("")
        self._shown = None
        self._show_piece()

    def _on_toggled(self) -> None:
        piece = self.piece
        if piece is not None:
            (self.put_back if piece.is_out else self.left_out).emit(piece)

    def _on_back(self) -> None:
        if self.piece is not None:
            self.put_back.emit(self.piece)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        keys = Qt.Key
        if event.key() in {keys.Key_Backspace, keys.Key_Delete} and self.list.hasFocus():
            self._on_back()
        else:
            super().keyPressEvent(event)
