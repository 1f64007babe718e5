"""Standard errors of measurement and the change that is more than error."""

from math import inf, nan, sqrt

import numpy as np
import pytest
from scipy import stats

from footexam.catalogue.model import MDC_FACTOR
from footexam.marking import change
from footexam.marking.change import Formula
from footexam.marking.estimate import Reason
from footexam.marking.sem import errors
from tests.marking.cohorts import held, readings

TABLE = readings(1, 9, 3, bias=1)[0]


def test_within_subject_sd_of_two_readings_is_that_of_their_differences() -> None:
    pair = TABLE[:, :2]
    one = errors(pair).within.estimate()
    assert one.value == pytest.approx(sqrt((np.diff(pair) ** 2).sum() / (2 * 9)))
    limits = one.value * np.sqrt(9 / stats.chi2.ppf([0.975, 0.025], 9))
    assert (one.low, one.high) == pytest.approx(tuple(limits))


def test_error_of_two_readings_is_the_sd_of_differences_over_root_two() -> None:
    one = errors(TABLE[:, :2]).sem(Formula.ERROR).estimate()
    assert one.value == pytest.approx(np.diff(TABLE[:, :2]).std(ddof=1) / sqrt(2))


def test_bias_of_raters_counts_for_another_examiner_only() -> None:
    shifted = TABLE + np.array([0, 4, 9])
    plain, moved = errors(TABLE), errors(shifted)
    error, agreement = Formula.ERROR, Formula.AGREEMENT
    assert moved.sem(error).estimate().value == pytest.approx(plain.sem(error).estimate().value)
    assert moved.sem(agreement).estimate().value > 2 * plain.sem(agreement).estimate().value
    with pytest.raises(KeyError):
        plain.sem(Formula.RELIABILITY)


def test_smallest_change_is_that_of_the_rest_of_the_program() -> None:
    assert change.smallest_change(2.5) == pytest.approx(MDC_FACTOR * 2.5)
    assert change.smallest_change(2.5, 0.9) == pytest.approx(1.644854 * sqrt(2) * 2.5)
    found = errors(TABLE)
    size, needed = found.within.estimate(), found.change(Formula.WITHIN).estimate()
    assert (needed.value, needed.low, needed.high) == pytest.approx(
        tuple(MDC_FACTOR * part for part in (size.value, size.low, size.high))
    )


def test_identical_readings_have_an_error_of_nothing_without_interval() -> None:
    same = np.repeat(np.array([[1.7], [2.9], [3.1]]), 2, axis=1)
    for formula in (Formula.ERROR, Formula.AGREEMENT, Formula.WITHIN):
        one = errors(same).sem(formula).estimate()
        assert (one.value, one.low, one.reason) == (0.0, None, Reason.IDENTICAL)
    assert errors(same[:1]).within.estimate().reason == Reason.TOO_FEW


@pytest.mark.parametrize(("k", "bias"), [(2, 0.0), (2, 1.0), (4, 0.5)])
@pytest.mark.parametrize("n", [10, 30])
def test_intervals_hold_the_true_value(n: int, k: int, bias: float) -> None:
    found = errors(readings(3000, n, k, bias))
    assert 0.93 <= held(found.error, 1) <= 0.97
    assert 0.93 <= held(found.agreement, np.hypot(1, bias)) <= 0.97
    if bias == 0:
        assert 0.93 <= held(found.within, 1) <= 0.97


def test_change_in_units_of_its_error() -> None:
    assert change.reliable_change(10, 15, 2.5) == pytest.approx(2 / sqrt(2))
    assert change.reliable_change(15, 10, 2.5) == pytest.approx(-2 / sqrt(2))
    assert change.reliable_change(1, 2, 0) is None
    assert change.reliable_change(1, 2, nan) is None


def test_five_degrees_are_within_error_where_the_error_is_two_and_a_half() -> None:
    """Notes on marking: SEM 2.5 deg, so a difference of 5 deg must not fail a student."""
    assert change.smallest_change(2.5) == pytest.approx(6.9, abs=0.05)
    assert abs(change.reliable_change(20, 25, 2.5) or inf) < 1.96


def test_refused_figures() -> None:
    for work in (change.sem_from_reliability, change.estimation_error, change.prediction_error):
        for sd, reliability in ((-1, 0.5), (1, -0.1), (1, 1.1), (1, nan)):
            with pytest.raises(ValueError, match="reliability lies between 0 and 1"):
                work(sd, reliability)
    with pytest.raises(ValueError, match="must vary"):
        change.recovery_cut((40, 0), (60, 0))


def test_the_cut_lies_nearer_to_the_group_that_varies_less() -> None:
    assert change.recovery_cut((40, 5), (60, 15)) == pytest.approx(45)
