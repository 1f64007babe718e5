"""Reads and compares a whole term for the cohort page and its documents: files and store. No Qt."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import Catalogue
from footexam.desktop.marking.term import Student
from footexam.desktop.marking.words import WORDS
from footexam.exchange.term import Term, TermReading, cohort_of, standards, uncounted
from footexam.marking.cohort import Cohort
from footexam.marking.markers import Markers, markers
from footexam.marking.matching import Named, Pair
from footexam.marking.passmark import PassMark
from footexam.marking.rubric import Marks
from footexam.store.layout import STORED
from footexam.terms import Purpose

Steps = Callable[[str], Callable[[int, int], None]]
"""For a part of the work (read, compare): what is told how many of how many are done."""


@dataclass(frozen=True, slots=True)
class WholeTerm:
    """A term with everything compared; the lines in `term.problems` say what is not."""

    term: Term
    cohort: Cohort
    standards: list[tuple[str, PassMark]]
    rubric: Rubric
    markers: Sequence[Markers] = ()

    @property
    def marks(self) -> tuple[Marks, ...]:
        """All marks that were read."""
        return tuple(one for _, one in self.term.marks)


def whole_term(
    folder: str, store: str, rubric: str, catalogue: Catalogue, steps: Steps = lambda _: _nothing
) -> WholeTerm:
    """The files of a folder with the examinations for marking in a store ("" for none).

    Compared by the stated limits of a rubric ("" for the first one). A pair of which one is not
    signed yet is left out: its reference may not be seen beside it. Beside a store the folder need
    not be there. Raises OSError for the folder and KnownError for the store.
    """
    place = Path(folder)
    reading = TermReading(place, catalogue, _stored(store) if store else ())
    if not store or place.is_dir():
        tell = steps("read")
        for done, of in reading.steps():
            tell(done, of)
    term = _open(reading.term())
    chosen = catalogue.rubrics.get(rubric) or next(iter(catalogue.rubrics.values()))
    cohort = cohort_of(term.pairs, catalogue, chosen, steps("compare"))
    term = replace(term, problems=(*term.problems, *uncounted(term.marks)))
    cuts = standards(term.marks, catalogue, term.judged)
    given = tuple(one for _, one in term.marks)
    both = markers(given, catalogue.rubrics, {name: mark.used for name, mark in cuts})
    return WholeTerm(term, cohort, cuts, chosen, both)


def _nothing(_done: int, _of: int) -> None:
    """Nobody is told."""


def _stored(store: str) -> Iterator[Named]:
    """The students' and reference examinations of a store that are not struck through."""
    from footexam.store import Store

    with Store.read(Path(store)) as opened:
        for subject in opened.of_purposes((Purpose.STUDENT, Purpose.REFERENCE)):
            yield STORED + subject.partition(":")[2], opened.examination(subject)


def _open(term: Term) -> Term:
    """The term without the pairs that are closed, which are told."""
    closed = {pair.student_name: why for pair in term.pairs if (why := _why_closed(pair))}
    told = tuple(f"{name}: {WORDS[f'closed-{why}']}" for name, why in closed.items())
    pairs = tuple(pair for pair in term.pairs if pair.student_name not in closed)
    return replace(term, pairs=pairs, problems=(*term.problems, *told))


def _why_closed(pair: Pair) -> str:
    return Student(pair.student_name, pair.student, pair.reference_name, pair.reference).closed
