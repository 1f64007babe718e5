"""What became of the hypotheses of an examination: accepted, set aside, own words, undecided."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from footexam.catalogue.arguments import Hypothesis
from footexam.reasoning.argue import Argument
from footexam.reports.material import Material
from footexam.terms import Side


@dataclass(frozen=True, slots=True)
class Accepted:
    """One hypothesis that the examiner accepted on a side.

    `argument` None: it is not open on the readings of the record. `hypothesis` None: it has left
    forms/.
    """

    id: str
    side: Side | None
    hypothesis: Hypothesis | None
    argument: Argument | None


@dataclass(frozen=True, slots=True)
class Aside:
    """One hypothesis that the examiner set aside, with the reason."""

    id: str
    side: Side | None
    reason: str


@dataclass(frozen=True, slots=True)
class Own:
    """A hypothesis in the examiner's words."""

    side: Side | None
    statement: str


class Decided:
    """The decisions of one examination about hypotheses, against its arguments."""

    def __init__(self, material: Material) -> None:
        self._material = material
        made: Mapping[str, Any] = material.examination.decisions.get("hypotheses", {})
        self._accepted: Sequence[Mapping[str, Any]] = made.get("accepted", ())
        self._rejected: Sequence[Mapping[str, Any]] = made.get("rejected", ())
        self._own: Sequence[Mapping[str, Any]] = made.get("own", ())
        self._arguments = material.assessment.reasons.arguments

    @cached_property
    def accepted(self) -> tuple[Accepted, ...]:
        """What was accepted, in the order of acceptance; without a side, each open side of it."""
        return tuple(one for made in self._accepted for one in self._accepted_of(made))

    def _accepted_of(self, made: Mapping[str, Any]) -> Iterable[Accepted]:
        name, side = made["id"], _side(made)
        known = self._material.catalogue.hypotheses.get(name)
        found = [one for one in self._arguments if one.id == name and _meets(side, one.side)]
        if not found:
            yield Accepted(name, side, known, None)
        for argument in found:
            yield Accepted(name, argument.side, argument.hypothesis, argument)

    @cached_property
    def aside(self) -> tuple[Aside, ...]:
        """What was set aside, in that order."""
        return tuple(Aside(one["id"], _side(one), one["reason"]) for one in self._rejected)

    @cached_property
    def own(self) -> tuple[Own, ...]:
        """What the examiner added."""
        return tuple(Own(_side(one), one["statement"]) for one in self._own)

    @cached_property
    def undecided(self) -> tuple[Argument, ...]:
        """Open arguments that nobody decided about, the strongest first."""
        decided = [(one["id"], _side(one)) for one in (*self._accepted, *self._rejected)]
        return tuple(
            one
            for one in self._arguments
            if not any(one.id == name and _meets(side, one.side) for name, side in decided)
        )

    @cached_property
    def titles(self) -> tuple[str, ...]:
        """The headings of the accepted ones, numbered."""
        return tuple(
            f"{place}  {self.name(one.id, one.side)}" for place, one in enumerate(self.accepted, 1)
        )

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to print about hypotheses."""
        return not (self._accepted or self._rejected or self._own or self._arguments)

    def name(self, hypothesis: str, side: Side | None) -> str:
        """The short name of a hypothesis with its side in words."""
        material = self._material
        known = material.catalogue.hypotheses.get(hypothesis)
        label = material.say(known.label) if known else hypothesis
        if side is None:
            return label
        return material.phrases("argument-name", name=label, side=material.side_word(side))


def _side(made: Mapping[str, Any]) -> Side | None:
    side = made.get("side")
    return Side(side) if side else None


def _meets(decided: Side | None, side: Side | None) -> bool:
    """Whether a decision is about an argument's side; without a side it is about both."""
    return decided is None or side is None or decided is side
