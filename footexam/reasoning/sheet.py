"""Which measures are on the sheet: core ones, those whose condition holds, those recorded."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from footexam.catalogue.model import Catalogue, Measure
from footexam.reasoning.facts import Facts
from footexam.reasoning.when import Condition, compile_when
from footexam.terms import Depth, Kind

INPUTS = "inputs recorded"
_ASKS = "hypothesis asks"
"""A condition that is about the measure itself, so that no other shares it."""


@dataclass(frozen=True, slots=True)
class OnSheet:
    """The measures of a panel on the sheet, in order, and how many more there are behind a key."""

    measures: tuple[str, ...]
    hidden: int


class Sheet:
    """The conditions of all measures, compiled once for a catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        contexts = {
            name: _once(compile_when(found.when)) for name, found in catalogue.contexts.items()
        }
        measures = catalogue.measures.values()
        self._core = frozenset(one.id for one in measures if one.depth is Depth.CORE)
        self._conditions = _conditions(measures, contexts)
        self._last: tuple[Facts, frozenset[str]] | None = None
        self._counted: tuple[object, Mapping[str, tuple[int, int]]] | None = None
        self._derived = frozenset(
            name for name, one in catalogue.measures.items() if one.kind is Kind.DERIVED
        )

    def wanted(self, facts: Facts) -> frozenset[str]:
        """The measures whose condition holds, worked out once for the facts of an entry.

        Of measures that are recorded it is not asked: they are on the sheet as it is. What is
        worked out is never recorded itself.
        """
        if self._last is None or self._last[0] is not facts:
            recorded = facts.recorded - self._derived
            held = self._core.union(
                *(
                    names
                    for names, holds in self._conditions
                    if not names <= recorded and holds(facts)
                )
            )
            self._last = (facts, held)
        return self._last[1]

    def counts(self, facts: Facts, recorded: frozenset[str]) -> Mapping[str, tuple[int, int]]:
        """How many measures of each panel's sheet are recorded, and how many there are.

        Derived measures do not count. Kept from one entry to the next: most change neither what
        is on the sheets nor what is recorded.
        """
        for_what = recorded, self.wanted(facts)
        if self._counted is None or self._counted[0] != for_what:
            counts = {}
            for panel in self._catalogue.panels:
                names = self.of(panel, facts, recorded, more=False).measures
                asked = [name for name in names if name not in self._derived]
                counts[panel] = (sum(name in recorded for name in asked), len(asked))
            self._counted = (for_what, counts)
        return self._counted[1]

    def of(self, panel: str, facts: Facts, recorded: frozenset[str], *, more: bool) -> OnSheet:
        """What is on the sheet of a panel; `recorded` are the measures with any reading.

        `more`: everything is shown, whatever its depth.
        """
        names = self._catalogue.panels[panel].measures
        wanted = self.wanted(facts)
        shown = tuple(name for name in names if more or name in recorded or name in wanted)
        return OnSheet(shown, len(names) - len(shown))


def _once(condition: Condition) -> Condition:
    """A condition that many measures share, worked out once for the facts of an entry."""
    last: list[tuple[Facts, bool]] = []

    def holds(facts: Facts) -> bool:
        if not last or last[0][0] is not facts:
            last[:] = [(facts, condition(facts))]
        return last[0][1]

    return holds


def _conditions(
    measures: Iterable[Measure], contexts: Mapping[str, Condition]
) -> tuple[tuple[frozenset[str], Condition], ...]:
    """The conditions of the measures that are on the sheet at times; one for all that share it."""
    sharing: dict[object, list[Measure]] = {}
    for measure in measures:
        if measure.depth is Depth.WHEN:
            own = measure.when == INPUTS or _ASKS in measure.when
            sharing.setdefault((measure.when, measure.id if own else ""), []).append(measure)
    return tuple(
        (frozenset(one.id for one in alike), _condition(alike[0], contexts))
        for alike in sharing.values()
    )


def _condition(measure: Measure, contexts: Mapping[str, Condition]) -> Condition:
    if measure.when == INPUTS:
        inputs = frozenset(measure.derived_from)
        return lambda facts: bool(inputs & facts.recorded)
    return compile_when(measure.when, contexts, measure.id)
