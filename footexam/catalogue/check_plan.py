"""What must hold of aims, features, conflicts, materials and figures: ids, limits, sources."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from itertools import pairwise

from footexam.catalogue.check_arguments import uncaused
from footexam.catalogue.check_expression import ExpressionChecker
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Rule, Texts
from footexam.catalogue.plan_model import (
    GENERAL,
    HARM,
    Aim,
    Conflict,
    DeviceArgument,
    Feature,
    Material,
    Size,
)
from footexam.messages import listed
from footexam.terms import FORMULAS, Provenance

SIZE_UNITS = frozenset({"mm", "deg", "%", "Shore A", "days", "weeks"})
"""What a dimension may be given in."""

_WHO = "a plan"


def check_plan(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Every mistake in forms/features that only shows between tables."""
    checker = ExpressionChecker(catalogue)
    for aim in catalogue.aims.values():
        yield from _check_aim(aim, catalogue, places[f"Aim:{aim.id}"])
    for feature in catalogue.features.values():
        yield from _check_feature(feature, checker, places[f"Feature:{feature.id}"])
    for conflict in catalogue.conflicts.values():
        yield from _check_conflict(conflict, checker, places[f"Conflict:{conflict.id}"])
    for argument in catalogue.device_arguments.values():
        place = places[f"DeviceArgument:{argument.id}"]
        yield from _check_argument(argument, checker, place)
    for material in catalogue.materials.values():
        yield from _check_material(material, checker, places[f"Material:{material.id}"])
    for figure in catalogue.figures.values():
        place = places[f"Rule:{figure.id}"]
        yield from checker.source(figure.source, place)
        yield from _explained(figure, place)
        if figure.at is None:
            yield Complaint(place, "a figure of the calculations is a number", "give at = …")


def _check_aim(aim: Aim, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    for name in aim.hypotheses:
        yield from known(name, catalogue.hypotheses, place.at("hypotheses"), "hypotheses/")
    for name in aim.excludes:
        where = place.at("excludes")
        yield from known(name, catalogue.aims, where, "features/aims.toml")
        other = catalogue.aims.get(name)
        if other and (other is aim or aim.id not in other.excludes):
            what = f"“{aim.id}” and “{name}” do not exclude each other"
            yield Complaint(where, what, "write it in both aims")
    yield from _uncaused(place, label=aim.label, says=aim.says, note=aim.note)


def _check_feature(
    feature: Feature, checker: ExpressionChecker, place: Place
) -> Iterator[Complaint]:
    if not feature.aims:
        yield Complaint(place.at("aims"), "a feature serves an aim", "name one")
    for name in feature.aims:
        yield from known(name, checker.catalogue.aims, place.at("aims"), "features/aims.toml")
    for name in feature.made_of:
        materials = checker.catalogue.materials
        yield from known(name, materials, place.at("made_of"), "features/materials.toml")
    yield from _uncaused(
        place,
        label=feature.label,
        mechanism=feature.mechanism,
        needs=feature.needs,
        where=feature.where,
    )
    if not feature.claims:
        yield Complaint(place, "a feature needs a claim", "say what is known, or that nothing is")
    for at, claim in enumerate(feature.claims):
        where = place.at("claim", at)
        yield from checker.source(claim.source, where)
        yield from _uncaused(where, text=claim.text)
        if claim.about not in {*feature.aims, HARM, GENERAL}:
            what = f"“{claim.about}” is not an aim of this feature"
            yield Complaint(where.at("about"), what, f"name one, or {HARM}, or {GENERAL}")
    for at, avoid in enumerate(feature.avoids):
        where = place.at("avoid", at)
        yield from checker.source(avoid.source, where)
        yield from _uncaused(where, says=avoid.says)
        if avoid.when:
            yield from checker.expression(avoid.when, where.at("when"))
        for aim in avoid.unless:
            yield from _warned(feature, aim, checker.catalogue, where.at("unless"))
    yield from _check_sizes(feature, checker, place)


def _warned(feature: Feature, aim: str, catalogue: Catalogue, where: Place) -> Iterator[Complaint]:
    """What gives way for an aim leaves a conflict with that aim to warn instead."""
    if not any(
        aim in one.aims and feature.id in one.features for one in catalogue.conflicts.values()
    ):
        what = f"no conflict says what “{feature.id}” means for “{aim}”"
        yield Complaint(where, what, "write one, or name another aim")


def _check_sizes(feature: Feature, checker: ExpressionChecker, place: Place) -> Iterator[Complaint]:
    names = [size.id for size in feature.sizes]
    if len(set(names)) != len(names):
        yield Complaint(place, "two dimensions have one name", "give each an id of its own")
    for at, size in enumerate(feature.sizes):
        where = place.at("size", at)
        yield from checker.source(size.source, where)
        yield from _explained(size, where)
        if not 0 <= size.low <= size.usual <= size.high:
            what = "the limits do not rise"
            yield Complaint(where.at("low"), what, "order them low, usual, high, from 0 on")
        if size.step <= 0 or size.tolerance <= 0:
            yield Complaint(where, "a step and a tolerance are above 0", "check the figures")
        if size.unit not in SIZE_UNITS:
            todo = f"use {listed(sorted(SIZE_UNITS))}"
            yield Complaint(where.at("unit"), f"“{size.unit}” is no unit of a dimension", todo)
        if size.formula and size.formula not in FORMULAS:
            todo = f"use {listed(sorted(FORMULAS))}"
            what = f"“{size.formula}” is not a formula of mechanics/"
            yield Complaint(where.at("formula"), what, todo)


def _check_conflict(
    conflict: Conflict, checker: ExpressionChecker, place: Place
) -> Iterator[Complaint]:
    where = place.at("feature" if conflict.aims else "features")
    for name in conflict.features:
        yield from known(name, checker.catalogue.features, where, "features/")
    for name in conflict.aims:
        yield from known(name, checker.catalogue.aims, place.at("aims"), "features/aims.toml")
    if conflict.when:
        yield from checker.expression(conflict.when, place.at("when"))
    yield from _check_limits(conflict, checker.catalogue, place)
    yield from checker.source(conflict.source, place)
    yield from _uncaused(place, why=conflict.why)


def _check_limits(conflict: Conflict, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    for at, limit in enumerate(conflict.limits):
        feature = catalogue.features.get(limit.feature)
        sizes = {size.id for size in feature.sizes} if feature else set()
        if limit.feature not in conflict.features or limit.size not in sizes:
            what = f"“{limit.size}” is not a dimension of a feature of this conflict"
            yield Complaint(place.at("limit", at), what, "name one that is")


def _check_argument(
    argument: DeviceArgument, checker: ExpressionChecker, place: Place
) -> Iterator[Complaint]:
    for name in argument.features:
        yield from known(name, checker.catalogue.features, place.at("features"), "features/")
    for name in argument.aims:
        yield from known(name, checker.catalogue.aims, place.at("aims"), "features/aims.toml")
    if argument.when:
        yield from checker.expression(argument.when, place.at("when"))
    yield from checker.source(argument.source, place)
    yield from _uncaused(place, says=argument.says)


def _check_material(
    material: Material, checker: ExpressionChecker, place: Place
) -> Iterator[Complaint]:
    yield from checker.source(material.source, place)
    yield from _explained(material, place)
    if not material.use:
        yield Complaint(place.at("use"), "a material is used for something", "name a use")
    low, high = material.modulus_low, material.modulus_high
    given = low is not None and high is not None
    if (low is None) != (high is None) or (given and not 0 < (low or 0) <= (high or 0)):
        yield Complaint(place.at("modulus_low"), "the moduli do not rise", "give both, in MPa")
    if material.density is not None and material.density <= 0:
        yield Complaint(place.at("density"), "a density is above 0", "give it in g/cm3")
    if not _firmer(material.stress_at or {}):
        what = "strains rise with the pressure and lie between 0 and 1"
        yield Complaint(place.at("stress_at"), what, "write { 100 = 0.1, 200 = 0.2 } for kPa")


def _firmer(strains: Mapping[int, Decimal]) -> bool:
    """Whether a foam gives way more under more pressure, and never wholly."""
    rows = sorted(strains.items())
    rising = all(first[1] < second[1] for first, second in pairwise(rows))
    return rising and all(0 < strain < 1 for _, strain in rows)


def _explained(thing: Rule | Size | Material, place: Place) -> Iterator[Complaint]:
    if thing.provenance is Provenance.ESTIMATE and not thing.note:
        yield Complaint(place, "an estimate must say from what", "add note.en")


def _uncaused(place: Place, **texts: Texts | None) -> Iterator[Complaint]:
    for key, text in texts.items():
        yield from uncaused(text, place.at(key), _WHO)
