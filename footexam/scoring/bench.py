"""The bench: the judges of a catalogue, built once for each person and kept with the catalogue."""

from footexam.catalogue.model import Catalogue, Measure, NormSet
from footexam.record.examination import Examination
from footexam.scoring.derived.registry import SLOPES, has_formula
from footexam.scoring.errors import Errors, choose
from footexam.scoring.judge import Judge
from footexam.scoring.norms import Fitted, fits_age, fitted
from footexam.scoring.pairs import PairJudge
from footexam.scoring.visit import Person, Visit, person
from footexam.terms import Kind, Side

SIDES: dict[Side | None, int] = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}
"""Left before right before no side."""

_KEPT_PEOPLE = 16
_NAME = "_scoring_bench"


class Judges:
    """The judges for one person, by measure, side and method."""

    __slots__ = ("_judges", "bench", "person")

    def __init__(self, bench: "Bench", who: Person) -> None:
        """No judge is built before it is asked for."""
        self.person = who
        self.bench = bench
        self._judges: dict[tuple[str, Side | None, str | None], Judge] = {}

    def judge(self, measure: Measure, side: Side | None, method: str | None) -> Judge:
        """The judge of a measure and side for readings taken by that method."""
        key = measure.id, side, method
        found = self._judges.get(key)
        if found is None:
            norms = self.bench.fitted(measure, self.person, side, method)
            errors = self.bench.errors(measure, method)
            found = self._judges[key] = Judge(measure, side, method, norms, errors)
        return found


class Bench:
    """What scoring works out once from a catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        """Order, questions that norm groups ask, and derived measures of the catalogue."""
        self.catalogue = catalogue
        self.measures = catalogue.measures
        order = catalogue.order
        self.rank: dict[tuple[str, Side | None], int] = {
            (name, side): place * len(SIDES) + shift
            for name, place in order.items()
            for side, shift in SIDES.items()
        }
        self.derived = tuple(
            measure
            for measure in self.measures.values()
            if measure.kind is Kind.DERIVED and has_formula(measure)
        )
        """Derived measures that have a formula."""
        self.carrying = frozenset(m.id for m in self.derived if self._carries(m))
        """Derived measures whose error comes from their inputs, all of which have one."""
        self.needed = _needed(catalogue)
        self.outside = _outside(catalogue)
        """Sets that name words outside the usual, by measure."""
        self.asked_method = frozenset(m for m in self.measures if f"{m}-method" in self.measures)
        """Measures whose method has a question of its own."""
        self._people: dict[Person, Judges] = {}
        self._errors: dict[tuple[str, str | None], Errors] = {}
        self._pairs: dict[tuple[str, str | None, tuple[str, ...]], PairJudge] = {}

    def visit(self, examination: Examination) -> Visit:
        """An examination with the look-ups that formulas need."""
        return Visit(examination, self.measures, self.asked_method)

    def _carries(self, measure: Measure) -> bool:
        """Whether an error can come from the inputs, down to those that are read (F11)."""
        if measure.kind is not Kind.DERIVED:
            return any(error.used for error in measure.errors)
        inputs = [self.measures.get(name) for name in measure.derived_from]
        return measure.id in SLOPES and all(m is not None and self._carries(m) for m in inputs)

    def judges(self, examination: Examination) -> Judges:
        """The judges for the person examined."""
        who = person(examination, self.needed)
        found = self._people.get(who)
        if found is None:
            if len(self._people) >= _KEPT_PEOPLE:
                self._people.clear()
            found = self._people[who] = Judges(self, who)
        return found

    def fitted(
        self, measure: Measure, who: Person, side: Side | None, method: str | None
    ) -> tuple[Fitted, ...]:
        """The norm groups that fit a person, side and method."""
        return fitted(measure, self.catalogue.norms.get(measure.id, ()), who, side, method)

    def pair(self, measure: Measure, method: str | None, who: Person | None = None) -> PairJudge:
        """The judge of side differences and changes of a measure by that method.

        What is usual between the sides holds for a person's age only; changes need no person.
        """
        norms = tuple(
            norm
            for norm in self.catalogue.differences.get(measure.id, ())
            if who is not None and fits_age(norm.ages, who)
        )
        key = measure.id, method, tuple(norm.id for norm in norms)
        if key not in self._pairs:
            self._pairs[key] = PairJudge(measure, method, norms, self.errors(measure, method))
        return self._pairs[key]

    def errors(self, measure: Measure, method: str | None) -> Errors:
        """The errors of a measure by that method."""
        key = measure.id, method
        if key not in self._errors:
            self._errors[key] = choose(measure.errors, method)
        return self._errors[key]


def _needed(catalogue: Catalogue) -> tuple[str, ...]:
    """Measures whose answers some norm group needs, sorted."""
    return tuple(
        sorted(
            {
                measure
                for sets in catalogue.norms.values()
                for norms in sets
                for group in norms.groups
                for measure in group.needs or ()
            }
        )
    )


def _outside(catalogue: Catalogue) -> dict[str, tuple[NormSet, ...]]:
    named = {
        measure: tuple(norms for norms in sets if norms.outside)
        for measure, sets in catalogue.norms.items()
    }
    return {measure: sets for measure, sets in named.items() if sets}


def bench(catalogue: Catalogue) -> Bench:
    """The bench of a catalogue, built at the first call and kept on it as by cached_property."""
    found = catalogue.__dict__.get(_NAME)
    if not isinstance(found, Bench):
        found = catalogue.__dict__[_NAME] = Bench(catalogue)
    return found
