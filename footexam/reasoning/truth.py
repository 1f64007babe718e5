"""Compiles expressions to three-valued conditions, and tells how surely a true one is true.

A condition is True, False, or None where a reading it needs is missing. Sureness is an odds ratio:
the odds that the condition truly holds, given the reading and its error, over the odds before
(statistics.md 4, 5); it is infinite where nothing was measured, as for words.
"""

import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from math import inf

from footexam.catalogue.expression import (
    AGE,
    SEX,
    Atom,
    Either,
    Every,
    Expression,
    Marked,
    Ranged,
    Worded,
    measures_of,
    parse_expression,
)
from footexam.reasoning.view import View
from footexam.scoring.measured import Measured
from footexam.scoring.normal import area_below
from footexam.terms import Label, Sex

Truth = bool | None
Groups = Mapping[str, frozenset[str]]
"""The places that belong to a group of places."""
Errors = Callable[[Measured], float | None]
"""The SEM of a number that is held against a limit, in its unit; None where it is not known."""

CERTAIN = inf
_COMPARE: Mapping[str, Callable[[Decimal, Decimal], bool]] = {
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "==": operator.eq,
    "!=": operator.ne,
}
_BEYOND = frozenset({Label.LIKELY, Label.POSSIBLE, Label.REPEAT})
_PERCENT = 100


@dataclass(frozen=True, slots=True)
class Rule:
    """A compiled expression. `odds` may be asked only where `holds` is True."""

    text: str
    measures: tuple[str, ...]
    holds: Callable[[View], Truth]
    odds: Callable[[View], float]
    atoms: "tuple[AtomRule, ...]"
    yes: frozenset[str] | None = None
    """Questions one of which must be answered yes for it to hold; None where there is no such."""

    def may_hold(self, view: View) -> bool:
        """False where it cannot hold: a quick look before `holds`."""
        return self.yes is None or not self.yes.isdisjoint(view.yes)


@dataclass(frozen=True, slots=True)
class AtomRule:
    """A compiled atom with the measure it looks at."""

    atom: Atom
    measures: tuple[str, ...]
    holds: Callable[[View], Truth]


def compile_rule(text: str, groups: Groups, errors: Errors) -> Rule:
    """The rule of an expression. Raises BadExpression."""
    tree = parse_expression(text)
    found: list[AtomRule] = []
    holds, odds = _compile(tree, _Maker(groups, errors), found)
    return Rule(text, measures_of(tree), holds, odds, tuple(found), _must_be_yes(tree))


def _must_be_yes(tree: Expression) -> frozenset[str] | None:
    """The questions of which at least one is answered yes wherever the tree is true."""
    if isinstance(tree, Worded):
        return frozenset({tree.measure}) if tree.is_one and tree.words == ("yes",) else None
    if not isinstance(tree, Every | Either):
        return None
    parts = [_must_be_yes(part) for part in tree.parts]
    known = [part for part in parts if part is not None]
    if isinstance(tree, Every):
        return min(known, key=len, default=None)
    return frozenset().union(*known) if len(known) == len(parts) else None


Pair = tuple[Callable[[View], Truth], Callable[[View], float]]


def _compile(tree: Expression, maker: "_Maker", found: list[AtomRule]) -> Pair:
    if not isinstance(tree, Every | Either):
        pair = maker.atom(tree)
        found.append(AtomRule(tree, measures_of(tree), pair[0]))
        return pair
    parts = [_compile(part, maker, found) for part in tree.parts]
    return _every(parts) if isinstance(tree, Every) else _either(parts)


def _every(parts: list[Pair]) -> Pair:
    def holds(view: View) -> Truth:
        known: Truth = True
        for part, _ in parts:
            one = part(view)
            if one is False:
                return False
            known = None if one is None else known
        return known

    return holds, lambda view: min(odds(view) for _, odds in parts)


def _either(parts: list[Pair]) -> Pair:
    def holds(view: View) -> Truth:
        known: Truth = False
        for part, _ in parts:
            one = part(view)
            if one:
                return True
            known = None if one is None else known
        return known

    def surest(view: View) -> float:
        return max(odds(view) for part, odds in parts if part(view))

    return holds, surest


def _certain(_view: View) -> float:
    return CERTAIN


class _Maker:
    """Makes the conditions of atoms."""

    def __init__(self, groups: Groups, errors: Errors) -> None:
        self.groups = groups
        self.errors = errors

    def atom(self, atom: Atom) -> Pair:
        match atom:
            case Worded():
                return _sex(atom) if atom.measure == SEX else _worded(atom), _certain
            case Ranged():
                return _ranged(atom)
            case Marked():
                return self.marked(atom), _certain
        compare, limit = _COMPARE[atom.sign], atom.limit
        if atom.of:
            return _sides(atom.measure, compare, Decimal(limit), atom.of), _certain
        if atom.measure == AGE:
            return _age(compare, Decimal(limit)), _certain
        return self.compared(atom.measure, compare, limit)

    def marked(self, atom: Marked) -> Callable[[View], Truth]:
        if atom.how == "has":
            return _worded(Worded(atom.measure, atom.names))
        names: frozenset[str] = frozenset()
        for name in atom.names:
            names |= self.groups.get(name, frozenset({name}))
        return _region(atom.measure, names) if atom.how == "region" else _clear(atom.measure, names)

    def compared(
        self, measure: str, compare: Callable[[Decimal, Decimal], bool], limit: Decimal | str
    ) -> Pair:
        def against(view: View) -> Decimal | None:
            if isinstance(limit, Decimal):
                return limit
            other = view.measured(limit)
            return other.value if other else None

        def holds(view: View) -> Truth:
            found, held = view.measured(measure), against(view)
            return None if found is None or held is None else compare(found.value, held)

        def odds(view: View) -> float:
            found, held = view.measured(measure), against(view)
            if found is None or held is None:
                return CERTAIN
            sem = self.errors(found)
            if not sem:
                return CERTAIN
            return _odds(area_below(abs(float(found.value - held)) / sem))

        return holds, odds


def _worded(atom: Worded) -> Callable[[View], Truth]:
    measure, wanted, is_one = atom.measure, frozenset(atom.words), atom.is_one

    def holds(view: View) -> Truth:
        words = view.words(measure)
        return None if words is None else (not wanted.isdisjoint(words)) is is_one

    return holds


def _sex(atom: Worded) -> Callable[[View], Truth]:
    wanted, is_one = frozenset(atom.words), atom.is_one

    def holds(view: View) -> Truth:
        return None if view.sex is Sex.UNKNOWN else (view.sex.value in wanted) is is_one

    return holds


def _age(compare: Callable[[Decimal, Decimal], bool], limit: Decimal) -> Callable[[View], Truth]:
    def holds(view: View) -> Truth:
        if view.ages is None:
            return None
        youngest, oldest = (compare(age, limit) for age in view.ages)
        return youngest if youngest is oldest else None

    return holds


def _sides(
    measure: str, compare: Callable[[Decimal, Decimal], bool], limit: Decimal, of: str
) -> Callable[[View], Truth]:
    def holds(view: View) -> Truth:
        both = view.sides(measure)
        if both is None:
            return None
        left, right = both[0].value, both[1].value
        apart = abs(right - left)
        if of == "side_percent":
            larger = max(abs(left), abs(right))
            apart = _PERCENT * apart / larger if larger else apart
        return compare(apart, limit)

    return holds


def _ranged(atom: Ranged) -> Pair:
    measure, where = atom.measure, atom.where
    sign = "<" if where == "low" else ">"

    def holds(view: View) -> Truth:
        finding = view.finding(measure)
        if finding is None or finding.label is None or finding.label is Label.NOT_JUDGED:
            return None
        beyond = finding.label in _BEYOND
        if where == "ok":
            return not beyond
        return beyond and (finding.operator or "").startswith(sign)

    def odds(view: View) -> float:
        finding = view.finding(measure)
        if finding is None:
            return CERTAIN
        chance, before = finding.probability, finding.prior
        if chance is None or before is None:
            chance, before = finding.probability_error_only, None
        if chance is None:
            return CERTAIN
        if where == "ok":
            chance, before = 1.0 - chance, None if before is None else 1.0 - before
        return _odds(chance, 0.5 if before is None else before)

    return holds, odds


def _odds(chance: float, before: float = 0.5) -> float:
    """The odds of a chance over the odds before; infinite where the chance is 1."""
    if chance >= 1.0 or before <= 0.0:
        return CERTAIN
    return chance / (1.0 - chance) / (before / (1.0 - before)) if before < 1.0 else 1.0


def _region(measure: str, names: frozenset[str]) -> Callable[[View], Truth]:
    def holds(view: View) -> Truth:
        marks = view.marks(measure)
        if marks is None:
            return None
        if marks.marked is None or not names.isdisjoint(marks.marked):
            return True
        return False if marks.looked_at is None or names <= marks.looked_at else None

    return holds


def _clear(measure: str, names: frozenset[str]) -> Callable[[View], Truth]:
    def holds(view: View) -> Truth:
        marks = view.marks(measure)
        if marks is None:
            return None
        if marks.marked is None or not names.isdisjoint(marks.marked):
            return False
        return True if marks.looked_at is None or names <= marks.looked_at else None

    return holds
