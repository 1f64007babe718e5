"""Findings: what every number is worth, and every word outside the usual (Rule F 12)."""

from collections.abc import Iterable, Iterator

from footexam.catalogue.model import Catalogue
from footexam.record.examination import Examination
from footexam.record.reading import Sites, Word
from footexam.scoring.bench import Bench, Judges, bench
from footexam.scoring.measured import Measured, measured
from footexam.scoring.results import Finding, Score
from footexam.scoring.visit import Key, Visit
from footexam.scoring.words import finding, naming


def find(examination: Examination, scores: Iterable[Score], catalogue: Catalogue) -> list[Finding]:
    """One finding for each (measure, side) with a number or a named word.

    In forms order, left before right before no side. Readings of measures that are no longer in
    the catalogue are left out.
    """
    desk = bench(catalogue)
    judges = desk.judges(examination)
    visit = Visit(examination, catalogue.measures)
    scores = list(scores)
    found = {
        desk.rank[key]: _number(judges, row) for key, row in measured(desk, visit, scores).items()
    }
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
    """Words that forms/ names as outside the usual, read or worked out."""
    for name, sets in desk.outside.items():
        measure = desk.measures[name]
        for side in desk.sides:
            value = visit.examination.value(name, side)
            if isinstance(value, Word | Sites):
                method = visit.method(name, side)
                norms = naming(sets, value.word, judges.person, method)
                if norms:
                    yield (
                        (name, side),
                        finding(measure, side, value.word, method=method, norms=norms),
                    )
    for score in scores:
        sets = desk.outside.get(score.measure, ())
        if isinstance(score.value, str) and sets:
            measure = desk.measures[score.measure]
            method = visit.shared_method(score.inputs, score.side)
            norms = naming(sets, score.value, judges.person, method)
            if norms:
                row = finding(
                    measure,
                    score.side,
                    score.value,
                    method=method,
                    norms=norms,
                    inputs=score.inputs,
                )
                yield (score.measure, score.side), row
