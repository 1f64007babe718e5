"""Reads cautions, gates, hypotheses, conditions and test accuracy from their tables."""

from footexam.catalogue.arguments import (
    Accuracy,
    Branch,
    Check,
    Claim,
    Condition,
    Contradiction,
    DangerSign,
    Defeater,
    Gate,
    GateCause,
    Hold,
    Hypothesis,
    Row,
)
from footexam.catalogue.fields import Fields
from footexam.terms import Grade, Provenance, Tier

_SOURCED = frozenset({"source", "provenance"})
_LOAD, _CAPACITY = "load", "capacity"
RULE_OF_THUMB = "common-practice"


def read_caution(fields: Fields) -> DangerSign:
    """One [[caution]] with its branches."""
    keys = frozenset({"id", "label", "holds", "branch"})
    fields.only(keys, keys)
    return DangerSign(
        id=fields.text("id"),
        label=fields.texts("label"),
        holds=tuple(_hold(fields, word) for word in fields.words("holds")),
        branches=tuple(_branch(one) for one in fields.tables("branch")),
    )


def _hold(fields: Fields, word: str) -> Hold:
    try:
        return Hold(word)
    except ValueError as bad:
        raise fields.wrong("holds", f"“{word}” cannot be held", f"use {', '.join(Hold)}") from bad


def _branch(fields: Fields) -> Branch:
    needs = frozenset({"id", "tier", "when", "trigger", "action", "umbrella", "unfolds"})
    fields.only(needs | _SOURCED | {"guideline", "country", "note"}, needs | _SOURCED)
    return Branch(
        id=fields.text("id"),
        tier=fields.one_of("tier", Tier),
        when=fields.text("when"),
        trigger=fields.texts("trigger"),
        action=fields.texts("action"),
        umbrella=fields.words("umbrella"),
        unfolds=fields.words("unfolds"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        guideline=fields.text("guideline"),
        country=fields.text("country"),
        note=fields.maybe_texts("note"),
    )


def read_gate(fields: Fields) -> Gate:
    """One [[gate]] with its causes."""
    keys = frozenset({"id", "label", "forbids", "cause", "because", "record"}) | _SOURCED
    fields.only(keys, keys)
    return Gate(
        id=fields.text("id"),
        label=fields.texts("label"),
        forbids=fields.words("forbids"),
        causes=tuple(_cause(one) for one in fields.tables("cause")),
        because=fields.texts("because"),
        record=fields.texts("record"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
    )


def _cause(fields: Fields) -> GateCause:
    keys = frozenset({"when", "says"})
    fields.only(keys, keys)
    return GateCause(fields.text("when"), fields.texts("says"))


def read_check(fields: Fields) -> Check:
    """One [[check]]."""
    keys = frozenset({"id", "label", "asks", "says"}) | _SOURCED
    fields.only(keys, keys)
    return Check(
        id=fields.text("id"),
        label=fields.texts("label"),
        asks=fields.words("asks"),
        says=fields.texts("says"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
    )


def read_hypothesis(fields: Fields) -> Hypothesis:
    """One [[hypothesis]] with its rows and evidence."""
    needs = frozenset(
        {"id", "label", "statement", "mechanism", "tissue", "side_of_argument", "conditions"}
        | {"grade_mechanics", "grade_injury", "counter", "test", "tests", "require", "against"}
    )
    fields.only(needs | {"stable", "why_now", "evidence", "support"}, needs)
    where = fields.text("side_of_argument")
    if where not in {_LOAD, _CAPACITY}:
        raise fields.wrong("side_of_argument", f"“{where}” is not known", "use load or capacity")
    return Hypothesis(
        id=fields.text("id"),
        label=fields.texts("label"),
        statement=fields.texts("statement"),
        mechanism=fields.texts("mechanism"),
        tissue=fields.texts("tissue"),
        capacity=where == _CAPACITY,
        stable=fields.flag("stable"),
        why_now=fields.flag("why_now"),
        conditions=fields.words("conditions"),
        grade_mechanics=fields.one_of("grade_mechanics", Grade),
        grade_injury=fields.one_of("grade_injury", Grade),
        counter=fields.texts("counter"),
        test=fields.texts("test"),
        tests=fields.words("tests"),
        evidence=tuple(_claim(one) for one in fields.tables("evidence")),
        require=tuple(_row(one) for one in fields.tables("require")),
        support=tuple(_row(one) for one in fields.tables("support")),
        against=tuple(_row(one) for one in fields.tables("against")),
    )


def _row(fields: Fields) -> Row:
    needs = frozenset({"when", "says"})
    fields.only(needs | _SOURCED | {"group", "points", "ratio", "note"}, needs)
    if ("points" in fields.table) == ("ratio" in fields.table):
        raise fields.wrong("points", "a row has points or a ratio", "write one of them")
    if "ratio" in fields.table:
        fields.only(frozenset(fields.table), _SOURCED)
    return Row(
        when=fields.text("when"),
        says=fields.texts("says"),
        group=fields.text("group"),
        source=fields.text("source", RULE_OF_THUMB),
        provenance=fields.maybe_one_of("provenance", Provenance) or Provenance.COMMON_PRACTICE,
        points=fields.number("points"),
        ratio=fields.number("ratio"),
        note=fields.maybe_texts("note"),
    )


def _claim(fields: Fields) -> Claim:
    fields.only(_SOURCED | {"text", "when", "ratio", "about"}, _SOURCED)
    return Claim(
        text=fields.maybe_texts("text"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        when=fields.text("when"),
        ratio=fields.number("ratio"),
        about=fields.text("about"),
    )


def read_defeater(fields: Fields) -> Defeater:
    """One [[defeater]]."""
    needs = frozenset({"id", "measures", "when", "says"}) | _SOURCED
    fields.only(needs | {"unless"}, needs)
    return Defeater(
        id=fields.text("id"),
        measures=fields.words("measures"),
        when=fields.text("when"),
        says=fields.texts("says"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        unless=fields.words("unless"),
    )


def read_contradiction(fields: Fields) -> Contradiction:
    """One [[contradiction]]."""
    keys = frozenset({"id", "when", "says"})
    fields.only(keys, keys)
    return Contradiction(fields.text("id"), fields.text("when"), fields.texts("says"))


def read_condition(fields: Fields) -> Condition:
    """One [[condition]] with its claims."""
    needs = frozenset(
        {"id", "label", "regions", "tissue", "modes", "nonunion_risk", "reds_site_class"}
        | {"companions", "imaging", "refer", "first_line"}
    )
    fields.only(needs | {"raises", "lowers", "claim"}, needs)
    return Condition(
        id=fields.text("id"),
        label=fields.texts("label"),
        regions=fields.words("regions"),
        tissue=fields.texts("tissue"),
        modes=fields.words("modes"),
        nonunion_risk=fields.text("nonunion_risk"),
        reds_site_class=fields.text("reds_site_class"),
        companions=fields.words("companions"),
        imaging=fields.texts("imaging"),
        refer=fields.texts("refer"),
        first_line=fields.texts("first_line"),
        raises=tuple(_claim(one) for one in fields.tables("raises")),
        lowers=tuple(_claim(one) for one in fields.tables("lowers")),
        claims=tuple(_claim(one) for one in fields.tables("claim")),
    )


def read_accuracy(fields: Fields) -> Accuracy:
    """One [[accuracy]]."""
    needs = frozenset({"id", "measure", "target", "condition", "reference"}) | _SOURCED
    figures = frozenset({"sensitivity", "specificity", "ratio_positive", "ratio_negative"})
    fields.only(needs | figures | {"computed", "doubtful"}, needs)
    return Accuracy(
        id=fields.text("id"),
        measure=fields.text("measure"),
        target=fields.texts("target"),
        condition=fields.text("condition"),
        reference=fields.texts("reference"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        sensitivity=fields.number("sensitivity"),
        specificity=fields.number("specificity"),
        ratio_positive=fields.number("ratio_positive"),
        ratio_negative=fields.number("ratio_negative"),
        computed=fields.flag("computed"),
        doubtful=fields.maybe_texts("doubtful"),
    )
