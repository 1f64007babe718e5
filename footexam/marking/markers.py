"""How well a first and a second marker agree, domain by domain, in points, and in who passes.

Only marks that both have signed count, before they agreed on any together. Marks of one student on
several volunteers stay together: intervals leave out one student at a time. numpy is imported at
use.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from footexam.catalogue.marking import BEST, Rubric
from footexam.marking.cohort import Share
from footexam.marking.estimate import Estimate
from footexam.marking.rubric import Marks, Verdict, total, verdict
from footexam.marking.standing import standings

Both = tuple[Marks, Marks]
"""The first and the second marker's marks of one examination."""


@dataclass(frozen=True, slots=True)
class DomainMarks:
    """The marks of both in one domain: quadratic kappa over 0 to 4, and second minus first."""

    domain: str
    same: Share
    kappa: Estimate
    difference: Estimate


@dataclass(frozen=True, slots=True)
class Markers:
    """Two markers over the examinations that both marked by one rubric.

    `icc` is ICC(2,1) of the points, `difference` the second marker's points minus the first one's
    with its 95 % limits, all over the `whole` examinations in which both marked every domain; None
    without any. `same` counts the same verdict at the pass mark, `verdicts` is its kappa; None
    where the pass mark is not known.
    """

    rubric: str
    examinations: int
    students: int
    whole: int
    domains: tuple[DomainMarks, ...]
    icc: Estimate | None = None
    difference: Estimate | None = None
    lower: Estimate | None = None
    upper: Estimate | None = None
    same: Share | None = None
    verdicts: Estimate | None = None


def markers(
    marks: Iterable[Marks], rubrics: Mapping[str, Rubric], cuts: Mapping[str, float | None]
) -> tuple[Markers, ...]:
    """Each rubric by which two have marked; `cuts` are pass marks in points. Raises BadMarks."""
    by_rubric: dict[str, list[Both]] = {}
    for one in standings(marks).values():
        if one.both and one.both[0].rubric == one.both[1].rubric:
            by_rubric.setdefault(one.both[0].rubric, []).append(one.both)
    return tuple(_of(rubrics[name], pairs, cuts.get(name)) for name, pairs in by_rubric.items())


def _of(rubric: Rubric, pairs: list[Both], cut: float | None) -> Markers:
    students = {name: place for place, name in enumerate(dict.fromkeys(p[0].key[2] for p in pairs))}
    by_domain = ((domain.id, _marked(pairs, domain.id)) for domain in rubric.domains)
    domains = tuple(_domain(name, found, students) for name, found in by_domain if found)
    base = Markers(rubric.id, len(pairs), len(students), 0, domains)
    return _with_totals(base, rubric, pairs, students, cut)


def _places(pairs: Iterable[Both], students: Mapping[str, int]) -> list[tuple[int, int]]:
    """Students counted through, without a gap, all at one place of the other direction."""
    used: dict[int, int] = {}
    return [(used.setdefault(students[p[0].key[2]], len(used)), 0) for p in pairs]


def _marked(pairs: Iterable[Both], domain: str) -> list[Both]:
    return [pair for pair in pairs if all(domain in one.domains for one in pair)]


def _domain(name: str, pairs: list[Both], students: Mapping[str, int]) -> DomainMarks:
    from footexam.marking import against
    from footexam.marking.kappa import Weights

    given = [(second.domains[name], first.domains[name]) for first, second in pairs]
    places = _places(pairs, students)
    return DomainMarks(
        name,
        Share(sum(one == other for one, other in given), len(given)),
        against.kappa_of_levels(places, given, BEST + 1, Weights.QUADRATIC),
        against.numbers(places, given)["bias"],
    )


def _with_totals(
    base: Markers,
    rubric: Rubric,
    pairs: Iterable[Both],
    students: Mapping[str, int],
    cut: float | None,
) -> Markers:
    """With what whole marks come to."""
    from footexam.marking import against
    from footexam.marking.kappa import Weights

    sums = [(pair, [total(rubric, one) for one in pair]) for pair in pairs]
    whole = [(pair, both) for pair, both in sums if all(one.is_complete for one in both)]
    if not whole:
        return base
    places = _places((pair for pair, _ in whole), students)
    points = [(float(second.points), float(first.points)) for _, (first, second) in whole]
    found = against.numbers(places, points)
    result = replace(
        base,
        whole=len(whole),
        icc=found["icc"],
        difference=found["bias"],
        lower=found["lower"],
        upper=found["upper"],
    )
    if cut is None:
        return result
    passed = [
        (_passes(rubric, second, cut), _passes(rubric, first, cut)) for (first, second), _ in whole
    ]
    same = Share(sum(one == other for one, other in passed), len(passed))
    kappa = against.kappa_of_levels(places, passed, 2, Weights.UNWEIGHTED)
    return replace(result, same=same, verdicts=kappa)


def _passes(rubric: Rubric, marks: Marks, cut: float) -> int:
    return int(verdict(rubric, marks, cut) is Verdict.PASSED)
