"""What feedback and cohort documents share: words, names of items, kappa in words, footers."""

from collections.abc import Iterable
from decimal import Decimal

from footexam.catalogue.arguments import DangerSign, Hypothesis
from footexam.catalogue.model import Catalogue, Measure, Texts, say
from footexam.catalogue.plan_model import Aim, Feature
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Anchor, Line, Shape, Text
from footexam.marking.compared import Item, Named
from footexam.marking.figures import Kappa
from footexam.record.reading import Numbers, Reading, RegionValues, Sites, Word
from footexam.record.reading import Words as Listed
from footexam.reports.citations import Citations
from footexam.reports.fonts import Typeset
from footexam.reports.foot import SIZE, cut
from footexam.reports.marking_words import marking_phrase
from footexam.reports.phrases import Phrases
from footexam.reports.sheet import Sheet
from footexam.reports.words import number_words, quantity_words, rounded_words
from footexam.resources import assets_dir
from footexam.terms import Side


class Words:
    """The words of one document, with the catalogue's names and the sources that it cites."""

    def __init__(self, catalogue: Catalogue, language: str) -> None:
        self.catalogue = catalogue
        self.language = language
        self.phrases = Phrases(language)
        self.citations = Citations(catalogue, self.phrases)

    def __call__(self, key: str, **parts: object) -> str:
        """A phrase of these documents."""
        return marking_phrase(key, self.language, **parts)

    def say(self, texts: Texts | None) -> str:
        """A text of forms/."""
        return say(texts, self.language)

    def label(self, measure: Measure) -> str:
        """The name of a measure."""
        return self.say(measure.label)

    def sided(self, name: str, side: Side | None) -> str:
        """A name with its side in words."""
        if side is None:
            return name
        return self("named-side", name=name, side=self.phrases(f"{side}-word"))

    def item(self, item: Item) -> str:
        """The name of an item with its side."""
        return self.sided(self.label(item.measure), item.side)

    def word(self, word: str) -> str:
        """A choice word, or a place of the foot map, as shown."""
        region = self.catalogue.regions.get(word)
        return self.say(region.label) if region else self.catalogue.word(word, self.language)

    def named(self, named: Iterable[Named]) -> str:
        """Hypotheses, aims, features or cautions by name."""
        return "; ".join(self.sided(self.thing(name), side) for name, side in named)

    def thing(self, name: str) -> str:
        """What an id of a hypothesis, aim, feature, caution or danger question is called."""
        catalogue = self.catalogue
        found: Hypothesis | Aim | Feature | DangerSign | Measure | None = (
            catalogue.hypotheses.get(name)
            or catalogue.aims.get(name)
            or catalogue.features.get(name)
            or catalogue.cautions.get(name)
            or catalogue.measures.get(name)
        )
        return self.say(found.label) if found else name

    def difference(self, item: Item) -> str:
        """Student minus reference with its unit and sign; empty of what is no number."""
        if item.difference is None:
            return ""
        return rounded_words(float(item.difference), item.measure, signed=True)

    def student(self, item: Item) -> str:
        """What the student recorded."""
        return self._value(item.student_value, item.student, item)

    def reference(self, item: Item) -> str:
        """What the reference has."""
        return self._value(item.reference_value, item.reference, item)

    def _value(self, value: Decimal | None, reading: Reading | None, item: Item) -> str:
        if value is not None:
            repeats = reading and isinstance(reading.value, Numbers) and reading.value.readings
            decimals = item.measure.decimals + 1 if repeats and len(repeats) > 1 else None
            return quantity_words(value, item.measure, decimals=decimals)
        return self.answer(reading, item.measure) if reading else ""

    def answer(self, reading: Reading, measure: Measure) -> str:
        """An answer that is no number, in words; an absence by its kind."""
        match reading.value:
            case None:
                return self.phrases(reading.absent) if reading.absent else ""
            case Word(word):
                return self.word(word)
            case Listed(words):
                return "; ".join(map(self.word, words))
            case Sites(word, sites):
                return "; ".join(map(self.word, (word, *sites)))
            case RegionValues(values):
                told = (f"{self.word(k)} {quantity_words(v, measure)}" for k, v in values.items())
                return "; ".join(told)
            case _:
                return reading.typed

    def kappa(self, found: Kappa) -> str:
        """Kappa with n and interval, or why there is none."""
        if found.value is None:
            return self("kappa-none", why=found.note, n=found.n)
        value = fixed(found.value)
        if found.low is None or found.high is None:
            told = self("kappa-bare", value=value, n=found.n)
        else:
            low, high = fixed(found.low), fixed(found.high)
            told = self("kappa", value=value, low=low, high=high, n=found.n)
        return self("noted", told=told, note=found.note) if found.note else told


def fixed(value: float, places: int = 2) -> str:
    """A figure with so many decimals and a true minus."""
    return number_words(round(Decimal(repr(value)), places))


def percent(value: float) -> str:
    """A share as whole per cent."""
    return f"{value * 100:.0f}"


def typeset() -> Typeset:
    """The fonts of every document. Raises OSError without them."""
    return Typeset(assets_dir() / "fonts")


def add_feet(sheet: Sheet, words: Words, who: str, invented: bool) -> None:
    """The footer of every page: whose document it is, which page, and what it is for."""
    paper, fonts = sheet.paper, sheet.typeset
    left, right = paper.margin, paper.width - paper.margin
    top = paper.height - paper.foot + 12.0
    for number, shapes in enumerate(sheet.pages, 1):
        count = words.phrases("page", page=number, pages=len(sheet.pages))
        room = right - left - fonts.width(count, SIZE) - 12.0
        shapes.extend(
            (
                Line(left, top, right, top, Ink.RULE, 0.6),
                Text(left, top + 13.0, cut(who, room, fonts, bold=True), SIZE, bold=True),
                Text(right, top + 13.0, count, SIZE, anchor=Anchor.END),
                Text(left, top + 24.0, words("kept-apart"), SIZE, Ink.MUTED),
                *_invented(words, right, top + 24.0, invented),
            )
        )


def _invented(words: Words, right: float, y: float, invented: bool) -> list[Shape]:
    if not invented:
        return []
    text = words.phrases("invented")
    return [Text(right, y, text, SIZE, Ink.INK, bold=True, anchor=Anchor.END)]
