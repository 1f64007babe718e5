"""What a record has for the blocks of a leaflet, in plain words; what it has not stays empty."""

from collections.abc import Callable, Mapping, Sequence

from footexam.reasoning.planned import Candidate, Plan
from footexam.reports.cautions import holding
from footexam.reports.material import Material
from footexam.reports.plain_phrases import plain_phrase
from footexam.reports.values import value_lines
from footexam.reports.words import number_words
from footexam.terms import Side, Tier

ADVICE = "load-advice"
HEIGHT, DAYS = "height", "days"
"""The dimensions that a patient is told, where they were chosen."""
MOST_ADVICE = 1200
"""Characters of typed advice that the page has room for."""


class LeafletWords:
    """The texts for one leaflet; `ask` is whom to ask and how, as typed."""

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
