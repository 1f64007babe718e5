"""Builds the Catalogue from the tables of forms/; a table with a mistake is told and left out."""

import re
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import Any

from footexam.catalogue import arguments_reader as arguments
from footexam.catalogue import letters
from footexam.catalogue import plan_reader as plan
from footexam.catalogue.fields import Fields, TrustedFields
from footexam.catalogue.later import Later
from footexam.catalogue.marking import read_rubric
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Context, Measure, Panel, Region, Source
from footexam.catalogue.norms import read_difference, read_set
from footexam.catalogue.panels import read_measure, read_panel, read_rule
from footexam.catalogue.training import read_remark

Trees = Mapping[str, Mapping[str, Any]]
"""What each file of forms/ holds, by its name under forms/."""

ENGLISH = "en"
_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*", re.ASCII)

_TOP_KEYS = {
    "languages.toml": frozenset({"languages"}),
    "sources.toml": frozenset({"source"}),
    "regions.toml": frozenset({"region"}),
    "renamed.toml": frozenset({"measure"}),
    "contexts.toml": frozenset({"context"}),
    "cautions.toml": frozenset({"caution"}),
    "gates.toml": frozenset({"gate", "check"}),
    "defeaters.toml": frozenset({"defeater"}),
    "contradictions.toml": frozenset({"contradiction"}),
    "weighing.toml": frozenset({"weighing"}),
    "training.toml": frozenset({"training", "remark"}),
    "accuracy.toml": frozenset({"accuracy"}),
    "features/aims.toml": frozenset({"aim"}),
    "features/conflicts.toml": frozenset({"conflict"}),
    "features/materials.toml": frozenset({"material"}),
    "features/choice.toml": frozenset({"argument"}),
    "features/figures.toml": frozenset({"figure"}),
}
_FOLDER_KEYS = {
    "panels/": frozenset({"panel", "measure"}),
    "norms/": frozenset({"set", "difference"}),
    "hypotheses/": frozenset({"hypothesis"}),
    "conditions/": frozenset({"condition"}),
    "features/": frozenset({"feature"}),
    "letters/": frozenset({"block", "outcome", "plain"}),
    "marking/": frozenset({"rubric"}),
}


def build(
    trees: Trees, tell: Callable[[Complaint], None], reader: type[Fields] = Fields
) -> tuple[Catalogue, Mapping[str, Place]]:
    """The catalogue, and where each thing in it was written, as "Measure:shoe-drop".

    `tell` hears of every mistake; `reader` is TrustedFields for tables that were checked before:
    most of those are read when they are first asked for.
    """
    builder = _Builder(trees, tell, reader)
    for file in trees:
        builder.known(file)
    panels, measures = _panels(builder)
    norms = builder.things("norms/", "set", read_set)
    differences = builder.things("norms/", "difference", read_difference)
    catalogue = Catalogue(
        panels=panels,
        measures=measures,
        sources=builder.things("sources.toml", "source", _source),
        regions=builder.things("regions.toml", "region", _region),
        words=_words(builder),
        norms=builder.table(partial(_by_measure, norms)),
        differences=builder.table(partial(_by_measure, differences)),
        renamed=_renamed(builder),
        contexts=builder.things("contexts.toml", "context", _context),
        cautions=builder.things("cautions.toml", "caution", arguments.read_caution),
        gates=builder.things("gates.toml", "gate", arguments.read_gate),
        checks=builder.things("gates.toml", "check", arguments.read_check),
        hypotheses=builder.things("hypotheses/", "hypothesis", arguments.read_hypothesis),
        contradictions=builder.things(
            "contradictions.toml", "contradiction", arguments.read_contradiction
        ),
        defeaters=builder.things("defeaters.toml", "defeater", arguments.read_defeater),
        conditions=builder.things("conditions/", "condition", arguments.read_condition),
        weighing=builder.things("weighing.toml", "weighing", read_rule),
        training=builder.things("training.toml", "training", read_rule),
        remarks=builder.things("training.toml", "remark", read_remark),
        accuracy=builder.things("accuracy.toml", "accuracy", arguments.read_accuracy),
        aims=builder.things("features/aims.toml", "aim", plan.read_aim),
        features=builder.things("features/", "feature", plan.read_feature),
        conflicts=builder.things("features/conflicts.toml", "conflict", plan.read_conflict),
        materials=builder.things("features/materials.toml", "material", plan.read_material),
        device_arguments=builder.things(
            "features/choice.toml", "argument", plan.read_device_argument
        ),
        figures=builder.things("features/figures.toml", "figure", read_rule),
        blocks=builder.things("letters/", "block", letters.read_block),
        outcomes=builder.things("letters/", "outcome", letters.read_outcome),
        plain=builder.things("letters/", "plain", letters.read_plain_word),
        rubrics=builder.things("marking/", "rubric", read_rubric),
    )
    return catalogue, builder.places


class _Builder:
    """The trees, the languages they must have, and the places of what was read so far."""

    def __init__(
        self, trees: Trees, tell: Callable[[Complaint], None], reader: type[Fields]
    ) -> None:
        self.trees = trees
        self.tell = tell
        self.reader = reader
        self.languages: tuple[str, ...] = (ENGLISH,)
        self.places: dict[str, Place] = {}
        with self:
            self.languages = _languages(self.fields("languages.toml"))

    def __enter__(self) -> None:
        """Begin something in which one mistake may be."""

    def __exit__(self, _: object, found: object, __: object) -> bool:
        """Tell a mistake and go on after it."""
        if isinstance(found, Complaint):
            self.tell(found)
            return True
        return False

    def fields(self, file: str) -> Fields:
        """A whole file, empty if it is missing."""
        return self.reader(self.trees.get(file, {}), Place(file), self.languages)

    def known(self, file: str) -> None:
        """Refuse unknown files and unknown top-level keys."""
        folder = file.partition("/")[0] + "/" if "/" in file else ""
        keys = _TOP_KEYS.get(file) or _FOLDER_KEYS.get(folder)
        if keys is not None:
            with self:
                self.fields(file).only(keys, frozenset())
        elif file != "words.toml":
            self.tell(Complaint(Place(file), "this file is not known here", "remove or rename it"))

    def each(self, folder: str, key: str) -> Iterator[Fields]:
        """The tables of an array in every file whose name starts so."""
        for file in self.trees:
            if file.startswith(folder):
                tables: list[Fields] = []
                with self:
                    tables = self.fields(file).tables(key)
                yield from tables

    def table(self, make: Callable[[], dict[str, Any]]) -> Mapping[str, Any]:
        """What is made, now; or later, where no mistake can be found in it any more."""
        return Later(make) if self.reader is TrustedFields else make()

    def things(self, folder: str, key: str, read: Callable[[Fields], Any]) -> Mapping[str, Any]:
        """What `read` makes of each of these tables, by id."""
        return self.table(partial(self._things, folder, key, read))

    def _things(self, folder: str, key: str, read: Callable[[Fields], Any]) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for fields in self.each(folder, key):
            self.keep(found, fields, read)
        return found

    def keep(self, into: dict[str, Any], fields: Fields, read: Callable[[Fields], Any]) -> None:
        """Read one table and file it by its id; an id given twice is a mistake."""
        if self.reader is TrustedFields:
            trusted = read(fields)
            into[trusted.id] = trusted
            return
        with self:
            thing = read(fields)
            if thing.id in into:
                raise fields.wrong("id", f"“{thing.id}” is given twice", "give each its own id")
            if not _ID.fullmatch(thing.id):
                what = f"“{thing.id}” is not an id"
                raise fields.wrong("id", what, "write small letters, digits and hyphens")
            into[thing.id] = thing
            self.places[f"{type(thing).__name__}:{thing.id}"] = fields.place


def _languages(fields: Fields) -> tuple[str, ...]:
    if not fields.table:
        return (ENGLISH,)
    languages = fields.words("languages")
    if ENGLISH not in languages:
        what = "English is not among the languages"
        raise fields.wrong("languages", what, 'write languages = ["en"], and others after it')
    return languages


def _renamed(builder: _Builder) -> dict[str, str]:
    """Old measure ids to new ones."""
    fields = builder.fields("renamed.toml")
    if "measure" not in fields.table:
        return {}
    with builder:
        table = fields.table_at("measure")
        return {old: table.text(old) for old in table.table}
    return {}


def _panels(builder: _Builder) -> tuple[dict[str, Panel], dict[str, Measure]]:
    panels: dict[str, Panel] = {}
    measures: dict[str, Measure] = {}
    for file in builder.trees:
        if file.startswith("panels/"):
            with builder:
                head = builder.fields(file).table_at("panel")
                before = len(measures)
                read = partial(read_measure, panel=head.text("id"))
                for fields in builder.each(file, "measure"):
                    builder.keep(measures, fields, read)
                ids = tuple(measures)[before:]
                builder.keep(panels, head, partial(read_panel, measures=ids))
    return panels, measures


def _source(fields: Fields) -> Source:
    fields.only(frozenset({"id", "citation", "doi", "pmid"}), frozenset({"id", "citation"}))
    return Source(
        fields.text("id"), fields.text("citation"), fields.text("doi"), fields.text("pmid")
    )


def _region(fields: Fields) -> Region:
    needs = frozenset({"id", "label", "groups", "view"})
    fields.only(needs | {"high_risk"}, needs)
    return Region(
        id=fields.text("id"),
        label=fields.texts("label"),
        groups=fields.words("groups"),
        high_risk=fields.flag("high_risk"),
        view=fields.text("view"),
    )


def _context(fields: Fields) -> Context:
    needs = frozenset({"id", "when", "label"})
    fields.only(needs, needs)
    return Context(fields.text("id"), fields.text("when"), fields.texts("label"))


def _words(builder: _Builder) -> dict[str, Mapping[str, str]]:
    words: dict[str, Mapping[str, str]] = {}
    fields = builder.fields("words.toml")
    for word in fields.table:
        with builder:
            words[word] = fields.texts(word)
    return words


def _by_measure(things: Mapping[str, Any]) -> dict[str, tuple[Any, ...]]:
    grouped: dict[str, list[Any]] = {}
    for thing in things.values():
        grouped.setdefault(thing.measure, []).append(thing)
    return {measure: tuple(found) for measure, found in grouped.items()}
