"""Comparisons as a table for spreadsheets: CSV, one row for each item of each student."""

import csv
from collections.abc import Iterable, Mapping
from decimal import Decimal
from io import StringIO
from typing import Any

from footexam.catalogue.model import Catalogue, say
from footexam.exchange.comparison import comparison_tree
from footexam.exchange.csv_table import guarded
from footexam.marking.compared import Comparison

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
    names: Mapping[str, str] | None = None,
    language: str = "en",
) -> bytes:
    """Every item of every comparison; form of the bytes as in `csv_table`.

    `names` gives a code for each examiner's name, for an anonymous table.
    """
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for one in comparisons:
        tree = comparison_tree(one)
        who = names[tree["student"]] if names else tree["student"]
        head = [who, tree["reference"], tree["patient"]["record_number"], tree["examined_on"]]
        for item in tree["items"]:
            measure = catalogue.measures[item["measure"]]
            row = [*head, item["measure"], say(measure.label, language), *_cells(item)]
            writer.writerow([guarded(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig", errors="backslashreplace")


def _cells(item: Mapping[str, Any]) -> list[str]:
    """The cells behind the measure's name."""
    return [
        item["side"] or "",
        item["sort"],
        item["outcome"],
        _told(item["student"]),
        _told(item["reference"]),
        item["unit"],
        *(_told(item[key]) for key in ("difference", "standard_error", "error", "tolerance")),
        item["rule"],
        _told(item["beyond"]),
        "; ".join(item["missed"]),
        "; ".join(item["added"]),
        item["slip"] or "",
        "yes" if item["derived"] else "no",
    ]


def _told(value: Any) -> str:
    """A number, or an answer in one cell; empty for none."""
    if value is None:
        return ""
    if value == {"none-known": True}:
        return "none-known"
    if isinstance(value, float | int):
        return f"{Decimal(repr(value)):f}".removesuffix(".0")
    if isinstance(value, Mapping):
        return "; ".join(filter(None, (_told(part) for part in value.values())))
    if isinstance(value, list):
        return "; ".join(_told(part) for part in value)
    return str(value)
