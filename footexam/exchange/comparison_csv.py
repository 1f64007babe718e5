"""Comparisons as a table for spreadsheets: CSV, one row for each item of each student."""

import csv
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from io import StringIO
from typing import Any

from footexam.catalogue.model import Catalogue, say
from footexam.exchange.comparison import comparison_tree
from footexam.exchange.csv_table import guarded
from footexam.marking.cohort import Cohort, codes, patient_codes
from footexam.marking.compared import Comparison
from footexam.marking.pairing import identity

COLUMNS = (
    "student",
    "reference_by",
    "record_number",
    "examined_on",
    "measure",
    "label",
    "side",
    "sort",
    "outcome",
    "student_value",
    "reference_value",
    "unit",
    "difference",
    "standard_error",
    "error",
    "tolerance",
    "rule",
    "beyond",
    "missed",
    "added",
    "slip",
    "derived",
)


def write_comparison_csv(
    comparisons: Iterable[Comparison],
    catalogue: Catalogue,
    hide: Cohort | None = None,
    language: str = "en",
) -> bytes:
    """Every item of every comparison; form of the bytes as in `csv_table`.

    With the cohort to `hide`, students and patients have codes, and who made the reference is not
    named.
    """
    return csv_bytes(COLUMNS, _rows(comparisons, catalogue, hide, language))


def csv_bytes(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> bytes:
    """A table; a cell that a spreadsheet would run as a formula is made plain text."""
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([guarded(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig", errors="backslashreplace")


def _rows(
    comparisons: Iterable[Comparison],
    catalogue: Catalogue,
    hide: Cohort | None,
    language: str,
) -> Iterator[list[str]]:
    students, patients = (codes(hide), patient_codes(hide)) if hide else ({}, {})
    for one in comparisons:
        tree = comparison_tree(one)
        who = [tree["student"], tree["reference"], tree["patient"]["record_number"]]
        if hide:
            who = [students[tree["student"]], "", patients[identity(one.student.patient)]]
        head = [*who, tree["examined_on"]]
        for item in tree["items"]:
            measure = catalogue.measures[item["measure"]]
            yield [*head, item["measure"], say(measure.label, language), *_cells(item)]


def _cells(item: Mapping[str, Any]) -> list[str]:
    """The cells behind the measure's name."""
    return [
        item["side"] or "",
        item["sort"],
        item["outcome"],
        told(item["student"]),
        told(item["reference"]),
        item["unit"],
        *(told(item[key]) for key in ("difference", "standard_error", "error", "tolerance")),
        item["rule"],
        told(item["beyond"]),
        "; ".join(item["missed"]),
        "; ".join(item["added"]),
        item["slip"] or "",
        told(item["derived"]),
    ]


def told(value: Any) -> str:
    """A number, or an answer in one cell; empty for none."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int | Decimal):
        return f"{Decimal(str(value)):f}".removesuffix(".0")
    if isinstance(value, Mapping):
        parts = value if value == {"none-known": True} else value.values()
        return "; ".join(filter(None, map(told, parts)))
    if isinstance(value, list):
        return "; ".join(map(told, value))
    return str(value)
