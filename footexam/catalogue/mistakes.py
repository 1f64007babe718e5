"""Mistakes in forms/: each with file, line, what is wrong and what to do."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath

from footexam.catalogue.lines import Path


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a file of forms/: the file's name under forms/ and the path of the key."""

    file: str
    path: Path = ()

    def at(self, *keys: str | int) -> "Place":
        """The place of a key below this one."""
        return Place(self.file, self.path + keys)


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake; `line` counts from 1."""

    file: str
    line: int
    what: str
    todo: str

    def __str__(self) -> str:
        where = PurePosixPath("forms") / self.file
        return f"{where}:{self.line}: {self.what}; nothing was loaded; {self.todo}."


class BadForms(Exception):
    """forms/ cannot be used; `mistakes` holds every mistake found."""

    def __init__(self, mistakes: Sequence[Mistake]) -> None:
        super().__init__("\n".join(str(mistake) for mistake in mistakes))
        self.mistakes = tuple(mistakes)


class Complaint(Exception):
    """A mistake at a place whose line is not known yet."""

    def __init__(self, place: Place, what: str, todo: str) -> None:
        super().__init__(what)
        self.place = place
        self.what = what
        self.todo = todo
