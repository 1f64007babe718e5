"""What might explain it: the accepted hypotheses with their arguments, what was set aside and why.

Only what the examiner accepted or added is argued for on paper; what was set aside and what is
still open stand under those names.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final, TypeVar

from footexam.drawing.argument import Chain, Point, argument_drawing
from footexam.drawing.shapes import Drawing
from footexam.reasoning.argue import Argument
from footexam.reports.argued import ARGUMENT, chain_of
from footexam.reports.blocks import (
    BODY,
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
from footexam.reports.cautions import caution_name, held_words, holding
from footexam.reports.fonts import Typeset
from footexam.reports.hypotheses import Accepted, Decided
from footexam.reports.material import Material
from footexam.reports.undecided import still_open
from footexam.resources import assets_dir

_T = TypeVar("_T")

WIDTH: Final = 499.0
"""Of the drawing in points: as wide as the text of an A4 page."""
HIGHEST: Final = 560.0
"""Of one drawing in points: what the shortest page holds; a higher one is drawn in parts."""
EVIDENCE = (0.76, 0.24)
ASIDE = (0.36, 0.64)


def arguments(material: Material) -> list[Block]:
    """The section; empty where nothing was argued and nothing decided."""
    decided, phrases = Decided(material), material.phrases
    if decided.is_empty:
        return []
    blocks: list[Block] = [Heading(phrases("arguments")), *_held(material)]
    if decided.accepted:
        blocks.append(para(phrases("arguments-lead"), style=SMALL_INK))
        blocks += _why_now(material)
    elif not decided.own:
        blocks.append(para(phrases("arguments-none")))
    drawn = _Drawn(material)
    for title, one in zip(decided.titles, decided.accepted, strict=True):
        blocks += _accepted(one, title, drawn)
    blocks += _own(decided, material)
    if material.set_aside:
        blocks += _aside(decided, material)
    return [*blocks, *still_open(decided, material)]


def _held(material: Material) -> list[Block]:
    """What is held back while a caution is open, above every argument."""
    told = held_words(material)
    if not told:
        return []
    names = "; ".join(dict.fromkeys(caution_name(one, material) for one in holding(material)))
    lines = (
        para(material.phrases("held-back", names=names), style=STRONG),
        para(material.phrases("caution-holds", what="; ".join(told)), style=SMALL_INK),
    )
    return [Box(lines), Space(4)]


def _why_now(material: Material) -> list[Block]:
    """Why it may have begun when it did; that nothing says so, where nothing does."""
    reasons = material.assessment.reasons
    found = [one.hypothesis for one in reasons.arguments if one.hypothesis.why_now]
    accepted = {one.id for one in Decided(material).accepted}
    told = dict.fromkeys(material.say(one.label) for one in found if one.id in accepted)
    if told:
        return [para(material.phrases("why-now-known", what="; ".join(told)))]
    return [] if reasons.why_now else [para(material.phrases("why-now-missing"))]


# --- one accepted hypothesis


def _accepted(one: Accepted, title: str, drawn: "_Drawn") -> list[Block]:
    """Statement, drawing with the counter-evidence, grades, what is published, what settles it."""
    material, hypothesis = drawn.material, one.hypothesis
    blocks: list[Block] = [Heading(title, 1)]
    if hypothesis is None:
        return [*blocks, para(material.phrases("argument-retired"))]
    if one.argument is None:
        counter = material.phrases("brief-against", counter=material.say(hypothesis.counter))
        blocks += [para(material.say(hypothesis.statement))]
        blocks += [para(material.phrases("argument-closed")), para(counter, style=SMALL_INK)]
    else:
        blocks += drawn.pictures(one.argument)
        if one.argument.both_sides:
            blocks.append(para(material.phrases("argument-both-sides"), style=STRONG))
    grades = material.phrases(
        "argument-grades",
        mechanics=material.phrases(f"grade-{hypothesis.grade_mechanics}"),
        injury=material.phrases(f"grade-{hypothesis.grade_injury}"),
    )
    settles = material.phrases("argument-settles", test=material.say(hypothesis.test))
    blocks += [para(grades, style=SMALL_INK), para(settles, style=SMALL_INK)]
    return [*blocks, *_evidence(one, material)]


def _evidence(one: Accepted, material: Material) -> list[Block]:
    """Each claim with the number of its source and how well it was checked."""
    if one.hypothesis is None or not one.hypothesis.evidence:
        return []
    label = material.say(one.hypothesis.label)
    rows = []
    for claim in one.hypothesis.evidence:
        cite = material.citations.cite(claim.source, claim.provenance, ARGUMENT, label)
        provenance = material.phrases(f"short-{claim.provenance}")
        standing = material.phrases("argument-standing", cite=cite, provenance=provenance)
        rows.append(Row((cell(material.say(claim.text), SMALL_INK), cell(standing, SMALL_INK))))
    heads = header(material.phrases("argument-evidence"), material.phrases("source"))
    return [Table(EVIDENCE, tuple(rows), heads)]


class _Drawn:
    """Draws arguments in the type of the document."""

    def __init__(self, material: Material) -> None:
        self.material = material
        self._typeset: Typeset | None = None

    def pictures(self, argument: Argument) -> list[Block]:
        """The drawing of an argument, in parts where it is higher than a page."""
        typeset = self._typeset = self._typeset or Typeset(assets_dir() / "fonts")
        chain = printable(chain_of(argument, self.material), typeset)
        return [*(Picture(one) for one in _parts(chain, typeset)), Space(3)]


def _parts(chain: Chain, typeset: Typeset) -> Iterator[Drawing]:
    """One drawing, or several with fewer rows each; mechanism and counter-evidence in every one."""
    drawing = argument_drawing(chain, WIDTH, typeset.width)
    rows = len(chain.supports) + len(chain.opposes) + len(chain.struck) + len(chain.unknown)
    if drawing.height <= HIGHEST or rows < 2:
        yield drawing
        return
    for half in _halves(chain):
        yield from _parts(half, typeset)


def _halves(chain: Chain) -> Iterator[Chain]:
    """The chain with the first and with the second half of each kind of row."""
    for second in (False, True):
        yield replace(
            chain,
            supports=_half(chain.supports, second),
            opposes=_half(chain.opposes, second),
            struck=_half(chain.struck, second),
            unknown=_half(chain.unknown, second),
        )


def _half(rows: tuple[_T, ...], second: bool) -> tuple[_T, ...]:
    middle = (len(rows) + 1) // 2
    return rows[middle:] if second else rows[:middle]


def printable(chain: Chain, typeset: Typeset) -> Chain:
    """The chain with every character that has no shape written by its code."""

    def shown(points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple(
            replace(one, says=typeset.shown(one.says), found=typeset.shown(one.found))
            for one in points
        )

    return replace(
        chain,
        supports=shown(chain.supports),
        opposes=shown(chain.opposes),
        struck=shown(chain.struck),
        unknown=tuple(map(typeset.shown, chain.unknown)),
    )


# --- own words, set aside


def _own(decided: Decided, material: Material) -> list[Block]:
    """What the examiner added, as it was written."""
    if not decided.own:
        return []
    blocks: list[Block] = [Heading(material.phrases("own-hypotheses"), 1)]
    for one in decided.own:
        side = f"{material.phrases(str(one.side))}: " if one.side else ""
        blocks.append(Para(((side, STRONG), (one.statement, BODY))))
    return blocks


def _aside(decided: Decided, material: Material) -> list[Block]:
    """What was set aside, with the reason that was given."""
    if not decided.aside:
        return []
    rows = tuple(_aside_rows(decided))
    heads = header(material.phrases("hypothesis"), material.phrases("set-aside-why"))
    return [Heading(material.phrases("set-aside"), 1), Table(ASIDE, rows, heads)]


def _aside_rows(decided: Decided) -> Iterable[Row]:
    for one in decided.aside:
        yield Row((cell(decided.name(one.id, one.side)), cell(one.reason)))
