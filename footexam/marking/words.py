"""Answers that are no number against each other: words by match, sets and places one by one."""

from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import TypeGuard

from footexam.catalogue.model import Measure
from footexam.marking.compared import Item, Outcome, Rule, Sort
from footexam.record.reading import (
    NoneKnown,
    Reading,
    RegionValues,
    Sites,
    Value,
    Word,
    Words,
)

Comparable = Word | Words | Sites | RegionValues | NoneKnown
"""Answers that a program can compare; typed texts, tables and activities are read by a person."""

Parts = tuple[Sort, tuple[str, ...]]
"""How an answer is compared, and the words or places in it."""


def can_compare(value: Value | None) -> TypeGuard[Comparable]:
    """Whether a program can compare an answer."""
    return isinstance(value, Comparable)


def _parts(value: Comparable) -> Parts:
    match value:
        case Word(word):
            return Sort.WORD, (word,)
        case Words(words):
            return Sort.SET, words
        case Sites(word, sites):
            return Sort.SET, (word, *sites)
        case _:  # places with numbers are compared before
            return Sort.WORD, ("none-known",)


def compare_words(
    measure: Measure,
    readings: tuple[Reading, Reading],
    values: tuple[Comparable, Comparable],
    level_limit: int,
) -> Item:
    """The student's answer and the reference's of one measure and side."""
    (student, reference), (one, other) = readings, values
    if isinstance(one, RegionValues) and isinstance(other, RegionValues):
        return _places(measure, student, one, reference, other, level_limit)
    had, wanted = _parts(one), _parts(other)
    missed = tuple(word for word in wanted[1] if word not in had[1])
    added = tuple(word for word in had[1] if word not in wanted[1])
    return Item(
        measure=measure,
        side=student.side,
        sort=max(had[0], wanted[0], key=_SORTS.index),
        outcome=Outcome.DIFFERENT if missed or added else Outcome.SAME,
        rule=Rule.MATCH,
        student=student,
        reference=reference,
        missed=missed,
        added=added,
    )


_SORTS = (Sort.WORD, Sort.SET)


def _places(
    measure: Measure,
    student: Reading,
    one: RegionValues,
    reference: Reading,
    other: RegionValues,
    level_limit: int,
) -> Item:
    """Places with a number each: missed is what the reference found and the student did not.

    A place that was found by both may differ by the limit of levels. A place that the reference
    looked at and found nothing in need not have been looked at.
    """
    found = _found(one.values, other.values, level_limit)
    missed = tuple(name for name in other.values if name in found[0])
    added = tuple(name for name in one.values if name in found[1])
    same = {k: v for k, v in one.values.items() if v} == {
        k: v for k, v in other.values.items() if v
    }
    agreed = Outcome.SAME if same else Outcome.WITHIN
    return Item(
        measure=measure,
        side=student.side,
        sort=Sort.PLACES,
        outcome=Outcome.DIFFERENT if missed or added else agreed,
        rule=Rule.LEVELS,
        student=student,
        reference=reference,
        tolerance=float(level_limit),
        missed=missed,
        added=added,
    )


def _found(
    one: Mapping[str, Decimal], other: Mapping[str, Decimal], limit: int
) -> tuple[Collection[str], Collection[str]]:
    """The places with clearly less, and those with clearly more, than in the reference."""
    none = Decimal(0)
    less = [name for name, value in other.items() if value - one.get(name, none) > limit]
    more = [name for name, value in one.items() if value - other.get(name, none) > limit]
    return less, more
