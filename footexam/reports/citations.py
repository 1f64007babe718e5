"""Numbering sources in the order of their first mention, with what each was used for."""

from dataclasses import dataclass, replace

from footexam.catalogue.model import Catalogue
from footexam.reports.blocks import SMALL, Block, Heading, Para, Row, Table, cell, para
from footexam.reports.phrases import Phrases
from footexam.reports.words import opened
from footexam.terms import Provenance

MOST_NAMED = 5
"""Measures that a source names for one kind of use; of more, their number is told."""


class Citations:
    """The sources of one document; a number, once given, stays."""

    def __init__(self, catalogue: Catalogue, phrases: Phrases) -> None:
        self._catalogue = catalogue
        self._phrases = phrases
        self._uses: dict[str, dict[_Use, dict[str, None]]] = {}
        self._told: set[str] = set()

    def cite(
        self, source: str, provenance: Provenance | None, kind: str, measure: str, note: str = ""
    ) -> str:
        """The number of a source in brackets, noting what it was used for; empty without a source.

        `kind` is the phrase of the use (usual-range-of, error-of, …), `measure` the name put into
        it. `note` is what the reader must know of this use: what an estimate was computed from.
        `provenance` is None where it is not stated.
        """
        if not source:
            return ""
        use = _Use(provenance, kind, note)
        self._uses.setdefault(source, {}).setdefault(use, {}).setdefault(measure)
        return f"[{list(self._uses).index(source) + 1}]"

    def told(self, note: str) -> None:
        """Says that a note stands elsewhere in the document, so that the list can be short."""
        self._told.add(note)

    def blocks(self) -> list[Block]:
        """The list of sources, with provenance spelled out; empty where nothing was cited."""
        if not self._uses:
            return []
        rows = [
            Row((cell(f"[{number}]"), (para(self._citation(source)), *self._used(source))))
            for number, source in enumerate(self._uses, 1)
        ]
        return [Heading(self._phrases("sources")), Table((0.06, 0.94), tuple(rows))]

    def line(self) -> str:
        """The sources in one line with their numbers; empty where nothing was cited."""
        numbered = enumerate(map(self._citation, self._uses), 1)
        return "; ".join(f"[{number}] {told}" for number, told in numbered)

    def _citation(self, source: str) -> str:
        """Authors, year and journal with DOI and PMID."""
        known = self._catalogue.sources.get(source)
        if known is None:
            return self._phrases("unknown-source", id=source)
        doi = f" doi:{known.doi}" if known.doi else ""
        pmid = f" PMID {known.pmid}" if known.pmid else ""
        return f"{known.citation}{doi}{pmid}"

    def _used(self, source: str) -> tuple[Para, ...]:
        """What the figures were used for, by provenance and note."""
        merged: dict[_Use, dict[str, None]] = {}
        for use, measures in self._uses[source].items():
            kept = replace(use, note="") if use.note in self._told else use
            merged.setdefault(kept, {}).update(measures)
        return tuple(
            para(opened(self._words(use, list(measures))), style=SMALL)
            for use, measures in merged.items()
        )

    def _words(self, use: "_Use", measures: list[str]) -> str:
        """One kind of use, with the measures it was made for."""
        named = "; ".join(measures[:MOST_NAMED])
        if len(measures) > MOST_NAMED:
            more = len(measures) - MOST_NAMED
            named = self._phrases("uses-more", uses=named, count=more)
        told = self._phrases(use.kind, measure=named)
        if use.provenance:
            standing = self._phrases(use.provenance)
            told = self._phrases("used-for", provenance=standing, uses=told)
        return f"{told} ({use.note})" if use.note else told


@dataclass(frozen=True, slots=True)
class _Use:
    """What a source was used for; measures of one use are named together."""

    provenance: Provenance | None
    kind: str
    note: str
