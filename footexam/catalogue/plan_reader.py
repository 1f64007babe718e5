"""Reads aims, features, conflicts and materials from their tables in forms/features."""

from decimal import Decimal

from footexam.catalogue.fields import Fields
from footexam.catalogue.mistakes import Complaint
from footexam.catalogue.plan_model import (
    Aim,
    Avoid,
    Conflict,
    Device,
    DeviceArgument,
    Feature,
    FeatureClaim,
    Limit,
    Material,
    Severity,
    Size,
    Use,
    Zone,
)
from footexam.terms import Grade, Provenance

_SOURCED = frozenset({"source", "provenance"})
_MOST_BULK = 5
_FEWEST = 2


def read_aim(fields: Fields) -> Aim:
    """One [[aim]]."""
    needs = frozenset({"id", "label", "says", "hypotheses"})
    fields.only(needs | {"excludes", "note"}, needs)
    return Aim(
        id=fields.text("id"),
        label=fields.texts("label"),
        says=fields.texts("says"),
        hypotheses=fields.words("hypotheses"),
        excludes=fields.words("excludes"),
        note=fields.maybe_texts("note"),
    )


def read_feature(fields: Fields) -> Feature:
    """One [[feature]] with its claims, when not to use it, and its dimensions."""
    needs = frozenset({"id", "label", "aims", "zone", "bulk", "mechanism", "claim"})
    fields.only(needs | {"first", "for", "needs", "where", "made_of", "avoid", "size"}, needs)
    bulk = fields.whole("bulk") or 0
    if bulk > _MOST_BULK:
        raise fields.wrong("bulk", f"“{bulk}” is more than {_MOST_BULK}", "write 0 to 5")
    return Feature(
        id=fields.text("id"),
        label=fields.texts("label"),
        aims=fields.words("aims"),
        zone=fields.one_of("zone", Zone),
        bulk=bulk,
        mechanism=fields.texts("mechanism"),
        first=_first(fields),
        needs=fields.maybe_texts("needs"),
        where=fields.maybe_texts("where"),
        made_of=fields.words("made_of"),
        claims=tuple(_claim(one) for one in fields.tables("claim")),
        avoids=tuple(_avoid(one) for one in fields.tables("avoid")),
        sizes=tuple(_size(one) for one in fields.tables("size")),
    )


def _first(fields: Fields) -> tuple[str, ...]:
    """The aims for which a feature is tried first: `first` speaks of the first, `for` of each."""
    aims = fields.words("aims")
    keys = frozenset({"aim", "first"})
    said = dict.fromkeys(aims[:1], fields.flag("first"))
    for one in fields.tables("for"):
        one.only(keys, keys)
        if one.text("aim") not in aims:
            what = f"“{one.text('aim')}” is not an aim of this feature"
            raise one.wrong("aim", what, "add it to aims")
        said[one.text("aim")] = one.flag("first")
    return tuple(aim for aim in aims if said.get(aim))


def _claim(fields: Fields) -> FeatureClaim:
    keys = frozenset({"about", "text", "grade"}) | _SOURCED
    fields.only(keys, keys)
    return FeatureClaim(
        about=fields.text("about"),
        text=fields.texts("text"),
        grade=fields.one_of("grade", Grade),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
    )


def _avoid(fields: Fields) -> Avoid:
    needs = frozenset({"says", "severity"}) | _SOURCED
    fields.only(needs | {"when", "unless"}, needs)
    return Avoid(
        says=fields.texts("says"),
        severity=fields.one_of("severity", Severity),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        when=fields.text("when"),
        unless=fields.words("unless"),
    )


def _size(fields: Fields) -> Size:
    figures = frozenset({"usual", "low", "high", "step", "tolerance"})
    needs = figures | _SOURCED | {"id", "unit"}
    fields.only(needs | {"formula", "note"}, needs)
    return Size(
        id=fields.text("id"),
        unit=fields.text("unit"),
        usual=_figure(fields, "usual"),
        low=_figure(fields, "low"),
        high=_figure(fields, "high"),
        step=_figure(fields, "step"),
        tolerance=_figure(fields, "tolerance"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        formula=fields.text("formula"),
        note=fields.maybe_texts("note"),
    )


def _figure(fields: Fields, key: str) -> Decimal:
    return fields.number(key) or Decimal(0)  # `only` has seen the key: None cannot be


def read_conflict(fields: Fields) -> Conflict:
    """One [[conflict]]: features among themselves, one against aims, or one on one side alone."""
    needs = frozenset({"severity", "why"}) | _SOURCED
    others = frozenset({"features", "feature", "aims", "when", "one_sided", "limit"})
    fields.only(needs | others, needs)
    features, aims = fields.words("features"), fields.words("aims")
    one, one_sided = fields.text("feature"), fields.flag("one_sided")
    alone = bool(one) and not features and bool(aims) != one_sided
    if not alone and (one or one_sided or aims or len(features) < _FEWEST):
        todo = "give features = […], or feature with aims or with one_sided = true"
        raise Complaint(fields.place, "a conflict lies between two things", todo)
    against = "on-one-side" if one_sided else f"against-{'-or-'.join(aims)}"
    name = f"{one}-{against}" if one else "-with-".join(features)
    return Conflict(
        id=name,
        features=(one,) if one else features,
        aims=aims,
        severity=fields.one_of("severity", Severity),
        why=fields.texts("why"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        when=fields.text("when"),
        one_sided=one_sided,
        limits=tuple(_limit(table) for table in fields.tables("limit")),
    )


def _limit(fields: Fields) -> Limit:
    keys = frozenset({"feature", "size", "most"})
    fields.only(keys, keys)
    return Limit(fields.text("feature"), fields.text("size"), _figure(fields, "most"))


def read_device_argument(fields: Fields) -> DeviceArgument:
    """One [[argument]] for a custom device, a prefabricated one or none."""
    needs = frozenset({"id", "says", "points_to", "grade"}) | _SOURCED
    fields.only(needs | {"when", "features", "aims"}, needs)
    return DeviceArgument(
        id=fields.text("id"),
        says=fields.texts("says"),
        points_to=fields.one_of("points_to", Device),
        grade=fields.one_of("grade", Grade),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        when=fields.text("when"),
        features=fields.words("features"),
        aims=fields.words("aims"),
    )


def read_material(fields: Fields) -> Material:
    """One [[material]]."""
    needs = frozenset({"id", "label", "use"}) | _SOURCED
    figures = frozenset({"modulus_low", "modulus_high", "density", "stress_at"})
    fields.only(needs | figures | {"hardness", "note"}, needs)
    return Material(
        id=fields.text("id"),
        label=fields.texts("label"),
        use=tuple(_use(fields, word) for word in fields.words("use")),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        modulus_low=fields.number("modulus_low"),
        modulus_high=fields.number("modulus_high"),
        density=fields.number("density"),
        hardness=fields.maybe_texts("hardness"),
        stress_at=_strains(fields),
        note=fields.maybe_texts("note"),
    )


def _use(fields: Fields, word: str) -> Use:
    try:
        return Use(word)
    except ValueError as bad:
        raise fields.wrong("use", f"“{word}” is no use", f"use {', '.join(Use)}") from bad


def _strains(fields: Fields) -> dict[int, Decimal] | None:
    """Strain by pressure, written { 100 = 0.36, 200 = 0.5 } in kPa."""
    if "stress_at" not in fields.table:
        return None
    table = fields.table_at("stress_at")
    for key in table.table:
        if not key.isdecimal():
            raise table.wrong(key, f"“{key}” is no pressure", "write whole kPa")
    return {int(key): _figure(table, key) for key in table.table}
