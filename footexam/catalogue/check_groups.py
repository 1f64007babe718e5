"""What must hold of the groups of a norm: figures and cuts that fit the measure."""

from collections.abc import Iterator
from itertools import pairwise

from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Cut, Measure, NormGroup, NormSet


def check_group(
    group: NormGroup, norm: NormSet, measure: Measure, catalogue: Catalogue, place: Place
) -> Iterator[Complaint]:
    """What must hold of one group: its figures, its cuts, and what it asks for."""
    yield from _check_figures(group, measure, place)
    if group.side and not measure.sided:
        yield Complaint(place.at("side"), f"{measure.id} has no sides", "remove side")
    for name, words in (group.needs or {}).items():
        needed = catalogue.measures.get(name)
        if needed is None or not set(words) <= set(needed.words):
            yield Complaint(place.at("needs"), f"“{name}” cannot be asked so", "check id and words")
    for key, cuts, operators in (("low", group.low, "<="), ("high", group.high, ">=")):
        yield from _check_cuts(cuts, operators, measure, catalogue, place.at(key))
    if _cross(group):
        yield Complaint(place.at("low"), "low and high overlap", "check their limits")
    if norm.interpolate and (group.ages is None or group.mean is None or group.sd is None):
        yield Complaint(place, "interpolation needs ages, mean and sd", "add them")


def _check_figures(group: NormGroup, measure: Measure, place: Place) -> Iterator[Complaint]:
    if (group.mean is None) != (group.sd is None) and group.default:
        yield Complaint(place, "a default needs mean and sd, or cuts", "add the missing one")
    if group.mean is not None and not measure.takes(group.mean):
        what = f"{group.mean} lies outside what {measure.id} can be in {measure.unit}"
        yield Complaint(place.at("mean"), what, "give the mean in the measure's unit")
    if group.sd is not None and group.sd <= 0:
        yield Complaint(place.at("sd"), "an SD is above 0", "check the figure")
    if group.default and group.mean is None and not group.low and not group.high:
        yield Complaint(
            place, "a default group has nothing to judge by", "give mean and sd, or cuts"
        )


def _check_cuts(
    cuts: tuple[Cut, ...], operators: str, measure: Measure, catalogue: Catalogue, place: Place
) -> Iterator[Complaint]:
    for at, cut in enumerate(cuts):
        where = place.at(at)
        if cut.op[0] != operators[0]:
            yield Complaint(
                where, f"“{cut.op}” points the wrong way", f"use {operators[0]} or {operators}"
            )
        if not measure.takes(cut.at):
            yield Complaint(
                where,
                f"{cut.at} lies outside what {measure.id} can be in {measure.unit}",
                "give the limit in the measure's unit",
            )
    yield from check_order(cuts, catalogue, place)


def check_order(cuts: tuple[Cut, ...], catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    """Names of states and sources, and that the cuts go outward from the usual range."""
    for at, cut in enumerate(cuts):
        yield from known(cut.state, catalogue.words, place.at(at), "words.toml")
        if cut.source:
            yield from known(cut.source, catalogue.sources, place.at(at), "sources.toml")
    for inner, outer in pairwise(cuts):
        if outer.at <= inner.at if outer.op.startswith(">") else outer.at >= inner.at:
            todo = "write the one nearest to the usual range first"
            yield Complaint(place, "the cuts are not ordered outward", todo)


def _cross(group: NormGroup) -> bool:
    """Whether a value could lie below and above the usual range at once."""
    if not group.low or not group.high:
        return False
    low, high = group.low[0], group.high[0]
    return low.at > high.at or (low.at == high.at and low.op == "<=" and high.op == ">=")
