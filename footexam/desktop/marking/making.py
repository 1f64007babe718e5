"""Makes feedback documents without Qt: one for the preview, or all of a term as a child process.

Run as `python -m footexam.desktop.marking.making`. One JSON object on standard input says which;
each document that is written, or is not, is told as one line of JSON on standard output.
"""

import json
import sys
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.model import Catalogue
from footexam.exchange import files
from footexam.exchange.examination import BadInput, read_examination
from footexam.exchange.marks import read_marks
from footexam.exchange.term import compared
from footexam.record.examination import Examination
from footexam.reports.feedback import feedback
from footexam.settings import cache_dir
from footexam.store.errors import KnownError
from footexam.store.layout import STORED


@dataclass(frozen=True, slots=True)
class Feedback:
    """One document: the paths of two examinations (or `store:ID`), and the file of marks as text.

    `cut` is the pass mark in points, None while it is not known.
    """

    student: str
    reference: str
    marks: str
    cut: float | None = None


@dataclass(frozen=True, slots=True)
class AllFeedback:
    """Many documents by the name of their file, to be written into the folder `out`."""

    store: str
    out: str
    wanted: Mapping[str, Feedback]
    invented: bool = False
    page: str = "A4"

    def text(self) -> bytes:
        """What the child reads."""
        return json.dumps(asdict(self)).encode()


class Making:
    """Makes documents of examinations in files and in a store; each is read once."""

    def __init__(
        self, catalogue: Catalogue, store: Path, *, invented: bool, page: str = "A4"
    ) -> None:
        self.catalogue = catalogue
        self._store = store
        self._invented = invented
        self._page = page
        self._read = cache(self._examination)

    def document(self, wanted: Feedback) -> bytes:
        """The feedback as PDF. Raises BadInput, KnownError, OSError."""
        marks = read_marks(wanted.marks.encode(), self.catalogue.rubrics)
        rubric = self.catalogue.rubrics[marks.rubric]
        student, reference = self._examination(wanted.student), self._read(wanted.reference)
        return feedback(
            compared(student, reference, self.catalogue, rubric),
            self.catalogue,
            rubric=rubric,
            marks=marks,
            cut=wanted.cut,
            page=self._page,
            invented=self._invented,
        )

    def _examination(self, name: str) -> Examination:
        if name.startswith(STORED):
            from footexam.store import Store

            with Store.read(self._store) as store:
                return store.examination(name.removeprefix(STORED))
        today = date.today()  # noqa: DTZ011 - the local day, as for every examination
        data = files.read_bytes(name)
        return read_examination(data, self.catalogue, today, Path(name).name).examination


def write_all(asked: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """Write every document; a line for each: its name, and why it is not written, else ""."""
    making = Making(
        load_catalogue(cache_dir=cache_dir()),
        Path(asked["store"]),
        invented=asked["invented"],
        page=asked["page"],
    )
    out = Path(asked["out"])
    for name, wanted in asked["wanted"].items():
        why = ""
        try:
            files.write_whole(out / name, making.document(Feedback(**wanted)))
        except OSError as bad:
            why = files.why(bad)
        except (BadInput, KnownError) as bad:
            why = str(bad)
        yield {"name": name, "why": why}


def main() -> int:
    """Write what standard input asks for."""
    for line in write_all(json.loads(sys.stdin.buffer.read())):
        sys.stdout.write(f"{json.dumps(line)}\n")
        sys.stdout.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
