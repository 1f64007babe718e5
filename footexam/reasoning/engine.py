"""The reasoning of a catalogue: rules compiled once, then pure functions of an examination."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from footexam.catalogue.arguments import Hypothesis, Row
from footexam.catalogue.model import Catalogue, say
from footexam.reasoning.argue import (
    COMPLAINT,
    Argument,
    Nearly,
    RowRule,
    Strike,
    Thought,
    argue,
    complaint_sides,
    full_points,
    nearly,
    required,
    sides_of,
)
from footexam.reasoning.dangers import (
    Caution,
    FiredBranch,
    Signs,
    danger_questions,
    find_cautions,
)
from footexam.reasoning.defeat import Defeaters, compile_defeaters
from footexam.reasoning.gates import QUIET, States, compile_gates, states
from footexam.reasoning.next_test import Chooser, Suggested
from footexam.reasoning.plan import Planner
from footexam.reasoning.planned import NO_PLAN, Plan
from footexam.reasoning.truth import Rule, compile_rule
from footexam.reasoning.view import Seen, View
from footexam.record.examination import Examination
from footexam.scoring.bench import Bench, bench
from footexam.scoring.measured import Measured, measured
from footexam.terms import Side

_NAME = "_reasoning_engine"
LEADING = 3
"""How many hypotheses of a side are shown as leading."""
SIDES: tuple[Side | None, ...] = (None, Side.LEFT, Side.RIGHT)


@dataclass(frozen=True, slots=True)
class Contradicted:
    """Answers of measures on a side that cannot both be so, and why; the first one is named."""

    measures: tuple[str, ...]
    side: Side | None
    why: str


@dataclass(frozen=True, slots=True)
class Reasons:
    """What the findings of one examination argue for.

    `nearly` are hypotheses that lack only answers. `sides` are those with a place of complaint.
    `shut` are the measures that must not be tried, with the reasons, by side. `why_now`: an open
    hypothesis tells why it began now. `here` is the position of what was entered last. `plan` is
    what follows from what was accepted. `views` is what each side shows, to plan by.
    """

    cautions: tuple[Caution, ...]
    arguments: tuple[Argument, ...]
    nearly: tuple[Nearly, ...]
    suggested: Suggested
    states: States
    sides: tuple[Side, ...]
    shut: Mapping[Side | None, Mapping[str, tuple[str, ...]]]
    why_now: bool
    here: str = ""
    plan: Plan = NO_PLAN
    contradicted: tuple[Contradicted, ...] = ()
    views: Mapping[Side | None, View] = field(default_factory=dict, compare=False, repr=False)

    @property
    def leading(self) -> tuple[Argument, ...]:
        """Those that lead: they concern where it hurts, with a point or more, three on a side."""
        counts: dict[Side | None, int] = {}
        found = []
        for one in self.arguments:
            if one.concerns and one.shown >= 1 and counts.get(one.side, 0) < LEADING:
                counts[one.side] = counts.get(one.side, 0) + 1
                found.append(one)
        return tuple(found)


NOTHING = Reasons((), (), (), Suggested((), ()), QUIET, (), {}, why_now=False)
"""Where nothing was reasoned about."""


class Engine:
    """The compiled cautions, gates and hypotheses of a catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        """Compile every rule once."""
        self.catalogue = catalogue
        self._bench: Bench = bench(catalogue)
        self._groups = _groups(catalogue)
        self._rules: dict[str, Rule] = {}
        self.signs: Signs = tuple(
            (sign, tuple(FiredBranch(one, self.rule(one.when)) for one in sign.branches))
            for sign in catalogue.cautions.values()
        )
        self.thoughts = tuple(self._thought(one) for one in catalogue.hypotheses.values())
        self.contradictions = tuple(
            (one, self.rule(one.when)) for one in catalogue.contradictions.values()
        )
        self._dangers = danger_questions(catalogue)
        self.planner = Planner(catalogue, self.rule)
        self.gates = compile_gates(catalogue, self.rule)
        self.chooser = Chooser(catalogue, self.thoughts, self.signs)
        self.defeaters: Defeaters = compile_defeaters(catalogue, self.rule)

    def rule(self, text: str) -> Rule:
        """A compiled expression; each text is compiled once."""
        if text not in self._rules:
            self._rules[text] = compile_rule(text, self._groups, self._error)
        return self._rules[text]

    def _error(self, row: Measured) -> float | None:
        """The SEM of a number that is held against a limit."""
        if row.carried is not None:
            return row.carried.taken
        return self._bench.errors(row.measure, row.method).against_norm(row.repeats)

    def contradicted_by(self, measure: str, examination: Examination) -> tuple[Contradicted, ...]:
        """What cannot both be so in an examination, as far as the measure has a part in it.

        From what was read alone: nothing is worked out or judged for it.
        """
        if not any(measure in rule.measures for _, rule in self.contradictions):
            return ()
        numbers = measured(self._bench, self._bench.visit(examination), ())
        seen = Seen(examination, (), (), numbers)
        return self.contradicted({side: View(seen, side) for side in SIDES})

    def contradicted(self, views: Mapping[Side | None, View]) -> tuple[Contradicted, ...]:
        """Answers that cannot both be so, once a side, in forms order."""
        found = []
        for one, rule in self.contradictions:
            names = [self.catalogue.measures[name] for name in rule.measures]
            sided = any(measure.sided for measure in names)
            for side in Side if sided else (None,):
                if rule.holds(views[side]):
                    of = side if names[0].sided else None
                    found.append(Contradicted(rule.measures, of, say(one.says)))
        return tuple(found)

    def _thought(self, hypothesis: Hypothesis) -> Thought:
        require = self._rows(hypothesis.require)
        sided = any(
            self.catalogue.measures[name].sided for one in require for name in one.rule.measures
        )
        return Thought(
            hypothesis,
            require,
            self._rows(hypothesis.support),
            self._rows(hypothesis.against),
            sided,
            self._places(hypothesis),
        )

    def _places(self, hypothesis: Hypothesis) -> frozenset[str]:
        conditions = self.catalogue.conditions
        regions = self.catalogue.regions
        return frozenset(
            group
            for name in hypothesis.conditions
            if name in conditions
            for region in conditions[name].regions
            for group in regions[region].groups
        )

    def _hurting(self, view: View) -> frozenset[str]:
        """The groups of the places of complaint on a side; empty where none is known."""
        marks = view.marks(COMPLAINT)
        regions = self.catalogue.regions
        return frozenset(
            group
            for place in (marks.marked or () if marks else ())
            if place in regions
            for group in regions[place].groups
        )

    def _rows(self, rows: Iterable[Row]) -> tuple[RowRule, ...]:
        return tuple(RowRule(row, self.rule(row.when), full_points(row)) for row in rows)

    def reason(self, seen: Seen, decisions: Mapping[str, Any], *, suggest: bool = False) -> Reasons:
        """Cautions first, each for itself; then the hypotheses by points; then the plan.

        With `suggest` the plan is for the leading hypotheses, whether accepted or not.
        """
        views: dict[Side | None, View] = {side: View(seen, side) for side in SIDES}
        cautions = find_cautions(self.signs, views, decisions.get("cautions", {}), self._dangers)
        strikes = {side: self.defeaters.strikes(view) for side, view in views.items()}
        complaint = complaint_sides(views)
        arguments: list[Argument] = []
        close: list[Nearly] = []
        hurting = {side: self._hurting(view) for side, view in views.items()}
        seen_by = {side: view.without(_struck(strikes[side])) for side, view in views.items()}
        for thought in self.thoughts:
            for side in sides_of(thought, complaint):
                view = seen_by[side]
                truths = required(thought, view)
                if truths is None:
                    continue
                concerns = not hurting[side] or not thought.places.isdisjoint(hurting[side])
                if all(truths):
                    other = views[_other(side)] if len(complaint) == 1 and side else None
                    arguments.append(
                        argue(thought, side, view, strikes[side], other, concerns=concerns)
                    )
                elif concerns:
                    lacking = nearly(thought, side, view, truths)
                    if lacking is not None:
                        close.append(lacking)
        arguments.sort(key=lambda one: (-one.points, one.id, _ORDER[one.side]))
        shut = {side: self.gates.shut(view, cautions) for side, view in views.items()}
        suggested = self.chooser.choose(arguments, close, views, shut, seen.last)
        return Reasons(
            cautions=cautions,
            arguments=tuple(arguments),
            nearly=tuple(close),
            suggested=suggested,
            states=states(cautions, _asked(arguments, close, suggested), decisions),
            sides=complaint,
            shut=shut,
            why_now=any(one.hypothesis.why_now for one in arguments),
            plan=self.planner.plan(arguments, cautions, views, decisions, suggest=suggest),
            contradicted=self.contradicted(views),
            here=self.chooser.position(seen.last) if seen.last in self.catalogue.measures else "",
            views=views,
        )

    def choose(self, reasons: Reasons, decisions: Mapping[str, Any]) -> Reasons:
        """The same with other hypotheses accepted, aims kept or features chosen.

        What was decided about cautions must be the same: all else rests on it.
        """
        cautions, asked = reasons.cautions, reasons.states.asked
        plan = self.planner.plan(reasons.arguments, cautions, reasons.views, decisions)
        return replace(reasons, states=states(cautions, asked, decisions), plan=plan)


_ORDER = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}


def _asked(
    arguments: Iterable[Argument], close: Iterable[Nearly], suggested: Suggested
) -> frozenset[str]:
    """The measures that hypotheses and suggestions ask for."""
    asked = {one.measure for one in suggested.tests}
    for argument in arguments:
        asked.update(argument.not_examined)
        asked.update(argument.hypothesis.tests)
    for lacking in close:
        asked.update(lacking.missing)
    return frozenset(asked)


def _struck(strikes: Iterable[Strike]) -> frozenset[str]:
    return frozenset().union(*(strike.measures for strike in strikes))


def _other(side: Side) -> Side:
    return Side.RIGHT if side is Side.LEFT else Side.LEFT


def _groups(catalogue: Catalogue) -> dict[str, frozenset[str]]:
    """The places of each group of places."""
    found: dict[str, set[str]] = {}
    for region in catalogue.regions.values():
        for group in region.groups:
            found.setdefault(group, set()).add(region.id)
    return {group: frozenset(places) for group, places in found.items()}


def engine(catalogue: Catalogue) -> Engine:
    """The engine of a catalogue, built at the first call and kept with it."""
    found = catalogue.__dict__.get(_NAME)
    if not isinstance(found, Engine):
        found = catalogue.__dict__[_NAME] = Engine(catalogue)
    return found
