"""Changes between two visits."""

from decimal import Decimal

import pytest

from footexam.terms import ChangeLabel, Kind
from tests.scoring.builders import (
    LEFT,
    OTHER,
    RIGHT,
    SAME,
    all_changes,
    catalogue,
    error,
    examination,
    measure,
    reading,
)

HEIGHTS = ("navicular-height-neutral", "navicular-height-resting")
KNOWN = catalogue(
    (
        measure("plain"),
        measure("lunge", errors=(error(SAME, mdc95="1.9"), error(OTHER, mdc95="2.2"))),
        measure("mine", errors=(error(SAME, sem=1),)),
        measure(
            "points", kind=Kind.SCORE, ordinal=True, ends=(0, 10), errors=(error(SAME, sem=1),)
        ),
        *(measure(name, errors=(error(SAME, sem=1),)) for name in HEIGHTS),
        measure("navicular-drop", kind=Kind.DERIVED, derived_from=HEIGHTS),
        measure("mass", sided=False),
    )
)


def changes(before: dict, now: dict, examiner: str = "Examiner One") -> dict:
    found = all_changes(examination(before), examination(now, examiner=examiner), KNOWN)
    return {row.measure: row for row in found}


def lunge(content: object) -> dict:
    return {("lunge", LEFT): content}


def test_only_what_both_visits_hold_in_forms_order() -> None:
    before = {("mass", None): 70, ("plain", LEFT): 1, ("lunge", LEFT): 9, ("mine", RIGHT): 1}
    now = {("mine", LEFT): 2, ("mass", None): 71, ("lunge", LEFT): 9, ("plain", LEFT): 4}
    assert list(changes(before, now)) == ["plain", "lunge", "mass"]


def test_now_minus_before() -> None:
    row = changes(lunge(Decimal("11.8")), lunge(Decimal("10.0")))["lunge"]
    assert (row.before, row.now, row.change) == (
        Decimal("11.8"), Decimal("10.0"), Decimal("-1.8"),
    )  # fmt: skip
    assert row.label == ChangeLabel.INSIDE_ERROR
    # in the direction seen, as sure as the rise
    rise = changes(lunge(10), lunge(Decimal("11.8")))["lunge"]
    assert row.probability_error_only == rise.probability_error_only
    assert row.side is LEFT


def test_no_error_known_is_not_judged() -> None:
    row = changes({("plain", LEFT): 1}, {("plain", LEFT): 9})["plain"]
    assert (row.label, row.change_needed) == (ChangeLabel.NOT_JUDGED, None)
    assert row.probability_error_only is None


def test_no_change_has_no_direction() -> None:
    row = changes(lunge(9), lunge(9))["lunge"]
    assert (row.change, row.label) == (0, ChangeLabel.INSIDE_ERROR)
    assert row.probability_error_only is None


@pytest.mark.parametrize(
    ("examiner", "needed"),
    [("Examiner One", 1.9), (" examiner one ", 1.9), ("Examiner Two", 2.2), ("", 2.2)],
)
def test_another_or_an_unknown_examiner(examiner: str, needed: float) -> None:
    row = changes(lunge(9), lunge(10), examiner)["lunge"]
    assert row.change_needed == needed


def test_two_unknown_examiners_are_not_one() -> None:
    before = examination(lunge(9), examiner="")
    (row,) = all_changes(before, examination(lunge(10), examiner=" "), KNOWN)
    assert row.change_needed == 2.2


def test_another_examiners_error_is_never_replaced_by_the_smaller_one() -> None:
    assert changes({("mine", LEFT): 1}, {("mine", LEFT): 9})["mine"].label == ChangeLabel.CHANGED
    row = changes({("mine", LEFT): 1}, {("mine", LEFT): 9}, "Examiner Two")["mine"]
    assert (row.label, row.change_needed) == (ChangeLabel.NOT_JUDGED, None)


def test_repeats_taken_count() -> None:
    row = changes(lunge((9, 9, 9)), lunge((11, 11, 11)))["lunge"]
    assert row.change_needed == pytest.approx(1.9 / 3**0.5)


def test_points_fall_and_rise_alike() -> None:
    points = {("points", LEFT): 4}, {("points", LEFT): 6}
    up, down = changes(*points)["points"], changes(*reversed(points))["points"]
    assert up.probability_error_only == pytest.approx(down.probability_error_only)
    assert 0.5 < up.probability_error_only < 1


def test_a_change_of_method_is_not_judged() -> None:
    before, now = (
        lunge(reading("lunge", LEFT, value, how)) for value, how in ((9, "a"), (19, "b"))
    )
    row = changes(before, now)["lunge"]
    assert (row.change, row.label, row.change_needed) == (10, ChangeLabel.NOT_JUDGED, None)
    # one of them not stated: taken as before
    assert changes(before, lunge(19))["lunge"].label == ChangeLabel.CHANGED


def test_worked_out_values_carry_the_errors_of_their_inputs() -> None:
    before = {(HEIGHTS[0], LEFT): 50, (HEIGHTS[1], LEFT): 40}
    now = {(HEIGHTS[0], LEFT): 50, (HEIGHTS[1], LEFT): 45}
    row = changes(before, now, "Examiner Two")["navicular-drop"]
    # the bias of each examiner cancels in the drop of one visit
    assert row.change_needed == pytest.approx(1.96 * 2.0)
    assert (row.change, row.label) == (-5, ChangeLabel.CHANGED)
