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

from footexam.marking import against, bland_altman, kappa
from footexam.marking.alpha import Metric, alpha
from footexam.marking.batch import Batch
from footexam.marking.bootstrap import bootstrap
from footexam.marking.estimate import Method
from footexam.marking.fleiss import fleiss
from footexam.marking.icc import Form, icc
from footexam.marking.sem import errors

SIMULATIONS = 400
SEED = 7
Held = dict[tuple[str, int], list[float]]


def held(found: Batch, true: float | np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Where there is an interval, and whether it holds the true value."""
    known = ~np.isnan(found.low)
    return known, (found.low <= true) & (true <= found.high)


def quantities(rng: np.random.Generator, many: int) -> Held:
    """Normal readings with biased raters: ICC, SEM; two raters: limits of agreement."""
    shares: Held = defaultdict(list)
    for k, bias, n in product((2, 3, 5, 12), (0.0, 0.2, 0.5, 1.0, 2.0), (3, 4, 6, 10, 30, 100)):
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
        for n, k in product((3, 4, 6, 10, 20, 30, 60, 100), (2, 3, 6, 15)):
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


def cohorts(rng: np.random.Generator, many: int) -> Held:
    """Students against one reference on volunteers with two feet each, the feet alike in part.

    Parts of the spread: between volunteers, between their feet, between students, of one reading,
    of the reference's reading. By the smaller number of students or volunteers.
    """
    shares: Held = defaultdict(list)
    sizes = product((6, 12, 30), (2, 3, 4, 6, 8, 12, 20, 30))
    parts = ((4, 2, 1, 2, 2), (4, 2, 0, 2, 1), (3, 2, 2, 1, 1), (2, 1, 0.5, 2, 2))
    for (students, volunteers), (person, foot, hand, error, other) in product(sizes, parts):
        places = [(s, v) for s in range(students) for v in range(volunteers) for _ in range(2)]
        held_by: dict[str, list[bool]] = defaultdict(list)
        truth, edges = latent(rng, person, foot, hand, error, other)
        for _ in range(many):
            true = rng.normal(0, person, (volunteers, 1)) + rng.normal(0, foot, (volunteers, 2))
            noise = rng.normal(0, error, (students, volunteers, 2))
            own = true + rng.normal(0, hand, (students, 1, 1)) + noise
            reference = np.broadcast_to(true + rng.normal(0, other, true.shape), own.shape)
            pairs = np.stack([own.reshape(-1), reference.reshape(-1)], axis=-1)
            found = against.numbers(places, pairs)
            levels = np.digitize(pairs, edges)
            for kind in kappa.Weights:
                found[f"kappa {kind}"] = against.kappa_of_levels(
                    places, levels, len(edges) + 1, kind
                )
            for name, one in found.items():
                if one.low is not None and one.high is not None:
                    held_by[name].append(one.low <= truth[name] <= one.high)
        for name, inside in held_by.items():
            if len(inside) > many / 2:
                shares[f"cohort, {name}", min(students, volunteers)].append(float(np.mean(inside)))
    return shares


def spreads(rng: np.random.Generator, many: int) -> Held:
    """Root mean square errors of students against the same references, drawn anew by student."""
    shares: Held = defaultdict(list)
    for students, hand, feet in product((3, 4, 6, 8, 12, 20, 30, 60), (0, 0.5, 1, 2), (6, 20)):
        reference = rng.normal(0, 1, (many, 1, feet))
        own = rng.normal(0, hand, (many, students, 1)) + rng.normal(0, 1, (many, students, feet))
        sums = against.error_sums(own - reference)
        found = bootstrap(sums, against.root_mean_square, np.ones((many, students)))
        true = np.sqrt(hand**2 + 1 + (reference**2).mean(axis=(1, 2)))
        shares["spread of errors", students].append(float(held(found, true)[1].mean()))
    return shares


def latent(
    rng: np.random.Generator, person: float, foot: float, hand: float, error: float, other: float
) -> tuple[dict[str, float], np.ndarray]:
    """The true figures of one such cohort, and the edges of five levels."""
    subject, apart = person**2 + foot**2, hand**2 + error**2
    reach = 1.959964 * float(np.sqrt(apart + other**2))
    icc_true = 2 * subject / (2 * subject + apart + other**2)
    slope = 2 * (apart - other**2) / (4 * subject + apart + other**2)
    found = {"bias": 0.0, "lower": -reach, "upper": reach, "icc": icc_true, "slope": slope}
    true = rng.normal(0, np.sqrt(subject), 400_000)
    pairs = [true + rng.normal(0, np.sqrt(part), true.size) for part in (apart, other**2)]
    edges = np.array([-1.5, -0.5, 0.5, 1.5]) * np.sqrt(subject + other**2)
    counts = kappa.table(*(np.digitize(one, edges).astype(np.float64) for one in pairs), 5)
    for kind in kappa.Weights:
        found[f"kappa {kind}"] = float(kappa.coefficient(counts, kappa.weights(kind, 5)))
    return found, edges


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
    show(cohorts(rng, max(many // 4, 100)))
    show(spreads(rng, many))


if __name__ == "__main__":
    main()
