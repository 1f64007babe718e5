"""From what was typed or read for a measure to its value; a clear refusal where that fails.

The accepted forms are the kinds table of interface.md. Nothing typed is ever evaluated.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from footexam.catalogue.model import Catalogue, Measure
from footexam.messages import listed
from footexam.record import cells
from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Word,
    Words,
)
from footexam.record.refusal import Refusal, Typed, as_typed, fold, number, text
from footexam.terms import Kind
from footexam.units import NotANumber, UnitWords, read_duration, read_quantity, to_whole

MOST_READINGS = 10
NONE_KNOWN = "none-known"
_Read = TypeVar("_Read")


@dataclass(frozen=True, slots=True)
class Parsed:
    """A value and what was typed for it."""

    value: Value
    typed: str


def parse(typed: Typed, measure: Measure, catalogue: Catalogue) -> Parsed:
    """The value of `typed` for `measure`; numbers in the measure's unit. Raises Refusal."""
    if measure.kind is Kind.DERIVED:
        raise Refusal("derived-measure", words=listed(measure.derived_from, "and"))
    if measure.none_known and typed == NONE_KNOWN:
        return Parsed(NoneKnown(), NONE_KNOWN)
    value = _READERS[measure.kind](typed, measure, catalogue)
    return Parsed(value, as_typed(typed))


def _score(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    return Numbers((_whole(typed, measure),))


def _whole(typed: Typed, measure: Measure) -> Decimal:
    """A whole number inside the hard limits."""
    try:
        value = Decimal(to_whole(typed)) if isinstance(typed, str) else number(typed)
    except NotANumber as bad:
        raise _not_whole(typed, measure) from bad
    if value is None or value != value.to_integral_value():
        raise _not_whole(typed, measure)
    return _within_limits(value.quantize(Decimal(1)), measure)


def _not_whole(typed: Typed, measure: Measure) -> Refusal:
    return Refusal(
        "not-a-whole-number",
        what=as_typed(typed),
        low=measure.hard_low,
        high=measure.hard_high,
    )


def _quantity(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    readings = _readings(typed, measure)
    if len(readings) > 1 and not measure.repeats:
        raise Refusal("one-reading-only")
    if len(readings) > MOST_READINGS:
        raise Refusal("too-many-readings", count=len(readings))
    return Numbers(tuple(_within_limits(value, measure) for value in readings))


def _readings(typed: Typed, measure: Measure) -> tuple[Decimal, ...]:
    if isinstance(typed, str):
        return _from_text(typed, measure, read_quantity)
    plain = number(typed)
    if plain is not None:
        return (plain,)
    if not isinstance(typed, Sequence):
        raise Refusal(
            "wrong-shape",
            what="an object or true and false",
            words="a number or a text",
        )
    if not measure.repeats:
        raise Refusal("one-reading-only")
    if not typed:
        raise Refusal("list-empty")
    return tuple(_single(item, measure) for item in typed)


def _single(item: Typed, measure: Measure) -> Decimal:
    plain = number(item)
    if plain is not None:
        return plain
    if not isinstance(item, str):
        raise Refusal("mixed-list")
    values = _from_text(item, measure, read_quantity)
    if len(values) != 1:
        raise Refusal("mixed-list")
    return values[0]


def _from_text(typed: str, measure: Measure, read: Callable[[str, UnitWords], _Read]) -> _Read:
    units = UnitWords(measure.unit, measure.unit_words)
    try:
        return read(typed, units)
    except NotANumber as bad:
        shown = f" {measure.unit}" if measure.unit else ""
        words = listed(dict.fromkeys((measure.unit, *measure.unit_words)))
        raise Refusal(
            bad.code, what=bad.what or typed, unit=shown, words=words, only=measure.unit
        ) from bad


def _within_limits(value: Decimal, measure: Measure) -> Decimal:
    low, high = measure.hard_low, measure.hard_high
    if (low is not None and value < low) or (high is not None and value > high):
        unit = f" {measure.unit}" if measure.unit else ""
        raise Refusal("beyond-limit", value=value, low=low, high=high, unit=unit)
    return value


def _duration(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    value = _from_text(typed, measure, read_duration) if isinstance(typed, str) else number(typed)
    if value is None:
        raise Refusal("wrong-shape", what="a list or an object", words="a number or a text")
    return Numbers((_within_limits(value, measure),))


def _choice(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    return Word(_word(typed, measure.words))


def _word(typed: Typed, words: Sequence[str]) -> str:
    if not isinstance(typed, str) or fold(typed) not in words:
        raise Refusal("not-a-word", what=as_typed(typed), words=listed(words))
    return fold(typed)


def _yes_no(typed: Typed, _: Measure, __: Catalogue) -> Value:
    return Word(_yes_or_no(typed))


def _yes_or_no(typed: Typed) -> str:
    if not isinstance(typed, str) or fold(typed) not in {"yes", "no"}:
        raise Refusal("not-yes-no", what=as_typed(typed))
    return fold(typed)


def _yes_sites(typed: Typed, _: Measure, catalogue: Catalogue) -> Value:
    if not isinstance(typed, Mapping):
        return Sites(_yes_or_no(typed))
    unknown = set(typed) - {"answer", "sites"}
    if unknown:
        raise Refusal("unknown-key", what=min(unknown))
    if "answer" not in typed:
        raise Refusal("no-value")
    answer = _yes_or_no(typed["answer"])
    sites = _places(typed["sites"], catalogue) if "sites" in typed else ()
    if answer == "no" and sites:
        raise Refusal("wrong-shape", what="sites beside a no", words="yes with its sites, or no")
    return Sites(answer, sites)


def _several(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what="a single value", words="a list of words")
    if not typed:
        raise Refusal("list-empty")
    words = sorted({_word(item, measure.words) for item in typed})
    if "none" in words and len(words) > 1:
        raise Refusal("none-stands-alone")
    return Words(tuple(words))


def _text(typed: Typed, _: Measure, __: Catalogue) -> Value:
    return Text(text(typed))


def _regions(typed: Typed, _: Measure, catalogue: Catalogue) -> Value:
    return Words(_places(typed, catalogue))


def _places(typed: Typed, catalogue: Catalogue) -> tuple[str, ...]:
    """Region ids in map order."""
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what="a single value", words="a list of region ids")
    if not typed:
        raise Refusal("list-empty")
    for item in typed:
        if not isinstance(item, str) or item not in catalogue.regions:
            raise Refusal("unknown-region", what=as_typed(item))
    return tuple(region for region in catalogue.regions if region in typed)


def _region_values(typed: Typed, measure: Measure, catalogue: Catalogue) -> Value:
    if not isinstance(typed, Mapping):
        raise Refusal("wrong-shape", what="a bare value", words="an object of region and value")
    regions = _places(list(typed), catalogue)
    return RegionValues({region: _region_value(typed[region], measure) for region in regions})


def _region_value(typed: Typed, measure: Measure) -> Decimal:
    value = _within_limits(_single(typed, measure), measure)
    if not measure.decimals and value != value.to_integral_value() and measure.unit in _WHOLE_UNITS:
        raise _not_whole(typed, measure)
    return value


_WHOLE_UNITS = frozenset({"points", "grade"})


def _table(typed: Typed, measure: Measure, catalogue: Catalogue) -> Value:
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what="a single value", words="a list of rows")
    if not typed:
        raise Refusal("list-empty")
    return Rows(tuple(_row(row, measure, catalogue) for row in typed))


def _row(typed: Typed, measure: Measure, catalogue: Catalogue) -> Mapping[str, str | Decimal]:
    if not isinstance(typed, Mapping):
        raise Refusal("wrong-shape", what="a bare value as a row", words="an object for each row")
    if not typed:
        raise Refusal("row-empty")
    columns = {column.id: column for column in measure.columns}
    unknown = sorted(set(typed) - set(columns))
    if unknown:
        raise Refusal("unknown-column", what=unknown[0], words=listed(columns))
    return {
        name: cells.read(typed[name], column, catalogue)
        for name, column in columns.items()
        if name in typed
    }


def _activities(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what="a single value", words="a list of activities")
    if not 1 <= len(typed) <= 5:
        raise Refusal("activities-count", count=len(typed))
    return Activities(tuple(_activity(item, measure) for item in typed))


def _activity(typed: Typed, measure: Measure) -> tuple[str, int]:
    if not isinstance(typed, Mapping) or set(typed) != {"activity", "score"}:
        raise Refusal("activity-shape")
    return text(typed["activity"]), int(_whole(typed["score"], measure))


_READERS: Mapping[Kind, Callable[[Typed, Measure, Catalogue], Value]] = {
    Kind.SCORE: _score,
    Kind.QUANTITY: _quantity,
    Kind.PERCENT: _quantity,
    Kind.DURATION: _duration,
    Kind.CHOICE: _choice,
    Kind.YES_NO: _yes_no,
    Kind.YES_SITES: _yes_sites,
    Kind.SEVERAL: _several,
    Kind.TEXT: _text,
    Kind.TABLE: _table,
    Kind.REGIONS: _regions,
    Kind.REGION_VALUES: _region_values,
    Kind.ACTIVITIES: _activities,
}
