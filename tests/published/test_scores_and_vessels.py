"""Feeling, vessels, joint mobility and scores against their sources.

Rows R17, R27, R28, R31 to R36 and R38 to R43 of the worked table of the reference notes on ankle
and limb (section 14), read through an examination file and the forms as shipped.

Rows without a test here: 27 in part (history items of joint mobility), 28 (items of the mobility
score: its total is entered), 35 in part (counting of single answers: the count is entered), 37,
39, 40 and 42 (answers of licensed questionnaires: their totals are entered; no published figure),
44 (mean of named activities: no measure of the contract).
"""

from typing import Any

import pytest

from footexam.exchange.examination import BadInput
from footexam.terms import ChangeLabel, Label, Provenance
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

ABI, TBI = "ankle-brachial-index", "toe-brachial-index"
MOBILITY = "hypermobility-score"
SITES = ("monofilament-hallux", "monofilament-met-head-1", "monofilament-met-head-5")
LEFS, WORST = "lower-extremity-function", "pain-worst"

GUIDELINE = "AHA/ACC 2016 Circulation"
POCKET = "pocket table of the vascular guideline"
SUOMINEN = "Suominen 2008 EJVES 35:709"
IWGDF = "IWGDF 2023 guideline"
CRITERIA = "criteria of 2017, PMC7785693 table 2"
SINGH = "Singh 2017 Rheumatology 56:1857"
BINKLEY = "Binkley 1999 Phys Ther 79:371"
MARTIN = "Martin 2005 Foot Ankle Int 26:968"
HEALTHY = "Acta Orthop 2017;88:422"
HEBERT = "Hebert-Losier 2017 Physiotherapy 103:446"


def pressures(arm: object, ankle: object, toe: object = None) -> dict[str, Any]:
    """One arm pressure for both arms, one ankle pressure of the right foot."""
    typed = {"pressure-dorsalis-pedis": ankle, "pressure-toe": toe}
    leg = {name: {"right": value} for name, value in typed.items() if value is not None}
    return {"pressure-arm": {"both": arm}} | leg


# Vessels: R31 to R34.


@pytest.mark.published
def test_r31_higher_ankle_over_higher_arm() -> None:
    # AHA/ACC 2016: 132 / 124 = 1.06, usual
    readings = {
        "pressure-arm": {"left": 118, "right": 124},
        "pressure-dorsalis-pedis": {"right": 132},
        "pressure-posterior-tibial": {"right": 120},
    }
    found = assessed(readings)
    index = score(found, ABI)
    assert index is not None
    assert float(index.value) == pytest.approx(132 / 124)
    assert finding(found, ABI).state == WITHIN
    assert found.problems == ()


INDICES = [
    published(GUIDELINE, pressures(130, 96), ABI, "abnormal"),
    published(GUIDELINE, pressures(128, 118), ABI, "borderline"),
    published(GUIDELINE, pressures(128, 190), ABI, "non-compressible"),
    published(GUIDELINE, pressures(100, 90), ABI, "abnormal"),
    published(GUIDELINE, pressures(100, 91), ABI, "borderline"),
    published(GUIDELINE, pressures(100, 99), ABI, "borderline"),
    published(GUIDELINE, pressures(100, 100), ABI, WITHIN),
    published(GUIDELINE, pressures(100, 140), ABI, WITHIN),
    published(GUIDELINE, pressures(100, 141), ABI, "non-compressible"),
    derived(f"{GUIDELINE}, 0.904 rounds to 0.90", pressures(125, 113), ABI, "abnormal"),
    derived(f"{GUIDELINE}, 0.905 rounds to 0.91", pressures(200, 181), ABI, "borderline"),
    derived(f"{GUIDELINE}, 0.995 rounds to 1.00", pressures(200, 199), ABI, WITHIN),
    derived(f"{GUIDELINE}, 1.404 rounds to 1.40", pressures(125, "175.5"), ABI, WITHIN),
    derived(f"{GUIDELINE}, 1.405 rounds to 1.41", pressures(200, 281), ABI, "non-compressible"),
    published(POCKET, pressures(128, None, 80), TBI, "abnormal"),
    published(POCKET, pressures(100, None, 70), TBI, "abnormal"),
    published(POCKET, pressures(100, None, 71), TBI, WITHIN),
    derived(f"{POCKET}, 0.703 rounds to 0.70", pressures(128, None, 90), TBI, "abnormal"),
    derived(f"{POCKET}, 0.711 rounds to 0.71", pressures(128, None, 91), TBI, WITHIN),
    derived(f"{POCKET}, 0.705 rounds to 0.71", pressures(200, None, 141), TBI, WITHIN),
]


@pytest.mark.parametrize(("source", "readings", "measure", "expected"), INDICES)
def test_r32_to_r34_pressure_indices(
    source: str, readings: dict[str, Any], measure: str, expected: str
) -> None:
    assert finding(assessed(readings), measure).state == expected, source


@pytest.mark.parametrize(
    ("source", "toe", "expected"),
    [published(SUOMINEN, 59, "abnormal"), published(SUOMINEN, 60, WITHIN)],
)
def test_competing_limit_of_the_toe_index(source: str, toe: int, expected: str) -> None:
    readings = pressures(100, None, toe)
    assert band(readings, TBI, "toe-brachial-second-limit") == expected, source
    assert finding(assessed(readings), TBI).state == "abnormal"


@pytest.mark.parametrize(
    ("source", "left", "right", "expected"),
    [practice("rule of thumb", 135, 120, WITHIN), practice("rule of thumb", 136, 120, "outside")],
)
def test_pressure_of_both_arms(source: str, left: int, right: int, expected: str) -> None:
    row = difference(assessed({"pressure-arm": {"left": left, "right": right}}), "pressure-arm")
    assert row.state == expected, source


@pytest.mark.parametrize(
    ("source", "toe", "expected"),
    [
        unchecked("pages that quote it, 30 mmHg", 29, "very-low"),
        unchecked("pages that quote it, 30 mmHg", 30, WITHIN),
    ],
)
def test_toe_pressure(source: str, toe: int, expected: str) -> None:
    readings = one("pressure-toe", toe)
    assert band(readings, "pressure-toe", "toe-pressure-limit") == expected, source
    assert finding(assessed(readings), "pressure-toe").label is Label.NOT_JUDGED


# Feeling: R35, R36.


@pytest.mark.parametrize(
    ("source", "answers", "lost"),
    [
        published(IWGDF, (3, 3, 3), 0),
        published(IWGDF, (2, 2, 2), 0),
        published(IWGDF, (1, 3, 3), 1),
        published(IWGDF, (3, 3, 0), 1),
        published(IWGDF, (0, 1, 1), 3),
    ],
)
def test_r35_sites_lost(source: str, answers: tuple[int, ...], lost: int) -> None:
    readings = {site: {"left": count} for site, count in zip(SITES, answers, strict=True)}
    for age in (8, 70):
        found = assessed(readings, age=age)
        states = [finding(found, site, LEFT).state for site in SITES]
        assert states.count("site-lost") == lost, source
        assert states.count(WITHIN) == len(SITES) - lost


@pytest.mark.derived
@pytest.mark.parametrize("count", [4, -1])
def test_r35_more_than_three_answers_are_refused(count: int) -> None:
    # three questions a site: IWGDF 2023
    with pytest.raises(BadInput, match=f"monofilament-hallux left: {count}: "):
        read(one("monofilament-hallux", count, LEFT))


@pytest.mark.published
def test_r36_agreement_of_filament_and_vibration() -> None:
    # 400 people, PMC7950904: both usual 240, filament alone 21, vibration alone 61, both 78
    both, filament, vibration, neither = 240, 21, 61, 78
    people = both + filament + vibration + neither
    agreed = (both + neither) / people
    chance = (
        (both + filament) * (both + vibration) + (neither + filament) * (neither + vibration)
    ) / people**2
    assert round((agreed - chance) / (1 - chance), 2) == 0.52
    text = forms().measures["vibration-felt"].against["en"]
    assert "kappa 0.52" in text
    assert (people, "61 failed vibration alone and 21 the filament alone" in text) == (400, True)


@pytest.mark.published
def test_r17_the_accuracy_of_the_tuning_fork_is_shown_as_printed() -> None:
    # Mil Med 1997;162:802: 75 and 67 %; its LR pair (2.33, 0.34) does not follow from them
    sensitivity, specificity = 0.75, 0.67
    assert sensitivity / (1 - specificity) == pytest.approx(2.27, abs=0.005)
    assert "Sensitivity 75 and specificity 67 %" in forms().measures["tuning-fork"].against["en"]


# Joint mobility: R27.

MOBILE = [
    published(CRITERIA, 5, 30, "after", "hypermobile"),
    published(CRITERIA, 4, 30, "after", WITHIN),
    practice(f"{CRITERIA}, age 50 itself", 5, 50, None, "hypermobile"),
    practice(f"{CRITERIA}, age 50 itself", 4, 50, None, WITHIN),
    published(CRITERIA, 4, 51, None, "hypermobile"),
    published(CRITERIA, 3, 51, None, WITHIN),
    published(CRITERIA, 5, 10, "before", WITHIN),
    published(CRITERIA, 6, 10, "before", "hypermobile"),
    published(CRITERIA, 5, 13, "started", "hypermobile"),
    published(CRITERIA, 5, 17, "after", "hypermobile"),
    published(CRITERIA, 4, 17, "after", WITHIN),
    practice(f"{CRITERIA}, puberty is asked, not inferred", 9, 13, None, None),
    practice(f"{CRITERIA}, puberty is asked, not inferred", 9, 13, "not-stated", None),
]


@pytest.mark.parametrize(("source", "points", "age", "puberty", "expected"), MOBILE)
def test_r27_joint_mobility_by_age_and_puberty(
    source: str, points: int, age: int, puberty: str | None, expected: str | None
) -> None:
    readings: dict[str, Any] = {MOBILITY: points}
    if puberty:
        readings["puberty"] = puberty
    row = finding(assessed(readings, age=age), MOBILITY, None)
    assert row.state == expected, source


@pytest.mark.parametrize(
    ("source", "sex", "age", "points", "norms", "expected"),
    [
        published(SINGH, "female", 40, 4, "hypermobility-top-5-percent", "hypermobile"),
        published(SINGH, "female", 59, 3, "hypermobility-top-5-percent", WITHIN),
        published(SINGH, "male", 8, 4, "hypermobility-top-5-percent", "hypermobile"),
        published(SINGH, "male", 39, 3, "hypermobility-top-5-percent", WITHIN),
        unchecked(SINGH, "female", 60, 3, "hypermobility-top-5-percent-other-ages", "hypermobile"),
        unchecked(SINGH, "female", 3, 6, "hypermobility-top-5-percent-other-ages", "hypermobile"),
        unchecked(SINGH, "female", 7, 5, "hypermobility-top-5-percent-other-ages", WITHIN),
        unchecked(SINGH, "female", 8, 5, "hypermobility-top-5-percent-other-ages", "hypermobile"),
        unchecked(SINGH, "female", 39, 4, "hypermobility-top-5-percent-other-ages", WITHIN),
        unchecked(SINGH, "male", 7, 5, "hypermobility-top-5-percent-other-ages", "hypermobile"),
        unchecked(SINGH, "male", 3, 4, "hypermobility-top-5-percent-other-ages", WITHIN),
        unchecked(SINGH, "male", 59, 1, "hypermobility-top-5-percent-other-ages", WITHIN),
        unchecked(SINGH, "male", 60, 1, "hypermobility-top-5-percent-other-ages", "hypermobile"),
        unchecked(SINGH, "male", 40, 2, "hypermobility-top-5-percent-other-ages", "hypermobile"),
    ],
)
def test_competing_limits_of_joint_mobility(
    source: str, sex: str, age: int, points: int, norms: str, expected: str
) -> None:
    assert band({MOBILITY: points}, MOBILITY, norms, None, sex=sex, age=age) == expected, source


# Scores and pain: R38, R41, R43.


@pytest.mark.parametrize(
    ("source", "measure", "needed"),
    [
        published(f"{MARTIN}, MDC95", "foot-ankle-ability-daily", 5.7),
        published(f"{MARTIN}, MDC95", "foot-ankle-ability-sport", 12.3),
    ],
)
def test_change_needed_of_foot_and_ankle_ability(source: str, measure: str, needed: float) -> None:
    row = change(one(measure, 50, None), one(measure, 60, None), measure, None)
    assert row.change_needed == needed, source


@pytest.mark.parametrize(
    ("source", "now", "label"),
    [
        derived(f"{BINKLEY}, 9 at 90 % is 10.7 at 95 %", 60, ChangeLabel.INSIDE_ERROR),
        derived(f"{BINKLEY}, 9 at 90 % is 10.7 at 95 %", 61, ChangeLabel.INSIDE_ERROR),
        derived(f"{BINKLEY}, 9 at 90 % is 10.7 at 95 %", 63, ChangeLabel.CHANGED),
    ],
)
def test_r38_change_of_leg_function(source: str, now: int, label: ChangeLabel) -> None:
    row = change(one(LEFS, 52, None), one(LEFS, now, None), LEFS, None)
    assert row.change_needed is not None
    # the printed change of 9 points holds at 90 %, every change of the program at 95 %
    assert row.change_needed / 1.96 * 1.645 == pytest.approx(9, abs=0.05)
    assert row.label is label, source


@pytest.mark.published
def test_r38_the_printed_change_is_told() -> None:
    assert "a change of 9 is beyond error (90 %)" in forms().measures[LEFS].against["en"]


@pytest.mark.parametrize(
    ("source", "sex", "points", "expected"),
    [
        published(HEALTHY, "male", 78, WITHIN),
        published(HEALTHY, "male", 77, "below-middle-value"),
        published(HEALTHY, "female", 76, WITHIN),
        published(HEALTHY, "female", 75, "below-middle-value"),
    ],
)
def test_middle_value_of_healthy_people(source: str, sex: str, points: int, expected: str) -> None:
    found = band({LEFS: points}, LEFS, "lower-extremity-function-healthy", None, sex=sex)
    assert found == expected, source


@pytest.mark.parametrize(
    ("source", "sex", "age", "count"),
    [
        unchecked(HEBERT, sex, decade, count)
        for sex, counts in {
            "male": (37, 32, 28, 23, 19, 14, 10),
            "female": (30, 27, 24, 21, 19, 16, 13),
        }.items()
        for decade, count in zip(range(20, 90, 10), counts, strict=True)
    ],
)
def test_middle_value_of_heel_raises(source: str, sex: str, age: int, count: int) -> None:
    norms = "heel-raises-middle-value"
    for last in (age, age + 9):
        who = {"sex": sex, "age": last}
        readings = one("heel-raise-count", count)
        assert band(readings, "heel-raise-count", norms, **who) == WITHIN, source
        fewer = one("heel-raise-count", count - 1)
        assert band(fewer, "heel-raise-count", norms, **who) == "below-middle-value"


@pytest.mark.derived
def test_r41_both_totals_of_one_foot_function_form() -> None:
    # pain 45 of 90, disability 36 of 90, activity 10 of 50
    mean = (45 / 90 + 36 / 90 + 10 / 50) / 3 * 100
    summed = (45 + 36 + 10) / 230 * 100
    text = forms().measures["foot-function-index"].against["en"]
    assert f"{mean:.1f} and {summed:.1f}" in text


@pytest.mark.parametrize(
    ("source", "before", "now", "label"),
    [
        unchecked("Haase 2022, 1.77 points", 6, 4, ChangeLabel.CHANGED),
        unchecked("Haase 2022, 1.77 points", 8, 6, ChangeLabel.CHANGED),
        unchecked("Haase 2022, 1.77 points", 3, 2, ChangeLabel.INSIDE_ERROR),
        unchecked("Haase 2022, 1.77 points", 0, 1, ChangeLabel.INSIDE_ERROR),
    ],
)
def test_r43_change_of_pain_in_points(
    source: str, before: int, now: int, label: ChangeLabel
) -> None:
    row = change(one(WORST, before), one(WORST, now), WORST)
    assert row.label is label, source


@pytest.mark.published
def test_r43_what_patients_called_better_is_told() -> None:
    # Farrar 2001 Pain 94:149: 2 points or 30 %, 2724 people
    text = forms().measures["pain-now"].against["en"]
    assert "2 points, or of 30 %, was what patients called better in 2,724 people" in text


@pytest.mark.published
@pytest.mark.parametrize("site", SITES)
def test_the_rule_of_the_filament_names_its_guideline(site: str) -> None:
    norm = the_norm(finding(assessed(one(site, 1)), site, RIGHT), f"{site}-lost")
    assert (norm.source, norm.provenance, norm.judged) == (
        "iwgdf-2023",
        Provenance.PUBLISHED,
        True,
    )
