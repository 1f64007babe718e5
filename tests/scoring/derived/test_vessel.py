"""Pressure indices, temperature difference and wounds."""

from decimal import Decimal

import pytest

from footexam.record.reading import RegionValues
from footexam.scoring.derived import vessel
from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import Visit
from footexam.terms import Kind
from tests.scoring.builders import (
    LEFT,
    RIGHT,
    catalogue,
    examination,
    finding,
    group,
    measure,
    norms,
)

DORSAL, TIBIAL = vessel.ANKLE


def visit(readings: dict) -> Visit:
    return Visit(examination(readings), {name: measure(name) for name, _ in readings})


def pressures(arms: tuple, *, dorsal: int | None = None, tibial: int | None = None) -> Visit:
    readings = {
        (vessel.ARM, LEFT): arms[0],
        (vessel.ARM, RIGHT): arms[1],
        (DORSAL, LEFT): dorsal,
        (TIBIAL, LEFT): tibial,
    }
    return visit({key: number for key, number in readings.items() if number is not None})


def test_higher_ankle_over_higher_arm() -> None:
    # 132 and 120 over 118 and 124 mmHg: 132 / 124
    found = vessel.ankle_brachial_index(pressures((118, 124), dorsal=132, tibial=120), LEFT)
    assert found == Derived(Decimal(132) / 124, (vessel.ARM, DORSAL, TIBIAL))


def test_what_was_not_measured_is_named() -> None:
    found = vessel.ankle_brachial_index(pressures((120, None), tibial=60), LEFT)
    assert found == Derived(Decimal("0.5"), (vessel.ARM, TIBIAL), (vessel.ARM, DORSAL))


@pytest.mark.parametrize("arms", [(None, None), (0, 0)])
def test_no_arm_no_index(arms: tuple) -> None:
    assert vessel.ankle_brachial_index(pressures(arms, dorsal=100), LEFT) is None


def test_no_ankle_no_index() -> None:
    assert vessel.ankle_brachial_index(pressures((120, 120)), LEFT) is None


def test_toe_index() -> None:
    toe = visit({(vessel.ARM, LEFT): 120, (vessel.ARM, RIGHT): 128, (vessel.TOE, RIGHT): 80})
    assert vessel.toe_brachial_index(toe, RIGHT) == Derived(
        Decimal("0.625"), (vessel.ARM, vessel.TOE)
    )
    assert vessel.toe_brachial_index(toe, LEFT) is None
    slopes = dict(vessel.toe_slopes(toe, RIGHT))
    assert slopes[vessel.TOE, RIGHT] == pytest.approx(1 / 128)


@pytest.mark.parametrize(
    ("toe", "arm", "state"),
    [(80, 128, "abnormal"), (90, 128, "abnormal"), (91, 128, "within"), (141, 200, "within")],
)
def test_an_index_is_rounded_half_up_before_banding(toe: int, arm: int, state: str) -> None:
    # usual above 0.70: pocket table of a guideline; 141 / 200 is .705, so .71
    known = catalogue(
        (
            measure(vessel.ARM),
            measure(vessel.TOE),
            measure("toe-brachial-index", kind=Kind.DERIVED, derived_from=(vessel.ARM, vessel.TOE)),
        ),
        (norms("t", "toe-brachial-index", group(low=("<= 0.70 abnormal",)), round_to="0.01"),),
    )
    readings = {(vessel.ARM, LEFT): arm, (vessel.ARM, RIGHT): arm, (vessel.TOE, LEFT): toe}
    assert finding(examination(readings), known, "toe-brachial-index", LEFT).state == state


def skin(left: dict, right: dict) -> Visit:
    return visit(
        {
            ("skin-temperature", side): RegionValues(
                {r: Decimal(str(t)) for r, t in values.items()}
            )
            for side, values in ((LEFT, left), (RIGHT, right))
        }
    )


def test_temperature_difference_at_the_region_that_differs_most() -> None:
    found = vessel.skin_temperature_difference(
        skin({"hallux": 31, "navicular": 30, "toe-2": 20}, {"navicular": 33.5, "hallux": 30})
    )
    assert found == Derived(Decimal("-3.5"), ("skin-temperature",))


def test_temperature_needs_a_region_on_both_sides() -> None:
    assert vessel.skin_temperature_difference(skin({"hallux": 31}, {"navicular": 33})) is None
    assert vessel.skin_temperature_difference(visit({})) is None
    one = visit({("skin-temperature", LEFT): RegionValues({"hallux": Decimal(31)})})
    assert vessel.skin_temperature_difference(one) is None


def wounds(*rows: dict) -> Visit:
    return visit({("wound", LEFT): list(rows)})


def test_oldest_wound() -> None:
    rows = ({"weeks": Decimal(2)}, {"weeks": Decimal("6.5"), "infected": "no"}, {"depth": "skin"})
    assert vessel.wound_weeks(wounds(*rows), LEFT) == Derived(Decimal("6.5"), ("wound",))
    assert vessel.wound_weeks(wounds({"weeks": "unknown"}), LEFT) is None
    assert vessel.wound_weeks(visit({}), LEFT) is None


@pytest.mark.parametrize(
    ("answers", "word"),
    [
        (("no", "yes"), "yes"),
        (("yes", None), "yes"),
        (("no", "no"), "no"),
        (("no", None), None),
        ((), None),
    ],
)
def test_infected_wound(answers: tuple, word: str | None) -> None:
    rows = ({"infected": answer} if answer else {"depth": "skin"} for answer in answers)
    found = vessel.wound_infected(wounds(*rows), LEFT)
    assert (found.value if found else None) == word
