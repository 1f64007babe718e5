"""assess(): the one pure function from an examination to everything that screen and paper show."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from footexam.catalogue.arguments import Hold
from footexam.catalogue.model import Catalogue
from footexam.reasoning.dangers import CAUTION_PANEL, Caution, is_caution
from footexam.reasoning.engine import NOTHING, Reasons, engine
from footexam.reasoning.view import Seen
from footexam.record.doubts import doubt, doubt_of
from footexam.record.examination import Age, Examination
from footexam.record.refusal import in_digits
from footexam.record.withdrawn import said_yes
from footexam.scoring.bench import bench
from footexam.scoring.changes import compare
from footexam.scoring.differences import differ
from footexam.scoring.findings import find
from footexam.scoring.measured import measured
from footexam.scoring.results import Change, Difference, Finding, Problem, Score
from footexam.scoring.scores import score
from footexam.terms import ProblemKind, Side


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
    reasons: Reasons = NOTHING

    @property
    def held_by(self) -> tuple[Caution, ...]:
        """The cautions that hold back loading or a device until somebody has seen to them."""
        held = {Hold.LOADING, Hold.DEVICE}
        return tuple(one for one in self.cautions if one.is_open and not held.isdisjoint(one.holds))


def assess(
    examination: Examination,
    catalogue: Catalogue,
    before: Examination | None = None,
    *,
    suggest: bool = False,
) -> Assessment:
    """Judge an examination by the catalogue; `before` is an earlier one of the same patient.

    With `suggest` aims and features are proposed for the leading hypotheses.
    """
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
    findings = find(desk, visit, numbers, scores)
    seen = Seen(examination, scores, findings, numbers)
    reasons = engine(catalogue).reason(seen, examination.decisions, suggest=suggest)
    problems = [*_warnings(examination, catalogue), *incomplete, *differs]
    problems += _score_warnings(scores, examination.age(), catalogue)
    problems += _contradictions(reasons, examination)
    return Assessment(
        age=examination.age(),
        scores=tuple(scores),
        findings=tuple(findings),
        differences=tuple(differ(desk, visit, numbers)),
        changes=tuple(changes),
        cautions=reasons.cautions,
        problems=tuple(sorted(problems, key=lambda problem: _place(problem, catalogue))),
        reasons=reasons,
    )


def assess_after(
    known: tuple[Examination, Assessment],
    examination: Examination,
    catalogue: Catalogue,
    before: Examination | None = None,
) -> Assessment:
    """The same as `assess`, by what is known of an earlier state of the examination.

    Where only hypotheses, aims or features were chosen since, all but the plan stands.
    """
    earlier, found = known
    if _same_but_for_choices(earlier, examination):
        reasons = engine(catalogue).choose(found.reasons, examination.decisions)
        return replace(found, reasons=reasons)
    return assess(examination, catalogue, before)


def _same_but_for_choices(one: Examination, other: Examination) -> bool:
    """Whether two examinations differ in nothing that is judged or raises a caution."""
    if one.decisions.get("cautions") != other.decisions.get("cautions"):
        return False
    version, head = other.version, other.head
    return replace(one, decisions=other.decisions, version=version, head=head) == other


__all__ = [
    "CAUTION_PANEL",
    "Assessment",
    "Caution",
    "assess",
    "assess_after",
    "is_caution",
    "said_yes",
]

_SIDES = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}


def _place(problem: Problem, catalogue: Catalogue) -> tuple[int, int]:
    last = len(catalogue.order)
    return catalogue.order.get(problem.measure, last), _SIDES[problem.side]


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


def _contradictions(reasons: Reasons, examination: Examination) -> Iterator[Problem]:
    """Answers that cannot both be so; the first of them is named with what was typed."""
    for one in reasons.contradicted:
        name = one.measures[0]
        reading = examination.reading(name, one.side) or examination.reading(name)
        typed = reading.typed if reading is not None else ""
        yield Problem(name, one.side, typed, ProblemKind.CONTRADICTION, one.why)


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
