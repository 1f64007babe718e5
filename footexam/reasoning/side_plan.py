"""One side of a plan: every feature worked out once, when not to use it, and what fights it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from footexam.catalogue.model import say
from footexam.catalogue.plan_model import Avoid, Conflict, Feature
from footexam.mechanics.formula import NotGiven
from footexam.mechanics.result import Result
from footexam.reasoning.plan_forms import PlanForms, Serving
from footexam.reasoning.planned import Candidate, Clash, Dimension
from footexam.reasoning.sizing import dimensions, effects, known_inputs, with_material
from footexam.reasoning.view import View
from footexam.terms import Side

Chosen = Mapping[str, Mapping[str, Any]]
"""The features chosen on a side, by id."""


@dataclass(frozen=True, slots=True)
class Worked:
    """What was worked out of a feature on a side, for its own dimensions as they were chosen.

    Nothing else that is decided goes into it.
    """

    own: Mapping[str, Any] | None
    dimensions: tuple[Dimension, ...]
    effects: tuple[Result | NotGiven, ...]


@dataclass(frozen=True, slots=True)
class _Weighed:
    """What speaks against a feature for this person and plan, whatever aim it serves."""

    avoid: tuple[Avoid, ...]
    told: tuple[Avoid, ...]
    clashes: tuple[Clash, ...]


@dataclass
class SidePlan:
    """What was chosen and kept for a side, and what that makes of a feature.

    `alone` are the features chosen for this side alone, `kept` the aims that were kept, `opened`
    those that hypotheses open. `worked` is what was worked out of features for the same view, kept
    from one plan to the next.
    """

    forms: PlanForms
    side: Side | None
    view: View
    chosen: Chosen
    alone: frozenset[str]
    kept: frozenset[str]
    opened: frozenset[str]
    suggested: bool
    worked: dict[str, Worked]
    _weighed: dict[str, _Weighed] = field(default_factory=dict)

    @cached_property
    def inputs(self) -> dict[str, float | None]:
        """What the formulas may take."""
        return known_inputs(self.view, self.chosen)

    @property
    def wanted(self) -> frozenset[str]:
        """The aims that were kept; before any was, all that are opened."""
        return self.kept or self.opened

    @cached_property
    def beside(self) -> frozenset[str]:
        """The features that were chosen; before any was, all that may be."""
        return frozenset(self.chosen) or frozenset(
            one.feature.id for aim in self.opened | self.kept for one in self.serving(aim)
        )

    def serving(self, aim: str) -> list[Serving]:
        """The features that serve an aim, in their order."""
        return self.forms.serving.get(aim, [])

    def candidates(self, aim: str) -> tuple[Candidate, ...]:
        """The features that serve an aim, in their order."""
        return tuple(self._candidate(one) for one in self.serving(aim))

    def candidate(self, feature: Feature, aim: str) -> Candidate:
        """A feature for an aim of it."""
        return self._candidate(self.forms.served[feature.id, aim])

    def dimensions(self, name: str) -> tuple[Dimension, ...]:
        """The dimensions of a feature on this side."""
        return self._work(name).dimensions

    def _candidate(self, one: Serving) -> Candidate:
        name = one.feature.id
        worked, weighed = self._work(name), self._weigh(name)
        return Candidate(
            feature=one.feature,
            aim=one.aim,
            side=self.side,
            dimensions=worked.dimensions,
            claims=one.claims,
            harms=one.harms,
            avoid=weighed.avoid,
            cautions=weighed.told,
            effects=worked.effects,
            clashes=weighed.clashes,
            chosen=name in self.chosen,
            suggested=self.suggested,
        )

    def _work(self, name: str) -> Worked:
        own, found = self.chosen.get(name), self.worked.get(name)
        if found is None or found.own != own:
            forms, feature = self.forms, self.forms.features[name]
            inputs = with_material(feature, self.inputs, own, forms.catalogue)
            sized = dimensions(feature, inputs, own, forms.catalogue)
            formulas = forms.effects[name]
            done = effects(feature, formulas, sized, inputs, forms.catalogue)
            found = self.worked[name] = Worked(own, sized, done)
        return found

    def _weigh(self, name: str) -> _Weighed:
        if name not in self._weighed:
            avoids = self.forms.features[name].avoids
            self._weighed[name] = _Weighed(
                tuple(one for one in avoids if self._is_reason(one)),
                tuple(one for one in avoids if not one.when or self._gives_way(one)),
                tuple(self._clashes(name)),
            )
        return self._weighed[name]

    def _is_reason(self, one: Avoid) -> bool:
        """Whether a reason not to use a feature holds for this person, and does not give way."""
        if not one.when or self._gives_way(one):
            return False
        return bool(self.forms.rule(one.when).holds(self.view))

    def _gives_way(self, one: Avoid) -> bool:
        """Whether an aim was kept whose conflict with the feature says what to do instead."""
        return not self.kept.isdisjoint(one.unless)

    # --- clashes

    def _clashes(self, name: str) -> Iterator[Clash]:
        for conflict in self.forms.conflicts.get(name, ()):
            others = self._others(name, conflict)
            if others and self._holds(conflict):
                for other in others:
                    yield Clash(other, conflict.severity, say(conflict.why), conflict)

    def _others(self, name: str, conflict: Conflict) -> list[str]:
        """What a feature fights here: wanted aims, features beside it, or itself on one side."""
        if conflict.aims:
            return [aim for aim in conflict.aims if aim in self.wanted]
        if conflict.one_sided:
            return [name] if name in self.alone else []
        others = [one for one in conflict.features if one != name]
        return others if self.beside.issuperset(others) else []

    def _holds(self, conflict: Conflict) -> bool:
        """Whether the record and the dimensions let a conflict be one."""
        if conflict.when and not self.forms.rule(conflict.when).holds(self.view):
            return False
        return all(
            part.value <= limit.most
            for limit in conflict.limits
            for part in self.dimensions(limit.feature)
            if part.size.id == limit.size
        )
