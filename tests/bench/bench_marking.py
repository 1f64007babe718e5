"""Measures agreement: a cohort at once, against other programs doing the same one by one.

Run by hand: python tests/bench/bench_marking.py [ROUNDS] (default 5).
Goals of issue 7: 100 students x 40 measures, everything with intervals, <= 0.5 s and >= 50 times
faster than the same ICC with interval and kappa by the oracles, data frames made beforehand;
2,000 bootstrap resamples <= 1 s; linear to 10,000 students. The oracle of ICC is pingouin where a
developer has it, else the analysis of variance of statsmodels; that of kappa scikit-learn.
"""

import statistics
import sys
import time
import warnings
from collections.abc import Callable, Mapping
from importlib.util import find_spec

import numpy as np
import pandas as pd
from sklearn.metrics import cohen_kappa_score
from statsmodels.formula.api import ols
from statsmodels.stats.anova import anova_lm

from footexam.marking import agreement, kappa
from footexam.marking.bootstrap import bootstrap
from footexam.marking.icc import icc
from footexam.marking.tables import Table

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


if __name__ == "__main__":
    main()
