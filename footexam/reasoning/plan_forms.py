"""What a plan needs of the forms, put in order once for a catalogue."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import GENERAL, HARM, Aim, Conflict, Feature, FeatureClaim
from footexam.reasoning.concerns import Concerns
from footexam.reasoning.sizing import effects_of
from footexam.reasoning.truth import Rule
from footexam.terms import Grade

_GRADES = {grade: place for place, grade in enumerate(Grade)}


@dataclass(frozen=True, slots=True)
class Serving:
    """A feature as it serves an aim: what is claimed about that, and what can go wrong."""

    feature: Feature
    aim: str
    claims: tuple[FeatureClaim, ...]
    harms: tuple[FeatureClaim, ...]


class PlanForms:
    """Aims by hypothesis, features by aim in their order, conflicts and effects by feature."""

    def __init__(self, catalogue: Catalogue, rule: Callable[[str], Rule]) -> None:
        """`rule` gives the compiled form of an expression."""
        self.catalogue = catalogue
        self.rule = rule
        self.features = catalogue.features
        self.figures = catalogue.figures
        self.aim_order = _order(catalogue.aims)
        self.feature_order = _order(catalogue.features)
        self.aims_of: dict[str, list[Aim]] = _grouped(
            (name, aim) for aim in catalogue.aims.values() for name in aim.hypotheses
        )
        self.served = {
            (one.id, aim): _serve(one, aim)
            for one in catalogue.features.values()
            for aim in one.aims
        }
        serving: dict[str, list[Serving]] = _grouped(
            (aim, one) for (_, aim), one in self.served.items()
        )
        self.serving = {aim: sorted(found, key=_rank) for aim, found in serving.items()}
        self.conflicts: dict[str, list[Conflict]] = _grouped(
            (name, one) for one in catalogue.conflicts.values() for name in one.features
        )
        self.concerns = Concerns(catalogue)
        self.effects = {name: effects_of(one) for name, one in catalogue.features.items()}


def _serve(feature: Feature, aim: str) -> Serving:
    """A feature as it serves an aim: its claims about that, the best grade first, then general."""
    own = sorted((one for one in feature.claims if one.about == aim), key=_grade)
    general = [one for one in feature.claims if one.about == GENERAL]
    harms = [one for one in feature.claims if one.about == HARM]
    return Serving(feature, aim, (*own, *general), tuple(harms))


def _rank(one: Serving) -> tuple[bool, int, int]:
    """Tried first, then the best evidence for the aim, then the least bulk."""
    graded = [_grade(claim) for claim in one.claims if claim.about == one.aim]
    return (
        one.aim not in one.feature.first,
        min(graded, default=len(_GRADES)),
        one.feature.bulk,
    )


def _grade(claim: FeatureClaim) -> int:
    return _GRADES[claim.grade]


def _order(names: Iterable[str]) -> dict[str, int]:
    return {name: place for place, name in enumerate(names)}


def _grouped(pairs: Iterable[tuple[str, Any]]) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for name, thing in pairs:
        found.setdefault(name, []).append(thing)
    return found
