"""A letter made of blocks of forms/: which stand, what the record fills in, what was edited."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from footexam.catalogue.letters import Block as LetterBlock
from footexam.catalogue.letters import Document, slots_of
from footexam.reasoning.engine import engine
from footexam.reasoning.letters import Chooser
from footexam.reasoning.view import Seen, View
from footexam.record.written import Written, mark, written
from footexam.reports.letter_phrases import letter_phrase
from footexam.reports.material import Material
from footexam.scoring.bench import bench
from footexam.scoring.measured import measured
from footexam.terms import Side

_SIDES: tuple[Side | None, ...] = (None, Side.LEFT, Side.RIGHT)

Slots = Mapping[str, Callable[[], str]]
"""What fills a name between braces; an empty text means that the record has nothing."""


class UnknownBlock(ValueError):
    """Something was typed for a block that the document does not have; the text says which."""


@dataclass(frozen=True, slots=True)
class Part:
    """One block for one record.

    `heading` is its own or that of the block before it; `given` what the record gives, "" where
    the block does not stand; `typed` what a person wrote, None for nothing; `over` the mark of
    what the record gave then. `write`: a line to write on follows.
    """

    block: LetterBlock
    heading: str
    given: str
    stands: bool
    typed: str | None = None
    over: str = ""

    @property
    def text(self) -> str:
        """What is printed."""
        if self.typed is None:
            return self.given
        return "\n".join(filter(None, (self.given * self.block.kept, self.typed))).strip()

    @property
    def write(self) -> bool:
        """Whether there is a line to write on."""
        return self.block.write and self.stands and self.typed is None

    @property
    def is_stale(self) -> bool:
        """Whether the record gives another text now than when this was written over it."""
        return self.typed is not None and self.over not in {"", mark(self.given)}


@dataclass(frozen=True, slots=True)
class Letter:
    """The blocks of one document for one record.

    `edited` are texts typed for blocks, by id; they go before what is kept with the record.
    `stand` are the ids of the blocks that the record calls for, where they are known already.
    """

    material: Material
    document: Document
    slots: Slots
    edited: Mapping[str, str] = field(default_factory=dict)
    stand: frozenset[str] | None = None

    def said(self) -> list[Part]:
        """The blocks that are printed, in order. Raises UnknownBlock."""
        return [one for one in self.parts() if one.text or one.write]

    def parts(self) -> Iterator[Part]:
        """Every block of the document, in order. Raises UnknownBlock."""
        stand = standing(self.material, self.document) if self.stand is None else self.stand
        kept = written(self.material.examination.decisions)
        heading = ""
        for block in self.own:
            heading = self.material.say(block.heading) or heading
            stands = block.id in stand
            given = self._filled(block).strip() if stands else ""
            now = kept.get(block.id)
            if block.id in self.edited:
                now = Written((self.edited[block.id],))
            if now is None:
                yield Part(block, heading, given, stands)
            else:
                yield Part(block, heading, given, stands, now.text, now.over)

    @property
    def own(self) -> list[LetterBlock]:
        """All blocks of the document in their order. Raises UnknownBlock for a foreign edit."""
        own = _blocks_of(self.material, self.document)
        ids = [block.id for block in own]
        for name in self.edited:
            if name not in ids:
                parts = {"id": name, "ids": ", ".join(ids)}
                raise UnknownBlock(letter_phrase("edit-unknown", self.material.language, **parts))
        return own

    def _filled(self, block: LetterBlock) -> str:
        """The text with what the record has; `instead` of it, or nothing, where that is nothing."""
        text = self.material.say(block.text)
        values = {name: self.slots[name]() for name in slots_of(text)}
        if all(values.values()):
            return text.format_map(values)
        return self.material.say(block.instead)


def standing(material: Material, document: Document) -> frozenset[str]:
    """The ids of the blocks of a document that the record calls for."""
    chosen = chooser(material).choose(document, _blocks_of(material, document))
    return frozenset(block.id for block in chosen)


def _blocks_of(material: Material, document: Document) -> list[LetterBlock]:
    """The blocks of a document in their order."""
    blocks = material.catalogue.blocks.values()
    return sorted((b for b in blocks if b.document is document), key=lambda b: b.order)


def chooser(material: Material) -> Chooser:
    """What chooses the blocks for a record."""
    made, catalogue = material.assessment, material.catalogue
    desk = bench(catalogue)
    numbers = measured(desk, desk.visit(material.examination), made.scores)
    seen = Seen(material.examination, made.scores, made.findings, numbers)
    views = {side: View(seen, side) for side in _SIDES}
    decisions = material.examination.decisions
    return Chooser(made.reasons, decisions, views, lambda text: engine(catalogue).rule(text))
