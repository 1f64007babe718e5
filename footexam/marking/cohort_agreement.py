"""How well a cohort agrees, measure by measure: students among one another and with a reference.

Left and right of one person are not two subjects. Among one another each side is therefore worked
out for itself, over volunteers; with the reference both sides are taken together, and the interval
treats volunteers and students as the samples (`crossed.py`). numpy and scipy are imported at use.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from footexam.catalogue.model import Measure
from footexam.marking.change import Formula
from footexam.marking.cohort import Cohort
from footexam.marking.compared import Item, Outcome, Sort
from footexam.marking.estimate import Estimate
from footexam.marking.pairing import Identity, identity
from footexam.marking.tables import Table, table_of, whole_part
from footexam.record.reading import Word
from footexam.terms import Kind, Side


@dataclass(frozen=True, slots=True)
class WithReference:
    """Students against the reference in one measure, both sides together.

    `bias`, `lower` and `upper` (95 % limits) are student minus reference in the measure's unit,
    `slope` is how the difference changes with the mean of both, `icc` is ICC(2,1). `kappa` is
    quadratic over all levels of an ordinal scale, and unweighted over all words of a choice.
    """

    pairs: int
    students: int
    volunteers: int
    bias: Estimate | None = None
    lower: Estimate | None = None
    upper: Estimate | None = None
    icc: Estimate | None = None
    kappa: Estimate | None = None
    slope: Estimate | None = None


@dataclass(frozen=True, slots=True)
class Among:
    """Students among one another in one measure on one side; the subjects are volunteers.

    `icc` and `sem` are over the whole table of `volunteers` by `students`; `gaps` are readings
    missing beside it, with which `alpha` copes and `fleiss` does not. `icc` is ICC(2,1): of any
    student's single reading, whose steady bias counts as disagreement. `sem` is the error of such a
    reading in the measure's unit. `metric` is that of `alpha`.
    """

    side: Side | None
    volunteers: int
    students: int
    gaps: int
    alpha: Estimate
    metric: str
    icc: Estimate | None = None
    sem: Estimate | None = None
    fleiss: Estimate | None = None


@dataclass(frozen=True, slots=True)
class MeasureAgreement:
    """All figures of agreement of one measure; `among` is empty where one student read it.

    `spread` is the root mean square error against the reference in expected errors; None where no
    such error is known.
    """

    measure: Measure
    sort: Sort
    reference: WithReference
    among: tuple[Among, ...]
    spread: Estimate | None = None


_YES_NO = ("yes", "no")
_Cell = tuple[str, Identity, str, Item]
"""Student, volunteer, day, and what was compared."""


@dataclass(frozen=True, slots=True)
class _Rows:
    """The items of one measure that can be compared, and the pair of values of each.

    `levels` are all levels of a scale, or places in the list of words; none of other numbers.
    """

    measure: Measure
    sort: Sort
    levels: tuple[int, ...]
    cells: tuple[_Cell, ...]
    pairs: tuple[tuple[float, float], ...]


def agreed(cohort: Cohort) -> tuple[MeasureAgreement, ...]:
    """Every measure of which two numbers, levels or single words could be compared."""
    rows = [found for cells in _by_measure(cohort).values() if (found := _rows(cells))]
    among, spreads = _among(rows), _spreads(rows)
    return tuple(
        MeasureAgreement(
            one.measure,
            one.sort,
            _with_reference(one),
            tuple(among.get(one.measure.id, ())),
            spreads.get(one.measure.id),
        )
        for one in rows
    )


def _by_measure(cohort: Cohort) -> dict[str, list[_Cell]]:
    found: dict[str, list[_Cell]] = {}
    for one in cohort.comparisons:
        student = one.student
        visit = student.examiner.name, identity(student.patient), student.examined_on.isoformat()
        for item in one.items:
            found.setdefault(item.measure.id, []).append((*visit, item))
    return found


def _rows(cells: Sequence[_Cell]) -> _Rows | None:
    """None where nothing can be compared as numbers, levels or single words."""
    measure = cells[0][3].measure
    words = _YES_NO if measure.kind is Kind.YES_NO else measure.words
    both = [(cell, pair) for cell in cells if (pair := _pair(cell[3], words)) is not None]
    if not both:
        return None
    item = both[0][0][3]
    levels = tuple(range(len(words))) if item.sort is Sort.WORD else item.levels
    kept, pairs = zip(*both, strict=True)
    return _Rows(measure, item.sort, levels, kept, pairs)


def _pair(item: Item, words: Sequence[str]) -> tuple[float, float] | None:
    """What the student and the reference have: numbers by one method, or places of words."""
    if item.sort is Sort.WORD:
        told = [reading and reading.value for reading in (item.student, item.reference)]
        at = [words.index(one.word) for one in told if isinstance(one, Word) and one.word in words]
        return (at[0], at[1]) if len(at) > 1 else None
    own, other = item.student_value, item.reference_value
    if own is None or other is None or item.outcome is Outcome.METHOD_DIFFERS:
        return None
    if item.levels and not {own, other} <= set(item.levels):
        return None  # the mean of repeats may lie between two levels
    return float(own), float(other)


# --- with the reference


def _with_reference(one: _Rows) -> WithReference:
    from footexam.marking import against
    from footexam.marking.kappa import Weights

    students = {name: place for place, name in enumerate(dict.fromkeys(c[0] for c in one.cells))}
    visited = {who: place for place, who in enumerate(dict.fromkeys(c[1] for c in one.cells))}
    places = [(students[name], visited[who]) for name, who, *_ in one.cells]
    size = len(one.pairs), len(students), len(visited)
    if not one.levels:
        numbers = against.numbers(places, one.pairs)
        bias, lower, upper, icc = (numbers[name] for name in ("bias", "lower", "upper", "icc"))
        return WithReference(*size, bias, lower, upper, icc, slope=numbers["slope"])
    kind = Weights.UNWEIGHTED if one.sort is Sort.WORD else Weights.QUADRATIC
    first = one.levels[0]
    levels = [(int(own) - first, int(other) - first) for own, other in one.pairs]
    found = against.kappa_of_levels(places, levels, len(one.levels), kind)
    return WithReference(*size, kappa=found)


def _spreads(rows: Iterable[_Rows]) -> dict[str, Estimate]:
    """The spread of the errors of each measure that has a known error."""
    from footexam.marking import against

    found: dict[str, dict[str, list[float]]] = {}
    for one in rows:
        for name, *_, item in one.cells:
            if item.error is not None:
                found.setdefault(one.measure.id, {}).setdefault(name, []).append(item.error)
    if not found:
        return {}
    told = against.spread([list(students.values()) for students in found.values()])
    return dict(zip(found, told, strict=True))


# --- among one another

_Place = tuple[str, Side | None]


def _among(rows: Iterable[_Rows]) -> dict[str, list[Among]]:
    """By measure, a figure for each side that two students read."""
    from footexam.marking.agreement import quantities, scales

    read: dict[_Place, _Rows] = {}
    tables: dict[_Place, Table] = {}
    for one in rows:
        for side, table in _tables(one).items():
            if len(table.examiners) > 1:
                read[one.measure.id, side], tables[one.measure.id, side] = one, table
    whole = {place: whole_part(table) for place, table in tables.items()}
    listed = {place: table for place, table in tables.items() if read[place].levels}
    plain = {place: table for place, table in whole.items() if place not in listed}
    numbers = quantities(plain)
    with_gaps = quantities({place: tables[place] for place in plain if tables[place].gaps})
    words = scales(listed, {place: read[place].levels for place in listed})
    found: dict[str, list[Among]] = {}
    for place, table in tables.items():
        size = len(whole[place].rows), len(whole[place].examiners), table.gaps
        if place in words:
            nominal = read[place].sort is Sort.WORD
            metric, fleiss = ("nominal", words[place].fleiss) if nominal else ("ordinal", None)
            among = Among(place[1], *size, words[place].alpha[metric], metric, fleiss=fleiss)
        else:
            alpha = with_gaps.get(place, numbers[place]).alpha
            icc, sem = numbers[place].icc["ICC(2,1)"], numbers[place].sem[Formula.AGREEMENT]
            among = Among(place[1], *size, alpha, "interval", icc, sem)
        found.setdefault(place[0], []).append(among)
    return found


def _tables(one: _Rows) -> dict[Side | None, Table]:
    """A table for each side: visits of volunteers by students, None where a reading is missing."""
    found: dict[Side | None, dict[tuple[str, str], float | None]] = {}
    for (name, who, day, item), (own, _) in zip(one.cells, one.pairs, strict=True):
        found.setdefault(item.side, {}).setdefault((" ".join((*who, day)), name), own)
    return {side: table_of(cells) for side, cells in found.items()}
