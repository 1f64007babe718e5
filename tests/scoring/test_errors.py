"""Which measurement error is used, and what repeats and change make of it."""

from math import hypot, sqrt

import pytest

from footexam.catalogue.model import MDC_FACTOR
from footexam.scoring.errors import (
    UNKNOWN,
    Doubt,
    Errors,
    Size,
    change_needed,
    choose,
    norm_doubt,
    pair_doubt,
    propagated,
)
from tests.scoring.builders import OTHER, SAME, error

BOTH = Errors(Size(1.5), Size(2.5))
ONLY_SAME, ONLY_OTHER = Errors(same=Size(1.5)), Errors(other=Size(2.5))


def test_against_a_norm_the_other_examiner_counts_then_the_same_then_nothing() -> None:
    assert BOTH.against_norm() == 2.5
    assert ONLY_SAME.against_norm() == 1.5
    assert ONLY_OTHER.against_norm() == 2.5
    assert UNKNOWN.against_norm() is None


def test_repeats_shrink_only_the_part_of_the_same_examiner() -> None:
    assert BOTH.against_norm(4) == pytest.approx(sqrt(2.5**2 - 1.5**2 + 1.5**2 / 4))
    assert ONLY_SAME.against_norm(4) == 1.5
    assert ONLY_OTHER.against_norm(4) == 2.5


def test_two_values_of_one_examiner_or_of_two() -> None:
    assert BOTH.between(True, 4) == 0.75
    assert BOTH.between(False, 1) == 2.5
    assert ONLY_OTHER.between(True, 4) == 2.5
    # two examiners are never taken to be as sure as one
    assert ONLY_SAME.between(False, 1) is None
    assert UNKNOWN.between(True, 1) is None


def test_one_change() -> None:
    assert BOTH.one_change() == pytest.approx(1.5 * MDC_FACTOR)
    assert BOTH.one_change(same_examiner=False) == pytest.approx(2.5 * MDC_FACTOR)
    assert ONLY_OTHER.one_change() == pytest.approx(2.5 * MDC_FACTOR)
    assert ONLY_SAME.one_change(same_examiner=False) is None
    assert UNKNOWN.one_change() is None
    assert Size(0.6855, 1.9).change == 1.9


def test_change_needed_with_the_repeats_taken() -> None:
    printed = Errors(Size(0.7, 1.9), Size(0.7, 1.9))
    one, three = (pair_doubt(printed, same_examiner=True, repeats=count) for count in (1, 3))
    assert change_needed(one, one) == 1.9
    assert change_needed(one, three) == pytest.approx(1.96 * hypot(0.7, 0.7 / sqrt(3)))
    assert change_needed(three, three) == pytest.approx(1.96 * 0.7 * sqrt(2 / 3))
    unknown = pair_doubt(UNKNOWN, same_examiner=True, repeats=1)
    assert change_needed(one, unknown) is None
    assert change_needed(unknown, one) is None
    assert change_needed(Doubt(1.0, 1.0, 2.7), Doubt(2.0, 2.0, 5.4)) == pytest.approx(
        1.96 * hypot(1, 2)
    )


def test_norm_doubt() -> None:
    found = norm_doubt(BOTH, 4)
    assert (found.single, found.change) == (2.5, BOTH.one_change())
    assert found.taken == BOTH.against_norm(4)


def test_a_methods_own_pair_goes_before_the_pair_for_any_method() -> None:
    figures = (
        error(SAME, sem=1),
        error(OTHER, sem=2),
        error(SAME, sem=3, method="tape"),
        error(OTHER, sem=9, used=False),
    )
    assert choose(figures, None) == Errors(Size(1.0), Size(2.0))
    assert choose(figures, "goniometer") == Errors(Size(1.0), Size(2.0))
    assert choose(figures, "tape") == Errors(Size(3.0), None)


def test_an_error_of_nothing_is_not_known() -> None:
    assert choose((error(SAME, sd=3, icc=1),), None) == UNKNOWN


def test_propagation_adds_squares_and_uses_the_same_examiner() -> None:
    found = propagated(((1.0, BOTH, 1), (-2.0, BOTH, 4)))
    assert found is not None
    assert found.single == pytest.approx(1.5 * sqrt(5))
    assert found.taken == pytest.approx(1.5 * sqrt(1 + 4 / 4))
    assert found.change == pytest.approx(MDC_FACTOR * 1.5 * sqrt(5))


def test_propagation_needs_the_error_of_every_input() -> None:
    assert propagated(((1.0, BOTH, 1), (1.0, ONLY_OTHER, 1))) is None
    assert propagated(()) is None


def test_two_examiners_are_never_surer_than_one() -> None:
    printed = (error(SAME, mdc95="1.9"), error(OTHER, mdc95="1.6"))
    found = choose(printed, None)
    assert found.other == found.same
    assert found.one_change(same_examiner=False) == 1.9
