"""Great toe, hip, leg, gait, heel raises and balance against their sources.

Rows R19 to R22, R24, R26, R45 and R47 of the worked table of the reference notes on ankle
and limb (section 14), read back through an examination file and the forms as shipped.
"""

import pytest

from footexam.scoring.errors import Size
from footexam.terms import ChangeLabel, Label, Provenance
from tests.published.cases import (
    WITHIN,
    assessed,
    band,
    change,
    derived,
    finding,
    one,
    practice,
    published,
    taken,
    the_norm,
    unchecked,
)

HALLUX = "hallux-dorsiflexion"
HAMSTRING = "hamstring-knee-extension-deficit"
INWARD = "hip-internal-rotation"
OUTWARD = "hip-external-rotation"
PROGRESSION = "foot-progression-angle"
STANCE = "single-leg-stance"
RAISES = "heel-raise-count"
OTTER = "Otter 2015 J Foot Ankle Res 8"
LAM = "Lam 2017 World J Orthop 8:364"
STAHELI = "Staheli 1985 JBJS Am 67:39"
TORSION = "rotational review page"
YILDIRIM = "Yildirim 2018 Balkan Med J 35:388"
LOSEL = "Losel 1996 J Pediatr Orthop 16:570"
ROSS = "Ross 2000 J Sport Rehabil 9:117"
BOHANNON_2006 = "Bohannon 2006 Top Geriatr Rehabil 22:70"
TRADE = "rule of thumb"


# Great toe, hip, leg: R19 to R22.

RANGES = [
    published(LAM, 61, WITHIN),
    published(LAM, 60, "range-band-0"),
    published(LAM, 45, "range-band-0"),
    published(LAM, "40.1", "range-band-0"),
    practice(f"{LAM}, shared end", 40, "range-band-1"),
    published(LAM, 35, "range-band-1"),
    published(LAM, "30.1", "range-band-1"),
    practice(f"{LAM}, shared end", 30, "range-band-2"),
    published(LAM, 20, "range-band-2"),
    published(LAM, "10.1", "range-band-2"),
    published(LAM, 10, "range-band-3"),
]


@pytest.mark.parametrize(("source", "value", "expected"), RANGES)
def test_r19_range_bands_of_the_great_toe(source: str, value: object, expected: str) -> None:
    readings = one(HALLUX, value)
    assert band(readings, HALLUX, "hallux-dorsiflexion-range-bands") == expected, source
    assert finding(assessed(readings), HALLUX).label is Label.NOT_JUDGED


HAMSTRINGS = [
    published(YILDIRIM, "male", "32.2", WITHIN),
    published(YILDIRIM, "male", "32.3", "tight"),
    published(YILDIRIM, "female", "19.2", WITHIN),
    published(YILDIRIM, "female", "19.3", "tight"),
]


@pytest.mark.parametrize(("source", "sex", "value", "expected"), HAMSTRINGS)
def test_r20_hamstring(source: str, sex: str, value: str, expected: str) -> None:
    row = finding(assessed(one(HAMSTRING, value), sex=sex, age=20), HAMSTRING)
    assert row.state == expected, source


@pytest.mark.parametrize(
    ("source", "sex", "computed", "printed"),
    [
        derived(f"{YILDIRIM}, R21", "male", 32.07, 32.2),
        derived(f"{YILDIRIM}, R21", "female", 19.18, 19.2),
    ],
)
def test_r21_the_limit_is_mean_plus_1_645_sd(
    source: str, sex: str, computed: float, printed: float
) -> None:
    row = finding(assessed(one(HAMSTRING, 25), sex=sex, age=20), HAMSTRING)
    norm = the_norm(row, "hamstring-passive")
    assert norm.mean is not None
    assert norm.sd is not None
    assert norm.mean + 1.645 * norm.sd == pytest.approx(computed, abs=0.01), source
    assert row.limit == printed
    assert printed == pytest.approx(computed, abs=0.3)


@pytest.mark.parametrize(
    ("source", "left", "right", "mm", "expected"),
    [
        practice(f"{TRADE}, R22", [870, 874], [882, 880], 9, WITHIN),
        practice(TRADE, [870, 870], [880, 880], 10, "moderate"),
        practice(TRADE, [900, 900], [880, 880], 20, "likely-relevant"),
    ],
)
def test_r22_limb_length_by_tape(
    source: str, left: list[int], right: list[int], mm: int, expected: str
) -> None:
    found = assessed({"limb-length": {"left": left, "right": right}})
    row = finding(found, "limb-length-difference", None)
    assert (row.value, row.state) == (mm, expected), source


@pytest.mark.parametrize(
    ("source", "value", "expected"),
    [
        practice(TRADE, 7, WITHIN),
        practice(TRADE, 8, "small"),
        practice(TRADE, 10, "moderate"),
        practice(TRADE, 20, "likely-relevant"),
    ],
)
def test_limb_length_by_blocks(source: str, value: int, expected: str) -> None:
    row = finding(assessed({"pelvic-block-height": value}), "pelvic-block-height", None)
    assert row.state == expected, source


HIPS = [
    published(f"{STAHELI}, pooled 15 to 65", INWARD, 15, WITHIN),
    published(f"{STAHELI}, pooled 15 to 65", INWARD, "14.9", "below"),
    published(f"{STAHELI}, pooled 15 to 65", INWARD, 65, WITHIN),
    published(f"{STAHELI}, pooled 15 to 65", INWARD, "65.1", "above"),
    unchecked(f"{STAHELI}, 25 to 65", OUTWARD, 25, WITHIN),
    unchecked(f"{STAHELI}, 25 to 65", OUTWARD, "24.9", "below"),
    unchecked(f"{STAHELI}, 25 to 65", OUTWARD, "65.1", "above"),
]


@pytest.mark.parametrize(("source", "measure", "value", "expected"), HIPS)
def test_hip_rotation_from_eight_years_on(
    source: str, measure: str, value: object, expected: str
) -> None:
    for age in (8, 40):
        assert finding(assessed(one(measure, value), age=age), measure).state == expected, source


@pytest.mark.parametrize(
    ("source", "value", "expected"),
    [
        published(STAHELI, 69, WITHIN),
        published(STAHELI, 70, "mild"),
        published(STAHELI, 75, "mild"),
        published(STAHELI, 85, "moderate"),
        published(STAHELI, 91, "severe"),
        practice(f"{STAHELI}, shared end", 80, "moderate"),
        practice(f"{STAHELI}, shared end", 90, "severe"),
    ],
)
def test_grades_of_inward_rotation(source: str, value: int, expected: str) -> None:
    grade = band(one(INWARD, value), INWARD, "hip-internal-rotation-grades", age=12)
    assert grade == expected, source


@pytest.mark.parametrize(
    ("source", "age", "value", "expected"),
    [
        unchecked(TORSION, 0, -30, WITHIN),
        unchecked(TORSION, 0, -31, "below"),
        unchecked(TORSION, 0, 21, "above"),
        unchecked(TORSION, 8, -6, "below"),
        unchecked(TORSION, 8, 30, WITHIN),
        unchecked(TORSION, 8, 31, "above"),
        unchecked(TORSION, 4, 31, None),
    ],
)
def test_thigh_foot_angle(source: str, age: int, value: int, expected: str | None) -> None:
    row = finding(assessed(one("tibial-torsion", value), age=age), "tibial-torsion")
    assert row.state == expected, source


# Gait, raises, balance: R24, R26, R45.

PROGRESSIONS = [
    # R24: 4.2 ± 2 × 6.1 is -8 to 16.4, all of 4 to 16 years together
    published(LOSEL, 10, "16.4", WITHIN),
    published(LOSEL, 10, "16.5", "above"),
    published(LOSEL, 10, -8, WITHIN),
    published(LOSEL, 10, "-8.1", "below"),
    published(f"{STAHELI}, -3 to 20", 40, 20, WITHIN),
    published(f"{STAHELI}, -3 to 20", 40, "20.1", "above"),
    published(f"{STAHELI}, -3 to 20", 40, -3, WITHIN),
    published(f"{STAHELI}, -3 to 20", 40, "-3.1", "below"),
]


@pytest.mark.parametrize(("source", "age", "value", "expected"), PROGRESSIONS)
def test_r24_foot_progression(source: str, age: int, value: object, expected: str) -> None:
    assert finding(assessed(one(PROGRESSION, value), age=age), PROGRESSION).state == expected, (
        source
    )


@pytest.mark.derived
@pytest.mark.parametrize("age", [4, 10, 16])
def test_r24_two_sd_of_all_children(age: int) -> None:
    # Losel 1996: 400 children of 4 to 16 years, 4.2 and two SD from -8 to 16.4
    row = finding(assessed(one(PROGRESSION, 5), age=age), PROGRESSION)
    norm = the_norm(row, "foot-progression-4-to-16")
    assert (norm.n, norm.mean, norm.sd) == (400, 4.2, 6.1)
    assert norm.mean + 2 * norm.sd == pytest.approx(16.4)
    assert norm.mean - 2 * norm.sd == pytest.approx(-8.0)


@pytest.mark.published
@pytest.mark.parametrize(("value", "expected"), [(-3, WITHIN), (-4, "below"), (21, "above")])
def test_the_range_from_childhood_on_stands_beside_that_of_children(
    value: int, expected: str
) -> None:
    # Staheli 1985: 10 (-3 to 20), 1000 limbs
    beside = band(one(PROGRESSION, value), PROGRESSION, "foot-progression-adults", age=10)
    assert beside == expected


@pytest.mark.parametrize(
    ("source", "now", "label"),
    [
        derived(f"{ROSS}, 2.772 SEM 2.07 = 5.74, R26", 25, ChangeLabel.INSIDE_ERROR),
        derived(f"{ROSS}, 2.772 SEM 2.07 = 5.74, R26", 26, ChangeLabel.CHANGED),
        derived(f"{ROSS}, 2.772 SEM 2.07 = 5.74, R26", 27, ChangeLabel.CHANGED),
    ],
)
def test_r26_change_of_heel_raises(source: str, now: int, label: ChangeLabel) -> None:
    row = change(one(RAISES, 20), one(RAISES, now), RAISES)
    assert row.change_needed == pytest.approx(5.74, abs=0.005)
    assert row.label is label, source


@pytest.mark.derived
def test_r45_two_steps_to_a_stride() -> None:
    # J Exp Biol 2015;218:3406: 84.8 (3.6) strides a minute
    row = finding(assessed(one("running-cadence", 170, None)), "running-cadence", None)
    norm = the_norm(row, "running-cadence-economy")
    assert (norm.mean, norm.sd, norm.n) == (pytest.approx(2 * 84.8), pytest.approx(2 * 3.6), 14)
    assert norm.provenance is Provenance.ESTIMATE


@pytest.mark.parametrize(
    ("source", "age", "method", "value", "expected"),
    [
        published(f"{BOHANNON_2006}, below 5 s", 60, "eyes-open", "4.9", "short"),
        published(f"{BOHANNON_2006}, below 5 s", 60, "eyes-open", 5, WITHIN),
        published(f"{BOHANNON_2006}, 60 years on", 59, "eyes-open", "4.9", None),
        published(f"{BOHANNON_2006}, eyes open", 60, "eyes-closed", "4.9", None),
    ],
)
def test_stance_on_one_leg(
    source: str, age: int, method: str, value: object, expected: str | None
) -> None:
    row = finding(assessed(one(STANCE, taken(value, method)), age=age), STANCE)
    assert row.state == expected, source


# Measurement error: R47.


@pytest.mark.parametrize(
    ("source", "same_examiner", "sem", "mdc95"),
    [
        derived(f"{OTTER}, SD 12.2, ICC .693, R47", False, 6.76, 18.74),
        derived(f"{OTTER}, SD 12.2, ICC above .809", True, 5.33, 14.78),
    ],
)
def test_r47_error_of_hallux_dorsiflexion(
    source: str, same_examiner: bool, sem: float, mdc95: float
) -> None:
    row = change(one(HALLUX, 60), one(HALLUX, 70), HALLUX, same_examiner=same_examiner)
    assert row.change_needed == pytest.approx(mdc95, abs=0.01), source
    assert Size(sem).change == pytest.approx(mdc95, abs=0.02), source
