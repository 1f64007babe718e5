"""A letter made of blocks of forms/: which stand, what the record fills in, what was edited."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from footexam.catalogue.letters import Block as LetterBlock
from footexam.catalogue.letters import Document, slots_of
from footexam.reasoning.engine import engine
from footexam.reasoning.letters import Chooser
from footexam.reasoning.view import Seen, View
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
class Said:
    """One block as it is printed: its heading (the one before it goes on), its text."""

    block: LetterBlock
    heading: str
    text: str
    write: bool


@dataclass(frozen=True, slots=True)
class Letter:
    """The blocks of one document for one record; `edited` are texts typed for blocks, by id.

    `stand` are the ids of the blocks that the record calls for, where they are known already.
    """

    material: Material
    document: Document
    slots: Slots
    edited: Mapping[str, str]
    stand: frozenset[str] | None = None

    def said(self) -> list[Said]:
        """The blocks that stand, with their text, in order. Raises UnknownBlock."""
        return [one for one in self._each() if one.text or one.write]

    def _each(self) -> Iterator[Said]:
        stand = standing(self.material, self.document) if self.stand is None else self.stand
        heading = ""
        for block in self.own:
            heading = self.material.say(block.heading) or heading
            typed = self.edited.get(block.id)
            text = self._filled(block) if block.id in stand else ""
            write = block.write and block.id in stand
            if typed is not None:
                text = "\n".join(filter(None, (text, typed))) if block.kept else typed
                write = False
            yield Said(block, heading, text.strip(), write)

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
