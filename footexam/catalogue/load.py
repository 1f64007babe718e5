"""Loads forms/ into a Catalogue: from the files, or from the cache when they have not changed."""

import tomllib
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any

from footexam.catalogue import cache
from footexam.catalogue.check import check
from footexam.catalogue.fields import Fields
from footexam.catalogue.lines import line_map, line_of
from footexam.catalogue.mistakes import BadForms, Complaint, Mistake, Place
from footexam.catalogue.model import (
    Catalogue,
    Context,
    DifferenceNorm,
    Measure,
    NormSet,
    Panel,
    Region,
    Source,
)
from footexam.catalogue.norms import read_difference, read_set
from footexam.catalogue.panels import read_measure, read_panel
from footexam.resources import forms_dir

Trees = Mapping[str, Mapping[str, Any]]
"""What each file of forms/ holds, by its name under forms/."""


def load_catalogue(forms: Path | None = None, cache_dir: Path | None = None) -> Catalogue:
    """The catalogue of a forms/ folder (default: the one shipped).

    `cache_dir` None keeps no cache. Raises BadForms with every mistake found.
    """
    texts = _read(forms or forms_dir())
    digest = cache.digest(texts)
    trees = cache.load(cache_dir, digest) if cache_dir else None
    if trees is not None:
        return _build(trees, _stop)[0]
    trees, mistakes = _parse(texts)
    complaints: list[Complaint] = []
    catalogue, places = _build(trees, complaints.append)
    if not mistakes:
        complaints.extend(check(catalogue, places))
    mistakes += [_located(complaint, texts) for complaint in complaints]
    if mistakes:
        raise BadForms(sorted(mistakes, key=lambda mistake: (mistake.file, mistake.line)))
    if cache_dir:
        cache.save(cache_dir, digest, trees)
    return catalogue


def _stop(complaint: Complaint) -> None:
    """Cached forms have been checked: a complaint about them is a fault of the program."""
    raise complaint


def _read(forms: Path) -> dict[str, bytes]:
    files = sorted(forms.rglob("*.toml"))
    if not files:
        raise BadForms([Mistake("", 1, "no TOML file is there", "install the program again")])
    return {file.relative_to(forms).as_posix(): file.read_bytes() for file in files}


def _parse(texts: Mapping[str, bytes]) -> tuple[Trees, list[Mistake]]:
    trees: dict[str, Mapping[str, Any]] = {}
    mistakes: list[Mistake] = []
    for name, data in texts.items():
        try:
            trees[name] = tomllib.loads(data.decode(), parse_float=Decimal)
        except UnicodeDecodeError:
            mistakes.append(Mistake(name, 1, "the file is not UTF-8 text", "save it as UTF-8"))
        except tomllib.TOMLDecodeError as bad:
            mistakes.append(_syntax(name, data.decode(), bad))
    return trees, mistakes


def _syntax(name: str, text: str, bad: tomllib.TOMLDecodeError) -> Mistake:
    """The line of a syntax error; tomllib (3.11 to 3.13) names it only in its message."""
    words = str(bad).replace("(at end of document)", f"(at line {len(text.splitlines()) or 1},")
    _, _, tail = words.rpartition("(at line ")
    digits = tail.split(",")[0]
    line = int(digits) if digits.isdecimal() else 1
    return Mistake(name, line, f"this is not TOML ({str(bad).split(' (at')[0]})", "mend that line")


def _located(complaint: Complaint, texts: Mapping[str, bytes]) -> Mistake:
    place = complaint.place
    lines = line_map(texts.get(place.file, b"").decode())
    return Mistake(place.file, line_of(lines, place.path), complaint.what, complaint.todo)


class _Builder:
    """Reads every table; a table with a mistake is told and left out, the rest goes on."""

    def __init__(self, trees: Trees, tell: Callable[[Complaint], None]) -> None:
        self.trees = trees
        self.tell = tell
        listed = trees.get("languages.toml", {}).get("languages", ["en"])
        self.languages = [str(language) for language in listed]
        self.places: dict[str, Place] = {}

    def fields(self, file: str, value: object, *path: str | int) -> Fields:
        return Fields(value, Place(file, path), self.languages)

    def each(self, folder: str, key: str) -> Iterator[Fields]:
        """The tables of an array in every file whose name starts so."""
        for file, tree in self.trees.items():
            if file.startswith(folder):
                try:
                    yield from self.fields(file, tree).tables(key)
                except Complaint as complaint:
                    self.tell(complaint)

    def known(self, file: str, keys: frozenset[str]) -> None:
        """Refuse unknown top-level keys of a file."""
        try:
            self.fields(file, self.trees[file]).only(keys, frozenset())
        except Complaint as complaint:
            self.tell(complaint)

    def keep(self, into: dict[str, Any], fields: Fields, read: Callable[[Fields], Any]) -> None:
        """Read one table and file it by its id; an id given twice is a mistake."""
        try:
            thing = read(fields)
            if thing.id in into:
                raise fields.wrong("id", f"“{thing.id}” is given twice", "give each its own id")
        except Complaint as complaint:
            self.tell(complaint)
        else:
            into[thing.id] = thing
            self.places[f"{type(thing).__name__}:{thing.id}"] = fields.place


_TOP_KEYS = {
    "languages.toml": frozenset({"languages"}),
    "sources.toml": frozenset({"source"}),
    "regions.toml": frozenset({"region"}),
    "renamed.toml": frozenset({"measure"}),
    "contexts.toml": frozenset({"context"}),
}
_FOLDER_KEYS = {
    "panels/": frozenset({"panel", "measure"}),
    "norms/": frozenset({"set", "difference"}),
}


def _build(
    trees: Trees, tell: Callable[[Complaint], None]
) -> tuple[Catalogue, Mapping[str, Place]]:
    """The catalogue, and where each thing in it was written."""
    builder = _Builder(trees, tell)
    for file in trees:
        folder = next((name for name in _FOLDER_KEYS if file.startswith(name)), "")
        if file in _TOP_KEYS or folder:
            builder.known(file, _TOP_KEYS.get(file) or _FOLDER_KEYS[folder])
        elif file != "words.toml":
            tell(Complaint(Place(file), "this file is not known here", "remove or rename it"))
    panels, measures = _panels(builder)
    sources: dict[str, Source] = {}
    for fields in builder.each("sources.toml", "source"):
        builder.keep(sources, fields, _source)
    regions: dict[str, Region] = {}
    for fields in builder.each("regions.toml", "region"):
        builder.keep(regions, fields, _region)
    contexts: dict[str, Context] = {}
    for fields in builder.each("contexts.toml", "context"):
        builder.keep(contexts, fields, _context)
    norms: dict[str, NormSet] = {}
    for fields in builder.each("norms/", "set"):
        builder.keep(norms, fields, read_set)
    differences: dict[str, DifferenceNorm] = {}
    for fields in builder.each("norms/", "difference"):
        builder.keep(differences, fields, read_difference)
    catalogue = Catalogue(
        panels=panels,
        measures=measures,
        sources=sources,
        regions=regions,
        words=_words(builder),
        norms=_by_measure(norms),
        differences=_by_measure(differences),
        renamed=dict(trees.get("renamed.toml", {}).get("measure", {})),
        contexts=contexts,
    )
    return catalogue, builder.places


def _panels(builder: _Builder) -> tuple[dict[str, Panel], dict[str, Measure]]:
    panels: dict[str, Panel] = {}
    measures: dict[str, Measure] = {}
    for file, tree in builder.trees.items():
        if not file.startswith("panels/"):
            continue
        head = tree.get("panel", {})
        panel = str(head.get("id", "")) if isinstance(head, dict) else ""
        before = len(measures)
        for fields in builder.each(file, "measure"):
            builder.keep(measures, fields, partial(read_measure, panel=panel))
        ids = tuple(measures)[before:]
        try:
            head_fields = builder.fields(file, head, "panel")
            builder.keep(panels, head_fields, partial(read_panel, measures=ids))
        except Complaint as complaint:
            builder.tell(complaint)
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
    tree = builder.trees.get("words.toml", {})
    fields = builder.fields("words.toml", tree)
    for word in tree:
        try:
            words[word] = fields.texts(word)
        except Complaint as complaint:
            builder.tell(complaint)
    return words


def _by_measure(things: Mapping[str, Any]) -> dict[str, tuple[Any, ...]]:
    grouped: dict[str, list[Any]] = {}
    for thing in things.values():
        grouped.setdefault(thing.measure, []).append(thing)
    return {measure: tuple(found) for measure, found in grouped.items()}
