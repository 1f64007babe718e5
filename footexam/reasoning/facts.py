"""What conditions ask of an examination: words, numbers, regions, contexts; no Qt, no files."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from footexam.catalogue.model import Catalogue
from footexam.reasoning.gates import QUIET, States
from footexam.record.examination import Age, Examination
from footexam.record.reading import Numbers, Reading, Sites, Value, Word, Words
from footexam.scoring.results import Finding, Score
from footexam.terms import Label, Sex

COMPLAINT_SITE = "complaint-site"


@dataclass(frozen=True, slots=True)
class Facts:
    """The answers to conditions, over both sides; what is not recorded is not there.

    `words` and `numbers` hold every recorded word or number by measure, derived ones included;
    `recorded` every measure with a value; `regions` the places of the complaint with their groups.
    """

    words: Mapping[str, frozenset[str]]
    numbers: Mapping[str, tuple[Decimal, ...]]
    recorded: frozenset[str]
    regions: frozenset[str]
    low: frozenset[str]
    high: frozenset[str]
    age: Age | None
    sex: Sex
    states: States


def gather(
    examination: Examination,
    scores: tuple[Score, ...],
    findings: tuple[Finding, ...],
    catalogue: Catalogue,
    states: States = QUIET,
) -> Facts:
    """The facts of an examination with its scores and findings, and what reasoning asks for."""
    words: dict[str, frozenset[str]] = {}
    numbers: dict[str, tuple[Decimal, ...]] = {}
    recorded = set()
    for reading in examination.readings.values():
        if reading.value is not None:
            recorded.add(reading.measure)
            _add_words(words, reading.measure, _words_of(reading.value))
            _add_number(numbers, reading)
    for score in scores:
        recorded.add(score.measure)
        if isinstance(score.value, str):
            _add_words(words, score.measure, (score.value,))
        else:
            numbers[score.measure] = (*numbers.get(score.measure, ()), score.value)
    return Facts(
        words=words,
        numbers=numbers,
        recorded=frozenset(recorded),
        regions=_regions(words.get(COMPLAINT_SITE, frozenset()), catalogue),
        low=_crossed(findings, lambda operator: operator.startswith("<")),
        high=_crossed(findings, lambda operator: operator.startswith(">")),
        age=examination.age(),
        sex=examination.patient.sex,
        states=states,
    )


def _words_of(value: Value) -> tuple[str, ...]:
    match value:
        case Word(word) | Sites(word, _):
            return (word,)
        case Words(words):
            return words
        case _:
            return ()


def _add_words(into: dict[str, frozenset[str]], measure: str, words: tuple[str, ...]) -> None:
    if words:
        into[measure] = into.get(measure, frozenset()) | frozenset(words)


def _add_number(into: dict[str, tuple[Decimal, ...]], reading: Reading) -> None:
    if isinstance(reading.value, Numbers):
        readings = reading.value.readings
        mean = sum(readings, Decimal(0)) / len(readings)
        into[reading.measure] = (*into.get(reading.measure, ()), mean)


def _regions(sites: frozenset[str], catalogue: Catalogue) -> frozenset[str]:
    groups = {group for site in sites for group in catalogue.regions[site].groups}
    return sites | groups


def _crossed(findings: tuple[Finding, ...], way: Callable[[str], bool]) -> frozenset[str]:
    beyond = {Label.LIKELY, Label.POSSIBLE, Label.REPEAT}
    return frozenset(
        finding.measure
        for finding in findings
        if finding.label in beyond and finding.operator and way(finding.operator)
    )
