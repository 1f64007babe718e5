"""Searches a document page by page, from the one that is shown, without holding up the window."""

from PySide6.QtCore import QObject, QTimer, Signal

from footexam.desktop.preview.document import Document, NotShown


class Search(QObject):
    """Counts the places of words on each page; `went_on()` after each page.

    `counts` holds the pages searched so far; a damaged page counts 0.
    """

    went_on = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.words = ""
        self.counts: dict[int, int] = {}
        self._document: Document | None = None
        self._open: list[int] = []
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._on_turn)

    def start(self, document: Document, words: str, page: int) -> None:
        """Search for words, from a page to the end and on from the first."""
        self.stop()
        self.words, self._document = words, document
        everything = list(range(1, document.pages + 1))
        self._open = everything[page - 1 :] + everything[: page - 1]
        self._timer.start()

    def stop(self) -> None:
        """Leave off and forget what was found."""
        self._timer.stop()
        self.words, self.counts = "", {}
        self._document, self._open = None, []

    @property
    def goes_on(self) -> bool:
        """Whether pages are still to be searched."""
        return bool(self._open)

    @property
    def total(self) -> int:
        """How many places are found so far."""
        return sum(self.counts.values())

    def _on_turn(self) -> None:
        """One page for each turn of the event loop."""
        if self._document is None or not self._open:
            self._timer.stop()
            return
        page = self._open.pop(0)
        try:
            self.counts[page] = len(self._document.find(page, self.words))
        except NotShown:
            self.counts[page] = 0
        if not self._open:
            self._timer.stop()
        self.went_on.emit()

    def place(self, page: int, at: int) -> int:
        """Which of all places found the one `at` (from 0) on a page is, from 1."""
        before = sum(count for number, count in self.counts.items() if number < page)
        return before + at + 1

    def step(self, page: int, at: int, step: int) -> tuple[int, int] | None:
        """The next place (page, index) after or before one, round and round; None if none is.

        `at` -1 stands before the first place of its page.
        """
        if 0 <= at + step < self.counts.get(page, 0):
            return page, at + step
        pages = sorted(number for number, count in self.counts.items() if count)
        if not pages:
            return None
        if step > 0:
            following = next((number for number in pages if number > page), pages[0])
            return following, 0
        before = next((number for number in reversed(pages) if number < page), pages[-1])
        return before, self.counts[before] - 1
