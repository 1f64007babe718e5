"""Findings: what every number is worth, and every word outside the usual (Rule F 12)."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from footexam.record.reading import Sites, Word
from footexam.scoring.bench import Bench, Judges
from footexam.scoring.measured import Measured
from footexam.scoring.results import Finding, Score
from footexam.scoring.visit import Key, Visit
from footexam.scoring.words import finding, naming


def find(
    desk: Bench, visit: Visit, numbers: Mapping[Key, Measured], scores: Iterable[Score]
) -> list[Finding]:
    """One finding for each (measure, side) with a number or a named word.

    In forms order, left before right before no side. Readings of measures that are no longer in
    the catalogue are left out.
    """
    judges = desk.judges(visit.examination)
    found = {desk.rank[key]: _number(judges, row) for key, row in numbers.items()}
    for key, row in _words(desk, judges, visit, scores):
        found[desk.rank[key]] = row
    return [found[rank] for rank in sorted(found)]


def _number(judges: Judges, row: Measured) -> Finding:
    judge = judges.judge(row.measure, row.side, row.method)
    if row.carried is None:
        return judge.finding(row.value, row.repeats, row.inputs)
    return judge.judged(row.value, row.repeats, row.carried, row.inputs)


def _words(
    desk: Bench, judges: Judges, visit: Visit, scores: Iterable[Score]
) -> Iterator[tuple[Key, Finding]]:
    """Words that forms/ names as outside the usual."""
    for said in _said(desk, visit, scores):
        sets = desk.outside[said.key[0]]
        norms = naming(sets, said.word, judges.person, said.method)
        if norms:
            measure, side = desk.measures[said.key[0]], said.key[1]
            yield (
                said.key,
                finding(
                    measure, side, said.word, method=said.method, norms=norms, inputs=said.inputs
                ),
            )


class _Said(NamedTuple):
    """A word that may be outside the usual."""

    key: Key
    word: str
    method: str | None
    inputs: tuple[str, ...] = ()


def _said(desk: Bench, visit: Visit, scores: Iterable[Score]) -> Iterator[_Said]:
    """The words read and worked out of measures that have words outside the usual."""
    for key, reading in visit.examination.readings.items():
        value = reading.value
        if key[0] in desk.outside and isinstance(value, Word | Sites):
            yield _Said(key, value.word, visit.method_of(reading))
    for score in scores:
        if score.measure in desk.outside and isinstance(score.value, str):
            method = visit.shared_method(score.inputs, score.side)
            yield _Said((score.measure, score.side), score.value, method, score.inputs)
