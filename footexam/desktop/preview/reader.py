"""Reads a document: the page with its keys, the line to find words, and the page as text."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPlainTextEdit,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.input_line import InputLine
from footexam.desktop.preview.document import Document, NotShown
from footexam.desktop.preview.search import Search
from footexam.desktop.preview.view import PageView
from footexam.desktop.preview.words import WORDS
from footexam.desktop.theme import Theme, em, large

ROOMY = 24.0
"""Width in lines of text from which the size of the page is told above it."""
_KEY, _NO = Qt.Key, Qt.KeyboardModifier.NoModifier
_CTRL, _SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
_ACTIONS: dict[tuple[int, Qt.KeyboardModifier], str] = {
    (_KEY.Key_PageDown, _NO): "go_on",
    (_KEY.Key_PageUp, _NO): "go_back",
    (_KEY.Key_Space, _NO): "go_on",
    (_KEY.Key_Space, _SHIFT): "go_back",
    (_KEY.Key_Right, _NO): "next_page",
    (_KEY.Key_Left, _NO): "previous_page",
    (_KEY.Key_PageDown, _CTRL): "next_page",
    (_KEY.Key_PageUp, _CTRL): "previous_page",
    (_KEY.Key_Home, _NO): "first_page",
    (_KEY.Key_End, _NO): "last_page",
    (_KEY.Key_F, _CTRL): "open_find",
    (_KEY.Key_F3, _NO): "find_next",
    (_KEY.Key_F3, _SHIFT): "find_previous",
}
_LETTERS = {"+": "larger", "=": "larger", "-": "smaller", "0": "fit", "t": "toggle_text"}


class Reader(QWidget):
    """Shows the pages of a document; its public methods are what the keys do.

    `page_shown(number)` at every page, `told(words)` when something cannot be shown.
    """

    page_shown = Signal(int)
    told = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document: Document | None = None
        self.number = 0
        """The page that is shown, from 1; 0 if none is."""
        self._title = ""
        self._at = -1
        self.line = InputLine(self)  # before the page, as it stands above it: so goes Tab
        self.view = PageView(theme, self)
        self.view.setAccessibleName(WORDS["no-page-yet"])
        self.text = QPlainTextEdit(self)
        self.found = QLabel(self)
        self.title, self.place, self.size_label = QLabel(self), QLabel(self), QLabel(self)
        self.stack = QStackedWidget(self)
        self.search = Search(self)
        self._build()
        self.view.failed.connect(self.told)
        self.view.zoomed.connect(self._show_size)
        self.search.went_on.connect(self._on_searched)
        self.line.returnPressed.connect(self._on_sought)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(round(em(self) * 0.4))
        column.addLayout(self._head())
        column.addWidget(self.stack, 1)
        self.text.setReadOnly(True)
        self.text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard
            | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self.text.setTabChangesFocus(True)
        for page in (self.view, self.text):
            self.stack.addWidget(page)
        self.setFocusProxy(self.view)

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(round(em(self) * 1.2))
        self.title.setFont(large(self.title, 1.3))
        for label in (self.title, self.place, self.size_label, self.found):
            label.setTextFormat(Qt.TextFormat.PlainText)
        for label in (self.place, self.size_label, self.found):  # the title gives way, by wrapping
            label.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        self.line.setAccessibleName(WORDS["find-name"])
        self.line.setPlaceholderText(WORDS["find-hint"])
        self.line.setMaximumWidth(round(em(self) * 14))
        self.line.setMaxLength(200)
        self.line.hide()
        self.place.setMinimumHeight(self.line.sizeHint().height())  # the page stays where it is
        self.title.setWordWrap(True)
        row.addWidget(self.title, 1)
        for part in (self.line, self.found, self.size_label, self.place):
            row.addWidget(part)
        return row

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.size_label.setVisible(self.width() >= ROOMY * em(self))

    # --- the document

    def show_document(self, document: Document, title: str) -> None:
        """Show a document from its first page; the one before is closed. NotShown."""
        document.size(1)
        self.clear()
        self.document, self._title = document, title
        self.title.setText(title)
        self.show_page(1)

    def clear(self) -> None:
        """Show nothing, close the document and forget it."""
        self.search.stop()
        self.view.clear()
        self.text.clear()
        self.close_find()
        self._show_part(self.view)
        for label in (self.title, self.place, self.size_label):
            label.clear()
        self.view.setAccessibleName(WORDS["no-page-yet"])
        self.view.setAccessibleDescription("")
        if self.document is not None:
            self.document.close()
        self.document, self.number, self._at = None, 0, -1

    def show_page(self, number: int) -> None:
        """Show a page of the document; a number beyond its ends does nothing."""
        document = self.document
        if document is None or not 1 <= number <= document.pages:
            return
        try:
            self.view.show_page(document, number)
            words = document.text(number)
        except NotShown as bad:
            self.view.clear()
            words = str(bad)
            self.told.emit(words)
        self.number, self._at = number, -1
        self._say(words)
        self._show_hits()
        self._show_size()
        self.page_shown.emit(number)

    def _say(self, words: str) -> None:
        """The page in words, for those who hear it or read it as text."""
        pages = self.document.pages if self.document else 0
        self.place.setText(WORDS["page"].format(page=self.number, pages=pages))
        name = WORDS["pages-name"].format(title=self._title, page=self.number, pages=pages)
        self.view.setAccessibleName(name)
        self.view.setAccessibleDescription(words or WORDS["no-text"])
        self.text.setAccessibleName(WORDS["text-name"].format(page=self.number))
        self.text.setPlainText(words or WORDS["no-text"])

    def _show_size(self) -> None:
        if not self.number:
            return
        words = WORDS["percent"].format(percent=self.view.shown_percent())
        fitted = self.view.percent is None
        self.size_label.setText(f"{words}, {WORDS['fit']}" if fitted else words)

    # --- turning and sizes

    def go_on(self) -> None:
        """On in the page; at its end, the next page."""
        if self.stack.currentWidget() is self.text or not self.view.scroll_on(1):
            self.next_page()

    def go_back(self) -> None:
        """Back in the page; at its top, the end of the page before."""
        if self.stack.currentWidget() is self.text:
            self.previous_page()
        elif not self.view.scroll_on(-1) and self.number > 1:
            self.previous_page()
            self.view.scroll_to_end()

    def next_page(self) -> None:
        """The next page."""
        self.show_page(self.number + 1)

    def previous_page(self) -> None:
        """The page before."""
        self.show_page(self.number - 1)

    def first_page(self) -> None:
        """The first page."""
        self.show_page(1)

    def last_page(self) -> None:
        """The last page."""
        if self.document is not None:
            self.show_page(self.document.pages)

    def larger(self) -> None:
        """One size larger, up to 300 %."""
        self.view.step(1)

    def smaller(self) -> None:
        """One size smaller, down to 100 %."""
        self.view.step(-1)

    def fit(self) -> None:
        """The page fitted to the width."""
        self.view.set_percent(None)

    def toggle_text(self) -> None:
        """The page as text, or as it is printed."""
        to_text = self.stack.currentWidget() is self.view
        self._show_part(self.text if to_text else self.view)
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_part(self, part: QWidget) -> None:
        self.stack.setCurrentWidget(part)
        self.setFocusProxy(part)

    # --- finding

    def open_find(self) -> None:
        """Open the line to find words."""
        self.line.show()
        self.line.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.line.selectAll()

    def close_find(self) -> bool:
        """Close the line and forget what was found; whether it was open."""
        was = not self.line.isHidden()
        self.search.stop()
        self.line.hide()
        self.line.clear()
        self.found.clear()
        self._at = -1
        self.view.set_hits([], -1)
        if was and self.number:
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        return was

    def _on_sought(self) -> None:
        words = " ".join(self.line.text().split())
        if not words or self.document is None:
            return
        if words == self.search.words:
            self.find_next()
            return
        self._at = -1
        self.search.start(self.document, words, self.number)
        self._show_found()

    def _on_searched(self) -> None:
        """A page was searched: go to the first place there is, as soon as it is known."""
        if self._at < 0 and self.search.total:
            self._go(self.search.step(self.number, -1, 1))
        self._show_found()

    def find_next(self) -> None:
        """The next place; without words, the line to write them."""
        if self.search.words:
            self._go(self.search.step(self.number, self._at, 1))
        else:
            self.open_find()

    def find_previous(self) -> None:
        """The place before."""
        self._go(self.search.step(self.number, self._at, -1))

    def _go(self, place: tuple[int, int] | None) -> None:
        if place is None:
            return
        if place[0] != self.number:
            self.show_page(place[0])
        self._at = place[1]
        self._show_hits()

    def _show_hits(self) -> None:
        """Outline what is found on the page that is shown."""
        hits = []
        if self.search.words and self.document is not None:
            try:
                hits = self.document.find(self.number, self.search.words)
            except NotShown:
                hits = []
        self.view.set_hits(hits, self._at)
        self._show_found()

    def _show_found(self) -> None:
        if not self.search.words:
            self.found.clear()
            return
        at = self.search.place(self.number, self._at) if self._at >= 0 else 0
        goes_on, count = self.search.goes_on, self.search.total
        if count:
            words = WORDS["found-so-far" if goes_on else "found"].format(at=at, count=count)
        else:
            words = WORDS["searching" if goes_on else "not-found"]
        self.found.setText(words)
        self.line.setAccessibleDescription(words)

    # --- keys

    def does(self, event: QKeyEvent) -> bool:
        """Do what a key says; whether it says anything here."""
        name = action_of(event)
        if name is None or self.document is None:
            return False
        getattr(self, name)()
        return True

    def event(self, event: QEvent) -> bool:
        """Keep the reader's keys from the window's shortcuts."""
        if isinstance(event, QKeyEvent) and overrides(event, action_of(event)):
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.close_find():
            return
        if not self.does(event):
            super().keyPressEvent(event)


def action_of(event: QKeyEvent) -> str | None:
    """The method of the reader that a key calls; None for other keys."""
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    name = _ACTIONS.get((event.key(), held))
    plain = held in (_NO, _SHIFT)
    return name or (_LETTERS.get(event.text().lower()) if plain else None)


def overrides(event: QKeyEvent, action: str | None) -> bool:
    """Whether a key is kept from the window's shortcuts, to come back as a plain key press."""
    if event.type() is not QEvent.Type.ShortcutOverride or action is None:
        return False
    event.accept()
    return True
