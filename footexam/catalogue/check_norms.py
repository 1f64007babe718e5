"""What must hold of the norms in forms/norms: cuts that fit the measure, one default each."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from itertools import combinations, pairwise

from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Cut, DifferenceNorm, Measure, NormGroup, NormSet
from footexam.terms import Kind, Provenance

ADULT = 18
"""Completed years from which a norm without ages holds (S12)."""


def check_norms(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Every mistake between norms, measures, sources and words."""
    for sets in catalogue.norms.values():
        for norm in sets:
            yield from _check_set(norm, catalogue, places[f"NormSet:{norm.id}"])
        yield from _check_defaults(sets, places)
    for norms in catalogue.differences.values():
        for difference in norms:
            place = places[f"DifferenceNorm:{difference.id}"]
            yield from _check_difference(difference, catalogue, place)
        yield from _check_one_difference(norms, places)


def _check_set(norm: NormSet, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    yield from known(norm.measure, catalogue.measures, place.at("measure"), "panels/")
    yield from known(norm.source, catalogue.sources, place.at("source"), "sources.toml")
    measure = catalogue.measures.get(norm.measure)
    if measure is None:
        return
    yield from _check_methods(norm.methods, measure, place)
    if norm.provenance is Provenance.ESTIMATE and not norm.note:
        yield Complaint(place, "an estimate must say from what", "add note.en")
    allowed = ("yes", "no") if measure.kind is Kind.YES_NO else measure.words
    for word in norm.outside:
        if word not in allowed:
            yield Complaint(
                place.at("outside"), f"“{word}” is not a word of {measure.id}", "use its words"
            )
    if norm.round_to is not None and norm.round_to <= 0:
        yield Complaint(place.at("round_to"), "the printed unit must be above 0", "write 1 or 0.1")
    if len({group.id for group in norm.groups}) != len(norm.groups):
        yield Complaint(place, "two groups have one id", "give each its own")
    for at, group in enumerate(norm.groups):
        yield from _check_group(group, norm, measure, catalogue, place.at("group", at))


def _check_methods(methods: tuple[str, ...], measure: Measure, place: Place) -> Iterator[Complaint]:
    for method in methods:
        if method not in measure.methods:
            yield Complaint(
                place.at("methods"),
                f"“{method}” is not a method of {measure.id}",
                "use its methods",
            )


def _check_group(
    group: NormGroup, norm: NormSet, measure: Measure, catalogue: Catalogue, place: Place
) -> Iterator[Complaint]:
    if (group.mean is None) != (group.sd is None) and group.default:
        yield Complaint(place, "a default needs mean and sd, or cuts", "add the missing one")
    if group.sd is not None and group.sd <= 0:
        yield Complaint(place.at("sd"), "an SD is above 0", "check the figure")
    if group.default and group.mean is None and not group.low and not group.high:
        yield Complaint(
            place, "a default group has nothing to judge by", "give mean and sd, or cuts"
        )
    if group.side and not measure.sided:
        yield Complaint(place.at("side"), f"{measure.id} has no sides", "remove side")
    for name, words in (group.needs or {}).items():
        needed = catalogue.measures.get(name)
        if needed is None or not set(words) <= set(needed.words):
            yield Complaint(place.at("needs"), f"“{name}” cannot be asked so", "check id and words")
    for key, cuts, operators in (("low", group.low, "<="), ("high", group.high, ">=")):
        yield from _check_cuts(cuts, operators, measure, catalogue, place.at(key))
    if norm.interpolate and (group.ages is None or group.mean is None or group.sd is None):
        yield Complaint(place, "interpolation needs ages, mean and sd", "add them")


def _check_cuts(
    cuts: tuple[Cut, ...], operators: str, measure: Measure, catalogue: Catalogue, place: Place
) -> Iterator[Complaint]:
    for at, cut in enumerate(cuts):
        where = place.at(at)
        if cut.op[0] != operators[0]:
            yield Complaint(
                where, f"“{cut.op}” points the wrong way", f"use {operators[0]} or {operators}"
            )
        if not _inside(cut.at, measure):
            yield Complaint(
                where,
                f"{cut.at} lies outside what {measure.id} can be in {measure.unit}",
                "give the limit in the measure's unit",
            )
        yield from known(cut.state, catalogue.words, where, "words.toml")
        if cut.source:
            yield from known(cut.source, catalogue.sources, where, "sources.toml")
    sign = -1 if operators[0] == "<" else 1
    if any((outer.at - inner.at) * sign <= 0 for inner, outer in pairwise(cuts)):
        yield Complaint(
            place, "the cuts are not ordered outward", "nearest to the usual range first"
        )


def _inside(value: Decimal, measure: Measure) -> bool:
    low, high = measure.hard_low, measure.hard_high
    return (low is None or value >= low) and (high is None or value <= high)


def _check_defaults(sets: tuple[NormSet, ...], places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Exactly one default per (measure, method, side, age, sex)."""
    found = [
        (norm, at, group) for norm in sets for at, group in enumerate(norm.groups) if group.default
    ]
    for (one, _, first), (other, at, second) in combinations(found, 2):
        same_method = one.methods == other.methods or set(one.methods) & set(other.methods)
        if same_method and first.sex is second.sex and _overlap(first, second):
            place = places[f"NormSet:{other.id}"].at("group", at)
            yield Complaint(
                place,
                f"two defaults meet: {one.id}/{first.id} and {other.id}/{second.id}",
                "keep default = true in one of them, or part their ages",
            )


def _overlap(first: NormGroup, second: NormGroup) -> bool:
    if first.side and second.side and first.side is not second.side:
        return False
    if bool(first.side) != bool(second.side):
        return False  # a norm of one side goes before the pooled one
    for name, words in (first.needs or {}).items():
        if not set(words) & set((second.needs or {}).get(name, words)):
            return False
    low, high = first.ages or (ADULT, 10**3)
    other_low, other_high = second.ages or (ADULT, 10**3)
    return low <= other_high and other_low <= high


def _check_difference(
    norm: DifferenceNorm, catalogue: Catalogue, place: Place
) -> Iterator[Complaint]:
    yield from known(norm.measure, catalogue.measures, place.at("measure"), "panels/")
    yield from known(norm.source, catalogue.sources, place.at("source"), "sources.toml")
    measure = catalogue.measures.get(norm.measure)
    if measure is None:
        return
    yield from _check_methods(norm.methods, measure, place)
    if not norm.cuts and norm.sd is None:
        yield Complaint(place, "a difference needs cuts or an sd", "add one")
    if any(not cut.op.startswith(">") or cut.at < 0 for cut in norm.cuts):
        yield Complaint(place.at("cuts"), "a difference is outside above its limit", "use > or >=")
    for cut in norm.cuts:
        yield from known(cut.state, catalogue.words, place.at("cuts"), "words.toml")


def _check_one_difference(
    norms: tuple[DifferenceNorm, ...], places: Mapping[str, Place]
) -> Iterator[Complaint]:
    for one, other in combinations(norms, 2):
        if one.methods == other.methods or set(one.methods) & set(other.methods):
            place = places[f"DifferenceNorm:{other.id}"]
            yield Complaint(place, f"two differences meet: {one.id} and {other.id}", "keep one")
