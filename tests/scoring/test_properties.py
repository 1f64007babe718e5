"""What must hold for any reading: chances, order, mirror, determinism."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.record.examination import Examination
from footexam.scoring.derived.feet import FPI_ITEMS
from footexam.scoring.results import Finding
from footexam.terms import Kind
from tests.scoring.builders import (
    LEFT,
    OTHER,
    RIGHT,
    SAME,
    all_changes,
    all_differences,
    all_findings,
    catalogue,
    error,
    examination,
    finding,
    group,
    measure,
    norms,
    scores,
    sides,
)

BANDS = group(
    mean=40,
    sd=9,
    low=("< 30 low", "< 20 very-low"),
    high=("> 50 high", ">= 60 very-high"),
)
ORDER = ("very-low", "low", "within", "high", "very-high")
KNOWN = catalogue(
    (
        measure("height", errors=(error(SAME, sem=2), error(OTHER, sem=3)), unit="mm"),
        *(measure(item, kind=Kind.SCORE, ordinal=True, ends=(-2, 2)) for item in FPI_ITEMS),
        measure(
            "fpi-total",
            kind=Kind.DERIVED,
            ordinal=True,
            ends=(-12, 12),
            errors=(error(SAME, sem="0.7"), error(OTHER, sem="1.1")),
            derived_from=FPI_ITEMS,
        ),
    ),
    (
        norms("bands", "height", BANDS),
        norms(
            "fpi",
            "fpi-total",
            group(mean=4, sd=3, low=("< 0 supinated",), high=(">= 6 pronated",)),
        ),
    ),
    (sides("height", "> 6 outside", sd=5), sides("fpi-total", "> 2 asymmetric", "> 4 severe")),
)
heights = st.decimals(0, 100, places=1)
repeats = st.lists(heights, min_size=1, max_size=4).map(tuple)
points = st.tuples(*(st.integers(-2, 2) for _ in FPI_ITEMS))


def items(values: tuple[int, ...], side: object = RIGHT) -> dict:
    return {(item, side): value for item, value in zip(FPI_ITEMS, values, strict=True)}


def mirror(visit: Examination) -> Examination:
    swap = {LEFT: RIGHT, RIGHT: LEFT}
    turned = {
        (name, swap[side]): replace(reading, side=swap[side])
        for (name, side), reading in visit.readings.items()
    }
    return replace(visit, readings=turned)


def chances(row: object) -> list[float]:
    found = (getattr(row, "probability", None), row.probability_error_only)
    return [chance for chance in found if chance is not None]


@given(repeats, repeats, points, points)
def test_every_chance_lies_between_0_and_1(
    left: tuple, right: tuple, one: tuple, other: tuple
) -> None:
    visit = examination(
        {("height", LEFT): left, ("height", RIGHT): right} | items(one, LEFT) | items(other)
    )
    rows = [
        *all_findings(visit, KNOWN),
        *all_differences(visit, KNOWN),
        *all_changes(visit, mirror(visit), KNOWN),
    ]
    assert all(0.0 <= chance <= 1.0 + 1e-12 for row in rows for chance in chances(row))


def height(reading: object) -> Finding:
    return finding(examination({("height", RIGHT): reading}), KNOWN, "height")


@given(heights, heights)
def test_a_higher_reading_is_never_in_a_lower_band(one: Decimal, other: Decimal) -> None:
    low, high = sorted((one, other))
    assert ORDER.index(height(low).state) <= ORDER.index(height(high).state)


@given(heights, heights)
def test_chances_move_with_the_reading(one: Decimal, other: Decimal) -> None:
    near, far = (height(reading) for reading in sorted((one, other)))
    if near.limit == far.limit:
        sign = 1 if near.operator in (">", ">=") else -1
        for lower, higher in zip(chances(near), chances(far), strict=True):
            assert sign * (higher - lower) >= -1e-12


@given(points, st.integers(0, 5))
def test_fpi_total_rises_with_every_item(values: tuple[int, ...], place: int) -> None:
    raised = tuple(min(2, v + (i == place)) for i, v in enumerate(values))
    before, after = (
        scores(examination(items(v)), KNOWN)["fpi-total", RIGHT].value for v in (values, raised)
    )
    assert after - before == raised[place] - values[place]


@pytest.mark.parametrize("low", range(-12, 12))
def test_fpi_chance_of_being_pronated_rises_with_the_total(low: int) -> None:
    judge = [
        finding(examination(items(spread(total))), KNOWN, "fpi-total") for total in (low, low + 1)
    ]
    if judge[0].limit == judge[1].limit:
        sign = 1 if judge[0].operator == ">=" else -1
        assert sign * (judge[1].probability - judge[0].probability) > 0


def spread(total: int) -> tuple[int, ...]:
    share, rest = divmod(abs(total), len(FPI_ITEMS))
    sign = -1 if total < 0 else 1
    return tuple(sign * (share + (place < rest)) for place in range(len(FPI_ITEMS)))


@given(repeats, repeats, points, points)
def test_left_and_right_mirror(left: tuple, right: tuple, one: tuple, other: tuple) -> None:
    straight = examination(
        {("height", LEFT): left, ("height", RIGHT): right} | items(one, LEFT) | items(other)
    )
    mirrored = mirror(straight)
    swap = {LEFT: RIGHT, RIGHT: LEFT}
    seen = {(row.measure, swap[row.side]): row for row in all_findings(straight, KNOWN)}
    for row in all_findings(mirrored, KNOWN):
        assert replace(seen[row.measure, row.side], side=row.side) == row
    pairs = zip(all_differences(straight, KNOWN), all_differences(mirrored, KNOWN), strict=True)
    for row, image in pairs:
        assert image.difference == -row.difference
        assert (image.state, image.label) == (row.state, row.label)
        assert chances(image) == pytest.approx(chances(row))


@given(repeats)
def test_the_same_input_gives_the_same_output_whatever_came_before(readings: tuple) -> None:
    visit = examination({("height", RIGHT): readings})
    fresh = catalogue(
        KNOWN.measures.values(),
        [one for sets in KNOWN.norms.values() for one in sets],
        [one for pairs in KNOWN.differences.values() for one in pairs],
    )
    before, after = finding(visit, KNOWN, "height"), finding(visit, fresh, "height")
    assert before == after
    assert str(before.value) == str(after.value)


@given(repeats)
def test_more_repeats_are_never_less_sure_of_the_mean(readings: tuple) -> None:
    mean = sum(readings) / len(readings)
    row, single = height(readings), height(mean)
    assert row.state == single.state
    assert row.change_needed == single.change_needed
    # the error alone keeps its side of one half and moves away from it
    assert abs(row.probability_error_only - 0.5) >= abs(single.probability_error_only - 0.5) - 1e-12
