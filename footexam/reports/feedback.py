"""The feedback document: what agreed, what did not and by how much beyond error, what to practise.

It names the patient by record number and day only: marks are kept apart from the patient's record.
"""

from collections.abc import Iterable
from decimal import Decimal
from itertools import groupby

from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import Catalogue
from footexam.drawing.item_plot import ItemHeads, ItemRow, item_plot
from footexam.drawing.palette import Ink
from footexam.marking.cohort import Share
from footexam.marking.compared import (
    AGREED,
    APART,
    JUDGED,
    MISSED,
    Chosen,
    Comparison,
    Item,
    Outcome,
    Rule,
    Scale,
    Slip,
)
from footexam.marking.figures import kappa_of
from footexam.marking.pairing import one_person
from footexam.marking.rubric import Marks
from footexam.reasoning.dangers import is_danger
from footexam.reports.blocks import (
    BODY,
    SMALL,
    SMALL_INK,
    STRONG,
    Block,
    Box,
    Heading,
    Para,
    Picture,
    Row,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.blocks import Rule as Line
from footexam.reports.canvas import pdf_bytes
from footexam.reports.critical import critical_words
from footexam.reports.feedback_marks import criteria, marks_blocks
from footexam.reports.marking_page import Words, add_feet, percent, typeset
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.text import Style
from footexam.reports.words import date_words, number_words, rounded_words
from footexam.terms import Side

TITLE = Style(14.0, bold=True)
MOST_DRAWN = 16
"""Readings of the plot, the farthest from the reference first."""
_APART = (0.27, 0.17, 0.17, 0.12, 0.15, 0.12)
_SLIPS = {Slip.SIDES: "slip-sides", Slip.SIGN: "slip-sign"}


def feedback(
    comparison: Comparison,
    catalogue: Catalogue,
    *,
    rubric: Rubric | None = None,
    marks: Marks | None = None,
    cut: float | None = None,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
) -> bytes:
    """The feedback as PDF; the same input gives the same bytes.

    `rubric` None: the first of forms/. `marks` None: the marks are written in by hand. `cut` is the
    pass mark in points. Raises BadMarks for marks that do not fit, KeyError for another page size.
    """
    words = Words(catalogue, language)
    chosen = rubric or next(iter(catalogue.rubrics.values()))
    sheet = Sheet(PAPERS[page], typeset())
    sheet.add(_blocks(comparison, words, chosen, marks, cut))
    day = date_words(comparison.student.examined_on, words.phrases)
    number = comparison.student.patient.record_number or words.phrases("not-known")
    who = words("foot", student=comparison.student.examiner.name, day=day, number=number)
    add_feet(sheet, words, who, invented)
    return pdf_bytes(sheet, words("feedback"), language)


def _blocks(
    comparison: Comparison, words: Words, rubric: Rubric, marks: Marks | None, cut: float | None
) -> list[Block]:
    """The document from top to bottom."""
    return [
        *_head(comparison, words, rubric),
        *_critical(comparison, words),
        *_short(comparison, words),
        *_apart(comparison, words),
        *_agreed(comparison, words),
        *_missing(comparison, words),
        *_unjudged(comparison, words),
        *_scales(comparison.scales, words),
        *_reasoned(comparison, words),
        *marks_blocks(comparison, words, rubric, marks, cut),
        *criteria(words, rubric),
        *words.citations.blocks(),
    ]


def _head(comparison: Comparison, words: Words, rubric: Rubric) -> list[Block]:
    student, reference = comparison.student, comparison.reference
    number = student.patient.record_number or words.phrases("not-known")
    day = date_words(student.examined_on, words.phrases)
    names = {"student": student.examiner.name, "reference": reference.examiner.name}
    blocks: list[Block] = [
        para(words("feedback"), style=TITLE),
        para(words("for-student", **names), style=STRONG),
        para(words("of-visit", number=number, day=day)),
        para(words("rubric", rubric=words.say(rubric.label), says=words.say(rubric.says))),
    ]
    if one_person(student, reference):
        blocks.append(para(words("one-person"), style=STRONG))
    return [*blocks, Space(2), Line(), Space(4)]


# --- what must be looked at first


def _critical(comparison: Comparison, words: Words) -> list[Block]:
    """Missed dangers, exchanged sides, unsafe plans, and slips of a sign."""
    told = [what for _, what in critical_words(comparison, words)]
    if not told:
        return []
    lines = [para(one, style=BODY) for one in told]
    note = para(words("critical-note"), style=SMALL_INK)
    head = para(words("critical-head"), style=STRONG)
    return [Box((head, *lines, note), Ink.CAUTION, 1.2), Space(4)]


# --- in short


def _short(comparison: Comparison, words: Words) -> list[Block]:
    """The counts with their interval, and the errors drawn."""
    count = comparison.count
    share = Share(count(*AGREED), count(*JUDGED))
    blocks: list[Block] = [Heading(words("short"), 3)]
    if share.interval is None:
        blocks.append(para(words("counts-none")))
    else:
        low, high = map(percent, share.interval)
        told = words(
            "counts",
            judged=share.n,
            agreed=share.count,
            share=words("share", low=low, high=high),
            apart=count(*APART),
            missing=count(*MISSED),
            unjudged=count(Outcome.NOT_JUDGED, Outcome.METHOD_DIFFERS),
        )
        blocks.append(para(told))
    blocks.append(para(words("fair"), style=SMALL))
    return [*blocks, *_plot(comparison, words)]


def _plot(comparison: Comparison, words: Words) -> list[Block]:
    """The standardised errors, the farthest first."""
    rows = sorted(
        (item for item in comparison.items if item.error is not None),
        key=lambda item: -abs(item.error or 0.0),
    )
    heading = Heading(words("plot"), 3)
    if not rows:
        return [heading, para(words("plot-none"), style=SMALL_INK)]
    drawn = [
        ItemRow(_cut(words.item(item)), (item.error or 0.0,), words.difference(item))
        for item in rows[:MOST_DRAWN]
    ]
    heads = ItemHeads(words("plot-item"), words("plot-told"), words("plot-axis"))
    blocks: list[Block] = [heading, Picture(item_plot(drawn, heads, typeset().width))]
    if len(rows) > MOST_DRAWN:
        more = words("plot-more", count=len(rows) - MOST_DRAWN)
        blocks.append(para(more, style=SMALL_INK))
    return blocks


_LONGEST = 46
"""Characters of a name in a plot."""


def _cut(name: str) -> str:
    if len(name) <= _LONGEST:
        return name
    label, _, side = name.rpartition(", ")
    return f"{label[: _LONGEST - len(side) - 3]}…, {side}" if label else f"{name[:_LONGEST]}…"


# --- item by item


def _apart(comparison: Comparison, words: Words) -> list[Block]:
    """What lies beyond its tolerance, or was answered otherwise."""
    rows = tuple(_apart_row(item, words) for item in comparison.those(APART))
    if not rows:
        return [Heading(words("apart"), 3), para(words("apart-none"))]
    keys = ("measure", "you", "reference", "difference", "allowed", "beyond")
    return [Heading(words("apart"), 3), Table(_APART, rows, header(*map(words, keys)))]


def _apart_row(item: Item, words: Words) -> Row:
    name: list[Para] = [para(words.item(item))]
    if item.slip is not None:
        name.append(para(words(_SLIPS[item.slip]), style=STRONG))
    both = cell(words.student(item)), cell(words.reference(item))
    if item.difference is None:  # one cell for the three columns of numbers
        return Row((tuple(name), *both, cell(_named_apart(item, words), SMALL_INK)))
    over = "" if item.beyond is None else rounded_words(item.beyond, item.measure)
    figures = cell(words.difference(item)), cell(_allowed(item, words)), cell(over, STRONG)
    return Row((tuple(name), *both, *figures))


def _named_apart(item: Item, words: Words) -> str:
    """What a list lacks or has besides; nothing for a single word, which stands there."""
    if len(item.missed) + len(item.added) < 2 or (len(item.missed) == len(item.added) == 1):
        return ""
    missed, added = ("; ".join(map(words.word, part)) for part in (item.missed, item.added))
    told = (
        words("missed-added", missed=missed) if missed else "",
        words("added-only", added=added) if added else "",
    )
    return ". ".join(filter(None, told))


def _allowed(item: Item, words: Words) -> str:
    """The tolerance and where it is from."""
    if item.tolerance is None:
        return ""
    if item.rule is Rule.LEVELS:
        count = int(item.tolerance)
        key = "levels-allowed" if count == 1 else "levels-allowed-more"
        return words(key, count=count)
    limit = rounded_words(item.tolerance, item.measure)
    if item.rule is Rule.LIMIT:
        return words("stated", limit=limit)
    return f"{limit} {_cite(item, words)}".strip()


def _cite(item: Item, words: Words) -> str:
    """The sources of the error of a measure between examiners."""
    label = words.label(item.measure)
    numbers = (
        words.citations.cite(size.source, size.provenance, "error-of", label, words.say(size.note))
        for size in item.measure.errors
        if size.used and size.method in ("", _method(item))
    )
    return "".join(dict.fromkeys(numbers))


def _method(item: Item) -> str:
    return (item.student.method if item.student else None) or ""


def _agreed(comparison: Comparison, words: Words) -> list[Block]:
    """What agreed: numbers with both values, answers by name."""
    rows = [item for item in comparison.those(AGREED) if not item.is_derived]
    numbers = _against([one for one in rows if one.difference is not None], words)
    answers = _names([one for one in rows if one.difference is None], words)
    told = [words("measured", what=numbers)] if numbers else []
    told += [words("answered", what=answers)] if answers else []
    return _listing(words("agreed"), told)


def _by_measure(items: Iterable[Item]) -> list[list[Item]]:
    """The items of each measure together, in the order they have."""
    return [list(rows) for _, rows in groupby(items, key=lambda item: item.measure.id)]


def _against(items: Iterable[Item], words: Words) -> str:
    """Numbers of both, the sides of a measure together."""
    told = []
    for rows in _by_measure(items):
        values = [_value_against(item, words) for item in rows]
        name = words.label(rows[0].measure)
        told.append(words("sides-against", name=name, what=", ".join(values)))
    return "; ".join(told)


def _value_against(item: Item, words: Words) -> str:
    value = words("value-against", value=words.student(item), reference=words.reference(item))
    if item.side is None:
        return value
    return words("side-value", side=words.phrases(f"{item.side}-word"), value=value)


def _names(items: Iterable[Item], words: Words) -> str:
    """The names of items; a measure with both sides is named once."""
    told = []
    for rows in _by_measure(items):
        if len(rows) == len(Side):
            told.append(words("both-sides", name=words.label(rows[0].measure)))
        else:
            told += [words.item(item) for item in rows]
    return "; ".join(told)


def _listing(title: str, told: Iterable[str]) -> list[Block]:
    lines = [para(one, style=SMALL_INK) for one in told]
    return [Heading(title, 3), *lines] if lines else []


def _missing(comparison: Comparison, words: Words) -> list[Block]:
    """What the reference has and the student has not, with and without a reason."""
    bare = list(comparison.those(frozenset({Outcome.MISSING})))
    dangers = [item for item in bare if is_danger(item.measure.id, words.catalogue)]
    told = {
        "dangers-not-asked": dangers,
        "missing-bare": [item for item in bare if item not in dangers],
        "missing-reason": comparison.those(frozenset({Outcome.MISSING_REASON})),
        "besides": comparison.those(frozenset({Outcome.NO_REFERENCE})),
    }
    named = {key: _names(items, words) for key, items in told.items()}
    lines = [words(key, what=what) for key, what in named.items() if what]
    if not comparison.count(*MISSED):
        lines.insert(0, words("missing-none"))
    return _listing(words("missing"), lines)


def _unjudged(comparison: Comparison, words: Words) -> list[Block]:
    """Numbers of unknown error, two methods, and what a person must read."""
    told = []
    for key, outcome in (
        ("unjudged-numbers", Outcome.NOT_JUDGED),
        ("unjudged-methods", Outcome.METHOD_DIFFERS),
    ):
        names = _against(comparison.those(frozenset({outcome})), words)
        if names:
            told.append(words(key, what=names))
    if comparison.unread:
        names = "; ".join(
            words.sided(words.thing(measure), side) for measure, side in comparison.unread
        )
        told.append(words("unread", what=names))
    return _listing(words("unjudged"), told)


# --- scales, reasoning


def _scales(scales: Iterable[Scale], words: Words) -> list[Block]:
    """Exact agreement and kappa of each scale; never of unlike items together."""
    told = []
    for one in scales:
        panel = words.catalogue.panels.get(one.panel)
        low, high = one.levels[0], one.levels[-1]
        told.append(
            words(
                "scale",
                panel=words.say(panel.label) if panel else one.panel,
                low=_level(low, low),
                high=_level(high, low),
                unit=one.unit,
                exact=one.exact,
                n=len(one.pairs),
                kappa=words.kappa(kappa_of(one.pairs, one.levels)),
            )
        )
    return _listing(words("scales"), told)


def _level(level: int, lowest: int) -> str:
    return number_words(Decimal(level), signed=lowest < 0)


def _reasoned(comparison: Comparison, words: Words) -> list[Block]:
    """Accepted hypotheses and plan, what both have and what only one of them."""
    found = comparison.reasoned
    rows = []
    for key, chosen in (
        ("hypotheses", found.hypotheses),
        ("aims", found.aims),
        ("features", found.features),
    ):
        if not chosen.is_empty:
            rows.append(Row((cell(words(key), STRONG), _chosen_cell(chosen, words))))
    blocks: list[Block] = [Heading(words("reasoned"), 3)]
    if not rows:
        return [*blocks, para(words("reasoned-none"), style=SMALL_INK)]
    blocks.append(Table((0.2, 0.8), tuple(rows)))
    apart = "; ".join(
        words(
            "size",
            feature=words.sided(words.thing(one.feature), one.side),
            size=words.word(one.size),
            had=number_words(one.student),
            unit=one.unit,
            wanted=number_words(one.reference),
        )
        for one in found.sizes
        if not one.is_near
    )
    return [*blocks, para(words("sizes", what=apart), style=SMALL_INK)] if apart else blocks


def _chosen_cell(chosen: Chosen, words: Words) -> tuple[Para, ...]:
    parts = {
        "both-chose": chosen.agreed,
        "only-reference": chosen.missed,
        "only-you": chosen.added,
    }
    return tuple(
        para(words(key, what=words.named(named)), style=SMALL_INK)
        for key, named in parts.items()
        if named
    )
