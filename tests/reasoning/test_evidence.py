"""Decibans, findings that see one thing, and findings that are only so sure."""

from itertools import combinations
from math import inf, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.reasoning.evidence import (
    CAP,
    decibans,
    grouped,
    ratio_of,
    virtual_ratio,
    weakened,
    whole,
)
from footexam.reasoning.gain import entropy, information_gain, pairs_split

POINTS = st.floats(0.0, CAP)
SEVERAL = st.lists(POINTS, min_size=1, max_size=6)


@pytest.mark.parametrize(
    ("ratio", "points"), [(1, 0), (2, 3.01), (5, 6.99), (0.5, -3.01), (0.2, -6.99), (10, 10)]
)
def test_decibans(ratio: float, points: float) -> None:
    assert decibans(ratio) == pytest.approx(points, abs=0.005)


@pytest.mark.parametrize("ratio", [10.001, 62.0, 164.0, 1e9])
def test_no_ratio_weighs_more_than_the_cap(ratio: float) -> None:
    assert decibans(ratio) == CAP
    assert decibans(1 / ratio) == -CAP


@given(st.floats(-CAP, CAP))
def test_a_ratio_and_its_decibans_turn_into_each_other(points: float) -> None:
    assert decibans(ratio_of(points)) == pytest.approx(points, abs=1e-9)


# --- groups


@given(POINTS, st.integers(1, 8))
def test_equal_findings_are_divided_as_the_simulation_says(points: float, count: int) -> None:
    # statistics.md 4.2: the sum of m like findings is divided by 1 + 0.5 (m - 1)
    assert grouped([points] * count) == pytest.approx(
        count * points / (1 + 0.5 * (count - 1)), abs=1e-9
    )


def test_three_equal_findings_count_as_one_and_a_half() -> None:
    assert grouped([4.0]) == 4.0
    assert grouped([4.0, 4.0]) == pytest.approx(4.0 * 4 / 3)
    assert grouped([4.0, 4.0, 4.0]) == pytest.approx(6.0)
    assert grouped([1.0] * 1000) == pytest.approx(2.0, rel=0.01)


@given(SEVERAL, POINTS)
def test_one_more_finding_never_lowers_a_group(points: list[float], one: float) -> None:
    assert grouped([*points, one]) >= grouped(points) - 1e-12


@given(SEVERAL)
def test_a_group_is_at_least_its_strongest_and_at_most_twice_it(points: list[float]) -> None:
    assert max(points) <= grouped(points) <= max(2 * max(points), 0.0) + 1e-12
    assert grouped(points) <= sum(points) + 1e-12


@given(SEVERAL, st.randoms())
def test_the_order_of_findings_in_a_group_is_nothing(points: list[float], by: object) -> None:
    mixed = list(points)
    by.shuffle(mixed)  # type: ignore[attr-defined]
    assert grouped(mixed) == grouped(points)


@given(SEVERAL, st.integers(0, 5), POINTS)
def test_a_stronger_finding_never_lowers_a_group(
    points: list[float], place: int, more: float
) -> None:
    at = place % len(points)
    stronger = [one + more if here == at else one for here, one in enumerate(points)]
    assert grouped(stronger) >= grouped(points) - 1e-12


def test_a_weak_companion_never_lowers_a_strong_finding() -> None:
    # the plain divisor would make (7 + 1) / 1.5 = 5.3 of it
    assert grouped([7.0, 1.0]) == 7.0
    assert grouped([1.0, 7.0, 0.0]) == 7.0
    assert grouped([]) == 0.0
    assert grouped([0.0, 0.0]) == 0.0


# --- how sure


@given(POINTS, st.floats(0.0, 1e6))
def test_a_weight_that_is_less_sure_is_between_nothing_and_itself(
    points: float, odds: float
) -> None:
    assert 0.0 <= weakened(points, odds) <= points + 1e-12


@given(POINTS, st.floats(0.0, 1e4), st.floats(0.0, 1e4))
def test_a_surer_finding_never_weighs_less(points: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert weakened(points, less) <= weakened(points, more) + 1e-12


def test_the_ends_of_how_sure() -> None:
    assert weakened(5.0, inf) == 5.0
    assert weakened(5.0, 1.0) == 0.0
    # less likely than before the reading: it argues nothing, and never the other way
    assert weakened(5.0, 0.1) == 0.0
    assert weakened(0.0, 4.0) == 0.0
    assert weakened(5.0, 1e12) == pytest.approx(5.0, abs=1e-6)


def test_a_sign_as_sensitive_as_specific() -> None:
    # 3.0103 decibans are a ratio of 2: sensitivity and specificity 2/3; at odds of 4 the ratio is
    # (2/3 * 4 + 1/3) / (1/3 * 4 + 2/3) = 3/2
    assert weakened(10 * log10(2), 4.0) == pytest.approx(10 * log10(1.5))


def test_a_certain_sign_has_its_published_ratio() -> None:
    assert virtual_ratio(0.8, 0.7, inf) == pytest.approx(0.8 / 0.3)
    assert virtual_ratio(0.8, 0.7, 1.0) == pytest.approx(1.0)
    assert virtual_ratio(0.8, 0.7, 0.0) == pytest.approx(0.2 / 0.7)


@pytest.mark.parametrize(
    ("points", "shown"),
    [(0.0, 0), (0.49, 0), (0.5, 1), (1.5, 2), (2.5, 3), (7.27, 7), (-0.49, 0), (-0.5, -1),
     (-1.5, -2), (-2.4, -2)],
)  # fmt: skip
def test_points_are_rounded_once_halves_away_from_nothing(points: float, shown: int) -> None:
    assert whole(points) == shown


# --- what a test would tell


def test_entropy() -> None:
    assert entropy([1.0]) == 0.0
    assert entropy([0.5, 0.5]) == 1.0
    assert entropy([0.25] * 4) == 2.0
    assert entropy([1.0, 0.0]) == 0.0


@given(st.lists(st.tuples(st.floats(0.01, 1.0), st.floats(0.0, 1.0)), min_size=2, max_size=5))
def test_a_gain_lies_between_nothing_and_all_there_is(rows: list[tuple[float, float]]) -> None:
    total = sum(weight for weight, _ in rows)
    before = [weight / total for weight, _ in rows]
    positive = [chance for _, chance in rows]
    gain = information_gain(before, positive)
    assert -1e-9 <= gain <= entropy(before) + 1e-9
    # the other answer of the same test tells as much
    assert gain == pytest.approx(information_gain(before, [1 - c for c in positive]), abs=1e-9)


def test_a_perfect_test_tells_all_and_a_blind_one_nothing() -> None:
    assert information_gain([0.5, 0.5], [1.0, 0.0]) == 1.0
    assert information_gain([0.5, 0.5], [1.0, 1.0]) == 0.0
    assert information_gain([0.5, 0.5], [0.3, 0.3]) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("predictions", "pairs"),
    [
        ([], 0),
        ([True], 0),
        ([True, False], 1),
        ([True, True], 0),
        ([True, None], 0),
        ([None, None, False], 0),
        ([True, False, None, False], 2),
        ([True, True, False, False], 4),
    ],
)
def test_pairs_that_are_told_apart(predictions: list[bool | None], pairs: int) -> None:
    assert pairs_split(predictions) == pairs


@given(st.lists(st.sampled_from([True, False, None]), max_size=12))
def test_pairs_are_counted_as_if_one_by_one(predictions: list[bool | None]) -> None:
    pairs = [{one, other} for one, other in combinations(predictions, 2)]
    assert pairs_split(predictions) == pairs.count({True, False})
