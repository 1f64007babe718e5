"""Writes an examination as an examination file that reads back to the same values."""

import json
import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from footexam.exchange.envelope import FORMAT, VERSION
from footexam.record.examination import Examination, Patient
from footexam.record.kept import BETWEEN
from footexam.record.reading import (
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
from footexam.record.refusal import as_typed
from footexam.terms import Side

_WHOLE = re.compile(r"0|-?[1-9][0-9]{0,14}")


def write_examination(examination: Examination) -> bytes:
    """The examination file as UTF-8 JSON, indent 1, final newline; same input, same bytes."""
    file: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "purpose": examination.purpose,
        "patient": _patient(examination.patient),
        "examined_on": examination.examined_on.isoformat(),
        "examiner": {"name": examination.examiner.name, "role": examination.examiner.role},
    }
    if examination.supervisor:
        supervisor = examination.supervisor
        level = {} if supervisor.level is None else {"level": supervisor.level}
        file["supervisor"] = {"name": supervisor.name, **level}
    file["readings"] = _readings(examination)
    file["decisions"] = dict(examination.decisions)
    return (json.dumps(file, ensure_ascii=False, indent=1) + "\n").encode()


def _patient(patient: Patient) -> dict[str, Any]:
    return {
        "family_name": patient.family_name,
        "given_names": patient.given_names,
        "title": patient.title,
        "record_number": patient.record_number,
        "birth_date": patient.birth_date,
        "sex": patient.sex,
    }


def _readings(examination: Examination) -> dict[str, Any]:
    """Readings by measure; a measure typed once for both sides is written once for both."""
    written: dict[str, Any] = {}
    for (measure, side), reading in examination.readings.items():
        if side is None:
            written[measure] = _cell(reading)
        elif _is_both(examination, measure):
            written[measure] = {"both": _cell(reading)}
        else:
            written.setdefault(measure, {})[side.value] = _cell(reading)
    return written


def _is_both(examination: Examination, measure: str) -> bool:
    left = examination.reading(measure, Side.LEFT)
    right = examination.reading(measure, Side.RIGHT)
    return bool(
        left and right and left.typed_both and right.typed_both and _cell(left) == _cell(right)
    )


def _cell(reading: Reading) -> Any:
    more = {
        key: getattr(reading, key)
        for key in ("note", "method", "performed_at")
        if getattr(reading, key)
    }
    if reading.absent is not None:
        reason = {"reason": reading.reason} if reading.reason else {}
        return {"absent": reading.absent, **reason, **more}
    if reading.value is None:
        raise ValueError("a reading has a value or an absence")
    value = _value(reading.value, reading.typed)
    return {"value": value, **more} if more else value


def _value(value: Value, typed: str) -> Any:
    """A value as the file has it; numbers and words as typed, so that nothing typed is lost."""
    plain: Any
    match value:
        case Numbers(readings):
            plain = _numbers(readings, typed)
        case Word(word) | Sites(word, ()):
            plain = typed or word
        case Words(words):
            plain = list(words)
        case Text(text):
            plain = text
        case Sites(word, sites):
            plain = {"answer": word, "sites": list(sites)}
        case RegionValues(values):
            plain = _regions(values, typed)
        case Rows(rows):
            plain = [_row(row) for row in rows]
        case NoneKnown():
            plain = "none-known"
        case _:
            plain = [{"activity": name, "score": score} for name, score in value.items]
    return plain


def _row(row: Mapping[str, str | Decimal]) -> dict[str, Any]:
    return {
        name: _number(cell) if isinstance(cell, Decimal) else cell for name, cell in row.items()
    }


def _numbers(readings: tuple[Decimal, ...], typed: str) -> Any:
    """Readings as they were typed (record/kept.py), else as numbers."""
    if BETWEEN in typed:
        return [_bare(item) for item in typed.split(BETWEEN)]
    if typed:
        return _bare(typed)
    numbers = [_number(reading) for reading in readings]
    return numbers if len(numbers) > 1 else numbers[0]


def _regions(values: Mapping[str, Decimal], typed: str) -> dict[str, Any]:
    pairs = [part.partition(": ") for part in typed.split("; ")]
    if [region for region, _, _ in pairs] == list(values):
        return {region: _bare(number) for region, _, number in pairs}
    return {region: _number(number) for region, number in values.items()}


def _bare(typed: str) -> int | str:
    """A plain whole number as a number, anything else as text."""
    return int(typed) if _WHOLE.fullmatch(typed) else typed


def _number(value: Decimal) -> int | float | str:
    """A JSON number where it keeps every digit, idle zeros included; else its digits as text."""
    digits = as_typed(value)
    return float(value) if repr(float(value)) == digits else _bare(digits)
