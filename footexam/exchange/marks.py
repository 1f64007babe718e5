"""Marks of a student as a file of their own, never inside an examination (JSON, UTF-8)."""

import json
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from typing import Any

from footexam.catalogue.marking import Rubric
from footexam.exchange.examination import BadInput
from footexam.exchange.problem import InputProblem
from footexam.exchange.strict_json import BadJson, loads
from footexam.marking.pairing import Identity, identity
from footexam.marking.rubric import BadMarks, Hand, Marks, check_marks
from footexam.messages import sentence
from footexam.record.examination import Patient
from footexam.record.refusal import as_typed

FORMAT = "footexam/marks"
VERSION = 1
_NEEDS = ("format", "version", "rubric", "student", "marker", "patient", "examined_on")
_MAY = ("domains", "critical", "grade", "lines", "hand", "signed_at", "why_changed")
_PATIENT = ("record_number", "birth_date", "family_name", "given_names")
"""Names stand there only where the patient has no record number."""


_NUMBERED, _NAMED = _PATIENT[:2], ("family_name", "given_names", "birth_date")


def is_marks(tree: Any) -> bool:
    """Whether JSON says that it holds marks."""
    return isinstance(tree, dict) and tree.get("format") == FORMAT


def read_marks(data: bytes, rubrics: Mapping[str, Rubric], name: str = "-") -> Marks:
    """The marks of a file's bytes. Raises BadInput with what must be mended."""
    try:
        tree = loads(data)
    except BadJson as bad:
        raise BadInput([InputProblem(name, "", "", str(bad))]) from bad
    if not is_marks(tree):
        raise _problem(name, "file-wrong-format", FORMAT)
    if tree.get("version") != VERSION:
        raise _problem(name, "file-other-version", as_typed(tree.get("version")))
    _check_keys(tree, name)
    rubric = rubrics.get(str(tree["rubric"]))
    if rubric is None:
        raise _problem(name, "marks-rubric", str(tree["rubric"]))
    marks = _marks(tree)
    try:
        check_marks(rubric, marks)
    except BadMarks as bad:
        raise _problem(name, "marks-wrong", str(bad)) from bad
    return marks


def _problem(name: str, code: str, what: str) -> BadInput:
    return BadInput([InputProblem(name, "", "", sentence(code, {"what": what}))])


def _is_line(value: Any) -> bool:
    return isinstance(value, str) and bool(value)


def _is_patient(value: Any) -> bool:
    texts = isinstance(value, dict) and all(isinstance(one, str) for one in value.values())
    return texts and set(value) <= set(_PATIENT)


def _is_hand(value: Any) -> bool:
    return isinstance(value, str) and value in set(Hand)


def _is_time(value: Any) -> bool:
    """A UTC time as interface.md writes it."""
    try:
        read = datetime.fromisoformat(value)
    except (TypeError, ValueError):
        return False
    return bool(value.endswith("Z")) and read.utcoffset() == timedelta(0)


def _is_list(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(one, str) for one in value)


_SORTS: Mapping[str, Callable[[Any], bool]] = {
    "rubric": _is_line,
    "student": _is_line,
    "marker": _is_line,
    "examined_on": _is_line,
    "patient": _is_patient,
    "domains": lambda value: isinstance(value, dict),
    "critical": _is_list,
    "lines": _is_list,
    "grade": _is_line,
    "hand": _is_hand,
    "signed_at": _is_time,
    "why_changed": _is_line,
}


def _check_keys(tree: Mapping[str, Any], name: str) -> None:
    """Every key known and there, every value of its sort."""
    for key in _NEEDS:
        if key not in tree:
            raise _problem(name, "field-missing", key)
    for key, value in tree.items():
        if key not in (*_NEEDS, *_MAY):
            raise _problem(name, "unknown-key", key)
        if key in _SORTS and not _SORTS[key](value):
            raise _problem(name, "marks-wrong", key)


def _marks(tree: Mapping[str, Any]) -> Marks:
    domains = {name: _whole(mark) for name, mark in tree.get("domains", {}).items()}
    return Marks(
        rubric=tree["rubric"],
        student=tree["student"],
        marker=tree["marker"],
        patient=_identity(tree["patient"]),
        examined_on=tree["examined_on"],
        domains=domains,
        critical=tuple(tree.get("critical", ())),
        grade=tree.get("grade"),
        lines=tuple(tree.get("lines", ())),
        hand=Hand(tree.get("hand", Hand.FIRST)),
        signed_at=tree.get("signed_at"),
        why_changed=tree.get("why_changed", ""),
    )


def _identity(patient: Mapping[str, str]) -> Identity:
    return identity(
        Patient(
            family_name=patient.get("family_name", ""),
            given_names=patient.get("given_names", ""),
            record_number=patient.get("record_number", ""),
            birth_date=patient.get("birth_date"),
        )
    )


def _patient(who: Identity) -> dict[str, str]:
    """The patient as the file names them: by number, or by names where there is none."""
    names = _NAMED if len(who) == len(_NAMED) else _NUMBERED
    return dict(zip(names, (*who, "", ""), strict=False))


def _whole(mark: Any) -> int:
    """A whole mark; -1, which no rubric has, for anything else."""
    try:
        return int(mark) if not isinstance(mark, bool | str) and int(mark) == mark else -1
    except (TypeError, ValueError, OverflowError):
        return -1


def write_marks(marks: Marks) -> bytes:
    """The marks as a file, indent 1, final newline."""
    tree = {
        "format": FORMAT,
        "version": VERSION,
        "rubric": marks.rubric,
        "student": marks.student,
        "marker": marks.marker,
        "patient": _patient(marks.patient),
        "examined_on": marks.examined_on,
        "domains": dict(marks.domains),
        "critical": list(marks.critical),
        **({"grade": marks.grade} if marks.grade is not None else {}),
        "lines": list(marks.lines),
        **({"hand": marks.hand.value} if marks.hand is not Hand.FIRST else {}),
        **({"signed_at": marks.signed_at} if marks.signed_at is not None else {}),
        **({"why_changed": marks.why_changed} if marks.why_changed else {}),
    }
    return (json.dumps(tree, ensure_ascii=False, indent=1) + "\n").encode()
