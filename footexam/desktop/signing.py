"""Signing: shows the very pages that are signed, asks who signs, and hands over what is kept."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from footexam.desktop.input_line import InputLine
from footexam.desktop.pages import Radios
from footexam.desktop.preview.child import Made, Wanted
from footexam.desktop.preview.document import Document, NotShown
from footexam.desktop.preview.making import Maker
from footexam.desktop.preview.reader import Reader, action_of, overrides
from footexam.desktop.preview.tick import Tick
from footexam.desktop.preview.words import WORDS
from footexam.desktop.theme import Theme, em, large, rule
from footexam.record.entry import Author, Draft
from footexam.record.examination import Examination
from footexam.record.journal import Journal
from footexam.record.refusal import Refusal, text
from footexam.record.signing import (
    ASSESSMENT,
    DOCUMENT,
    Shown,
    Standing,
    attach_draft,
    bar,
    sign_draft,
    signatures,
    standing,
)
from footexam.store import Conflict, KnownError
from footexam.terms import Role

if TYPE_CHECKING:
    from footexam.store.journals import Attachment

WIDTH = 17.0
"""Width of the column beside the pages, in lines of text."""
LONGEST_NAME = 200


class Signable(Protocol):
    """The open record, as a Session is one."""

    journal: Journal
    examination: Examination

    def unsaved(self) -> int:
        """How many entries are not durable yet."""


@dataclass(frozen=True, slots=True)
class Signed:
    """What is to be kept: three entries behind `head`, and the bytes that two of them name.

    They are kept together or not at all, and only behind that very head: where somebody else has
    written meanwhile, nothing is put behind it, and the person looks at new pages.
    """

    author: Author
    head: str
    drafts: tuple[Draft, ...]
    attachments: "tuple[Attachment, ...]"


@dataclass(frozen=True, slots=True)
class Request:
    """What is to be signed and how it is kept.

    `keep` makes a signature durable, or raises KnownError or Conflict; `cell_refused` tells whether
    a cell holds what was not taken over. `author` is who is at the desk, `title` stands above the
    pages.
    """

    record: Signable
    wanted: Wanted
    author: Author
    title: str
    keep: Callable[[Signed], object]
    cell_refused: Callable[[], bool]


class SigningPage(QWidget):
    """Asks for a signature under the pages of a report.

    `escaped` on Escape, `signed(Author)` once it is kept, `told(words)` for remarks.
    """

    escaped = Signal()
    signed = Signal(object)
    told = Signal(str)

    def __init__(
        self,
        theme: Theme,
        parent: QWidget | None = None,
        maker: Maker | None = None,
        now: Callable[[], datetime] = lambda: datetime.now(UTC).astimezone(),
    ) -> None:
        super().__init__(parent)
        self._now = now
        self._request: Request | None = None
        self._made: Made | None = None
        self._made_for = ""
        self._seen: set[int] = set()
        self.maker = maker or Maker(parent=self)
        self.maker.setParent(self)
        self.reader = Reader(theme, self)
        self.side = QWidget(self)
        self.name = InputLine(self.side)
        words = {role.value: WORDS[f"role-{role.value}"] for role in Role}
        self.role = Radios(words, WORDS["role"], self.side)
        self.read = Tick(WORDS["read"], theme, self.side)
        self.go = QPushButton(WORDS["sign-now"], self.side)
        self.back = QPushButton(WORDS["back"], self.side)
        self.history = self._label()
        self.remark = self._label()
        self._build(theme)
        self.maker.made.connect(self._on_made)
        self.maker.failed.connect(self._on_failed)
        self.maker.waiting.connect(self._on_waiting)
        self.reader.told.connect(self.told)
        self.reader.page_shown.connect(self._on_page_shown)
        self.name.editingFinished.connect(self._on_named)
        self.go.clicked.connect(self.sign)
        self.back.clicked.connect(self.leave)
        application = QApplication.instance()
        if application is not None:
            application.aboutToQuit.connect(self._on_end)

    def _build(self, theme: Theme) -> None:
        row = QHBoxLayout(self)
        pad = round(em(self) * 0.8)
        row.setContentsMargins(pad, pad // 2, pad, pad // 2)
        row.setSpacing(pad)
        row.addWidget(self.reader, 1)
        row.addWidget(rule(theme, self, vertical=True))
        row.addWidget(self.side)
        self.side.setFixedWidth(round(em(self) * WIDTH))
        column = QVBoxLayout(self.side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(round(em(self) * 0.5))
        title = self._label(WORDS["sign-title"])
        title.setFont(large(title, 1.3))
        self.name.setMaxLength(LONGEST_NAME)
        self.name.setAccessibleName(WORDS["signer"])
        for button in (self.go, self.back):
            button.setAutoDefault(False)
        signer, role = self._label(WORDS["signer"]), self._label(WORDS["role"])
        parts = (title, self.history, signer, self.name, role, self.role)
        for part in (*parts, self.read, self.go, self.remark):
            column.addWidget(part)
        column.addStretch(1)
        column.addWidget(self.back)
        self.setFocusProxy(self.reader)

    def _label(self, words: str = "") -> QLabel:
        label = QLabel(words, self.side)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        return label

    # --- what is to be signed

    def ask(self, request: Request) -> None:
        """Make the pages as they are once this person has signed, and ask for it."""
        self.close_document()
        self._request = request
        author = _likely(request)
        self.name.setText(author.name)
        self.role.set_value(author.role)
        history = _history(request.record.journal)
        self.history.setText(history)
        self.history.setVisible(bool(history))
        self._make()

    @property
    def request(self) -> Request | None:
        """What is asked for; None once it is signed or left."""
        return self._request

    def _make(self) -> None:
        """Make the pages for the name that stands there."""
        request = self._request
        self.maker.stop()
        self.reader.clear()
        self._made, self._seen, self._made_for = None, set(), self._signer()
        self.read.setChecked(False)
        self.go.setEnabled(False)
        if request is None:
            return
        barred = self._barred(request)
        if barred:
            self._tell(barred)
            self.name.setFocus(Qt.FocusReason.OtherFocusReason)  # there are no pages to read
            return
        self._tell(WORDS["making"].format(title=request.title))
        self.maker.make(replace(request.wanted, signer=self._made_for))

    def close_document(self) -> None:
        """Let go of the pages and of what was asked."""
        self.maker.stop()
        self.reader.clear()
        self._request, self._made = None, None
        self.remark.clear()

    def _on_end(self) -> None:
        """The page or the program ends: no child outlives it."""
        self.close_document()
        self.maker.cool()

    def _signer(self) -> str:
        """The name as it will be kept; "" if none can be."""
        try:
            return text(" ".join(self.name.text().split()), LONGEST_NAME)
        except Refusal:
            return ""

    def _author(self) -> Author:
        sitting = self._request.author.sitting if self._request else ""
        return Author(self._signer(), Role(self.role.value() or Role.CLINICIAN), sitting)

    def _barred(self, request: Request) -> str:
        """Why this person cannot sign, in words; "" if they can."""
        examination, author = request.record.examination, self._author()
        why = bar(request.record.journal, examination, author)
        if why is None:
            return ""
        examiner = examination.examiner
        role = WORDS[f"role-{examiner.role}"].lower()
        return WORDS[why].format(examiner=examiner.name, role=role, name=author.name)

    # --- the pages

    def _on_named(self) -> None:
        """Another name: other pages, for they say who has signed."""
        if self._request is not None and self._signer() != self._made_for:
            self._make()

    def _on_made(self, made: Made) -> None:
        request = self._request
        if request is None:
            return
        try:
            document = Document(made.document)
            self._made = made
            self.reader.show_document(document, request.title)
        except NotShown as bad:
            self._made = None
            self._on_failed(str(bad))
            return
        self.go.setEnabled(True)
        self._tell(self._why_not(request))
        if not self.name.hasFocus():
            self.reader.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_page_shown(self, number: int) -> None:
        self._seen.add(number)
        if self._request is not None and self._made is not None:
            self._tell(self._unseen())

    def _unseen(self) -> str:
        """Which pages were not shown yet, in words; "" if all were."""
        pages = self.reader.document.pages if self.reader.document else 0
        open_pages = [number for number in range(1, pages + 1) if number not in self._seen]
        if not open_pages:
            return ""
        return WORDS["not-shown"].format(pages=_listed(open_pages))

    def _on_waiting(self, seconds: int) -> None:
        title = self._request.title if self._request else ""
        self._tell(WORDS["making-for"].format(title=title, seconds=seconds))

    def _on_failed(self, why: str) -> None:
        title = self._request.title if self._request else ""
        self._tell(WORDS["not-made"].format(title=title, why=why))

    def _tell(self, words: str) -> None:
        self.remark.setText(words)
        self.remark.setAccessibleName(words)

    # --- signing

    def _why_not(self, request: Request) -> str:
        """Why nothing is signed now, in words; "" if the pages can be signed."""
        made, record = self._made, request.record
        if request.cell_refused():
            return WORDS["refused"]
        if record.unsaved():
            return WORDS["unsaved"]
        barred = self._barred(request)
        if barred:
            return barred
        if made is None or self._signer() != self._made_for:
            return WORDS["other-name"].format(name=self._made_for)
        if (made.head, made.version) != (record.journal.head, len(record.journal)):
            return WORDS["other-record"]
        return self._unseen()

    def sign(self) -> None:
        """Sign what is shown, if everything that a signature needs is there."""
        request, made, document = self._request, self._made, self.reader.document
        if request is None or made is None or document is None:
            return
        why = self._why_not(request) or ("" if self.read.isChecked() else WORDS["not-read"])
        if why:
            self._tell(why)
            return
        shown = Shown(
            document.data, made.assessment, document.pages, made.head, made.version, made.catalogue
        )
        signed = signed_of(shown, self._author(), self._now())
        try:
            request.keep(signed)
        except KnownError as bad:
            self._tell(WORDS["not-kept"].format(why=bad))
            return
        except Conflict:
            self._tell(WORDS["other-record"])
            return
        self.close_document()
        self.told.emit(WORDS["signed"].format(name=signed.author.name))
        self.signed.emit(signed.author)

    def leave(self) -> None:
        """Go back without signing."""
        self.close_document()
        self.escaped.emit()

    # --- keys

    def event(self, event: QEvent) -> bool:
        """Keep the key that signs, and the reader's keys, from the window's shortcuts."""
        if isinstance(event, QKeyEvent):
            ours = "sign" if _signs(event) else self._turns(event)
            if overrides(event, ours):
                return True
        if event.type() is QEvent.Type.DeferredDelete:
            self._on_end()
        return super().event(event)

    def _turns(self, event: QKeyEvent) -> str | None:
        """What a key does to the pages, also from the box and the buttons."""
        return None if self.name.hasFocus() else action_of(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if _signs(event):
            self.sign()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif self._turns(event) is None or not self.reader.does(event):
            super().keyPressEvent(event)


def signed_of(shown: Shown, author: Author, now: datetime) -> Signed:
    """The entries and bytes of a signature under what was shown; `now` knows its time zone."""
    from footexam.store.journals import Attachment

    shift = now.utcoffset()
    offset = int(shift.total_seconds() // 60) if shift else 0
    utc = now.astimezone(UTC).replace(tzinfo=None)
    at = f"{utc.isoformat(timespec='milliseconds')}Z"
    document = Attachment(shown.document, "application/pdf")
    assessment = Attachment(shown.assessment, "application/json")
    drafts = (
        attach_draft(DOCUMENT, document.body(), author, at, offset),
        attach_draft(ASSESSMENT, assessment.body(), author, at, offset),
        sign_draft(author, at, shown, WORDS["statement"], offset),
    )
    return Signed(author, shown.head, drafts, (document, assessment))


def _likely(request: Request) -> Author:
    """Who signs next: under a student that has signed, the supervisor named at the start."""
    examination, author = request.record.examination, request.author
    supervisor = examination.supervisor
    awaiting = standing(request.record.journal, examination) is Standing.AWAITING
    if awaiting and supervisor is not None:
        return replace(author, name=supervisor.name, role=Role.SUPERVISOR)
    return author


def _history(journal: Journal) -> str:
    """Who has signed so far, a line each."""
    return "\n".join(
        WORDS["signed-before"].format(
            name=one.by.name, role=WORDS[f"role-{one.by.role}"].lower(), version=one.version
        )
        for one in signatures(journal)
        if one.sound
    )


def _listed(pages: list[int]) -> str:
    """Page numbers in words, runs as `3 to 7`."""
    runs: list[list[int]] = []
    for page in pages:
        if runs and page == runs[-1][-1] + 1:
            runs[-1].append(page)
        else:
            runs.append([page])
    told = [f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs]
    return WORDS["page-list" if len(pages) == 1 else "page-lists"].format(pages=", ".join(told))


def _signs(event: QKeyEvent) -> bool:
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
    return enter and held == Qt.KeyboardModifier.ControlModifier
