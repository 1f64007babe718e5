"""Reads forms/norms: norm sets with their groups and cuts, and norms of side differences."""

from decimal import Decimal

from footexam.catalogue.fields import Fields
from footexam.catalogue.mistakes import Complaint
from footexam.catalogue.model import Cut, DifferenceNorm, NormGroup, NormSet
from footexam.terms import Provenance, Sex, Side

OPERATORS = frozenset({"<", "<=", ">", ">="})
_OLDEST = 120

_SET_NEEDS = frozenset({"id", "measure", "label", "source", "provenance"})
_SET = _SET_NEEDS | {
    "group",
    "methods",
    "judged",
    "interpolate",
    "round_to",
    "outside",
    "spread",
    "note",
}
_GROUP_NEEDS = frozenset({"id", "label"})
_GROUP = _GROUP_NEEDS | {
    "default",
    "sex",
    "side",
    "ages",
    "needs",
    "n",
    "mean",
    "sd",
    "low",
    "high",
}
_CUT_NEEDS = frozenset({"op", "at", "state"})
_CUT = _CUT_NEEDS | {"source", "provenance"}
_DIFFERENCE_NEEDS = _SET_NEEDS | {"cuts"}
_DIFFERENCE = _DIFFERENCE_NEEDS | {"methods", "ages", "sd", "spread", "note"}


def read_set(fields: Fields) -> NormSet:
    """One `[[set]]` table."""
    fields.only(_SET, _SET_NEEDS)
    if ("group" in fields.table) == ("outside" in fields.table):
        todo = "give [[set.group]] or outside = […], not both"
        raise Complaint(fields.place, "a set needs groups or words", todo)
    return NormSet(
        id=fields.text("id"),
        measure=fields.text("measure"),
        label=fields.texts("label"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        groups=tuple(_group(group) for group in fields.tables("group")),
        methods=fields.words("methods"),
        judged=fields.flag("judged", default=True),
        interpolate=fields.flag("interpolate"),
        round_to=fields.number("round_to"),
        outside=fields.words("outside"),
        spread=fields.maybe_one_of("spread", Provenance),
        note=fields.maybe_texts("note"),
    )


def _group(fields: Fields) -> NormGroup:
    fields.only(_GROUP, _GROUP_NEEDS)
    return NormGroup(
        id=fields.text("id"),
        label=fields.texts("label"),
        default=fields.flag("default"),
        sex=fields.maybe_one_of("sex", Sex),
        side=fields.maybe_one_of("side", Side),
        ages=_ages(fields),
        needs=_needs(fields),
        n=fields.whole("n"),
        mean=fields.number("mean"),
        sd=fields.number("sd"),
        low=tuple(_cut(cut) for cut in fields.tables("low")),
        high=tuple(_cut(cut) for cut in fields.tables("high")),
    )


def _ages(fields: Fields) -> tuple[int, int] | None:
    value = fields.table.get("ages")
    if value is None:
        return None
    fits = isinstance(value, list) and len(value) == 2 and all(type(age) is int for age in value)
    if not fits or not 0 <= value[0] <= value[1] <= _OLDEST:
        raise fields.wrong(
            "ages", "“ages” is not a range of years", "write [from, to], both included"
        )
    return value[0], value[1]


def _needs(fields: Fields) -> dict[str, tuple[str, ...]] | None:
    if "needs" not in fields.table:
        return None
    needs = fields.table_at("needs")
    return {measure: needs.words(measure) for measure in needs.table}


def _cut(fields: Fields) -> Cut:
    fields.only(_CUT, _CUT_NEEDS)
    if fields.text("op") not in OPERATORS:
        raise fields.wrong("op", "“op” is not an operator", "use <, <=, > or >=")
    return Cut(
        op=fields.text("op"),
        at=fields.number("at") or Decimal(0),  # `only` has seen the key: None cannot be
        state=fields.text("state"),
        source=fields.text("source"),
        provenance=fields.maybe_one_of("provenance", Provenance),
    )


def read_difference(fields: Fields) -> DifferenceNorm:
    """One `[[difference]]` table."""
    fields.only(_DIFFERENCE, _DIFFERENCE_NEEDS)
    return DifferenceNorm(
        id=fields.text("id"),
        measure=fields.text("measure"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        cuts=tuple(_cut(cut) for cut in fields.tables("cuts")),
        label=fields.texts("label"),
        methods=fields.words("methods"),
        ages=_ages(fields),
        sd=fields.number("sd"),
        spread=fields.maybe_one_of("spread", Provenance),
        note=fields.maybe_texts("note"),
    )
