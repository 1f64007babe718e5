"""Bootstrap intervals: against scipy, the same each time, and only of what can be drawn."""

import numpy as np
import pytest
from scipy import stats

from footexam.marking import bootstrap as module
from footexam.marking.alpha import Metric, coincidences, from_coincidences, from_squares, squares
from footexam.marking.bootstrap import bootstrap
from footexam.marking.estimate import Method, Reason
from tests.marking.cohorts import SEED, held

RNG = np.random.default_rng(SEED)
SAMPLE = RNG.exponential(size=(3, 40))
HERE = np.ones(SAMPLE.shape)


def added(values: np.ndarray) -> np.ndarray:
    """One, the value and its square: enough for mean and SD."""
    return np.stack([np.ones_like(values), values, values**2], axis=-1)


def sd(sums: np.ndarray) -> np.ndarray:
    n, total, square = np.moveaxis(sums, -1, 0)
    return np.sqrt((square - total**2 / n) / (n - 1))


def mean(sums: np.ndarray) -> np.ndarray:
    return sums[..., 1] / sums[..., 0]


def test_by_scipy() -> None:
    found = bootstrap(added(SAMPLE), mean, HERE, resamples=20_000)
    for place, values in enumerate(SAMPLE):
        other = stats.bootstrap(
            (values,), np.mean, n_resamples=20_000, method="BCa", rng=np.random.default_rng(1)
        ).confidence_interval
        one = found.estimate(place)
        assert one.value == pytest.approx(values.mean())
        assert (one.low, one.high) == pytest.approx(tuple(other), abs=0.02)
        assert one.method == Method.BOOTSTRAP


def test_the_same_seed_gives_the_same_interval() -> None:
    first, second = (bootstrap(added(SAMPLE), sd, HERE).estimate(1) for _ in range(2))
    assert first == second
    assert bootstrap(added(SAMPLE), sd, HERE, seed=1).estimate(1) != first
    alone = bootstrap(added(SAMPLE[1:2]), sd, HERE[:1]).estimate(0)
    assert (alone.low, alone.high) == pytest.approx((first.low, first.high))


def test_little_memory_gives_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = bootstrap(added(SAMPLE), sd, HERE)
    monkeypatch.setattr(module, "_AT_ONCE", 40 * 700)  # a third of the draws, one table at a time
    parts = bootstrap(added(SAMPLE), sd, HERE)
    assert parts.estimate(2).value == whole.estimate(2).value
    assert parts.estimate(2).low == pytest.approx(whole.estimate(2).low, abs=0.05)


def test_a_unit_that_is_not_there_adds_nothing() -> None:
    stats_of = added(SAMPLE)
    gaps = HERE.copy()
    gaps[:, 30:] = 0
    stats_of[:, 30:] = 0
    one = bootstrap(stats_of, mean, gaps).estimate(0)
    assert (one.n, one.value) == (30, pytest.approx(SAMPLE[0, :30].mean()))
    assert one.low < one.value < one.high


def test_what_cannot_be_drawn() -> None:
    flat = np.ones((1, 5))
    assert bootstrap(added(flat), mean, flat).estimate(0).reason == Reason.IDENTICAL
    alone = np.zeros((1, 5))
    alone[0, 0] = 1
    assert bootstrap(added(flat) * alone[..., None], mean, alone).estimate(0).reason == (
        Reason.TOO_FEW
    )
    nothing = bootstrap(added(flat), lambda sums: sums[..., 0] * np.nan, flat).estimate(0)
    assert (nothing.value, nothing.reason) == (None, Reason.NO_VARIATION)
    with pytest.raises(ValueError, match="nothing to draw from"):
        bootstrap(np.zeros((1, 0, 3)), mean, np.zeros((1, 0)))


def test_alpha_by_drawing_units() -> None:
    """What alpha sums over units can be drawn, by either way of summing."""
    units = np.round(RNG.normal(size=(1, 30, 1)) * 2 + RNG.normal(0, 0.5, (1, 30, 3)))
    levels = np.unique(units)
    here = np.ones((1, 30))
    ways = (
        bootstrap(squares(units), from_squares, here).estimate(0),
        bootstrap(
            coincidences(units, levels), from_coincidences(Metric.ORDINAL, levels), here
        ).estimate(0),
    )
    for one in ways:
        assert one.low < one.value < one.high < 1


def test_the_interval_holds_the_true_value_with_many_units() -> None:
    sample = np.random.default_rng(SEED).normal(size=(300, 80))
    found = bootstrap(added(sample), sd, np.ones(sample.shape), resamples=1000)
    assert held(found, 1.0) > 0.90
