"""What must hold of the norms in forms/norms: cuts that fit the measure, one default each."""

from collections.abc import Iterator, Mapping
from itertools import combinations

from footexam.catalogue.check_groups import check_group, check_order
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, DifferenceNorm, Measure, NormGroup, NormSet
from footexam.terms import Kind, Provenance

_ANSWERED = frozenset({Kind.YES_NO, Kind.YES_SITES})

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
    allowed = ("yes", "no") if measure.kind in _ANSWERED else measure.words
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
        yield from check_group(group, norm, measure, catalogue, place.at("group", at))
    for (_, one), (at, other) in combinations(enumerate(norm.groups), 2):
        if one.sex is other.sex and one.ages and other.ages and _overlap(one, other):
            what = f"the ages of {one.id} and {other.id} overlap"
            yield Complaint(place.at("group", at, "ages"), what, "part their ages")


def _check_methods(methods: tuple[str, ...], measure: Measure, place: Place) -> Iterator[Complaint]:
    for method in methods:
        if method not in measure.methods:
            yield Complaint(
                place.at("methods"),
                f"“{method}” is not a method of {measure.id}",
                "use its methods",
            )


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
    return _ages_meet(first.ages, second.ages)


def _ages_meet(first: tuple[int, int] | None, second: tuple[int, int] | None) -> bool:
    low, high = first or (ADULT, 10**3)
    other_low, other_high = second or (ADULT, 10**3)
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
    yield from check_order(norm.cuts, catalogue, place.at("cuts"))
    if norm.provenance is Provenance.ESTIMATE and not norm.note:
        yield Complaint(place, "an estimate must say from what", "add note.en")


def _check_one_difference(
    norms: tuple[DifferenceNorm, ...], places: Mapping[str, Place]
) -> Iterator[Complaint]:
    for one, other in combinations(norms, 2):
        same_method = one.methods == other.methods or set(one.methods) & set(other.methods)
        if same_method and _ages_meet(one.ages, other.ages):
            place = places[f"DifferenceNorm:{other.id}"]
            what = f"two differences meet: {one.id} and {other.id}"
            yield Complaint(place, what, "keep one, or part their ages")
