"""Foot posture, arch, rearfoot, hallux valgus and foot size against their sources.

The worked table of the reference notes on posture (section 13, rows named R1 to R37), and the
printed norms, each read back through an examination file and the forms as shipped.

Rows without a test here, as the program has neither measure nor function for them: 12 (walking
drop by foot length), 17 in part (printed overall mean), 19 to 22 (widths of a footprint), 25 (arch
angle excursion), 26 (range ratio of the subtalar joint), 31 (intermetatarsal angle), 33 and 34
(girth for length), 37 (shoe sizes); of 9 the normalised drop and of 16 rigidity and flexibility.
"""

from decimal import Decimal
from statistics import NormalDist
from typing import Any

import pytest

from footexam.exchange.examination import BadInput
from footexam.scoring.errors import Size
from footexam.terms import Label, ProblemKind, Provenance
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
    read,
    score,
    the_norm,
    unchecked,
)

FPI_ITEMS = (
    "fpi-talar-head",
    "fpi-malleolar-curves",
    "fpi-calcaneal-position",
    "fpi-talonavicular-bulge",
    "fpi-medial-arch",
    "fpi-forefoot-abduction",
)
FPI, DROP, HEIGHT = "fpi-total", "navicular-drop", "navicular-height-resting"
ANGLE, VALGUS = "longitudinal-arch-angle", "hallux-valgus-angle"
LENGTH, GIRTH, BREADTH = "foot-length", "ball-girth", "foot-breadth"
TRUNCATED = "truncated-foot-length"

JUSTINE = "Justine 2016 J Phys Ther Sci 28:916"
YOUNG_ADULTS = "J Am Podiatr Med Assoc 2015;105:42"
GIJON_2016 = "Gijon-Nogueron 2016 J Foot Ankle Res"
GIJON_2019 = "Gijon-Nogueron 2019 BMJ Open 9:e023341"
CHILDREN_2017 = "J Am Podiatr Med Assoc 2017;107:124"
BANWELL = "Banwell 2018 J Foot Ankle Res 11:21"
ROKKEDAL = "Rokkedal-Lausch 2013, 930 adults"
NILSSON = "Nilsson 2012 J Foot Ankle Res 5:3"
NIELSEN = "Nielsen 2009 J Foot Ankle Res 2:12"
PICCIANO = "Picciano 1993 JOSPT 18:553"
ASTROM = "Astrom 1995 JOSPT 22:216"
GEOMETRY = "J Foot Ankle Res 2009;2:15 table 1"
GORDON = "Gordon 2014 NATICK/TR-15/007"
SONG = "Song 2018 Gait Posture table 4"
CAVANAGH = "Cavanagh 1987"


def items(*points: int, side: str = "right") -> dict[str, Any]:
    return {item: {side: point} for item, point in zip(FPI_ITEMS, points, strict=True)}


def total(points: int, side: str = "right") -> dict[str, Any]:
    """Six items that add up to so many points."""
    share, rest = divmod(abs(points), len(FPI_ITEMS))
    sign = 1 if points >= 0 else -1
    return items(*(sign * (share + (i < rest)) for i in range(len(FPI_ITEMS))), side=side)


def drop(mm: int, side: str = "right") -> dict[str, Any]:
    return {
        "navicular-height-neutral": {side: 40 + mm},
        "navicular-height-resting": {side: 40},
    }


# Foot posture index: R1 to R7.

FPI_BANDS = [
    published(JUSTINE, (1, 1, 1, 1, 1, 1), 25, "fpi-instrument-bands", "pronated"),
    published(YOUNG_ADULTS, (1, 1, 1, 1, 1, 1), 25, "fpi-young-adults", WITHIN),
    published(JUSTINE, (-1, -1, 0, -1, -1, 0), 25, "fpi-instrument-bands", "supinated"),
    published(YOUNG_ADULTS, (-1, -1, 0, -1, -1, 0), 25, "fpi-young-adults", "outside"),
    published(YOUNG_ADULTS, (2, 2, 2, 2, 1, 1), 25, "fpi-young-adults", "possibly-pathological"),
    unchecked(JUSTINE, (2, 2, 2, 2, 1, 1), 25, "fpi-instrument-bands", "highly-pronated"),
    published(JUSTINE, (1, 1, 1, 1, 1, 0), 45, "fpi-instrument-bands", WITHIN),
    published(JUSTINE, (0, 0, 0, 0, 0, 0), 45, "fpi-instrument-bands", WITHIN),
    published(JUSTINE, (0, 0, 0, 0, 0, -1), 45, "fpi-instrument-bands", "supinated"),
    published(JUSTINE, (2, 2, 2, 1, 1, 1), 45, "fpi-instrument-bands", "pronated"),
    unchecked(JUSTINE, (-1, -1, -1, -1, -1, 0), 45, "fpi-instrument-bands", "highly-supinated"),
    published(YOUNG_ADULTS, (0, 0, 0, 0, 0, -1), 25, "fpi-young-adults", WITHIN),
    published(YOUNG_ADULTS, (2, 1, 1, 1, 1, 1), 25, "fpi-young-adults", "outside"),
    published(
        YOUNG_ADULTS, (-1, -1, -1, -1, -1, -1), 25, "fpi-young-adults", "possibly-pathological"
    ),
    published(GIJON_2016, (1, 1, 1, 1, 1, 1), 8, "fpi-children-centile", WITHIN),
    published(BANWELL, (1, 1, 1, 1, 1, 1), 8, "fpi-flat-children", WITHIN),
    published(GIJON_2016, (2, 1, 1, 1, 1, 1), 8, "fpi-children-centile", "pronated"),
    published(BANWELL, (2, 1, 1, 1, 1, 1), 8, "fpi-flat-children", "flat"),
    published(BANWELL, (2, 1, 1, 1, 1, 1), 3, "fpi-flat-children", "flat"),
    published(BANWELL, (1, 1, 1, 1, 1, 1), 15, "fpi-flat-children", WITHIN),
    published(GIJON_2019, (2, 2, 2, 2, 1, 1), 10, "fpi-children-international", "highly-pronated"),
]


@pytest.mark.parametrize(("source", "points", "age", "norms", "expected"), FPI_BANDS)
def test_posture_index_bands(
    source: str, points: tuple[int, ...], age: int, norms: str, expected: str
) -> None:
    found = score(assessed(items(*points), age=age), FPI)
    assert found is not None
    assert found.value == sum(points)
    assert {row.set: row.band for row in found.bands}[norms] == expected, source


@pytest.mark.parametrize(
    ("source", "age", "judging"),
    [
        published(BANWELL, 5, "fpi-flat-children"),
        published(GIJON_2016, 6, "fpi-children-centile"),
        published(GIJON_2016, 11, "fpi-children-centile"),
        published(BANWELL, 12, "fpi-flat-children"),
        published(BANWELL, 15, "fpi-flat-children"),
        published(JUSTINE, 16, "fpi-instrument-bands"),
        published(JUSTINE, 25, "fpi-instrument-bands"),
    ],
)
def test_which_set_judges_the_posture_index(source: str, age: int, judging: str) -> None:
    row = finding(assessed(items(1, 1, 1, 1, 1, 1), age=age), FPI)
    assert [norm.set for norm in row.norms if norm.judged] == [judging], source


@pytest.mark.derived
def test_r4_an_item_of_three_points_is_refused() -> None:
    # By the definition of the index: six items of -2 to +2 points, all or no total.
    with pytest.raises(BadInput, match="fpi-talar-head right: 3: "):
        read(items(3, 0, 0, 0, 0, 0))


@pytest.mark.derived
def test_r4_five_items_are_no_total() -> None:
    five = dict(list(items(1, 1, 1, 1, 1, 1).items())[:5])
    found = assessed(five)
    assert score(found, FPI) is None
    (problem,) = found.problems
    assert (problem.measure, problem.side, problem.kind) == (FPI, RIGHT, ProblemKind.INCOMPLETE)
    assert {row.measure for row in found.findings} == set(FPI_ITEMS[:5])


@pytest.mark.parametrize(
    ("source", "right", "left", "expected"),
    [
        published(ROKKEDAL, 5, -1, "severe"),
        published(ROKKEDAL, 4, 1, "asymmetric"),
        published(ROKKEDAL, 3, 1, WITHIN),
        published(ROKKEDAL, -1, 5, "severe"),
        practice(f"{ROKKEDAL}, shared end", 5, 1, "asymmetric"),
    ],
)
def test_r5_sides_of_the_posture_index(source: str, right: int, left: int, expected: str) -> None:
    both = {
        item: {"right": r, "left": le}
        for item, r, le in zip(FPI_ITEMS, _spread(right), _spread(left), strict=True)
    }
    row = difference(assessed(both), FPI)
    assert row.difference == left - right
    assert row.state == expected, source


def _spread(points: int) -> list[int]:
    return [side["right"] for side in total(points).values()]


@pytest.mark.derived
def test_r7_z_of_a_child() -> None:
    row = finding(assessed(total(10), age=8), FPI)
    # (10 - 3.74) / 2.93, Gijon-Nogueron 2016
    assert the_norm(row, "fpi-children-centile").z == pytest.approx(2.14, abs=0.005)


@pytest.mark.published
def test_r8_the_children_of_all_classes_are_the_sample() -> None:
    # Gijon-Nogueron 2019: 354 supinated, 1776 usual, 960 pronated, 127 highly pronated.
    row = finding(assessed(total(4), age=8), FPI)
    assert the_norm(row, "fpi-children-international").n == 354 + 1776 + 960 + 127


# Navicular and arch angle: R9 to R14, R24.

DROP_BANDS = [
    published(NILSSON, 7, "navicular-drop-bands", WITHIN),
    published(NIELSEN, 7, "navicular-drop-10", WITHIN),
    published(NILSSON, 20, "navicular-drop-bands", "flexible"),
    published(NIELSEN, 20, "navicular-drop-10", "above"),
    published(NIELSEN, 20, "navicular-drop-13", "above"),
    published(NIELSEN, 20, "navicular-drop-15", "above"),
    published(NIELSEN, 10, "navicular-drop-10", WITHIN),
    published(NIELSEN, 11, "navicular-drop-10", "above"),
    published(NIELSEN, 16, "navicular-drop-15", "above"),
    published(NIELSEN, 12, "navicular-drop-13", WITHIN),
    published(NIELSEN, 14, "navicular-drop-13", "above"),
    published(NIELSEN, 14, "navicular-drop-15", WITHIN),
    published(NILSSON, 24, "navicular-drop-bands", "very-flexible"),
    published(NILSSON, -1, "navicular-drop-bands", "very-rigid"),
    published(NILSSON, 3, "navicular-drop-bands", "rigid"),
    practice(f"{NILSSON}, shared end", 23, "navicular-drop-bands", "flexible"),
    practice(f"{NILSSON}, shared end", 0, "navicular-drop-bands", "rigid"),
    practice(f"{NILSSON}, shared end", 6, "navicular-drop-bands", WITHIN),
    practice(f"{NILSSON}, shared end", 18, "navicular-drop-bands", WITHIN),
]


@pytest.mark.parametrize(("source", "mm", "norms", "expected"), DROP_BANDS)
def test_r9_to_r11_navicular_drop(source: str, mm: int, norms: str, expected: str) -> None:
    found = score(assessed(drop(mm)), DROP)
    assert found is not None
    assert found.value == mm
    assert {row.set: row.band for row in found.bands}[norms] == expected, source


@pytest.mark.parametrize(("source", "mm"), [published(NILSSON, 24), published(NILSSON, -1)])
def test_r11_a_drop_outside_the_sample_is_asked_about(source: str, mm: int) -> None:
    assert DROP in {problem.measure for problem in assessed(drop(mm)).problems}, source


@pytest.mark.parametrize(("source", "mm"), [published(NILSSON, 23), published(NILSSON, 0)])
def test_r11_a_drop_at_the_edge_of_the_sample_is_not(source: str, mm: int) -> None:
    assert DROP not in {problem.measure for problem in assessed(drop(mm)).problems}, source


STATES = [
    # R13, R14; the edges as printed: below 27, 27 to 35, 36 to 55, 56 to 64, above 64 mm
    published(NILSSON, HEIGHT, 30, "low"),
    published(NILSSON, HEIGHT, 45, WITHIN),
    published(NILSSON, HEIGHT, 60, "high"),
    published(NILSSON, HEIGHT, 26, "severely-low"),
    published(NILSSON, HEIGHT, 27, "low"),
    published(NILSSON, HEIGHT, 35, "low"),
    published(NILSSON, HEIGHT, 36, WITHIN),
    published(NILSSON, HEIGHT, 55, WITHIN),
    published(NILSSON, HEIGHT, 56, "high"),
    published(NILSSON, HEIGHT, 64, "high"),
    published(NILSSON, HEIGHT, 65, "severely-high"),
    # R24; below 121, 121 to 130, 131 to 152, 153 to 162, above 162 degrees
    published(NILSSON, ANGLE, 125, "low"),
    published(NILSSON, ANGLE, "141.5", WITHIN),
    published(NILSSON, ANGLE, 155, "high"),
    published(NILSSON, ANGLE, 120, "severely-low"),
    published(NILSSON, ANGLE, 121, "low"),
    published(NILSSON, ANGLE, 130, "low"),
    published(NILSSON, ANGLE, 131, WITHIN),
    published(NILSSON, ANGLE, 152, WITHIN),
    published(NILSSON, ANGLE, 153, "high"),
    published(NILSSON, ANGLE, 162, "high"),
    published(NILSSON, ANGLE, 163, "severely-high"),
]


@pytest.mark.parametrize(("source", "measure", "value", "expected"), STATES)
def test_r13_and_r24_printed_bands(source: str, measure: str, value: float, expected: str) -> None:
    assert finding(assessed(one(measure, value)), measure).state == expected, source


@pytest.mark.parametrize(
    ("source", "measure", "value", "norms", "z"),
    [
        derived(f"{NILSSON}, R14", HEIGHT, 27, "navicular-height-bands", -1.95),
        derived(f"{NILSSON}, R24", ANGLE, 125, "arch-angle-bands", -1.57),
        derived(f"{NILSSON}, R24", ANGLE, "141.5", "arch-angle-bands", 0.0),
        derived(f"{NILSSON}, R24", ANGLE, 155, "arch-angle-bands", 1.29),
    ],
)
def test_r14_and_r24_z_by_the_spread_the_bands_imply(
    source: str, measure: str, value: float, norms: str, z: float
) -> None:
    row = finding(assessed(one(measure, value)), measure)
    assert the_norm(row, norms).z == pytest.approx(z, abs=0.006), source
    assert _set(norms).spread is Provenance.ESTIMATE


def _set(name: str) -> Any:
    (norms,) = (norms for sets in forms().norms.values() for norms in sets if norms.id == name)
    return norms


# Measurement error: R15, R28, R35, R36.


@pytest.mark.parametrize(
    ("source", "before", "now", "measure", "same_examiner", "needed"),
    [
        derived(f"{PICCIANO}, SEM 2.72, R15", drop(7), drop(12), DROP, False, 7.54),
        derived(f"{PICCIANO}, SEM 2.57", drop(7), drop(12), DROP, True, 7.12),
        derived(f"{GIJON_2016} and ICC .86, R35", total(4), total(6), FPI, False, 3.04),
        derived(f"{GIJON_2016} and ICC .945", total(4), total(6), FPI, True, 1.90),
    ],
    ids=["R15", "drop same examiner", "R35", "index same examiner"],
)
def test_r15_and_r35_change_needed(
    source: str,
    before: dict[str, Any],
    now: dict[str, Any],
    measure: str,
    same_examiner: bool,
    needed: float,
) -> None:
    row = change(before, now, measure, same_examiner=same_examiner)
    assert row.change_needed == pytest.approx(needed, abs=0.006), source


@pytest.mark.derived
def test_r35_and_r36_standard_errors_of_the_posture_index() -> None:
    # SD 2.93 with ICC .86 and .575: SEM 1.10 and 1.91, MDC95 3.04 and 5.29
    by_icc = {
        str(error.icc): Size(error.standard_error()) for error in forms().measures[FPI].errors
    }
    assert by_icc["0.86"].sem == pytest.approx(1.10, abs=0.005)
    assert by_icc["0.575"].sem == pytest.approx(1.91, abs=0.005)
    assert by_icc["0.575"].change == pytest.approx(5.29, abs=0.01)


@pytest.mark.derived
def test_r28_change_needed_of_the_neutral_position() -> None:
    # Picciano 1993: SEM 2.51 degrees between examiners, open chain
    assert Size(2.51).change == pytest.approx(6.96, abs=0.005)


# Arch height index, footprint, mobility: R16 to R18, R23.

ARCH = {
    "dorsal-arch-height-seated": {"right": 66},
    "dorsal-arch-height-standing": {"right": 62},
    "truncated-foot-length": {"right": 182},
}
WIDTHS = {
    "dorsal-arch-height-seated": {"right": 66},
    "dorsal-arch-height-standing": {"right": 54},
    "midfoot-width-unloaded": {"right": 80},
    "midfoot-width-standing": {"right": 89},
}


@pytest.mark.parametrize(
    ("source", "readings", "measure", "expected"),
    [
        derived("definition of the index, R16", ARCH, "arch-height-index-seated", 0.3626),
        derived("definition of the index, R16", ARCH, "arch-height-index", 0.3407),
        derived("definition of the index, R16", ARCH, "arch-height-change", 0.0220),
        derived("McPoil 2009 J Foot Ankle Res 2:6, R23", WIDTHS, "foot-mobility-magnitude", 15.0),
    ],
    ids=["seated", "standing", "change", "mobility"],
)
def test_r16_and_r23_formulas(
    source: str, readings: dict[str, Any], measure: str, expected: float
) -> None:
    found = score(assessed(readings), measure)
    assert found is not None
    assert float(found.value) == pytest.approx(expected, abs=0.00006), source


@pytest.mark.parametrize(
    ("source", "measure", "norms", "means", "weighted"),
    [
        derived(
            SONG, "arch-height-index", "arch-height-index-cadets", (0.317, 0.349, 0.375), 0.3271
        ),
        derived(
            SONG,
            "arch-height-index-seated",
            "arch-height-index-seated-cadets",
            (0.342, 0.370, 0.394),
            0.351,
        ),
    ],
    ids=["standing", "seated"],
)
def test_r17_means_of_classes_are_weighted_by_their_feet(
    source: str, measure: str, norms: str, means: tuple[float, ...], weighted: float
) -> None:
    feet = (1601, 443, 136)
    mean = sum(n * one_mean for n, one_mean in zip(feet, means, strict=True)) / sum(feet)
    assert mean == pytest.approx(weighted, abs=0.0005), source
    norm = the_norm(finding(assessed(ARCH), measure), norms)
    assert norm.mean == pytest.approx(mean, abs=0.0005), source
    assert (norm.n, norm.provenance) == (sum(feet), Provenance.ESTIMATE)


@pytest.mark.parametrize(
    ("source", "value", "expected"),
    [
        unchecked(CAVANAGH, round(22 / (40 + 22 + 30), 4), WITHIN),
        unchecked(CAVANAGH, "0.2100", "high-arch"),
        unchecked(CAVANAGH, "0.2101", WITHIN),
        unchecked(CAVANAGH, "0.2600", "low-arch"),
        unchecked(CAVANAGH, "0.2599", WITHIN),
    ],
)
def test_r18_arch_index_is_compared_unrounded(source: str, value: object, expected: str) -> None:
    readings = one("footprint-arch-index", {"value": value, "method": "ink-print"})
    assert band(readings, "footprint-arch-index", "arch-index-ink") == expected, source
    assert finding(assessed(readings), "footprint-arch-index").label is Label.NOT_JUDGED


BUTLER, WILLIAMS = "Butler 2008 J Am Podiatr Med Assoc 98:102", "Williams 2001"


def instep(index: str) -> dict[str, Any]:
    """Heights and a length of 200 mm that give this index, seated and standing."""
    heights = ("dorsal-arch-height-seated", "dorsal-arch-height-standing")
    height = str(Decimal(index) * 200)
    return {name: {"right": height} for name in heights} | one(TRUNCATED, 200)


@pytest.mark.parametrize(
    ("source", "index", "expected"),
    [
        unchecked(WILLIAMS, "0.275", "low"),
        unchecked(WILLIAMS, "0.276", WITHIN),
        unchecked(WILLIAMS, "0.355", WITHIN),
        unchecked(WILLIAMS, "0.356", "high"),
    ],
)
def test_limits_of_the_arch_height_index(source: str, index: str, expected: str) -> None:
    found = band(instep(index), "arch-height-index", "arch-height-index-limits")
    assert found == expected, source


@pytest.mark.parametrize(
    ("source", "measure", "mean"),
    [
        unchecked(BUTLER, "arch-height-index", 0.340),
        unchecked(BUTLER, "arch-height-index-seated", 0.363),
    ],
)
def test_arch_height_index_of_runners(source: str, measure: str, mean: float) -> None:
    row = finding(assessed(instep(str(mean))), measure)
    norm = the_norm(row, f"{measure}-runners")
    assert (norm.n, norm.mean, norm.sd) == (100, mean, 0.030), source
    assert norm.provenance is Provenance.PUBLISHED_UNCHECKED


@pytest.mark.published
def test_arch_index_of_a_plate_is_far_below_that_of_ink() -> None:
    # Bertani 2017: 0.13 in 79 young, 0.23 in 43 older people, on a pressure plate
    typed = {"value": "0.13", "method": "pressure-plate"}
    row = finding(assessed(one("footprint-arch-index", typed)), "footprint-arch-index")
    assert [(norm.n, norm.mean) for norm in row.norms] == [(79, 0.13), (43, 0.23)]


@pytest.mark.parametrize(
    ("source", "measure", "readings", "norms"),
    [
        published(NILSSON, HEIGHT, one(HEIGHT, 45), "navicular-height-bands"),
        published(NILSSON, ANGLE, one(ANGLE, 140), "arch-angle-bands"),
        published(NILSSON, DROP, drop(7), "navicular-drop-bands"),
    ],
    ids=["height", "angle", "drop"],
)
def test_size_of_the_sample_of_the_bands(
    source: str, measure: str, readings: dict[str, Any], norms: str
) -> None:
    assert the_norm(finding(assessed(readings), measure), norms).n == 254, source


# Hallux valgus: R29, R30.

VALGUS_BANDS = [
    published(GEOMETRY, 14, WITHIN),
    published(GEOMETRY, 15, "mild"),
    published(GEOMETRY, 20, "mild"),
    published(GEOMETRY, 21, "moderate"),
    published(GEOMETRY, 39, "moderate"),
    published(GEOMETRY, 40, "severe"),
    derived(f"{GEOMETRY}, rounded half up", "14.4", WITHIN),
    derived(f"{GEOMETRY}, rounded half up", "14.5", "mild"),
    derived(f"{GEOMETRY}, rounded half up", "20.4", "mild"),
    derived(f"{GEOMETRY}, rounded half up", "20.5", "moderate"),
    derived(f"{GEOMETRY}, rounded half up", "39.5", "severe"),
]


@pytest.mark.parametrize(("source", "value", "expected"), VALGUS_BANDS)
def test_r29_and_r30_valgus_angle_by_radiograph(source: str, value: object, expected: str) -> None:
    readings = one(VALGUS, {"value": value, "method": "radiograph"})
    assert finding(assessed(readings), VALGUS).state == expected, source


@pytest.mark.parametrize(
    ("source", "value", "expected"),
    [
        unchecked("teaching pages", 19, "mild"),
        unchecked("teaching pages", 20, "moderate"),
        unchecked("teaching pages", 40, "moderate"),
        unchecked("teaching pages", 41, "severe"),
    ],
)
def test_competing_valgus_bands(source: str, value: int, expected: str) -> None:
    readings = one(VALGUS, {"value": value, "method": "radiograph"})
    assert band(readings, VALGUS, "hallux-valgus-radiograph-second-set") == expected, source


@pytest.mark.published
@pytest.mark.parametrize("more", [{}, {"method": "goniometer"}, {"method": "picture"}])
def test_the_bands_of_a_radiograph_judge_no_other_angle(more: dict[str, str]) -> None:
    # The 301 angles of J Foot Ankle Res 2009;2:15 were taken on radiographs.
    row = finding(assessed(one(VALGUS, {"value": 41, **more})), VALGUS)
    assert (row.label, row.norms) == (Label.NOT_JUDGED, ())


# Foot size: R32, and the centiles of the survey.


@pytest.mark.parametrize(
    ("source", "sex", "value", "z"),
    [
        derived(f"{GORDON}, R32", "male", 250, -1.62),
        derived(f"{GORDON}, R32", "female", 276, 2.39),
    ],
)
def test_r32_z_of_foot_length(source: str, sex: str, value: int, z: float) -> None:
    row = finding(assessed(one(LENGTH, value), sex=sex), LENGTH)
    assert the_norm(row, "foot-length-survey").z == pytest.approx(z, abs=0.006), source


SURVEY = {
    # measure: printed 5th and 95th centile, men and women, mm
    LENGTH: ((250, 293), (226, 268)),
    TRUNCATED: ((184, 218), (167, 198)),
    BREADTH: ((94, 111), (85, 101)),
    GIRTH: ((232, 273), (209, 248)),
}


@pytest.mark.parametrize(
    ("source", "measure", "sex", "value", "centile"),
    [
        published(GORDON, measure, sex, value, centile)
        for measure, both in SURVEY.items()
        for sex, values in zip(("male", "female"), both, strict=True)
        for value, centile in zip(values, (5, 95), strict=True)
    ],
)
def test_centiles_of_the_survey_lie_where_its_mean_and_sd_put_them(
    source: str, measure: str, sex: str, value: int, centile: int
) -> None:
    (norm,) = finding(assessed(one(measure, value), sex=sex), measure).norms
    # whole millimetres, and a spread that is nearly normal up to its tails: within 0.15 SD
    usual = NormalDist().inv_cdf(centile / 100)
    assert norm.z == pytest.approx(usual, abs=0.15), source


@pytest.mark.common_practice
@pytest.mark.parametrize("age", [6, 40])
@pytest.mark.parametrize(("right", "expected"), [(210, WITHIN), (211, "outside")])
def test_sides_of_foot_length_at_any_age(right: int, expected: str, age: int) -> None:
    row = difference(assessed({LENGTH: {"left": 200, "right": right}}, age=age), LENGTH)
    assert row.state == expected


@pytest.mark.published
def test_sides_of_the_posture_index_are_judged_in_adults_only() -> None:
    # Rokkedal-Lausch 2013: 930 adults
    both = {item: {"left": 1, "right": -1} for item in FPI_ITEMS}
    assert difference(assessed(both, age=10), FPI).label is Label.NOT_JUDGED
    assert difference(assessed(both, age=18), FPI).state == "severe"


# The printed means and SD, and R27.

MEANS = [
    published(GIJON_2016, FPI, total(4), 8, "fpi-children-centile", 1762, 3.74, 2.93),
    published(GIJON_2016, FPI, total(4, "left"), 8, "fpi-children-centile", 1762, 3.83, 2.92),
    published(GIJON_2019, FPI, total(4), 8, "fpi-children-international", 3217, 4.0, 3.0),
    published(CHILDREN_2017, FPI, total(4), 10, "fpi-children-8-to-13", 150, 5.1, 2.1),
]


@pytest.mark.parametrize(
    ("source", "measure", "readings", "age", "norms", "n", "mean", "sd"),
    MEANS,
    ids=["right", "left", "international", "8 to 13"],
)
def test_means_of_the_posture_index(
    source: str,
    measure: str,
    readings: dict[str, Any],
    age: int,
    norms: str,
    n: int,
    mean: float,
    sd: float,
) -> None:
    side = LEFT if "left" in readings[FPI_ITEMS[0]] else RIGHT
    norm = the_norm(finding(assessed(readings, age=age), measure, side), norms)
    assert (norm.n, norm.mean, norm.sd) == (n, mean, sd), source


@pytest.mark.parametrize(
    ("source", "measure", "value", "norms", "n", "mean"),
    [
        published(f"{ASTROM}, R27", "resting-calcaneal-stance", 7, "adults", 121, 7.0),
        published(f"{ASTROM}, R27", "neutral-calcaneal-stance", 2, "adults", 121, 2.0),
        published(ASTROM, "tibial-varus", 6, "adults", 121, 6.0),
        published(ASTROM, "forefoot-to-rearfoot", -6, "adults", 121, -6.0),
        published("Carrelero-Camp 2026", "forefoot-to-rearfoot", "-15.53", "markers", 70, -15.53),
    ],
)
def test_means_without_a_spread_judge_nothing(
    source: str, measure: str, value: object, norms: str, n: int, mean: float
) -> None:
    row = finding(assessed(one(measure, value)), measure)
    norm = the_norm(row, f"{measure}-{norms}")
    assert (norm.n, norm.mean, norm.sd) == (n, mean, None), source
    assert row.label is Label.NOT_JUDGED


@pytest.mark.parametrize(
    ("source", "measure", "sex", "n", "mean", "sd"),
    [
        published(GORDON, LENGTH, "male", 4082, 271.18, 13.10),
        published(GORDON, LENGTH, "female", 1986, 246.29, 12.44),
        published(GORDON, TRUNCATED, "male", 4082, 200.94, 10.47),
        published(GORDON, TRUNCATED, "female", 1986, 182.05, 9.64),
        published(GORDON, BREADTH, "male", 4082, 101.86, 5.23),
        published(GORDON, BREADTH, "female", 1986, 92.71, 4.78),
        published(GORDON, GIRTH, "male", 4082, 252.02, 12.94),
        published(GORDON, GIRTH, "female", 1986, 228.11, 11.77),
    ],
)
def test_means_of_foot_size(
    source: str, measure: str, sex: str, n: int, mean: float, sd: float
) -> None:
    (norm,) = finding(assessed(one(measure, mean), sex=sex), measure).norms
    assert (norm.n, norm.mean, norm.sd, norm.z) == (n, mean, sd, 0.0), source
