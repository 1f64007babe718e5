"""The cohort page behind marking: opened from the list of students, and left for it again."""

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from footexam.desktop.cohort.page import CohortPage

if TYPE_CHECKING:
    from footexam.desktop.marking.walk import Marking
    from footexam.desktop.walk import Walk


class CohortDesk(QObject):
    """Shows the term that is being marked as a cohort."""

    def __init__(self, walk: "Walk", marking: "Marking") -> None:
        super().__init__(marking)
        self._walk = walk
        self._marking = marking
        marking.cohort_wanted.connect(self._on_wanted)

    @cached_property
    def page(self) -> CohortPage:
        """The page, made at first need."""
        page = CohortPage(self._walk.theme, self._walk.stack)
        page.told.connect(self._walk.told)
        page.escaped.connect(self._marking.go_on)
        self._walk.stack.addWidget(page)
        return page

    def pages(self) -> tuple[CohortPage, ...]:
        """The page, if there is one."""
        return (self.page,) if "page" in self.__dict__ else ()

    def drop_pages(self) -> None:
        """Forget the page: it is made anew in other colours or another size."""
        self.__dict__.pop("page", None)

    def shown(self) -> CohortPage | None:
        """The page, if it is what the stack shows."""
        pages = self.pages()
        return self.page if pages and self._walk.stack.currentWidget() is self.page else None

    def go_on(self, old: CohortPage) -> None:
        """Show on a page made anew what the old one showed."""
        self.page.paper_size = old.paper_size
        self.page.take_over(old)
        self._walk.show_page(self.page)

    def _on_wanted(self, _term: object) -> None:
        """Everything that is written down so far, read by the child of the page."""
        marking = self._marking
        if not marking.keep():
            return
        self._walk.show_page(self.page)
        self.page.paper_size = self._walk.preferences.paper
        self.page.show_term(marking.folder, marking.rubric, self._walk.desk.folder)
