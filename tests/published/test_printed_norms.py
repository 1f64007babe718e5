"""Printed means and SD of ankle, limb and gait, read back beside a finding.

The reading is the printed mean, so that z is 0 where there is an SD.
"""

from typing import Any

import pytest

from tests.published.cases import (
    LEFT,
    RIGHT,
    assessed,
    derived,
    finding,
    one,
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
SPRINGER = "Springer 2007 J Geriatr Phys Ther 30:8"


NORMS = [
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
        "Nawoczenski 1999 JBJS Am 81:370",
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
    unchecked(
        SPRINGER, STANCE, {"age": 50, "method": "eyes-open"}, f"{STANCE}-open-mean", None, 37.0
    ),
    unchecked(
        SPRINGER, STANCE, {"age": 50, "method": "eyes-open"}, f"{STANCE}-open-best", None, 41.2
    ),
    unchecked(
        SPRINGER, STANCE, {"age": 50, "method": "eyes-closed"}, f"{STANCE}-closed-best", None, 8.3
    ),
]


@pytest.mark.parametrize(("source", "measure", "who", "norms", "n", "mean"), MEANS)
def test_printed_mean_without_sd(
    source: str, measure: str, who: dict[str, Any], norms: str, n: int | None, mean: float
) -> None:
    norm = the_norm(_read_at(measure, "right", who, mean), norms)
    assert (norm.n, norm.mean, norm.sd, norm.z) == (n, mean, None, None), source


@pytest.mark.parametrize(
    ("source", "sex", "age", "mean"),
    [
        published("Bohannon 2011 Physiotherapy 97:182", "male", 40, 1.434),
        published("Bohannon 2011 Physiotherapy 97:182", "female", 80, 0.943),
    ],
)
def test_pooled_walking_speed(source: str, sex: str, age: int, mean: float) -> None:
    row = finding(assessed(one(SPEED, "1.2", None), sex=sex, age=age), SPEED, None)
    assert the_norm(row, "walking-speed-pooled").mean == mean, source
