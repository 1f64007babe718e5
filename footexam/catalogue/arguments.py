"""The typed objects of cautions, hypotheses, conditions and test accuracy; frozen, no files read.

`when` texts are expressions (footexam/catalogue/expression.py). Points are decibans,
10·log10(likelihood ratio).
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from footexam.catalogue.model import Texts
from footexam.terms import Grade, Provenance, Tier


class Hold(StrEnum):
    """What is held back while a caution is open."""

    LOADING = "loading"
    PROVOCATION = "provocation"
    DEVICE = "device"
    IMPACT = "impact"
    PAIN_GUIDED = "pain-guided"


@dataclass(frozen=True, slots=True)
class Branch:
    """One way a caution fires, with how soon to act and what to do.

    `guideline` names the document and its version or year, "" where there is none.
    """

    id: str
    tier: Tier
    when: str
    trigger: Texts
    action: Texts
    umbrella: tuple[str, ...]
    unfolds: tuple[str, ...]
    source: str
    provenance: Provenance
    guideline: str = ""
    country: str = ""
    note: Texts | None = None


@dataclass(frozen=True, slots=True)
class DangerSign:
    """A caution of forms/cautions.toml; its branches stand the most serious first."""

    id: str
    label: Texts
    holds: tuple[Hold, ...]
    branches: tuple[Branch, ...]


@dataclass(frozen=True, slots=True)
class GateCause:
    """One reason for which a gate is shut."""

    when: str
    says: Texts


@dataclass(frozen=True, slots=True)
class Gate:
    """Measures that are not offered while one of the causes holds for the side."""

    id: str
    label: Texts
    forbids: tuple[str, ...]
    causes: tuple[GateCause, ...]
    because: Texts
    record: Texts
    source: str
    provenance: Provenance


@dataclass(frozen=True, slots=True)
class Check:
    """What must be recorded before something is given (a boot, compression, tight tape)."""

    id: str
    label: Texts
    asks: tuple[str, ...]
    says: Texts
    source: str
    provenance: Provenance


@dataclass(frozen=True, slots=True)
class Claim:
    """A statement about the evidence with its source; `about` says what it concerns, if told."""

    text: Texts | None
    source: str
    provenance: Provenance
    when: str = ""
    ratio: Decimal | None = None
    about: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of an argument: true, it adds its weight for or against.

    Exactly one of `points` (an expert weight, decibans, written positive) and `ratio` (a published
    likelihood ratio of the line being true) is set. Lines of one `group` see one thing.
    """

    when: str
    says: Texts
    group: str
    source: str
    provenance: Provenance
    points: Decimal | None = None
    ratio: Decimal | None = None
    note: Texts | None = None


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """What might explain the complaint: it is open where all of `require` is true.

    `stable`: an anatomical variant, which explains where the pain is, seldom when it began.
    `why_now`: itself a reason for the beginning. `capacity`: it lowers what the tissue bears
    rather than raising what it is loaded with. `tests` are measures that would settle it.
    """

    id: str
    label: Texts
    statement: Texts
    mechanism: Texts
    tissue: Texts
    capacity: bool
    stable: bool
    why_now: bool
    conditions: tuple[str, ...]
    grade_mechanics: Grade
    grade_injury: Grade
    counter: Texts
    test: Texts
    tests: tuple[str, ...]
    evidence: tuple[Claim, ...]
    require: tuple[Row, ...]
    support: tuple[Row, ...]
    against: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Defeater:
    """When readings of `measures` do not count: `when` holds and none of `unless` does.

    `unless` are ids of other defeaters that rebut this one.
    """

    id: str
    measures: tuple[str, ...]
    when: str
    says: Texts
    source: str
    provenance: Provenance
    unless: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Answers of one side that cannot both be so, while `when` holds."""

    id: str
    when: str
    says: Texts


@dataclass(frozen=True, slots=True)
class Condition:
    """What a complaint may be called, with what raises and lowers the thought of it.

    `nonunion_risk` (heals badly) and `reds_site_class` (trabecular-rich site) are two attributes
    that both go by "high risk" in print; each is "high", "low" or "none".
    """

    id: str
    label: Texts
    regions: tuple[str, ...]
    tissue: Texts
    modes: tuple[str, ...]
    nonunion_risk: str
    reds_site_class: str
    companions: tuple[str, ...]
    imaging: Texts
    refer: Texts
    first_line: Texts
    raises: tuple[Claim, ...]
    lowers: tuple[Claim, ...]
    claims: tuple[Claim, ...]


@dataclass(frozen=True, slots=True)
class Accuracy:
    """Published accuracy of a test for a target; None where it cannot be estimated.

    `doubtful` says why a row must not be computed with; None for a sound one.
    """

    id: str
    measure: str
    target: Texts
    condition: str
    reference: Texts
    source: str
    provenance: Provenance
    sensitivity: Decimal | None = None
    specificity: Decimal | None = None
    ratio_positive: Decimal | None = None
    ratio_negative: Decimal | None = None
    computed: bool = False
    doubtful: Texts | None = None
