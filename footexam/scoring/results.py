"""What scoring returns: scores, findings, differences, changes, problems; keys as assessed."""

from dataclasses import dataclass
from decimal import Decimal

from footexam.terms import Basis, ChangeLabel, Label, ProblemKind, Provenance, Side


@dataclass(frozen=True, slots=True)
class BandShown:
    """The band of one norm set that a score falls into."""

    set: str
    band: str
    source: str
    provenance: Provenance
    default: bool


@dataclass(frozen=True, slots=True)
class Score:
    """A derived measure's value on a side: a number with its unit, or a word."""

    measure: str
    side: Side | None
    value: Decimal | str
    unit: str
    bands: tuple[BandShown, ...]
    inputs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NormShown:
    """A norm shown beside a finding; `z` and `centile` only where mean and SD are given."""

    set: str
    group: str
    mean: float | None
    sd: float | None
    n: int | None
    source: str
    provenance: Provenance
    judged: bool
    z: float | None = None
    centile: float | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """What one reading is worth (Rule F); probabilities are P(true value beyond `limit`).

    `label` is None for a word outside the usual (F10). `prior` is the same probability in the norm
    group before the reading was taken; None without a norm.
    """

    measure: str
    side: Side | None
    value: Decimal | str
    unit: str
    repeats: int
    method: str | None
    state: str | None
    label: Label | None
    basis: Basis | None
    probability: float | None
    probability_error_only: float | None
    limit: float | None
    operator: str | None
    near_limit: bool | None
    change_needed: float | None
    inputs: tuple[str, ...]
    norms: tuple[NormShown, ...]
    prior: float | None = None


@dataclass(frozen=True, slots=True)
class Difference:
    """Left minus right of one measure, in its unit (S9)."""

    measure: str
    left: Decimal
    right: Decimal
    difference: Decimal
    change_needed: float | None
    beyond_error: bool | None
    usual_limit: float | None
    operator: str | None
    state: str | None
    label: Label
    probability: float | None
    probability_error_only: float | None


@dataclass(frozen=True, slots=True)
class Change:
    """Now minus before of one measure and side, in its unit (S10)."""

    measure: str
    side: Side | None
    before: Decimal
    now: Decimal
    change: Decimal
    change_needed: float | None
    probability_error_only: float | None
    label: ChangeLabel


@dataclass(frozen=True, slots=True)
class Problem:
    """A remark that stops nothing: a kept warning, an incomplete score, a contradiction."""

    measure: str
    side: Side | None
    value: str
    kind: ProblemKind
    message: str
