"""A page in the place of the sheet: opened over it, and left for it again."""

from collections.abc import Callable
from typing import ClassVar, Generic, TypeVar

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from footexam.desktop.annotate import AnnotationLine
from footexam.desktop.session import Answer, Session
from footexam.desktop.texts import TEXTS
from footexam.desktop.theme import Theme

STAYS = frozenset({"weigh", "sign_report", "try_again"})
"""What every page may stay open for."""
Page = TypeVar("Page", bound=QWidget)


class Beside(QObject, Generic[Page]):
    """Opens its page in the place of the sheet, asks for reasons in the line under it.

    `wanted(key)`: a cell or a caution was asked for. `told(words)`. `left`: the sheet is shown
    again.
    """

    wanted = Signal(object)
    told = Signal(str)
    left = Signal()

    keeps: ClassVar[frozenset[str]] = frozenset()
    """Actions of the sheet's keys that leave the page where it is; all others concern the sheet."""

    def __init__(
        self, session: Session, theme: Theme, stack: QStackedWidget, line: AnnotationLine
    ) -> None:
        super().__init__(stack)
        self.session = session
        self.line = line
        self._theme = theme
        self._stack = stack
        self._page: Page | None = None
        self._sheet: QWidget | None = None

    @property
    def page(self) -> Page:
        """The page, made at first need."""
        if self._page is None:
            self._page = self._make_page()
            self._stack.addWidget(self._page)
        return self._page

    def _make_page(self) -> Page:
        """The page with its signals connected."""
        raise NotImplementedError

    @property
    def is_open(self) -> bool:
        """Whether the page is shown."""
        return self._page is not None and self._stack.currentWidget() is self._page

    def leave(self) -> None:
        """Back to the sheet."""
        if self.is_open and self._sheet is not None:
            self._stack.setCurrentWidget(self._sheet)
            self.left.emit()

    def refresh(self) -> None:
        """Show anew what an entry has changed."""
        raise NotImplementedError

    def focus(self) -> None:
        """Give the page the keys."""
        raise NotImplementedError

    def commit(self) -> bool:
        """Take over what is typed; False if something is refused."""
        return True

    @property
    def is_half_typed(self) -> bool:
        """Whether something stands in a line that is not taken."""
        return False

    def _record(self, act: Callable[[], Answer], words: str) -> None:
        """Do it and tell it in these words; a signed record asks for the reason first."""
        if not self.session.wants_reason:
            self._tell(act(), words)
            return

        def taken(reason: str) -> Answer:
            if not reason.strip():
                return Answer(False, TEXTS["why-missing"])
            answer = self.session.amend(reason)
            return self._tell(act(), words) if answer.taken else answer

        self.line.ask_words(TEXTS["why-change"], taken)

    def _tell(self, answer: Answer, words: str) -> Answer:
        self.told.emit(words if answer.taken else answer.refusal)
        return answer

    def _show_page(self) -> None:
        """The page in the place of the sheet, which is remembered."""
        if not self.is_open:
            self._sheet = self._stack.currentWidget()
        self._stack.setCurrentWidget(self.page)

    def _on_wanted(self, key: object) -> None:
        self.leave()
        self.wanted.emit(key)
