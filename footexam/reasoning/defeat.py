"""Defeaters: when a reading does not say what it seems to say, with the reason.

A defeater strikes its measures while its condition holds, unless one that rebuts it holds as well.
The loader refuses a circle of rebuttals.
"""

from collections.abc import Callable
from dataclasses import dataclass

from footexam.catalogue.arguments import Defeater
from footexam.catalogue.model import Catalogue, say
from footexam.reasoning.argue import Strike
from footexam.reasoning.truth import Rule
from footexam.reasoning.view import View


@dataclass(frozen=True, slots=True)
class Defeaters:
    """The compiled defeaters of a catalogue, in the order of the file."""

    rules: tuple[tuple[Defeater, Rule], ...]

    def strikes(self, view: View) -> tuple[Strike, ...]:
        """What is struck on a side, and why."""
        holding = {one.id: one for one, rule in self.rules if rule.holds(view)}
        in_force: dict[str, bool] = {}

        def stands(name: str) -> bool:
            if name not in in_force:
                one = holding.get(name)
                in_force[name] = one is not None and not any(map(stands, one.unless))
            return in_force[name]

        return tuple(
            Strike(frozenset(one.measures), say(one.says))
            for name, one in holding.items()
            if stands(name)
        )


def compile_defeaters(catalogue: Catalogue, compiled: Callable[[str], Rule]) -> Defeaters:
    """The defeaters with their rules."""
    return Defeaters(tuple((one, compiled(one.when)) for one in catalogue.defeaters.values()))
