"""The rows of the letter sheet: what a letter says, block by block, and who said it; no Qt."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from footexam.catalogue.letters import Document
from footexam.desktop.plan_rows import Place, Row, What
from footexam.desktop.session import Session
from footexam.desktop.texts import TEXTS
from footexam.drawing.palette import Ink
from footexam.record.written import ADDRESSEE
from footexam.reports.letter import Part
from footexam.reports.letters import addressee, letter_of
from footexam.reports.material import Material

EXCERPT = 90
"""So many letters of a text are shown in its row."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One text of a letter that may be changed.

    `given` is what the record gives, `typed` what a person wrote, None for nothing. `adds`: it
    stands behind what the record gives, never in its place.
    """

    id: str
    heading: str
    given: str
    typed: str | None = None
    adds: bool = False
    stale: bool = False
    prints: str = ""

    @property
    def is_out(self) -> bool:
        """Whether it is left out."""
        return self.typed == "" and not self.adds and self.id != ADDRESSEE


def pieces(document: Document, session: Session) -> list[Piece]:
    """Every text that stands in a letter, or was written into it, in order."""
    material = Material(session.examination, session.assessment, session.catalogue, "en")
    parts = letter_of(document, material).parts()
    found = [_piece(part) for part in parts if part.given or part.write or part.typed is not None]
    return [_addressee(material), *found] if document is Document.REFERRAL else found


def _addressee(material: Material) -> Piece:
    name = addressee(material)
    return Piece(ADDRESSEE, TEXTS["letter-to"], "", name or None, prints=name)


def _piece(part: Part) -> Piece:
    return Piece(
        part.block.id,
        part.heading or TEXTS["letter-first"],
        part.given,
        part.typed,
        adds=part.block.kept,
        stale=part.is_stale,
        prints=part.text,
    )


def letter_rows(shown: Sequence[Piece]) -> list[Row]:
    """A head for each heading, below it a row for each text."""
    return list(_rows(shown))


def _rows(shown: Sequence[Piece]) -> Iterator[Row]:
    heading = ""
    for one in shown:
        if one.heading != heading:
            heading = one.heading
            yield Row(Place(What.HEAD, heading), heading)
        yield Row(
            Place(What.BLOCK, one.id),
            _excerpt(one),
            state_words(one),
            checked=None if one.adds or one.id == ADDRESSEE else not one.is_out,
            ink=Ink.CAUTION if one.stale else Ink.MUTED if one.is_out else Ink.INK,
        )


def _excerpt(piece: Piece) -> str:
    text = " ".join((piece.given if piece.is_out else piece.prints).split())
    if not text:
        return TEXTS["letter-to-none" if piece.id == ADDRESSEE else "letter-given-none"]
    return text if len(text) <= EXCERPT else f"{text[:EXCERPT].rstrip()}…"


def state_words(piece: Piece) -> str:
    """Who says it, where that is not the record alone."""
    if piece.typed is None or piece.id == ADDRESSEE:
        return ""
    if piece.is_out:
        return TEXTS["letter-out"]
    words = TEXTS["letter-added" if piece.adds else "letter-written"]
    return f"{words}; {TEXTS['letter-stale']}" if piece.stale else words
