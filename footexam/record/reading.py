"""Readings: what was recorded for one measure and side, as value and as typed."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from footexam.terms import Absence, Side


@dataclass(frozen=True, slots=True)
class Numbers:
    """One to ten repeats in the measure's unit (scores, quantities, percents, durations)."""

    readings: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class Word:
    """A choice word, or "yes" or "no"."""

    word: str


@dataclass(frozen=True, slots=True)
class Words:
    """Several words, sorted; or regions in map order."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Text:
    """Free text as typed, NFC."""

    text: str


@dataclass(frozen=True, slots=True)
class Sites:
    """A yes or no with its regions; a yes without its site counts as the most serious."""

    word: str
    sites: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RegionValues:
    """A number for each region looked at, in map order; 0 is "looked at, nothing"."""

    values: Mapping[str, Decimal]


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of a table measure, in the order given; a cell is text or a number."""

    rows: tuple[Mapping[str, str | Decimal], ...]


@dataclass(frozen=True, slots=True)
class NoneKnown:
    """Asked, and there are none (conditions, medicines, allergies)."""


@dataclass(frozen=True, slots=True)
class Activities:
    """One to five activities named by the patient with a score 0 to 10."""

    items: tuple[tuple[str, int], ...]


Value = Numbers | Word | Words | Text | Sites | RegionValues | Rows | NoneKnown | Activities


@dataclass(frozen=True, slots=True)
class Reading:
    """What stands in one cell.

    Exactly one of `value` and `absent` is set. `side` None: an unsided measure, or a caution
    question answered without a side. `performed_at` (UTC, ISO with Z) is set for late entries.
    `seq` is the entry's number in the journal. `typed_both`: typed once for both sides.
    """

    measure: str
    side: Side | None
    value: Value | None
    typed: str = ""
    absent: Absence | None = None
    reason: str = ""
    note: str = ""
    method: str | None = None
    performed_at: str | None = None
    typed_both: bool = False
    seq: int = 0
