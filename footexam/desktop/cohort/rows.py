"""The tables of the cohort page: measures, examiners, pass marks, files, readings, one reading."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from footexam.desktop.cohort.data import Agreed, MeasureLine, Reading, StandardLine, TermShown
from footexam.desktop.cohort.table import Table
from footexam.desktop.cohort.words import WORDS
from footexam.desktop.patients import short_date

_FIRST = ("beyond", "different", "missing", "missing-with-reason", "method-differs")
"""How a reading may be judged, what must be looked at first."""


@dataclass(frozen=True, slots=True)
class Place:
    """One reading: its measure, and its place among the readings of it."""

    measure: MeasureLine
    at: int

    @property
    def reading(self) -> Reading:
        """The reading."""
        return self.measure.reading(self.at)


def _heads(*names: str) -> tuple[str, ...]:
    return tuple(WORDS[name] for name in names)


def agreed_words(agreed: Agreed) -> str:
    """11/12 (64–99 %); empty of none."""
    if agreed.interval is None:
        return ""
    low, high = (f"{end * 100:.0f}" for end in agreed.interval)
    return f"{agreed.count}/{agreed.n} ({low}–{high} %)"


def measures(shown: TermShown) -> Table:
    """A row for each measure that somebody could be compared in, those that agree least first."""
    lines = sorted((one for one in shown.measures if one.n), key=_share_of)
    rows = [
        (
            one.name,
            str(one.n),
            agreed_words(one.agreed),
            str(one.missing or ""),
            one.mean,
            one.limits,
        )
        for one in lines
    ]
    return Table(_heads("measure", "n", "agreed", "missing", "mean", "limits"), rows, lines)


def _share_of(one: MeasureLine) -> float:
    """The share that agrees; above all where nothing was judged."""
    return one.agreed.count / one.agreed.n if one.agreed.n else 2.0


def examiners(shown: TermShown) -> Table:
    """A row for each student."""
    rows = [
        (
            shown.examiner(place),
            str(one.visits),
            agreed_words(one.agreed),
            str(one.apart or ""),
            str(one.missing or ""),
            one.spread,
            str(len(one.steady) or ""),
            str(one.critical or ""),
        )
        for place, one in enumerate(shown.lines)
    ]
    names = "examiner", "visits", "agreed", "apart", "missing", "spread", "steady", "look-at"
    return Table(_heads(*names), rows, range(len(rows)))


def standards(shown: TermShown) -> Table:
    """A row for each pass mark."""
    rows = [
        (one.name, _cut(one), one.se, one.interval, one.used, str(one.n)) for one in shown.standards
    ]
    names = "rubric", "cut", "se", "interval", "used", "students"
    return Table(_heads(*names), rows, shown.standards)


def _cut(one: StandardLine) -> str:
    return WORDS["cut-of"].format(cut=one.cut, of=one.of) if one.cut else WORDS["not-computable"]


def left(shown: TermShown) -> Table:
    """A row for each file that was left out."""
    rows = [
        (WORDS["file-code"].format(number=number), WORDS["hidden"])
        if shown.anonymous
        else _parted(line)
        for number, line in enumerate(shown.left, 1)
    ]
    return Table(_heads("file", "why"), rows, shown.left, wide=1, wraps=True)


def _parted(line: str) -> tuple[str, str]:
    name, _, why = line.partition(": ")
    return name, why


def readings(shown: TermShown, measure: MeasureLine) -> Table:
    """The readings of a measure, those farthest off first."""
    places = _sorted(Place(measure, at) for at in range(len(measure.listed)))
    names = "examiner", "volunteer", "side", *_VALUES
    return _of_places(places, names, lambda one: _who(shown, one.reading))


def items(shown: TermShown, examiner: int) -> Table:
    """The readings of an examiner, those farthest off first."""
    places = _sorted(Place(measure, at) for measure, at in shown.readings_of(examiner))
    names = "measure", "volunteer", "side", *_VALUES
    return _of_places(places, names, lambda one: (one.measure.name, *_who(shown, one.reading)[1:]))


_VALUES = ("student", "reference", "difference", "error", "outcome")


def _who(shown: TermShown, one: Reading) -> tuple[str, str, str]:
    return shown.examiner(one.examiner), shown.patient(one.patient), one.side


def _of_places(
    places: Sequence[Place], names: tuple[str, ...], who: Callable[[Place], tuple[str, ...]]
) -> Table:
    rows = [(*who(place), *_values(place.reading)) for place in places]
    return Table(_heads(*names), rows, places)


def _values(one: Reading) -> tuple[str, ...]:
    outcome = WORDS[f"outcome-{one.outcome}"]
    return one.student, one.reference, one.difference, error_words(one.error), outcome


def error_words(error: float | None) -> str:
    """An error in expected errors with a sign and a true minus; empty without one."""
    return "" if error is None else f"{error:+.1f}".replace("-", "−")


def _sorted(places: Iterable[Place]) -> list[Place]:
    return sorted(places, key=_farthest)


def _farthest(place: Place) -> tuple[int, float]:
    one = place.reading
    rank = _FIRST.index(one.outcome) if one.outcome in _FIRST else len(_FIRST)
    return rank, -abs(one.error or 0.0)


def one_reading(shown: TermShown, place: Place) -> Table:
    """Everything about one reading, with the rule that judged it."""
    one = place.reading
    examiner, patient, _ = _who(shown, one)
    errors = error_words(one.error)
    told = (
        ("measure", sided(place)),
        ("examiner", examiner),
        ("volunteer", patient),
        ("day", short_date(one.day)),
        ("student", one.student or WORDS["none"]),
        ("reference", one.reference or WORDS["none"]),
        ("difference", one.difference),
        ("error", WORDS["errors-are"].format(error=errors) if errors else ""),
        ("standard", one.standard),
        ("outcome", WORDS[f"outcome-{one.outcome}"]),
        ("allowed", one.allowed),
        ("rule", WORDS[f"rule-{one.rule}"]),
        ("beyond", one.beyond),
        ("missed", one.missed),
        ("added", one.added),
        ("slip", WORDS[f"slip-{one.slip}"] if one.slip else ""),
        ("derived", WORDS["derived-how"] if one.derived else ""),
    )
    rows = [(WORDS[name], words) for name, words in told if words]
    return Table(_heads("what", "reading"), rows, [place] * len(rows), wide=1, wraps=True)


def sided(place: Place) -> str:
    """The name of a reading's measure with its side."""
    side = place.reading.side
    name = place.measure.name
    return WORDS["of-side"].format(name=name, side=side) if side else name
