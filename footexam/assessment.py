"""assess(): the one pure function from an examination to everything that screen and paper show."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from footexam.catalogue.model import Catalogue
from footexam.record.doubts import doubt, doubt_of
from footexam.record.examination import Age, Examination
from footexam.record.reading import Reading, Sites, Word
from footexam.record.refusal import in_digits
from footexam.scoring.bench import bench
from footexam.scoring.changes import compare
from footexam.scoring.differences import differ
from footexam.scoring.findings import find
from footexam.scoring.measured import measured
from footexam.scoring.results import Change, Difference, Finding, Problem, Score
from footexam.scoring.scores import score
from footexam.terms import Kind, ProblemKind, Side

CAUTION_PANEL = "cautions"
_ANSWERED = frozenset({Kind.YES_NO, Kind.YES_SITES})


@dataclass(frozen=True, slots=True)
class Caution:
    """A danger sign answered yes. Until cautions are reasoned about, id and tier are None."""

    id: str | None
    branch: str | None
    side: Side | None
    tier: str | None
    because: tuple[str, ...]
    action: str | None = None
    source: str | None = None
    decision: str | None = None


@dataclass(frozen=True, slots=True)
class Assessment:
    """What one examination amounts to; a value, never stored as truth."""

    age: Age | None
    scores: tuple[Score, ...]
    findings: tuple[Finding, ...]
    differences: tuple[Difference, ...]
    changes: tuple[Change, ...]
    cautions: tuple[Caution, ...]
    problems: tuple[Problem, ...]


def assess(
    examination: Examination, catalogue: Catalogue, before: Examination | None = None
) -> Assessment:
    """Judge an examination by the catalogue; `before` is an earlier one of the same patient."""
    scores, incomplete = score(examination, catalogue)
    desk = bench(catalogue)
    visit = desk.visit(examination)
    numbers = measured(desk, visit, scores)
    changes: list[Change] = []
    differs: list[Problem] = []
    if before is not None:
        earlier, _ = score(before, catalogue)
        changes = compare(before, earlier, examination, scores, catalogue)
        differs = list(_method_differs(before, examination, catalogue))
    problems = [*_warnings(examination, catalogue), *incomplete, *differs]
    problems += _score_warnings(scores, examination.age(), catalogue)
    return Assessment(
        age=examination.age(),
        scores=tuple(scores),
        findings=tuple(find(desk, visit, numbers, scores)),
        differences=tuple(differ(desk, visit, numbers)),
        changes=tuple(changes),
        cautions=tuple(_cautions(examination, catalogue)),
        problems=tuple(sorted(problems, key=lambda problem: _place(problem, catalogue))),
    )


_SIDES = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}


def _place(problem: Problem, catalogue: Catalogue) -> tuple[int, int]:
    last = len(catalogue.order)
    return catalogue.order.get(problem.measure, last), _SIDES[problem.side]


def is_caution(measure: str, catalogue: Catalogue) -> bool:
    """Whether a measure is one of the caution questions, answered by yes or no."""
    found = catalogue.measures.get(measure)
    return found is not None and found.panel == CAUTION_PANEL and found.kind in _ANSWERED


def said_yes(reading: Reading) -> bool:
    """Whether the answer to a yes-or-no question is yes."""
    return isinstance(reading.value, Word | Sites) and reading.value.word == "yes"


def _cautions(examination: Examination, catalogue: Catalogue) -> Iterator[Caution]:
    """Every yes on a caution question, in forms order."""
    open_ones = [
        reading
        for reading in examination.readings.values()
        if is_caution(reading.measure, catalogue) and said_yes(reading)
    ]
    for reading in sorted(open_ones, key=lambda r: (catalogue.order[r.measure], _SIDES[r.side])):
        yield Caution(None, None, reading.side, None, (f"measure:{reading.measure}",))


def _warnings(examination: Examination, catalogue: Catalogue) -> Iterator[Problem]:
    age = examination.age()
    for reading in examination.readings.values():
        measure = catalogue.measures.get(reading.measure)
        if measure is None:
            why = "this measure has left the catalogue; its reading is kept and shown, not judged."
            yield Problem(reading.measure, reading.side, reading.typed, ProblemKind.RETIRED, why)
            continue
        odd = doubt(reading, measure, age)
        if odd:
            yield Problem(measure.id, reading.side, reading.typed, ProblemKind.WARN, odd)


def _score_warnings(
    scores: list[Score], age: Age | None, catalogue: Catalogue
) -> Iterator[Problem]:
    """Derived numbers beyond their warn limits: one of their readings may be a slip."""
    for one in scores:
        if isinstance(one.value, Decimal):
            odd = doubt_of((one.value,), catalogue.measures[one.measure], age)
            if odd:
                shown = in_digits(one.value)
                yield Problem(one.measure, one.side, shown, ProblemKind.WARN, odd)


def _method_differs(
    before: Examination, now: Examination, catalogue: Catalogue
) -> Iterator[Problem]:
    """Readings whose method is not the one of the earlier visit: their change says little."""
    for key, reading in now.readings.items():
        earlier = before.readings.get(key)
        if earlier is None or reading.absent or earlier.absent:
            continue
        if reading.method != earlier.method and reading.measure in catalogue.measures:
            was, is_now = earlier.method or "not stated", reading.method or "not stated"
            why = f"the method was {was} and is now {is_now}; part of a change may be the method's."
            yield Problem(key[0], key[1], reading.typed, ProblemKind.METHOD_DIFFERS, why)
