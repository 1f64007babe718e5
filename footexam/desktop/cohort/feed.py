"""The child process of the cohort page: reads and compares the files of a term, tells line by line.

Run as `python -m footexam.desktop.cohort.feed`. One JSON object on standard input says what; on
standard output each line is a JSON object: how far the work is, whom it is about, measures with
their readings, examiners, pass marks, plots, and the end. A failure is one sentence on standard
error and status 1. Writes no file and imports no Qt.
"""

import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from footexam.desktop.preview.child import BROKEN

Tell = Callable[[Mapping[str, Any]], None]


@dataclass(frozen=True, slots=True)
class TermWanted:
    """Which term: the folder of its files, a store ("" for none), the rubric of stated limits."""

    folder: str
    rubric: str = ""
    store: str = ""

    def text(self) -> bytes:
        """What the child reads."""
        return json.dumps(asdict(self)).encode()


class Steps:
    """Tells how far a part of the work is, at most a hundred times."""

    def __init__(self, what: str, tell: Tell) -> None:
        self._what, self._tell = what, tell
        self._last = -1

    def __call__(self, done: int, of: int) -> None:
        share = 100 * done // of if of else 100
        if share != self._last:
            self._last = share
            self._tell({"kind": "step", "what": self._what, "done": done, "of": of})


def feed(wanted: TermWanted, tell: Tell) -> None:
    """Tell everything about a term. Raises BadForms, KnownError, and OSError for the folder."""
    from footexam.catalogue.load import load_catalogue
    from footexam.desktop.cohort.term import whole_term
    from footexam.settings import cache_dir

    tell({"kind": "step", "what": "read", "done": 0, "of": 1})
    catalogue = load_catalogue(cache_dir=cache_dir())
    found = whole_term(
        wanted.folder, wanted.store, wanted.rubric, catalogue, lambda what: Steps(what, tell)
    )
    tell({"kind": "step", "what": "count", "done": 0, "of": 1})

    from footexam.desktop.cohort.lines import Lines

    lines = Lines(found.term, found.cohort, found.standards, catalogue)
    tell(lines.head())
    for part in (lines.examiner_lines(), lines.standard_lines(), lines.measures()):
        for line in part:
            tell(line)
    tell({"kind": "tables"})
    if found.cohort.comparisons:
        steps, count = Steps("plot", tell), lines.plot_count
        for done, line in enumerate(lines.plot_lines(), 1):
            tell(line)
            steps(done, count)
    tell({"kind": "end"})


def _tell(line: Mapping[str, Any]) -> None:
    sys.stdout.buffer.write(json.dumps(line, ensure_ascii=False).encode() + b"\n")
    sys.stdout.buffer.flush()


def main() -> int:
    """Do what standard input asks for; the status to exit with."""
    from footexam.catalogue.mistakes import BadForms
    from footexam.exchange import files
    from footexam.messages import sentence
    from footexam.store.errors import KnownError

    asked = sys.stdin.buffer.read()
    if not asked:
        return 0  # who started it has gone
    try:
        feed(TermWanted(**json.loads(asked)), _tell)
    except BrokenPipeError:
        return 0
    except OSError as bad:
        told = sentence("file-missing", {"why": files.why(bad)}, "nothing was changed")
        sys.stderr.write(f"{told}\n")
        return 1
    except (BadForms, KnownError) as bad:
        sys.stderr.write(f"{bad}\n")
        return 1
    except Exception as bad:  # noqa: BLE001 - the boundary of the child: one sentence, no traceback
        sys.stderr.write(f"{BROKEN} ({type(bad).__name__})\n")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
