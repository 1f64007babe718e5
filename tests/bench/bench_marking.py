"""Measures agreement: a cohort at once, against other programs doing the same one by one.

Run by hand: python tests/bench/bench_marking.py [ROUNDS] (default 5).
Goals of issue 7: 100 students x 40 measures, everything with intervals, <= 0.5 s and >= 50 times
faster than the same ICC with interval and kappa by the oracles, data frames made beforehand;
2,000 bootstrap resamples <= 1 s; linear to 10,000 students. A cohort is 3 volunteers with two feet.
The oracle of ICC is pingouin where a developer has it, else the analysis of variance of
statsmodels; that of kappa scikit-learn.
"""

import statistics
import sys
import time
import warnings
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from functools import partial
from importlib.util import find_spec

import numpy as np
import pandas as pd
from sklearn.metrics import cohen_kappa_score
from statsmodels.formula.api import ols
from statsmodels.stats.anova import anova_lm

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.marking import BEST, Rubric
from footexam.catalogue.model import Catalogue, Measure
from footexam.marking import agreement, kappa
from footexam.marking.bootstrap import bootstrap
from footexam.marking.cohort import Cohort, gather
from footexam.marking.cohort_agreement import agreed
from footexam.marking.compared import Comparison, Item, Outcome, Reasoned, Rule, Sort
from footexam.marking.icc import icc
from footexam.marking.markers import markers
from footexam.marking.numbers import levels
from footexam.marking.rubric import Hand, Marks
from footexam.marking.tables import Table
from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import Reading, Word
from footexam.terms import NUMBER_KINDS, Kind, Purpose, Side

ROUNDS = 5
STUDENTS, MEASURES = 100, 40
LEVELS = (-2.0, -1.0, 0.0, 1.0, 2.0)
RESAMPLES = 2000
SEED = 11


def seconds(act: Callable[[], object]) -> float:
    """How long one call takes."""
    start = time.perf_counter()
    act()
    return time.perf_counter() - start


def processor(act: Callable[[], object]) -> float:
    """The processor time of one call in seconds."""
    start = time.process_time()
    act()
    return time.process_time() - start


def median(act: Callable[[], object], rounds: int) -> float:
    """The median of some calls in seconds, after one that does not count."""
    act()
    return statistics.median(seconds(act) for _ in range(rounds))


def scores(rng: np.random.Generator, students: int) -> tuple[np.ndarray, np.ndarray]:
    """A reference on 40 items of one scale, and what the students gave: (40,), (students, 40)."""
    reference = rng.integers(-2, 3, MEASURES)
    slips = rng.choice([-1, 0, 0, 0, 0, 1], (students, MEASURES))
    return reference.astype(float), np.clip(reference + slips, -2, 2).astype(float)


def table(first: np.ndarray, second: np.ndarray) -> Table:
    """Two examiners over subjects."""
    rows = tuple(zip(first.tolist(), second.tolist(), strict=True))
    return Table(tuple(map(str, range(len(rows)))), ("reference", "student"), rows)


def by_student(rng: np.random.Generator, students: int) -> Mapping[str, Table]:
    """A table for each student: 40 items against the reference."""
    reference, given = scores(rng, students)
    return {f"s{place}": table(reference, row) for place, row in enumerate(given)}


def by_measure(rng: np.random.Generator, students: int) -> Mapping[str, Table]:
    """A table for each measure with a unit: every student's reading against the reference's."""
    true = rng.normal(20, 5, (MEASURES, students))
    error = rng.normal(0, 2, (2, MEASURES, students))
    places = range(MEASURES)
    return {f"m{m}": table(true[m] + error[0, m], true[m] + error[1, m]) for m in places}


def everything(students: Mapping[str, Table], measures: Mapping[str, Table]) -> None:
    """All figures with intervals: each student over the items, each measure over all students."""
    agreement.scales(students, dict.fromkeys(students, LEVELS))
    agreement.quantities(students)
    agreement.quantities(measures)


def oracles(frames: list[pd.DataFrame], pairs: list[tuple[np.ndarray, np.ndarray]]) -> None:
    """ICC with interval and quadratic kappa, student by student."""
    for frame in frames:
        oracle_icc(frame)
    for first, second in pairs:
        cohen_kappa_score(first, second, labels=list(LEVELS), weights="quadratic")


def oracle_icc(frame: pd.DataFrame) -> object:
    """One ICC with its interval by another program."""
    if find_spec("pingouin"):
        import pingouin

        return pingouin.intraclass_corr(frame, targets="item", raters="rater", ratings="score")
    return anova_lm(ols("score ~ C(item) + C(rater)", data=frame).fit())


def like_for_like(rng: np.random.Generator, rounds: int) -> None:
    """The same ICC with interval and kappa: here in one batch, there one by one."""
    reference, given = scores(rng, STUDENTS)
    frames = [
        pd.DataFrame(
            {
                "item": np.tile(np.arange(MEASURES), 2),
                "rater": np.repeat(["reference", "student"], MEASURES),
                "score": np.concatenate([reference, row]),
            }
        )
        for row in given
    ]
    whole = reference.astype(int)
    pairs = [(whole, row.astype(int)) for row in given]
    readings = np.stack([np.broadcast_to(reference, given.shape), given], axis=-1)

    def ours() -> None:
        icc(readings)
        kappa.kappa(kappa.table(readings[..., 0] + 2, readings[..., 1] + 2, 5), "quadratic")

    own = median(ours, rounds)
    theirs = median(lambda: oracles(frames, pairs), max(rounds // 2, 1))
    name = "pingouin" if find_spec("pingouin") else "statsmodels (without interval)"
    print(f"ICC with interval and kappa, {STUDENTS} students, in one batch {own * 1000:9.1f} ms")
    print(f"the same by {name} and scikit-learn {theirs * 1000:9.1f} ms")
    print(f"ratio {theirs / own:.0f}, goal >= 50")


def resampled(rng: np.random.Generator, rounds: int) -> None:
    """2,000 resamples of 40 items for 100 kappas."""
    reference, given = scores(rng, STUDENTS)
    cells = kappa.pair_cells(np.broadcast_to(reference, given.shape) + 2, given + 2, 5)
    weight = kappa.weights(kappa.Weights.QUADRATIC, 5)

    def coefficient(sums: np.ndarray) -> np.ndarray:
        return kappa.coefficient(sums.reshape(*sums.shape[:-1], 5, 5), weight)

    present = np.ones(given.shape)
    took = median(lambda: bootstrap(cells, coefficient, present, resamples=RESAMPLES), rounds)
    print(f"{RESAMPLES} bootstrap resamples of {STUDENTS} kappas {took:9.2f} s    goal <= 1")


def forty(catalogue: Catalogue) -> list[Measure]:
    """22 measures with a unit, 10 ordinal scales, 8 questions of yes and no; all with sides."""
    sided = [one for one in catalogue.measures.values() if one.sided]
    scored = [one for one in sided if levels(one)][:10]
    numbers = [one for one in sided if one.kind in NUMBER_KINDS and not levels(one)][:22]
    return [*numbers, *scored, *[one for one in sided if one.kind is Kind.YES_NO][:8]]


def item(rng: np.random.Generator, measure: Measure, side: Side, true: float) -> Item:
    """One reading against the reference's."""
    if measure.kind is Kind.YES_NO:
        words = [Word("yes" if one > 0 else "no") for one in (true, true + rng.normal(0, 1))]
        own, other = (Reading(measure.id, side, word) for word in words)
        return Item(measure, side, Sort.WORD, Outcome.SAME, Rule.MATCH, own, other)
    scale = levels(measure)
    ends = (scale[0], scale[-1]) if scale else (-1000, 1000)
    told = [float(np.clip(round(true + shift), *ends)) for shift in (0, rng.normal(0, 1))]
    return Item(
        measure,
        side,
        Sort.ORDINAL if scale else Sort.NUMBER,
        Outcome.WITHIN,
        Rule.ERROR,
        student_value=Decimal(repr(told[1])),
        reference_value=Decimal(repr(told[0])),
        error=None if scale else told[1] - told[0],
        levels=scale,
    )


def cohort(
    rng: np.random.Generator, students: int, volunteers: int, catalogue: Catalogue
) -> Cohort:
    """Students who all examine the same volunteers."""
    measures = forty(catalogue)
    truth = rng.normal(0, 2, (volunteers, len(measures), 2))
    found = []
    for volunteer in range(volunteers):
        patient = Patient("V", record_number=f"V-{volunteer}", birth_date="1981-05-21")
        for student in range(students):
            items = tuple(
                item(rng, measure, side, truth[volunteer, place, at])
                for place, measure in enumerate(measures)
                for at, side in enumerate(Side)
            )
            who = Person(f"S{student}")
            visit = Examination(patient, date(2026, 3, 4), who, purpose=Purpose.STUDENT)
            found.append(Comparison(visit, visit, items, (), Reasoned()))
    return gather(found)


def both_markers(rng: np.random.Generator, rubric: Rubric, students: int) -> list[Marks]:
    """Every student by a first and a second marker."""
    return [
        Marks(
            rubric.id,
            f"S{student}",
            hand.value,
            ("V-1", ""),
            "2026-03-04",
            {domain.id: int(rng.integers(0, BEST + 1)) for domain in rubric.domains},
            hand=hand,
            signed_at="2026-03-05T10:20:00Z",
        )
        for student in range(students)
        for hand in (Hand.FIRST, Hand.SECOND)
    ]


def whole_cohort(rng: np.random.Generator, rounds: int) -> None:
    """What the cohort report and the window show: by measure, side and student; markers."""
    catalogue = load_catalogue()
    term = cohort(rng, STUDENTS, 3, catalogue)
    took, busy = median(lambda: agreed(term), rounds), processor(lambda: agreed(term))
    print(
        f"{STUDENTS} students x 3 volunteers x {MEASURES} measures x 2 sides, agreement "
        f"{took:9.2f} s, processor {busy:.2f} s    goal <= 0.5"
    )
    rubric = next(iter(catalogue.rubrics.values()))
    marks = both_markers(rng, rubric, STUDENTS)
    act = partial(markers, marks, catalogue.rubrics, {rubric.id: 50.0})
    print(f"two markers of {STUDENTS} students, {median(act, rounds) * 1000:9.1f} ms")
    for students in (100, 1000, 10_000):
        term = cohort(rng, students, 1, catalogue)
        each = processor(lambda some=term: agreed(some)) / students * 1000
        print(f"{students:6} students x 1 volunteer, agreement of a cohort {each:9.3f} ms each")


def growth(rng: np.random.Generator) -> None:
    """Time for each student as the cohort grows."""
    for students in (100, 1000, 10_000):
        tables = by_student(rng, students), by_measure(rng, students)
        took = seconds(lambda some=tables: everything(*some))
        each = took / students * 1000
        print(f"{students:6} students x {MEASURES} measures {took:9.2f} s, {each:.2f} ms each")


def main() -> None:
    """Print all figures."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    warnings.simplefilter("ignore")
    rng = np.random.default_rng(SEED)
    tables = by_student(rng, STUDENTS), by_measure(rng, STUDENTS)
    first = seconds(lambda: everything(*tables))
    warm = median(lambda: everything(*tables), rounds)
    print(f"{STUDENTS} students x {MEASURES} measures, everything, first call {first:9.2f} s")
    print(
        f"{STUDENTS} students x {MEASURES} measures, everything, warm {warm:9.2f} s    goal <= 0.5"
    )
    like_for_like(rng, rounds)
    resampled(rng, rounds)
    growth(rng)
    whole_cohort(rng, rounds)


if __name__ == "__main__":
    main()
