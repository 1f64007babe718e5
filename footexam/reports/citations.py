"""Numbering sources in the order of their first mention, with what each was used for."""

from collections.abc import Mapping

from footexam.catalogue.model import Catalogue
from footexam.reports.blocks import SMALL, Block, Heading, Para, Row, Table, cell, para
from footexam.reports.phrases import Phrases
from footexam.reports.words import opened
from footexam.terms import Provenance


class Citations:
    """The sources of one document; a number, once given, stays."""

    def __init__(self, catalogue: Catalogue, phrases: Phrases) -> None:
        self._catalogue = catalogue
        self._phrases = phrases
        self._uses: dict[str, dict[Provenance | None, dict[str, str]]] = {}

    def cite(self, source: str, provenance: Provenance | None, use: str, note: str = "") -> str:
        """The number of a source in brackets, noting what it was used for; empty without a source.

        `note` is what the reader must know of this use: what an estimate was computed from.
        `provenance` is None where it is not stated.
        """
        if not source:
            return ""
        self._uses.setdefault(source, {}).setdefault(provenance, {}).setdefault(use, note)
        return f"[{list(self._uses).index(source) + 1}]"

    def blocks(self) -> list[Block]:
        """The list of sources, with provenance spelled out; empty where nothing was cited."""
        if not self._uses:
            return []
        rows = [
            Row((cell(f"[{number}]"), (para(self._citation(source)), *self._used(source))))
            for number, source in enumerate(self._uses, 1)
        ]
        return [Heading(self._phrases("sources")), Table((0.06, 0.94), tuple(rows))]

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
        lines = []
        for provenance, uses in self._uses[source].items():
            for told in _grouped(uses):
                words = told
                if provenance:
                    standing = self._phrases(provenance)
                    words = self._phrases("used-for", provenance=standing, uses=told)
                lines.append(para(opened(words), style=SMALL))
        return tuple(lines)


def _grouped(uses: Mapping[str, str]) -> list[str]:
    """Uses with the same note stand together, so that a note is told once."""
    notes: dict[str, list[str]] = {}
    for use, note in uses.items():
        notes.setdefault(note, []).append(use)
    return [
        f"{'; '.join(told)} ({note})" if note else "; ".join(told) for note, told in notes.items()
    ]
