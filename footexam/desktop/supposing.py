"""What if: a feature chosen with other dimensions, before anything is recorded; no Qt."""

from collections.abc import Callable, Mapping
from typing import Any

from footexam.assessment import Assessment
from footexam.catalogue.model import Catalogue
from footexam.reasoning.engine import engine
from footexam.reasoning.planned import Dimension, Plan
from footexam.reasoning.sizing import dimensions, known_inputs, with_material
from footexam.record.examination import Examination
from footexam.terms import Side

Sizes = Mapping[str, str]
"""Dimensions as typed, by the id of the size."""


def plan_with(
    feature: str,
    side: Side | None,
    sizes: Sizes,
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
) -> Plan:
    """The plan if a feature were chosen for a side with these dimensions."""
    made, reasons = examination.decisions, assessment.reasons
    tried: dict[str, Any] = {**sizes, "id": feature, "side": side}
    features = {(one["id"], one.get("side")): one for one in made.get("features", ())}
    features[feature, side] = tried
    decisions = {**made, "features": list(features.values())}
    planner = engine(catalogue).planner
    return planner.plan(reasons.arguments, reasons.cautions, reasons.views, decisions)


def dimensions_with(
    feature: str, side: Side | None, sizes: Sizes, assessment: Assessment, catalogue: Catalogue
) -> tuple[Dimension, ...]:
    """The dimensions of a feature if it were chosen for a side with these."""
    found = catalogue.features[feature]
    known = known_inputs(assessment.reasons.views[side], {feature: sizes})
    return dimensions(found, with_material(found, known, sizes, catalogue), sizes, catalogue)


def value_on(side: Side | None, assessment: Assessment) -> Callable[[str], float | None]:
    """Looks up what was measured or worked out on a side; None where it was not."""
    view = assessment.reasons.views[side]

    def measured_value(name: str) -> float | None:
        found = view.measured(name)
        return None if found is None else float(found.value)

    return measured_value
