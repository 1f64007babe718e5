"""Side differences of an examination."""

from decimal import Decimal

import pytest

from footexam.scoring import pairs
from footexam.scoring.bench import bench
from footexam.scoring.pairs import reached, settled
from footexam.terms import Kind, Label
from tests.scoring.builders import (
    LEFT,
    OTHER,
    RIGHT,
    SAME,
    all_differences,
    catalogue,
    error,
    examination,
    measure,
    reading,
    sides,
)

KNOWN = catalogue(
    (
        measure("lunge", errors=(error(SAME, mdc95="1.9"), error(OTHER, mdc95="2.2"))),
        measure("plain"),
        measure("angle", errors=(error(OTHER, sem=2),), methods=("film", "eye")),
        measure("wide"),
        measure("mass", sided=False),
    ),
    differences=(
        sides("lunge", "> 1.5 outside", "> 3 far"),
        sides("angle", "> 6 outside", methods=("film",)),
        sides("wide", sd=2),
    ),
)


def rows(readings: dict) -> dict:
    return {row.measure: row for row in all_differences(examination(readings), KNOWN)}


def both(name: str, left: object, right: object) -> dict:
    return {(name, LEFT): left, (name, RIGHT): right}


def test_only_measures_with_a_number_on_both_sides_in_forms_order() -> None:
    readings = {("mass", None): 70, ("angle", LEFT): 3, ("plain", RIGHT): "odd", ("plain", LEFT): 1}
    assert rows(readings) == {}
    found = list(rows(both("plain", 1, 2) | both("lunge", 1, 2)))
    assert found == ["lunge", "plain"]


def test_left_minus_right() -> None:
    row = rows(both("lunge", Decimal("9.4"), Decimal("11.0")))["lunge"]
    assert (row.left, row.right, row.difference) == (
        Decimal("9.4"), Decimal("11.0"), Decimal("-1.6"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("left", "right", "state", "beyond"),
    [
        ("11.0", "9.5", "within", False),
        ("8.3", "6.8", "within", False),
        ("11.0", "9.4", "outside", False),
        ("11.0", "9.1", "outside", True),
        ("12.0", "9.0", "outside", True),
        ("12.1", "9.0", "far", True),
    ],
)
def test_states_in_decimals(left: str, right: str, state: str, beyond: bool) -> None:
    row = rows(both("lunge", Decimal(left), Decimal(right)))["lunge"]
    assert (row.state, row.beyond_error) == (state, beyond)
    assert (row.usual_limit, row.operator) == (1.5, ">")


def test_means_of_repeats_do_not_fall_short_in_the_last_digit() -> None:
    thirds = (Decimal("35.6") / 3) - (Decimal("29.9") / 3)
    assert settled(thirds) == Decimal("1.9")
    assert reached(thirds, 1.9) is True
    assert reached(Decimal("1.8"), 1.9) is False
    assert reached(Decimal("-1.9"), 1.9) is True
    assert reached(Decimal("-1.9"), None) is None


def test_without_a_published_limit_it_is_not_judged() -> None:
    row = rows(both("plain", 3, 1))["plain"]
    assert (row.usual_limit, row.operator, row.state) == (None, None, None)
    assert (row.label, row.beyond_error, row.change_needed) == (Label.NOT_JUDGED, None, None)
    assert (row.probability, row.probability_error_only) == (None, None)


def test_1_96_sd_of_the_differences_is_the_limit_where_no_cut_is_printed() -> None:
    row = rows(both("wide", 10, Decimal("6.08")))["wide"]
    assert (row.usual_limit, row.operator, row.state) == (3.92, ">", "within")
    row = rows(both("wide", 10, 6))["wide"]
    # the error is not known: repeat
    assert (row.state, row.label) == ("outside", Label.REPEAT)


def test_a_prior_is_refused_where_the_error_exceeds_the_spread() -> None:
    known = catalogue(
        (measure("wide", errors=(error(SAME, sem=2),)),), differences=(sides("wide", sd=2),)
    )
    (row,) = all_differences(examination(both("wide", 10, 3)), known)
    assert row.probability is None
    assert row.probability_error_only is not None
    assert row.label == Label.POSSIBLE


def test_norms_of_differences_belong_to_their_method() -> None:
    def angle(left: str | None, right: str | None) -> object:
        return rows(
            both("angle", reading("angle", LEFT, 12, left), reading("angle", RIGHT, 3, right))
        )["angle"]

    assert angle("film", "film").state == "outside"
    assert angle("eye", "eye").state is None
    # only the other examiner's error is known: repeats or not, it stands
    assert angle("eye", "eye").change_needed == pytest.approx(2.7719 * 2, abs=1e-3)
    assert angle("film", None).state is None
    assert angle("film", None).beyond_error is True


def test_other_methods_left_and_right_are_not_judged() -> None:
    readings = both("angle", reading("angle", LEFT, 12, "film"), reading("angle", RIGHT, 3, "eye"))
    row = rows(readings)["angle"]
    assert (row.difference, row.state, row.label) == (9, None, Label.NOT_JUDGED)
    assert (row.change_needed, row.beyond_error) == (None, None)


def test_differences_of_worked_out_values_carry_the_errors_of_their_inputs() -> None:
    heights = ("navicular-height-neutral", "navicular-height-resting")
    known = catalogue(
        (
            *(measure(name, errors=(error(SAME, sem=1),)) for name in heights),
            measure("navicular-drop", kind=Kind.DERIVED, derived_from=heights),
        ),
        differences=(sides("navicular-drop", "> 3 outside", sd=4),),
    )
    visit = examination(
        {(heights[0], LEFT): 50, (heights[1], LEFT): (40, 40), **both("x", 1, 1)}
        | {(heights[0], RIGHT): 50, (heights[1], RIGHT): 44}
    )
    row = next(r for r in all_differences(visit, known) if r.measure == "navicular-drop")
    # left 1 + 1/2, right 1 + 1 squared error
    assert row.change_needed == pytest.approx(1.96 * 3.5**0.5)
    assert (row.difference, row.state) == (4, "outside")
    assert row.probability is not None


def test_a_pair_judge_forgets_when_it_has_kept_many(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pairs, "KEPT", 1)
    judge = bench(KNOWN).pair(KNOWN.measures["lunge"], None)
    one = judge.difference((Decimal(1), 1), (Decimal(2), 1))
    judge.difference((Decimal(1), 1), (Decimal(3), 1))
    again = judge.difference((Decimal(1), 1), (Decimal(2), 1))
    assert again == one
    assert again is not one


@pytest.mark.parametrize(("years", "judged"), [(18, True), (17, False), (None, True)])
def test_what_is_usual_between_the_sides_of_adults_says_nothing_of_children(
    years: int | None, judged: bool
) -> None:
    visit = examination(both("lunge", 11, 8), years=years)
    row = next(row for row in all_differences(visit, KNOWN) if row.measure == "lunge")
    assert (row.label is not Label.NOT_JUDGED) is judged
    assert row.beyond_error is not None  # the error itself knows no age
