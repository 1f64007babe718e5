"""What a plan is: kept aims, features with their dimensions, clashes, room in the shoe."""

from dataclasses import dataclass, field
from decimal import Decimal

from footexam.catalogue.arguments import Check
from footexam.catalogue.plan_model import (
    Aim,
    Avoid,
    Conflict,
    DeviceArgument,
    Feature,
    FeatureClaim,
    Severity,
    Size,
)
from footexam.mechanics.formula import NotGiven
from footexam.mechanics.result import Result
from footexam.mechanics.stack import ForefootRoom, HeelRoom
from footexam.terms import Provenance, Side


@dataclass(frozen=True, slots=True)
class Dimension:
    """One dimension of a feature for this person, in the unit of `size`.

    `value` is what was chosen, else what was worked out (in the steps of the size), else the usual
    one. `low` and `high` are the range that it may have here. `result` is the calculation, None
    where there is none; `remark` says what it lacks, or why a chosen value is not sound.
    """

    size: Size
    value: Decimal
    low: Decimal
    high: Decimal
    provenance: Provenance
    chosen: bool = False
    result: Result | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Clash:
    """Something that fights a feature: another feature or an aim, by id, and why."""

    other: str
    severity: Severity
    why: str
    conflict: Conflict


@dataclass(frozen=True, slots=True)
class Candidate:
    """A feature that may serve an aim on a side.

    `claims` are those about the aim, the best grade first, then what is general; `harms` what can
    go wrong. `avoid` are reasons not to use it that hold for this person, `cautions` those that
    are only told.
    """

    feature: Feature
    aim: str
    side: Side | None
    dimensions: tuple[Dimension, ...]
    claims: tuple[FeatureClaim, ...]
    harms: tuple[FeatureClaim, ...]
    avoid: tuple[Avoid, ...]
    cautions: tuple[Avoid, ...]
    effects: tuple[Result | NotGiven, ...] = ()
    clashes: tuple[Clash, ...] = ()
    chosen: bool = False
    suggested: bool = False

    @property
    def id(self) -> str:
        """The id of the feature."""
        return self.feature.id

    @property
    def is_blocked(self) -> bool:
        """Whether something that holds for this person or plan refuses it."""
        reasons = [one.severity for one in self.avoid] + [one.severity for one in self.clashes]
        return Severity.BLOCK in reasons


@dataclass(frozen=True, slots=True)
class PlanAim:
    """An aim on a side, with the hypotheses that open it and the features that may serve it.

    No hypothesis opens some aims: they are there once they are kept. `against` are other wanted
    aims that cannot be had together with it.
    """

    aim: Aim
    side: Side | None
    hypotheses: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    kept: bool = False
    suggested: bool = False
    against: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """The id of the aim."""
        return self.aim.id


@dataclass(frozen=True, slots=True)
class ShoeRoom:
    """Whether the chosen device fits the shoe on a side, by zone."""

    side: Side
    heel: HeelRoom
    forefoot: ForefootRoom


@dataclass(frozen=True, slots=True)
class Unmet:
    """A check before something is given, with the measures that are not recorded yet."""

    check: Check
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """All of it; empty for a side while a caution holds it back.

    `chosen` are the features taken, as they were chosen, also those that serve no open aim.
    `device` are the arguments for a custom device, a prefabricated one or none that hold.
    """

    aims: tuple[PlanAim, ...] = ()
    chosen: tuple[Candidate, ...] = ()
    rooms: tuple[ShoeRoom, ...] = ()
    device: tuple[DeviceArgument, ...] = ()
    unmet: tuple[Unmet, ...] = ()
    held: tuple[Side | None, ...] = field(default=())

    @property
    def candidates(self) -> tuple[Candidate, ...]:
        """All features of all aims, in the order of the aims."""
        return tuple(one for aim in self.aims for one in aim.candidates)


NO_PLAN = Plan()
