"""A term as the cohort page holds it: what its child has told so far, with names or with codes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from footexam.drawing.shape_lists import drawing_of
from footexam.drawing.shapes import Drawing


@dataclass(frozen=True, slots=True)
class Agreed:
    """How many of how many agree; `interval` are the ends of the 95 % interval from 0 to 1."""

    count: int
    n: int
    interval: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of a student against the reference, in words; `error` in expected errors.

    `examiner` and `patient` are places in the lists of the term. What does not apply is "" or None.
    """

    examiner: int
    patient: int
    day: str
    side: str
    student: str
    reference: str
    difference: str
    error: float | None
    outcome: str
    rule: str
    allowed: str
    standard: str
    beyond: str
    missed: str
    added: str
    slip: str
    derived: bool


@dataclass(frozen=True, slots=True)
class MeasureLine:
    """One measure over all students; `mean` and `limits` in words.

    `told` are all figures of agreement, with the reference and among one another.
    """

    id: str
    name: str
    n: int
    missing: int
    agreed: Agreed
    mean: str
    limits: str
    told: Sequence[str]
    derived: bool
    listed: Sequence[Sequence[Any]]
    """The readings as lists; `reading` makes one of them."""

    def reading(self, place: int) -> Reading:
        """One of the readings."""
        return Reading(*self.listed[place])


@dataclass(frozen=True, slots=True)
class Steady:
    """A steady difference of an examiner in a measure, in words; `mean` in expected errors."""

    measure: str
    difference: str
    n: int
    mean: str


@dataclass(frozen=True, slots=True)
class ExaminerLine:
    """One examiner over all patients; `spread` and `mean` in expected errors, in words."""

    visits: int
    agreed: Agreed
    apart: int
    missing: int
    spread: str
    mean: str
    steady: tuple[Steady, ...]
    looks: int
    critical: int


@dataclass(frozen=True, slots=True)
class StandardLine:
    """One pass mark in words; `used` is what must be reached, `told` what it rests on."""

    id: str
    name: str
    of: str
    cut: str
    used: str
    se: str
    interval: str
    n: int
    told: Sequence[str]


@dataclass(frozen=True, slots=True)
class PlotLine:
    """A plot as lists, and what it shows in words.

    `marks` are the places of the readings of a measure, `rows` the rows of the measures.
    """

    listed: list[Any] | None
    told: str
    marks: Sequence[Sequence[float] | None] = ()
    rows: Mapping[str, int] = field(default_factory=dict)
    _made: list[Drawing] = field(default_factory=list, compare=False)

    def drawing(self) -> Drawing | None:
        """The plot, made at first need; None where there is nothing to draw."""
        if self.listed is not None and not self._made:
            self._made.append(drawing_of(self.listed))
        return self._made[0] if self._made else None


@dataclass(slots=True)
class TermShown:
    """What is known of a term so far; `anonymous`: codes stand for people and files."""

    anonymous: bool = False
    pairs: int = 0
    examiners: list[str] = field(default_factory=list)
    patients: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    measures: list[MeasureLine] = field(default_factory=list)
    lines: list[ExaminerLine] = field(default_factory=list)
    standards: list[StandardLine] = field(default_factory=list)
    plots: dict[str, PlotLine] = field(default_factory=dict)

    def take(self, line: Mapping[str, Any]) -> None:
        """Take up a line of the child; lines about the work itself change nothing."""
        told = dict(line)
        match told.pop("kind"):
            case "head":
                self.pairs, self.left = told["pairs"], told["left"]
                self.examiners, self.patients = told["examiners"], told["patients"]
            case "measure":
                agreed = _agreed(told.pop("agreed"))
                self.measures.append(MeasureLine(**told, agreed=agreed))
            case "examiner":
                steady = tuple(Steady(**one) for one in told.pop("steady"))
                agreed = _agreed(told.pop("agreed"))
                self.lines.append(ExaminerLine(**told, agreed=agreed, steady=steady))
            case "standard":
                self.standards.append(StandardLine(**told))
            case "plot":
                more = {key: told[key] for key in ("marks", "rows") if key in told}
                self.plots[told["of"]] = PlotLine(told["drawing"], told["told"], **more)

    def examiner(self, place: int) -> str:
        """The name of an examiner, or the code."""
        return f"S{place + 1}" if self.anonymous else self.examiners[place]

    def patient(self, place: int) -> str:
        """The record number of a patient (the name where there is none), or the code."""
        return f"P{place + 1}" if self.anonymous else self.patients[place]

    def readings_of(self, examiner: int) -> Iterator[tuple[MeasureLine, int]]:
        """An examiner's readings: the measure, and the place in its readings."""
        for measure in self.measures:
            for place, listed in enumerate(measure.listed):
                if listed[0] == examiner:
                    yield measure, place


def _agreed(told: Mapping[str, Any]) -> Agreed:
    interval = told["interval"]
    return Agreed(told["count"], told["n"], tuple(interval) if interval else None)
