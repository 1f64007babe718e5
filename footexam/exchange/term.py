"""The folder of a term: students' examinations, references and marks; read, compared, told."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from footexam.assessment import assess
from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import Catalogue
from footexam.exchange import angoff, files
from footexam.exchange.examination import BadInput, read_examination
from footexam.exchange.marks import FORMAT, read_marks
from footexam.exchange.marks_files import NamedMarks
from footexam.exchange.problem import InputProblem
from footexam.marking.cohort import Cohort, gather
from footexam.marking.compare import compare
from footexam.marking.compared import Comparison
from footexam.marking.judges import Judging, judged_mark
from footexam.marking.matching import Left, Named, Pair, match
from footexam.marking.pairing import examined_key
from footexam.marking.passmark import PassMark, pass_mark
from footexam.marking.rubric import Marks
from footexam.marking.standing import counting, standings
from footexam.messages import sentence
from footexam.record.examination import Examination

Tick = Callable[[int, int], None]
"""Told how many of how many are done; it may raise to stop the work."""
_NOT_COMPARED = "the other files are compared"


@dataclass(frozen=True, slots=True)
class Term:
    """What a folder holds. `problems`: a line for each file that is left out, and why.

    `left` are the examinations without a pair, by the name of their file.
    """

    examinations: tuple[Named, ...]
    pairs: tuple[Pair, ...]
    marks: tuple[NamedMarks, ...]
    problems: tuple[str, ...]
    left: tuple[tuple[str, Left], ...] = ()
    judged: tuple[Judging, ...] = ()


def read_term(folder: Path, catalogue: Catalogue, tick: Tick | None = None) -> Term:
    """Every JSON file of a folder, sorted by name; other files are not looked at.

    Files that cannot be used are named in `problems`. Raises OSError where the folder cannot be
    read.
    """
    reading = TermReading(folder, catalogue)
    for done, of in reading.steps():
        if tick is not None:
            tick(done, of)
    return reading.term()


def compared(
    student: Examination, reference: Examination, catalogue: Catalogue, rubric: Rubric
) -> Comparison:
    """The comparison by the limits of a rubric."""
    limits = {limit.measure: float(limit.at) for limit in rubric.limits}
    return compare(
        student,
        assess(student, catalogue),
        reference,
        assess(reference, catalogue),
        catalogue,
        limits,
        rubric.level_limit,
    )


def cohort_of(
    pairs: Iterable[Pair], catalogue: Catalogue, rubric: Rubric, tick: Tick | None = None
) -> Cohort:
    """Every pair compared."""
    found = []
    listed = list(pairs)
    for done, one in enumerate(listed, 1):
        found.append(compared(one.student, one.reference, catalogue, rubric))
        if tick is not None:
            tick(done, len(listed))
    return gather(found)


def standards(
    marks: Iterable[NamedMarks], catalogue: Catalogue, judged: Iterable[Judging] = ()
) -> list[tuple[str, PassMark]]:
    """The pass mark of each rubric that marks or judges name, from the marks that count."""
    given = [one for _, one in marks]
    judging = {one.rubric: one for one in judged}
    by_rubric: dict[str, list[Marks]] = {one.rubric: [] for one in given}
    by_rubric |= {name: [] for name in judging if name not in by_rubric}
    for one in counting(given):
        by_rubric[one.rubric].append(one)

    def mark(name: str) -> PassMark:
        rubric, found = catalogue.rubrics[name], by_rubric[name]
        own = judging.get(name)
        return judged_mark(rubric, found, own) if own else pass_mark(rubric, found)

    return [(name, mark(name)) for name in by_rubric]


def uncounted(marks: Iterable[NamedMarks]) -> list[str]:
    """A line for each file of marks whose examination has no signed marks that count."""
    given = list(marks)
    found = standings(one for _, one in given)
    return [
        str(InputProblem(name, "", "", sentence("marks-not-counted", {})))
        for name, one in given
        if found[one.key].counts is None
    ]


class TermReading:
    """The reading of a folder, file by file: `steps` reads, `term` is what came of it."""

    def __init__(self, folder: Path, catalogue: Catalogue, others: Iterable[Named] = ()) -> None:
        """`others` are examinations from elsewhere; a file comes before one of these."""
        self.folder = folder
        self.catalogue = catalogue
        self.others = list(others)
        self.examinations: list[Named] = []
        self.marks: list[NamedMarks] = []
        self.problems: list[str] = []
        self.judged: dict[str, Judging] = {}

    def steps(self) -> Iterator[tuple[int, int]]:
        """Read one file at each step; how many of how many are done. Raises OSError."""
        entries = sorted(self.folder.iterdir())
        paths = [path for path in entries if path.suffix.lower() == ".json"]
        for done, path in enumerate(paths, 1):
            if path.is_file():
                self.read(path)
            yield done, len(paths)

    def tell(self, name: str, told: str) -> None:
        """A line about a file that is left out."""
        self.problems.append(str(InputProblem(name, "", "", told)))

    def read(self, path: Path) -> None:
        """One file: an examination, marks, or judges' estimates."""
        today = date.today()  # noqa: DTZ011 - the local day, as for every examination
        try:
            data = files.read_bytes(str(path))
            if f'"{FORMAT}"'.encode() in data[:200]:
                marks = read_marks(data, self.catalogue.rubrics, path.name)
                self.marks.append((path.name, marks))
                return
            if f'"{angoff.FORMAT}"'.encode() in data[:200]:
                self.judge(angoff.read_angoff(data, self.catalogue.rubrics, path.name), path.name)
                return
            found = read_examination(data, self.catalogue, today, path.name).examination
        except OSError as bad:
            self.tell(path.name, sentence("file-missing", {"why": files.why(bad)}, _NOT_COMPARED))
        except BadInput as bad:
            for problem in bad.problems:
                line = str(problem)
                known = line.startswith(path.name)
                self.problems.append(line if known else f"{path.name}: {line}")
        else:
            self.examinations.append((path.name, found))

    def judge(self, judging: Judging, name: str) -> None:
        """What judges estimated; the first file for a rubric is used."""
        if judging.rubric in self.judged:
            self.tell(name, sentence("angoff-second", {"what": judging.rubric}, _NOT_COMPARED))
        else:
            self.judged[judging.rubric] = judging

    def term(self) -> Term:
        """The pairs; marks of nobody and examinations without a pair are told."""
        examinations = (*self.examinations, *self.others)
        matched = match(examinations)
        for name, why in matched.left:
            self.tell(name, sentence(why, {}, _NOT_COMPARED))
        known = {examined_key(pair.student) for pair in matched.pairs}
        kept = [one for one in self.marks if one[1].key in known]
        for name, one in self.marks:
            if one.key not in known:
                self.tell(name, sentence("marks-nobody", {}, _NOT_COMPARED))
        return Term(
            examinations=examinations,
            pairs=matched.pairs,
            marks=tuple(kept),
            problems=tuple(self.problems),
            left=matched.left,
            judged=tuple(self.judged.values()),
        )
