"""Judges of a modified Angoff: what share each expects of a student who only just passes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import stdev

from footexam.catalogue.marking import Rubric
from footexam.marking.passmark import Angoff, PassMark, pass_mark
from footexam.marking.rubric import BadMarks, Marks


@dataclass(frozen=True, slots=True)
class Judge:
    """One judge in one round; `estimates` are shares of the points, 0 to 1, by domain."""

    name: str
    estimates: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Judging:
    """All rounds for one rubric; judges may talk between two rounds, and the last one stands."""

    rubric: str
    rounds: tuple[tuple[Judge, ...], ...]


def check_judging(rubric: Rubric, judging: Judging) -> None:
    """Raise BadMarks where a round does not judge every domain once by everybody."""
    domains = {domain.id for domain in rubric.domains}
    for number, judges in enumerate(judging.rounds, 1):
        names = [judge.name for judge in judges]
        for name in names:
            if names.count(name) > 1:
                raise BadMarks(f"“{name}” judges twice in round {number}")
        for judge in judges:
            _check_estimates(judge, number, domains)


def _check_estimates(judge: Judge, number: int, domains: set[str]) -> None:
    where = f"of “{judge.name}” in round {number}"
    for domain, estimate in judge.estimates.items():
        if domain not in domains:
            raise BadMarks(f"“{domain}” {where} is not a domain of this rubric")
        if not 0 <= estimate <= 1:
            raise BadMarks(f"the estimate {where} for “{domain}” is not a number from 0 to 1")
    for domain in sorted(domains - judge.estimates.keys()):
        raise BadMarks(f"the estimate {where} for “{domain}” is missing")


def judged_mark(rubric: Rubric, marked: Sequence[Marks], judging: Judging) -> PassMark:
    """The pass mark by judges, with their names at each round. Raises BadMarks."""
    check_judging(rubric, judging)
    rounds = [
        [[judge.estimates[domain.id] for domain in rubric.domains] for judge in judges]
        for judges in judging.rounds
    ]
    found = pass_mark(rubric, marked, rounds)
    named = zip(found.angoff, judging.rounds, strict=True)
    with_names = (replace(one, judges=tuple(j.name for j in judges)) for one, judges in named)
    return replace(found, angoff=tuple(with_names))


def apart(one: Angoff) -> float | None:
    """The SD of the judges' sums in points: how far they are from one mind; None for one judge."""
    return stdev(one.sums) if len(one.sums) > 1 else None


def judge_codes(found: Sequence[PassMark]) -> dict[str, str]:
    """A code for each judge, J1 and on, in the order in which they first judge."""
    rounds = (one for mark in found for one in mark.angoff)
    names = dict.fromkeys(name for one in rounds for name in one.judges)
    return {name: f"J{number}" for number, name in enumerate(names, 1)}
