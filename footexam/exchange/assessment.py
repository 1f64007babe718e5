"""Writes an assessment as JSON in the fixed order of keys of interface.md."""

import json
from decimal import Decimal
from typing import Any

from footexam.assessment import Assessment, Caution
from footexam.catalogue.model import say
from footexam.reasoning.argue import Argument, Weighed
from footexam.reasoning.evidence import whole
from footexam.reasoning.next_test import NextTest
from footexam.reasoning.planned import Candidate, Dimension, PlanAim
from footexam.scoring.results import Change, Difference, Finding, Problem, Score

FORMAT = "footexam/assessment"
VERSION = 1


def write_assessment(assessment: Assessment) -> bytes:
    """The assessment as UTF-8 JSON, indent 1, final newline; same input, same bytes."""
    tree = as_tree(assessment)
    return (json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def as_tree(assessment: Assessment) -> dict[str, Any]:
    """The assessment as JSON values; numbers rounded as the interface fixes."""
    age = assessment.age
    reasons = assessment.reasons
    return {
        "format": FORMAT,
        "version": VERSION,
        "patient": {"age": {"years": age.years, "months": age.months} if age else None},
        "scores": _scores(assessment.scores),
        "findings": [_finding(finding) for finding in assessment.findings],
        "differences": [_difference(difference) for difference in assessment.differences],
        "changes": [_change(change) for change in assessment.changes],
        "cautions": [_caution(caution) for caution in assessment.cautions],
        "held_by": [{"id": one.about, "side": one.side} for one in assessment.held_by],
        "hypotheses": [_argument(one) for one in reasons.arguments],
        "next_tests": [_test(one) for one in reasons.suggested.tests],
        "aims": [_aim(one) for one in reasons.plan.aims],
        "features": [_feature(one) for one in reasons.plan.candidates],
        "problems": [_problem(problem) for problem in assessment.problems],
    }


def _number(value: Decimal | float | str | None, unit: str = "") -> float | int | str | None:
    """A number with 9 significant digits, points whole; a word and None stay as they are."""
    if value is None or isinstance(value, str | int):
        return value
    if unit == "points" and value == int(value):
        return int(value)
    return float(f"{value:.9g}") + 0.0  # never -0.0


def _chance(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def _scores(scores: tuple[Score, ...]) -> dict[str, Any]:
    """By measure, then by side; an unsided measure's score stands bare."""
    tree: dict[str, Any] = {}
    for score in scores:
        row = {
            "value": _number(score.value, score.unit),
            "unit": score.unit,
            "bands": [
                {
                    "set": band.set,
                    "band": band.band,
                    "source": band.source,
                    "provenance": band.provenance,
                    "default": band.default,
                }
                for band in score.bands
            ],
            "from": list(score.inputs),
        }
        if score.side is None:
            tree[score.measure] = row
        else:
            tree.setdefault(score.measure, {})[score.side.value] = row
    return tree


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "measure": finding.measure,
        "side": finding.side,
        "value": _number(finding.value, finding.unit),
        "unit": finding.unit,
        "repeats": finding.repeats,
        "method": finding.method,
        "state": finding.state,
        "label": finding.label,
        "basis": finding.basis,
        "probability": _chance(finding.probability),
        "probability_error_only": _chance(finding.probability_error_only),
        "limit": _number(finding.limit),
        "operator": finding.operator,
        "near_limit": finding.near_limit,
        "change_needed": _number(finding.change_needed),
        "from": list(finding.inputs),
        "norms": [
            {
                "set": norm.set,
                "group": norm.group,
                "mean": _number(norm.mean),
                "sd": _number(norm.sd),
                "n": norm.n,
                "source": norm.source,
                "provenance": norm.provenance,
                "judged": norm.judged,
                "z": _number(norm.z),
                "centile": _number(norm.centile),
            }
            for norm in finding.norms
        ],
    }


def _difference(difference: Difference) -> dict[str, Any]:
    return {
        "measure": difference.measure,
        "left": _number(difference.left),
        "right": _number(difference.right),
        "difference": _number(difference.difference),
        "change_needed": _number(difference.change_needed),
        "beyond_error": difference.beyond_error,
        "usual_limit": _number(difference.usual_limit),
        "operator": difference.operator,
        "state": difference.state,
        "label": difference.label,
        "probability": _chance(difference.probability),
        "probability_error_only": _chance(difference.probability_error_only),
    }


def _change(change: Change) -> dict[str, Any]:
    return {
        "measure": change.measure,
        "side": change.side,
        "before": _number(change.before),
        "now": _number(change.now),
        "change": _number(change.change),
        "change_needed": _number(change.change_needed),
        "probability_error_only": _chance(change.probability_error_only),
        "label": change.label,
    }


def _caution(caution: Caution) -> dict[str, Any]:
    return {
        "id": caution.id,
        "branch": caution.branch,
        "side": caution.side,
        "tier": caution.tier,
        "because": list(caution.because),
        "action": caution.action,
        "source": caution.source,
        "decision": caution.decision,
    }


def _argument(argument: Argument) -> dict[str, Any]:
    return {
        "id": argument.id,
        "side": argument.side,
        "statement": say(argument.hypothesis.statement),
        "points": argument.shown,
        "for": [_weighed(row, 1) for row in argument.speaks_for],
        "against": [_weighed(row, -1) for row in argument.speaks_against],
        "set_aside": [
            {"because": list(row.because), "reason": row.reason} for row in argument.set_aside
        ],
        "not_examined": list(argument.not_examined),
        "grade_mechanics": argument.hypothesis.grade_mechanics,
        "grade_injury": argument.hypothesis.grade_injury,
        "counter": say(argument.hypothesis.counter),
    }


def _weighed(weighed: Weighed, sign: int) -> dict[str, Any]:
    """A row of an argument; what speaks against has negative points."""
    return {
        "because": list(weighed.because),
        "points": sign * whole(weighed.points),
        "provenance": weighed.row.provenance,
    }


def _test(test: NextTest) -> dict[str, Any]:
    return {
        "measure": test.measure,
        "side": test.side,
        "separates": list(test.separates),
        "why": test.why,
        "position": test.position,
    }


def _aim(aim: PlanAim) -> dict[str, Any]:
    row = {"id": aim.id, "side": aim.side, "from": list(aim.hypotheses)}
    return {**row, "suggested": True} if aim.suggested else row


def _feature(one: Candidate) -> dict[str, Any]:
    claim = one.claims[0] if one.claims else None
    row = {
        "id": one.id,
        "aim": one.aim,
        "side": one.side,
        "dimensions": {part.size.id: _dimension(part) for part in one.dimensions},
        "mechanism": say(one.feature.mechanism),
        "evidence": say(claim.text) if claim else "",
        "grade": claim.grade if claim else None,
        "avoid_because": [say(reason.says) for reason in one.avoid],
        "conflicts": [
            {"with": clash.other, "severity": clash.severity, "why": clash.why}
            for clash in one.clashes
        ],
    }
    return {**row, "suggested": True} if one.suggested else row


def _dimension(part: Dimension) -> dict[str, Any]:
    return {
        "value": _number(part.value),
        "unit": part.size.unit,
        "range": [_number(part.low), _number(part.high)],
        "provenance": part.provenance,
    }


def _problem(problem: Problem) -> dict[str, Any]:
    return {
        "measure": problem.measure,
        "side": problem.side,
        "value": problem.value,
        "kind": problem.kind,
        "message": problem.message,
    }
