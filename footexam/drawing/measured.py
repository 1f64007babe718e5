"""From a finding to its ruler: the usual range it was judged by, the reading's place, its error."""

from dataclasses import dataclass
from decimal import Decimal
from math import sqrt

from footexam.catalogue.model import Catalogue, NormGroup, NormSet
from footexam.drawing.ruler import Mark, Place
from footexam.scoring.bands import Edge, scale
from footexam.scoring.errors import choose
from footexam.scoring.results import Finding, NormShown
from footexam.terms import WITHIN, Label

ERROR_BAR = 1.96
"""The error bar is the reading ± 1.96 standard errors of measurement (95 %)."""


@dataclass(frozen=True, slots=True)
class Usual:
    """The usual range that judged a finding, in the measure's unit; an end that is None is open."""

    set: NormSet
    group: NormGroup
    shown: NormShown
    low: Edge | None
    high: Edge | None

    @property
    def printed(self) -> bool:
        """Whether the ends are printed cuts; otherwise they are mean ± 1.96 SD."""
        return bool(self.group.low or self.group.high)


def usual_of(finding: Finding, catalogue: Catalogue) -> Usual | None:
    """The usual range that judged the finding; None where none did."""
    for shown in finding.norms:
        if not shown.judged:
            continue
        for norm in catalogue.norms.get(finding.measure, ()):
            group = next((group for group in norm.groups if group.id == shown.group), None)
            if norm.id == shown.set and group is not None:
                return _usual(norm, group, shown, catalogue.measures[finding.measure].ordinal)
    return None


def _usual(norm: NormSet, group: NormGroup, shown: NormShown, ordinal: bool) -> Usual:
    """The range of one group, by the very edges that scoring compares with."""
    spread = None
    if shown.mean is not None and shown.sd is not None:
        # interpolated between age groups, they stand in the finding only
        spread = Decimal(repr(shown.mean)), Decimal(repr(shown.sd))
    edges = scale(group, ordinal, norm.round_to, spread)
    return Usual(norm, group, shown, next(iter(edges.low), None), next(iter(edges.high), None))


def place_of(finding: Finding) -> Place:
    """Where a finding's reading lies against its usual range."""
    if finding.label in {None, Label.NOT_JUDGED} or finding.state is None:
        return Place.NOT_JUDGED
    if finding.state == WITHIN or finding.label is Label.WITHIN:
        return Place.WITHIN
    return Place.BELOW if (finding.operator or "").startswith("<") else Place.ABOVE


def mark_of(finding: Finding, catalogue: Catalogue) -> Mark | None:
    """The mark on the ruler of a finding; None for a finding that is a word."""
    if isinstance(finding.value, str):
        return None
    usual = usual_of(finding, catalogue)
    return Mark(
        value=float(finding.value),
        low=float(usual.low.cut) if usual and usual.low else None,
        high=float(usual.high.cut) if usual and usual.high else None,
        error=error_of(finding, catalogue),
        place=place_of(finding),
        uncertain=finding.label in {Label.POSSIBLE, Label.REPEAT},
    )


def error_of(finding: Finding, catalogue: Catalogue) -> float | None:
    """Half the error bar of a finding, in the measure's unit; None where the error is not known.

    It is the error that judges the reading against a norm, with the repeats taken (Rule F 3, 4);
    for a derived value without a published error, the one propagated from its inputs.
    """
    errors = choose(catalogue.measures[finding.measure].errors, finding.method)
    sem = errors.against_norm(max(1, finding.repeats))
    if sem is not None:
        return ERROR_BAR * sem
    return None if finding.change_needed is None else finding.change_needed / sqrt(2)
