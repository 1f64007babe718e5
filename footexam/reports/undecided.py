"""What remains open: arguments nobody decided about, tests that would help, missing answers."""

from collections.abc import Sequence

from footexam.reasoning.argue import Argument, summed
from footexam.reasoning.evidence import whole
from footexam.reasoning.next_test import NextTest, Route
from footexam.reports.blocks import (
    SMALL,
    SMALL_INK,
    Block,
    Heading,
    Row,
    Space,
    Table,
    cell,
    header,
    para,
)
from footexam.reports.hypotheses import Decided
from footexam.reports.material import Material
from footexam.reports.words import opened

UNDECIDED = (0.50, 0.18, 0.32)
TESTS = (0.36, 0.44, 0.20)
MOST_NAMED = 8
"""Names in a list; of more, their number is told."""


def still_open(decided: Decided, material: Material) -> list[Block]:
    """The part under its heading; empty where nothing is open."""
    blocks = [
        *_undecided(decided, material),
        *_tests(material),
        *_nearly(decided, material),
    ]
    return [Heading(material.phrases("still-open"), 1), *blocks] if blocks else []


def _undecided(decided: Decided, material: Material) -> list[Block]:
    """Open hypotheses by name and points, without their arguments: nobody accepted them."""
    phrases = material.phrases
    shown = [one for one in decided.undecided if one.shown >= 1 and one.concerns]
    if not decided.undecided:
        return []
    rows = tuple(_undecided_row(one, decided, material) for one in shown)
    heads = header(*map(phrases, ("undecided", "undecided-points", "undecided-unknown")))
    others = [decided.name(one.id, one.side) for one in decided.undecided if one not in shown]
    told = phrases("undecided-more", what="; ".join(others))
    more = [para(told, style=SMALL_INK)] if others else []
    return [Table(UNDECIDED, rows, heads), *more] if rows else list(more)


def _undecided_row(one: Argument, decided: Decided, material: Material) -> Row:
    points = material.phrases(
        "points-three",
        supports=whole(summed(one.speaks_for)),
        opposes=whole(summed(one.speaks_against)),
        total=one.shown,
    )
    unknown = _listed([material.label(name) for name in one.not_examined], 3, material)
    return Row((cell(decided.name(one.id, one.side)), cell(points), cell(unknown, SMALL)))


def _tests(material: Material) -> list[Block]:
    """Danger questions first, then tests in the order of their use."""
    phrases, suggested = material.phrases, material.assessment.reasons.suggested
    dangers = [one for one in suggested.tests if one.route is Route.DANGER]
    others = [one for one in suggested.tests if one.route is not Route.DANGER]
    blocks: list[Block] = []
    if dangers:
        what = "; ".join(material.label(one.measure) for one in dangers)
        blocks.append(para(phrases("dangers-open", what=what)))
    if others:
        heads = header(*map(phrases, ("next-tests", "test-why", "position")))
        blocks += [Space(4), Table(TESTS, tuple(_test_row(one, material) for one in others), heads)]
    if suggested.idle:
        idle = "; ".join(map(material.label, suggested.idle))
        blocks.append(para(phrases("idle-tests", what=idle), style=SMALL_INK))
    return blocks


def _test_row(one: NextTest, material: Material) -> Row:
    name = material.sided_label(one.measure, one.side)
    return Row((cell(name), cell(opened(one.why), SMALL_INK), cell(one.position, SMALL)))


def _nearly(decided: Decided, material: Material) -> list[Block]:
    """Hypotheses that nothing speaks against opening but answers that are missing."""
    told = [
        material.phrases(
            "nearly-told",
            name=decided.name(one.thought.hypothesis.id, one.side),
            what=", ".join(map(material.label, one.missing)),
        )
        for one in material.assessment.reasons.nearly
    ]
    if not told:
        return []
    text = _listed(told, MOST_NAMED, material)
    return [Heading(material.phrases("nearly"), 2), para(f"{text}.", style=SMALL_INK)]


def _listed(names: Sequence[str], most: int, material: Material) -> str:
    """The names one after another, and how many more there are."""
    told, left = "; ".join(names[:most]), len(names) - most
    return material.phrases("list-more", what=told, count=left) if left > 0 else told
