"""Every number of an examination, read or worked out, with its method and its error."""

from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from footexam.catalogue.model import Measure
from footexam.record.reading import Numbers
from footexam.scoring.bench import Bench
from footexam.scoring.derived.registry import SLOPES
from footexam.scoring.errors import Doubt, Errors, pair_doubt, propagated
from footexam.scoring.results import Score
from footexam.scoring.visit import Key, Visit, mean
from footexam.terms import Side


class Measured(NamedTuple):
    """One number: the mean of so many repeats, in the measure's unit.

    `carried` is the error propagated from the inputs of a derived value (F11); None where the
    measure's own figures hold. `inputs` are empty for a reading.
    """

    measure: Measure
    side: Side | None
    value: Decimal
    repeats: int
    method: str | None
    carried: Doubt | None = None
    inputs: tuple[str, ...] = ()


def measured(desk: Bench, visit: Visit, scores: Iterable[Score]) -> dict[Key, Measured]:
    """All numbers by measure and side; measures that left the catalogue are left out."""
    found: dict[Key, Measured] = {}
    for key, reading in visit.examination.readings.items():
        value = reading.value
        if isinstance(value, Numbers) and key in desk.rank:
            measure, readings = desk.measures[key[0]], value.readings
            number, method = mean(readings, measure.best), visit.method_of(reading)
            found[key] = Measured(measure, key[1], number, len(readings), method)
    for score in scores:
        if isinstance(score.value, Decimal):
            found[score.measure, score.side] = _worked_out(desk, visit, score, score.value)
    return found


def _worked_out(desk: Bench, visit: Visit, score: Score, value: Decimal) -> Measured:
    measure, side = desk.measures[score.measure], score.side
    method = visit.shared_method(score.inputs, side)
    error = _carried(desk, visit, measure, side, desk.errors(measure, method))
    return Measured(measure, side, value, 1, method, error, score.inputs)


def _carried(
    desk: Bench, visit: Visit, measure: Measure, side: Side | None, own: Errors
) -> Doubt | None:
    """The propagated error; None where the measure has its own or an input has none."""
    if own.same or own.other or measure.id not in desk.carrying:
        return None
    parts = []
    for (name, of_side), slope in SLOPES[measure.id](visit, side):
        errors = desk.errors(desk.measures[name], visit.method(name, of_side))
        parts.append((slope, errors, visit.repeats(name, of_side)))
    return propagated(parts)


def comparing(row: Measured, errors: Errors, *, same_examiner: bool) -> Doubt:
    """The error of a number that is compared with another of its measure."""
    return row.carried or pair_doubt(errors, same_examiner=same_examiner, repeats=row.repeats)


def shared(one: Measured, other: Measured) -> str | None:
    """The method of both numbers; None where it is not the same."""
    return one.method if one.method == other.method else None


def methods_clash(one: Measured, other: Measured) -> bool:
    """Whether both methods are stated and differ, so that the numbers cannot be compared."""
    return bool(one.method and other.method and one.method != other.method)
