"""An estimate says its interval and n in every case, or why there is none."""

import subprocess
import sys

import numpy as np
import pytest

from footexam.marking.batch import batch
from footexam.marking.estimate import Estimate, Method, Reason


def estimate(**values: object) -> Estimate:
    usual = {"value": 0.7, "low": 0.5, "high": 0.9, "n": 12, "method": Method.EXACT}
    return Estimate(**{**usual, **values})  # type: ignore[arg-type]


def test_value_with_interval_and_n() -> None:
    assert estimate().described() == "0.70 (95% interval 0.50 to 0.90; n 12)"
    assert estimate(confidence=0.9).described(1) == "0.7 (90% interval 0.5 to 0.9; n 12)"


def test_an_interval_that_holds_too_rarely_says_so() -> None:
    rare = estimate(coverage=0.83)
    assert rare.approximate
    assert rare.described() == (
        "0.70 (95% interval 0.50 to 0.90, approximate: held the true value in 83% of simulations; "
        "n 12)"
    )
    assert not estimate(coverage=0.93).approximate


def test_what_cannot_be_computed_says_why() -> None:
    none = estimate(value=None, low=None, high=None, reason=Reason.NO_VARIATION)
    assert none.described() == "not computable: no variation (n 12)"
    few = estimate(value=None, low=None, high=None, n=1, reason=Reason.TOO_FEW)
    assert few.described() == "not computable: too few pairs (n 1)"
    same = estimate(value=1.0, low=None, high=None, reason=Reason.IDENTICAL)
    assert same.described() == "1.00 (no interval: the readings agree without error; n 12)"
    half = estimate(high=None, reason=Reason.IDENTICAL)
    assert half.described().startswith("0.70 (no interval")


def test_a_batch_blanks_out_what_does_not_exist() -> None:
    numbers = np.array([0.5, 0.5, 1.0, 0.2])
    found = batch(
        numbers,
        (numbers - 0.1, numbers + 0.1),
        np.array([1.0, 9.0, 9.0, 9.0]),
        Method.EXACT,
        too_few=np.array([True, False, False, False]),
        no_variation=np.array([True, True, False, False]),
        identical=np.array([True, True, True, False]),
        coverage=np.array([0.9, 0.9, 0.9, 0.9]),
    )
    few, flat, same, whole = (found.estimate(place) for place in range(4))
    assert (few.value, few.reason, few.n) == (None, Reason.TOO_FEW, 1)
    assert (flat.value, flat.low, flat.reason) == (None, None, Reason.NO_VARIATION)
    assert (same.value, same.low, same.reason) == (1.0, None, Reason.IDENTICAL)
    assert same.coverage is None
    assert (whole.value, whole.reason, whole.coverage) == (0.2, None, 0.9)
    twice = found.times(2).estimate(3)
    assert (twice.value, twice.low, twice.high) == pytest.approx((0.4, 0.2, 0.6))


def test_the_way_in_needs_no_heavy_libraries() -> None:
    """The window imports these at its start; what computes comes at first use."""
    code = (
        "import sys, footexam.marking.agreement, footexam.marking.change,"
        "footexam.marking.estimate, footexam.marking.figures, footexam.marking.tables,"
        "footexam.marking.cohort_agreement, footexam.marking.markers, footexam.marking.judges;"
        "print(sorted({'numpy', 'scipy', 'PySide6', 'reportlab'} & set(sys.modules)))"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"


def test_what_computes_needs_no_slow_part_of_scipy() -> None:
    code = (
        "import sys, footexam.marking.figures as f, footexam.marking.against as a;"
        "f.kappa_of([(0, 0), (1, 1), (0, 1)], [0, 1]);"
        "a.numbers([(0, 0), (1, 0), (2, 0)], [(1.0, 2.0), (2.0, 2.5), (4.0, 3.0)]);"
        "print('numpy' in sys.modules, 'scipy.stats' in sys.modules)"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "True False"
