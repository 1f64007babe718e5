"""Writes a comparison as JSON; keys in a fixed order, same bytes."""

import json
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from footexam.marking.compared import (
    AGREED,
    APART,
    JUDGED,
    MISSED,
    Chosen,
    Comparison,
    Item,
    Named,
    Outcome,
    Scale,
)
from footexam.marking.figures import Kappa, kappa_of
from footexam.marking.pairing import one_person
from footexam.record.reading import Reading
from footexam.record.values import to_json
from footexam.terms import Side

FORMAT = "footexam/comparison"
VERSION = 1


def write_comparison(comparison: Comparison) -> bytes:
    """One comparison as UTF-8 JSON, indent 1, final newline."""
    return as_bytes(comparison_tree(comparison))


def as_bytes(tree: Mapping[str, Any]) -> bytes:
    """JSON as it is written: UTF-8, indent 1, final newline."""
    return (json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def number(value: Decimal | float | None) -> float | int | None:
    """A number with 9 significant digits; what is as good as 0 is 0."""
    if value is None:
        return None
    found = float(f"{float(value):.9g}") + 0.0
    return 0.0 if abs(found) < 1e-12 else found


def comparison_tree(comparison: Comparison) -> dict[str, Any]:
    """A comparison as JSON values."""
    student, reference = comparison.student, comparison.reference
    patient = student.patient
    return {
        "format": FORMAT,
        "version": VERSION,
        "patient": {"record_number": patient.record_number, "birth_date": patient.birth_date},
        "examined_on": student.examined_on.isoformat(),
        "student": student.examiner.name,
        "reference": reference.examiner.name,
        "one_person": one_person(student, reference),
        "counts": _counts(comparison),
        "critical": list(comparison.critical),
        "sides_exchanged": comparison.sides_exchanged,
        "items": [_item(item) for item in comparison.items],
        "scales": [_scale(scale) for scale in comparison.scales],
        "reasoning": _reasoning(comparison),
        "unread": [{"measure": measure, "side": side} for measure, side in comparison.unread],
    }


def _counts(comparison: Comparison) -> dict[str, int]:
    """How many items came to what, without those worked out from others."""
    count = comparison.count
    return {
        "judged": count(*JUDGED),
        "agreed": count(*AGREED),
        "apart": count(*APART),
        "not_judged": count(Outcome.NOT_JUDGED, Outcome.METHOD_DIFFERS),
        "missing": count(*MISSED),
        "no_reference": count(Outcome.NO_REFERENCE),
    }


def _item(item: Item) -> dict[str, Any]:
    return {
        "measure": item.measure.id,
        "side": item.side,
        "sort": item.sort,
        "student": _value(item.student, item.student_value),
        "reference": _value(item.reference, item.reference_value),
        "unit": item.measure.unit if item.difference is not None else "",
        "difference": number(item.difference),
        "standard_error": number(item.standard_error),
        "error": number(item.error),
        "tolerance": number(item.tolerance),
        "rule": item.rule,
        "outcome": item.outcome,
        "beyond": number(item.beyond),
        "missed": list(item.missed),
        "added": list(item.added),
        "slip": item.slip,
        "derived": item.is_derived,
    }


def _value(reading: Reading | None, value: Decimal | None) -> Any:
    """A number as it is compared, else the answer in its canonical form, else the absence."""
    if value is not None:
        return number(value)
    if reading is None:
        return None
    if reading.value is None:
        return {"absent": reading.absent, "reason": reading.reason}
    return to_json(reading.value)


def _scale(scale: Scale) -> dict[str, Any]:
    return {
        "levels": list(scale.levels),
        "unit": scale.unit,
        "panel": scale.panel,
        "n": len(scale.pairs),
        "exact": scale.exact,
        "kappa": _kappa(kappa_of(scale.pairs, scale.levels)),
    }


def _kappa(found: Kappa) -> dict[str, Any]:
    return {
        "weights": "quadratic",
        "n": found.n,
        "value": number(found.value),
        "low": number(found.low),
        "high": number(found.high),
        "note": found.note,
    }


def _reasoning(comparison: Comparison) -> dict[str, Any]:
    found = comparison.reasoned
    return {
        "cautions_missed": [
            {
                "id": one.id,
                "side": one.side,
                "tier": one.tier,
                "student_tier": one.student_tier,
            }
            for one in found.cautions
        ],
        "hypotheses": _chosen(found.hypotheses),
        "aims": _chosen(found.aims),
        "features": _chosen(found.features),
        "sizes": [
            {
                "feature": one.feature,
                "side": one.side,
                "size": one.size,
                "unit": one.unit,
                "student": number(one.student),
                "reference": number(one.reference),
                "step": number(one.step),
                "near": one.is_near,
            }
            for one in found.sizes
        ],
        "held": _named(found.held),
    }


def _chosen(chosen: Chosen) -> dict[str, Any]:
    return {
        "agreed": _named(chosen.agreed),
        "missed": _named(chosen.missed),
        "added": _named(chosen.added),
    }


def _named(named: Iterable[Named]) -> list[dict[str, str | Side | None]]:
    return [{"id": name, "side": side} for name, side in named]
