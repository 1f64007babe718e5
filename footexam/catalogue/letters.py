"""Blocks of letters: what may be said, when, and on what it rests; and plain words."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from string import Formatter

from footexam.catalogue.check_arguments import uncaused
from footexam.catalogue.check_expression import ExpressionChecker
from footexam.catalogue.fields import Fields
from footexam.catalogue.known import known
from footexam.catalogue.mistakes import Complaint, Place
from footexam.catalogue.model import Catalogue, Texts
from footexam.messages import listed
from footexam.terms import Provenance


class Document(StrEnum):
    """What a block belongs to."""

    REFERRAL = "referral"
    LEAFLET = "leaflet"
    REVIEW = "review"


class Better(StrEnum):
    """Which way an outcome gets better."""

    LESS = "less"
    MORE = "more"


FACTS = frozenset(
    {
        "danger",
        "caution",
        "unresolved",
        "accepted",
        "plan",
        "held",
        "device",
        "tape",
        "boot",
        "shoe",
        "insensate",
        "tight-shoe",
    }
)
"""What a block may ask of plan and cautions by name (footexam/reasoning/letters.py)."""

SLOTS: Mapping[Document, frozenset[str]] = {
    Document.REFERRAL: frozenset(
        {
            "to",
            "patient",
            "born",
            "sex",
            "number",
            "urgency",
            "reasons",
            "complaint",
            "cautions",
            "where",
            "since",
            "goals",
            "conditions",
            "medicines",
            "allergies",
            "outside",
            "usual",
            "changed",
            "asked",
            "excluded",
            "impression",
            "thought",
            "own",
            "treatment",
            "advice",
            "done",
            "planned",
            "held",
            "absent",
            "missing",
            "unanswered",
            "consent",
        }
    ),
    Document.LEAFLET: frozenset(
        {"held_sides", "soon", "gets", "aims", "tape_days", "tight", "advice", "help", "who"}
    ),
    Document.REVIEW: frozenset(),
}
"""What the text of a block may name; reports/ fills it from the record, or leaves the block out."""

_DIGIT = re.compile(r"\d")
_WHO = "a letter"


@dataclass(frozen=True, slots=True)
class Block:
    """One paragraph of a letter, leaflet or review plan, and when it stands.

    It stands where `when` is true of a side of the record, all `facts` and none of `without` hold,
    and one of `features` is chosen and one of `hypotheses` accepted (where any are named). A text
    with a slot that the record does not fill is left out; `instead` then stands in its place.
    `write`: and a line to write on. `kept`: what is typed for it stands behind it, never in its
    place. Without a `heading` it follows the block before.
    """

    id: str
    document: Document
    order: int
    text: Texts
    heading: Texts | None = None
    when: str = ""
    facts: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    features: tuple[str, ...] = ()
    hypotheses: tuple[str, ...] = ()
    instead: Texts | None = None
    write: bool = False
    kept: bool = False
    source: str = ""
    provenance: Provenance | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """A measure by which a plan is judged, by its id, and which way is better."""

    id: str
    better: Better


@dataclass(frozen=True, slots=True)
class PlainWord:
    """An aim or a feature, by its id, in words for patients."""

    id: str
    text: Texts


def read_block(fields: Fields) -> Block:
    """One [[block]]."""
    needs = frozenset({"id", "document", "order", "text"})
    asks = frozenset({"when", "facts", "without", "features", "hypotheses"})
    says = frozenset({"heading", "instead", "write", "kept", "source", "provenance"})
    fields.only(needs | asks | says, needs)
    return Block(
        id=fields.text("id"),
        document=fields.one_of("document", Document),
        order=int(fields.number("order") or Decimal(0)),
        text=fields.texts("text"),
        heading=fields.maybe_texts("heading"),
        when=fields.text("when"),
        facts=fields.words("facts"),
        without=fields.words("without"),
        features=fields.words("features"),
        hypotheses=fields.words("hypotheses"),
        instead=fields.maybe_texts("instead"),
        write=fields.flag("write"),
        kept=fields.flag("kept"),
        source=fields.text("source"),
        provenance=fields.maybe_one_of("provenance", Provenance),
    )


def read_outcome(fields: Fields) -> Outcome:
    """One [[outcome]]."""
    keys = frozenset({"id", "better"})
    fields.only(keys, keys)
    return Outcome(fields.text("id"), fields.one_of("better", Better))


def read_plain_word(fields: Fields) -> PlainWord:
    """One [[plain]]."""
    keys = frozenset({"id", "text"})
    fields.only(keys, keys)
    return PlainWord(fields.text("id"), fields.texts("text"))


def slots_of(text: str) -> tuple[str, ...]:
    """The names between braces; raises ValueError where a brace stands alone."""
    return tuple(name for _, name, _, _ in Formatter().parse(text) if name is not None)


def check_letters(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Every mistake in forms/letters that only shows between tables."""
    checker = ExpressionChecker(catalogue)
    taken: dict[tuple[Document, int], str] = {}
    for block in catalogue.blocks.values():
        place = places[f"Block:{block.id}"]
        yield from _check_asked(block, checker, place)
        yield from _check_said(block, checker, place)
        before = taken.setdefault((block.document, block.order), block.id)
        if before != block.id:
            what = f"“{before}” has this order too"
            yield Complaint(place.at("order"), what, "give each block its own")
    for outcome in catalogue.outcomes.values():
        place = places[f"Outcome:{outcome.id}"].at("id")
        yield from known(outcome.id, catalogue.measures, place, "panels/")
    yield from _check_words(catalogue, places)


def _check_asked(block: Block, checker: ExpressionChecker, place: Place) -> Iterator[Complaint]:
    """When a block stands."""
    catalogue = checker.catalogue
    if block.when:
        yield from checker.expression(block.when, place.at("when"))
    for key, names in (("facts", block.facts), ("without", block.without)):
        for name in names:
            if name not in FACTS:
                todo = f"use {listed(sorted(FACTS))}"
                yield Complaint(place.at(key), f"“{name}” is no fact of a plan", todo)
    for name in block.features:
        yield from known(name, catalogue.features, place.at("features"), "features/")
    for name in block.hypotheses:
        yield from known(name, catalogue.hypotheses, place.at("hypotheses"), "hypotheses/")


def _check_said(block: Block, checker: ExpressionChecker, place: Place) -> Iterator[Complaint]:
    """What a block says: slots that are filled, no cause, and a source for every figure."""
    for key, texts in (("text", block.text), ("instead", block.instead)):
        yield from uncaused(texts, place.at(key), _WHO)
        allowed = SLOTS[block.document] if key == "text" else frozenset()
        for words in (texts or {}).values():
            yield from _check_slots(words, allowed, place.at(key))
            if _DIGIT.search(words) and not block.source:
                yield Complaint(place, "a figure has no source", "give source and provenance")
    if block.source:
        yield from checker.source(block.source, place)
    if bool(block.source) != (block.provenance is not None):
        yield Complaint(place, "source and provenance belong together", "give both or neither")


def _check_slots(text: str, allowed: frozenset[str], place: Place) -> Iterator[Complaint]:
    try:
        names = slots_of(text)
    except ValueError:
        yield Complaint(place, "a brace stands alone", "write {name}")
        return
    for name in names:
        if name not in allowed:
            todo = f"use {listed(sorted(allowed))}" if allowed else "leave it out"
            yield Complaint(place, f"“{name}” is not filled in here", todo)


def _check_words(catalogue: Catalogue, places: Mapping[str, Place]) -> Iterator[Complaint]:
    """Every aim and feature has its plain words, if there are any at all."""
    things = {**catalogue.aims, **catalogue.features}
    for word in catalogue.plain.values():
        place = places[f"PlainWord:{word.id}"]
        yield from known(word.id, things, place.at("id"), "features/")
        yield from uncaused(word.text, place.at("text"), _WHO)
    if catalogue.plain:
        for name in things:
            if name not in catalogue.plain:
                what = f"“{name}” has no plain words"
                yield Complaint(Place("letters/plain.toml"), what, "add [[plain]]")
