"""compare(): a student's examination against a reference, item by item; pure, no files.

There is no figure over unlike items: a coefficient over mixed scales is near 1 however wrong each
item is. Each item is told in units of its own expected error.
"""

from collections.abc import Container, Iterator, Mapping
from dataclasses import replace

from footexam.assessment import Assessment
from footexam.catalogue.marking import Seen
from footexam.catalogue.model import Catalogue, Measure
from footexam.marking.compared import (
    Comparison,
    Item,
    Outcome,
    Reasoned,
    Rule,
    Scale,
    Slip,
    Sort,
)
from footexam.marking.exchanged import mark_exchanged
from footexam.marking.numbers import Limits, compare_numbers, levels
from footexam.marking.reasoned import compare_reasoning
from footexam.marking.words import can_compare, compare_words
from footexam.record.examination import Examination
from footexam.record.reading import Numbers, Reading
from footexam.scoring.bench import Bench, bench
from footexam.scoring.measured import Measured, measured
from footexam.terms import NUMBER_KINDS, Kind, Side

LEVEL_LIMIT = 1
"""Levels by which an ordinal item may differ where no error of it is known (common practice)."""

Key = tuple[str, Side | None]


def compare(
    student: Examination,
    student_assessment: Assessment,
    reference: Examination,
    reference_assessment: Assessment,
    catalogue: Catalogue,
    limits: Limits | None = None,
    level_limit: int = LEVEL_LIMIT,
) -> Comparison:
    """Compare two examinations for which `pairing.mismatch` found nothing.

    `limits` are stated limits by measure in its unit; the tolerance is the larger of such a limit
    and the smallest detectable difference between two examiners.
    """
    work = _Work(bench(catalogue), limits or {}, level_limit)
    had = work.numbers(student, student_assessment)
    wanted = work.numbers(reference, reference_assessment)
    rows, unread = work.rows(student, had, reference, wanted)
    items, exchanged = mark_exchanged(rows)
    reasoned = compare_reasoning(student, student_assessment, reference, reference_assessment)
    return Comparison(
        student=student,
        reference=reference,
        items=items,
        scales=tuple(_scales(items)),
        reasoned=reasoned,
        unread=unread,
        sides_exchanged=exchanged,
        critical=tuple(_critical(items, reasoned, exchanged=exchanged)),
    )


class _Work:
    """What every item is compared with."""

    def __init__(self, desk: Bench, limits: Limits, level_limit: int) -> None:
        self.desk = desk
        self.limits = limits
        self.level_limit = level_limit

    def numbers(self, examination: Examination, assessment: Assessment) -> Mapping[Key, Measured]:
        """All numbers of an examination, read or worked out."""
        visit = self.desk.visit(examination)
        return measured(self.desk, visit, assessment.scores)

    def rows(
        self,
        student: Examination,
        had: Mapping[Key, Measured],
        reference: Examination,
        wanted: Mapping[Key, Measured],
    ) -> tuple[list[Item], tuple[Key, ...]]:
        """The items in forms order, and what a marker must read."""
        keys = {*student.readings, *reference.readings, *(had.keys() & wanted.keys())}
        known = (key for key in keys if key in self.desk.rank and not _is_told_by_side(key, keys))
        items: list[Item] = []
        unread: list[Key] = []
        for key in sorted(known, key=self.desk.rank.__getitem__):
            one, other = _reading(student, key), _reading(reference, key)
            if self._is_prose(one, other):
                unread.append(key)
                continue
            item = self._item(key, one, other, had.get(key), wanted.get(key))
            if item is not None:
                items.append(item)
        return items, tuple(unread)

    def _is_prose(self, one: Reading | None, other: Reading | None) -> bool:
        """Whether somebody typed what no program compares."""
        values = [reading.value for reading in (one, other) if reading and reading.value]
        return any(not isinstance(value, Numbers) and not can_compare(value) for value in values)

    def _item(
        self,
        key: Key,
        one: Reading | None,
        other: Reading | None,
        had: Measured | None,
        wanted: Measured | None,
    ) -> Item | None:
        """The item of a measure and side; None where neither has a value."""
        measure = self.desk.measures[key[0]]
        if had and wanted:
            item = compare_numbers(self.desk, had, wanted, self.limits, self.level_limit)
            return replace(item, student=one, reference=other)
        if one and other and can_compare(one.value) and can_compare(other.value):
            values = one.value, other.value
            found = compare_words(measure, (one, other), values, self.level_limit)
            return replace(found, side=key[1])
        return _one_sided(measure, key[1], one, other)


def _is_told_by_side(key: Key, keys: Container[Key]) -> bool:
    """Whether an answer without a side meets one with sides, to which it counts on both."""
    measure, side = key
    return side is None and any((measure, of) in keys for of in Side)


def _reading(examination: Examination, key: Key) -> Reading | None:
    """The reading of that side, else the one without a side."""
    measure, side = key
    return examination.reading(measure, side) or examination.reading(measure)


def _one_sided(
    measure: Measure, side: Side | None, one: Reading | None, other: Reading | None
) -> Item | None:
    """What only one of them has; a student's absence with its reason is told apart."""
    if other is not None and other.value is not None:
        said_why = one is not None and one.absent is not None
        outcome = Outcome.MISSING_REASON if said_why else Outcome.MISSING
    elif one is not None and one.value is not None:
        outcome = Outcome.NO_REFERENCE
    else:
        return None
    return Item(measure, side, _sort(measure), outcome, Rule.NONE, one, other)


def _sort(measure: Measure) -> Sort:
    if levels(measure):
        return Sort.ORDINAL
    return Sort.NUMBER if measure.kind in NUMBER_KINDS else Sort.WORD


def _scales(items: tuple[Item, ...]) -> Iterator[Scale]:
    """The read ordinal items by scale: the same levels, unit and position of the patient."""
    found: dict[tuple[tuple[int, ...], str, str], list[Item]] = {}
    for item in items:
        whole = item.student_value is not None and not item.is_derived
        if item.levels and whole and _on_grid(item):
            key = item.levels, item.measure.unit, item.measure.panel
            found.setdefault(key, []).append(item)
    for (scale, unit, panel), rows in found.items():
        yield Scale(scale, unit, panel, tuple(rows))


def _on_grid(item: Item) -> bool:
    """Whether both numbers are levels; the mean of repeats may lie between two."""
    values = item.student_value, item.reference_value
    return all(value is not None and value in item.levels for value in values)


def _is_wrong_side(items: tuple[Item, ...]) -> bool:
    """Whether the place of the complaint is on the other side, or two measures are exchanged."""
    measures = {item.measure.id: item.measure for item in items if item.slip is Slip.SIDES}
    complaint = any(measure.kind is Kind.REGIONS for measure in measures.values())
    return complaint or len(measures) > 1


def _critical(items: tuple[Item, ...], reasoned: Reasoned, *, exchanged: bool) -> Iterator[Seen]:
    """What a marker must look at before anything else."""
    if reasoned.cautions:
        yield Seen.MISSED_CAUTION
    if exchanged or _is_wrong_side(items):
        yield Seen.WRONG_SIDE
    if reasoned.held:
        yield Seen.UNSAFE_PLAN
