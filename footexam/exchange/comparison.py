"""Writes a comparison, and that of a cohort, as JSON; keys in a fixed order, same bytes."""

import json
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from footexam.marking.cohort import Cohort, CohortExaminer, CohortItem, Errors, Share, codes
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
from footexam.marking.figures import Agreement, Kappa, agreement_of, kappa_of
from footexam.marking.pairing import one_person
from footexam.marking.passmark import PassMark
from footexam.record.reading import Reading
from footexam.record.values import to_json
from footexam.terms import Side

FORMAT, COHORT_FORMAT = "footexam/comparison", "footexam/cohort"
VERSION = 1


def write_comparison(comparison: Comparison) -> bytes:
    """One comparison as UTF-8 JSON, indent 1, final newline."""
    return _bytes(comparison_tree(comparison))


def write_cohort(
    cohort: Cohort,
    problems: Iterable[str] = (),
    standards: Iterable[tuple[str, PassMark]] = (),
    *,
    anonymous: bool = False,
) -> bytes:
    """A cohort as JSON; `problems` are files that were left out, `standards` pass marks by rubric.

    `anonymous` writes a code instead of each examiner's name and leaves the files' problems out,
    which may name somebody.
    """
    return _bytes(cohort_tree(cohort, problems, standards, anonymous=anonymous))


def _bytes(tree: Mapping[str, Any]) -> bytes:
    return (json.dumps(tree, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def _number(value: Decimal | float | None) -> float | int | None:
    """A number with 9 significant digits; what is as good as 0 is 0."""
    if value is None:
        return None
    found = float(f"{float(value):.9g}") + 0.0
    return 0.0 if abs(found) < 1e-12 else found


# --- one comparison


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
        "difference": _number(item.difference),
        "standard_error": _number(item.standard_error),
        "error": _number(item.error),
        "tolerance": _number(item.tolerance),
        "rule": item.rule,
        "outcome": item.outcome,
        "beyond": _number(item.beyond),
        "missed": list(item.missed),
        "added": list(item.added),
        "slip": item.slip,
        "derived": item.is_derived,
    }


def _value(reading: Reading | None, number: Decimal | None) -> Any:
    """A number as it is compared, else the answer in its canonical form, else the absence."""
    if number is not None:
        return _number(number)
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
        "value": _number(found.value),
        "low": _number(found.low),
        "high": _number(found.high),
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
                "student": _number(one.student),
                "reference": _number(one.reference),
                "step": _number(one.step),
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


# --- a cohort


def cohort_tree(
    cohort: Cohort,
    problems: Iterable[str] = (),
    standards: Iterable[tuple[str, PassMark]] = (),
    *,
    anonymous: bool = False,
) -> dict[str, Any]:
    """A cohort as JSON values; arguments as for `write_cohort`."""
    code = codes(cohort)
    names = code if anonymous else {name: name for name in code}
    return {
        "format": COHORT_FORMAT,
        "version": VERSION,
        "comparisons": len(cohort.comparisons),
        "students": len(cohort.examiners),
        "items": [_cohort_item(one) for one in cohort.items],
        "examiners": [_examiner(one, names) for one in cohort.examiners],
        "drifts": [
            {
                "examiner": names[one.examiner],
                "measure": one.measure.id,
                "n": one.n,
                "mean_error": _number(one.mean),
                "difference": _number(one.difference),
            }
            for one in cohort.drifts
        ],
        "looks": cohort.looks,
        "standards": [_standard(rubric, one) for rubric, one in standards],
        "problems": [] if anonymous else list(problems),
    }


def _share(share: Share) -> dict[str, Any]:
    low, high = share.interval or (None, None)
    return {
        "agreed": share.count,
        "n": share.n,
        "share": _number(share.share),
        "low": _number(low),
        "high": _number(high),
    }


def _errors(errors: Errors) -> dict[str, Any]:
    return {
        "n": errors.n,
        "mean": _number(errors.mean),
        "rms": _number(errors.rms),
        "beyond": errors.beyond,
    }


def _cohort_item(one: CohortItem) -> dict[str, Any]:
    levels = one.items[0][1].levels
    pairs = one.pairs
    kappa = agreement = None
    if levels and pairs:
        on_grid = [(int(a), int(b)) for a, b in pairs if a in levels and b in levels]
        kappa = _kappa(kappa_of(on_grid, levels))
    elif pairs:
        agreement = _agreement(agreement_of(pairs))
    return {
        "measure": one.measure.id,
        "n": len(one.items),
        "missing": one.missing,
        "judged": _share(one.judged),
        "errors": _errors(one.errors),
        "agreement": agreement,
        "kappa": kappa,
    }


def _agreement(found: Agreement) -> dict[str, Any]:
    return {
        "n": found.n,
        "bias": _number(found.bias),
        "bias_low": _number(found.bias_low),
        "bias_high": _number(found.bias_high),
        "lower": _number(found.lower),
        "upper": _number(found.upper),
        "note": found.note,
    }


def _examiner(one: CohortExaminer, names: Mapping[str, str]) -> dict[str, Any]:
    return {
        "examiner": names[one.name],
        "comparisons": len(one.comparisons),
        "judged": _share(one.judged),
        "apart": one.apart,
        "missing": one.missing,
        "errors": _errors(one.errors),
        "critical": sorted({str(c) for each in one.comparisons for c in each.critical}),
    }


def _standard(rubric: str, one: PassMark) -> dict[str, Any]:
    found = one.borderline
    return {
        "rubric": rubric,
        "standard": one.standard,
        "of": _number(one.of),
        "cut": _number(one.cut),
        "standard_error": _number(one.se),
        "standard_errors_added": _number(one.standard_errors),
        "used": _number(one.used),
        "n": found.n if found else None,
        "r_squared": _number(found.r_squared) if found else None,
        "low": _number(found.low) if found else None,
        "high": _number(found.high) if found else None,
        "spacing": list(found.spacing) if found else [],
        "warnings": list(found.warnings) if found else [],
    }
