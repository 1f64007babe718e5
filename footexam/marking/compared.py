"""What a comparison of two examinations holds; values without behaviour, but for counts."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from footexam.catalogue.marking import Seen
from footexam.catalogue.model import Measure
from footexam.record.examination import Examination
from footexam.record.reading import Reading
from footexam.terms import Side, Tier


class Sort(StrEnum):
    """How a measure is compared; figures of different sorts are never put into one."""

    NUMBER = "number"
    ORDINAL = "ordinal"
    WORD = "word"
    SET = "set"
    PLACES = "places"


class Outcome(StrEnum):
    """What the comparison of one item comes to."""

    SAME = "same"
    WITHIN = "within"
    BEYOND = "beyond"
    DIFFERENT = "different"
    NOT_JUDGED = "not-judged"
    METHOD_DIFFERS = "method-differs"
    MISSING = "missing"
    MISSING_REASON = "missing-with-reason"
    NO_REFERENCE = "no-reference"


class Rule(StrEnum):
    """What the tolerance of an item is."""

    ERROR = "smallest-detectable-difference"
    LIMIT = "stated-limit"
    LEVELS = "levels"
    MATCH = "match"
    NONE = "none"


class Slip(StrEnum):
    """What a difference looks like; for the marker to look at, never corrected by the program."""

    SIDES = "sides-exchanged"
    SIGN = "sign"


AGREED = frozenset({Outcome.SAME, Outcome.WITHIN})
APART = frozenset({Outcome.BEYOND, Outcome.DIFFERENT})
MISSED = frozenset({Outcome.MISSING, Outcome.MISSING_REASON})
JUDGED = AGREED | APART


@dataclass(frozen=True, slots=True)
class Item:
    """One measure on one side, read by both; numbers in the measure's unit.

    `difference` is student minus reference. `error` is the difference in standard errors of a
    difference between two examiners: (student - reference) / sqrt(SEM_s^2 + SEM_r^2); None where
    no such error is known. `tolerance` is the larger of a stated limit and the smallest detectable
    difference. `levels` is the full list of an ordinal scale. `student` and `reference` are the
    readings, None of a derived measure. `missed` and `added` are words or places.
    """

    measure: Measure
    side: Side | None
    sort: Sort
    outcome: Outcome
    rule: Rule
    student: Reading | None = None
    reference: Reading | None = None
    student_value: Decimal | None = None
    reference_value: Decimal | None = None
    difference: Decimal | None = None
    standard_error: float | None = None
    error: float | None = None
    tolerance: float | None = None
    levels: tuple[int, ...] = ()
    missed: tuple[str, ...] = ()
    added: tuple[str, ...] = ()
    slip: Slip | None = None

    @property
    def key(self) -> tuple[str, Side | None]:
        """Measure and side."""
        return self.measure.id, self.side

    @property
    def is_derived(self) -> bool:
        """Whether it was worked out from other readings, which stand for themselves."""
        return self.student is None and self.reference is None

    @property
    def beyond(self) -> float | None:
        """By how much the difference is larger than the tolerance; None unless it is."""
        if self.outcome is not Outcome.BEYOND or self.difference is None or self.tolerance is None:
            return None
        return abs(float(self.difference)) - self.tolerance


@dataclass(frozen=True, slots=True)
class Scale:
    """The ordinal items of one scale, taken together: the only ones that may share a figure.

    `pairs` are student and reference levels, `levels` the full list, used or not.
    """

    levels: tuple[int, ...]
    unit: str
    panel: str
    items: tuple[Item, ...]

    @property
    def pairs(self) -> tuple[tuple[int, int], ...]:
        """Student and reference level of each item."""
        return tuple(
            (int(item.student_value), int(item.reference_value))
            for item in self.items
            if item.student_value is not None and item.reference_value is not None
        )

    @property
    def exact(self) -> int:
        """How many items have the same level."""
        return sum(one == other for one, other in self.pairs)


@dataclass(frozen=True, slots=True)
class CautionMissed:
    """A danger that the reference shows and the student's record does not, or as less urgent."""

    id: str
    side: Side | None
    tier: Tier | None
    student_tier: Tier | None = None


Named = tuple[str, Side | None]
"""A hypothesis, an aim or a feature, and its side."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """What both chose, only the reference, only the student."""

    agreed: tuple[Named, ...] = ()
    missed: tuple[Named, ...] = ()
    added: tuple[Named, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether neither chose anything."""
        return not (self.agreed or self.missed or self.added)


@dataclass(frozen=True, slots=True)
class Sized:
    """A dimension of a feature that both chose, as both have it, in `unit`; `step` is its grain."""

    feature: str
    side: Side | None
    size: str
    unit: str
    student: Decimal
    reference: Decimal
    step: Decimal

    @property
    def is_near(self) -> bool:
        """Whether they differ by no more than one step."""
        return abs(self.student - self.reference) <= self.step


@dataclass(frozen=True, slots=True)
class Reasoned:
    """Cautions, accepted hypotheses and the plan of both.

    `held` are cautions of the reference's findings that hold back a device on a side for which the
    student planned one.
    """

    cautions: tuple[CautionMissed, ...] = ()
    hypotheses: Chosen = field(default_factory=Chosen)
    aims: Chosen = field(default_factory=Chosen)
    features: Chosen = field(default_factory=Chosen)
    sizes: tuple[Sized, ...] = ()
    held: tuple[Named, ...] = ()

    @property
    def has_plan(self) -> bool:
        """Whether either of them planned anything."""
        return not (self.aims.is_empty and self.features.is_empty)


@dataclass(frozen=True, slots=True)
class Comparison:
    """A student's examination against a reference of the same patient on the same day.

    `unread` are measures that no program compares (typed texts and tables), for the marker to read.
    `sides_exchanged`: left and right look exchanged throughout. `critical` is proposed; a marker
    confirms it.
    """

    student: Examination
    reference: Examination
    items: tuple[Item, ...]
    scales: tuple[Scale, ...]
    reasoned: Reasoned
    unread: tuple[tuple[str, Side | None], ...] = ()
    sides_exchanged: bool = False
    critical: tuple[Seen, ...] = ()

    def count(self, *outcomes: Outcome) -> int:
        """How many items came to these; derived ones, which repeat their inputs, are left out."""
        return sum(item.outcome in outcomes and not item.is_derived for item in self.items)

    def those(self, outcomes: frozenset[Outcome]) -> Iterator[Item]:
        """The items that came to one of these, in forms order."""
        return (item for item in self.items if item.outcome in outcomes)
