"""What must hold between the files of forms/: ids that exist, limits and units that fit."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from itertools import pairwise

from footexam.catalogue.check_arguments import check_arguments
from footexam.catalogue.check_norms import check_norms
from footexam.catalogue.check_plan import check_plan
from footexam.catalogue.known import known
from footexam.catalogue.letters import check_letters
from footexam.catalogue.marking import check_marking
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, ErrorSize, Measure
from footexam.catalogue.training import check_training
from footexam.messages import listed
from footexam.terms import NUMBER_KINDS, Kind, Provenance
from footexam.units import meets

COLUMN_KINDS = frozenset({"date", "week", "number", "text", "choice", "yes-no", "side", "region"})
VIEWS = frozenset({"plantar", "dorsal", "medial", "lateral", "leg"})
_WORDED = frozenset({Kind.CHOICE, Kind.SEVERAL})
_LIMITED = NUMBER_KINDS | {Kind.REGION_VALUES, Kind.ACTIVITIES}
_BARE_ESTIMATE = "an estimate must say from what"
_NAMED = frozenset({"age", "sex", "inputs"})
_TERM = re.compile(r"([a-z][a-z0-9-]*)\)?\s*(?:!=|<=|>=|=|<|>|recorded\b)")


def check(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Every mistake that only shows between tables."""
    for measure in catalogue.measures.values():
        yield from _check_measure(measure, catalogue, places[f"Measure:{measure.id}"])
    for region in catalogue.regions.values():
        if region.view not in VIEWS:
            place = places[f"Region:{region.id}"].at("view")
            todo = f"use {listed(sorted(VIEWS))}"
            yield Complaint(place, f"“{region.view}” is not a view of the foot map", todo)
    for context in catalogue.contexts.values():
        yield from _check_when(context.when, catalogue, places[f"Context:{context.id}"])
    yield from check_norms(catalogue, places)
    yield from check_arguments(catalogue, places)
    yield from check_training(catalogue, places)
    yield from check_plan(catalogue, places)
    yield from check_letters(catalogue, places)
    yield from check_marking(catalogue, places)
    for old, new in catalogue.renamed.items():
        if new not in catalogue.measures or old in catalogue.measures:
            place = Place("renamed.toml", ("measure", old))
            yield Complaint(place, f"“{old}” cannot be renamed so", "name an old and a present id")


def _check_measure(measure: Measure, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    yield from _check_limits(measure, place)
    yield from _check_names(measure, catalogue, place)
    yield from _check_columns(measure, catalogue, place)
    for at, error in enumerate(measure.errors):
        yield from _check_error(error, measure, catalogue, place.at("error", at))
    yield from _check_used_errors(measure, place)
    yield from _check_rules(measure, catalogue, place)


def _check_limits(measure: Measure, place: Place) -> Iterator[Complaint]:
    for word in measure.unit_words:
        if not meets(word, measure.unit):
            yield Complaint(
                place.at("unit_words"),
                f"“{word}” cannot be turned into {measure.unit}",
                "use words that footexam/units.py knows",
            )
    if measure.kind in _LIMITED and (measure.hard_low is None or measure.hard_high is None):
        yield Complaint(place, "a number needs hard_low and hard_high", "add them")
    if not _rising(measure.hard_low, measure.ask_low, measure.ask_high, measure.hard_high):
        yield Complaint(
            place.at("hard_low"),
            "the limits do not rise",
            "order them hard_low, ask_low, ask_high, hard_high in the measure's unit",
        )


def _check_names(measure: Measure, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    if measure.kind in _WORDED and not measure.words:
        yield Complaint(place, "a choice needs words", "add words = […]")
    if (measure.kind is Kind.DERIVED) != bool(measure.derived_from):
        yield Complaint(place, "only a derived measure names derived_from", "add or remove it")
    for word in (*measure.words, *measure.methods):
        yield from known(word, catalogue.words, place.at("words"), "words.toml")
    for name in measure.derived_from:
        yield from known(name, catalogue.measures, place.at("derived_from"), "panels/")
    yield from _check_when(measure.when, catalogue, place)


def _check_when(when: str, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    for name in _TERM.findall(when):
        if name not in _NAMED:
            yield from known(name, catalogue.measures, place.at("when"), "panels/")


def _rising(*limits: Decimal | None) -> bool:
    given = [limit for limit in limits if limit is not None]
    return all(low <= high for low, high in pairwise(given))


def _check_columns(measure: Measure, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    if (measure.kind is Kind.TABLE) != bool(measure.columns):
        yield Complaint(place, "only a table has columns", "add or remove [[measure.column]]")
    for at, column in enumerate(measure.columns):
        where = place.at("column", at, "kind")
        if column.kind not in COLUMN_KINDS:
            todo = f"use {listed(sorted(COLUMN_KINDS))}"
            yield Complaint(where, f"“{column.kind}” is not a kind of column", todo)
        if column.kind == "number" and not (
            column.hard_low is not None
            and column.hard_high is not None
            and column.hard_low <= column.hard_high
        ):
            yield Complaint(where, "a number needs rising limits", "add hard_low and hard_high")
        if (column.kind == "choice") != bool(column.words):
            yield Complaint(where, "only a choice has words", "add or remove words")
        for word in column.words:
            yield from known(word, catalogue.words, where, "words.toml")


def _check_error(
    error: ErrorSize, measure: Measure, catalogue: Catalogue, place: Place
) -> Iterator[Complaint]:
    yield from known(error.source, catalogue.sources, place.at("source"), "sources.toml")
    if error.method and error.method not in measure.methods:
        yield Complaint(
            place.at("method"),
            f"“{error.method}” is not a method of {measure.id}",
            "use one of its methods",
        )
    sizes = (error.sem, error.mdc95, error.sd)
    if any(size is not None and size <= 0 for size in sizes) or (
        error.icc is not None and not 0 <= error.icc < 1
    ):
        yield Complaint(place, "an error is positive and an ICC below 1", "check the figures")
    if error.provenance is Provenance.ESTIMATE and not error.note:
        yield Complaint(place, _BARE_ESTIMATE, "add note.en")


def _check_used_errors(measure: Measure, place: Place) -> Iterator[Complaint]:
    used = [(error.method, error.examiner) for error in measure.errors if error.used]
    if len(set(used)) != len(used):
        yield Complaint(
            place, "two errors are used for one method and examiner", "mark one used = false"
        )


def _check_rules(measure: Measure, catalogue: Catalogue, place: Place) -> Iterator[Complaint]:
    names = [rule.id for rule in measure.rules]
    if names and measure.kind is not Kind.DERIVED:
        yield Complaint(place, "only a derived measure has rules", "remove [[measure.rule]]")
    if len(set(names)) != len(names):
        yield Complaint(place, "two rules have one name", "give each an id of its own")
    for at, rule in enumerate(measure.rules):
        where = place.at("rule", at, "source")
        yield from known(rule.source, catalogue.sources, where, "sources.toml")
        if rule.provenance is Provenance.ESTIMATE and not rule.note:
            yield Complaint(place.at("rule", at), _BARE_ESTIMATE, "add note.en")
