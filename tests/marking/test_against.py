"""Students against a reference: figures by hand, by other ways, their intervals, and traps."""

import numpy as np
import pytest
from sklearn.metrics import cohen_kappa_score

from footexam.marking import against, bland_altman
from footexam.marking.estimate import Estimate, Method, Reason
from footexam.marking.icc import Form, icc
from footexam.marking.kappa import Weights
from tests.marking.cohorts import SEED

Places = list[tuple[int, int]]


def cohort(
    students: int, volunteers: int, seed: int = SEED, hand: float = 1.0
) -> tuple[Places, np.ndarray]:
    """Both feet of every volunteer by every student, in units of one reading's error."""
    rng = np.random.default_rng(seed)
    true = rng.normal(20, 4, (volunteers, 1)) + rng.normal(0, 2, (volunteers, 2))
    own = rng.normal(0, hand, (students, 1, 1)) + rng.normal(0, 1, (students, volunteers, 2))
    reference = np.broadcast_to(true + rng.normal(0, 1, true.shape), own.shape)
    places = [(s, v) for s in range(students) for v in range(volunteers) for _ in range(2)]
    return places, np.stack([(true + own).reshape(-1), reference.reshape(-1)], axis=-1)


def numbers(places: Places, pairs: np.ndarray) -> dict[str, Estimate]:
    return against.numbers(places, [tuple(pair) for pair in pairs.tolist()])


def test_the_values_are_those_of_all_pairs_together() -> None:
    places, pairs = cohort(5, 4)
    found = numbers(places, pairs)
    limits = bland_altman.limits(pairs[:, 0], pairs[:, 1])
    for name in ("bias", "lower", "upper", "slope"):
        assert found[name].value == pytest.approx(getattr(limits, name).estimate().value)
    assert found["icc"].value == pytest.approx(icc(pairs)[Form.AGREEMENT].estimate().value)
    assert {one.n for one in found.values()} == {40}
    assert {one.method for one in found.values()} == {Method.CROSSED}


def test_a_slope_that_is_there_is_found_and_none_without_spread() -> None:
    places, pairs = cohort(6, 5)
    pairs[:, 0] += 0.3 * (pairs.mean(axis=1) - 20)
    slope = numbers(places, pairs)["slope"]
    assert slope.low is not None
    assert slope.high is not None
    assert 0 < slope.low < slope.high
    flat = np.stack([np.full(len(places), 7.0)] * 2, axis=-1)
    assert numbers(places, flat)["slope"].reason is Reason.NO_VARIATION


def test_the_interval_of_the_bias_by_hand() -> None:
    """Means of balanced cells: the jackknife is the classical error of the means."""
    places, pairs = cohort(6, 4)
    differences = (pairs[:, 0] - pairs[:, 1]).reshape(6, 4, 2).mean(axis=2)
    parts = [differences.mean(axis=axis) for axis in (1, 0)]
    squares = [float(part.var(ddof=1) / len(part)) for part in parts]
    freedom = sum(squares) ** 2 / sum(
        s**2 / (len(p) - 1) for s, p in zip(squares, parts, strict=True)
    )
    from scipy.stats import t

    wide = float(t.ppf(0.975, freedom)) * sum(squares) ** 0.5
    bias = numbers(places, pairs)["bias"]
    assert (bias.low, bias.high) == pytest.approx(
        (differences.mean() - wide, differences.mean() + wide)
    )
    assert not bias.approximate


def test_readings_of_one_student_are_not_independent() -> None:
    """Students with habits: the interval is much wider than that of so many loose pairs."""
    places, pairs = cohort(8, 12, hand=3.0)
    loose = bland_altman.limits(pairs[:, 0], pairs[:, 1]).bias.estimate()
    bias = numbers(places, pairs)["bias"]
    assert bias.high - bias.low > 2 * (loose.high - loose.low)


def test_few_volunteers_make_a_wide_interval_that_says_so() -> None:
    few, many = (numbers(*cohort(12, volunteers))["icc"] for volunteers in (3, 25))
    assert few.high - few.low > 3 * (many.high - many.low)
    assert few.approximate
    assert "of simulations" in few.described()


@pytest.mark.parametrize("kind", Weights)
def test_kappa_by_scikit_learn_over_all_levels(kind: Weights) -> None:
    places, pairs = cohort(6, 5)
    levels = np.clip(np.digitize(pairs, (15, 20, 25)), 0, 3)
    told = [(int(one), int(other)) for one, other in levels.tolist()]
    found = against.kappa_of_levels(places, told, 6, kind)
    name = None if kind is Weights.UNWEIGHTED else str(kind)
    expected = cohen_kappa_score(levels[:, 0], levels[:, 1], labels=list(range(6)), weights=name)
    assert found.value == pytest.approx(expected)
    assert found.low < found.value < found.high


@pytest.mark.parametrize(("students", "volunteers"), [(6, 12), (12, 20), (30, 3)])
def test_the_bias_is_held_as_often_as_it_says(students: int, volunteers: int) -> None:
    held = []
    for seed in range(300):
        bias = numbers(*cohort(students, volunteers, seed))["bias"]
        held.append(bias.low <= 0 <= bias.high)
    assert 0.91 <= np.mean(held) <= 0.985


def test_agreement_is_held_as_often_as_it_says() -> None:
    true = 40 / 43  # variances: 20 between feet, 1 each of students, reading and reference
    held = []
    for seed in range(300):
        one = numbers(*cohort(12, 20, seed))["icc"]
        held.append(one.low <= true <= one.high)
    assert 0.90 <= np.mean(held) <= 0.98


def test_one_direction_only_is_taken_as_it_is() -> None:
    places, pairs = cohort(1, 12)
    alone = numbers(places, pairs)["bias"]
    differences = (pairs[:, 0] - pairs[:, 1]).reshape(12, 2).mean(axis=1)
    assert alone.high - alone.value == pytest.approx(
        2.200985 * differences.std(ddof=1) / 12**0.5, rel=1e-6
    )
    both = numbers([(0, 0), (0, 0)], np.array([[1.0, 2.0], [4.0, 3.5]]))["bias"]
    assert (both.value, both.low, both.reason) == (-0.25, None, Reason.ALONE)


def test_traps() -> None:
    places = [(s, v) for s in range(3) for v in range(3)]
    same = np.repeat(np.arange(3.0)[None, :], 3, axis=0).reshape(-1)
    alike = numbers(places, np.column_stack([same, same]))
    assert (alike["bias"].value, alike["bias"].reason) == (0.0, Reason.IDENTICAL)
    assert (alike["icc"].value, alike["icc"].reason) == (1.0, Reason.IDENTICAL)
    flat = numbers(places, np.column_stack([same, np.full(9, 7.3)]))
    assert (flat["icc"].value, flat["icc"].reason) == (None, Reason.NO_VARIATION)
    assert flat["bias"].low is not None
    single = numbers([(0, 0)], np.array([[1.0, 2.0]]))
    assert {one.reason for one in single.values()} == {Reason.TOO_FEW}


def test_kappa_that_rests_on_one_volunteer_has_no_interval() -> None:
    places = [(s, v) for s in range(4) for v in range(3)]
    pairs = [(int(v == 0 and s > 0), int(v == 0)) for s, v in places]
    one = against.kappa_of_levels(places, pairs, 2, Weights.UNWEIGHTED)
    assert (one.low, one.reason) == (None, Reason.CARRIED)
    assert "carries all that varies" in one.described()
    none = against.kappa_of_levels(places, [(1, 1)] * 12, 2, Weights.UNWEIGHTED)
    assert (none.value, none.reason) == (None, Reason.NO_VARIATION)
    once = against.kappa_of_levels([(0, 0)], [(1, 1)], 2, Weights.UNWEIGHTED)
    assert once.reason == Reason.TOO_FEW


def test_the_spread_draws_students_anew() -> None:
    rng = np.random.default_rng(SEED)
    wide, narrow = rng.normal(0, 1, (30, 6)), rng.normal(0, 1, (4, 6))
    found = against.spread([wide.tolist(), narrow.tolist()])
    assert [one.n for one in found] == [30, 4]
    assert found[0].value == pytest.approx(float(np.sqrt((wide**2).mean())))
    assert found[0].low < found[0].value < found[0].high
    assert all(one.method == Method.BOOTSTRAP and one.approximate for one in found)
    alone = against.spread([[[1.0, 2.0]]])[0]
    assert (alone.value, alone.reason) == (None, Reason.TOO_FEW)
