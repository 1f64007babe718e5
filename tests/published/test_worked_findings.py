"""Worked findings of Rule F that must come out with the forms as shipped.

The numbers are those of the worked examples; test_rule_f.py has them all with their norms written
beside them. Findings 1, 2, 7 and 8 rest on a norm of the lunge that does not judge here (S13).
"""

from typing import Any

import pytest

from footexam.terms import Basis, ChangeLabel, Label, Side
from tests.published.cases import (
    LEFT,
    RIGHT,
    assessed,
    change,
    difference,
    finding,
    one,
    the_norm,
)

pytestmark = pytest.mark.derived

FPI_ITEMS = (
    "fpi-talar-head",
    "fpi-malleolar-curves",
    "fpi-calcaneal-position",
    "fpi-talonavicular-bulge",
    "fpi-medial-arch",
    "fpi-forefoot-abduction",
)
FOUR = 0.00006


def fpi(**sides: int) -> dict[str, Any]:
    """Six items with these totals, from 0 to 12."""
    return {
        item: {side: points // 6 + (place < points % 6) for side, points in sides.items()}
        for place, item in enumerate(FPI_ITEMS)
    }


HEIGHTS = one("navicular-height-neutral", 48) | one("navicular-height-resting", 41)
FINDINGS = [
    # example, readings, who, measure, side, limit, P, P by the error alone, basis, label, near
    (3, fpi(right=7), (45, "male"), "fpi-total", RIGHT, 6, None, 0.9144, "possible", True),
    (4, fpi(right=10), (8, "female"), "fpi-total", RIGHT, 6, 0.9949, 0.9993, "likely", False),
    (
        5,
        one("navicular-height-resting", 30),
        (40, "female"),
        "navicular-height-resting",
        RIGHT,
        35.5,
        0.6224,
        0.8674,
        "possible",
        True,
    ),
    (
        6,
        one("longitudinal-arch-angle", 155, LEFT),
        (40, "male"),
        "longitudinal-arch-angle",
        LEFT,
        152.5,
        None,
        None,
        "repeat",
        None,
    ),
    (
        "9b",
        one("foot-length", 276),
        (30, "female"),
        "foot-length",
        RIGHT,
        270.6724,
        None,
        None,
        "repeat",
        None,
    ),
    (15, HEIGHTS, (40, "female"), "navicular-drop", RIGHT, 6, 0.2015, 0.3566, "within", True),
]


@pytest.mark.parametrize(
    ("example", "readings", "who", "measure", "side", "limit", "p", "flat", "label", "near"),
    FINDINGS,
    ids=[f"example {row[0]}" for row in FINDINGS],
)
def test_findings(
    example: object,
    readings: dict[str, Any],
    who: tuple[int, str],
    measure: str,
    side: Side,
    limit: float,
    p: float | None,
    flat: float | None,
    label: str,
    near: bool | None,
) -> None:
    row = finding(assessed(readings, age=who[0], sex=who[1]), measure, side)
    assert row.limit == pytest.approx(limit, abs=FOUR), example
    assert row.probability == (None if p is None else pytest.approx(p, abs=FOUR))
    assert row.probability_error_only == (None if flat is None else pytest.approx(flat, abs=FOUR))
    assert (row.label, row.near_limit) == (label, near)


def test_10_neither_sex_judges() -> None:
    row = finding(assessed(one("foot-length", 262, LEFT), age=30, sex="other"), "foot-length", LEFT)
    assert (row.label, row.state, row.basis) == (Label.NOT_JUDGED, None, None)
    z = {norm.group: (norm.z, norm.centile, norm.judged) for norm in row.norms}
    assert z["men"] == (pytest.approx(-0.7008, abs=FOUR), pytest.approx(24.17, abs=0.005), False)
    assert z["women"] == (pytest.approx(1.2629, abs=FOUR), pytest.approx(89.67, abs=0.005), False)


DIFFERENCES = [
    (
        11,
        {"lunge-distance": {"left": "9.0", "right": "11.0"}},
        "lunge-distance",
        0.3253,
        0.6972,
        1.9,
        "outside",
        True,
    ),
    (
        "11, left 9.4",
        {"lunge-distance": {"left": "9.4", "right": "11.0"}},
        "lunge-distance",
        0.2217,
        0.5418,
        1.9,
        "outside",
        False,
    ),
    (12, fpi(left=1, right=4), "fpi-total", None, 0.6903, 1.9047, "asymmetric", True),
]


@pytest.mark.parametrize(
    ("example", "readings", "measure", "p", "flat", "needed", "state", "beyond"),
    DIFFERENCES,
    ids=[f"example {row[0]}" for row in DIFFERENCES],
)
def test_differences(
    example: object,
    readings: dict[str, Any],
    measure: str,
    p: float | None,
    flat: float,
    needed: float,
    state: str,
    beyond: bool,
) -> None:
    row = difference(assessed(readings), measure)
    assert row.probability == (None if p is None else pytest.approx(p, abs=FOUR)), example
    assert row.probability_error_only == pytest.approx(flat, abs=FOUR)
    assert row.change_needed == pytest.approx(needed, abs=FOUR)
    assert (row.state, row.label, row.beyond_error) == (state, Label.REPEAT, beyond)


LUNGE = "lunge-distance"
CHANGES = [
    ("13a", one(LUNGE, "10.0"), one(LUNGE, "11.8"), LUNGE, True, 1.9, 0.9683, "inside-error"),
    ("13b", one(LUNGE, "10.0"), one(LUNGE, "11.8"), LUNGE, False, 1.9, 0.9683, "inside-error"),
    ("13d", one(LUNGE, "10.0"), one(LUNGE, "12.0"), LUNGE, True, 1.9, 0.9805, "changed"),
    ("14a", fpi(right=5), fpi(right=8), "fpi-total", True, 1.9047, 0.9933, "changed"),
    ("14b", fpi(right=5), fpi(right=8), "fpi-total", False, 3.0388, 0.9435, "inside-error"),
]


@pytest.mark.parametrize(
    ("example", "before", "now", "measure", "same", "needed", "flat", "label"),
    CHANGES,
    ids=[f"example {row[0]}" for row in CHANGES],
)
def test_changes(
    example: str,
    before: dict[str, Any],
    now: dict[str, Any],
    measure: str,
    same: bool,
    needed: float,
    flat: float,
    label: str,
) -> None:
    row = change(before, now, measure, same_examiner=same)
    assert row.change_needed == pytest.approx(needed, abs=FOUR), example
    assert row.probability_error_only == pytest.approx(flat, abs=FOUR)
    assert row.label is ChangeLabel(label)


def test_16_body_mass_index_is_told_and_not_judged() -> None:
    found = assessed({"body-mass": "62 kg", "body-height": "168 cm"})
    row = finding(found, "body-mass-index", None)
    assert float(row.value) == pytest.approx(21.9671, abs=FOUR)
    assert (row.label, row.basis, row.norms, row.change_needed) == (
        Label.NOT_JUDGED,
        None,
        (),
        None,
    )


def test_the_basis_of_a_reading_without_known_error_is_none() -> None:
    row = finding(assessed(one("foot-length", 276), age=30), "foot-length")
    assert row.basis is Basis.NONE
    assert the_norm(row, "foot-length-survey").z == pytest.approx(2.3883, abs=FOUR)
