"""Room in the shoe where it was measured and where not, and a lift that the counter refuses."""

import pytest

from footexam.mechanics.stack import Piece, forefoot_room, heel_room, highest_lift_mm, stack_mm

DEVICE = [Piece("shell", 4), Piece("cover", 3), Piece("post", 4)]


def test_a_foam_counts_as_it_is_pressed() -> None:
    assert stack_mm([Piece("shell", 4), Piece("cover", 6, 0.5)]) == 7
    assert stack_mm([]) == 0


def test_a_lift_higher_than_the_counter_allows() -> None:
    highest = highest_lift_mm(DEVICE, 60, 4, 0.75)
    assert highest == 8
    assert heel_room([*DEVICE, Piece("lift", highest)], 60, 4, 0.75).fits
    found = heel_room([*DEVICE, Piece("lift", 12)], 60, 4, 0.75)
    assert (found.fits, found.over_mm) == (False, 4)
    assert highest_lift_mm([*DEVICE, Piece("block", 20)], 60, 4, 0.75) == 0


@pytest.mark.parametrize("counter", [37.3, 48.1, 60.7, 71.9])
def test_the_highest_lift_always_fits(counter: float) -> None:
    lift = highest_lift_mm([Piece("shell", 3.1, 0.07)], counter, 4.3, 0.75)
    found = heel_room([Piece("shell", 3.1, 0.07), Piece("lift", lift)], counter, 4.3, 0.75)
    assert found.fits
    assert found.left_percent == pytest.approx(75)


def test_a_shoe_that_was_not_measured() -> None:
    heel = heel_room(DEVICE, None, None, 0.75)
    assert heel.missing == ("shoe-heel-depth", "shoe-insole-thickness")
    assert (heel.stack_mm, heel.left_mm, heel.left_percent, heel.fits, heel.over_mm) == (
        11,
        None,
        None,
        None,
        None,
    )
    assert heel_room(DEVICE, 60, None, 0.75).missing == ("shoe-insole-thickness",)
    fore = forefoot_room(DEVICE, None, 4, None, 2, 1)
    assert fore.missing == ("shoe-forefoot-depth", "forefoot-height")
    assert (fore.stack_mm, fore.margin_mm, fore.fits) == (11, None, None)


@pytest.mark.parametrize(("depth", "fits"), [(27, True), (26.9, False), (20, False)])
def test_toes_need_a_millimetre(depth: float, fits: bool) -> None:
    found = forefoot_room([Piece("device", 6)], depth, 4, 22, 2, 1)
    assert found.fits is fits
    assert found.missing == ()
