"""Writes a cohort as JSON: measures, examiners, agreement, pass marks; same bytes each time."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from footexam.exchange.comparison import as_bytes, number
from footexam.marking.cohort import Cohort, CohortExaminer, CohortItem, Errors, Share, codes
from footexam.marking.cohort_agreement import Among, MeasureAgreement, WithReference, agreed
from footexam.marking.compared import Sort
from footexam.marking.estimate import Estimate
from footexam.marking.figures import note_of
from footexam.marking.judges import apart, judge_codes
from footexam.marking.markers import DomainMarks, Markers
from footexam.marking.passmark import Angoff, PassMark

FORMAT = "footexam/cohort"
VERSION = 1
Standards = Sequence[tuple[str, PassMark]]
"""Pass marks by rubric."""


def write_cohort(
    cohort: Cohort,
    problems: Iterable[str] = (),
    standards: Standards = (),
    markers: Sequence[Markers] = (),
    *,
    anonymous: bool = False,
) -> bytes:
    """A cohort as JSON; `problems` are files that were left out, `standards` pass marks by rubric.

    `anonymous` writes a code instead of the name of each examiner and judge, and leaves the files'
    problems out, which may name somebody.
    """
    return as_bytes(cohort_tree(cohort, problems, standards, markers, anonymous=anonymous))


def cohort_tree(
    cohort: Cohort,
    problems: Iterable[str] = (),
    standards: Standards = (),
    markers: Sequence[Markers] = (),
    *,
    anonymous: bool = False,
) -> dict[str, Any]:
    """A cohort as JSON values; arguments as for `write_cohort`."""
    code = codes(cohort)
    names = code if anonymous else {name: name for name in code}
    judges = judge_codes([one for _, one in standards])
    judges = judges if anonymous else {name: name for name in judges}
    agreement = {one.measure.id: one for one in agreed(cohort)}
    return {
        "format": FORMAT,
        "version": VERSION,
        "comparisons": len(cohort.comparisons),
        "students": len(cohort.examiners),
        "items": [_item(one, agreement.get(one.measure.id)) for one in cohort.items],
        "examiners": [_examiner(one, names) for one in cohort.examiners],
        "drifts": [
            {
                "examiner": names[one.examiner],
                "measure": one.measure.id,
                "n": one.n,
                "mean_error": number(one.mean),
                "difference": number(one.difference),
            }
            for one in cohort.drifts
        ],
        "looks": cohort.looks,
        "standards": [_standard(rubric, one, judges) for rubric, one in standards],
        "markers": [_markers(one) for one in markers],
        "problems": [] if anonymous else list(problems),
    }


def _share(share: Share | None) -> dict[str, Any] | None:
    if share is None:
        return None
    low, high = share.interval or (None, None)
    return {
        "agreed": share.count,
        "n": share.n,
        "share": number(share.share),
        "low": number(low),
        "high": number(high),
    }


def _errors(errors: Errors) -> dict[str, Any]:
    return {
        "n": errors.n,
        "mean": number(errors.mean),
        "rms": number(errors.rms),
        "beyond": errors.beyond,
    }


def estimate_tree(one: Estimate | None) -> dict[str, Any] | None:
    """An estimate with interval, n, and what must be known of it."""
    if one is None:
        return None
    return {
        "n": one.n,
        "value": number(one.value),
        "low": number(one.low),
        "high": number(one.high),
        "interval": one.method,
        "coverage": number(one.coverage),
        "note": note_of(one),
    }


def _item(one: CohortItem, found: MeasureAgreement | None) -> dict[str, Any]:
    reference = found.reference if found else None
    return {
        "measure": one.measure.id,
        "n": len(one.items),
        "missing": one.missing,
        "judged": _share(one.judged),
        "errors": _errors(one.errors),
        "spread": estimate_tree(found.spread) if found else None,
        "agreement": _numbers(reference) if reference and reference.bias else None,
        "kappa": _kappa(reference, found.sort) if found and reference and reference.kappa else None,
        "among": [_among(each) for each in found.among] if found else [],
    }


def _numbers(found: WithReference) -> dict[str, Any]:
    """Bias, limits and ICC of students with the reference."""
    bias, lower, upper = (
        estimate_tree(one) or {} for one in (found.bias, found.lower, found.upper)
    )
    return {
        "n": found.pairs,
        "students": found.students,
        "volunteers": found.volunteers,
        "bias": bias["value"],
        "bias_low": bias["low"],
        "bias_high": bias["high"],
        "lower": lower["value"],
        "lower_low": lower["low"],
        "lower_high": lower["high"],
        "upper": upper["value"],
        "upper_low": upper["low"],
        "upper_high": upper["high"],
        "note": bias["note"],
        "limits_note": lower["note"],
        "icc_form": "ICC(2,1)",
        "icc": estimate_tree(found.icc),
    }


def _kappa(found: WithReference, sort: Sort) -> dict[str, Any]:
    return {
        "weights": "unweighted" if sort is Sort.WORD else "quadratic",
        "students": found.students,
        "volunteers": found.volunteers,
        **(estimate_tree(found.kappa) or {}),
    }


def _among(one: Among) -> dict[str, Any]:
    return {
        "side": one.side,
        "volunteers": one.volunteers,
        "students": one.students,
        "gaps": one.gaps,
        "icc_form": "ICC(2,1)" if one.icc else None,
        "icc": estimate_tree(one.icc),
        "sem": estimate_tree(one.sem),
        "fleiss_kappa": estimate_tree(one.fleiss),
        "alpha_metric": one.metric,
        "alpha": estimate_tree(one.alpha),
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


# --- marks


def _standard(rubric: str, one: PassMark, judges: Mapping[str, str]) -> dict[str, Any]:
    found = one.borderline
    last = one.angoff[-1] if one.angoff else None
    told = found or last
    return {
        "rubric": rubric,
        "standard": one.standard,
        "of": number(one.of),
        "cut": number(one.cut),
        "standard_error": number(one.se),
        "standard_errors_added": number(one.standard_errors),
        "used": number(one.used),
        "n": found.n if found else len(last.sums) if last else None,
        "r_squared": number(found.r_squared) if found else None,
        "low": number(told.low) if told else None,
        "high": number(told.high) if told else None,
        "spacing": list(found.spacing) if found else [],
        "warnings": list(told.warnings) if told else [],
        "rounds": [_round(each, judges) for each in one.angoff],
    }


def _round(one: Angoff, judges: Mapping[str, str]) -> dict[str, Any]:
    return {
        "round": one.round,
        "judges": [
            {"judge": judges[name], "points": number(points)}
            for name, points in zip(one.judges, one.sums, strict=True)
        ],
        "cut": number(one.cut),
        "standard_error": number(one.se),
        "low": number(one.low),
        "high": number(one.high),
        "median": number(one.median),
        "sd_between_judges": number(apart(one)),
    }


def _markers(one: Markers) -> dict[str, Any]:
    return {
        "rubric": one.rubric,
        "examinations": one.examinations,
        "students": one.students,
        "whole": one.whole,
        "icc_form": "ICC(2,1)",
        "icc": estimate_tree(one.icc),
        "second_minus_first": estimate_tree(one.difference),
        "lower": estimate_tree(one.lower),
        "upper": estimate_tree(one.upper),
        "same_verdict": _share(one.same),
        "verdict_kappa": estimate_tree(one.verdicts),
        "domains": [_domain(each) for each in one.domains],
    }


def _domain(one: DomainMarks) -> dict[str, Any]:
    return {
        "domain": one.domain,
        "same": _share(one.same),
        "weights": "quadratic",
        "kappa": estimate_tree(one.kappa),
        "second_minus_first": estimate_tree(one.difference),
    }
