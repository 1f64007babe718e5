"""The cautions box: every yes first, in the caution colour; what was asked and what was not."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from footexam.assessment import CAUTION_PANEL, Caution, is_caution, said_yes
from footexam.catalogue.arguments import Branch, Hold
from footexam.catalogue.model import Measure
from footexam.drawing.palette import Ink
from footexam.record.reading import Reading, Sites
from footexam.reports.blocks import (
    BODY,
    SMALL_INK,
    STRONG,
    Block,
    Box,
    Heading,
    Para,
    Space,
    para,
)
from footexam.reports.material import SIDES, Key, Material
from footexam.reports.text import Span, Style
from footexam.reports.values import score_words, value_lines
from footexam.reports.words import opened, time_words
from footexam.terms import Absence, Depth, Side

HEAD = Style(10.5, bold=True)
OPEN = Style(10.5, bold=True, ink=Ink.CAUTION)
DONE = Style(SMALL_INK.size, bold=True)
SOON = Style(SMALL_INK.size, bold=True, ink=Ink.CAUTION)


@dataclass(frozen=True, slots=True)
class Raised:
    """One line of the box: a caution, or a yes that no caution rests on.

    `measure` is the question; of a caution the first of `because`, all that it rests on.
    """

    measure: str
    side: Side | None
    caution: Caution | None
    because: tuple[str, ...] = ()

    @property
    def is_reasoned(self) -> bool:
        """Whether it is a caution of forms/, not only a yes."""
        return self.caution is not None and self.caution.id is not None


def caution_box(material: Material, page: str = "") -> Block:
    """The box of page one; the caution colour is used only where something was raised.

    With a `page`, what the cautions rest on stands there and not here.
    """
    raised = raised_cautions(material)
    phrases = material.phrases
    asked = asked_count(material)
    taken_back = _taken_back(material)
    if not raised:
        head = Para(((phrases("cautions") + "   ", HEAD), (_count(material, asked, False), BODY)))
        return Box((head, *taken_back, *_not_asked(material)), Ink.BORDER)
    alike = _alike(raised)
    head = Para(((f"{phrases('cautions')}   {_raised_words(alike, material)}", OPEN),))
    lines: list[Block] = [
        line for items in alike for line in _lines(items, material, whole=not page)
    ]
    told = [_count(material, asked, True)]
    if page and has_reasons(material):
        told.append(phrases("cautions-page", page=page))
    held = _held(material)
    if has_reasons(material):
        told, held = [" ".join([*held, *told])], []
    counted = [para(one, style=SMALL_INK) for one in (*told, *held)]
    after = [*_other_decisions(raised, material), *taken_back]
    return Box((head, *lines, *after, Space(3), *counted, *_not_asked(material)), Ink.CAUTION, 1.5)


def cautions_whole(material: Material) -> list[Block]:
    """The cautions with what each rests on, as a section of its own."""
    lines: list[Block] = [
        line
        for items in _alike(raised_cautions(material))
        for line in _lines(items, material, whole=True)
    ]
    return [Heading(material.phrases("cautions")), Box(tuple(lines), Ink.CAUTION, 1.5)]


def has_reasons(material: Material) -> bool:
    """Whether a caution of forms/ stands, which rests on answers."""
    return any(item.is_reasoned for item in raised_cautions(material))


def raised_cautions(material: Material) -> list[Raised]:
    """Every caution once, in the order of the assessment, then every yes that none rests on.

    A yes in the record must never be missing here, whatever became of it on the way.
    """
    raised, told = [], set[Key]()
    for caution in material.assessment.cautions:
        names = tuple(reason.removeprefix("measure:") for reason in caution.because)
        raised.append(Raised(names[0] if names else "", caution.side, caution, names))
        told.update(_read_at(name, caution.side, material) for name in names)
    for (measure, side), reading in material.examination.readings.items():
        is_open = said_yes(reading) and is_caution(measure, material.catalogue)
        if is_open and (measure, side) not in told:
            raised.append(Raised(measure, side, None, (measure,)))
    return raised


def _read_at(measure: str, side: Side | None, material: Material) -> Key:
    """Where the answer stands that counts for a side: its own, or the one without a side."""
    return (measure, side if material.reading(measure, side) else None)


def holding(material: Material) -> list[Caution]:
    """The cautions that hold something back until it is recorded what was done."""
    return [one for one in material.assessment.cautions if one.is_open and _holds(one)]


def _holds(caution: Caution) -> tuple[Hold, ...]:
    """A yes that leads nowhere yet holds back what might provoke the pain, as the gates do."""
    return caution.holds if caution.id else (Hold.PROVOCATION,)


def held_words(material: Material) -> list[str]:
    """What open cautions hold back, by side in words."""
    phrases, sides = material.phrases, dict[str, set[str]]()
    for caution in holding(material):
        for one in _holds(caution):
            sides.setdefault(phrases(f"hold-{one}"), set()).add(str(caution.side or "both"))
    by_side: dict[str, list[str]] = {}
    for what, found in sides.items():
        both = "both" in found or len(found) == len(SIDES)
        by_side.setdefault("both" if both else found.pop(), []).append(what)
    order = [*map(str, SIDES), "both"]
    return [
        f"{phrases(f'{side}-word')}: {', '.join(by_side[side])}"
        for side in order
        if side in by_side
    ]


def _held(material: Material) -> list[str]:
    told = held_words(material)
    return [material.phrases("caution-holds", what="; ".join(told))] if told else []


def caution_name(caution: Caution, material: Material) -> str:
    """The short name of a caution; of a yes its question; its id where it has left forms/."""
    if caution.id is None:
        return "; ".join(material.label(one.removeprefix("measure:")) for one in caution.because)
    known = material.catalogue.cautions.get(caution.id or "")
    return material.say(known.label) if known else opened((caution.id or "").replace("-", " "))


Alike = list[Raised]
"""One line of the box: what stands on one side, or the same caution on both."""


def _alike(raised: list[Raised]) -> list[Alike]:
    """The same caution on both sides, for the same reason and with the same decision, together."""
    groups: list[Alike] = []
    for item in raised:
        for group in groups:
            if item.is_reasoned and _key(group[0]) == _key(item):
                group.append(item)
                break
        else:
            groups.append([item])
    return groups


def _key(item: Raised) -> tuple[object, ...]:
    caution = item.caution
    return (caution and (caution.id, caution.branch, caution.decision), item.side is None)


def _raised_words(alike: list[Alike], material: Material) -> str:
    """How many cautions stand, how many of them without a decision, how many yes besides."""
    phrases, firsts = material.phrases, [items[0] for items in alike]
    reasoned = [item.caution for item in firsts if item.caution and item.is_reasoned]
    others = len(firsts) - len(reasoned)
    if not reasoned:
        return phrases("yes-one") if others == 1 else phrases("yes-many", count=others)
    waiting = sum(caution.is_open for caution in reasoned)
    told = [phrases("raised", count=len(reasoned), waiting=waiting)]
    if not waiting:
        told = [phrases("raised-decided", count=len(reasoned))]
    if others:
        told.append(phrases("yes-besides", count=others))
    return " ".join(told)


def _lines(items: Alike, material: Material, *, whole: bool) -> Iterator[Para]:
    """A caution with what to do and what was done, then what it rests on; or a yes."""
    item, caution = items[0], items[0].caution
    if caution is None or caution.id is None:
        yield _yes(item, material)
        return
    both = f"{material.phrases('both')}: "
    name = (both if len(items) > 1 else _whose(item, material)) + caution_name(caution, material)
    tier = material.phrases(f"tier-{caution.tier}") if caution.tier else ""
    done = dict.fromkeys(_done(one.caution, material) for one in items if one.caution)
    action = _action(caution, tier, material, whole=whole)
    spans = [(tier, SOON), (action, SMALL_INK), *((one, DONE) for one in done)]
    yield Para(((f"{name}    ", STRONG), *_joined(spans)))
    branch = branch_of(caution, material)
    if not whole:
        return
    names = dict.fromkeys(name for one in items for name in one.because)
    rests = "; ".join(_answer(name, [one.side for one in items], material) for name in names)
    trigger = material.say(branch.trigger) if branch else ""
    told = [trigger, material.phrases("rests-on", what=rests) if rests else ""]
    yield para(" ".join(filter(None, told)), style=SMALL_INK)


def _joined(spans: Iterable[Span]) -> Iterator[Span]:
    """The spans that hold something, with a dot between them."""
    between = ""
    for text, style in spans:
        if text:
            yield (between, SMALL_INK)
            yield (text, style)
            between = " · "


def _done(caution: Caution, material: Material) -> str:
    """What was decided about a caution, what was done, by whom and when."""
    made = decision_about(caution, material)
    return " · ".join(decision_words(made, material)) if made else _decision(caution, material)


def branch_of(caution: Caution, material: Material) -> Branch | None:
    """The branch that fired, for its words; None where it has left forms/."""
    known = material.catalogue.cautions.get(caution.id or "")
    branches = known.branches if known else ()
    return next((one for one in branches if one.id == caution.branch), None)


def _whose(item: Raised, material: Material) -> str:
    """The side in words before a name; a sided question answered without one says so."""
    phrases, known = material.phrases, material.catalogue.measures.get(item.measure)
    if item.side is not None:
        return f"{phrases(item.side)}: "
    if known is not None and known.sided:
        return f"{opened(phrases('no-side'))}: "
    return ""


def _action(caution: Caution, tier: str, material: Material, *, whole: bool) -> str:
    """What to do, with its source; how soon is not told twice.

    `whole`: with the guideline that it comes from.
    """
    branch = branch_of(caution, material)
    cite = ""
    if caution.source:
        provenance = branch.provenance if branch else None
        name = caution_name(caution, material)
        cite = material.citations.cite(caution.source, provenance, "caution-of", name)
    action = material.say(branch.action) if branch else caution.action or ""
    start, colon, rest = action.partition(": ")
    if colon and tier.startswith(start):
        action = opened(rest)
    places = (branch.guideline, branch.country) if branch and whole else ()
    from_where = ", ".join(filter(None, places))
    told = f"{action} {cite}".strip()
    return f"{told} ({from_where})" if from_where else told


def _answer(measure: str, sides: Sequence[Side | None], material: Material) -> str:
    """An answer that a caution rests on, of both sides where it stands on both."""
    found = {side: _value(measure, side, material) for side in sides}
    label, told = material.label(measure), set(found.values()) - {""}
    if not told:
        return label
    if len(told) == 1:
        return f"{label}: {told.pop()}"
    parts = (f"{material.side_word(side)} {text}" for side, text in found.items() if side and text)
    return f"{label}: {', '.join(parts)}"


def _value(measure: str, side: Side | None, material: Material) -> str:
    """What was recorded or worked out, with its places and its note; empty without it."""
    reading = material.reading(measure, side) or material.reading(measure)
    if reading is None:
        return score_words(measure, side, material)
    if reading.absent is not None:
        return ""
    told = [" ".join(value_lines(reading, material))]
    if reading.note:
        told.append(material.phrases("note", note=reading.note))
    return ", ".join(told)


def _yes(item: Raised, material: Material) -> Para:
    """A yes: its side in words and the question, then places, note and decision."""
    reading = material.reading(item.measure, item.side)
    told = [*_details(reading, material), *_decided_yes(item.caution, material)]
    question = _whose(item, material) + material.label(item.measure)
    return Para(((f"{question}    ", STRONG), (opened(" · ".join(told)), SMALL_INK)))


def _details(reading: Reading | None, material: Material) -> list[str]:
    """The places of a yes and its note."""
    if reading is None:
        return []
    told = []
    if isinstance(reading.value, Sites):
        places = "; ".join(map(material.region, reading.value.sites))
        told.append(places or material.phrases("site-not-given"))
    if reading.note:
        told.append(material.phrases("note", note=reading.note))
    return told


def _decided_yes(caution: Caution | None, material: Material) -> list[str]:
    """What was decided about a yes; nothing where decisions stand below, by the danger's name."""
    made = decision_about(caution, material) if caution else None
    if made is not None:
        return decision_words(made, material)
    open_still = caution is None or caution.decision is None
    if open_still and material.examination.decisions.get("cautions"):
        return []
    return [_decision(caution, material)]


# --- decisions


def _decision(caution: Caution | None, material: Material) -> str:
    if caution is None or caution.decision is None:
        return material.phrases("decision-none")
    return material.phrases(f"decision-{caution.decision}")


Made = Mapping[str, Any]
"""A decision as the examination file has it."""


def _all_decisions(material: Material) -> Iterator[tuple[str, Made]]:
    """Every decision by the danger it is about: one, or a list of them."""
    for name, made in material.examination.decisions.get("cautions", {}).items():
        for one in made if isinstance(made, list) else [made]:
            yield name, one


def decision_about(caution: Caution, material: Material) -> Made | None:
    """What a named person decided about a caution as it stands; without a side, for both."""
    if caution.decision is None:
        return None
    for name, made in _all_decisions(material):
        if name == caution.about and made.get("side") in {None, caution.side}:
            return made
    return None


def decision_words(made: Made, material: Material) -> list[str]:
    """What was decided, what was done, by whom and when."""
    what = material.phrases(f"decision-{made['decision']}")
    at = time_words(made["at"], material.phrases)
    return [part for part in (what, made.get("done", ""), made["by"], at) if part]


def _other_decisions(raised: list[Raised], material: Material) -> list[Para]:
    """Decisions about dangers that have not fired, or not on that side."""
    cautions = (item.caution for item in raised if item.caution)
    told = [made for caution in cautions if (made := decision_about(caution, material))]
    phrases = material.phrases
    lines = []
    for name, made in _all_decisions(material):
        if any(made is one for one in told):
            continue
        side = f", {phrases(made['side'] + '-word')}" if made.get("side") else ""
        head = f"{opened(name.replace('-', ' '))}{side}    "
        lines.append(
            Para(((head, STRONG), (" · ".join(decision_words(made, material)), SMALL_INK)))
        )
    return lines


def _taken_back(material: Material) -> list[Para]:
    """Answers of yes that no longer stand, with who took them back, when and why."""
    phrases, lines = material.phrases, []
    for one in material.examination.withdrawn:
        told = phrases(
            "taken-back",
            what=material.sided_label(one.measure, one.side),
            by=one.by,
            at=time_words(one.at, phrases),
        )
        reason = one.reason or phrases("no-reason")
        lines.append(para(f"{told} {opened(reason)}", style=SMALL_INK))
    return lines


def first_block(material: Material) -> list[Measure]:
    """The caution questions that everybody is asked."""
    return [
        measure
        for measure in material.catalogue.measures.values()
        if measure.panel == CAUTION_PANEL and measure.depth is Depth.CORE
    ]


def _sides_of(measure: Measure, material: Material) -> list[Side | None]:
    """The sides for which a question awaits an answer; one bare answer counts for both."""
    if not measure.sided or material.reading(measure.id):
        return [None]
    return list(SIDES)


def asked_count(material: Material) -> int:
    """How many questions of the first block have an answer on every side."""
    return sum(
        all(_answered(measure, side, material) for side in _sides_of(measure, material))
        for measure in first_block(material)
    )


def _answered(measure: Measure, side: Side | None, material: Material) -> bool:
    reading = material.reading(measure.id, side)
    return reading is not None and reading.absent is None


def _count(material: Material, asked: int, any_yes: bool) -> str:
    """How many of the questions were asked."""
    whole = len(first_block(material))
    if not asked and not any_yes:
        return material.phrases("cautions-none", all=whole)
    return material.phrases("asked" if any_yes else "asked-none", asked=asked, all=whole)


def _not_asked(material: Material) -> list[Para]:
    """What has no answer, told apart: not asked, declined, could not be tested, and so on."""
    missing: dict[Absence | None, list[str]] = {}
    for measure in first_block(material):
        sides = _sides_of(measure, material)
        without = [side for side in sides if not _answered(measure, side, material)]
        for side in [None] if len(without) == len(SIDES) and _same(measure, material) else without:
            found = material.reading(measure.id, side or without[0])
            what = material.sided_label(measure.id, side)
            if found is not None and found.reason:
                what = material.phrases("reason", what=what, reason=found.reason)
            missing.setdefault(found.absent if found else None, []).append(what)
    return [
        para(
            material.phrases(
                "caution-absent",
                absence=opened(material.phrases(absence or "not-asked")),
                what="; ".join(labels),
            ),
            style=SMALL_INK,
        )
        for absence, labels in missing.items()
    ]


def _same(measure: Measure, material: Material) -> bool:
    """Whether both sides lack an answer in the same way, so that they are told once."""
    left, right = (material.reading(measure.id, side) for side in SIDES)
    if left is None or right is None:
        return left is right
    return (left.absent, left.reason) == (right.absent, right.reason)
