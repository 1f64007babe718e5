"""Examinations written as files, read and assessed with the forms as shipped; and marked cases.

A case names its source first, so that a failing test says which source it contradicts.
"""

import json
from datetime import date
from functools import cache
from typing import Any

import pytest

from footexam.assessment import Assessment, assess
from footexam.catalogue.model import Catalogue
from footexam.exchange.examination import read_examination
from footexam.record.examination import Examination
from footexam.scoring.bench import bench
from footexam.scoring.results import Change, Difference, Finding, NormShown, Score
from footexam.terms import Side
from tests.shipped import shipped

TODAY = date(2026, 3, 4)
LEFT, RIGHT = Side.LEFT, Side.RIGHT
WITHIN = "within"
KINDS = ("published", "unchecked", "derived", "common_practice")
"""Markers that say what an expected value rests on."""


def published(source: str, *values: object) -> Any:
    """A case whose expected value was read in the source."""
    return _case(pytest.mark.published, source, values)


def unchecked(source: str, *values: object) -> Any:
    """A case whose expected value is ascribed to the source, but was not read in it."""
    return _case(pytest.mark.unchecked, source, values)


def derived(source: str, *values: object) -> Any:
    """A case whose expected value was computed from figures of the source."""
    return _case(pytest.mark.derived, source, values)


def practice(source: str, *values: object) -> Any:
    """A case whose expected value is a rule of thumb of the trade."""
    return _case(pytest.mark.common_practice, source, values)


def _case(mark: pytest.MarkDecorator, source: str, values: tuple[object, ...]) -> Any:
    shown = " ".join(str(value) for value in values)
    return pytest.param(
        source, *values, marks=mark, id=f"{source}: {shown}".encode("ascii", "replace").decode()
    )


@cache
def forms() -> Catalogue:
    return shipped()


def read(
    readings: dict[str, Any],
    *,
    age: int | None = 40,
    sex: str = "female",
    examiner: str = "A. Examiner",
) -> Examination:
    """The examination of a file with these readings of a person who turns `age` on the day."""
    born = None if age is None else TODAY.replace(year=TODAY.year - age).isoformat()
    file = {
        "format": "footexam/examination",
        "version": 1,
        "patient": {"family_name": "Example", "birth_date": born, "sex": sex},
        "examined_on": TODAY.isoformat(),
        "examiner": {"name": examiner},
        "readings": readings,
    }
    return read_examination(json.dumps(file).encode(), forms(), TODAY).examination


def assessed(readings: dict[str, Any], **who: Any) -> Assessment:
    return assess(read(readings, **who), forms())


def one(measure: str, value: object, side: Side | None = RIGHT) -> dict[str, Any]:
    """One reading; with a side of None that of a measure without sides."""
    return {measure: value if side is None else {side.value: value}}


def taken(value: object, method: str) -> dict[str, object]:
    """A value with its method."""
    return {"value": value, "method": method}


def finding(found: Assessment, measure: str, side: Side | None = RIGHT) -> Finding:
    (row,) = (row for row in found.findings if (row.measure, row.side) == (measure, side))
    return row


def score(found: Assessment, measure: str, side: Side | None = RIGHT) -> Score | None:
    """The score of a side, or None if there is none."""
    rows = [row for row in found.scores if (row.measure, row.side) == (measure, side)]
    assert len(rows) <= 1
    return rows[0] if rows else None


def difference(found: Assessment, measure: str) -> Difference:
    (row,) = (row for row in found.differences if row.measure == measure)
    return row


def shown(row: Finding, norms: str) -> list[NormShown]:
    """The groups of a norm set that stand beside a finding."""
    return [norm for norm in row.norms if norm.set == norms]


def the_norm(row: Finding, norms: str, group: str | None = None) -> NormShown:
    """The one group of a norm set beside a finding; `group` where the set shows several."""
    (norm,) = (norm for norm in shown(row, norms) if group in (None, norm.group))
    return norm


def band(
    readings: dict[str, Any], measure: str, norms: str, side: Side | None = RIGHT, **who: Any
) -> str | None:
    """The band of a norm set that a number falls into, judging or not; None if it does not fit."""
    examination = read(readings, **who)
    row = finding(assess(examination, forms()), measure, side)
    desk = bench(forms())
    judge = desk.judges(examination).judge(forms().measures[measure], side, row.method)
    return {found.set: found.band for found in judge.bands(row.value)}.get(norms)


def change(
    before: dict[str, Any],
    now: dict[str, Any],
    measure: str,
    side: Side | None = RIGHT,
    *,
    same_examiner: bool = True,
) -> Change:
    """The change of a measure between two visits of an adult."""
    later = read(now, examiner="A. Examiner" if same_examiner else "B. Examiner")
    found = assess(later, forms(), read(before))
    (row,) = (row for row in found.changes if (row.measure, row.side) == (measure, side))
    return row
