"""Which norm groups fit a person and a method, and which of them judges.

A norm belongs to its method: a set with methods fits only readings taken so, and goes before one
for any method. Ages are completed years, both ends included. With sex other or unknown a pooled
group judges where there is one; otherwise both sexed groups are shown and none judges (S11).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from footexam.catalogue.model import Measure, NormGroup, NormSet
from footexam.scoring.bands import Scale, scale
from footexam.scoring.visit import ADULT_FROM, Person
from footexam.terms import Sex, Side

MONTHS_A_YEAR = 12
EVERY_AGE = (0, 120)
"""The ages of a norm that holds for everybody, a person of unknown age included."""
NEITHER = (Sex.OTHER, Sex.UNKNOWN)
"""Sexes for which no sexed norm judges."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """A norm group that fits, with its usual range; `judges` for the one that makes the finding."""

    set: NormSet
    group: NormGroup
    mean: float | None
    sd: float | None
    scale: Scale
    judges: bool


def fits_method(methods: tuple[str, ...], method: str | None) -> bool:
    """Whether norms for these methods hold for a reading; no methods mean any, stated or not."""
    return not methods or method in methods


def fitted(
    measure: Measure,
    sets: Iterable[NormSet],
    person: Person,
    side: Side | None,
    method: str | None,
) -> tuple[Fitted, ...]:
    """All groups that fit, in the order of forms/, at most one of them judging."""
    found = [
        (norms, group)
        for norms in sets
        if fits_method(norms.methods, method)
        for group in norms.groups
        if _fits(group, person, side)
    ]
    chosen = _chosen(found, person.sex)
    return tuple(
        _fit(measure, norms, group, person, judges=group is chosen) for norms, group in found
    )


def _fits(group: NormGroup, person: Person, side: Side | None) -> bool:
    return (
        fits_age(group.ages, person)
        and (group.side is None or group.side is side)
        and _fits_sex(group.sex, person.sex)
        and fits_answers(group, person)
    )


def fits_age(ages: tuple[int, int] | None, person: Person) -> bool:
    """Whether a norm for these ages holds; without ages from 18 on (S12).

    At unknown age a norm for every age holds, and one without ages unless the person is a minor.
    """
    if person.age is None:
        return ages == EVERY_AGE or (ages is None and not person.minor)
    first, last = ages or (ADULT_FROM, person.age.years)
    return first <= person.age.years <= last


def _fits_sex(group: Sex | None, sex: Sex) -> bool:
    """Pooled groups fit everybody; sexed ones their sex, and both are listed for other sexes."""
    return group is None or group is sex or sex in NEITHER


def fits_answers(group: NormGroup, person: Person) -> bool:
    """Whether the answers a group needs were given."""
    if not group.needs:
        return True
    answers = dict(person.answers)
    return all(answers.get(measure) in words for measure, words in group.needs.items())


def _chosen(found: Sequence[tuple[NormSet, NormGroup]], sex: Sex) -> NormGroup | None:
    """The default group, the most particular one first: by method, then side, then sex.

    For sex other or unknown only a pooled group may judge, the default one first (S11).
    """
    judged = [(norms, group) for norms, group in found if norms.judged]
    if sex in NEITHER:
        judged = [pair for pair in judged if pair[1].sex is None]
    else:
        judged = [pair for pair in judged if pair[1].default]
    return max(judged, key=_particular, default=(None, None))[1]


def _particular(pair: tuple[NormSet, NormGroup]) -> tuple[bool, bool, bool, bool]:
    norms, group = pair
    return group.default, bool(norms.methods), group.side is not None, group.sex is not None


def _fit(
    measure: Measure, norms: NormSet, group: NormGroup, person: Person, *, judges: bool
) -> Fitted:
    spread = _spread(norms, group, person)
    edges = scale(group, measure.ordinal, norms.round_to, spread)
    mean = spread[0] if spread else group.mean
    return Fitted(
        norms,
        group,
        None if mean is None else float(mean),
        float(spread[1]) if spread else None,
        edges,
        judges,
    )


def _spread(norms: NormSet, group: NormGroup, person: Person) -> tuple[Decimal, Decimal] | None:
    """Mean and SD of the group, interpolated by age where the set says so; None without both."""
    if group.mean is None or group.sd is None:
        return None
    if not norms.interpolate or person.age is None or group.ages is None:
        return group.mean, group.sd
    rows = sorted(
        (_midpoint(g.ages), g.mean, g.sd)
        for g in norms.groups
        if g.ages and g.mean is not None and g.sd is not None and _alike(g, group)
    )
    return interpolated(rows, Decimal(person.age.months) / MONTHS_A_YEAR)


def _alike(one: NormGroup, other: NormGroup) -> bool:
    """Whether two groups differ in nothing but age."""
    return (one.sex, one.side, one.needs) == (other.sex, other.side, other.needs)


def _midpoint(ages: tuple[int, int]) -> Decimal:
    """Middle of the half-open age span [first, last + 1) in years."""
    return Decimal(ages[0] + ages[1] + 1) / 2


Row = tuple[Decimal, Decimal, Decimal]
"""Age in years, mean and SD."""


def interpolated(rows: Sequence[Row], years: Decimal) -> tuple[Decimal, Decimal]:
    """Mean and SD at an age between neighbouring rows, which are sorted by age.

    Before the first and after the last row theirs hold: nothing is extrapolated.
    """
    before = rows[0]
    for row in rows:
        if row[0] > years:
            return _between(before, row, years)
        before = row
    return before[1], before[2]


def _between(low: Row, high: Row, years: Decimal) -> tuple[Decimal, Decimal]:
    if low is high:
        return low[1], low[2]
    share = (years - low[0]) / (high[0] - low[0])
    return low[1] + share * (high[1] - low[1]), low[2] + share * (high[2] - low[2])
