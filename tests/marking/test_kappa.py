"""Weighted kappa: against statsmodels and scikit-learn, its interval, and its traps."""

import numpy as np
import pytest
from sklearn.metrics import cohen_kappa_score
from statsmodels.stats.inter_rater import cohens_kappa

from footexam.marking.bootstrap import bootstrap
from footexam.marking.estimate import Method, Reason
from footexam.marking.kappa import (
    Weights,
    coefficient,
    kappa,
    large_sample_error,
    null_error,
    pair_cells,
    table,
    weights,
)
from tests.marking.cohorts import SEED, held

RNG = np.random.default_rng(SEED)
FIRST = RNG.integers(0, 5, (6, 40)).astype(float)
SECOND = np.clip(FIRST + RNG.choice([-1, 0, 0, 0, 1], FIRST.shape), 0, 4)
COUNTS = table(FIRST, SECOND, 5)
NAMES = {Weights.UNWEIGHTED: None, Weights.LINEAR: "linear", Weights.QUADRATIC: "quadratic"}


@pytest.mark.parametrize("kind", Weights)
def test_by_scikit_learn(kind: Weights) -> None:
    found = kappa(COUNTS, kind)
    for place in range(len(FIRST)):
        pair = FIRST[place].astype(int), SECOND[place].astype(int)
        other = cohen_kappa_score(*pair, labels=range(5), weights=NAMES[kind])
        assert found.estimate(place).value == pytest.approx(other, abs=1e-12)


@pytest.mark.parametrize("kind", Weights)
def test_by_statsmodels(kind: Weights) -> None:
    found = kappa(COUNTS, kind, method=Method.LARGE_SAMPLE)
    spread, null = large_sample_error(COUNTS, kind), null_error(COUNTS, kind)
    names = {Weights.LINEAR: "linear", Weights.QUADRATIC: "quadratic"}
    for place in range(len(FIRST)):
        other = cohens_kappa(COUNTS[place], wt=names.get(kind))
        one = found.estimate(place)
        assert one.value == pytest.approx(other.kappa, abs=1e-12)
        assert spread[place] == pytest.approx(other.std_kappa, abs=1e-10)
        assert null[place] == pytest.approx(other.std_kappa0, abs=1e-10)
        assert (one.low, one.high) == pytest.approx((other.kappa_low, other.kappa_upp), abs=1e-9)


def test_leaving_out_in_one_go_is_leaving_out_one_by_one() -> None:
    weight = weights(Weights.LINEAR, 5)
    left_out = [
        float(coefficient(table(np.delete(FIRST[0], i), np.delete(SECOND[0], i), 5), weight))
        for i in range(40)
    ]
    spread = np.sqrt(39 / 40 * ((left_out - np.mean(left_out)) ** 2).sum())
    one = kappa(COUNTS, Weights.LINEAR).estimate(0)
    middle = np.arctanh(one.value)
    wide = 2.0226909200367604 * spread / (1 - one.value**2)  # Student's t, 39 degrees of freedom
    assert (one.low, one.high) == pytest.approx((np.tanh(middle - wide), np.tanh(middle + wide)))


def test_unused_levels_count() -> None:
    """One between the levels that were used sets them further apart; one at an end does not."""
    place = np.array([0.0, 1, 3, 4, 5])  # level 2 of six is never used
    full = FIRST[0], SECOND[0]
    gap = tuple(place[ratings.astype(int)] for ratings in full)
    for kind, matters in ((Weights.LINEAR, True), (Weights.UNWEIGHTED, False)):
        seen = kappa(table(*full, 5), kind).estimate().value
        between = kappa(table(*gap, 6), kind).estimate().value
        assert (abs(between - seen) > 0.01) is matters
        assert kappa(table(*full, 9), kind).estimate().value == pytest.approx(seen)


def test_gaps_are_left_out_and_counted() -> None:
    first, second = FIRST[0].copy(), SECOND[0].copy()
    first[3], second[7] = np.nan, np.nan
    assert table(first, second, 5).sum() == 38
    assert kappa(table(first, second, 5), Weights.LINEAR).estimate().n == 38


@pytest.mark.parametrize("wrong", [-1.0, 5.0, 1.5])
def test_a_rating_outside_the_levels_is_refused(wrong: float) -> None:
    for pair in (
        (np.array([0, wrong]), np.array([0.0, 1])),
        (np.array([0.0, 1]), np.array([0, wrong])),
    ):
        with pytest.raises(ValueError, match="not in the list of levels"):
            table(*pair, 5)


def test_a_scale_of_one_level_is_none() -> None:
    with pytest.raises(ValueError, match="at least two levels"):
        weights(Weights.LINEAR, 1)


@pytest.mark.parametrize("method", [Method.JACKKNIFE, Method.LARGE_SAMPLE])
@pytest.mark.parametrize(
    ("pairs", "reason"),
    [
        ([(2, 2)] * 9, Reason.NO_VARIATION),
        ([(2, place % 5) for place in range(9)], Reason.NO_VARIATION),  # one rater constant
        ([(1, 2)] * 9, Reason.NO_VARIATION),
        ([(1, 2)], Reason.TOO_FEW),
        ([], Reason.TOO_FEW),
    ],
)
def test_not_computable(pairs: list[tuple[int, int]], reason: Reason, method: Method) -> None:
    first, second = (np.array([float(pair[who]) for pair in pairs]) for who in (0, 1))
    one = kappa(table(first, second, 5), Weights.QUADRATIC, method=method).estimate()
    assert (one.value, one.low, one.high, one.reason) == (None, None, None, reason)
    assert one.n == len(pairs)


def test_full_agreement_keeps_an_honest_lower_limit() -> None:
    """12 of 12: the exact 95 % interval of the share that agrees begins at .735."""
    same = np.array([0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3], dtype=float)
    for kind in Weights:
        one = kappa(table(same, same, 4), kind).estimate()
        assert (one.value, one.high) == (1.0, 1.0)
        assert one.low == pytest.approx((0.025 ** (1 / 12) - 0.25) / 0.75)
        assert one.coverage == 0.93


def test_limits_lie_within_minus_one_and_one() -> None:
    few = kappa(table(FIRST[:, :5], SECOND[:, :5], 5), Weights.UNWEIGHTED)
    known = ~np.isnan(few.low)
    assert known.any()
    assert (few.low[known] >= -1).all()
    assert (few.high[known] <= 1).all()


def simulated(n: int, many: int = 4000) -> tuple[np.ndarray, float]:
    """Tables of two raters on five levels, and the true kappa (linear)."""
    rng = np.random.default_rng(SEED)
    edges = np.linspace(-1.5, 1.5, 4)
    trait = rng.normal(size=(200_000, 1)) + rng.normal(0, 0.5, (200_000, 2))
    first, second = np.digitize(trait, edges).astype(float).T
    whole = table(first, second, 5)
    true = float(coefficient(whole, weights(Weights.LINEAR, 5)))
    drawn = rng.multinomial(n, (whole / whole.sum()).reshape(-1), many)
    return drawn.reshape(-1, 5, 5).astype(float), true


@pytest.mark.parametrize("n", [12, 20, 30, 60])
def test_the_interval_holds_the_true_value(n: int) -> None:
    counts, true = simulated(n)
    assert 0.93 <= held(kappa(counts, Weights.LINEAR), true) <= 0.975


def test_the_large_sample_interval_does_not_and_says_so() -> None:
    counts, true = simulated(12)
    found = kappa(counts, Weights.LINEAR, method=Method.LARGE_SAMPLE)
    assert held(found, true) < 0.92
    assert found.estimate(0).approximate


def test_a_rare_level_makes_the_interval_approximate() -> None:
    rare = np.zeros((3, 3))
    rare[1, 1], rare[1, 2], rare[0, 0] = 20, 1, 1
    assert kappa(rare, Weights.LINEAR).estimate().approximate
    assert not kappa(COUNTS, Weights.LINEAR).estimate(0).approximate


def test_the_bootstrap_gives_much_the_same() -> None:
    weight = weights(Weights.QUADRATIC, 5)
    found = bootstrap(
        pair_cells(FIRST, SECOND, 5),
        lambda sums: coefficient(sums.reshape(*sums.shape[:-1], 5, 5), weight),
        np.ones(FIRST.shape),
    )
    for place in range(len(FIRST)):
        drawn, left_out = found.estimate(place), kappa(COUNTS, Weights.QUADRATIC).estimate(place)
        assert drawn.value == pytest.approx(left_out.value)
        assert drawn.low == pytest.approx(left_out.low, abs=0.1)
        assert drawn.high == pytest.approx(left_out.high, abs=0.1)
