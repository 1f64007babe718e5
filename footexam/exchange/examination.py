"""Reads an examination file into journals and an examination; all of it or nothing."""

import hashlib
from collections import Counter
from dataclasses import dataclass
from datetime import date
from typing import Any

from pydantic import ValidationError

from footexam.catalogue.model import Catalogue
from footexam.exchange.envelope import FORMAT, ONE, SEVERAL, VERSION, ExaminationFile
from footexam.exchange.problem import InputProblem
from footexam.exchange.readings import MOST_PROBLEMS, ReadingsReader
from footexam.exchange.strict_json import BadJson, loads
from footexam.messages import sentence
from footexam.record.drafts import draft_of
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Examination
from footexam.record.fold import fold_examination, fold_patient
from footexam.record.journal import Journal
from footexam.record.reading import Reading
from footexam.record.refusal import as_typed
from footexam.terms import Role, Side


class BadInput(Exception):
    """A file that is not taken; `problems` says what to do, one line each. Nothing was read."""

    def __init__(self, problems: list[InputProblem]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = tuple(problems)


@dataclass(frozen=True, slots=True)
class Loaded:
    """The journals of an examination file, and the examination they fold to."""

    patient: Journal
    journal: Journal
    examination: Examination


_PYDANTIC = frozenset({"[key]", ONE, SEVERAL})
"""Parts of a place that are no part of the file."""


def read_examination(data: bytes, catalogue: Catalogue, today: date, name: str = "-") -> Loaded:
    """The examination of a file's bytes; `name` names the file in problems. Raises BadInput.

    The same bytes give the same journals, hashes included.
    """
    try:
        tree = loads(data)
    except BadJson as bad:
        raise BadInput([InputProblem(name, "", "", str(bad))]) from bad
    file = _envelope(tree, name)
    problems = _dates(file, today) + _decided_twice(file)
    reader = ReadingsReader(catalogue)
    readings = reader.read(file.readings)
    problems += reader.problems
    if problems:
        raise BadInput(problems)
    return _journals(file, readings, hashlib.sha256(data).hexdigest()[:32])


def _envelope(tree: Any, name: str) -> ExaminationFile:
    """The file's outer form; a wrong format or version is told alone."""
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise _file_problem(name, "file-wrong-format", what=FORMAT)
    if "version" in tree and tree["version"] != VERSION:
        raise _file_problem(name, "file-other-version", what=as_typed(tree["version"]))
    try:
        file = ExaminationFile.model_validate(tree)
    except ValidationError as bad:
        errors = bad.errors(include_url=False)[:MOST_PROBLEMS]
        raise BadInput([_problem(error) for error in errors]) from bad
    return file


def _file_problem(name: str, code: str, **values: object) -> BadInput:
    return BadInput([InputProblem(name, "", "", sentence(code, values))])


_EXPECTED = {
    "string_type": "give a text between quotation marks",
    "dict_type": "give an object",
    "model_type": "give an object",
    "list_type": "give a list",
}


def _problem(error: Any) -> InputProblem:
    """A mistake that pydantic found, as a line of ours."""
    path = [str(part) for part in error["loc"] if part not in _PYDANTIC]
    where, last = ".".join(path), path[-1]
    typed = as_typed(error["input"])
    if error["type"] == "missing":
        return InputProblem(where, "", "", sentence("field-missing", {"what": last}))
    if error["type"] == "extra_forbidden":
        return InputProblem(where, "", typed, sentence("unknown-key", {"what": last}))
    if error["type"] in _EXPECTED:
        words = {"what": last, "words": _EXPECTED[error["type"]]}
        return InputProblem(where, "", typed, sentence("field-wrong", words))
    return InputProblem(where, "", typed, str(error["ctx"]["error"]))


def _dates(file: ExaminationFile, today: date) -> list[InputProblem]:
    problems = []
    day, born = file.examined_on, file.patient.birth_date
    if day > today.isoformat():
        problems.append(InputProblem("examined_on", "", day, sentence("date-future", {})))
    if born and born > day[: len(born)]:
        problems.append(InputProblem("patient.birth_date", "", born, sentence("birth-after", {})))
    return problems


def _decided_twice(file: ExaminationFile) -> list[InputProblem]:
    """Decisions that would silently replace one another."""
    made = file.decisions
    hypotheses = made.hypotheses
    cautions = [
        (name, one.side)
        for name, decided in made.cautions.items()
        for one in (decided if isinstance(decided, list) else [decided])
    ]
    lists: dict[str, list[tuple[str, Side | None]]] = {
        "cautions": cautions,
        "hypotheses": [
            *((one.id, one.side) for one in (*hypotheses.accepted, *hypotheses.rejected)),
            *((one.statement, one.side) for one in hypotheses.own),
        ],
        "aims": [(one.id, one.side) for one in made.aims],
        "features": [(one.id, one.side) for one in made.features],
    }
    return [
        InputProblem(
            f"decisions.{name}", side or "", what, sentence("decided-twice", {"what": what})
        )
        for name, decided in lists.items()
        for (what, side), times in Counter(decided).items()
        if times > 1
    ]


def _journals(file: ExaminationFile, readings: list[Reading], mark: str) -> Loaded:
    """Write what the file says as entries; the examiner is the author, the day their time."""
    author = Author(file.examiner.name, file.examiner.role)
    at = f"{file.examined_on}T00:00:00Z"
    patient = Journal(f"patient:{mark}")
    for name, fact in file.patient.model_dump(mode="json").items():
        if fact:
            target = f"patient:{name.replace('_', '-')}"
            patient.append(Draft(EntryKind.SET, author, at, target, body={"is": fact}))
    journal = Journal(f"examination:{mark}")
    for name, fact in _head(file).items():
        journal.append(Draft(EntryKind.SET, author, at, f"exam:{name}", body={"is": fact}))
    for reading in readings:
        journal.append(draft_of(reading, author, at))
    for draft in _decisions(file, author, at):
        journal.append(draft)
    return Loaded(patient, journal, fold_examination(journal, fold_patient(patient)))


def _head(file: ExaminationFile) -> dict[str, Any]:
    head: dict[str, Any] = {
        "examined-on": file.examined_on,
        "purpose": file.purpose.value,
        "examiner": file.examiner.model_dump(mode="json"),
    }
    if file.supervisor:
        head["supervisor"] = {
            "name": file.supervisor.name,
            "role": Role.SUPERVISOR.value,
            "level": file.supervisor.level,
        }
    return head


def _decisions(file: ExaminationFile, author: Author, at: str) -> list[Draft]:
    """One entry for each decision, in the order of the file."""
    made = file.decisions.model_dump(mode="json")
    drafts = [
        _decision(f"caution:{name}", body, author, at)
        for name, decided in made["cautions"].items()
        for body in (decided if isinstance(decided, list) else [decided])
    ]
    for chosen, items in made["hypotheses"].items():
        drafts += [
            _decision(f"hypothesis:{item.pop('id', '')}", {"list": chosen, **item}, author, at)
            for item in items
        ]
    for kind in ("aim", "feature"):
        drafts += [
            _decision(f"{kind}:{item.pop('id')}", item, author, at) for item in made[f"{kind}s"]
        ]
    drafts += [
        _decision(f"letter:{name}", item, author, at) for name, item in made["letters"].items()
    ]
    return drafts


def _decision(target: str, body: dict[str, Any], author: Author, at: str) -> Draft:
    side = body.pop("side", None)
    if body.get("tier", "") is None:  # not stated, as in files of before
        del body["tier"]
    return Draft(EntryKind.DECIDE, author, at, target, side=Side(side) if side else None, body=body)
