"""Measures how often intervals of agreement hold the true value, over many simulated situations.

Run by hand: python tests/bench/bench_coverage.py [SIMULATIONS] (default 400 for each situation).
Goal of issue 7: ICC, limits of agreement and SEM cover 93 to 97 % from 10 subjects on. What covers
less is called approximate: footexam/marking/coverage.py keeps the last column, of 2000.
"""

import sys
import warnings
from collections import defaultdict
from itertools import product

import numpy as np

from footexam.marking import bland_altman, kappa
from footexam.marking.alpha import Metric, alpha
from footexam.marking.batch import Batch
from footexam.marking.estimate import Method
from footexam.marking.fleiss import fleiss
from footexam.marking.icc import Form, icc
from footexam.marking.sem import errors

SIMULATIONS = 400
SEED = 7
Held = dict[tuple[str, int], list[float]]


def held(found: Batch, true: float) -> tuple[np.ndarray, np.ndarray]:
    """Where there is an interval, and whether it holds the true value."""
    known = ~np.isnan(found.low)
    return known, (found.low <= true) & (true <= found.high)


def quantities(rng: np.random.Generator, many: int) -> Held:
    """Normal readings with biased raters: ICC, SEM; two raters: limits of agreement."""
    shares: Held = defaultdict(list)
    for k, bias, n in product((2, 3, 5), (0.0, 0.2, 0.5, 1.0, 2.0), (6, 10, 30, 100)):
        subjects = rng.normal(10, 2, (many, n, 1))
        readings = subjects + rng.normal(0, bias, (many, 1, k)) + rng.normal(0, 1, (many, n, k))
        forms, sizes = icc(readings), errors(readings)
        satterthwaite = icc(readings, method=Method.SATTERTHWAITE)[Form.AGREEMENT]
        cases = [
            ("ICC(2,1)", forms[Form.AGREEMENT], 4 / (5 + bias**2)),
            ("ICC(2,1), Satterthwaite", satterthwaite, 4 / (5 + bias**2)),
            ("ICC(3,1)", forms[Form.CONSISTENCY], 0.8),
            ("SEM, error", sizes.error, 1.0),
            ("SEM, raters too", sizes.agreement, np.hypot(1, bias)),
        ]
        if bias == 0:
            cases += [("ICC(1,1)", forms[Form.ONE_WAY], 0.8), ("within SD", sizes.within, 1.0)]
        if k == 2:
            shift, sd = 1.5 * bias, 2**0.5
            own = subjects[..., 0] + rng.normal(0, 1, (many, n))
            other = subjects[..., 0] + shift + rng.normal(0, 1, (many, n))
            limits = bland_altman.limits(own, other)
            cases += [
                ("bias", limits.bias, -shift),
                ("lower limit", limits.lower, -shift - 1.959964 * sd),
                ("upper limit", limits.upper, -shift + 1.959964 * sd),
                ("slope", limits.slope, 0.0),
            ]
        for name, found, true in cases:
            shares[name, n].append(float(held(found, true)[1].mean()))
    return shares


def scale(
    rng: np.random.Generator,
    size: tuple[int, ...],
    levels: int,
    error: float,
    mean: float,
    spread: float,
) -> np.ndarray:
    """Ratings (..., subjects, raters) on a scale that cuts a normal trait."""
    edges = np.linspace(-spread, spread, levels - 1) if levels > 2 else np.zeros(1)
    trait = rng.normal(mean, 1, (*size[:-1], 1)) + rng.normal(0, error, size)
    return np.digitize(trait, edges).astype(np.float64)


def situations() -> list[tuple[int, float, float, float]]:
    """Levels, error, mean and spread of the cuts."""
    found = product((2, 3, 4, 5, 9), (0.2, 0.5, 0.8, 1.2), (0.0, 1.0), (0.7, 1.5))
    return [one for one in found if one[0] > 2 or one[3] == 1.5]


def kappas(rng: np.random.Generator, many: int) -> tuple[Held, Held]:
    """Weighted kappa of two raters: by pairs, and by ratings outside the commonest level."""
    by_n: Held = defaultdict(list)
    by_outside: Held = defaultdict(list)
    for levels, *rest in situations():
        sample = scale(rng, (400_000, 2), levels, *rest)
        whole = kappa.table(sample[:, 0], sample[:, 1], levels)
        for kind, n in product(("linear", "quadratic"), (6, 8, 10, 12, 20, 30, 45, 60, 100)):
            true = float(kappa.coefficient(whole, kappa.weights(kappa.Weights(kind), levels)))
            drawn = rng.multinomial(n, (whole / whole.sum()).reshape(-1), many)
            counts = drawn.reshape(-1, levels, levels).astype(np.float64)
            for method in (Method.JACKKNIFE, Method.LARGE_SAMPLE):
                known, inside = held(kappa.kappa(counts, kappa.Weights(kind), method=method), true)
                by_n[f"kappa, {method}", n].append(float(inside[known].mean()))
                if method == Method.JACKKNIFE:
                    outside = kappa.outside_commonest(counts).astype(int)
                    for number in range(1, 13):
                        some = known & (outside == number)
                        if some.sum() >= 200:
                            name = "kappa, by ratings outside the commonest level"
                            by_outside[name, number].append(float(inside[some].mean()))
    return by_n, by_outside


def several(rng: np.random.Generator, many: int) -> Held:
    """Alpha with 15 % of readings missing, and Fleiss' kappa, of 2 to 15 raters."""
    shares: Held = defaultdict(list)
    for levels, *rest in situations():
        known = tuple(range(levels))
        sample = scale(rng, (1, 40_000, 6), levels, *rest)
        true_kappa = float(fleiss(chosen(sample, levels)).kappa.value[0])
        for n, k in product((6, 10, 20, 30, 60, 100), (2, 3, 6, 15)):
            readings = scale(rng, (many, n, k), levels, *rest)
            found = fleiss(chosen(readings, levels)).kappa
            there, inside = held(found, true_kappa)
            shares["Fleiss' kappa", n].append(float(inside[there].mean()))
            gaps = np.where(rng.random(readings.shape) < 0.15, np.nan, readings)
            for metric in (Metric.NOMINAL, Metric.ORDINAL):
                true = float(alpha(sample, metric, known).value[0])
                there, inside = held(alpha(gaps, metric, known), true)
                shares["alpha", n].append(float(inside[there].mean()))
    return shares


def chosen(readings: np.ndarray, levels: int) -> np.ndarray:
    """How many raters chose each level."""
    return (readings[..., None] == np.arange(levels)).sum(axis=-2).astype(np.float64)


def show(shares: Held) -> None:
    """A line for each interval and size: mean, least, and what nine in ten situations reached."""
    for (name, n), found in sorted(shares.items()):
        tenth = float(np.quantile(found, 0.1))
        print(
            f"{name:46} {n:4}  mean {np.mean(found):.3f}  least {min(found):.3f}  "
            f"most {max(found):.3f}  nine in ten {tenth:.3f}"
        )


def main() -> None:
    """Print all figures."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else SIMULATIONS
    warnings.simplefilter("ignore", RuntimeWarning)
    rng = np.random.default_rng(SEED)
    show(quantities(rng, many))
    for shares in kappas(rng, many):
        show(shares)
    show(several(rng, max(many // 4, 100)))


if __name__ == "__main__":
    main()
