"""What the command line does for marking: one comparison, and a folder as a cohort."""

from dataclasses import dataclass, field
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
    from footexam.marking.markers import Markers
    from footexam.marking.passmark import PassMark
    from footexam.marking.rubric import Marks
    from footexam.record.examination import Examination

TABLE = ".csv"
"""An output of this name is a table; any other is a document."""
TABLES = ".zip"
"""An output of a cohort with this name holds all its tables."""


class NotCompared(Exception):
    """Nothing could be compared; `lines` say why."""

    def __init__(self, *lines: str) -> None:
        super().__init__(*lines)
        self.lines = lines


@dataclass(slots=True)
class Marked:
    """A cohort with marks and pass marks, and a line for each file that was left out."""

    cohort: "Cohort"
    standards: "list[tuple[str, PassMark]]" = field(default_factory=list)
    problems: list[str] = field(default_factory=list)
    markers: "tuple[Markers, ...]" = ()
    marks: "tuple[Marks, ...]" = ()


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
    from footexam.marking.pairing import examined_key
    from footexam.marking.passmark import pass_mark

    if name is None:
        return Judged(rubric)
    marks = read_marks(files.read_bytes(name), catalogue.rubrics, name)
    if marks.key != examined_key(student):
        raise NotCompared(str(InputProblem(name, "", "", sentence("marks-nobody", {}))))
    own = catalogue.rubrics[marks.rubric]
    return Judged(own, marks, pass_mark(own, []).used)


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
    """The cohort report, the table of every item of every student, or all tables in a ZIP."""
    if out.lower().endswith(TABLES):
        from footexam.exchange.cohort_tables import TermTables, write_tables

        given = marked.cohort, catalogue, marked.standards, marked.markers, marked.marks
        return write_tables(TermTables(*given, anonymous=anonymous))
    if out.lower().endswith(TABLE):
        from footexam.exchange.comparison_csv import write_comparison_csv

        hide = marked.cohort if anonymous else None
        return write_comparison_csv(marked.cohort.comparisons, catalogue, hide)
    from footexam.reports.cohort import cohort_report

    return cohort_report(
        marked.cohort,
        catalogue,
        left_out=marked.problems,
        standards=marked.standards,
        markers=marked.markers,
        anonymous=anonymous,
        invented=invented,
    )


def read_cohort(folder: Path, catalogue: "Catalogue", rubric: "Rubric") -> Marked:
    """Compare every student's examination in a folder with its reference.

    Files that cannot be used are named and left out. Raises NotCompared where nothing is left, and
    OSError where the folder cannot be read.
    """
    from footexam.exchange.term import cohort_of, read_term, standards, uncounted
    from footexam.marking.markers import markers

    term = read_term(folder, catalogue)
    if not term.pairs:
        nothing = InputProblem(str(folder), "", "", sentence("cohort-nothing", {}))
        raise NotCompared(*term.problems, str(nothing))
    cohort = cohort_of(term.pairs, catalogue, rubric)
    problems = [*term.problems, *uncounted(term.marks)]
    marks = tuple(one for _, one in term.marks)
    cuts = standards(term.marks, catalogue, term.judged)
    both = markers(marks, catalogue.rubrics, {name: mark.used for name, mark in cuts})
    return Marked(cohort, cuts, problems, both, marks)
