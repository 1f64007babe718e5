"""Numbers of a measure: whole scores, repeats and durations, in its unit and its hard limits."""

from collections.abc import Callable, Sequence
from decimal import Decimal

from footexam.catalogue.model import Column, Measure
from footexam.messages import listed
from footexam.record.refusal import Refusal, Typed, after_number, as_typed, in_digits, number, shape
from footexam.units import (
    NotANumber,
    UnitWords,
    as_thousands,
    read_duration,
    read_quantity,
    to_whole,
)

MOST_READINGS = 10
_WHOLE_UNITS = frozenset({"points", "grade"})
_Read = Callable[[str, UnitWords], tuple[Decimal, ...]]


def score(typed: Typed, measure: Measure) -> Decimal:
    """A whole number inside the hard limits. Raises Refusal."""
    try:
        value = Decimal(to_whole(typed)) if isinstance(typed, str) else number(typed)
    except NotANumber as bad:
        raise _not_whole(typed, measure) from bad
    if value is None or value != value.to_integral_value():
        raise _not_whole(typed, measure)
    return Decimal(int(within_limits(value, measure)))


def _not_whole(typed: Typed, measure: Measure) -> Refusal:
    low, high = in_digits(measure.hard_low), in_digits(measure.hard_high)
    return Refusal("not-a-whole-number", what=as_typed(typed), low=low, high=high)


def repeats(typed: Typed, measure: Measure) -> tuple[Decimal, ...]:
    """One reading, or one to ten where the measure takes repeats. Raises Refusal."""
    readings = _readings(typed, measure)
    if len(readings) > 1 and not measure.repeats:
        raise Refusal("one-reading-only")
    _check_count(len(readings))
    return tuple(within_limits(value, measure) for value in readings)


def _check_count(count: int) -> None:
    if count > MOST_READINGS:
        raise Refusal("too-many-readings", count=count)


def _readings(typed: Typed, measure: Measure) -> tuple[Decimal, ...]:
    if isinstance(typed, str):
        return _from_text(typed, measure, read_quantity)
    plain = number(typed)
    if plain is not None:
        return (plain,)
    if not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what=shape(typed), words="a number or a text")
    if not measure.repeats:
        raise Refusal("one-reading-only")
    if not typed:
        raise Refusal("list-empty")
    _check_count(len(typed))
    return tuple(_item(item, measure) for item in typed)


def _item(item: Typed, measure: Measure) -> Decimal:
    plain = number(item)
    if plain is not None:
        return plain
    values = _from_text(item, measure, read_quantity) if isinstance(item, str) else ()
    if len(values) != 1:
        raise Refusal("mixed-list", what=as_typed(item))
    return values[0]


def duration(typed: Typed, measure: Measure) -> Decimal:
    """One duration. Raises Refusal."""
    if isinstance(typed, str):
        (value,) = _from_text(typed, measure, _one_duration)
    else:
        plain = number(typed)
        if plain is None:
            raise Refusal("wrong-shape", what=shape(typed), words="a number or a text")
        value = plain
    return within_limits(value, measure)


def _one_duration(typed: str, units: UnitWords) -> tuple[Decimal, ...]:
    return (read_duration(typed, units),)


def at_region(typed: Typed, measure: Measure) -> Decimal:
    """The one number of a region, whole where points or grades are counted. Raises Refusal."""
    if measure.unit in _WHOLE_UNITS:
        return score(typed, measure)
    if not isinstance(typed, str) and number(typed) is None:
        raise Refusal("wrong-shape", what=shape(typed), words="one number for each place")
    return within_limits(_item(typed, measure), measure)


def _from_text(typed: str, measure: Measure, read: _Read) -> tuple[Decimal, ...]:
    units = UnitWords(measure.unit, measure.unit_words)
    try:
        values = read(typed, units)
    except NotANumber as bad:
        raise _unreadable(bad, measure) from bad
    thousands = as_thousands(typed)
    if thousands:
        _refuse_two_ways(typed, values, read(thousands, units), measure)
    return values


def _unreadable(bad: NotANumber, measure: Measure) -> Refusal:
    if bad.code == "unknown-unit" and not measure.unit:
        return Refusal("no-unit-taken", what=bad.what)
    return Refusal(
        bad.code,
        what=bad.what,
        unit=after_number(measure.unit),
        repeats=", and a space between repeats" if measure.repeats else "",
        words=listed(dict.fromkeys((measure.unit, *measure.unit_words))),
        only=measure.unit,
    )


def _refuse_two_ways(
    typed: str, small: tuple[Decimal, ...], large: tuple[Decimal, ...], limits: Measure | Column
) -> None:
    """Refuse `1,500` where 1500 is possible too: a silent thousandth would be a wrong record."""
    if all(limits.takes(value) for value in large):
        shown = (" ".join(map(in_digits, values)) for values in (small, large))
        raise Refusal("two-ways", what=typed, **dict(zip(("small", "large"), shown, strict=True)))


def in_column(typed: Typed, column: Column) -> Decimal | None:
    """The number of a table cell inside the column's limits, else None. Raises Refusal."""
    if isinstance(typed, str):
        try:
            (value,) = read_quantity(typed, UnitWords(""))
        except ValueError:  # no number, or several
            return None
        thousands = as_thousands(typed)
        if thousands:
            _refuse_two_ways(typed, (value,), read_quantity(thousands, UnitWords("")), column)
    else:
        plain = number(typed)
        if plain is None:
            return None
        value = plain
    return value if column.takes(value) else None


def within_limits(value: Decimal, measure: Measure) -> Decimal:
    """The value itself, unless it lies outside the hard limits. Raises Refusal."""
    if not measure.takes(value):
        shown = in_digits(value)
        if measure.takes(Decimal(shown)):  # rounding would hide why it is refused
            shown = as_typed(value)
        low, high = in_digits(measure.hard_low), in_digits(measure.hard_high)
        unit = after_number(measure.unit)
        raise Refusal("beyond-limit", value=shown, low=low, high=high, unit=unit)
    return value
