"""Marks as files of a term's folder: one for each examination and hand; signed ones stay."""

import hashlib
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from footexam.catalogue.marking import Rubric
from footexam.exchange import files
from footexam.exchange.examination import BadInput
from footexam.exchange.marks import read_marks, write_marks
from footexam.marking.pairing import ExaminedKey
from footexam.marking.rubric import Marks

NamedMarks = tuple[str, Marks]
"""The name of a file and the marks that it holds."""
_LONGEST = 40
"""Letters of a student's name in the name of a file."""


class MarksChanged(Exception):
    """The file on the disk is not the one that was read: somebody else wrote it meanwhile."""


class MarksFiles:
    """The files of marks in a folder, as they were read, and what is written since.

    A draft has one file, which its signature closes. What is marked after that gets a file of its
    own, so nothing that was signed is ever written over.
    """

    def __init__(
        self,
        folder: Path,
        rubrics: Mapping[str, Rubric],
        found: Iterable[NamedMarks],
        make_folder: Callable[[Path], None],
    ) -> None:
        self.folder = folder
        self._rubrics = rubrics
        self._marks = dict(found)
        self._make_folder = make_folder

    @property
    def all(self) -> tuple[NamedMarks, ...]:
        """Every file and what it holds."""
        return tuple(self._marks.items())

    def save(self, marks: Marks) -> str:
        """Write marks whole or not at all; the name of their file.

        Raises OSError, and MarksChanged where somebody else wrote the file meanwhile.
        """
        name = self._draft_of(marks) or self._new_name(marks)
        if not self.folder.is_dir():
            self._make_folder(self.folder)
        if not self._is_as_known(name):
            raise MarksChanged(name)
        files.write_whole(self.folder / name, write_marks(marks))
        self._marks[name] = marks
        return name

    def _draft_of(self, marks: Marks) -> str | None:
        """The file of the draft that these marks go on with."""
        wanted = marks.key, marks.hand
        for name, one in self._marks.items():
            if one.signed_at is None and (one.key, one.hand) == wanted:
                return name
        return None

    def _new_name(self, marks: Marks) -> str:
        stem = stem_of(marks.key, f"marks-{marks.student}")
        number, name = 1, f"{stem}-{marks.hand}.json"
        while name in self._marks:
            number += 1
            name = f"{stem}-{marks.hand}-{number}.json"
        return name

    def _is_as_known(self, name: str) -> bool:
        """Whether the file on the disk holds what was read or written last; a new one is none."""
        try:
            data = files.read_bytes(str(self.folder / name))
        except FileNotFoundError:
            return True
        try:
            return read_marks(data, self._rubrics, name) == self._marks.get(name)
        except BadInput:
            return False


def stem_of(key: ExaminedKey, name: str) -> str:
    """The beginning of a file's name for an examination: plain letters, its day, and a digest.

    The patient is in the digest only.
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    short = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_LONGEST].strip("-")
    digest = hashlib.sha256(repr(key).encode()).hexdigest()[:8]
    day = re.sub(r"[^0-9-]", "", key[1])
    return f"{short}-{day}-{digest}"
