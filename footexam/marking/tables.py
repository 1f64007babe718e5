"""Readings of many subjects by many examiners, arranged to one table for each measure.

A coefficient is worked out for one table at a time, so unlike measures never end up in one figure.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rated:
    """One reading: who read what on whom; `subject` is one foot, if the measure has sides.

    `value` is in the unit of the measure, None where it is missing.
    """

    measure: str
    subject: str
    examiner: str
    value: float | None


@dataclass(frozen=True, slots=True)
class Table:
    """One measure: a row for each subject, a column for each examiner, None where missing."""

    subjects: tuple[str, ...]
    examiners: tuple[str, ...]
    rows: tuple[tuple[float | None, ...], ...]

    @property
    def gaps(self) -> int:
        """How many readings are missing."""
        return sum(value is None for row in self.rows for value in row)

    def pair(self, first: str, second: str) -> "Table":
        """The columns of two examiners; ValueError for an unknown one."""
        if not {first, second} <= set(self.examiners):
            raise ValueError(f"{first} and {second} are not both among the examiners")
        places = [self.examiners.index(first), self.examiners.index(second)]
        rows = tuple(tuple(row[place] for place in places) for row in self.rows)
        return Table(self.subjects, (first, second), rows)


def arranged(readings: Iterable[Rated]) -> dict[str, Table]:
    """Tables by measure; subjects and examiners in the order they first occur.

    ValueError where an examiner read a measure of a subject twice.
    """
    found: dict[str, dict[tuple[str, str], float | None]] = {}
    for one in readings:
        cells = found.setdefault(one.measure, {})
        if (one.subject, one.examiner) in cells:
            raise ValueError(f"{one.measure} of {one.subject}: two readings of {one.examiner}")
        cells[one.subject, one.examiner] = one.value
    return {measure: table_of(cells) for measure, cells in found.items()}


def table_of(cells: Mapping[tuple[str, str], float | None]) -> Table:
    """The table of readings by subject and examiner, each in the order of its first one."""
    subjects = tuple(dict.fromkeys(subject for subject, _ in cells))
    examiners = tuple(dict.fromkeys(examiner for _, examiner in cells))
    rows = tuple(
        tuple(cells.get((subject, examiner)) for examiner in examiners) for subject in subjects
    )
    return Table(subjects, examiners, rows)


def whole_part(table: Table) -> Table:
    """A part of a table without gaps: whoever lacks the largest share is left out, one by one.

    Without rows where nothing is left of two examiners. numpy is imported at use.
    """
    if not table.gaps:
        return table
    import numpy as np

    gap = np.array([[value is None for value in row] for row in table.rows])
    rows, columns = np.full(len(gap), fill_value=True), np.full(gap.shape[1], fill_value=True)
    while (live := gap & rows[:, None] & columns).any():
        by_row, by_column = live.sum(axis=1) * rows.sum(), live.sum(axis=0) * columns.sum()
        if by_row.max() > by_column.max():
            rows[by_row.argmax()] = False
        else:
            columns[by_column.argmax()] = False
    if columns.sum() < 2:
        return Table((), table.examiners, ())
    kept = [place for place, keep in enumerate(columns.tolist()) if keep]
    left = [place for place, keep in enumerate(rows.tolist()) if keep]
    return Table(
        tuple(table.subjects[row] for row in left),
        tuple(table.examiners[column] for column in kept),
        tuple(tuple(table.rows[row][column] for column in kept) for row in left),
    )
