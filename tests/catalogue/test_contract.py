"""The forms as shipped against the contract: ids, kinds, units, sides, limits, labels."""

import csv
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from footexam.catalogue.model import Catalogue, Measure

DATA = Path(__file__).parents[1] / "data"
PANELS = ["history", "cautions", "nerve-and-vessel", "lying", "standing", "moving"]
Row = dict[str, str]


def table(name: str) -> list[Row]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


MEASURES = table("measures.csv")
REGIONS = table("regions.csv")
UMBRELLAS = [row for row in table("umbrellas.csv") if row["kind"] == "umbrella"]


def listed(cell: str) -> tuple[str, ...]:
    return tuple(cell.split("|")) if cell else ()


def limit(cell: str) -> Decimal | None:
    return Decimal(cell) if cell else None


def test_the_contract_is_whole() -> None:
    assert len(MEASURES) >= 369  # more may be added, none renamed
    assert (len(REGIONS), len(UMBRELLAS)) == (60, 12)


def test_panels_and_the_order_of_measures(catalogue: Catalogue) -> None:
    assert list(catalogue.panels) == PANELS
    for panel in PANELS:
        rows = [row for row in MEASURES if row["panel"] == panel]
        assert [int(row["order"]) for row in rows] == sorted(int(row["order"]) for row in rows)
        assert list(catalogue.panels[panel].measures) == [row["id"] for row in rows]
    assert list(catalogue.measures) == [row["id"] for row in MEASURES]


@pytest.mark.parametrize("row", MEASURES, ids=lambda row: row["id"])
def test_a_measure_is_as_agreed(catalogue: Catalogue, row: Row) -> None:
    measure = catalogue.measures[row["id"]]
    assert list(expected(row)) == list(found(measure, row))


def expected(row: Row) -> Iterator[object]:
    yield row["panel"]
    yield row["kind"]
    yield row["unit"]
    yield listed(row["unit_words"])
    yield int(row["decimals"] or 0)
    yield row["sided"] == "yes"
    yield row["repeats"] == "yes"
    yield limit(row["hard_low"]), limit(row["hard_high"])
    yield limit(row["ask_low"]), limit(row["ask_high"])
    yield row["depth"]
    yield row["depth_when"]
    yield listed(row["method_words"])
    yield listed(row["derived_from"])
    yield row["words"]


def found(measure: Measure, row: Row) -> Iterator[object]:
    yield measure.panel
    yield measure.kind
    yield measure.unit
    yield measure.unit_words
    yield measure.decimals
    yield measure.sided
    yield measure.repeats
    yield measure.hard_low, measure.hard_high
    yield measure.ask_low, measure.ask_high
    yield measure.depth
    yield measure.when
    yield measure.methods
    yield measure.derived_from
    if measure.columns:
        yield "|".join(column.id for column in measure.columns)
    elif ".." in row["words"]:
        yield f"{measure.hard_low}..{measure.hard_high}"
    else:
        yield "|".join(measure.words)


def test_adult_limits_and_none_known_follow_the_notes(catalogue: Catalogue) -> None:
    for row in MEASURES:
        measure = catalogue.measures[row["id"]]
        assert measure.none_known == ("or none-known" in row["note"]), row["id"]
        adult = any(word in row["note"] for word in ("ask range: adult", "ask range adult"))
        assert (measure.ask_from_age == 18) == adult, row["id"]


def test_regions_are_as_agreed(catalogue: Catalogue) -> None:
    assert list(catalogue.regions) == [row["id"] for row in REGIONS]
    for row in REGIONS:
        region = catalogue.regions[row["id"]]
        assert region.groups == listed(row["groups"]), row["id"]
        assert region.high_risk == (row["nonunion_risk_high"] == "yes"), row["id"]


def test_the_twelve_umbrella_questions_are_worded_as_agreed(catalogue: Catalogue) -> None:
    assert [row["id"] for row in UMBRELLAS] == list(catalogue.panels["cautions"].measures[:12])
    for row in UMBRELLAS:
        label = catalogue.measures[row["id"]].label["en"]
        assert label.rstrip("?.") == row["words_for_the_screen"].rstrip("?."), row["id"]


# --- every entry, walked

LANGUAGES = ["en"]
LONGEST_LABEL = 60
LONGEST_QUESTION = 80
"""A danger question names each sign it asks for; the twelve wide ones were agreed as they are."""
ENDS = (".", "?", "…", ".)")


def texts(catalogue: Catalogue) -> Iterator[tuple[str, str, str]]:
    """Where, which text, in which words, for every translated text of forms/."""
    yield from asked(catalogue)
    yield from usual(catalogue)
    for region in catalogue.regions.values():
        yield from spoken(f"region:{region.id}", "label", region.label)
    for context in catalogue.contexts.values():
        yield from spoken(f"context:{context.id}", "label", context.label)
    for word, words in catalogue.words.items():
        yield from spoken(f"word:{word}", "word", words)


def asked(catalogue: Catalogue) -> Iterator[tuple[str, str, str]]:
    for panel in catalogue.panels.values():
        for key in ("label", "hint", "position"):
            yield from spoken(f"panel:{panel.id}", key, getattr(panel, key))
    for measure in catalogue.measures.values():
        for key in ("label", "how", "against", "heading"):
            yield from spoken(f"measure:{measure.id}", key, getattr(measure, key))
        for column in measure.columns:
            yield from spoken(f"column:{measure.id}.{column.id}", "label", column.label)
        for error in measure.errors:
            yield from spoken(f"error:{measure.id}", "note", error.note)


def usual(catalogue: Catalogue) -> Iterator[tuple[str, str, str]]:
    for norm in (one for sets in catalogue.norms.values() for one in sets):
        yield from spoken(f"set:{norm.id}", "label", norm.label)
        yield from spoken(f"set:{norm.id}", "note", norm.note)
        for group in norm.groups:
            yield from spoken(f"group:{norm.id}.{group.id}", "label", group.label)
    for sides in (one for found in catalogue.differences.values() for one in found):
        yield from spoken(f"difference:{sides.id}", "label", sides.label)
        yield from spoken(f"difference:{sides.id}", "note", sides.note)


def spoken(where: str, key: str, words: object) -> Iterator[tuple[str, str, str]]:
    if words is not None:
        assert isinstance(words, dict)
        assert list(words) == LANGUAGES, where
        yield from ((where, key, text) for text in words.values())


def test_every_text_is_whole(catalogue: Catalogue) -> None:
    walked = list(texts(catalogue))
    assert len(walked) > 1500
    for where, key, text in walked:
        place = f"{where} {key}: {text}"
        assert text == text.strip(), place
        assert "TODO" not in text.upper(), place
        assert "  " not in text, place
        assert not any(ord(char) < 32 for char in text), place
        assert text.count("(") == text.count(")"), place
        if key in {"how", "against", "note", "hint"}:
            assert text.endswith(ENDS), place
            assert text[0].isupper() or not text[0].isalpha(), place
        if key == "label":
            assert not text.endswith("."), place


def test_labels_are_short_and_one_of_a_kind(catalogue: Catalogue) -> None:
    agreed = {row["id"] for row in UMBRELLAS}
    for panel in catalogue.panels.values():
        labels = [catalogue.measures[name].label["en"].casefold() for name in panel.measures]
        twice = {label for label in labels if labels.count(label) > 1}
        assert not twice, f"{panel.id}: {twice}"
        longest = LONGEST_QUESTION if panel.id == "cautions" else LONGEST_LABEL
        for name in panel.measures:
            label = catalogue.measures[name].label["en"]
            assert len(label) <= longest or name in agreed, f"{name}: {label}"


def test_every_source_that_is_named_is_cited_and_once(catalogue: Catalogue) -> None:
    used = {error.source for measure in catalogue.measures.values() for error in measure.errors}
    for norm in (one for sets in catalogue.norms.values() for one in sets):
        used |= {norm.source}
        used |= {cut.source for group in norm.groups for cut in (*group.low, *group.high)}
    for sides in (one for found in catalogue.differences.values() for one in found):
        used |= {sides.source, *(cut.source for cut in sides.cuts)}
    assert used - {""} <= catalogue.sources.keys()
    citations = [source.citation for source in catalogue.sources.values()]
    assert len(set(citations)) == len(citations)
    for source in catalogue.sources.values():
        assert "http" not in source.citation + source.doi, source.id
        assert not source.doi or source.doi.startswith("10."), source.id
        assert not source.pmid or source.pmid.isdecimal(), source.id


def test_every_word_that_is_used_can_be_shown(catalogue: Catalogue) -> None:
    used = {word for m in catalogue.measures.values() for word in (*m.words, *m.methods)}
    for norm in (one for sets in catalogue.norms.values() for one in sets):
        used |= {cut.state for group in norm.groups for cut in (*group.low, *group.high)}
    assert used <= catalogue.words.keys()
