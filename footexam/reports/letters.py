"""The letters that are made of blocks: what fills each, and what has to be read again."""

from collections.abc import Callable, Iterable, Mapping

from footexam.catalogue.letters import Document
from footexam.record.written import ADDRESSEE, written
from footexam.reports.leaflet_words import LeafletWords
from footexam.reports.letter import Letter, Part
from footexam.reports.letter_phrases import letter_phrase
from footexam.reports.material import Material
from footexam.reports.referral_words import Limits, Words

EVERYTHING = Limits()


def letter_of(document: Document, material: Material) -> Letter:
    """A referral or a leaflet with all that the record gives. Raises KeyError for another."""
    return _MAKERS[document](material)


def referral_letter(
    material: Material,
    to: str = "",
    edited: Mapping[str, str] | None = None,
    limits: Limits = EVERYTHING,
    stand: frozenset[str] | None = None,
) -> Letter:
    """The referral; without `to` it goes to whom the record names, if it names anybody.

    `stand` are the ids of its blocks that the record calls for, where they are known already.
    """
    slots = Words(material, limits, to or addressee(material)).slots
    return Letter(material, Document.REFERRAL, slots, edited or {}, stand)


def leaflet_letter(
    material: Material, ask: str = "", edited: Mapping[str, str] | None = None
) -> Letter:
    """The leaflet; `ask` is whom to ask and how."""
    slots = LeafletWords(material, ask).slots
    return Letter(material, Document.LEAFLET, slots, edited or {})


_MAKERS: Mapping[Document, Callable[[Material], Letter]] = {
    Document.REFERRAL: referral_letter,
    Document.LEAFLET: leaflet_letter,
}


def addressee(material: Material) -> str:
    """To whom the record says that a referral goes; "" for nobody."""
    kept = written(material.examination.decisions).get(ADDRESSEE)
    return " ".join(kept.lines) if kept else ""


def stale_words(parts: Iterable[Part], material: Material) -> str:
    """That the record has changed after texts were written over it, and which; "" if none."""
    names = dict.fromkeys(part.heading or part.block.id for part in parts if part.is_stale)
    if not names:
        return ""
    return letter_phrase("stale", material.language, what=", ".join(names))
