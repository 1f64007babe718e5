"""Sides of the complaint, injuries, signs of low energy, lesions."""

from datetime import date
from decimal import Decimal

import pytest

from footexam.record.reading import Numbers, Sites, Words
from footexam.scoring.derived import history
from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import Visit
from tests.scoring.builders import LEFT, RIGHT, TODAY, examination, measure


def visit(readings: dict) -> Visit:
    return Visit(examination(readings), {name: measure(name) for name, _ in readings})


def value(found: Derived | None) -> object:
    return found.value if found else None


@pytest.mark.parametrize(
    ("sides", "word"), [((LEFT,), "left"), ((RIGHT,), "right"), ((LEFT, RIGHT), "both"), ((), None)]
)
def test_sides_of_the_complaint(sides: tuple, word: str | None) -> None:
    seen = visit(
        {
            ("complaint-site", side): Words(("hallux",) if side in sides else ())
            for side in (LEFT, RIGHT)
        }
    )
    assert value(history.complaint_sides(seen)) == word
    assert history.complaint_sides(visit({("complaint-site", LEFT): "odd"})) is None


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-03-04", TODAY),
        ("2026-02-03", date(2026, 2, 3)),
        ("2025-02", date(2025, 2, 28)),
        ("2025-12", date(2025, 12, 31)),
        ("2024", date(2024, 12, 31)),
        ("2026-03", TODAY),
        ("2026", TODAY),
        ("2026-03-05", None),
        ("2027", None),
        ("2026-02-30", None),
        ("spring", None),
        ("2026-01-01-01", None),
        (Decimal(2024), None),
        (None, None),
    ],
)
def test_last_day_that_a_date_may_mean(text: object, day: date | None) -> None:
    assert history.last_day(text, TODAY) == day


def test_weeks_since_the_newest_injury() -> None:
    rows = [{"date": "2024-01-01"}, {"date": "2026-02-11"}, {"what": "long ago"}]
    found = history.weeks_since_previous_injury(visit({("previous-injuries", None): rows}))
    assert found == Derived(Decimal(3), ("previous-injuries",))
    undated = visit({("previous-injuries", None): [{"what": "sprain"}]})
    assert history.weeks_since_previous_injury(undated) is None
    assert history.weeks_since_previous_injury(visit({})) is None


def primary(**answers: object) -> object:
    readings = {(name.replace("_", "-"), None): answer for name, answer in answers.items()}
    return value(history.reds_primary_indicators(visit(readings)))


def test_primary_signs_and_severe_ones_that_count_two() -> None:
    assert primary() is None
    assert primary(primary_amenorrhoea="no") == 0
    assert primary(primary_amenorrhoea="yes") == 2
    assert [primary(missed_cycles=missed) for missed in (0, 2, 3, 11, 12)] == [0, 0, 1, 1, 2]
    assert primary(primary_amenorrhoea="yes", missed_cycles=4) == 3


def test_a_growth_spurt_is_no_sign_and_a_pregnancy_explains_missed_periods() -> None:
    assert primary(growth_spurt="yes") == 0
    assert primary(missed_cycles=9, pregnant_or_recent_birth="yes") == 0
    assert primary(missed_cycles=9, pregnant_or_recent_birth="no") == 1


@pytest.mark.parametrize(
    ("rows", "count"),
    [
        ([{"date": "2025-06-01", "bone": "Femoral neck"}], 1),
        ([{"date": "2025-06-01", "bone": "left sacrum"}], 1),
        ([{"date": "2025-06-01", "bone": "femoral-neck"}], 1),
        ([{"date": "2025-06-01", "bone": "tibia"}], 0),
        ([{"date": "2025-06-01", "bone": "tibia"}, {"date": "2024-03-04"}], 1),
        ([{"date": "2025-06-01", "bone": "tibia"}, {"date": "2024-03-03"}], 0),
        ([{"date": "2024-03-03", "bone": "pelvis"}], 0),
        ([{"date": "2024", "bone": "pelvis"}], 1),
        ([{"date": "2025-06-01", "weeks_lost": Decimal(26)}], 1),
        ([{"date": "2025-06-01", "weeks_lost": Decimal(25)}], 0),
        ([{"date": "2025-06-01", "weeks_lost": "some"}], 0),
        ([{"bone": "pelvis"}], 0),
        ([], None),
    ],
)
def test_bone_stress_within_two_years(rows: list, count: int | None) -> None:
    assert primary(bone_stress_injuries=rows) == count


def test_secondary_signs() -> None:
    def secondary(**answers: object) -> object:
        readings = {(name.replace("_", "-"), None): answer for name, answer in answers.items()}
        return value(history.reds_secondary_indicators(visit(readings)))

    assert secondary() is None
    assert secondary(poor_sleep="no") == 0
    assert secondary(poor_sleep="yes", low_libido="yes", restricting_food="yes") == 3
    assert secondary(previous_bone_stress_injury="yes", menstrual_disturbance="yes") == 2
    assert secondary(menstrual_disturbance="yes", pregnant_or_recent_birth="yes") == 0
    assert [secondary(body_mass_change_6_months=kg) for kg in (-5, Decimal("-4.9"), 6)] == [1, 0, 0]


def test_lesion_questions_answered_yes_so_far() -> None:
    items = history.LESION_ITEMS
    some = {(items[0], LEFT): Sites("yes", ("hallux",)), (items[1], None): Sites("yes")}
    found = history.lesion_cubed_count(visit({**some, (items[2], LEFT): Sites("no")}), LEFT)
    assert found == Derived(Decimal(2), items[:3], items[3:])
    every = {(item, LEFT): Sites("no") for item in items}
    assert history.lesion_cubed_count(visit(every), LEFT) == Derived(Decimal(0), items)
    assert history.lesion_cubed_count(visit(every), RIGHT) is None
    numbers = visit({(items[0], LEFT): Numbers((Decimal(1),))})
    assert history.lesion_cubed_count(numbers, LEFT) is None
