"""The leaflet: the patient's plan on one page in plain words."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby

from footexam.assessment import Assessment
from footexam.catalogue.letters import Document
from footexam.catalogue.model import Catalogue
from footexam.reasoning.planned import Candidate, Plan
from footexam.record.examination import Examination
from footexam.reports.blocks import SMALL, Block, Heading, Row, Rule, Space, Table, cell, para
from footexam.reports.canvas import pdf_bytes
from footexam.reports.cautions import holding
from footexam.reports.examination import add_feet
from footexam.reports.fonts import Typeset
from footexam.reports.front import is_draft
from footexam.reports.letter import Letter, Said
from footexam.reports.material import Material
from footexam.reports.patient_copy import NAME, TITLE
from footexam.reports.plain_phrases import plain_phrase
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.text import Style
from footexam.reports.values import value_lines
from footexam.reports.words import date_words, number_words, patient_name
from footexam.resources import assets_dir
from footexam.terms import Provenance, Side, Tier

SIZES = (10.6, 10.0, 9.4, 8.8)
"""Of the type; the first with which it is one page."""
ADVICE, HELD = "load-advice", "held"
HEIGHT, DAYS = "height", "days"
"""The dimensions that a patient is told, where they were chosen."""
MOST_ADVICE = 1200
"""Characters of typed advice that the page has room for."""
DASH = (0.03, 0.97)


def leaflet(
    examination: Examination,
    assessment: Assessment,
    catalogue: Catalogue,
    *,
    page: str = "A4",
    invented: bool = False,
    language: str = "en",
    practice: str = "",
    ask: str = "",
    edited: Mapping[str, str] | None = None,
) -> bytes:
    """The leaflet as PDF; the same input gives the same bytes.

    `ask` is whom to ask and how; without it there is a line to write on. `edited` are texts typed
    for blocks of forms/letters, as for a referral. The other arguments and errors are those of
    `examination_report`. Raises UnknownBlock for an id that the leaflet does not have.
    """
    typeset = Typeset(assets_dir() / "fonts")
    material = Material(examination, assessment, catalogue, language)
    slots = _Words(material, ask).slots
    said = Letter(material, Document.LEAFLET, slots, edited or {}).said()
    for size in SIZES:
        sheet = Sheet(PAPERS[page], typeset)
        sheet.add(_blocks(material, said, practice, ask, Style(size)))
        if len(sheet.pages) == 1:
            break
    add_feet(material, sheet, invented)
    return pdf_bytes(sheet, plain_phrase("leaflet-title", language), language)


class _Words:
    """What the record has for the blocks of a leaflet."""

    def __init__(self, material: Material, ask: str) -> None:
        self.material = material
        self.ask = ask

    @property
    def slots(self) -> Mapping[str, Callable[[], str]]:
        """Every name that a block of a leaflet may have."""
        return {
            "held_sides": lambda: self._feet(self._plan.held),
            "soon": self._soon,
            "gets": self._gets,
            "aims": self._aims,
            "tape_days": self._tape_days,
            "tight": self._tight,
            "advice": self._advice,
            "help": lambda: self.say("help"),
            "who": lambda: self.ask or self.material.examination.examiner.name,
        }

    def say(self, key: str, **parts: object) -> str:
        """A plain sentence."""
        return plain_phrase(key, self.material.language, **parts)

    @property
    def _plan(self) -> Plan:
        return self.material.assessment.reasons.plan

    def _feet(self, sides: Sequence[Side | None]) -> str:
        """The left foot, the right foot, or both."""
        known = set(sides) - {None}
        if not sides:
            return ""
        return self.say(f"foot-{next(iter(known))}" if len(known) == 1 else "foot-both")

    def _soon(self) -> str:
        """How soon the most serious of the open dangers needs care."""
        tiers = [one.tier for one in holding(self.material) if one.tier]
        if not tiers:
            return self.say("soon-unknown")
        return self.say(f"soon-{min(tiers, key=list(Tier).index)}")

    def _gets(self) -> str:
        """A line for each foot, or for both, with what it gets."""
        given: dict[str, list[Side | None]] = {}
        for one in self._plan.chosen:
            given.setdefault(self._thing(one), []).append(one.side)
        return self._by_feet(given, "gets")

    def _thing(self, one: Candidate) -> str:
        """A feature in plain words, with its height where one was chosen."""
        sizes = {part.size.id: part for part in one.dimensions if part.chosen}
        known = self.material.catalogue.plain.get(one.id)
        name = self.material.say(known.text if known else one.feature.label)
        height = sizes.get(HEIGHT)
        if height is None:
            return name
        size = f"{number_words(height.value)}\u00a0{height.size.unit}"
        return self.say("thing-sized", thing=name, size=size)

    def _aims(self) -> str:
        """What the kept aims want, by foot."""
        wanted: dict[str, list[Side | None]] = {}
        for one in self._plan.aims:
            if one.kept:
                known = self.material.catalogue.plain.get(one.id)
                text = self.material.say(known.text if known else one.aim.label)
                wanted.setdefault(text, []).append(one.side)
        return self._by_feet(wanted, "aim")

    def _by_feet(self, things: Mapping[str, Sequence[Side | None]], key: str) -> str:
        """The things of the same feet in one line."""
        feet: dict[str, list[str]] = {}
        for text, sides in things.items():
            feet.setdefault(self._feet(sides), []).append(text)
        whole = len(feet) == 1 and key == "aim"
        return "\n".join(
            self.say(f"{key}-all" if whole else f"{key}-foot", foot=foot, what=self._listed(texts))
            for foot, texts in feet.items()
        )

    def _listed(self, texts: Sequence[str]) -> str:
        *before, last = texts
        return self.say("and", before="; ".join(before), last=last) if before else last

    def _tape_days(self) -> str:
        for one in self._plan.chosen:
            for part in one.dimensions:
                if part.size.id == DAYS:
                    return self.say("days", count=number_words(part.value))
        return ""

    def _tight(self) -> str:
        sides = [
            room.side for room in self._plan.rooms if False in {room.heel.fits, room.forefoot.fits}
        ]
        return self._feet(sides)

    def _advice(self) -> str:
        """What was typed for the patient, as it was typed."""
        reading = self.material.reading(ADVICE)
        if reading is None or reading.absent is not None:
            return ""
        text = " ".join(" ".join(value_lines(reading, self.material)).split())
        if len(text) <= MOST_ADVICE:
            return text
        return self.say("advice-cut", what=text[:MOST_ADVICE].rpartition(" ")[0])


def _blocks(
    material: Material, said: Sequence[Said], practice: str, ask: str, text: Style
) -> list[Block]:
    """The leaflet from top to bottom."""
    blocks = _head(material, practice, text)
    for heading, group in groupby(said, lambda one: one.heading):
        blocks += [Heading(heading, 3), *_under(list(group), text)]
    if not ask:
        line = plain_phrase("ask-line", material.language)
        blocks += [para(line, style=text), Space(14), Rule(), Space(3)]
    return [*blocks, *_sources(material, said)]


def _head(material: Material, practice: str, text: Style) -> list[Block]:
    """The practice, what it is, whose it is and when; whether it is a draft."""
    examination, phrases, language = material.examination, material.phrases, material.language
    strong = Style(text.size, bold=True)
    day = date_words(examination.examined_on, phrases)
    blocks: list[Block] = [para(practice, style=strong)] if practice else []
    blocks += [
        para(plain_phrase("leaflet-title", language), style=TITLE),
        para(patient_name(examination.patient, phrases), style=NAME),
        para(plain_phrase("seen", language, day=day, who=examination.examiner.name), style=text),
    ]
    if examination.in_error:
        blocks.append(para(plain_phrase("in-error", language), style=strong))
    elif is_draft(examination):
        blocks.append(para(plain_phrase("draft", language), style=strong))
    return [*blocks, Space(2), Rule()]


def _under(group: Sequence[Said], text: Style) -> Iterator[Block]:
    """The blocks of one heading: sentences run on, lines stay lines, what is held is strong."""
    running: list[str] = []
    for one in group:
        lines = one.text.split("\n")
        is_held = HELD in one.block.facts
        if len(lines) == 1 and not is_held:
            running += lines
            continue
        yield from _run(running, text)
        running = []
        yield (
            para(" ".join(lines), style=Style(text.size, bold=True))
            if is_held
            else _list(lines, text)
        )
    yield from _run(running, text)


def _run(texts: list[str], style: Style) -> list[Block]:
    return [para(" ".join(texts), style=style)] if texts else []


def _list(lines: Sequence[str], style: Style) -> Table:
    """Lines with a dash before each."""
    rows = tuple(Row((cell("–", style), cell(line, style)), lined=False) for line in lines)
    return Table(DASH, rows)


def _sources(material: Material, said: Sequence[Said]) -> list[Block]:
    """Where the figures come from, in small type."""
    catalogue, told = material.catalogue, dict[str, None]()
    practice = False
    for one in said:
        practice |= one.block.provenance is Provenance.COMMON_PRACTICE
        source = catalogue.sources.get(one.block.source)
        if source is not None and one.block.provenance is not Provenance.COMMON_PRACTICE:
            told[source.citation] = None
    own = [plain_phrase("leaflet-practice", material.language)] if practice else []
    what = "; ".join((*told, *own))
    if not what:
        return []
    text = plain_phrase("leaflet-sources", material.language, what=what)
    return [Space(2), para(text, style=SMALL)]
