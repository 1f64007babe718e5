"""The preview: a report is made meanwhile, then read, saved, opened in the viewer, or signed."""

from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.preview.child import Made, Wanted
from footexam.desktop.preview.document import Document, NotShown
from footexam.desktop.preview.keeping import Viewer, safe_name, write_private
from footexam.desktop.preview.making import Maker
from footexam.desktop.preview.reader import Reader, overrides
from footexam.desktop.preview.words import WORDS
from footexam.desktop.theme import Theme, em

_CTRL = Qt.KeyboardModifier.ControlModifier
_ACTIONS: dict[int, str] = {
    Qt.Key.Key_S: "save_as",
    Qt.Key.Key_P: "print_document",
    Qt.Key.Key_Return: "sign",
    Qt.Key.Key_Enter: "sign",
    Qt.Key.Key_M: "more",
    Qt.Key.Key_E: "words",
}


class PreviewPage(QWidget):
    """Shows a document; `make` makes a report in a child process first.

    `escaped` on Escape (what is shown or being made is let go of), `sign_wanted` when the person
    wants to sign, `more_wanted` for the document with more or less in it, `words_wanted` to change
    the words of a letter, `told(words)` for remarks, `shown(Made | None)` when page one is there:
    the Made of a report that was made here, None for other bytes.
    """

    escaped = Signal()
    sign_wanted = Signal()
    more_wanted = Signal()
    words_wanted = Signal()
    told = Signal(str)
    shown = Signal(object)

    def __init__(
        self, theme: Theme, parent: QWidget | None = None, maker: Maker | None = None
    ) -> None:
        super().__init__(parent)
        self.reader = Reader(theme, self)
        self.progress = QLabel(self)
        self.progress.setTextFormat(Qt.TextFormat.PlainText)
        self.progress.setWordWrap(True)
        self.progress.hide()
        self.maker = maker or Maker(parent=self)
        self.maker.setParent(self)
        self.viewer = Viewer()
        self._title, self._name = "", "document.pdf"
        self._made: Made | None = None
        self.of_record = True
        """Whether the document is of a record, rather than a form that is nobody's."""
        self.wanted: Wanted | None = None
        """What is being made; None if nothing is."""
        self.buttons: dict[str, QPushButton] = {}
        self._build()
        self.maker.made.connect(self._on_made)
        self.maker.failed.connect(self._on_failed)
        self.maker.waiting.connect(self._on_waiting)
        self.reader.told.connect(self.told)
        application = QApplication.instance()
        if application is not None:
            application.aboutToQuit.connect(self._on_end)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        pad = round(em(self) * 0.8)
        column.setContentsMargins(pad, pad // 2, pad, pad // 2)
        column.addWidget(self.progress)
        column.addWidget(self.reader, 1)
        row = QHBoxLayout()
        slots = {
            "sign": self.sign,
            "save": self.save_as,
            "print": self.print_document,
            "find": self.reader.open_find,
            "text": self.reader.toggle_text,
            "more": self.more,
            "words": self.words,
            "back": self.leave,
        }
        for name, slot in slots.items():
            button = QPushButton(WORDS[name], self)
            button.setAutoDefault(False)
            button.clicked.connect(slot)
            row.addWidget(button)
            self.buttons[name] = button
        row.addStretch(1)
        column.addLayout(row)
        self.setFocusProxy(self.reader)
        self._allow(there=False)
        self.offer_signing(offered=False)
        self.offer_more("")
        self.offer_words(offered=False)

    def offer_signing(self, *, offered: bool) -> None:
        """Whether the document can be signed: the key and the button are there only then."""
        self.buttons["sign"].setVisible(offered)

    def offer_more(self, words: str) -> None:
        """Offer the document with more or less in it, in words; "" where there is one only."""
        self.buttons["more"].setText(words)
        self.buttons["more"].setVisible(bool(words))

    def offer_words(self, *, offered: bool) -> None:
        """Whether the document is a letter whose words can be changed."""
        self.buttons["words"].setVisible(offered)

    def _allow(self, *, there: bool) -> None:
        for name in ("sign", "save", "print", "find", "text", "more", "words"):
            self.buttons[name].setEnabled(there)

    # --- what is shown

    def make(self, wanted: Wanted, title: str, name: str = "examination.pdf") -> None:
        """Make a report and show it; `title` says above the pages whose and what it is.

        `name` is the file name that saving offers, so it holds no patient's name.
        """
        self.close_document()
        self._title, self._name = title, safe_name(name)
        self.of_record = bool(wanted.subject)
        self._tell(WORDS["making"].format(title=title))
        self.wanted = wanted
        self.maker.make(wanted)

    def show_document(self, document: bytes | Path, title: str, name: str = "document.pdf") -> bool:
        """Show a document from its bytes or a file, which is not kept open; whether it is shown.

        One that cannot be shown is told in one sentence.
        """
        self.close_document()
        self._title, self._name = title, safe_name(name)
        self.of_record = True
        try:
            data = document.read_bytes() if isinstance(document, Path) else document
            self._show(data)
        except OSError as bad:
            why = (bad.strerror or type(bad).__name__).lower()
            self._fail(WORDS["not-read-file"].format(title=title, why=why))
            return False
        except NotShown as bad:
            self._fail(str(bad))
            return False
        self.shown.emit(None)
        return True

    def _show(self, data: bytes) -> None:
        document = Document(data)
        try:
            self.reader.show_document(document, self._title)
        except NotShown:
            document.close()
            raise
        self.progress.hide()
        self._allow(there=True)
        self.reader.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def data(self) -> bytes:
        """The bytes of the document that is shown; b"" if none is."""
        return self.reader.document.data if self.reader.document else b""

    @property
    def title(self) -> str:
        """What stands above the pages."""
        return self._title

    @property
    def name(self) -> str:
        """The file name that saving offers."""
        return self._name

    @property
    def made(self) -> Made | None:
        """What was made for what is shown, with its assessment; None for other documents."""
        return self._made

    def close_document(self) -> None:
        """Let go of what is shown or being made."""
        self.maker.stop()
        self.reader.clear()
        self.progress.hide()
        self._made = self.wanted = None
        self._allow(there=False)

    def take_over(self, old: "PreviewPage") -> None:
        """Go on where a page was that this one replaces, as for other colours; the old one ends."""
        wanted, made, data = old.wanted, old.made, old.data
        number, percent = old.reader.number, old.reader.view.percent
        of_record = old.of_record
        self.offer_signing(offered=not old.buttons["sign"].isHidden())
        self.offer_words(offered=not old.buttons["words"].isHidden())
        self.offer_more("" if old.buttons["more"].isHidden() else old.buttons["more"].text())
        self._title, self._name = old.title, old.name
        old.close_document()
        if wanted is not None:
            self.make(wanted, self._title, self._name)
        elif data:
            self.show_document(data, self._title, self._name)
            self._made, self.of_record = made, of_record
            self.reader.view.set_percent(percent)
            self.reader.show_page(number)

    def _on_end(self) -> None:
        """The page or the program ends: end the child, remove the viewer's copies."""
        self.close_document()
        self.maker.cool()
        self.viewer.clear()

    # --- making

    def _tell(self, words: str) -> None:
        """The line above the pages."""
        self.progress.setText(words)
        self.progress.setAccessibleName(words)
        self.progress.show()

    def _on_waiting(self, seconds: int) -> None:
        self._tell(WORDS["making-for"].format(title=self._title, seconds=seconds))

    def _on_made(self, made: Made) -> None:
        self.wanted = None
        try:
            self._show(made.document)
        except NotShown as bad:
            self._on_failed(str(bad))
            return
        self._made = made
        self.shown.emit(made)

    def _on_failed(self, why: str) -> None:
        self.wanted = None
        self._fail(self._words("not-made").format(title=self._title, why=why))

    def _words(self, name: str) -> str:
        """A sentence, as it is said of a record or of a form that is nobody's."""
        return WORDS[name if self.of_record else f"{name}-form"]

    def _fail(self, words: str) -> None:
        self._tell(words)
        self.told.emit(words)

    # --- actions

    @classmethod
    def ask(cls, parent: QWidget, name: str) -> str:
        """Where to save; "" if it is not to be saved. Tests replace this."""
        return QFileDialog.getSaveFileName(parent, WORDS["save-title"], name, WORDS["save-kind"])[0]

    def save_as(self) -> None:
        """Save the document where the person says."""
        if not self.data:
            return
        chosen = self.ask(self, self._name)
        if not chosen:
            return
        path = Path(chosen)
        if path.suffix.lower() != ".pdf":
            path = path.with_name(f"{path.name}.pdf")
        try:
            write_private(path, self.data)
        except OSError as bad:
            why = (bad.strerror or type(bad).__name__).lower()
            self.told.emit(WORDS["not-saved"].format(name=path.name, why=why))
            return
        self.told.emit(self._words("saved").format(name=path.name))

    def print_document(self) -> None:
        """Open the document in the system's viewer, where it is printed."""
        if not self.data:
            return
        try:
            opened = self.viewer.show(self.data, self._name)
        except OSError as bad:
            why = (bad.strerror or type(bad).__name__).lower()
            self.told.emit(WORDS["not-copied"].format(why=why))
            return
        self.told.emit(WORDS["opened" if opened else "not-opened"])

    def sign(self) -> None:
        """Ask to sign what is shown, if that is offered."""
        if self.data and not self.buttons["sign"].isHidden():
            self.sign_wanted.emit()

    def more(self) -> None:
        """Ask for the document with more or less in it, if that is offered."""
        if self.data and not self.buttons["more"].isHidden():
            self.more_wanted.emit()

    def words(self) -> None:
        """Ask to change the words of the letter that is shown, if it is one."""
        if self.data and not self.buttons["words"].isHidden():
            self.words_wanted.emit()

    def leave(self) -> None:
        """Let go of the document and go back; a report that is being made is stopped."""
        if self.maker.stop():
            self.told.emit(self._words("stopped"))
        self.close_document()
        self.escaped.emit()

    # --- keys

    def event(self, event: QEvent) -> bool:
        """Keep the preview's keys from the window's shortcuts."""
        if isinstance(event, QKeyEvent) and overrides(event, action_of(event)):
            return True
        if event.type() is QEvent.Type.DeferredDelete:
            self._on_end()
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        name = action_of(event)
        if name is not None:
            getattr(self, name)()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)


def action_of(event: QKeyEvent) -> str | None:
    """The method of the preview that a key calls; None for other keys."""
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    return _ACTIONS.get(event.key()) if held == _CTRL else None
