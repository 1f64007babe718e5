"""Intraclass correlation: against statsmodels, in batches, its intervals and its traps."""

import numpy as np
import pandas as pd
import pytest
from scipy import stats
from statsmodels.formula.api import ols
from statsmodels.stats.anova import anova_lm

from footexam.marking.estimate import Method, Reason
from footexam.marking.icc import Form, icc
from footexam.marking.mean_squares import mean_squares
from tests.marking.cohorts import held, readings

TABLE = readings(1, 9, 3, bias=1)[0]


def anova(table: np.ndarray) -> tuple[float, float, float]:
    """Mean squares of subjects, raters and error by statsmodels."""
    subject, rater = np.indices(table.shape)
    frame = pd.DataFrame({"x": table.ravel(), "s": subject.ravel(), "r": rater.ravel()})
    found = anova_lm(ols("x ~ C(s) + C(r)", data=frame).fit())
    return tuple(found["mean_sq"].loc[["C(s)", "C(r)", "Residual"]])


def test_mean_squares_by_statsmodels() -> None:
    found = mean_squares(TABLE)
    own = [float(square) for square in (found.between, found.raters, found.error)]
    assert own == pytest.approx(anova(TABLE))


def test_consistency_by_the_f_distribution_of_scipy_stats() -> None:
    between, _, error = anova(TABLE)
    n, k = TABLE.shape
    one = icc(TABLE)[Form.CONSISTENCY].estimate()
    freedom = n - 1, (n - 1) * (k - 1)
    low = between / error / stats.f.ppf(0.975, *freedom)
    high = between / error * stats.f.ppf(0.975, *reversed(freedom))
    assert one.value == pytest.approx((between - error) / (between + (k - 1) * error))
    assert (one.low, one.high) == pytest.approx(
        ((low - 1) / (low + k - 1), (high - 1) / (high + k - 1))
    )


def test_a_batch_is_the_same_as_one_by_one() -> None:
    tables = readings(5, 9, 3, bias=1).reshape(5, 1, 9, 3)
    for method in (Method.GENERALIZED, Method.SATTERTHWAITE):
        together = icc(tables, method=method)
        for place in range(5):
            for form, alone in icc(tables[place, 0], method=method).items():
                assert together[form].estimate((place, 0)) == alone.estimate()


def test_a_subject_with_a_gap_is_left_out() -> None:
    gaps = TABLE.copy()
    gaps[4, 1] = np.nan
    for form, found in icc(gaps).items():
        whole = icc(np.delete(TABLE, 4, axis=0))[form].estimate()
        one = found.estimate()
        assert one.n == 8
        assert (one.value, one.low, one.high) == pytest.approx((whole.value, whole.low, whole.high))


def test_another_confidence() -> None:
    for form, found in icc(TABLE, 0.5).items():
        narrow, wide = found.estimate(), icc(TABLE)[form].estimate()
        assert wide.low < narrow.low < narrow.value < narrow.high < wide.high
        assert narrow.confidence == 0.5


def test_one_rater_is_no_agreement() -> None:
    with pytest.raises(ValueError, match="at least two raters"):
        icc(TABLE[:, :1])


def test_too_few_subjects() -> None:
    for found in icc(TABLE[:1]).values():
        assert found.estimate().reason == Reason.TOO_FEW
    nothing = np.full((4, 2), np.nan)
    assert icc(nothing)[Form.AGREEMENT].estimate().n == 0


def test_identical_readings_have_a_value_without_an_interval() -> None:
    same = np.repeat(np.array([[37.1], [12.3], [45.7], [8.9]]), 2, axis=1)
    for found in icc(same).values():
        one = found.estimate()
        assert (one.value, one.low, one.reason) == (1.0, None, Reason.IDENTICAL)


def test_a_constant_shift_is_error_for_another_examiner_only() -> None:
    base = np.array([2.1, 3.3, 1.2, 4.9, 5.2, 2.8])
    shifted = np.stack([base, base + 1], axis=1)
    consistent, agreed = icc(shifted)[Form.CONSISTENCY], icc(shifted)[Form.AGREEMENT]
    assert consistent.estimate().value == pytest.approx(1)
    assert consistent.estimate().reason == Reason.IDENTICAL
    assert agreed.estimate().value < 0.9
    assert agreed.estimate().low is None
    one_way = icc(shifted)[Form.ONE_WAY].estimate()
    assert one_way.low < one_way.value < one_way.high


@pytest.mark.parametrize(
    "table",
    [
        [[3, 3], [3, 3], [3, 3]],
        [[3, 4], [3, 4], [3, 4]],
        [[3, 1], [3, 2], [3, 4]],  # one of two raters never varies
        [[0.1, 7], [0.1, 8], [0.1, 9]],
        [[3, 4, 5], [3, 4, 5], [3, 4, 5]],
    ],
)
def test_no_variation_is_not_computable(table: list[list[float]]) -> None:
    for found in icc(np.array(table, dtype=float)).values():
        assert found.estimate().reason == Reason.NO_VARIATION
        assert found.estimate().value is None


def test_one_constant_rater_among_three_is_disagreement() -> None:
    table = np.array([[3.0, 1, 1], [3, 2, 2], [3, 4, 4], [3, 9, 8]])
    assert icc(table)[Form.CONSISTENCY].estimate().value is not None


def test_subjects_without_any_difference_between_them() -> None:
    """The mean of k ratings of subjects who are all alike has no reliability to compute."""
    table = np.array([[1.0, 2], [2, 1], [1, 2], [2, 1]])
    found = icc(table)
    assert found[Form.ONE_WAY].estimate().value == pytest.approx(-1)
    assert found[Form.ONE_WAY_MEAN].estimate().reason == Reason.NO_VARIATION


@pytest.mark.parametrize(("k", "bias"), [(2, 0.0), (2, 1.0), (3, 1.0), (4, 0.5)])
@pytest.mark.parametrize("n", [10, 30])
def test_intervals_hold_the_true_value(n: int, k: int, bias: float) -> None:
    found = icc(readings(3000, n, k, bias))
    assert 0.93 <= held(found[Form.AGREEMENT], 4 / (5 + bias**2)) <= 0.97
    assert 0.93 <= held(found[Form.CONSISTENCY], 0.8) <= 0.97
    if bias == 0:
        assert 0.93 <= held(found[Form.ONE_WAY], 0.8) <= 0.97


def test_the_printed_interval_fails_where_two_raters_are_biased() -> None:
    tables = readings(1000, 100, 2, bias=1)
    printed = icc(tables, method=Method.SATTERTHWAITE)[Form.AGREEMENT]
    assert held(printed, 4 / 6) < 0.85
    assert printed.estimate(0).approximate
    assert 0.93 <= held(icc(tables)[Form.AGREEMENT], 4 / 6) <= 0.97
