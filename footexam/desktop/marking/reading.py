"""Reads a term for the window in small steps: the store's examinations, then the folder's files."""

from collections.abc import Iterator
from pathlib import Path
from threading import Thread

from footexam.catalogue.model import Catalogue
from footexam.desktop.desk import Desk
from footexam.desktop.marking.slices import Step
from footexam.desktop.marking.term import OpenTerm
from footexam.desktop.marking.words import WORDS
from footexam.exchange.marks_files import MarksFiles
from footexam.exchange.term import TermReading
from footexam.store import KnownError
from footexam.store.durable import make_private_folder
from footexam.store.layout import STORED


class WindowReading:
    """One reading of a folder and of the store; `steps` reads, `term` is what came of it.

    `may_be_missing`: the folder is the program's own and need not be there yet.
    """

    def __init__(
        self, desk: Desk, folder: Path, catalogue: Catalogue, *, may_be_missing: bool
    ) -> None:
        self._desk = desk
        self._reading = TermReading(folder, catalogue)
        self._may_be_missing = may_be_missing

    def steps(self) -> Iterator[Step]:
        """Read one examination or file at each step. Raises OSError for the folder."""
        loading = Thread(target=_load_arithmetic, daemon=True)
        loading.start()
        try:
            yield from self._stored()
        except KnownError as bad:
            self._reading.problems.append(WORDS["store-closed"].format(why=bad))
        if self._reading.folder.is_dir() or not self._may_be_missing:
            yield from self._reading.steps()
        while loading.is_alive() and self._reading.marks:
            yield None

    def _stored(self) -> Iterator[Step]:
        """The students' and reference examinations of the program's own store."""
        asked = self._desk.for_marking()
        while not asked.done():
            yield None
        subjects = asked.result()
        for done, subject in enumerate(subjects, 1):
            found = self._desk.examination(subject)
            while not found.done():
                yield None
            name = STORED + subject.partition(":")[2]
            self._reading.others.append((name, found.result()))
            yield done, len(subjects)

    def term(self) -> OpenTerm:
        """What was read."""
        term = self._reading.term()
        catalogue, folder = self._reading.catalogue, self._reading.folder
        files = MarksFiles(folder, catalogue.rubrics, term.marks, make_private_folder)
        return OpenTerm(catalogue, term, files)


def _load_arithmetic() -> None:
    """What pass marks need takes long to load; meanwhile the window goes on."""
    import scipy.stats  # noqa: F401
