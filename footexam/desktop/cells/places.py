"""The places chosen in a cell, and the one at hand: no Qt, so that it can be shown to be right."""

from collections.abc import Mapping, Sequence

from footexam.catalogue.model import Catalogue, Measure, say
from footexam.desktop.cells.matching import match_places
from footexam.desktop.cells.words import tell
from footexam.drawing.foot_map import is_nothing
from footexam.drawing.outlines import VIEWS
from footexam.record.reading import Reading, RegionValues, Sites, Words
from footexam.record.refusal import in_digits
from footexam.terms import Kind

_NUMBER_BEGINS = frozenset("0123456789+-−–.,")


class Places:
    """Places of one side with what is typed for them; `at` is the place at hand.

    `marks` by region id: empty text for a chosen place, the number as typed where `valued`.
    `fitting` are the places that the letters typed so far can mean.
    """

    def __init__(self, measure: Measure, catalogue: Catalogue) -> None:
        self.measure = measure
        self.catalogue = catalogue
        self.valued = measure.kind is Kind.REGION_VALUES
        self.marks: dict[str, str] = {}
        self.fitting: list[str] = list(catalogue.regions)
        self.at: str | None = None

    # --- what is marked

    def show(self, marks: Mapping[str, str]) -> None:
        """Mark these places and no others."""
        self.marks = self._in_map_order(marks)

    def toggle(self, region: str) -> None:
        """Choose a place, or choose it no longer."""
        marks = {name: text for name, text in self.marks.items() if name != region}
        if region not in self.marks:
            marks[region] = ""
        self.show(marks)

    def put(self, region: str, number: str) -> None:
        """Give a place its number, as typed."""
        self.show({**self.marks, region: number})

    def remove(self, region: str) -> None:
        """Take a place away."""
        self.marks.pop(region, None)

    def typed(self) -> object | None:
        """The marked places in the form that record/parse.py reads; None without any."""
        if not self.marks:
            return None
        return dict(self.marks) if self.valued else list(self.marks)

    def _in_map_order(self, marks: Mapping[str, str]) -> dict[str, str]:
        order = {region: place for place, region in enumerate(self.catalogue.regions)}
        return {name: marks[name] for name in sorted(marks, key=lambda name: order.get(name, 999))}

    # --- the place at hand

    def search(self, text: str) -> None:
        """Keep the places that the letters can mean; the first of them comes to hand."""
        self.fitting = match_places(text, self.catalogue.regions.values())
        if text.strip():
            self.at = self.fitting[0] if self.fitting else None

    def move(self, step: int) -> None:
        """The next (1) or previous (-1) fitting place comes to hand."""
        if not self.fitting:
            return
        if self.at not in self.fitting:
            self.at = self.fitting[0 if step > 0 else -1]
            return
        place = self.fitting.index(self.at) + step
        self.at = self.fitting[max(0, min(len(self.fitting) - 1, place))]

    def move_view(self, step: int) -> None:
        """The first place of the next or previous view comes to hand."""
        at = (VIEWS.index(self.view()) + step) % len(VIEWS) if self.at else 0
        self.show_view(VIEWS[at])

    def show_view(self, view: str) -> None:
        """The first place of a view comes to hand, a marked one before others."""
        regions = [region.id for region in self.catalogue.regions.values() if region.view == view]
        marked = [region for region in regions if region in self.marks]
        self.at = (marked or regions)[0]

    def view(self) -> str:
        """The view to show large: that of the place at hand, else of the first marked place."""
        for region in (self.at, *self.marks):
            known = self.catalogue.regions.get(region or "")
            if known is not None:
                return known.view
        return VIEWS[0]

    # --- words

    def label(self, region: str) -> str:
        """The name of a place; a place that the forms know no longer by its id."""
        known = self.catalogue.regions.get(region)
        return say(known.label) if known else region

    def state(self, region: str) -> str:
        """What a place holds, in words."""
        if region not in self.marks:
            return tell("no-number" if self.valued else "not-chosen")
        text = self.marks[region]
        if not self.valued:
            return tell("is-chosen")
        return f"{text}, {tell('is-nothing')}" if is_nothing(text) else self._with_unit(text)

    def _with_unit(self, text: str) -> str:
        unit = self.measure.unit
        bare = text and text[-1].isdigit() and unit not in {"points", "grade"}
        return f"{text} {unit}" if bare and unit else text

    def range(self) -> str:
        """The numbers a place takes."""
        low, high = in_digits(self.measure.hard_low), in_digits(self.measure.hard_high)
        unit = self.measure.unit if self.measure.unit not in {"points", "grade"} else ""
        return f"{tell('range', low=low, high=high)} {unit}".strip()

    def summary(self) -> str:
        """All marked places in words."""
        if self.valued:
            return "\n".join(f"{self.label(name)}: {self.state(name)}" for name in self.marks)
        return "\n".join(map(self.label, self.marks))


def begins_number(text: str) -> bool:
    """Whether what is typed is meant as a number and not as letters of a place."""
    return text.strip()[:1] in _NUMBER_BEGINS and bool(text.strip())


def marks_of(reading: Reading | None) -> dict[str, str]:
    """The places of a reading with their numbers as they were typed."""
    value = reading.value if reading is not None else None
    match value:
        case Words(words):
            return dict.fromkeys(words, "")
        case Sites(_, sites):
            return dict.fromkeys(sites, "")
        case RegionValues(values):
            return _numbers(reading.typed if reading else "", values)
        case _:
            return {}


def _numbers(typed: str, values: Mapping[str, object]) -> dict[str, str]:
    """Numbers as kept beside the value (record/kept.py); by the value where they are not there."""
    parts: Sequence[Sequence[str]] = [part.split(": ", 1) for part in typed.split("; ")]
    pairs = {part[0]: part[1] for part in parts if len(part) == 2}
    if pairs.keys() == values.keys():
        return pairs
    return {region: f"{number:f}" for region, number in values.items()}
