"""Reads forms/panels: panels, their measures, table columns and measurement errors."""

from footexam.catalogue.fields import Fields
from footexam.catalogue.mistakes import Complaint
from footexam.catalogue.model import Column, ErrorSize, Measure, Panel, Rule
from footexam.terms import Depth, Examiner, Kind, Provenance

_PANEL = frozenset({"id", "label", "position", "hint"})
_MEASURE_NEEDS = frozenset({"id", "kind", "depth", "label", "how", "against"})
_MEASURE = _MEASURE_NEEDS | {
    "sided",
    "repeats",
    "best",
    "ordinal",
    "foot_by_foot",
    "none_known",
    "unit",
    "unit_words",
    "decimals",
    "words",
    "methods",
    "column",
    "derived_from",
    "hard_low",
    "hard_high",
    "ask_low",
    "ask_high",
    "ask_from_age",
    "when",
    "heading",
    "error",
    "rule",
}
_COLUMN = frozenset({"id", "kind", "label", "words", "hard_low", "hard_high"})
_RULE_NEEDS = frozenset({"id", "source", "provenance"})
_RULE = _RULE_NEEDS | {"at", "unit", "words", "note"}
_ERROR_NEEDS = frozenset({"examiner", "source", "provenance"})
_ERROR = _ERROR_NEEDS | {"sem", "mdc95", "sd", "icc", "method", "used", "note"}


def read_panel(fields: Fields, measures: tuple[str, ...]) -> Panel:
    """The `[panel]` table; `measures` are the ids of the file in order."""
    fields.only(_PANEL, _PANEL)
    return Panel(
        id=fields.text("id"),
        label=fields.texts("label"),
        hint=fields.texts("hint"),
        position=fields.texts("position"),
        measures=measures,
    )


def read_measure(fields: Fields, panel: str) -> Measure:
    """One `[[measure]]` table."""
    fields.only(_MEASURE, _MEASURE_NEEDS)
    return Measure(
        id=fields.text("id"),
        panel=panel,
        kind=fields.one_of("kind", Kind),
        label=fields.texts("label"),
        depth=fields.one_of("depth", Depth),
        how=fields.texts("how"),
        against=fields.texts("against"),
        sided=fields.flag("sided"),
        repeats=fields.flag("repeats"),
        best=fields.flag("best"),
        ordinal=fields.flag("ordinal"),
        foot_by_foot=fields.flag("foot_by_foot"),
        none_known=fields.flag("none_known"),
        unit=fields.text("unit"),
        unit_words=fields.words("unit_words"),
        decimals=fields.whole("decimals") or 0,
        words=fields.words("words"),
        methods=fields.words("methods"),
        columns=tuple(_column(column) for column in fields.tables("column")),
        derived_from=fields.words("derived_from"),
        hard_low=fields.number("hard_low"),
        hard_high=fields.number("hard_high"),
        ask_low=fields.number("ask_low"),
        ask_high=fields.number("ask_high"),
        ask_from_age=fields.whole("ask_from_age"),
        when=fields.text("when"),
        heading=fields.maybe_texts("heading"),
        errors=tuple(_error(error) for error in fields.tables("error")),
        rules=tuple(read_rule(rule) for rule in fields.tables("rule")),
    )


def _column(fields: Fields) -> Column:
    fields.only(_COLUMN, frozenset({"id", "kind", "label"}))
    return Column(
        id=fields.text("id"),
        kind=fields.text("kind"),
        label=fields.texts("label"),
        words=fields.words("words"),
        hard_low=fields.number("hard_low"),
        hard_high=fields.number("hard_high"),
    )


def _error(fields: Fields) -> ErrorSize:
    fields.only(_ERROR, _ERROR_NEEDS)
    given = fields.table.keys() & {"sem", "mdc95", "sd", "icc"}
    if given not in ({"sem"}, {"mdc95"}, {"sd", "icc"}):
        todo = "give sem, or mdc95, or sd with icc"
        raise Complaint(fields.place, "an error needs one figure", todo)
    return ErrorSize(
        examiner=fields.one_of("examiner", Examiner),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        sem=fields.number("sem"),
        mdc95=fields.number("mdc95"),
        sd=fields.number("sd"),
        icc=fields.number("icc"),
        method=fields.text("method"),
        used=fields.flag("used", default=True),
        note=fields.maybe_texts("note"),
    )


def read_rule(fields: Fields) -> Rule:
    """One figure of a rule, as `[[measure.rule]]` or `[[weighing]]`."""
    fields.only(_RULE, _RULE_NEEDS)
    if ("at" in fields.table) == ("words" in fields.table):
        raise fields.wrong("id", "a rule needs one figure", "give at = … or words = […]")
    return Rule(
        id=fields.text("id"),
        source=fields.text("source"),
        provenance=fields.one_of("provenance", Provenance),
        at=fields.number("at"),
        unit=fields.text("unit"),
        words=fields.words("words"),
        note=fields.maybe_texts("note"),
    )
