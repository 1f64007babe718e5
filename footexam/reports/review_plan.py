"""The review plan: what should have changed by when, and by how much to count as real."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from footexam.catalogue.letters import Document
from footexam.record.reading import Activities
from footexam.reports.blocks import (
    SMALL,
    STRONG,
    Block,
    Heading,
    Para,
    Row,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.compared import cite_error
from footexam.reports.hypotheses import Decided
from footexam.reports.letter import Letter, Part
from footexam.reports.letter_phrases import letter_phrase
from footexam.reports.material import SIDES, Material
from footexam.reports.outside import finding_value
from footexam.reports.words import quantity_words, rounded_words
from footexam.scoring.bench import bench
from footexam.terms import Side

ACTIVITIES = "function-activities"
FEWEST = 3
"""Activities whose mean is read; a single one has no known error."""
COLUMNS = (0.36, 0.14, 0.14, 0.24, 0.12)
WHOLE = (0.36, 0.28, 0.24, 0.12)
"""The same for what has no side, so that it does not stand under one."""


def review_plan(material: Material) -> list[Block]:
    """Outcomes with the change that counts, then the schedule, each with its source.

    Empty while nothing is planned.
    """
    if not material.assessment.reasons.plan.chosen:
        return []
    said = Letter(material, Document.REVIEW, {}).said()
    return [
        Heading(letter_phrase("review-plan", material.language)),
        *_outcomes(material),
        *(_said(one, first, material) for one, first in _headed(said)),
    ]


def _headed(said: Sequence[Part]) -> Iterator[tuple[Part, bool]]:
    """The blocks, and whether each is the first under its heading."""
    before = ""
    for one in said:
        yield one, one.heading != before
        before = one.heading


def _said(one: Part, first: bool, material: Material) -> Para:
    """A block behind its heading, with the number of its source and how well it was checked."""
    text = one.text
    if one.block.source:
        cite, provenance = material.citations.cite, one.block.provenance
        number = cite(one.block.source, provenance, "review-of", one.heading.lower())
        text = f"{text} {number}, {material.phrases(f'short-{provenance}')}"
    return para((f"{one.heading}: ", STRONG), text) if first else para(text)


def _outcomes(material: Material) -> list[Block]:
    """What will be measured again, with its value now."""
    rows = [row for name, better in _measures(material) if (row := _row(name, better, material))]
    say, language = letter_phrase, material.language
    if not rows:
        return [para(say("outcomes-none", language))]
    heads = header(
        *(
            say(key, language)
            for key in ("outcome", "now-left", "now-right", "counts", "better-head")
        )
    )
    return [Table(COLUMNS, tuple(rows), heads), para(say("counts-note", language), style=SMALL)]


def _measures(material: Material) -> Iterator[tuple[str, str]]:
    """The outcomes of forms/, the activities, then numbers that the accepted hypotheses rest on.

    With the word for which way is better; empty where nothing says so.
    """
    say, language = letter_phrase, material.language
    outcomes = material.catalogue.outcomes
    for one in outcomes.values():
        yield one.id, say(f"better-{one.better}", language)
    yield ACTIVITIES, say("better-more", language)
    told = dict.fromkeys(
        reason.removeprefix("measure:")
        for accepted in Decided(material).accepted
        if accepted.argument is not None
        for row in accepted.argument.speaks_for
        for reason in row.because
    )
    yield from ((name, "") for name in told if name not in outcomes and name != ACTIVITIES)


def _row(name: str, better: str, material: Material) -> Row | None:
    """One outcome by side; None where it has no number."""
    if name == ACTIVITIES:
        return _activities(better, material)
    values = {side: _value(name, side, material) for side in (*SIDES, None)}
    if not any(values.values()):
        return None
    found = (material.findings.get((name, side)) for side in (*SIDES, None))
    needed = dict.fromkeys(one.change_needed for one in found if one is not None)
    counts = _counts(name, needed, material)
    whole = values[None]
    if whole:
        return _whole(material.label(name), whole, counts, better, material)
    sides = (cell(values[side]) for side in SIDES)
    return Row((cell(material.label(name)), *sides, cell(counts), cell(better)))


def _whole(label: str, now: str, counts: str, better: str, material: Material) -> Row:
    """The row of a number of the whole person."""
    told = letter_phrase("whole-now", material.language, what=now)
    return Row((cell(label), cell(told), cell(counts), cell(better)), own=WHOLE)


def _value(name: str, side: Side | None, material: Material) -> str:
    found = material.findings.get((name, side))
    if found is None or isinstance(found.value, str):
        return ""
    return finding_value(found, material)


def _counts(name: str, needed: Iterable[float | None], material: Material) -> str:
    """From which change on it counts; the larger where the sides differ."""
    known = [one for one in needed if one is not None]
    if not known:
        return letter_phrase("counts-unknown", material.language)
    shown = rounded_words(max(known), material.measure(name))
    return f"{shown} {cite_error(name, material)}".strip()


def _activities(better: str, material: Material) -> Row | None:
    """The mean of the activities that the patient named."""
    reading = material.reading(ACTIVITIES)
    if reading is None or not isinstance(reading.value, Activities):
        return None
    scores = [Decimal(score) for _, score in reading.value.items]
    measure = material.measure(ACTIVITIES)
    now = quantity_words(sum(scores, Decimal(0)) / len(scores), measure, decimals=1)
    change = bench(material.catalogue).errors(measure, None).one_change()
    counts = _counts(ACTIVITIES, [change] if len(scores) >= FEWEST else [], material)
    label = letter_phrase("activities-mean", material.language)
    return _whole(label, now, counts, better, material)
