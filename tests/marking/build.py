"""Builds comparisons from short readings."""

import copy
import json
from datetime import date
from typing import Any

from footexam.assessment import assess
from footexam.exchange.examination import read_examination
from footexam.marking.compare import compare
from footexam.marking.compared import Comparison, Item
from footexam.record.examination import Examination
from footexam.terms import Side
from tests.marking.term import tree
from tests.shipped import shipped

CATALOGUE = shipped()


def examination(
    readings: dict[str, Any], purpose: str = "student", name: str = "", **more: Any
) -> Examination:
    who = name or {"student": "A student", "reference": "A supervisor"}.get(purpose, "A clinician")
    file = {**tree(purpose, who, 1, copy.deepcopy(readings)), **more}
    data = json.dumps(file).encode()
    return read_examination(data, CATALOGUE, date(2026, 12, 31)).examination


def compared(
    student: dict[str, Any],
    reference: dict[str, Any],
    *,
    student_decisions: dict[str, Any] | None = None,
    reference_decisions: dict[str, Any] | None = None,
    **more: Any,
) -> Comparison:
    one = examination(student, decisions=student_decisions or {})
    other = examination(reference, "reference", decisions=reference_decisions or {})
    return compare(one, assess(one, CATALOGUE), other, assess(other, CATALOGUE), CATALOGUE, **more)


def item(comparison: Comparison, measure: str, side: Side | None = None) -> Item:
    return next(one for one in comparison.items if one.key == (measure, side))
