"""What judges of a modified Angoff estimated, as a file of its own (JSON, UTF-8)."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from footexam.catalogue.marking import Rubric, Standard
from footexam.exchange.examination import BadInput
from footexam.exchange.problem import InputProblem
from footexam.exchange.strict_json import BadJson, loads
from footexam.marking.judges import Judge, Judging, check_judging
from footexam.marking.rubric import BadMarks
from footexam.messages import sentence
from footexam.record.refusal import as_typed

FORMAT = "footexam/angoff"
VERSION = 1
_KEYS = ("format", "version", "rubric", "rounds")


def read_angoff(data: bytes, rubrics: Mapping[str, Rubric], name: str = "-") -> Judging:
    """The estimates of a file's bytes. Raises BadInput with what must be mended."""
    try:
        tree = loads(data)
    except BadJson as bad:
        raise BadInput([InputProblem(name, "", "", str(bad))]) from bad
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise _problem(name, "file-wrong-format", FORMAT)
    if tree.get("version") != VERSION:
        raise _problem(name, "file-other-version", as_typed(tree.get("version")))
    _keys(tree, _KEYS, name)
    rubric = rubrics.get(str(tree["rubric"]))
    if rubric is None:
        raise _problem(name, "marks-rubric", str(tree["rubric"]))
    if rubric.standard is not Standard.ANGOFF:
        raise _problem(name, "angoff-standard", rubric.id)
    judging = Judging(rubric.id, tuple(_round(one, name) for one in _list(tree, "rounds", name)))
    try:
        check_judging(rubric, judging)
    except BadMarks as bad:
        raise _problem(name, "angoff-wrong", str(bad)) from bad
    return judging


def _problem(name: str, code: str, what: str) -> BadInput:
    return BadInput([InputProblem(name, "", "", sentence(code, {"what": what}))])


def _keys(tree: Any, keys: tuple[str, ...], name: str) -> None:
    """Exactly these keys."""
    if not isinstance(tree, dict):
        raise _problem(name, "angoff-wrong", as_typed(tree))
    for key in keys:
        if key not in tree:
            raise _problem(name, "field-missing", key)
    for key in tree:
        if key not in keys:
            raise _problem(name, "unknown-key", key)


def _list(tree: Mapping[str, Any], key: str, name: str) -> list[Any]:
    """A list with something in it."""
    found = tree[key]
    if not isinstance(found, list) or not found:
        raise _problem(name, "angoff-wrong", key)
    return found


def _round(tree: Any, name: str) -> tuple[Judge, ...]:
    _keys(tree, ("judges",), name)
    return tuple(_judge(one, name) for one in _list(tree, "judges", name))


def _judge(tree: Any, name: str) -> Judge:
    _keys(tree, ("name", "estimates"), name)
    who, estimates = tree["name"], tree["estimates"]
    if not isinstance(who, str) or not who:
        raise _problem(name, "angoff-wrong", "name")
    if not isinstance(estimates, dict):
        raise _problem(name, "angoff-wrong", "estimates")
    return Judge(who, {domain: _share(one) for domain, one in estimates.items()})


def _share(estimate: Any) -> float:
    """A number as it stands; -1, which no share is, for anything else."""
    return float(estimate) if isinstance(estimate, Decimal) else -1.0
