"""From what was typed or read for a measure to its value; a clear refusal where that fails.

The accepted forms are the kinds table of interface.md. Nothing typed is ever evaluated.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from footexam.catalogue.model import Catalogue, Measure
from footexam.messages import listed
from footexam.record import numbers, places, tables
from footexam.record.kept import kept
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
from footexam.record.refusal import Refusal, Typed, as_typed, fold, shape, text
from footexam.terms import Kind

NONE_KNOWN = "none-known"


@dataclass(frozen=True, slots=True)
class Parsed:
    """A value and what was typed for it."""

    value: Value
    typed: str


def parse(typed: Typed, measure: Measure, catalogue: Catalogue) -> Parsed:
    """The value of `typed` for `measure`; numbers in the measure's unit. Raises Refusal."""
    if measure.kind is Kind.DERIVED:
        raise derived(measure)
    if measure.none_known and typed == NONE_KNOWN:
        return Parsed(NoneKnown(), NONE_KNOWN)
    value = _READERS[measure.kind](typed, measure, catalogue)
    return Parsed(value, kept(typed, value))


def derived(measure: Measure) -> Refusal:
    """The refusal of a reading for a measure that is worked out from others."""
    return Refusal("derived-measure", words=listed(measure.derived_from, "and"))


def _score(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    return Numbers((numbers.score(typed, measure),))


def _quantity(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    return Numbers(numbers.repeats(typed, measure))


def _duration(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    return Numbers((numbers.duration(typed, measure),))


def _choice(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    return Word(_word(typed, measure.words))


def _word(typed: Typed, words: Sequence[str]) -> str:
    if not isinstance(typed, str) or fold(typed) not in words:
        raise Refusal("not-a-word", what=as_typed(typed), words=listed(words))
    return fold(typed)


def _yes_no(typed: Typed, _: Measure, __: Catalogue) -> Value:
    return Word(places.yes_or_no(typed))


def _yes_sites(typed: Typed, _: Measure, catalogue: Catalogue) -> Value:
    return Sites(*places.sites(typed, catalogue))


def _several(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    if isinstance(typed, str) or not isinstance(typed, Sequence):
        raise Refusal("wrong-shape", what=shape(typed), words="a list of words")
    if not typed:
        raise Refusal("list-empty")
    words = sorted({_word(item, measure.words) for item in typed})
    if "none" in words and len(words) > 1:
        raise Refusal("none-stands-alone")
    return Words(tuple(words))


def _text(typed: Typed, _: Measure, __: Catalogue) -> Value:
    return Text(text(typed))


def _regions(typed: Typed, _: Measure, catalogue: Catalogue) -> Value:
    return Words(places.regions(typed, catalogue))


def _region_values(typed: Typed, measure: Measure, catalogue: Catalogue) -> Value:
    return RegionValues(places.region_values(typed, measure, catalogue))


def _table(typed: Typed, measure: Measure, catalogue: Catalogue) -> Value:
    return Rows(tables.rows(typed, measure, catalogue))


def _activities(typed: Typed, measure: Measure, _: Catalogue) -> Value:
    return Activities(tables.activities(typed, measure))


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
