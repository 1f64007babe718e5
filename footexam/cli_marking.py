"""What the command line does for marking: one comparison, and a folder as a cohort."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from footexam.exchange import files
from footexam.exchange.problem import InputProblem
from footexam.messages import sentence

if TYPE_CHECKING:
    from footexam.catalogue.marking import Rubric
    from footexam.catalogue.model import Catalogue
    from footexam.marking.cohort import Cohort
    from footexam.marking.compared import Comparison
    from footexam.marking.passmark import PassMark
    from footexam.marking.rubric import Marks
    from footexam.record.examination import Examination

TABLE = ".csv"
"""An output of this name is a table; any other is a document."""
_NOT_COMPARED = "the other files are compared"


class NotCompared(Exception):
    """Nothing could be compared; `lines` say why."""

    def __init__(self, *lines: str) -> None:
        super().__init__(*lines)
        self.lines = lines


@dataclass(slots=True)
class Marked:
    """A cohort with its pass marks, and a line for each file that was left out."""

    cohort: "Cohort"
    standards: "list[tuple[str, PassMark]]" = field(default_factory=list)
    problems: list[str] = field(default_factory=list)


def compared(
    student: "Examination", reference: "Examination", catalogue: "Catalogue", rubric: "Rubric"
) -> "Comparison":
    """The comparison by the limits of a rubric."""
    from footexam.assessment import assess
    from footexam.marking.compare import compare

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


def check_pair(student: "Examination", reference: "Examination", name: str) -> None:
    """Raise NotCompared where these two are no student's examination and its reference."""
    from footexam.marking.pairing import mismatch

    found = mismatch(student, reference)
    if found is not None:
        raise NotCompared(str(InputProblem(name, "", "", sentence(found, {}))))


@dataclass(frozen=True, slots=True)
class Judged:
    """The rubric, the marks by it if any were given, and the pass mark in points if known."""

    rubric: "Rubric"
    marks: "Marks | None" = None
    cut: float | None = None


def judged(
    student: "Examination", catalogue: "Catalogue", rubric: "Rubric", name: str | None
) -> Judged:
    """The marks of a file, which bring their own rubric. Raises BadInput, NotCompared, OSError.

    The pass mark is only known where the rubric fixes it beforehand.
    """
    from footexam.exchange.marks import read_marks
    from footexam.marking.passmark import pass_mark

    if name is None:
        return Judged(rubric)
    marks = read_marks(files.read_bytes(name), catalogue.rubrics, name)
    if marked_key(marks) != examined_key(student):
        raise NotCompared(str(InputProblem(name, "", "", sentence("marks-nobody", {}))))
    own = catalogue.rubrics[marks.rubric]
    return Judged(own, marks, pass_mark(own, []).used)


def marked_key(marks: "Marks") -> tuple[tuple[str, ...], str, str]:
    """Which examination marks belong to: patient, day and examiner."""
    return marks.patient, marks.examined_on, marks.student.strip().casefold()


def examined_key(examination: "Examination") -> tuple[tuple[str, ...], str, str]:
    """The same of an examination."""
    from footexam.marking.pairing import identity

    day, name = examination.examined_on.isoformat(), examination.examiner.name
    return identity(examination.patient), day, name.strip().casefold()


def comparison_output(
    comparison: "Comparison", catalogue: "Catalogue", judged: Judged, out: str, *, invented: bool
) -> bytes:
    """The feedback document, or the table where the name of the output asks for it."""
    if out.lower().endswith(TABLE):
        from footexam.exchange.comparison_csv import write_comparison_csv

        return write_comparison_csv([comparison], catalogue)
    from footexam.reports.feedback import feedback

    return feedback(
        comparison,
        catalogue,
        rubric=judged.rubric,
        marks=judged.marks,
        cut=judged.cut,
        invented=invented,
    )


def cohort_output(
    marked: Marked, catalogue: "Catalogue", out: str, *, anonymous: bool, invented: bool
) -> bytes:
    """The cohort report, or the table of every item of every student."""
    if out.lower().endswith(TABLE):
        from footexam.exchange.comparison_csv import write_comparison_csv
        from footexam.marking.cohort import codes

        names = codes(marked.cohort) if anonymous else None
        return write_comparison_csv(marked.cohort.comparisons, catalogue, names)
    from footexam.reports.cohort import cohort_report

    return cohort_report(
        marked.cohort,
        catalogue,
        left_out=marked.problems,
        standards=marked.standards,
        anonymous=anonymous,
        invented=invented,
    )


def read_cohort(folder: Path, catalogue: "Catalogue", rubric: "Rubric") -> Marked:
    """Compare every student's examination in a folder with its reference.

    Files that cannot be used are named and left out. Raises NotCompared where nothing is left, and
    OSError where the folder cannot be read.
    """
    from footexam.marking.cohort import gather
    from footexam.marking.matching import match

    seen = _Folder(folder, catalogue)
    seen.read()
    matched = match(seen.examinations)
    for name, why in matched.left:
        seen.tell(name, sentence(why, {}, _NOT_COMPARED))
    if not matched.pairs:
        nothing = InputProblem(str(folder), "", "", sentence("cohort-nothing", {}))
        raise NotCompared(*seen.problems, str(nothing))
    pairs = [compared(one.student, one.reference, catalogue, rubric) for one in matched.pairs]
    cohort = gather(pairs)
    return Marked(cohort, list(_standards(seen, cohort, catalogue)), seen.problems)


class _Folder:
    """What the files of a folder hold."""

    def __init__(self, folder: Path, catalogue: "Catalogue") -> None:
        self.folder = folder
        self.catalogue = catalogue
        self.examinations: list[tuple[str, Examination]] = []
        self.marks: list[tuple[str, Marks]] = []
        self.problems: list[str] = []

    def tell(self, name: str, told: str) -> None:
        """A line about a file that is left out."""
        self.problems.append(str(InputProblem(name, "", "", told)))

    def read(self) -> None:
        """Every JSON file, sorted by name; other files are not looked at."""
        for path in sorted(self.folder.iterdir()):
            if path.suffix.lower() == ".json" and path.is_file():
                self._one(path)

    def _one(self, path: Path) -> None:
        from footexam.exchange.examination import BadInput, read_examination
        from footexam.exchange.marks import FORMAT, read_marks

        today = date.today()  # noqa: DTZ011 - the local day, as for every examination
        try:
            data = files.read_bytes(str(path))
            if f'"{FORMAT}"'.encode() in data[:200]:
                marks = read_marks(data, self.catalogue.rubrics, path.name)
                self.marks.append((path.name, marks))
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


def _standards(
    seen: _Folder, cohort: "Cohort", catalogue: "Catalogue"
) -> "Iterator[tuple[str, PassMark]]":
    """The pass mark of each rubric that marks in the folder name; marks of nobody are told."""
    from footexam.marking.passmark import pass_mark

    known = {examined_key(one.student) for one in cohort.comparisons}
    by_rubric: dict[str, list[Marks]] = {}
    for name, marks in seen.marks:
        if marked_key(marks) in known:
            by_rubric.setdefault(marks.rubric, []).append(marks)
        else:
            seen.tell(name, sentence("marks-nobody", {}, _NOT_COMPARED))
    for rubric, found in by_rubric.items():
        yield rubric, pass_mark(catalogue.rubrics[rubric], found)
