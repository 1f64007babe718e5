"""Ankle and lunge against their sources.

The worked table of the reference notes on ankle and limb (section 14), rows named R1 to R14, read
back through an examination file and the forms as shipped. Its other rows stand in
test_hip_and_gait.py and test_scores_and_vessels.py, the printed means in test_printed_norms.py.

Rows without a test, as the program has neither measure nor function for them: 15 (geometry of the
lunge), 16 (likelihood ratios), 18 (rule for imaging bone stress), 23 (Q-angle), 25 (torque), 29 and
30 (reach), 46 (step-width variability), 48 (heel-off in percent of the cycle).
"""

from typing import Any

import pytest

from footexam.scoring.errors import Size
from footexam.terms import Basis, ChangeLabel, Label, Provenance
from tests.published.cases import (
    LEFT,
    RIGHT,
    WITHIN,
    assessed,
    band,
    change,
    derived,
    difference,
    finding,
    forms,
    one,
    practice,
    published,
    score,
    taken,
    the_norm,
    unchecked,
)

STRAIGHT = "ankle-dorsiflexion-knee-straight"
BENT = "ankle-dorsiflexion-knee-bent"
LUNGE = "lunge-distance"
LUNGE_STRAIGHT = "lunge-angle-knee-straight"
LUNGE_BENT = "lunge-angle-knee-bent"
LUNGE_BENT_20 = "lunge-angle-knee-bent-20"
GAIN = "gastrocnemius-difference"
BAUMBACH_2016 = "Baumbach 2016 Arch Orthop Trauma Surg 136:1203"
DIGIOVANNI = "DiGiovanni 2002 JBJS Am 84:962"
SAXENA = "Saxena 2003 J Am Podiatr Med Assoc 93:312"
HOCH = "Hoch 2011 Man Ther 16:516"
POWDEN = "Powden 2015 Man Ther"
KONOR = "Konor 2012 IJSPT 7:279"
SEARLE = "Searle 2018 J Foot Ankle Res"
GASTROCNEMIUS = "Bone Joint J 2018;100-B:945"
TRADE = "rule of thumb"


def ankle(
    straight: object, bent: object = None, feel: str | None = None, torque: object = None
) -> dict[str, Any]:
    typed = {STRAIGHT: straight, BENT: bent, "ankle-end-feel": feel, "ankle-torque": torque}
    return {name: {"right": value} for name, value in typed.items() if value is not None}


# Measurement error: R1 to R5, R47.


@pytest.mark.derived
def test_r1_and_r2_error_of_dorsiflexion_knee_straight() -> None:
    # SD 5.9 and ICC .876, Baumbach 2016
    (error,) = (error for error in forms().measures[STRAIGHT].errors if error.used)
    assert error.standard_error() == pytest.approx(2.08, abs=0.005)
    row = finding(assessed(ankle(12)), STRAIGHT)
    assert row.change_needed == pytest.approx(5.76, abs=0.005)


KONOR_ERRORS = [
    published(f"{KONOR}, tape", 0.4, 1.1),
    published(f"{KONOR}, tape", 0.6, 1.5),
    published(f"{KONOR}, inclinometer", 1.3, 3.7),
    published(f"{KONOR}, inclinometer", 1.4, 3.8),
    published(f"{KONOR}, goniometer", 1.8, 5.0),
    published(f"{KONOR}, goniometer", 2.8, 7.7),
]


@pytest.mark.parametrize(("source", "sem", "mdc95"), KONOR_ERRORS)
def test_r3_to_r5_change_needed_as_printed(source: str, sem: float, mdc95: float) -> None:
    # the printed SEM has one decimal: the printed change lies where its rounding allows
    low, high = Size(sem - 0.05).change, Size(sem + 0.05).change
    assert low - 0.05 <= mdc95 <= high + 0.05, source


@pytest.mark.parametrize(
    ("source", "method", "sem"),
    [
        published(f"{KONOR}, larger of 1.3 and 1.4", "inclinometer-shin", 1.4),
        published(f"{KONOR}, larger of 1.8 and 2.8", "goniometer", 2.8),
    ],
)
def test_a_lunge_has_the_error_of_its_instrument(source: str, method: str, sem: float) -> None:
    row = finding(assessed(one(LUNGE_BENT, taken(40, method))), LUNGE_BENT)
    assert row.change_needed == pytest.approx(Size(sem).change), source


@pytest.mark.parametrize(
    ("source", "measure", "same_examiner", "needed"),
    [
        published(POWDEN, LUNGE, True, 1.9),
        published(POWDEN, LUNGE_BENT, True, 4.7),
    ],
)
def test_change_needed_of_the_lunge_as_printed(
    source: str, measure: str, same_examiner: bool, needed: float
) -> None:
    row = change(one(measure, 20), one(measure, 22), measure, same_examiner=same_examiner)
    assert row.change_needed == needed, source


# The pattern of the ankle: R6 to R9.

PATTERNS = [
    practice(TRADE, ankle(4, 18, "firm"), "gastrocnemius"),
    practice(TRADE, ankle(4, 9, "firm"), "gastrocnemius-soleus"),
    practice(TRADE, ankle(4, 9, "hard"), "gastrocnemius-soleus"),
    practice(TRADE, ankle(4, 8, "hard"), "possible-bony-block"),
    practice(TRADE, ankle(4, 9, "soft"), "gastrocnemius-soleus"),
    practice(TRADE, ankle(4, 9), "gastrocnemius-soleus"),
    practice(TRADE, ankle(5), "restricted-bent-missing"),
    practice(TRADE, ankle(5, 18), "gastrocnemius"),
    practice(TRADE, ankle("5.5"), "borderline"),
    practice(TRADE, ankle(10), "borderline"),
    practice(TRADE, ankle("10.5"), "not-restricted"),
    practice(TRADE, ankle(12, 7), "inconsistent"),
    practice(TRADE, ankle(12, 9), "not-restricted"),
]


@pytest.mark.parametrize(("source", "readings", "expected"), PATTERNS)
def test_r6_to_r9_ankle_pattern(source: str, readings: dict[str, Any], expected: str) -> None:
    found = score(assessed(readings), "ankle-pattern")
    assert found is not None
    assert found.value == expected, source
    assert [(row.source, row.provenance) for row in found.bands] == [
        ("common-practice", Provenance.COMMON_PRACTICE)
    ]


@pytest.mark.parametrize(
    ("source", "readings", "expected"),
    [
        published(DIGIOVANNI, ankle(5, torque=10), "restricted"),
        published(DIGIOVANNI, ankle("5.1", torque=10), "not-restricted"),
        practice("10 N·m within 2", ankle(5, torque=12), "restricted"),
        practice("10 N·m within 2", ankle(5, torque="12.1"), None),
        practice("10 N·m within 2", ankle(5, torque="7.9"), None),
    ],
)
def test_r6_five_degrees_at_ten_newton_metres(
    source: str, readings: dict[str, Any], expected: str | None
) -> None:
    found = score(assessed(readings), "ankle-pattern")
    assert found is not None
    bands = {row.set: (row.band, row.source, row.provenance) for row in found.bands}
    shown = bands.get("ankle-straight-10-nm")
    if expected is None:
        assert shown is None, source
    else:
        assert shown == (expected, "digiovanni-2002", Provenance.PUBLISHED), source


@pytest.mark.published
def test_r6_the_caution_names_the_healthy_groups_that_the_rule_would_label() -> None:
    # Baumbach 2014: 4 and 20 degrees; Saxena 2003: 0.35 and 4.88 degrees
    text = forms().measures["ankle-pattern"].against["en"]
    assert "4/20°" in text
    assert "0.35/4.88°" in text


@pytest.mark.parametrize(
    ("source", "value", "near"),
    [
        derived(f"{BAUMBACH_2016}, 1.96 SEM = 4.07", "13.9", True),
        derived(f"{BAUMBACH_2016}, 1.96 SEM = 4.07", "6.1", True),
        derived(f"{BAUMBACH_2016}, 1.96 SEM = 4.07", "14.1", False),
        derived(f"{BAUMBACH_2016}, 1.96 SEM = 4.07", "5.9", False),
    ],
)
def test_a_reading_within_four_degrees_of_the_line_is_near(
    source: str, value: str, near: bool
) -> None:
    assert finding(assessed(ankle(value)), STRAIGHT).near_limit is near, source


DORSIFLEXION_STATES = [
    practice(TRADE, ankle(10), 40, STRAIGHT, WITHIN),
    practice(TRADE, ankle("9.9"), 40, STRAIGHT, "below"),
    published(DIGIOVANNI, one(STRAIGHT, taken(5, "torque-device")), 40, STRAIGHT, "below"),
    published(DIGIOVANNI, one(STRAIGHT, taken("5.1", "torque-device")), 40, STRAIGHT, WITHIN),
    practice(TRADE, one(BENT, 10), 40, BENT, "below"),
    practice(TRADE, one(BENT, "10.1"), 40, BENT, WITHIN),
]


@pytest.mark.parametrize(("source", "readings", "age", "measure", "expected"), DORSIFLEXION_STATES)
def test_dorsiflexion_limits(
    source: str, readings: dict[str, Any], age: int, measure: str, expected: str
) -> None:
    assert finding(assessed(readings, age=age), measure).state == expected, source


# Athletes of 14 to 17 years. Knee straight the error of the examiner is as large as the spread:
# the limits stand as cuts, mean ± 1.96 SD, and the error alone tells how sure they are.

ATHLETES = [
    derived(SAXENA, "other", "right", 40, 0.35, 2.2),
    derived(SAXENA, "other", "left", 40, -0.6, 2.09),
    derived(SAXENA, "female", "right", 16, 0.19, 2.1),
    derived(SAXENA, "female", "left", 16, -0.7, 2.3),
    derived(SAXENA, "male", "right", 24, 0.46, 2.3),
    derived(SAXENA, "male", "left", 24, -0.5, 1.98),
]


@pytest.mark.parametrize(("source", "sex", "side", "n", "mean", "sd"), ATHLETES)
def test_limits_of_athletes_knee_straight(
    source: str, sex: str, side: str, n: int, mean: float, sd: float
) -> None:
    where = LEFT if side == "left" else RIGHT
    row = finding(assessed(one(STRAIGHT, -6, where), sex=sex, age=16), STRAIGHT, where)
    assert row.limit == pytest.approx(mean - 1.96 * sd), source
    assert (row.state, row.operator, row.basis) == ("below", "<", Basis.ERROR_ONLY)
    assert [norm.n for norm in row.norms if norm.judged] == [n]
    high = finding(assessed(one(STRAIGHT, 6, where), sex=sex, age=16), STRAIGHT, where)
    assert high.limit == pytest.approx(mean + 1.96 * sd), source


@pytest.mark.derived
def test_a_boys_left_ankle_at_minus_six() -> None:
    # worked finding 9a of Rule F: error only .7821, so a repeat
    row = finding(assessed(one(STRAIGHT, -6, LEFT), sex="male", age=16), STRAIGHT, LEFT)
    assert row.probability is None
    assert row.probability_error_only == pytest.approx(0.7821, abs=0.00006)
    assert row.label is Label.REPEAT
    assert row.change_needed == pytest.approx(5.7588, abs=0.00006)


# Lunge: R10 to R14.


@pytest.mark.parametrize(
    ("source", "bent", "straight", "gain", "expected"),
    [
        published(GASTROCNEMIUS, 36, 22, 14, "above"),
        published(GASTROCNEMIUS, 35, 22, 13, WITHIN),
        published(GASTROCNEMIUS, "35.5", "22.4", 13.1, "above"),
    ],
)
def test_r10_gain_of_the_lunge(
    source: str, bent: object, straight: object, gain: float, expected: str
) -> None:
    readings = one(LUNGE_BENT_20, bent) | one(LUNGE_STRAIGHT, straight)
    row = finding(assessed(readings), GAIN)
    assert float(row.value) == gain
    assert row.state == expected, source


@pytest.mark.published
def test_r10_the_knee_to_wall_angle_gives_no_gain() -> None:
    # Bone Joint J 2018;100-B:945 took the bent reading in the same lunge
    assert score(assessed(one(LUNGE_BENT, 40) | one(LUNGE_STRAIGHT, 26)), GAIN) is None


LUNGE_SIDES = [
    unchecked(f"{HOCH}, {POWDEN}", "11.0", "9.5", WITHIN, False),
    unchecked(f"{HOCH}, {POWDEN}", "8.3", "6.8", WITHIN, False),
    unchecked(f"{HOCH}, {POWDEN}", "11.0", "9.4", "outside", False),
    unchecked(f"{HOCH}, {POWDEN}", "11.0", "9.0", "outside", True),
    unchecked(f"{HOCH}, {POWDEN}", "9.0", "11.0", "outside", True),
]


@pytest.mark.parametrize(("source", "left", "right", "state", "beyond_error"), LUNGE_SIDES)
def test_r11_sides_of_the_lunge(
    source: str, left: str, right: str, state: str, beyond_error: bool
) -> None:
    row = difference(assessed({LUNGE: {"left": left, "right": right}}), LUNGE)
    assert (row.state, row.beyond_error) == (state, beyond_error), source


@pytest.mark.parametrize(
    ("source", "left", "right", "beyond_error"),
    [
        published(f"{POWDEN}, 1.9 cm", "8.3", "6.5", False),
        published(f"{POWDEN}, 1.9 cm", "8.3", "6.4", True),
    ],
)
def test_r11_error_of_a_side_difference(
    source: str, left: str, right: str, beyond_error: bool
) -> None:
    row = difference(assessed({LUNGE: {"left": left, "right": right}}), LUNGE)
    assert row.beyond_error is beyond_error, source


@pytest.mark.parametrize(
    ("source", "before", "now", "label"),
    [
        published(f"{POWDEN}, 1.9 cm", "10.0", "11.8", ChangeLabel.INSIDE_ERROR),
        published(f"{POWDEN}, 1.9 cm", "10.0", "12.0", ChangeLabel.CHANGED),
        published(f"{POWDEN}, 1.9 cm", "4.2", "6.1", ChangeLabel.CHANGED),
    ],
)
def test_r12_change_of_the_lunge(source: str, before: str, now: str, label: ChangeLabel) -> None:
    assert change(one(LUNGE, before), one(LUNGE, now), LUNGE).label is label, source


@pytest.mark.parametrize(
    ("source", "value", "z"),
    [derived(f"{HOCH}, 12 (2.8)", 5, -2.50), derived(f"{HOCH}, 12 (2.8)", 10, -0.71)],
)
def test_r13_z_of_the_lunge(source: str, value: int, z: float) -> None:
    row = finding(assessed(one(LUNGE, value)), LUNGE)
    assert the_norm(row, "lunge-distance-healthy").z == pytest.approx(z, abs=0.005), source


@pytest.mark.parametrize(
    ("source", "measure", "value", "expected"),
    [
        published(SEARLE, LUNGE_STRAIGHT, 29, "below"),
        published(SEARLE, LUNGE_STRAIGHT, 30, WITHIN),
        published(f"{SEARLE}, knee straight only", LUNGE_BENT, 29, None),
    ],
)
def test_r14_the_thirty_degree_line(
    source: str, measure: str, value: int, expected: str | None
) -> None:
    readings = one(measure, value)
    assert band(readings, measure, "lunge-angle-straight-30-line") == expected, source
    row = finding(assessed(readings), measure)
    assert all(not norm.judged for norm in row.norms if norm.set == "lunge-angle-straight-30-line")


@pytest.mark.published
def test_gain_of_the_lunge_in_controls() -> None:
    # Bone Joint J 2018;100-B:945: 6.0 (3.5), 291 controls; mean + 2 SD is 13
    readings = one(LUNGE_BENT_20, 28) | one(LUNGE_STRAIGHT, 22)
    norm = the_norm(finding(assessed(readings), GAIN), "gastrocnemius-difference-limit")
    assert (norm.n, norm.mean, norm.sd, norm.z) == (291, 6.0, 3.5, 0.0)


@pytest.mark.published
@pytest.mark.parametrize(("gap", "expected"), [("6.0", WITHIN), ("6.1", "outside")])
def test_sides_of_dorsiflexion_knee_straight(gap: str, expected: str) -> None:
    # Baumbach 2016: less than 6 degrees (95 %); the cut with its operator as Rule F shows it
    row = difference(assessed({STRAIGHT: {"left": gap, "right": 0}}), STRAIGHT)
    assert (row.usual_limit, row.operator, row.state) == (6.0, ">", expected)
