"""What must hold of an expression in forms/: measures, words and regions that exist."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from footexam.catalogue.expression import (
    AGE,
    SEX,
    Atom,
    BadExpression,
    Compared,
    Marked,
    Ranged,
    Worded,
    atoms,
    parse_expression,
)
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Measure
from footexam.messages import listed
from footexam.terms import NUMBER_KINDS, Kind, Sex

_ASKED = {Kind.YES_NO: ("no", "yes"), Kind.YES_SITES: ("no", "yes")}
_MAPS = frozenset({Kind.REGIONS, Kind.REGION_VALUES, Kind.YES_SITES})


class ExpressionChecker:
    """Checks expressions, and names of measures and sources, against one catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.groups = frozenset(
            group for region in catalogue.regions.values() for group in region.groups
        )

    def measures(self, names: Iterable[str], place: Place) -> Iterator[Complaint]:
        """Names that are no measure."""
        for name in names:
            yield from known(name, self.catalogue.measures, place, "panels/")

    def source(self, source: str, place: Place) -> Iterator[Complaint]:
        """A source that is not listed; `place` is the table that names it."""
        yield from known(source, self.catalogue.sources, place.at("source"), "sources.toml")

    def expression(self, text: str, place: Place) -> Iterator[Complaint]:
        """What cannot be read or asked so in an expression."""
        try:
            tree = parse_expression(text)
        except BadExpression as bad:
            yield Complaint(place, str(bad), "see footexam/catalogue/expression.py")
            return
        for atom in atoms(tree):
            yield from self._atom(atom, place)

    def _atom(self, atom: Atom, place: Place) -> Iterator[Complaint]:
        if atom.measure in {AGE, SEX}:
            yield from _patient(atom, place)
            return
        measure = self.catalogue.measures.get(atom.measure)
        if measure is None:
            yield from self.measures((atom.measure,), place)
        elif isinstance(atom, Worded):
            yield from _words(atom.words, measure, place)
        elif isinstance(atom, Marked):
            yield from self._marks(atom, measure, place)
        else:
            yield from self._number(atom, measure, place)

    def _number(
        self, atom: Compared | Ranged, measure: Measure, place: Place
    ) -> Iterator[Complaint]:
        if not _is_number(measure):
            yield Complaint(place, f"“{measure.id}” is no number", "ask for a word of it")
        elif isinstance(atom, Ranged):
            norms = self.catalogue.norms.get(measure.id, ())
            if not any(group.default for one in norms if one.judged for group in one.groups):
                what = f"no norm says what is usual for “{measure.id}”"
                yield Complaint(place, what, "write a limit, or add a default group to norms/")
        elif atom.of and not measure.sided:
            yield Complaint(place, f"“{measure.id}” has no sides", "write it without side_…")
        elif isinstance(atom.limit, str):
            yield from self.measures((atom.limit,), place)
            other = self.catalogue.measures.get(atom.limit)
            if other and not (_is_number(other) and other.unit == measure.unit):
                what = f"“{measure.id}” and “{other.id}” differ in unit"
                yield Complaint(place, what, "compare numbers of one unit")

    def _marks(self, atom: Marked, measure: Measure, place: Place) -> Iterator[Complaint]:
        if atom.how == "has":
            yield from _words(atom.names, measure, place)
            return
        if measure.kind not in _MAPS:
            yield Complaint(place, f"“{measure.id}” is no map", "ask for a word or a number")
        for name in atom.names:
            if name not in self.groups:
                yield from known(name, self.catalogue.regions, place, "regions.toml")


def _patient(atom: Atom, place: Place) -> Iterator[Complaint]:
    """What may be asked of the patient: age as a number, sex as a word."""
    aged = isinstance(atom, Compared) and isinstance(atom.limit, Decimal) and not atom.of
    sexed = isinstance(atom, Worded) and set(atom.words) <= set(Sex)
    if not (aged if atom.measure == AGE else sexed):
        yield Complaint(place, f"“{atom.measure}” cannot be asked so", "write age < 18, sex == …")


def _words(words: Iterable[str], measure: Measure, place: Place) -> Iterator[Complaint]:
    has = _ASKED.get(measure.kind, measure.words)
    for word in words:
        if word not in has:
            what = f"“{word}” is not a word of {measure.id}"
            yield Complaint(place, what, f"use {listed(sorted(has))}")


def _is_number(measure: Measure) -> bool:
    """Whether a measure is recorded or worked out as one number."""
    return measure.kind in NUMBER_KINDS or (measure.kind is Kind.DERIVED and not measure.words)
