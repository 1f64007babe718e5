"""Aims, features and conflicts made for a test, decisions as in a file, and the plan they make."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Any

from footexam.assessment import Assessment, assess
from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import (
    GENERAL,
    Aim,
    Avoid,
    Conflict,
    Device,
    DeviceArgument,
    Feature,
    FeatureClaim,
    Limit,
    Severity,
    Size,
    Zone,
)
from footexam.reasoning.planned import Candidate, Plan
from footexam.terms import Grade, Provenance, Side
from tests.reasoning.making import Readings, catalogue, examination, forms, said

PRACTICE: dict[str, Any] = {
    "source": "common-practice",
    "provenance": Provenance.COMMON_PRACTICE,
}


def aim(name: str, *hypotheses: str, excludes: Iterable[str] = ()) -> Aim:
    return Aim(name, said(name), said(f"{name}."), hypotheses, tuple(excludes))


def claim(about: str = GENERAL, grade: Grade = Grade.E4, text: str = "") -> FeatureClaim:
    return FeatureClaim(about, said(text or f"Of {about}, {grade}."), grade, **PRACTICE)


def avoid(when: str = "", severity: Severity = Severity.WARN, *unless: str) -> Avoid:
    return Avoid(
        says=said(f"Not where {when}."), severity=severity, when=when, unless=unless, **PRACTICE
    )


def size(name: str, usual: float, low: float, high: float, **more: Any) -> Size:
    return Size(
        id=name,
        unit=more.pop("unit", "mm"),
        usual=Decimal(str(usual)),
        low=Decimal(str(low)),
        high=Decimal(str(high)),
        step=Decimal(str(more.pop("step", 1))),
        tolerance=Decimal(1),
        **PRACTICE,
        **more,
    )


def feature(name: str, *aims: str, **more: Any) -> Feature:
    """A feature with one general claim and no bulk, where nothing else is told."""
    told: dict[str, Any] = {"zone": Zone.HEEL, "bulk": 0, "claims": (claim(),), **more}
    return Feature(name, said(name), aims, mechanism=said(f"How {name} works."), **told)


def conflict(*features: str, aims: Iterable[str] = (), **more: Any) -> Conflict:
    told: dict[str, Any] = {"severity": Severity.WARN, **PRACTICE, **more}
    name = "-".join((*features, *aims))
    return Conflict(name, features, tuple(aims), why=said(f"Of {name}."), **told)


def limit(name: str, part: str, most: float) -> Limit:
    return Limit(name, part, Decimal(str(most)))


def argument(name: str, **more: Any) -> DeviceArgument:
    return DeviceArgument(
        name, said(name), more.pop("points_to", Device.CUSTOM), Grade.E4, **PRACTICE, **more
    )


def plan_forms(
    aims: Iterable[Aim] = (),
    features: Iterable[Feature] = (),
    conflicts: Iterable[Conflict] = (),
    arguments: Iterable[DeviceArgument] = (),
    **others: Any,
) -> Catalogue:
    """The shipped measures and figures with these aims, features and conflicts and no others."""
    return replace(
        catalogue(**others),
        aims={one.id: one for one in aims},
        features={one.id: one for one in features},
        conflicts={one.id: one for one in conflicts},
        device_arguments={one.id: one for one in arguments},
    )


Named = tuple[str, str | None]


def decided(
    accepted: Iterable[Named] = (),
    aims: Iterable[Named] = (),
    features: Iterable[tuple[str, str | None, dict[str, str]]] = (),
    cautions: dict[str, Any] | None = None,
) -> dict[str, Any]:
    """Decisions as they stand in a file."""

    def row(name: str, side: str | None) -> dict[str, Any]:
        return {"id": name, "side": side}

    return {
        "cautions": cautions or {},
        "hypotheses": {"accepted": [row(*one) for one in accepted]},
        "aims": [row(*one) for one in aims],
        "features": [{**row(name, side), **sizes} for name, side, sizes in features],
    }


def judged(
    made: Catalogue | None,
    decisions: dict[str, Any],
    readings: Readings | None = None,
    *,
    suggest: bool = False,
) -> Assessment:
    exam = examination(readings or {}, decisions=decisions)
    return assess(exam, made or forms(), suggest=suggest)


def planned(made: Catalogue | None, decisions: dict[str, Any], readings: Readings | None = None,
            *, suggest: bool = False) -> Plan:  # fmt: skip
    """The plan of these decisions; `made` None stands for the forms as shipped."""
    return judged(made, decisions, readings, suggest=suggest).reasons.plan


def named(plan: Plan) -> list[tuple[str, Side | None]]:
    return [(one.id, one.side) for one in plan.aims]


def find(plan: Plan, name: str, side: Side | None = Side.LEFT, of: str = "") -> Candidate:
    """A feature of an aim of the plan; or of the first that has it."""
    return next(
        one for one in plan.candidates if (one.id, one.side) == (name, side) and of in {one.aim, ""}
    )


def taken(plan: Plan, name: str, side: Side | None = Side.LEFT) -> Candidate:
    (found,) = (one for one in plan.chosen if (one.id, one.side) == (name, side))
    return found
