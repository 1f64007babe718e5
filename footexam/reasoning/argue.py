"""Hypotheses: which are open on which side, with what speaks for and against, and how much."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from footexam.catalogue.arguments import Hypothesis, Row
from footexam.reasoning.evidence import CAP, decibans, grouped, weakened, whole
from footexam.reasoning.truth import Rule, Truth
from footexam.reasoning.view import View
from footexam.terms import Side

COMPLAINT = "complaint-site"


@dataclass(frozen=True, slots=True)
class RowRule:
    """A row with its compiled condition, and the points it weighs where it is surely true."""

    row: Row
    rule: Rule
    full: float

    def about_complaint(self) -> bool:
        """Whether the row looks at where it hurts, which the other side need not share."""
        return COMPLAINT in self.rule.measures


@dataclass(frozen=True, slots=True)
class Thought:
    """A compiled hypothesis."""

    hypothesis: Hypothesis
    require: tuple[RowRule, ...]
    support: tuple[RowRule, ...]
    against: tuple[RowRule, ...]
    sided: bool
    places: frozenset[str] = frozenset()
    """The groups of places where its conditions are felt."""

    @property
    def rows(self) -> tuple[RowRule, ...]:
        """All rows in the order of the file."""
        return (*self.require, *self.support, *self.against)


@dataclass(frozen=True, slots=True)
class Weighed:
    """A row that counts.

    `points` is its own weight, unrounded and positive; `full` what it would weigh were its reading
    sure. `because` are the recorded measures it rests on.
    """

    row: Row
    because: tuple[str, ...]
    points: float
    full: float


@dataclass(frozen=True, slots=True)
class SetAside:
    """A row that a defeater has struck, with the reason."""

    row: Row
    because: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class Argument:
    """An open hypothesis on a side; `points` is unrounded, for less against.

    `both_sides`: the painless side shows the same variant. `not_examined` are measures whose rows
    could still speak. `concerns`: one of its conditions is felt where it hurts; true as well where
    no place of complaint is known.
    """

    hypothesis: Hypothesis
    side: Side | None
    points: float
    speaks_for: tuple[Weighed, ...]
    speaks_against: tuple[Weighed, ...]
    set_aside: tuple[SetAside, ...]
    not_examined: tuple[str, ...]
    both_sides: bool = False
    concerns: bool = True

    @property
    def id(self) -> str:
        """The id of the hypothesis."""
        return self.hypothesis.id

    @property
    def shown(self) -> int:
        """The points as they are shown."""
        return whole(self.points)


@dataclass(frozen=True, slots=True)
class Strike:
    """Why readings of measures do not count on a side."""

    measures: frozenset[str]
    reason: str


@dataclass(frozen=True, slots=True)
class Nearly:
    """A hypothesis that lacks only answers: nothing of it is false, `missing` is not recorded."""

    thought: Thought
    side: Side | None
    missing: tuple[str, ...]


def complaint_sides(views: Mapping[Side | None, View]) -> tuple[Side, ...]:
    """The sides on which a place of complaint is marked."""
    found = []
    for side in Side:
        marks = views[side].marks(COMPLAINT)
        if marks is not None and (marks.marked is None or marks.marked):
            found.append(side)
    return tuple(found)


def sides_of(thought: Thought, complaint: tuple[Side, ...]) -> tuple[Side | None, ...]:
    """Where a hypothesis may open: where it hurts, else on any side; without sides, once."""
    if complaint:
        return complaint
    return tuple(Side) if thought.sided else (None,)


def required(thought: Thought, view: View) -> tuple[Truth, ...] | None:
    """Whether each thing that it requires is so; None as soon as one is not."""
    truths = []
    for one in thought.require:
        truth = one.rule.holds(view)
        if truth is False:
            return None
        truths.append(truth)
    return tuple(truths)


def nearly(
    thought: Thought, side: Side | None, view: View, truths: tuple[Truth, ...]
) -> Nearly | None:
    """What it lacks, where nothing it requires is false and something true is there already."""
    missing = dict.fromkeys(
        name
        for one, truth in zip(thought.require, truths, strict=True)
        if truth is None
        for name in one.rule.measures
        if not view.is_recorded(name)
    )
    return Nearly(thought, side, tuple(missing)) if True in truths and missing else None


def argue(
    thought: Thought,
    side: Side | None,
    view: View,
    strikes: Iterable[Strike],
    other: View | None,
    *,
    concerns: bool = True,
) -> Argument:
    """The argument of an open hypothesis; `other` is the painless side if there is one."""
    struck = tuple(strikes)
    bare = view.without(frozenset())
    speaks_for = tuple(_weighed((*thought.require, *thought.support), view))
    speaks_against = tuple(_weighed(thought.against, view))
    return Argument(
        hypothesis=thought.hypothesis,
        side=side,
        points=summed(speaks_for) - summed(speaks_against),
        speaks_for=speaks_for,
        speaks_against=speaks_against,
        set_aside=tuple(_set_aside(thought.rows, view, bare, struck)),
        not_examined=_not_examined(thought.rows, bare),
        both_sides=thought.hypothesis.stable and other is not None and _shares(thought, other),
        concerns=concerns,
    )


def full_points(row: Row) -> float:
    """What a row weighs where its reading is sure, in decibans."""
    if row.ratio is not None:
        return abs(decibans(float(row.ratio)))
    return min(CAP, float(row.points or 0))


def _weighed(rows: Iterable[RowRule], view: View) -> Iterator[Weighed]:
    """A published ratio belongs to the reading as it is; an expert weight to what is truly so."""
    for one in rows:
        if one.rule.holds(view):
            points = one.full
            if one.row.ratio is None:
                points = weakened(points, one.rule.odds(view))
            yield Weighed(one.row, _because(one.rule, view), points, one.full)


def _because(rule: Rule, view: View) -> tuple[str, ...]:
    """The measures of the parts that hold."""
    names = dict.fromkeys(name for atom in rule.atoms if atom.holds(view) for name in atom.measures)
    return tuple(f"measure:{name}" for name in names)


def summed(rows: Iterable[Weighed]) -> float:
    """The points of all rows, with those that see one thing taken together."""
    by_group: dict[str, list[float]] = {}
    for place, one in enumerate(rows):
        by_group.setdefault(one.row.group or f"{place}", []).append(one.points)
    return sum(grouped(points) for points in by_group.values())


def _set_aside(
    rows: Iterable[RowRule], view: View, bare: View, strikes: tuple[Strike, ...]
) -> Iterator[SetAside]:
    if not strikes:
        return
    for one in rows:
        if one.rule.holds(bare) and not one.rule.holds(view):
            reasons = [s.reason for s in strikes if not s.measures.isdisjoint(one.rule.measures)]
            yield SetAside(one.row, _because(one.rule, bare), "; ".join(dict.fromkeys(reasons)))


def _not_examined(rows: Iterable[RowRule], view: View) -> tuple[str, ...]:
    """Measures that are not recorded and whose rows are undecided for want of them."""
    return tuple(
        dict.fromkeys(
            name
            for one in rows
            if one.rule.holds(view) is None
            for name in one.rule.measures
            if not view.is_recorded(name)
        )
    )


def _shares(thought: Thought, other: View) -> bool:
    """Whether the other side has what the hypothesis requires, the complaint aside."""
    asked = [one for one in thought.require if not one.about_complaint()]
    return bool(asked) and all(one.rule.holds(other) for one in asked)
