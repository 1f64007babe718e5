"""What one side of the patient shows: the look-ups that expressions need."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal

from footexam.record.examination import Examination
from footexam.record.reading import RegionValues, Sites, Value, Word, Words
from footexam.scoring.measured import Measured
from footexam.scoring.results import Finding, Score
from footexam.terms import Sex, Side

Key = tuple[str, Side | None]
MONTHS_A_YEAR = 12
_YEAR, _WHOLE_DATE = len("YYYY"), len("YYYY-MM-DD")


class Seen:
    """Everything recorded and worked out at a visit, by measure and side."""

    __slots__ = (
        "absent",
        "ages",
        "findings",
        "last",
        "numbers",
        "said_yes",
        "sex",
        "values",
        "words",
    )

    def __init__(
        self,
        examination: Examination,
        scores: Iterable[Score],
        findings: Iterable[Finding],
        numbers: Mapping[Key, Measured],
    ) -> None:
        self.values: dict[Key, Value] = {
            key: reading.value
            for key, reading in examination.readings.items()
            if reading.value is not None
        }
        self.absent = frozenset(
            key for key, reading in examination.readings.items() if reading.absent is not None
        )
        """What was noted as not done, for whatever reason."""
        latest = max(examination.readings.values(), key=lambda one: one.seq, default=None)
        self.last = latest.measure if latest else ""
        """The measure entered last; "" before the first."""
        self.words: dict[Key, str] = {
            (score.measure, score.side): score.value
            for score in scores
            if isinstance(score.value, str)
        }
        self.said_yes = frozenset(
            key[0]
            for key, value in self.values.items()
            if isinstance(value, Word | Sites) and value.word == "yes"
        ) | {key[0] for key, word in self.words.items() if word == "yes"}
        """Questions answered yes on any side."""
        self.findings: dict[Key, Finding] = {(one.measure, one.side): one for one in findings}
        self.numbers = numbers
        self.ages = ages(examination)
        self.sex = examination.patient.sex


class View:
    """One side: its own readings, and those without a side, which count for both.

    `side` None sees only what has no side. Measures in `struck` are as if not recorded.
    """

    __slots__ = ("_seen", "_words", "_yes", "side", "struck")

    def __init__(self, seen: Seen, side: Side | None, struck: frozenset[str] = frozenset()) -> None:
        self._seen = seen
        self._words: dict[str, tuple[str, ...] | None] = {}
        """Words looked up before: many rules ask the same questions."""
        self._yes: frozenset[str] | None = None
        self.side = side
        self.struck = struck

    def without(self, struck: frozenset[str]) -> "View":
        """The same side with these measures struck out, and no others."""
        return self if struck == self.struck else View(self._seen, self.side, struck)

    @property
    def yes(self) -> frozenset[str]:
        """The questions that are answered yes."""
        if self._yes is None:
            self._yes = frozenset(
                name for name in self._seen.said_yes if self.words(name) == ("yes",)
            )
        return self._yes

    def value(self, measure: str) -> Value | None:
        """The value recorded; None if there is none."""
        if measure in self.struck:
            return None
        values = self._seen.values
        found = values.get((measure, self.side))
        return values.get((measure, None)) if found is None else found

    def words(self, measure: str) -> tuple[str, ...] | None:
        """The word or words recorded or worked out; None if there are none."""
        try:
            return self._words[measure]
        except KeyError:
            found = self._words[measure] = self._words_of(measure)
            return found

    def _words_of(self, measure: str) -> tuple[str, ...] | None:
        match self.value(measure):
            case Word(word) | Sites(word, _):
                return (word,)
            case Words(words):
                return words
        if measure in self.struck:
            return None
        scores = self._seen.words
        found = scores.get((measure, self.side)) or scores.get((measure, None))
        return (found,) if found else None

    def measured(self, measure: str) -> Measured | None:
        """The number recorded or worked out with its error; None if there is none."""
        if measure in self.struck:
            return None
        numbers = self._seen.numbers
        found = numbers.get((measure, self.side))
        return numbers.get((measure, None)) if found is None else found

    def sides(self, measure: str) -> tuple[Measured, Measured] | None:
        """The numbers of the left and of the right side; None unless both are there."""
        if measure in self.struck:
            return None
        left = self._seen.numbers.get((measure, Side.LEFT))
        right = self._seen.numbers.get((measure, Side.RIGHT))
        return (left, right) if left and right else None

    def finding(self, measure: str) -> Finding | None:
        """The finding of a measure; None if it was not judged at all."""
        if measure in self.struck:
            return None
        found = self._seen.findings.get((measure, self.side))
        return self._seen.findings.get((measure, None)) if found is None else found

    def marks(self, measure: str) -> "Marks | None":
        """The places marked on a map; None if it was not recorded."""
        match self.value(measure):
            case Words(places):
                return Marks(frozenset(places), None)
            case RegionValues(values):
                marked = frozenset(place for place, much in values.items() if much > 0)
                return Marks(marked, frozenset(values))
            case Sites("yes", ()):
                return Marks(None, None)
            case Sites(_, places):
                return Marks(frozenset(places), None)
        return None

    def is_absent(self, measure: str) -> bool:
        """Whether it was noted that the measure was not done on this side."""
        absent = self._seen.absent
        return (measure, self.side) in absent or (measure, None) in absent

    def is_recorded(self, measure: str) -> bool:
        """Whether the measure has a value on this side or without a side."""
        return (
            self.value(measure) is not None
            or self.measured(measure) is not None
            or self.words(measure) is not None
        )

    @property
    def ages(self) -> tuple[Decimal, Decimal] | None:
        """The least and the greatest age in years that the birth date allows; None without one."""
        return self._seen.ages

    @property
    def sex(self) -> Sex:
        """Sex as recorded."""
        return self._seen.sex


class Marks:
    """Places marked on a map. `marked` None: yes without its site, so any of them may be meant.

    `looked_at` None: the whole map was gone through.
    """

    __slots__ = ("looked_at", "marked")

    def __init__(self, marked: frozenset[str] | None, looked_at: frozenset[str] | None) -> None:
        self.marked = marked
        self.looked_at = looked_at


def ages(examination: Examination) -> tuple[Decimal, Decimal] | None:
    """The least and the greatest age in years and completed months; None without a birth date.

    Both are the same where the whole date is known: of a year or a month alone, the last and the
    first day are taken, so that a danger sign bound to an age does not fall silent.
    """
    born = examination.patient.birth_date
    if not born:
        return None
    first, last = ("-01", "-12") if len(born) == _YEAR else ("", "")
    earliest, latest = f"{born}{first}-01"[:_WHOLE_DATE], f"{born}{last}-28"[:_WHOLE_DATE]
    return _years(examination, latest), _years(examination, earliest)


def _years(examination: Examination, born: str) -> Decimal:
    patient = replace(examination.patient, birth_date=born)
    age = replace(examination, patient=patient).age()
    return Decimal(age.months if age else 0) / MONTHS_A_YEAR
