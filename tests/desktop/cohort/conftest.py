"""A term on disk, the lines that its child tells, and cohort pages on the screen."""

import json
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from footexam.desktop.cohort.feed import TermWanted, feed
from footexam.desktop.cohort.page import CohortPage
from footexam.desktop.cohort.reader import CohortReader
from footexam.desktop.theme import LIGHT, Theme, apply
from tests.desktop.user import settle
from tests.marking.build import CATALOGUE
from tests.marking.term import marks, term

Line = Mapping[str, Any]
STUDENTS = 6
RUBRIC = CATALOGUE.rubrics["whole-examination"]
GRADES = ("fail", "borderline", "pass", "good", "excellent")


def write_term(folder: Path, students: int = STUDENTS) -> Path:
    """Examinations of three volunteers, signed marks of each student, and a broken file."""
    domains = [domain.id for domain in RUBRIC.domains]
    for name, tree in term(students):
        (folder / name).write_text(json.dumps(tree))
    for student in range(1, students + 1):
        mark = student % 5
        tree = marks(student, 1, mark, GRADES[mark], domains)
        tree["signed_at"] = "2026-03-05T10:00:00Z"
        tree["domains"][domains[0]] = min(4, mark + student % 2)
        (folder / f"marks-{student:02}.json").write_text(json.dumps(tree))
    (folder / "secret-name.json").write_text("{")
    return folder


@pytest.fixture(scope="session")
def term_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_term(tmp_path_factory.mktemp("term"))


@pytest.fixture(scope="session")
def lines(term_folder: Path) -> list[Line]:
    """What the child tells of the term."""
    told: list[Line] = []
    feed(TermWanted(str(term_folder)), lambda line: told.append(json.loads(json.dumps(line))))
    return told


class Still(CohortReader):
    """A reader without a child: a test hands it the lines."""

    def __init__(self) -> None:
        super().__init__()
        self.reading = False

    @property
    def runs(self) -> bool:
        return self.reading

    def read(self, _wanted: TermWanted) -> None:
        self.reading = True

    def stop(self) -> bool:
        ran, self.reading = self.reading, False
        return ran

    def gives(self, lines: list[Line]) -> None:
        for line in lines:
            self.came.emit(line)
            self.reading = line["kind"] != "end"


MakePage = Callable[..., CohortPage]


@pytest.fixture
def make_page(qapp: QApplication) -> Iterator[MakePage]:
    """Makes cohort pages; closed, freed and nothing left at the end."""
    made: list[CohortPage] = []

    def make(
        reader: CohortReader | None = None,
        theme: Theme = LIGHT,
        zoom: float = 1.0,
        size: tuple[int, int] = (1366, 820),
    ) -> CohortPage:
        apply(qapp, theme, zoom)
        page = CohortPage(theme, reader=reader or Still())
        page.resize(*size)
        page.show()
        page.activateWindow()
        QTest.qWaitForWindowExposed(page)
        made.append(page)
        return page

    yield make
    for page in made:
        page.close_term()
        page.hide()
        page.deleteLater()
    made.clear()
    settle()
    apply(qapp, LIGHT, 1.0)
    assert not [widget for widget in QApplication.topLevelWidgets() if widget.isVisible()]


@pytest.fixture
def page(make_page: MakePage, lines: list[Line], term_folder: Path) -> CohortPage:
    """A page with a whole term."""
    reader = Still()
    made = make_page(reader)
    made.show_term(term_folder)
    reader.gives(lines)
    settle()
    return made
