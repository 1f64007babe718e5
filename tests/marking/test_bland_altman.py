"""Limits of agreement: against scipy.stats and statsmodels, their intervals and their traps."""

import numpy as np
import pytest
import statsmodels.api as sm
from scipy import stats

from footexam.marking.bland_altman import limits, single_reading_sd
from footexam.marking.estimate import Method, Reason
from tests.marking.cohorts import SEED, held

RNG = np.random.default_rng(SEED)
FIRST = RNG.normal(20, 5, 15)
SECOND = FIRST + RNG.normal(1, 2, 15)


def test_bias_and_slope_by_statsmodels() -> None:
    found = limits(FIRST, SECOND)
    for one, exog in (
        (found.bias.estimate(), np.ones((15, 1))),
        (found.slope.estimate(), sm.add_constant((FIRST + SECOND) / 2)),
    ):
        other = sm.OLS(FIRST - SECOND, exog).fit()
        low, high = other.conf_int()[-1]
        assert (one.value, one.low, one.high) == pytest.approx((other.params[-1], low, high))
    assert float(found.slope_chance) == pytest.approx(other.pvalues[-1])


def test_the_exact_interval_of_a_limit_by_scipy_stats() -> None:
    apart = FIRST - SECOND
    n, sd, factor = 15, apart.std(ddof=1), stats.norm.ppf(0.975)
    reach = stats.nct.ppf([0.025, 0.975], n - 1, factor * np.sqrt(n)) * sd / np.sqrt(n)
    found = limits(FIRST, SECOND)
    lower, upper, spread = (one.estimate() for one in (found.lower, found.upper, found.sd))
    assert upper.value == pytest.approx(apart.mean() + factor * sd)
    assert (upper.low, upper.high) == pytest.approx(tuple(apart.mean() + reach))
    assert (lower.high, lower.low) == pytest.approx(tuple(apart.mean() - reach))
    wide = sd * np.sqrt((n - 1) / stats.chi2.ppf([0.975, 0.025], n - 1))
    assert (spread.low, spread.high) == pytest.approx(tuple(wide))


def test_a_batch_with_gaps_is_the_same_as_one_by_one() -> None:
    first = RNG.normal(20, 5, (3, 9))
    second = first + RNG.normal(0, 2, first.shape)
    first[1, 4] = second[2, 0] = second[2, 8] = np.nan
    together = limits(first, second)
    for place in range(3):
        whole = ~np.isnan(first[place] + second[place])
        alone = limits(first[place][whole], second[place][whole])
        for name in ("bias", "sd", "lower", "upper", "slope"):
            one, other = getattr(together, name).estimate(place), getattr(alone, name).estimate()
            assert one.n == other.n == whole.sum()
            assert (one.value, one.low, one.high) == pytest.approx(
                (other.value, other.low, other.high)
            )


def test_proportional_bias_is_found() -> None:
    found = limits(1.3 * FIRST, FIRST)
    one = found.slope.estimate()
    assert one.value == pytest.approx(0.3 / 1.15)
    assert one.reason == Reason.IDENTICAL  # on a line without any scatter
    assert np.isnan(found.slope_chance)
    scattered = limits(1.3 * FIRST + RNG.normal(0, 0.5, 15), FIRST)
    assert scattered.slope.estimate().low > 0
    assert float(scattered.slope_chance) < 0.001


@pytest.mark.parametrize("method", [Method.EXACT, Method.LARGE_SAMPLE])
def test_traps(method: Method) -> None:
    few = limits(FIRST[:1], SECOND[:1], method=method)
    assert few.bias.estimate().reason == few.slope.estimate().reason == Reason.TOO_FEW
    assert limits(np.full(3, np.nan), np.ones(3)).bias.estimate().n == 0
    two = limits(FIRST[:2], SECOND[:2], method=method)
    assert two.bias.estimate().low is not None
    assert two.slope.estimate().reason == Reason.TOO_FEW
    shift = limits(FIRST + 1.1, FIRST, method=method)
    bias, upper = shift.bias.estimate(), shift.upper.estimate()
    assert bias.value == pytest.approx(1.1)
    assert (bias.low, bias.reason) == (None, Reason.IDENTICAL)
    assert upper.value == pytest.approx(1.1)
    level = limits(np.array([1.0, 2, 3]), np.array([3.0, 2, 1]), method=method)
    assert level.slope.estimate().reason == Reason.NO_VARIATION  # all means are 2


@pytest.mark.parametrize("n", [10, 30])
def test_intervals_hold_the_true_value(n: int) -> None:
    rng = np.random.default_rng(SEED)
    true = rng.normal(20, 5, (3000, n))
    found = limits(true + rng.normal(0, 1, true.shape), true + 1.5 + rng.normal(0, 1, true.shape))
    edge = 1.959964 * np.sqrt(2)
    for one, value in (
        (found.bias, -1.5),
        (found.sd, np.sqrt(2)),
        (found.lower, -1.5 - edge),
        (found.upper, -1.5 + edge),
        (found.slope, 0),
    ):
        assert 0.93 <= held(one, value) <= 0.97


def test_a_mean_of_no_readings_is_none() -> None:
    assert float(single_reading_sd(3.0, (4.0, 5.0), 1)) == 3.0
    with pytest.raises(ValueError, match="at least one"):
        single_reading_sd(3.0, (1.0, 1.0), 0)
