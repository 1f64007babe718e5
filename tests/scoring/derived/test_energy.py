"""Signs of low energy availability."""

from decimal import Decimal

import pytest

from footexam.scoring.derived import energy
from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import Visit
from tests.published.cases import forms
from tests.scoring.builders import examination


def visit(readings: dict) -> Visit:
    return Visit(examination(readings), forms().measures)


def value(found: Derived | None) -> object:
    return found.value if found else None


def primary(**answers: object) -> object:
    readings = {(name.replace("_", "-"), None): answer for name, answer in answers.items()}
    return value(energy.reds_primary_indicators(visit(readings)))


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
        return value(energy.reds_secondary_indicators(visit(readings)))

    assert secondary() is None
    assert secondary(poor_sleep="no") == 0
    assert secondary(poor_sleep="yes", low_libido="yes", restricting_food="yes") == 3
    assert secondary(previous_bone_stress_injury="yes", menstrual_disturbance="yes") == 2
    assert secondary(menstrual_disturbance="yes", pregnant_or_recent_birth="yes") == 0
    assert [secondary(body_mass_change_6_months=kg) for kg in (-5, Decimal("-4.9"), 6)] == [1, 0, 0]
