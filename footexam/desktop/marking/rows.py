"""The rows of a comparison, in words: what to look at first, what is apart, what agrees; no Qt."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from footexam.desktop.marking.words import WORDS
from footexam.marking.compared import (
    AGREED,
    APART,
    MISSED,
    Chosen,
    Comparison,
    Item,
    Outcome,
    Reasoned,
    Rule,
    Sized,
    Slip,
)
from footexam.record.reading import Reading
from footexam.reports.critical import critical_words
from footexam.reports.marking_page import Words, fixed
from footexam.reports.words import number_words, rounded_words

SHORT = 32
"""So many characters of a typed text stand in its cell; the rest stands below the table."""


class Mark(StrEnum):
    """What stands before a row: a result is told by its shape and its words."""

    LOOK = "look"
    APART = "apart"
    MISSING = "missing"
    UNJUDGED = "unjudged"
    AGREED = "agreed"


@dataclass(frozen=True, slots=True)
class Row:
    """One row: result, measure and side, what both have, difference, what is allowed.

    `detail` is what both wrote, in full. A `spanning` row is one sentence.
    """

    mark: Mark
    cells: tuple[str, ...]
    detail: str = ""
    spanning: bool = False


COLUMNS = tuple(
    WORDS[f"column-{name}"]
    for name in (
        "result",
        "measure",
        "by-student",
        "by-reference",
        "difference",
        "errors",
        "allowed",
    )
)


def rows_of(comparison: Comparison, words: Words) -> list[Row]:
    """All rows: what must be looked at, what is apart, missing, cannot be judged, and agrees."""
    items = comparison.items
    rest = frozenset(Outcome) - APART - MISSED - AGREED
    return [
        *(_look(told) for _, told in critical_words(comparison, words)),
        *_items(sorted(_those(items, APART), key=_badness), Mark.APART, words),
        *_items(_those(items, MISSED), Mark.MISSING, words),
        *_reasoned(comparison.reasoned, words),
        *_items(_those(items, rest), Mark.UNJUDGED, words),
        *_unread(comparison, words),
        *_items(_those(items, AGREED), Mark.AGREED, words),
    ]


def _look(told: str) -> Row:
    return Row(Mark.LOOK, _cells("result-look", told), told, spanning=True)


def _cells(result: str, name: str, student: str = "", reference: str = "") -> tuple[str, ...]:
    """The cells of a row without figures."""
    return WORDS[result], name, student, reference, "", "", ""


def _those(items: Iterable[Item], outcomes: frozenset[Outcome]) -> Iterator[Item]:
    return (item for item in items if item.outcome in outcomes)


def _badness(item: Item) -> tuple[bool, float]:
    """What has no figure after what has one, and that by its size in what is allowed."""
    if item.difference is None or not item.tolerance:
        return True, 0.0
    return False, -abs(float(item.difference)) / item.tolerance


# --- one item


def _items(items: Iterable[Item], mark: Mark, words: Words) -> Iterator[Row]:
    for item in items:
        result = WORDS[f"result-{item.outcome}"]
        if item.slip is not None:
            key = "slip-sides" if item.slip is Slip.SIDES else "slip-sign"
            result = f"{result}: {WORDS[key]}"
        values = words.student(item), words.reference(item), words.difference(item)
        errors = "" if item.error is None else fixed(item.error, 1)
        cells = (result, words.item(item), *values, errors, _allowed(item))
        yield Row(mark, cells, _detail(item, words))


def _allowed(item: Item) -> str:
    """The rule by which the item was judged."""
    if item.rule is Rule.LEVELS and item.tolerance is not None:
        count = int(item.tolerance)
        key = "rule-levels-one" if count == 1 else "rule-levels"
        return WORDS[key].format(count=count)
    if item.tolerance is None:
        return WORDS["rule-match"] if item.rule is Rule.MATCH else ""
    return WORDS[f"rule-{item.rule}"].format(limit=rounded_words(item.tolerance, item.measure))


def _detail(item: Item, words: Words) -> str:
    """What both wrote, as they wrote it, and the rule."""
    parts = [words.item(item)]
    for key, reading, value in (
        ("column-by-student", item.student, words.student(item)),
        ("column-by-reference", item.reference, words.reference(item)),
    ):
        if value or reading:
            told = "; ".join(filter(None, (value, *_written(reading, value))))
            parts.append(WORDS["read-by"].format(who=WORDS[key], value=told))
    if item.rule in {Rule.ERROR, Rule.LIMIT}:
        parts.append(f"{WORDS[f'detail-{item.rule}']} {WORDS['detail-errors']}")
    return "\n".join(parts)


def _written(reading: Reading | None, value: str) -> Iterator[str]:
    if reading is None:
        return
    if reading.typed and reading.typed != value:
        yield WORDS["typed"].format(typed=reading.typed)
    if reading.method:
        yield WORDS["method"].format(method=reading.method)
    for told in (reading.note, reading.reason):
        if told:
            yield WORDS["note"].format(note=told)


# --- reasoning and plan, and what a person must read


def _reasoned(found: Reasoned, words: Words) -> Iterator[Row]:
    for key, chosen in (
        ("hypothesis", found.hypotheses),
        ("aim", found.aims),
        ("feature", found.features),
    ):
        yield from _chosen(key, chosen, words)
    yield from (_size(one, words) for one in found.sizes)


def _chosen(key: str, chosen: Chosen, words: Words) -> Iterator[Row]:
    for result, mark, named in (
        ("result-reference-only", Mark.MISSING, chosen.missed),
        ("result-student-only", Mark.APART, chosen.added),
        ("result-both", Mark.AGREED, chosen.agreed),
    ):
        for one in named:
            name = WORDS[key].format(what=words.named([one]))
            yield Row(mark, _cells(result, name), name)


def _size(one: Sized, words: Words) -> Row:
    feature, size = words.sided(words.thing(one.feature), one.side), words.word(one.size)
    name = WORDS["size"].format(feature=feature, size=size)
    had, wanted = (f"{number_words(each)} {one.unit}" for each in (one.student, one.reference))
    result = "result-near" if one.is_near else "result-different"
    mark = Mark.AGREED if one.is_near else Mark.APART
    return Row(mark, _cells(result, name, had, wanted), name)


def _unread(comparison: Comparison, words: Words) -> Iterator[Row]:
    """Typed texts and tables, which no program compares."""
    for measure, side in comparison.unread:
        name = words.sided(words.thing(measure), side)
        texts = [
            reading.typed if reading else ""
            for reading in (
                comparison.student.reading(measure, side),
                comparison.reference.reading(measure, side),
            )
        ]
        heads = (WORDS["column-by-student"], WORDS["column-by-reference"])
        detail = "\n".join((name, *(f"{h}: {t}" for h, t in zip(heads, texts, strict=True) if t)))
        short = [f"{text[:SHORT]}…" if len(text) > SHORT else text for text in texts]
        yield Row(Mark.UNJUDGED, _cells("result-read", name, *short), detail)
