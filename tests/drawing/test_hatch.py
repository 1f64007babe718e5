"""Hatching stays inside its figure and fills it evenly."""

from itertools import pairwise

import pytest

from footexam.drawing.hatch import hatch
from footexam.drawing.palette import Ink
from footexam.drawing.shapes import Point

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
TRIANGLE = ((0.0, 5.0), (10.0, 0.0), (10.0, 10.0))


@pytest.mark.parametrize("points", [SQUARE, TRIANGLE])
def test_lines_lie_inside_and_slant(points: tuple[Point, ...]) -> None:
    lines = hatch(points, 2.0, Ink.INK)
    assert len(lines) >= 5
    for line in lines:
        for x, y in ((line.x1, line.y1), (line.x2, line.y2)):
            assert -1e-9 <= x <= 10 + 1e-9
            assert -1e-9 <= y <= 10 + 1e-9
        assert line.x1 + line.y1 == pytest.approx(line.x2 + line.y2)
        assert line.x1 != line.x2


def test_lines_stand_apart_by_the_gap() -> None:
    sums = sorted(line.x1 + line.y1 for line in hatch(SQUARE, 2.0, Ink.INK))
    assert all(b - a == pytest.approx(2.0) for a, b in pairwise(sums))
