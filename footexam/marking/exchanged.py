"""Left and right exchanged: found where the student's sides fit the reference crosswise only."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from footexam.marking.compared import AGREED, APART, Item, Outcome, Slip, Sort
from footexam.marking.numbers import is_within
from footexam.record.reading import Value
from footexam.terms import Side

LEAST = 3
"""Exchanged measures from which the whole examination looks exchanged, if most of them are."""


def mark_exchanged(items: Sequence[Item]) -> tuple[tuple[Item, ...], bool]:
    """The items, those that look exchanged marked so; and whether all of the examination does."""
    marked: list[Item] = []
    exchanged = told_apart = 0
    for _, group in groupby(items, key=lambda item: item.measure.id):
        rows = list(group)
        looks = _crosswise(rows)
        if looks is not None:
            told_apart += 1
            exchanged += looks
        marked += [_marked(row) for row in rows] if looks else rows
    return tuple(marked), exchanged >= LEAST and 2 * exchanged > told_apart


def _marked(item: Item) -> Item:
    return replace(item, slip=Slip.SIDES) if item.outcome not in AGREED else item


def _crosswise(rows: Iterable[Item]) -> bool | None:
    """Whether a measure fits only crosswise; None where its sides cannot tell."""
    sides = {row.side: row for row in rows}
    left, right = sides.get(Side.LEFT), sides.get(Side.RIGHT)
    if left is None or right is None or left.is_derived:
        return None
    if Slip.SIGN in {left.slip, right.slip}:
        return None  # a turned sign explains it as well, and is the smaller slip
    if left.student_value is not None and right.student_value is not None:
        return _numbers_crosswise(left, right)
    return _words_crosswise(left, right)


def _numbers_crosswise(left: Item, right: Item) -> bool | None:
    """Numbers tell the sides apart where the reference's sides differ beyond the tolerance."""
    values = left.student_value, right.student_value, left.reference_value, right.reference_value
    one, other, wanted_one, wanted_other = values
    limits = [item.tolerance for item in (left, right) if item.tolerance is not None]
    if one is None or other is None or wanted_one is None or wanted_other is None or not limits:
        return None
    limit = max(limits)
    if is_within(wanted_one - wanted_other, limit):
        return None
    crossed = is_within(one - wanted_other, limit) and is_within(other - wanted_one, limit)
    return crossed and Outcome.BEYOND in {left.outcome, right.outcome}


def _words_crosswise(left: Item, right: Item) -> bool | None:
    """Words tell the sides apart where the reference's sides are not the same."""
    one, other = _told(left, student=True), _told(right, student=True)
    wanted_one, wanted_other = _told(left), _told(right)
    if wanted_one == wanted_other or Sort.NUMBER in {left.sort, right.sort}:
        return None
    apart = not {left.outcome, right.outcome}.isdisjoint(APART | _ONE_SIDED)
    return apart and one == wanted_other and other == wanted_one


_ONE_SIDED = {Outcome.MISSING, Outcome.NO_REFERENCE}


def _told(item: Item, *, student: bool = False) -> Value | None:
    """What one of them recorded; None where there is no value."""
    reading = item.student if student else item.reference
    return reading.value if reading else None
