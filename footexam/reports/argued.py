"""From an argument to its drawing: every row in words, with what was found and on what it rests."""

from collections.abc import Callable, Iterable

from footexam.catalogue.arguments import Row
from footexam.drawing.argument import Chain, Heads, Point
from footexam.reasoning.argue import Argument, SetAside, Weighed, summed
from footexam.reasoning.evidence import grouped, whole
from footexam.reports.material import Material
from footexam.reports.outside import finding_value
from footexam.reports.sureness import sure_words
from footexam.reports.values import score_words, value_lines
from footexam.reports.words import MINUS, number_words
from footexam.scoring.results import Finding
from footexam.terms import Label, Provenance, Side

ARGUMENT = "argument-of"
"""The use of a source in an argument."""
LONGEST = 90
"""Characters of a value in a row; the whole stands among the readings."""
HEADS = ("supports", "opposes", "struck", "unknown", "mechanism", "tissue", "counter")

Cite = Callable[[str, Provenance, str], str]
"""Names a source for a figure, given its provenance and what must be known of it."""


def chain_of(argument: Argument, material: Material, cite: Cite | None = None) -> Chain:
    """The words of the drawing; `cite` names a source, by its number in the document if not given.

    The window and the report draw the same chain.
    """
    words = _Words(argument, material, cite or _numbers(argument, material))
    hypothesis, say = argument.hypothesis, material.say
    heads = [material.phrases(f"argument-{name}") for name in HEADS]
    if hypothesis.capacity:
        heads[HEADS.index("tissue")] = material.phrases("argument-tissue-capacity")
    return Chain(
        heads=Heads(*heads),
        statement=say(hypothesis.statement),
        supports=words.points(argument.speaks_for, "+"),
        opposes=words.points(argument.speaks_against, MINUS),
        struck=tuple(map(words.struck, argument.set_aside)),
        unknown=tuple(map(material.label, argument.not_examined)),
        mechanism=say(hypothesis.mechanism),
        tissue=say(hypothesis.tissue),
        counter=say(hypothesis.counter),
        total=total_words(argument, material),
        none_against=material.phrases("argument-none-against"),
    )


def total_words(argument: Argument, material: Material) -> str:
    """The points for, against and together, each rounded once."""
    return material.phrases(
        "argument-total",
        supports=whole(summed(argument.speaks_for)),
        opposes=whole(summed(argument.speaks_against)),
        total=_signed(argument.shown),
    )


def _signed(points: int) -> str:
    return f"{MINUS}{-points}" if points < 0 else str(points)


def _numbers(argument: Argument, material: Material) -> Cite:
    """Numbers of the document's list of sources."""
    label = material.say(argument.hypothesis.label)

    def cite(source: str, provenance: Provenance, note: str) -> str:
        return material.citations.cite(source, provenance, ARGUMENT, label, note)

    return cite


class _Words:
    """The rows of one argument in words."""

    def __init__(self, argument: Argument, material: Material, cite: Cite) -> None:
        self.side = argument.side
        self.material = material
        self.cite = cite

    def points(self, rows: Iterable[Weighed], sign: str) -> tuple[Point, ...]:
        """The rows, those that see one thing next to each other with their common weight."""
        groups: dict[str, list[Weighed]] = {}
        for place, row in enumerate(rows):
            groups.setdefault(row.row.group or f"{place}", []).append(row)
        return tuple(
            self._point(row, sign, self._together(alike, sign) if row is alike[-1] else "")
            for alike in groups.values()
            for row in alike
        )

    def _together(self, alike: list[Weighed], sign: str) -> str:
        weighing = [row.points for row in alike if row.full > 0.0]
        if len(weighing) < 2:
            return ""
        return self.material.phrases(
            "argument-together", count=len(weighing), points=f"{sign}{whole(grouped(weighing))}"
        )

    def _point(self, weighed: Weighed, sign: str, together: str) -> Point:
        row = weighed.row
        found = " · ".join([*self._found(weighed.because), self._basis(row)])
        return Point(
            self.material.say(row.says),
            found,
            self._weight(weighed, sign),
            weighed.points,
            weighed.full,
            together,
        )

    def _weight(self, weighed: Weighed, sign: str) -> str:
        """The points with their sign; what they would be, where the reading is not sure."""
        if weighed.full <= 0.0:
            return self.material.phrases("argument-needed")
        points, full = whole(weighed.points), whole(weighed.full)
        shown = f"{sign}{points}" if points else "0"
        if points == full:
            return shown
        return self.material.phrases("argument-part", points=shown, full=full)

    def struck(self, aside: SetAside) -> Point:
        """A row that does not count, with the reason."""
        found = " · ".join([*self._found(aside.because), aside.reason, self._basis(aside.row)])
        return Point(self.material.say(aside.row.says), found)

    def _basis(self, row: Row) -> str:
        """What the weight of a row rests on, with its source."""
        note = self.material.say(row.note)
        cite = self.cite(row.source, row.provenance, note)
        if row.ratio is not None:
            ratio = number_words(row.ratio)
            return self.material.phrases("argument-ratio", ratio=ratio, cite=cite).strip()
        key = "argument-expert" if row.points else "argument-gate"
        return self.material.phrases(key, cite=cite).strip()

    def _found(self, because: Iterable[str]) -> list[str]:
        """The readings that a row rests on, each with its name and how sure it is."""
        names = dict.fromkeys(one.removeprefix("measure:") for one in because)
        return [told for name in names if (told := self._value(name))]

    def _value(self, measure: str) -> str:
        material = self.material
        for side in dict.fromkeys((self.side, None)):
            told = self._told(measure, side)
            if told:
                text = " ".join(told.split())
                short = text if len(text) <= LONGEST else _cut(text)
                return f"{material.label(measure)}: {short}"
        return self._both_sides(measure)

    def _told(self, measure: str, side: Side | None) -> str:
        """A number with how sure it is, else what was recorded or worked out."""
        material = self.material
        finding, reading = material.findings.get((measure, side)), material.reading(measure, side)
        if finding is not None and not isinstance(finding.value, str):
            sure = _sure(finding, material)
            return ", ".join(filter(None, (finding_value(finding, material), sure)))
        if reading is not None and reading.value is not None:
            return "; ".join(value_lines(reading, material))
        return score_words(measure, side, material)

    def _both_sides(self, measure: str) -> str:
        """A row without a side that compares the two: what was found on each."""
        found = ((side, self._told(measure, side)) for side in Side)
        told = [f"{self.material.side_word(side)} {text}" for side, text in found if text]
        return f"{self.material.label(measure)}: {', '.join(told)}" if told else ""


def _sure(finding: Finding, material: Material) -> str:
    return "" if finding.label is Label.NOT_JUDGED else sure_words(finding, material, short=True)


def _cut(text: str) -> str:
    """A long text up to a space."""
    start = text[:LONGEST]
    return f"{start.rpartition(' ')[0] or start} …"
