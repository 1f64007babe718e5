"""Every paper that a text of the forms names by author and year has its entry in sources.toml."""

import re
from collections.abc import Iterator

import pytest

from tests.published.cases import forms

NAMED = re.compile(
    r"([A-ZÅ][a-zà-ÿ][\w’'-]*)(?:(?:,| and) [A-Z][\w-]+)*(?: et al\.)? \(?((?:19|20)\d\d)\b"
)


def texts() -> Iterator[tuple[str, str]]:
    """All texts that may name a paper, each with the measure or norm it belongs to."""
    for measure in forms().measures.values():
        yield measure.id, measure.against["en"]
        yield from ((measure.id, error.note["en"]) for error in measure.errors if error.note)
    for sets in forms().norms.values():
        yield from ((norms.id, norms.note["en"]) for norms in sets if norms.note)
    for pairs in forms().differences.values():
        yield from ((norms.id, norms.note["en"]) for norms in pairs if norms.note)


NAMES = sorted({(name, year) for _, text in texts() for name, year in NAMED.findall(text)})


def test_papers_are_named_at_all() -> None:
    assert len(NAMES) > 80


@pytest.mark.parametrize(("name", "year"), NAMES)
def test_a_paper_named_in_a_text_is_among_the_sources(name: str, year: str) -> None:
    entry = re.compile(rf"\b{name}\b.*\b{year}\b")
    assert any(entry.search(source.citation) for source in forms().sources.values())
