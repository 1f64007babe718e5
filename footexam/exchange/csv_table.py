"""Writes one examination as a table for spreadsheets: CSV, one row for each reading.

UTF-8 with a byte-order mark, because spreadsheets take a file without one for another encoding;
CRLF line ends and doubled quotation marks (RFC 4180). The mark is read away by `utf-8-sig`.
"""

import csv
import re
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, fields
from decimal import Decimal
from io import StringIO

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.record.examination import Examination
from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    Reading,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Word,
    Words,
)
from footexam.scoring.results import Finding, NormShown, Score
from footexam.scoring.visit import mean
from footexam.terms import NUMBER_KINDS, Side

_NUMBER = re.compile(r"[+-]?[0-9]+([.,][0-9]+)?")
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""First characters that make a spreadsheet run a text; the wide forms are folded to them."""
_PLACES = 6
"""Decimals of a computed number (a mean, a limit)."""
_SIDES = {Side.LEFT: 0, Side.RIGHT: 1, None: 2}


@dataclass(frozen=True, slots=True)
class _Row:
    """One line of the table; the names of the fields are the heading of the columns."""

    measure: str
    label: str
    side: str = ""
    value: str = ""
    unit: str = ""
    repeats: str = ""
    typed: str = ""
    method: str = ""
    note: str = ""
    performed_at: str = ""
    absent: str = ""
    reason: str = ""
    state: str = ""
    judged: str = ""
    limit: str = ""
    operator: str = ""
    source: str = ""
    provenance: str = ""


COLUMNS = tuple(field.name for field in fields(_Row))


def write_csv(
    examination: Examination, assessment: Assessment, catalogue: Catalogue, language: str = "en"
) -> bytes:
    """The readings and derived scores in the order of forms/, retired measures last.

    `value` is in the measure's unit, the mean or the best of repeats, with a point; words and
    places stand by their ids as in the examination file. `judged` is how sure (likely, possible,
    repeat, within, not-judged); `limit` and `operator` are those it was judged by. Text that a
    spreadsheet would run as a formula has an apostrophe before it; numbers stay as they are.
    """
    findings = {(one.measure, one.side): one for one in assessment.findings}
    rows = [*_readings(examination, findings, catalogue, language)]
    rows += _scores(assessment, findings, catalogue, language)
    last = len(catalogue.order)
    rows.sort(key=lambda row: (catalogue.order.get(row[0].measure, last), row[0].measure, row[1]))
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row, _ in rows:
        writer.writerow(guarded(cell) for cell in asdict(row).values())
    return text.getvalue().encode("utf-8-sig", errors="backslashreplace")


Placed = tuple[_Row, int]
"""A row with the place of its side."""


def _readings(
    examination: Examination,
    findings: Mapping[tuple[str, Side | None], Finding],
    catalogue: Catalogue,
    language: str,
) -> Iterator[Placed]:
    for key, reading in examination.readings.items():
        measure = catalogue.measures.get(reading.measure)
        row = _Row(
            measure=reading.measure,
            label=_label(reading.measure, catalogue, language),
            side=reading.side or "",
            value=_value(reading, catalogue),
            unit=measure.unit if measure and measure.kind in NUMBER_KINDS else "",
            repeats=str(len(reading.value.readings)) if isinstance(reading.value, Numbers) else "",
            typed=reading.typed,
            method=reading.method or "",
            note=reading.note,
            performed_at=reading.performed_at or "",
            absent=reading.absent or "",
            reason=reading.reason,
            **_judged(findings.get(key)),
        )
        yield row, _SIDES[reading.side]


def _scores(
    assessment: Assessment,
    findings: Mapping[tuple[str, Side | None], Finding],
    catalogue: Catalogue,
    language: str,
) -> Iterator[Placed]:
    """What was worked out stands as rows of its own, with nothing typed."""
    for score in assessment.scores:
        row = _Row(
            measure=score.measure,
            label=_label(score.measure, catalogue, language),
            side=score.side or "",
            value=_score(score),
            unit=score.unit,
            method="derived",
            **_judged(findings.get((score.measure, score.side))),
        )
        yield row, _SIDES[score.side]


def _label(measure: str, catalogue: Catalogue, language: str) -> str:
    known = catalogue.measures.get(measure)
    return known.label.get(language) or known.label["en"] if known else ""


def _judged(finding: Finding | None) -> dict[str, str]:
    """State, how sure, limit and source of a finding; nothing without one."""
    if finding is None:
        return {}
    norm: NormShown | None = next((norm for norm in finding.norms if norm.judged), None)
    return {
        "state": finding.state or "",
        "judged": finding.label or "",
        "limit": "" if finding.limit is None else _plain(Decimal(repr(finding.limit))),
        "operator": finding.operator or "",
        "source": norm.source if norm else "",
        "provenance": norm.provenance if norm else "",
    }


def _score(score: Score) -> str:
    return _plain(score.value) if isinstance(score.value, Decimal) else score.value


def _value(reading: Reading, catalogue: Catalogue) -> str:
    """The value in one cell; empty for an absence."""
    measure = catalogue.measures.get(reading.measure)
    if isinstance(reading.value, Numbers):
        best = measure.best if measure else False
        numbers = reading.value.readings
        return _plain(numbers[0] if len(numbers) == 1 else mean(numbers, best))
    return "" if reading.value is None else _words(reading.value)


def _words(value: Value) -> str:
    """A value that is no single number, its parts set apart by semicolons."""
    match value:
        case Word():
            told = value.word
        case Words():
            told = "; ".join(value.words)
        case Text():
            told = value.text
        case Sites():
            told = "; ".join([value.word, *value.sites])
        case RegionValues():
            told = "; ".join(f"{name}={_plain(one)}" for name, one in value.values.items())
        case Rows():
            told = "\n".join(_table_row(row) for row in value.rows)
        case Activities():
            told = "; ".join(f"{name}={score}" for name, score in value.items)
        case NoneKnown():
            told = "none-known"
        case Numbers():
            told = "; ".join(map(_plain, value.readings))
    return told


def _table_row(row: Mapping[str, str | Decimal]) -> str:
    """One row of a table measure, a line of its cell."""
    told = (
        f"{name}={_plain(cell) if isinstance(cell, Decimal) else cell}"
        for name, cell in row.items()
    )
    return "; ".join(told)


def _plain(number: Decimal) -> str:
    """A number with a point, without exponent; one that goes on for ever is rounded."""
    places = -int(number.as_tuple().exponent)
    shown = round(number, _PLACES).normalize() if places > _PLACES else number
    return f"{shown:f}"


def guarded(cell: str) -> str:
    """A text that would be run as a formula, made plain text by an apostrophe."""
    if not cell.lstrip(" \u00a0").startswith(_FORMULA) or _NUMBER.fullmatch(cell):
        return cell
    return f"'{cell}"
