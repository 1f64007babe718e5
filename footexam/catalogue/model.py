"""The typed objects that forms/ is read into; frozen, without any reading of files."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from math import sqrt
from typing import TYPE_CHECKING

from footexam.terms import Depth, Examiner, Kind, Provenance, Sex, Side

if TYPE_CHECKING:
    from footexam.catalogue.arguments import (
        Accuracy,
        Check,
        Condition,
        Contradiction,
        DangerSign,
        Defeater,
        Gate,
        Hypothesis,
    )
    from footexam.catalogue.letters import Block, Outcome, PlainWord
    from footexam.catalogue.marking import Rubric
    from footexam.catalogue.plan_model import Aim, Conflict, DeviceArgument, Feature, Material
    from footexam.catalogue.training import Remark

Texts = Mapping[str, str]
"""A text by language code; English ("en") is always there."""

MDC_FACTOR = 1.96 * sqrt(2.0)
"""MDC95 divided by SEM: 1.96 times the square root of 2."""


def between(value: Decimal, low: Decimal | None, high: Decimal | None) -> bool:
    """Whether a value lies in a range, both ends included; an end that is None is open."""
    return (low is None or value >= low) and (high is None or value <= high)


@dataclass(frozen=True, slots=True)
class Source:
    """One citation; `doi` and `pmid` are empty where the paper has none."""

    id: str
    citation: str
    doi: str = ""
    pmid: str = ""


@dataclass(frozen=True, slots=True)
class ErrorSize:
    """One published measurement error of a measure, in the measure's unit.

    Exactly one of `sem`, `mdc95` or the pair `sd` and `icc` is set; a derived SEM keeps its formula
    and is not rounded (S2). `used` is False for a competing figure, which is listed only.
    `method` empty means: whatever the method.
    """

    examiner: Examiner
    source: str
    provenance: Provenance
    sem: Decimal | None = None
    mdc95: Decimal | None = None
    sd: Decimal | None = None
    icc: Decimal | None = None
    method: str = ""
    used: bool = True
    note: Texts | None = None

    def standard_error(self) -> float:
        """The SEM in the measure's unit, unrounded."""
        if self.sem is not None:
            return float(self.sem)
        if self.mdc95 is not None:
            return float(self.mdc95) / MDC_FACTOR
        if self.sd is None or self.icc is None:
            raise ValueError("an error size needs sem, mdc95, or sd with icc")
        return float(self.sd) * sqrt(1.0 - float(self.icc))


@dataclass(frozen=True, slots=True)
class Rule:
    """One figure of the rule that a derived measure is worked out by: a number, or words.

    `at` is in `unit`. `words` are looked for in what was written, in lower case.
    """

    id: str
    source: str
    provenance: Provenance
    at: Decimal | None = None
    unit: str = ""
    words: tuple[str, ...] = ()
    note: Texts | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table measure; its kinds are those of record/cells.py."""

    id: str
    kind: str
    label: Texts
    words: tuple[str, ...] = ()
    hard_low: Decimal | None = None
    hard_high: Decimal | None = None

    def takes(self, value: Decimal) -> bool:
        """Whether a number lies inside the hard limits."""
        return between(value, self.hard_low, self.hard_high)


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing that can be asked, seen or measured.

    Limits are in `unit`. Outside `hard_low..hard_high` a value is refused; outside
    `ask_low..ask_high` it is asked about once and kept (from `ask_from_age` completed years on).
    `best` says that the best of the repeats counts instead of their mean.
    `foot_by_foot`: on the sheet the left foot is scored through before the right one.
    `ordinal` numbers are judged on the whole-number grid `hard_low..hard_high` (S3).
    """

    id: str
    panel: str
    kind: Kind
    label: Texts
    depth: Depth
    how: Texts
    against: Texts
    sided: bool = False
    repeats: bool = False
    best: bool = False
    ordinal: bool = False
    foot_by_foot: bool = False
    none_known: bool = False
    unit: str = ""
    unit_words: tuple[str, ...] = ()
    decimals: int = 0
    words: tuple[str, ...] = ()
    methods: tuple[str, ...] = ()
    columns: tuple[Column, ...] = ()
    derived_from: tuple[str, ...] = ()
    hard_low: Decimal | None = None
    hard_high: Decimal | None = None
    ask_low: Decimal | None = None
    ask_high: Decimal | None = None
    ask_from_age: int | None = None
    when: str = ""
    heading: Texts | None = None
    errors: tuple[ErrorSize, ...] = ()
    rules: tuple[Rule, ...] = ()

    def rule(self, name: str) -> Rule:
        """A figure of this measure's rule; KeyError if forms/ gives none of that name."""
        for rule in self.rules:
            if rule.id == name:
                return rule
        raise KeyError(f"{self.id} has no rule {name}")

    def takes(self, value: Decimal) -> bool:
        """Whether a number in `unit` lies inside the hard limits."""
        return between(value, self.hard_low, self.hard_high)


@dataclass(frozen=True, slots=True)
class Panel:
    """The measures taken in one position of the patient, in order."""

    id: str
    label: Texts
    hint: Texts
    position: Texts
    measures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """One edge of a band: a value for which `value op at` holds is in `state`.

    `op` is one of `<`, `<=`, `>`, `>=`, as printed in the source. `source` and `provenance` are
    empty where they are those of the set.
    """

    op: str
    at: Decimal
    state: str
    source: str = ""
    provenance: Provenance | None = None


@dataclass(frozen=True, slots=True)
class NormGroup:
    """One row of a published table: who it is about, and what is usual for them.

    `ages` are completed years, both ends included; None means from 18 years on (S12). `sex` and
    `side` None mean pooled. `needs` names other readings that must hold one of the words (puberty).
    `low` and `high` are the cuts below and above the usual range, nearest to it first; without any,
    mean ± 1.96 SD is the usual range. One group per (measure, method, side, age, sex) is the
    default.
    """

    id: str
    label: Texts
    default: bool = False
    sex: Sex | None = None
    side: Side | None = None
    ages: tuple[int, int] | None = None
    needs: Mapping[str, tuple[str, ...]] | None = None
    n: int | None = None
    mean: Decimal | None = None
    sd: Decimal | None = None
    low: tuple[Cut, ...] = ()
    high: tuple[Cut, ...] = ()


@dataclass(frozen=True, slots=True)
class NormSet:
    """A published set of norms or cut-offs for one measure.

    `methods` empty: for any method, stated or not. `judged` False: shown beside the reading, never
    judging it. `round_to` is the printed unit of integer or one-decimal bands (Rule F 2).
    `interpolate`: mean and SD are interpolated between the midpoints of the groups' ages.
    `outside` names the words of a choice or yes-no measure that are outside the usual.
    `spread` is the provenance of mean and SD where it differs (an SD implied by printed bands).
    """

    id: str
    measure: str
    label: Texts
    source: str
    provenance: Provenance
    groups: tuple[NormGroup, ...] = ()
    methods: tuple[str, ...] = ()
    judged: bool = True
    interpolate: bool = False
    round_to: Decimal | None = None
    outside: tuple[str, ...] = ()
    spread: Provenance | None = None
    note: Texts | None = None


@dataclass(frozen=True, slots=True)
class DifferenceNorm:
    """What is usual between left and right: cuts on the absolute difference, nearest first (S9).

    `ages` are completed years, both ends included; None means from 18 years on, as for groups.
    """

    id: str
    measure: str
    source: str
    provenance: Provenance
    cuts: tuple[Cut, ...]
    label: Texts
    methods: tuple[str, ...] = ()
    sd: Decimal | None = None
    spread: Provenance | None = None
    note: Texts | None = None
    ages: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Region:
    """One place on the foot map; `view` is the drawing it lies on."""

    id: str
    label: Texts
    groups: tuple[str, ...]
    high_risk: bool
    view: str


@dataclass(frozen=True, slots=True)
class Context:
    """What opens a block of questions without being one itself; `when` is its condition."""

    id: str
    when: str
    label: Texts


@dataclass(frozen=True)
class Catalogue:
    """All of forms/ in memory, in the order of the files."""

    panels: Mapping[str, Panel]
    measures: Mapping[str, Measure]
    sources: Mapping[str, Source]
    regions: Mapping[str, Region]
    words: Mapping[str, Texts]
    norms: Mapping[str, tuple[NormSet, ...]]
    """Norm sets by measure id."""
    differences: Mapping[str, tuple[DifferenceNorm, ...]]
    """Norms of side differences by measure id."""
    renamed: Mapping[str, str]
    """Old measure id to new."""
    contexts: Mapping[str, Context] = field(default_factory=dict)
    cautions: Mapping[str, "DangerSign"] = field(default_factory=dict)
    gates: Mapping[str, "Gate"] = field(default_factory=dict)
    checks: Mapping[str, "Check"] = field(default_factory=dict)
    hypotheses: Mapping[str, "Hypothesis"] = field(default_factory=dict)
    contradictions: Mapping[str, "Contradiction"] = field(default_factory=dict)
    defeaters: Mapping[str, "Defeater"] = field(default_factory=dict)
    conditions: Mapping[str, "Condition"] = field(default_factory=dict)
    accuracy: Mapping[str, "Accuracy"] = field(default_factory=dict)
    weighing: Mapping[str, Rule] = field(default_factory=dict)
    """What suggestions are weighed by."""
    training: Mapping[str, Rule] = field(default_factory=dict)
    """What a training load is described by."""
    remarks: Mapping[str, "Remark"] = field(default_factory=dict)
    """What is known against such a description, printed beside it."""
    aims: Mapping[str, "Aim"] = field(default_factory=dict)
    features: Mapping[str, "Feature"] = field(default_factory=dict)
    conflicts: Mapping[str, "Conflict"] = field(default_factory=dict)
    device_arguments: Mapping[str, "DeviceArgument"] = field(default_factory=dict)
    materials: Mapping[str, "Material"] = field(default_factory=dict)
    figures: Mapping[str, Rule] = field(default_factory=dict)
    """What the calculations of a device rest on."""
    blocks: Mapping[str, "Block"] = field(default_factory=dict)
    """What letters, leaflets and review plans are made of."""
    outcomes: Mapping[str, "Outcome"] = field(default_factory=dict)
    plain: Mapping[str, "PlainWord"] = field(default_factory=dict)
    """Aims and features in words for patients."""
    rubrics: Mapping[str, "Rubric"] = field(default_factory=dict)
    """How students' examinations are marked."""

    @cached_property
    def order(self) -> Mapping[str, int]:
        """Place of each measure in the order of forms/."""
        return {name: place for place, name in enumerate(self.measures)}

    def word(self, word: str, language: str = "en") -> str:
        """A choice word or state as it is shown to people."""
        return say(self.words.get(word), language) or word.replace("-", " ")


def say(texts: Texts | None, language: str = "en") -> str:
    """The text in that language, else in English, else empty."""
    if not texts:
        return ""
    return texts.get(language) or texts.get("en", "")
