"""The cautions box: every yes first, in the caution colour; what was asked and what was not."""

from collections.abc import Iterable
from dataclasses import dataclass

from footexam.assessment import CAUTION_PANEL, Caution, is_caution, said_yes
from footexam.catalogue.model import Measure
from footexam.drawing.palette import Ink
from footexam.record.reading import Reading, Sites
from footexam.reports.blocks import BODY, SMALL_INK, STRONG, Block, Box, Para, Space, para
from footexam.reports.material import SIDES, Key, Material
from footexam.reports.text import Style
from footexam.reports.words import opened, time_words
from footexam.terms import Absence, Depth, Side

HEAD = Style(10.5, bold=True)
OPEN = Style(10.5, bold=True, ink=Ink.CAUTION)


@dataclass(frozen=True, slots=True)
class Raised:
    """One line of the box: a yes with what the assessment makes of it, if anything."""

    measure: str
    side: Side | None
    caution: Caution | None


def caution_box(material: Material) -> Block:
    """The box of page one; the caution colour is used only when a question was answered yes."""
    raised = raised_cautions(material)
    phrases = material.phrases
    asked = asked_count(material)
    if not raised:
        head = Para(((phrases("cautions") + "   ", HEAD), (_count(material, asked, False), BODY)))
        return Box((head, *_not_asked(material)), Ink.BORDER)
    count = phrases("yes-one") if len(raised) == 1 else phrases("yes-many", count=len(raised))
    head = Para(((f"{phrases('cautions')}   {count}", OPEN),))
    lines = [_line(item, material) for item in raised]
    told = para(_count(material, asked, True), style=SMALL_INK)
    decided = _decisions(material)
    return Box((head, *lines, *decided, Space(3), told, *_not_asked(material)), Ink.CAUTION, 1.5)


def raised_cautions(material: Material) -> list[Raised]:
    """Every yes: those of the assessment in its order, then any the assessment does not hold.

    A yes in the record must never be missing here, whatever became of it on the way.
    """
    raised, told = [], set[Key]()
    for caution in material.assessment.cautions:
        for measure in _measures(caution.because):
            raised.append(Raised(measure, caution.side, caution))
            told.add((measure, caution.side))
    for (measure, side), reading in material.examination.readings.items():
        is_open = said_yes(reading) and is_caution(measure, material.catalogue)
        if is_open and (measure, side) not in told:
            raised.append(Raised(measure, side, None))
    return raised


def _measures(because: Iterable[str]) -> list[str]:
    """The measure ids among the reasons; a reason of another kind stands as it is."""
    return [reason.removeprefix("measure:") for reason in because]


def _line(item: Raised, material: Material) -> Para:
    """One yes: its side in words and the question, then places, note, action and decision."""
    phrases, known = material.phrases, material.catalogue.measures.get(item.measure)
    side = ""
    if item.side is not None:
        side = f"{phrases(item.side)}: "
    elif known is not None and known.sided:
        side = f"{opened(phrases('no-side'))}: "
    reading = material.reading(item.measure, item.side)
    told = [*_details(reading, material), *_measures_taken(item.caution, material)]
    question = side + material.label(item.measure)
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


def _measures_taken(caution: Caution | None, material: Material) -> list[str]:
    """How soon, what to do, with its source, and what was decided."""
    phrases = material.phrases
    if caution is None or caution.decision is None:
        # what was decided stands below, by the name of the danger it was decided about
        decided = "" if material.examination.decisions.get("cautions") else phrases("decision-none")
    else:
        decided = phrases(f"decision-{caution.decision}")
    if caution is None:
        return [decided] if decided else []
    tier = phrases(f"tier-{caution.tier}") if caution.tier else ""
    cite = ""
    if caution.source:
        cite = material.citations.cite(caution.source, None, "caution-of", caution.id or "")
    action = f"{caution.action or ''} {cite}".strip()
    return [part for part in (tier, action, decided) if part]


def _decisions(material: Material) -> list[Para]:
    """What a named person decided, about which danger and on which side."""
    phrases = material.phrases
    told = []
    for name, body in material.examination.decisions.get("cautions", {}).items():
        side = f", {phrases(body['side'] + '-word')}" if body.get("side") else ""
        what = phrases(f"decision-{body['decision']}")
        head = f"{opened(name.replace('-', ' '))}{side}    "
        parts = (what, body.get("done", ""), body["by"], time_words(body["at"], phrases))
        told.append(Para(((head, STRONG), (" · ".join(part for part in parts if part), SMALL_INK))))
    return told


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
