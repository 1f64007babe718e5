"""Numbers of two examiners against each other, each with its own error; ordinal ones by levels."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from math import hypot

from footexam.catalogue.model import Measure
from footexam.marking.compared import Item, Outcome, Rule, Slip, Sort
from footexam.scoring.bench import Bench
from footexam.scoring.errors import change_needed, pair_doubt
from footexam.scoring.measured import Measured, methods_clash, shared
from footexam.scoring.pairs import settled
from footexam.terms import Kind

MOST_LEVELS = 13
"""Levels up to which an ordinal scale is compared level by level."""

Limits = Mapping[str, float]
"""Stated limits by measure, in its unit."""


def levels(measure: Measure) -> tuple[int, ...]:
    """The full list of an ordinal scale; empty for any other measure, and for a long one."""
    low, high = measure.hard_low, measure.hard_high
    if not measure.ordinal or low is None or high is None:
        return ()
    whole = tuple(range(int(low), int(high) + 1))
    return whole if len(whole) <= MOST_LEVELS else ()


def compare_numbers(
    desk: Bench, student: Measured, reference: Measured, limits: Limits, level_limit: int
) -> Item:
    """Two numbers of one measure and side.

    The error is that of another examiner, never the smaller one of the same. A difference of
    exactly the tolerance is within: in doubt for the student.
    """
    measure, scale = student.measure, levels(student.measure)
    difference = student.value - reference.value
    item = Item(
        measure=measure,
        side=student.side,
        sort=Sort.ORDINAL if scale else Sort.NUMBER,
        outcome=Outcome.NOT_JUDGED,
        rule=Rule.NONE,
        student_value=student.value,
        reference_value=reference.value,
        difference=difference,
        levels=scale,
    )
    if methods_clash(student, reference):
        return replace(item, outcome=Outcome.METHOD_DIFFERS)
    error, needed = _expected(desk, student, reference)
    rule, tolerance = _tolerance(measure, scale, needed, limits, level_limit)
    return replace(
        item,
        outcome=_outcome(difference, tolerance),
        rule=rule,
        tolerance=tolerance,
        standard_error=error,
        error=float(difference) / error if error else None,
        slip=_sign_slip(measure, student.value, reference.value, tolerance),
    )


def _expected(
    desk: Bench, student: Measured, reference: Measured
) -> tuple[float | None, float | None]:
    """The standard error of the difference and the smallest detectable difference (95 %).

    None where no error of another examiner is known: what is propagated from readings of one
    examiner is too small to judge another by.
    """
    if student.carried or reference.carried:
        return None, None
    errors = desk.errors(student.measure, shared(student, reference))
    one = pair_doubt(errors, same_examiner=False, repeats=student.repeats)
    other = pair_doubt(errors, same_examiner=False, repeats=reference.repeats)
    if one.taken is None or other.taken is None:
        return None, None
    return hypot(one.taken, other.taken), change_needed(one, other)


def _tolerance(
    measure: Measure,
    scale: tuple[int, ...],
    needed: float | None,
    limits: Limits,
    level_limit: int,
) -> tuple[Rule, float | None]:
    """The larger of the stated limit and the smallest detectable difference, and which it is."""
    stated = limits.get(measure.id)
    if stated is None and needed is None:
        judged_by_level = scale and measure.kind is not Kind.DERIVED
        return (Rule.LEVELS, float(level_limit)) if judged_by_level else (Rule.NONE, None)
    if needed is None or (stated is not None and stated > needed):
        return Rule.LIMIT, stated
    return Rule.ERROR, needed


def _outcome(difference: Decimal, tolerance: float | None) -> Outcome:
    if difference == 0:
        return Outcome.SAME
    if tolerance is None:
        return Outcome.NOT_JUDGED
    return Outcome.WITHIN if is_within(difference, tolerance) else Outcome.BEYOND


def is_within(difference: Decimal, tolerance: float) -> bool:
    """Whether a difference is at most the tolerance."""
    return settled(difference) <= Decimal(repr(tolerance))


def _sign_slip(
    measure: Measure, student: Decimal, reference: Decimal, tolerance: float | None
) -> Slip | None:
    """A sign left out or too many: beyond the tolerance as it stands, within it when turned."""
    low, high = measure.hard_low, measure.hard_high
    two_sided = low is not None and high is not None and low < 0 < high
    if not two_sided or student * reference >= 0:
        return None
    if tolerance is None:
        return Slip.SIGN if student == -reference else None
    beyond = not is_within(student - reference, tolerance)
    near = abs(student + reference) < abs(student - reference)
    return Slip.SIGN if beyond and near and is_within(student + reference, tolerance) else None
