"""Printed means and SD of ankle, limb and gait, read back beside a finding.

The reading is the printed mean, so that z is 0 where there is an SD.
"""

from typing import Any

import pytest

from tests.published.cases import (
    LEFT,
    RIGHT,
    assessed,
    band,
    derived,
    finding,
    one,
    practice,
    published,
    taken,
    the_norm,
    unchecked,
)

STRAIGHT = "ankle-dorsiflexion-knee-straight"
BENT = "ankle-dorsiflexion-knee-bent"
LUNGE = "lunge-distance"
LUNGE_STRAIGHT = "lunge-angle-knee-straight"
LUNGE_BENT = "lunge-angle-knee-bent"
HAMSTRING = "hamstring-knee-extension-deficit"
INWARD = "hip-internal-rotation"
OUTWARD = "hip-external-rotation"
PROGRESSION = "foot-progression-angle"
STANCE = "single-leg-stance"
SPEED = "walking-speed"
RAISES = "heel-raise-count"
BAUMBACH_2014 = "Baumbach 2014 BMC Musculoskelet Disord 15:246"
BAUMBACH_2016 = "Baumbach 2016 Arch Orthop Trauma Surg 136:1203"
DIGIOVANNI = "DiGiovanni 2002 JBJS Am 84:962"
SAXENA = "Saxena 2003 J Am Podiatr Med Assoc 93:312"
SOUCIE = "Soucie 2011 Haemophilia 17:500"
JASTIFER = "Jastifer 2016 Foot Ankle Int 37:1165"
MOTION = "J Sci Med Sport 2017 PMID 28108266"
CALATAYUD = "Calatayud 2015 IJSPT 10:197"
HOCH = "Hoch 2011 Man Ther 16:516"
KOUYOUMDJIAN = "Kouyoumdjian 2012 Orthop Traumatol Surg Res 98:17"
HIP_BY_SEX = "PMC6089031 table 1"
YILDIRIM = "Yildirim 2018 Balkan Med J 35:388"
LOSEL = "Losel 1996 J Pediatr Orthop 16:570"
BOHANNON_2006 = "Bohannon 2006 Top Geriatr Rehabil 22:70"
NAWOCZENSKI = "Nawoczenski 1999 JBJS Am 81:370"
PAYNE = "Payne 2002 J Am Podiatr Med Assoc 92:269"
SANCHEZ = "Sanchez-Gomez 2020 Foot Ankle Int 41:457"
BOHANNON_2011 = "Bohannon 2011 Physiotherapy 97:182"
HALLUX, LOADED, LIFT = (
    "hallux-dorsiflexion",
    "hallux-dorsiflexion-ray-loaded",
    "hallux-dorsiflexion-standing",
)
SPRINGER = "Springer 2007 J Geriatr Phys Ther 30:8"


NORMS = [
    unchecked("Halstead 2006 JOSPT", LIFT, "right", {}, "hallux-lift-controls", 15, 39.4, 6.1),
    published(
        BAUMBACH_2016, STRAIGHT, "left", {}, "dorsiflexion-straight-young-2016", 64, 22.7, 5.9
    ),
    published(
        BAUMBACH_2016, STRAIGHT, "right", {}, "dorsiflexion-straight-young-2016", 64, 23.4, 6.5
    ),
    published(MOTION, LUNGE, "right", {}, "lunge-distance-adults", 50, 10.3, 3.0),
    published(CALATAYUD, LUNGE, "left", {"sex": "male"}, "lunge-distance-students", 26, 11.6, 4.0),
    published(CALATAYUD, LUNGE, "right", {"sex": "male"}, "lunge-distance-students", 26, 11.8, 4.2),
    unchecked(HOCH, LUNGE, "right", {}, "lunge-distance-healthy", 35, 12.0, 2.8),
    published(MOTION, LUNGE_BENT, "right", {}, "lunge-angle-bent-adults", 50, 39.0, 4.6),
    published(
        MOTION,
        LUNGE_BENT,
        "right",
        {"method": "inclinometer-shin"},
        "lunge-angle-bent-low-site",
        50,
        44.9,
        5.5,
    ),
    published(
        CALATAYUD,
        LUNGE_BENT,
        "right",
        {"sex": "male", "method": "goniometer"},
        "lunge-angle-bent-students",
        26,
        40.6,
        5.2,
    ),
    published(
        BAUMBACH_2016, LUNGE_STRAIGHT, "left", {}, "lunge-angle-straight-adults", 64, 33.3, 5.5
    ),
    published(
        BAUMBACH_2016, LUNGE_STRAIGHT, "right", {}, "lunge-angle-straight-adults", 64, 33.6, 5.6
    ),
    published(HIP_BY_SEX, INWARD, "right", {"sex": "male"}, f"{INWARD}-by-sex", 16, 35.1, 4.7),
    published(HIP_BY_SEX, INWARD, "right", {"sex": "female"}, f"{INWARD}-by-sex", 16, 42.7, 10.3),
    published(HIP_BY_SEX, OUTWARD, "right", {"sex": "male"}, f"{OUTWARD}-by-sex", 16, 41.9, 6.6),
    published(HIP_BY_SEX, OUTWARD, "right", {"sex": "female"}, f"{OUTWARD}-by-sex", 16, 41.1, 6.4),
    published(
        YILDIRIM,
        HAMSTRING,
        "right",
        {"sex": "male", "age": 20},
        "hamstring-passive",
        None,
        17.1,
        9.1,
    ),
    published(
        YILDIRIM,
        HAMSTRING,
        "right",
        {"sex": "female", "age": 20},
        "hamstring-passive",
        None,
        9.8,
        5.7,
    ),
    published(LOSEL, PROGRESSION, "right", {"age": 4}, "foot-progression-children", None, 2.8, 6.9),
    published(LOSEL, PROGRESSION, "right", {"age": 5}, "foot-progression-children", None, 2.8, 6.9),
    published(
        LOSEL, PROGRESSION, "right", {"age": 16}, "foot-progression-children", None, 7.3, 4.4
    ),
    published(
        "Kasovic 2021 Clin Interv Aging 16:225",
        SPEED,
        None,
        {"age": 60},
        "walking-speed-older",
        565,
        1.24,
        0.28,
    ),
    unchecked(
        "Lunsford 1995 Phys Ther",
        RAISES,
        "right",
        {"age": 20},
        "heel-raises-20-to-59",
        203,
        27.9,
        11.1,
    ),
    published(
        SAXENA,
        BENT,
        "right",
        {"sex": "female", "age": 16},
        "dorsiflexion-bent-athletes",
        16,
        4.88,
        3.59,
    ),
    published(
        SAXENA,
        BENT,
        "left",
        {"sex": "female", "age": 16},
        "dorsiflexion-bent-athletes",
        16,
        4.88,
        3.07,
    ),
    published(
        SAXENA,
        BENT,
        "right",
        {"sex": "male", "age": 14},
        "dorsiflexion-bent-athletes",
        24,
        4.88,
        3.04,
    ),
    published(
        SAXENA,
        BENT,
        "left",
        {"sex": "male", "age": 17},
        "dorsiflexion-bent-athletes",
        24,
        4.54,
        3.55,
    ),
    published(
        SAXENA,
        BENT,
        "right",
        {"sex": "other", "age": 16},
        "dorsiflexion-bent-athletes",
        40,
        4.88,
        3.23,
    ),
    published(
        SAXENA,
        BENT,
        "left",
        {"sex": "other", "age": 16},
        "dorsiflexion-bent-athletes",
        40,
        4.68,
        3.33,
    ),
    published(
        SAXENA,
        STRAIGHT,
        "left",
        {"sex": "male", "age": 16},
        "dorsiflexion-straight-athletes",
        24,
        -0.5,
        1.98,
    ),
]


@pytest.mark.parametrize(("source", "measure", "side", "who", "norms", "n", "mean", "sd"), NORMS)
def test_printed_mean_and_sd(
    source: str,
    measure: str,
    side: str | None,
    who: dict[str, Any],
    norms: str,
    n: int | None,
    mean: float,
    sd: float,
) -> None:
    row = _read_at(measure, side, who, mean)
    (norm,) = (
        norm for norm in row.norms if norm.set == norms and norm.mean == mean and norm.n == n
    )
    assert (norm.sd, norm.z) == (sd, 0.0), source


def _read_at(measure: str, side: str | None, who: dict[str, Any], value: float) -> Any:
    """The finding of a reading; `who` may hold the method beside age and sex."""
    person = {key: found for key, found in who.items() if key != "method"}
    typed = taken(value, who["method"]) if "method" in who else value
    where = {"left": LEFT, "right": RIGHT, None: None}[side]
    return finding(assessed(one(measure, typed, where), **person), measure, where)


MEANS = [
    unchecked(NAWOCZENSKI, HALLUX, {}, "hallux-dorsiflexion-healthy", 33, 57.0),
    unchecked(NAWOCZENSKI, LIFT, {}, "hallux-lift-healthy", 33, 37.0),
    unchecked(
        "Sobel 1999",
        "resting-calcaneal-stance",
        {},
        "resting-calcaneal-stance-second-source",
        None,
        6.1,
    ),
    unchecked(
        "Garbalosa 1994",
        "forefoot-to-rearfoot",
        {},
        "forefoot-to-rearfoot-second-source",
        120,
        -7.8,
    ),
    published(BAUMBACH_2014, STRAIGHT, {"age": 18}, "dorsiflexion-straight-young-2014", 20, 4.0),
    published(BAUMBACH_2014, BENT, {"age": 40}, "dorsiflexion-bent-young-2014", 20, 20.0),
    published(
        DIGIOVANNI,
        STRAIGHT,
        {"method": "torque-device"},
        "dorsiflexion-straight-torque-controls",
        34,
        13.1,
    ),
    published(
        DIGIOVANNI, BENT, {"method": "torque-device"}, "dorsiflexion-bent-torque-controls", 34, 22.3
    ),
    published(JASTIFER, STRAIGHT, {}, "dorsiflexion-straight-device-controls", 66, 17.2),
    published(SOUCIE, STRAIGHT, {"age": 2}, "dorsiflexion-children", None, 24.8),
    published(SOUCIE, STRAIGHT, {"age": 8, "sex": "male"}, "dorsiflexion-children", None, 22.8),
    published(BAUMBACH_2014, LUNGE_BENT, {}, "lunge-angle-bent-young-2014", 20, 39.0),
    published(BAUMBACH_2014, LUNGE_STRAIGHT, {}, "lunge-angle-straight-young-2014", 20, 25.0),
    published(KOUYOUMDJIAN, INWARD, {"method": "prone"}, f"{INWARD}-prone", 120, 35.2),
    published(KOUYOUMDJIAN, INWARD, {"method": "supine"}, f"{INWARD}-supine", 120, 29.6),
    published(KOUYOUMDJIAN, INWARD, {"method": "seated"}, f"{INWARD}-seated", 120, 37.9),
    published(KOUYOUMDJIAN, OUTWARD, {"method": "prone"}, f"{OUTWARD}-prone", 120, 41.8),
    published(KOUYOUMDJIAN, OUTWARD, {"method": "supine"}, f"{OUTWARD}-supine", 120, 38.5),
    derived(
        f"{KOUYOUMDJIAN}, 78.5 - 37.9",
        OUTWARD,
        {"method": "seated"},
        f"{OUTWARD}-seated",
        120,
        40.6,
    ),
    published(
        NAWOCZENSKI,
        "hallux-dorsiflexion-gait",
        {},
        "hallux-dorsiflexion-walking",
        33,
        42.0,
    ),
    published("1932 J Bone Joint Surg 14", PROGRESSION, {}, "foot-progression-1932", None, 7.5),
    published(
        BOHANNON_2006, STANCE, {"age": 60, "method": "eyes-open"}, f"{STANCE}-pooled", None, 27.0
    ),
    published(
        BOHANNON_2006, STANCE, {"age": 79, "method": "eyes-open"}, f"{STANCE}-pooled", None, 17.2
    ),
    published(
        BOHANNON_2006, STANCE, {"age": 80, "method": "eyes-open"}, f"{STANCE}-pooled", None, 8.5
    ),
]


BY_AGE = {
    # means without SD, ascribed to the source; women and girls, men and boys, from the first age on
    (SOUCIE, STRAIGHT, "dorsiflexion-by-age"): (
        {9: 17.3, 20: 13.8, 45: 11.6},
        {9: 16.3, 20: 12.7, 45: 11.9},
    ),
    (SOUCIE, "ankle-plantarflexion", "plantarflexion-by-age"): (
        {2: 67.1, 9: 57.3, 20: 62.1, 45: 56.5},
        {2: 55.8, 9: 52.8, 20: 54.6, 45: 49.4},
    ),
    (BOHANNON_2011, SPEED, "walking-speed-pooled-other-ages"): (
        {20: 1.34, 30: 1.34, 40: 1.39, 50: 1.31, 60: 1.24, 70: 1.13},
        {20: 1.36, 30: 1.43, 50: 1.43, 60: 1.34, 70: 1.26, 80: 0.97},
    ),
}


@pytest.mark.parametrize(
    ("source", "measure", "norms", "sex", "age", "mean"),
    [
        unchecked(source, measure, norms, sex, age, mean)
        for (source, measure, norms), both in BY_AGE.items()
        for sex, means in zip(("female", "male"), both, strict=True)
        for age, mean in means.items()
    ],
)
def test_means_by_age_and_sex(
    source: str, measure: str, norms: str, sex: str, age: int, mean: float
) -> None:
    side = None if measure == SPEED else "right"
    norm = the_norm(_read_at(measure, side, {"sex": sex, "age": age}, mean), norms)
    assert (norm.mean, norm.sd, norm.provenance) == (mean, None, "published-unchecked"), source


STANCES = {
    # Springer 2007: seconds from the first age on
    ("open-mean", "eyes-open"): {18: 43, 40: 40, 50: 37, 60: 27, 70: 15, 80: 6},
    ("open-best", "eyes-open"): {18: 44.7, 40: 41.9, 50: 41.2, 60: 32.1, 70: 21.5, 80: 9.4},
    ("closed-best", "eyes-closed"): {18: 15.2, 50: 8.3, 60: 4.4, 70: 3.1, 80: 1.9},
}


@pytest.mark.parametrize(
    ("source", "norms", "method", "age", "mean"),
    [
        unchecked(SPRINGER, f"{STANCE}-{norms}", method, age, mean)
        for (norms, method), means in STANCES.items()
        for age, mean in means.items()
    ],
)
def test_mean_time_on_one_leg(source: str, norms: str, method: str, age: int, mean: float) -> None:
    norm = the_norm(_read_at(STANCE, "right", {"age": age, "method": method}, mean), norms)
    assert (norm.mean, norm.provenance) == (mean, "published-unchecked"), source


CUTS = [
    # the first value that is outside, and the last that is not
    published(
        "Glasoe 2022 Foot Ankle Spec",
        "first-ray-dorsal-travel",
        "first-ray-dorsal-limit",
        "8.1",
        8,
        "above",
    ),
    published(PAYNE, HALLUX, "hallux-dorsiflexion-assumed-limit", "64.9", 65, "below"),
    unchecked(PAYNE, LOADED, "hallux-dorsiflexion-loaded-12", "11.9", 12, "below"),
    published(SANCHEZ, LOADED, "hallux-dorsiflexion-loaded-21", "20.9", 21, "below"),
    published(SANCHEZ, LIFT, "hallux-lift-25", "25.4", "25.5", "below"),
    unchecked("Charles 2010", STRAIGHT, "dorsiflexion-straight-two-stages", "9.9", 10, "stage-1"),
    unchecked("Charles 2010", STRAIGHT, "dorsiflexion-straight-two-stages", "4.9", 10, "stage-2"),
    unchecked("Charles 2010", STRAIGHT, "dorsiflexion-straight-two-stages", 5, 10, "stage-1"),
    practice("rule of thumb", LUNGE, "lunge-distance-minimum", "9.9", 10, "borderline"),
    practice("rule of thumb", LUNGE, "lunge-distance-minimum", "8.9", 10, "below"),
    practice("rule of thumb", LUNGE_BENT, "lunge-angle-bent-minimum", "37.9", 38, "borderline"),
    practice("rule of thumb", LUNGE_BENT, "lunge-angle-bent-minimum", "34.9", 38, "below"),
    practice(
        "rule of thumb",
        "hallux-interphalangeal-extension",
        "hallux-interphalangeal-limit",
        "15.1",
        15,
        "above",
    ),
    practice(
        "rule of thumb",
        "eversion-left-standing",
        "eversion-left-standing-reserve",
        "1.9",
        2,
        "below",
    ),
]


@pytest.mark.parametrize(("source", "measure", "norms", "outside", "inside", "expected"), CUTS)
def test_printed_limits(
    source: str, measure: str, norms: str, outside: object, inside: object, expected: str
) -> None:
    assert band(one(measure, outside), measure, norms) == expected, source
    assert band(one(measure, inside), measure, norms) == "within", source


@pytest.mark.parametrize(
    ("source", "value", "expected"),
    [
        unchecked("report of a 100 km race", 159, "below"),
        unchecked("report of a 100 km race", 160, "within"),
        unchecked("report of a 100 km race", 210, "within"),
        unchecked("report of a 100 km race", 211, "above"),
    ],
)
def test_cadence_of_leading_runners(source: str, value: int, expected: str) -> None:
    readings = one("running-cadence", value, None)
    assert band(readings, "running-cadence", "running-cadence-race", None) == expected, source


@pytest.mark.parametrize(("source", "measure", "who", "norms", "n", "mean"), MEANS)
def test_printed_mean_without_sd(
    source: str, measure: str, who: dict[str, Any], norms: str, n: int | None, mean: float
) -> None:
    norm = the_norm(_read_at(measure, "right", who, mean), norms)
    assert (norm.n, norm.mean, norm.sd, norm.z) == (n, mean, None, None), source


@pytest.mark.parametrize(
    ("source", "sex", "age", "mean"),
    [
        published(BOHANNON_2011, "male", 40, 1.434),
        published(BOHANNON_2011, "female", 80, 0.943),
    ],
)
def test_pooled_walking_speed(source: str, sex: str, age: int, mean: float) -> None:
    row = finding(assessed(one(SPEED, "1.2", None), sex=sex, age=age), SPEED, None)
    assert the_norm(row, "walking-speed-pooled").mean == mean, source
