"""The grid of whole totals."""

import pytest

from footexam.scoring import grid

ENDS = (-12, 12)


def test_cells_sum_to_one_and_are_as_many_as_totals() -> None:
    for prior in (None, (4.0, 9.0)):
        cells = grid.cells(3.0, 1.2, ENDS, prior)
        assert len(cells) == 25
        assert sum(cells) == pytest.approx(1)


def test_ends_are_open() -> None:
    top = grid.cells(12.0, 1.0, ENDS)
    assert max(range(25), key=top.__getitem__) == 24
    assert grid.cells(-12.0, 1.0, ENDS) == pytest.approx(top[::-1])


def test_a_far_prior_leaves_the_reading_to_speak() -> None:
    cells = grid.cells(12.0, 0.1, ENDS, (-12.0, 0.01))
    assert sum(cells) == pytest.approx(1)
    assert cells[24] == pytest.approx(1)


def test_chances_of_two_totals() -> None:
    one, other = grid.cells(2.0, 0.01, ENDS), grid.cells(-1.0, 0.01, ENDS)
    assert grid.chance_apart(one, other, 2.5) == pytest.approx(1)
    assert grid.chance_apart(other, one, 3.5) == pytest.approx(0)
    assert grid.chance_greater(one, other) == pytest.approx(1)
    assert grid.chance_greater(other, one) == pytest.approx(0)
    assert grid.chance_greater(one, one) == pytest.approx(0)


def test_chances_on_either_side_of_a_cut_share_the_whole() -> None:
    cells = grid.cells(3.0, 1.2, ENDS)
    whole = grid.chance_above(cells, -12, 2.5) + grid.chance_below(cells, -12, 2.5)
    assert whole == pytest.approx(1)
