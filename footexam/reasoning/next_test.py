"""The next useful test: danger first, then what a hypothesis lacks, then what tells them apart.

Order of play (reasoning.md F.1): an unasked danger question outranks everything; then missing
requirements; then tests with published likelihood ratios by information gain; then those that
separate pairs of hypotheses; each weighed by reliability and by minutes, the position the patient
is in preferred. Flat priors with a "something else" beside the open hypotheses; the chances that
follow are used to rank and are never shown.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import IntEnum

from footexam.catalogue.arguments import Accuracy
from footexam.catalogue.expression import Atom
from footexam.catalogue.model import Catalogue, Measure, say
from footexam.reasoning.argue import Argument, Nearly, RowRule, Thought
from footexam.reasoning.concerns import Concerns
from footexam.reasoning.dangers import YES, Signs, is_danger
from footexam.reasoning.gain import information_gain, pairs_split
from footexam.reasoning.truth import Rule
from footexam.reasoning.view import View
from footexam.terms import Depth, Kind, Side

_UNASKED = "a danger question that has not been asked"
SHOWN = 6
"""How many tests are named, danger questions aside."""


class Route(IntEnum):
    """Why a test comes where it does."""

    DANGER = 0
    MISSING = 1
    RATIO = 2
    SEPARATES = 3


@dataclass(frozen=True, slots=True)
class NextTest:
    """A measure to take next on a side, what it would tell apart, and why; `worth` per minute."""

    measure: str
    side: Side | None
    separates: tuple[str, ...]
    why: str
    position: str
    route: Route
    worth: float = 0.0


@dataclass(frozen=True, slots=True)
class Suggested:
    """What to test next, and what was thought of and would not change the argument."""

    tests: tuple[NextTest, ...]
    idle: tuple[str, ...]


class Chooser:
    """Chooses tests by a catalogue's measures, accuracy and weighing."""

    def __init__(
        self, catalogue: Catalogue, thoughts: Iterable[Thought], signs: Signs = ()
    ) -> None:
        self.catalogue = catalogue
        self._thoughts = {one.hypothesis.id: one for one in thoughts}
        self._expects = {name: _Expects(one) for name, one in self._thoughts.items()}
        self._accuracy = _sound_rows(catalogue)
        self._concerns = Concerns(catalogue)
        self._dangers = tuple(
            measure
            for measure in catalogue.measures.values()
            if is_danger(measure.id, catalogue) and measure.depth is Depth.CORE
        )
        self._follow = {
            measure.id: tuple(
                one
                for _, branches in signs
                for one in branches
                if measure.id in one.branch.umbrella
            )
            for measure in self._dangers
        }

    def choose(
        self,
        arguments: Iterable[Argument],
        nearly: Iterable[Nearly],
        views: Mapping[Side | None, View],
        shut: Mapping[Side | None, Mapping[str, tuple[str, ...]]],
        last: str,
    ) -> Suggested:
        """Tests in the order of their use; `last` is the measure entered last."""
        here = self.position(last) if last in self.catalogue.measures else ""
        never = self._concerns.never(views[None])
        asking = _Asking(self, views, shut, never, here)
        open_ones = tuple(one for one in arguments if one.concerns)
        found = [*self._danger(views, never), *asking.missing(nearly)]
        apart, idle = asking.apart(open_ones)
        found += apart
        found.sort(key=lambda one: (one.route, -one.worth))
        chosen = _first_of_each(found)
        danger = [one for one in chosen if one.route is Route.DANGER]
        others = [one for one in chosen if one.route is not Route.DANGER]
        return Suggested((*danger, *others[:SHOWN]), idle)

    def _danger(
        self, views: Mapping[Side | None, View], never: frozenset[str]
    ) -> Iterator[NextTest]:
        """Core danger questions that were not asked, then what a yes on one unfolds."""
        for measure in self._dangers:
            yield from self._ask(measure, tuple(Side), views, _UNASKED)
        for measure in self._dangers:
            sides = tuple(side for side in Side if views[side].words(measure.id) == YES)
            if sides:
                why = f"follows from: {say(measure.label)}"
                for name in self._follows(measure.id, sides, views):
                    if name in never:
                        continue
                    yield from self._ask(self.catalogue.measures[name], sides, views, why)

    def _follows(
        self, name: str, sides: tuple[Side, ...], views: Mapping[Side | None, View]
    ) -> Iterable[str]:
        """What a yes unfolds: the questions of the branches that concern a patient of this age.

        A branch is left out only where age or sex alone rule it out, never for an answer.
        """
        return dict.fromkeys(
            item
            for fired in self._follow[name]
            if any(_concerns(fired.rule, views[side]) for side in sides)
            for item in fired.branch.unfolds
        )

    def _ask(
        self,
        measure: Measure,
        sides: tuple[Side, ...],
        views: Mapping[Side | None, View],
        why: str,
    ) -> Iterator[NextTest]:
        """The question on the first of these sides that has no answer, nor a reason for none."""
        if measure.kind is Kind.DERIVED:
            return
        for side in sides if measure.sided else (None,):
            if not (views[side].is_recorded(measure.id) or views[side].is_absent(measure.id)):
                position = self.position(measure.id)
                yield NextTest(measure.id, side, (), why, position, Route.DANGER)
                return

    def position(self, name: str) -> str:
        """The position the patient is in for a measure."""
        panel = self.catalogue.panels.get(self.catalogue.measures[name].panel)
        return say(panel.position) if panel else ""

    def thought(self, name: str) -> Thought:
        """The compiled hypothesis of an id."""
        return self._thoughts[name]

    def expects(self, name: str) -> "_Expects":
        """What a hypothesis expects of answers."""
        return self._expects[name]

    def accuracy(self, name: str) -> tuple[Accuracy, ...]:
        """The sound published accuracy of a measure."""
        return self._accuracy.get(name, ())

    def minutes(self, measure: Measure, here: str) -> float:
        """Minutes a measure takes, with the move to its position."""
        weighing = self.catalogue.weighing
        kind = f"minutes-{measure.kind.value}"
        taken = weighing[kind].at if kind in weighing else weighing["minutes-other"].at
        move = weighing["minutes-move"].at if self.position(measure.id) != here else 0
        return float(taken or 0) + float(move or 0)

    def reliability(self, measure: Measure) -> float:
        """The highest published ICC of the measure, else the figure for an unknown one."""
        known = [float(one.icc) for one in measure.errors if one.icc is not None]
        unknown = self.catalogue.weighing["reliability-unknown"].at
        return max(known) if known else float(unknown or 0)


class _Asking:
    """One choice of tests."""

    def __init__(
        self,
        chooser: Chooser,
        views: Mapping[Side | None, View],
        shut: Mapping[Side | None, Mapping[str, tuple[str, ...]]],
        never: frozenset[str],
        here: str,
    ) -> None:
        self.chooser = chooser
        self.views = views
        self.shut = shut
        self.never = never
        self.here = here

    def missing(self, nearly: Iterable[Nearly]) -> Iterator[NextTest]:
        """What hypotheses lack that are open but for it; what opens more comes first."""
        wanted: dict[tuple[str, Side | None], list[str]] = {}
        for one in nearly:
            for name in one.missing:
                for asked in self._takeable(name, one.side):
                    ids = wanted.setdefault((asked.id, self._side(asked, one.side)), [])
                    ids.append(one.thought.hypothesis.id)
        for (name, side), ids in wanted.items():
            measure = self.chooser.catalogue.measures[name]
            opens = tuple(dict.fromkeys(ids))
            labels = ", ".join(self._label(one) for one in opens[:2])
            why = f"still needed to consider: {labels}"
            worth = len(opens) * self._per_minute(measure)
            yield self._test(measure, side, opens, why, Route.MISSING, worth)

    def apart(self, arguments: tuple[Argument, ...]) -> tuple[list[NextTest], tuple[str, ...]]:
        """What separates the open hypotheses of a side, and what would change nothing."""
        found: list[NextTest] = []
        idle: dict[str, None] = {}
        for side in dict.fromkeys(one.side for one in arguments):
            rivals = [one for one in arguments if one.side is side]
            for name in self._candidates(rivals):
                for measure in self._takeable(name, side):
                    test = self._told_apart(name, measure, side, rivals)
                    if test is None:
                        idle[measure.id] = None
                    else:
                        found.append(test)
        useful = {one.measure for one in found}
        return found, tuple(name for name in idle if name not in useful)

    def _candidates(self, rivals: list[Argument]) -> tuple[str, ...]:
        names: dict[str, None] = {}
        for one in rivals:
            names.update(dict.fromkeys((*one.not_examined, *one.hypothesis.tests)))
        return tuple(names)

    def _told_apart(
        self, name: str, measure: Measure, side: Side | None, rivals: list[Argument]
    ) -> NextTest | None:
        gain = self._gain(name, rivals)
        if gain > 0.0:
            ids = tuple(one.id for one in rivals)
            why = "published accuracy for a condition that is being considered"
            worth = gain * self._per_minute(measure)
            return self._test(measure, side, ids, why, Route.RATIO, worth)
        predictions = self._predictions(name, rivals)
        split = pairs_split(list(predictions.values()))
        if not split:
            return None
        ids = tuple(one for one, told in predictions.items() if told is not None)
        why = self._why_apart(predictions)
        worth = split * self._per_minute(measure)
        return self._test(measure, side, ids, why, Route.SEPARATES, worth)

    def _gain(self, name: str, rivals: list[Argument]) -> float:
        """Bits from published accuracy with flat priors, "something else" among them."""
        best = 0.0
        even = [1.0 / (len(rivals) + 1)] * (len(rivals) + 1)
        for row in self.chooser.accuracy(name):
            sensitivity, specificity = float(row.sensitivity or 0), float(row.specificity or 0)
            meant = [row.condition in one.hypothesis.conditions for one in rivals]
            if any(meant) and not all(meant):
                positive = [sensitivity if hit else 1.0 - specificity for hit in (*meant, False)]
                best = max(best, information_gain(even, positive))
        return best

    def _predictions(self, name: str, rivals: list[Argument]) -> dict[str, bool | None]:
        """What each hypothesis expects of the answer that tells most of them apart."""
        best: dict[str, bool | None] = {}
        most = -1
        expecting = {one.id: self.chooser.expects(one.id) for one in rivals}
        answers = dict.fromkeys(
            answer for one in expecting.values() for answer in one.by_measure.get(name, ())
        )
        for answer in answers:
            told = {hypothesis: one.of(name, answer) for hypothesis, one in expecting.items()}
            split = pairs_split(list(told.values()))
            if split > most:
                best, most = told, split
        return best

    def _why_apart(self, predictions: dict[str, bool | None]) -> str:
        expecting = [self._label(one) for one, told in predictions.items() if told]
        other = [self._label(one) for one, told in predictions.items() if told is False]
        return f"separates {expecting[0]} from {other[0]}" if expecting and other else "separates"

    def _label(self, name: str) -> str:
        return say(self.chooser.thought(name).hypothesis.label)

    def _per_minute(self, measure: Measure) -> float:
        return self.chooser.reliability(measure) / self.chooser.minutes(measure, self.here)

    def _side(self, measure: Measure, side: Side | None) -> Side | None:
        return side if measure.sided else None

    def _takeable(self, name: str, side: Side | None) -> Iterator[Measure]:
        """The measure if it can be taken now; of a derived one the first input that is missing."""
        measure = self.chooser.catalogue.measures[name]
        view = self.views[self._side(measure, side)]
        if name in self.never or name in self.shut[side]:
            return
        if view.is_absent(name) or view.is_recorded(name):
            return
        if measure.kind is not Kind.DERIVED:
            yield measure
            return
        for part in measure.derived_from:
            for asked in self._takeable(part, side):
                yield asked
                return

    def _test(
        self,
        measure: Measure,
        side: Side | None,
        separates: tuple[str, ...],
        why: str,
        route: Route,
        worth: float,
    ) -> NextTest:
        of = self._side(measure, side)
        position = self.chooser.position(measure.id)
        return NextTest(measure.id, of, separates, why, position, route, worth)


class _Expects:
    """What one hypothesis expects of answers: one speaks for it, against it, or not at all."""

    __slots__ = ("_answers", "_asked", "by_measure")

    def __init__(self, thought: Thought) -> None:
        speaking_for = (*thought.require, *thought.support)
        self._answers: dict[Atom, bool] = dict.fromkeys(_answers(thought.against), False)
        self._answers.update(dict.fromkeys(_answers(speaking_for), True))
        self._asked = frozenset(name for row in speaking_for for name in row.rule.measures)
        self.by_measure: dict[str, dict[Atom, None]] = {}
        for row in thought.rows:
            for atom in row.rule.atoms:
                for name in atom.measures:
                    self.by_measure.setdefault(name, {})[atom.atom] = None

    def of(self, name: str, answer: Atom) -> bool | None:
        """Whether this answer of a measure is expected; None where it is silent about it.

        One that expects another answer of the measure does not expect this one.
        """
        told = self._answers.get(answer)
        return False if told is None and name in self._asked else told


def _answers(rows: Iterable[RowRule]) -> Iterator[Atom]:
    return (atom.atom for row in rows for atom in row.rule.atoms)


def _first_of_each(tests: list[NextTest]) -> list[NextTest]:
    """Each measure and side once, where it ranks highest."""
    kept: dict[tuple[str, Side | None], NextTest] = {}
    for one in tests:
        kept.setdefault((one.measure, one.side), one)
    return list(kept.values())


def _concerns(rule: Rule, view: View) -> bool:
    """Whether a rule may hold for a patient of this age and sex, whatever the answers."""
    return rule.holds(view.without(frozenset(rule.measures))) is not False


def _sound_rows(catalogue: Catalogue) -> Mapping[str, tuple[Accuracy, ...]]:
    """Accuracy rows that may be computed with, by measure."""
    found: dict[str, tuple[Accuracy, ...]] = {}
    for row in catalogue.accuracy.values():
        known = row.sensitivity is not None and row.specificity is not None
        if row.measure and row.condition and known and row.doubtful is None:
            found[row.measure] = (*found.get(row.measure, ()), row)
    return found
