"""Changes between two visits: now minus before of every number that both hold (S8, S10)."""

from collections.abc import Iterable
from decimal import Decimal
from math import hypot

from footexam.catalogue.model import Catalogue, Measure
from footexam.record.examination import Examination
from footexam.scoring import certainty, grid
from footexam.scoring.bench import Bench, bench
from footexam.scoring.errors import Doubt, change_needed
from footexam.scoring.judge import ends
from footexam.scoring.measured import Measured, comparing, measured, methods_clash, shared
from footexam.scoring.pairs import reached
from footexam.scoring.results import Change, Score
from footexam.terms import ChangeLabel


def compare(
    before: Examination,
    scores_before: Iterable[Score],
    now: Examination,
    scores_now: Iterable[Score],
    catalogue: Catalogue,
) -> list[Change]:
    """All changes in forms order.

    An unknown examiner counts as another one. A number read by another method than before is not
    judged.
    """
    desk = bench(catalogue)
    earlier = measured(desk, desk.visit(before), scores_before)
    later = measured(desk, desk.visit(now), scores_now)
    both = sorted((key for key in later if key in earlier), key=desk.rank.__getitem__)
    same = same_examiner(before, now)
    return [_change(desk, earlier[key], later[key], same=same) for key in both]


def same_examiner(one: Examination, other: Examination) -> bool:
    """Whether one person examined at both visits: the names agree, whatever the case."""
    names = [visit.examiner.name.strip().casefold() for visit in (one, other)]
    return bool(names[0]) and names[0] == names[1]


def _change(desk: Bench, before: Measured, now: Measured, *, same: bool) -> Change:
    doubts = NO_DOUBT, NO_DOUBT
    if not methods_clash(before, now):
        errors = desk.errors(now.measure, shared(before, now))
        doubts = (
            comparing(before, errors, same_examiner=same),
            comparing(now, errors, same_examiner=same),
        )
    needed = change_needed(*doubts)
    difference = now.value - before.value
    return Change(
        measure=now.measure.id,
        side=now.side,
        before=before.value,
        now=now.value,
        change=difference,
        change_needed=needed,
        probability_error_only=_chance(now.measure, before.value, now.value, doubts),
        label=_label(reached(difference, needed)),
    )


NO_DOUBT = Doubt(None, None, None)
"""The error of a number read by another method is not known."""


def _label(beyond: bool | None) -> ChangeLabel:
    if beyond is None:
        return ChangeLabel.NOT_JUDGED
    return ChangeLabel.CHANGED if beyond else ChangeLabel.INSIDE_ERROR


def _chance(
    measure: Measure, before: Decimal, now: Decimal, doubts: tuple[Doubt, Doubt]
) -> float | None:
    """Chance of a true change in the direction seen; None without error or without a change."""
    one, other = doubts[0].taken, doubts[1].taken
    if one is None or other is None or now == before:
        return None
    if not measure.ordinal:
        size = abs(float(now - before))
        return certainty.chance_above(size, hypot(one, other), 0.0)
    earlier = grid.cells(float(before), one, ends(measure))
    later = grid.cells(float(now), other, ends(measure))
    return grid.chance_greater(*((later, earlier) if now > before else (earlier, later)))
