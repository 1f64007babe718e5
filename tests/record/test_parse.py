"""The kinds table of interface.md: what each row takes, what it keeps, and what it refuses."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from footexam.catalogue.model import Catalogue
from footexam.record.parse import parse
from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Word,
    Words,
)
from footexam.record.refusal import Refusal
from footexam.terms import Kind


def numbers(*readings: str | int) -> Numbers:
    return Numbers(tuple(Decimal(reading) for reading in readings))


SCORE = "fpi-talar-head"  # -2..2 points
ANKLE = "ankle-dorsiflexion-knee-straight"  # deg, repeats
HEIGHT = "body-height"  # cm, one reading
DISTANCE = "shoe-distance"  # km, 0..20000
PRESSURE = "pressure-arm"  # mmHg
PERCENT = "foot-function-index"
WEEKS = "duration"
CHOICE = "onset"
YES_NO = "diabetes"
YES_SITES = "caution-focal-bone-tenderness"
SEVERAL = "activity-kind"
TEXT = "goals"
TABLE = "weekly-load"
INJURIES = "bone-stress-injuries"
KNOWN = "allergies"
REGIONS = "complaint-site"
TENDER = "tenderness"  # whole points
SKIN = "skin-temperature"  # degC, 1 decimal
PLATE = "plantar-pressure"  # kPa, 0..2000
ACTIVITIES = "function-activities"
DERIVED = "fpi-total"

TAKEN: list[tuple[str, Any, Value, str]] = [
    (SCORE, 1, numbers(1), "1"),
    (SCORE, Decimal("1.0"), numbers(1), "1"),
    (SCORE, Decimal("2E0"), numbers(2), "2"),
    (SCORE, "\u22121", numbers(-1), "\u22121"),
    (SCORE, "+2", numbers(2), "+2"),
    (SCORE, "-0", numbers(0), "-0"),
    (ANKLE, 9, numbers(9), "9"),
    (ANKLE, Decimal("9.50"), numbers("9.50"), "9.50"),
    (ANKLE, Decimal("1E1"), numbers(10), "10"),
    (ANKLE, "9 10,5 8 deg", numbers(9, "10.5", 8), "9 10,5 8 deg"),
    (ANKLE, [9, 8, 10], numbers(9, 8, 10), "9 8 10"),
    (ANKLE, [9], numbers(9), "9"),
    (ANKLE, ["7,5", Decimal("8.0")], numbers("7.5", "8.0"), "7,5 8.0"),
    (ANKLE, ["9 deg", "8"], numbers(9, 8), "9 deg | 8"),
    (ANKLE, [0] * 10, numbers(*[0] * 10), "0 0 0 0 0 0 0 0 0 0"),
    ("lunge-distance", ["7", "80 mm"], numbers(7, 8), "7 | 80 mm"),
    (HEIGHT, "5 ft 4 in", numbers("162.56"), "5 ft 4 in"),
    (HEIGHT, "1,75 m", numbers(175), "1,75 m"),
    (DISTANCE, "1500", numbers(1500), "1500"),
    (DISTANCE, "0,250 km", numbers("0.250"), "0,250 km"),
    ("body-mass", "72,500 kg", numbers("72.5"), "72,500 kg"),
    (PRESSURE, "16 kPa", numbers(Decimal(16000) / Decimal("133.322387415")), "16 kPa"),
    (PERCENT, "12 %", numbers(12), "12 %"),
    (PERCENT, 12, numbers(12), "12"),
    (WEEKS, 3, numbers(3), "3"),
    (WEEKS, "14 days", numbers(2), "14 days"),
    (WEEKS, "1 year", numbers(Decimal("365.25") / 7), "1 year"),
    (CHOICE, "gradual", Word("gradual"), "gradual"),
    (CHOICE, " Gradual ", Word("gradual"), " Gradual "),
    ("occupation-standing", "Mostly  Standing", Word("mostly-standing"), "Mostly  Standing"),
    (YES_NO, "yes", Word("yes"), "yes"),
    (YES_NO, "NO", Word("no"), "NO"),
    (YES_SITES, "no", Sites("no"), "no"),
    (YES_SITES, "Yes", Sites("yes"), "Yes"),
    (YES_SITES, {"answer": "Yes"}, Sites("yes"), "yes"),
    (
        YES_SITES,
        {"sites": ["navicular", "heel-plantar", "navicular"], "answer": "yes"},
        Sites("yes", ("heel-plantar", "navicular")),
        "yes: heel-plantar, navicular",
    ),
    (
        SEVERAL,
        ["Walking", "court sport"],
        Words(("court-sport", "walking")),
        "court-sport, walking",
    ),
    (SEVERAL, ["none"], Words(("none",)), "none"),
    (TEXT, "walk the dog", Text("walk the dog"), "walk the dog"),
    (TEXT, "cafe\u0301 <b>&", Text("caf\u00e9 <b>&"), "caf\u00e9 <b>&"),
    (TEXT, "x" * 4000, Text("x" * 4000), "x" * 4000),
    (
        REGIONS,
        ["heel-plantar-medial", "heel-plantar"],
        Words(("heel-plantar", "heel-plantar-medial")),
        "heel-plantar, heel-plantar-medial",
    ),
    (
        TENDER,
        {"arch-central": 0, "heel-plantar": "6"},
        RegionValues({"heel-plantar": Decimal(6), "arch-central": Decimal(0)}),
        "heel-plantar: 6; arch-central: 0",
    ),
    (
        SKIN,
        {"arch-central": "86 °F"},
        RegionValues({"arch-central": Decimal(30)}),
        "arch-central: 86 °F",
    ),
    (
        SKIN,
        {"arch-central": Decimal("30.5")},
        RegionValues({"arch-central": Decimal("30.5")}),
        "arch-central: 30.5",
    ),
    (
        TABLE,
        [{"effort": "5", "week": "2026-02-23", "minutes": Decimal("120.5")}, {"sessions": "3,0"}],
        Rows(
            (
                {"week": "2026-02-23", "minutes": Decimal("120.5"), "effort": Decimal(5)},
                {"sessions": Decimal("3.0")},
            )
        ),
        "week: 2026-02-23, minutes: 120.5, effort: 5; sessions: 3.0",
    ),
    (
        INJURIES,
        [{"date": "2024-02", "bone": "Second metatarsal", "side": "Left"}, {"date": "2021"}],
        Rows(
            (
                {"date": "2024-02", "bone": "Second metatarsal", "side": "left"},
                {"date": "2021"},
            )
        ),
        "date: 2024-02, bone: Second metatarsal, side: left; date: 2021",
    ),
    (KNOWN, "none-known", NoneKnown(), "none-known"),
    (KNOWN, [{"what": "latex"}], Rows(({"what": "latex"},)), "what: latex"),
    (
        ACTIVITIES,
        [{"activity": "stairs", "score": 4}, {"score": "+10", "activity": "running"}],
        Activities((("stairs", 4), ("running", 10))),
        "stairs: 4; running: 10",
    ),
]


@pytest.mark.parametrize(("name", "typed", "value", "kept"), TAKEN)
def test_taken(catalogue: Catalogue, name: str, typed: Any, value: Value, kept: str) -> None:
    parsed = parse(typed, catalogue.measures[name], catalogue)
    assert parsed.value == value
    assert parsed.typed == kept


def test_regions_come_in_map_order(catalogue: Catalogue) -> None:
    given = list(reversed(catalogue.regions))
    parsed = parse(given, catalogue.measures[REGIONS], catalogue)
    assert parsed.value == Words(tuple(catalogue.regions))
    measured = parse(dict.fromkeys(given, 1), catalogue.measures[TENDER], catalogue)
    assert isinstance(measured.value, RegionValues)
    assert list(measured.value.values) == list(catalogue.regions)


REFUSED: list[tuple[str, Any, str]] = [
    # score: a whole number, or text [+-−]?digits
    (SCORE, "1.5", "not-a-whole-number"),
    (SCORE, Decimal("1.5"), "not-a-whole-number"),
    (SCORE, "1 points", "not-a-whole-number"),
    (SCORE, "1+", "not-a-whole-number"),
    (SCORE, "", "not-a-whole-number"),
    (SCORE, "1 1", "not-a-whole-number"),
    (SCORE, [1], "not-a-whole-number"),
    (SCORE, {"a": 1}, "not-a-whole-number"),
    (SCORE, True, "not-a-whole-number"),
    (SCORE, None, "not-a-whole-number"),
    (SCORE, 3, "beyond-limit"),
    (SCORE, "-3", "beyond-limit"),
    (SCORE, Decimal("1E39"), "beyond-limit"),
    # quantity
    (ANKLE, "", "nothing-typed"),
    (ANKLE, "about 9", "not-a-number"),
    (ANKLE, "9,10,8", "not-a-number"),
    (ANKLE, "1.2.3", "not-a-number"),
    (ANKLE, "1/2", "not-a-number"),
    (ANKLE, ">30", "not-a-number"),
    (ANKLE, "10-12", "not-a-number"),
    (ANKLE, "1'000", "not-a-number"),
    (ANKLE, "1e3", "unknown-unit"),
    (ANKLE, "9 cm", "unknown-unit"),
    (ANKLE, "12 %", "unknown-unit"),
    (ANKLE, "9 DEG", "unknown-unit"),
    (ANKLE, "9 deg 8 deg", "unit-only-at-the-end"),
    (ANKLE, "1 2 3 4 5 6 7 8 9 10 11", "too-many-readings"),
    (ANKLE, [1] * 11, "too-many-readings"),
    (ANKLE, "9 " * 300, "too-long"),
    (ANKLE, [], "list-empty"),
    (ANKLE, [9, "8 7"], "mixed-list"),
    (ANKLE, [9, None], "mixed-list"),
    (ANKLE, [9, [8]], "mixed-list"),
    (ANKLE, [9, True], "mixed-list"),
    (ANKLE, [9, ""], "nothing-typed"),
    (ANKLE, True, "wrong-shape"),
    (ANKLE, None, "wrong-shape"),
    (ANKLE, {"deg": 9}, "wrong-shape"),
    (ANKLE, "900", "beyond-limit"),
    (ANKLE, [9, 900], "beyond-limit"),
    (ANKLE, Decimal("-1E39"), "beyond-limit"),
    (HEIGHT, "170 171", "one-reading-only"),
    (HEIGHT, [170], "one-reading-only"),
    (HEIGHT, "5 ft 14 in", "not-one-reading"),
    (HEIGHT, "2 m 5 cm", "unit-only-at-the-end"),
    (DISTANCE, "1,500", "two-ways"),
    (DISTANCE, "1.500 km", "two-ways"),
    (PLATE, {"heel-plantar": "1,200"}, "two-ways"),
    (PRESSURE, "120 deg", "unknown-unit"),
    # percent: the sign only here
    (PERCENT, "101 %", "beyond-limit"),
    (PERCENT, "50 points", "unknown-unit"),
    (PERCENT, "40 50", "one-reading-only"),
    # duration
    (WEEKS, "1 year 2", "not-one-duration"),
    (WEEKS, "3 4", "not-one-duration"),
    (WEEKS, "2 hours", "unknown-unit"),
    (WEEKS, "-3 months", "beyond-limit"),
    (WEEKS, "101 years", "beyond-limit"),
    (WEEKS, "1,500 days", "two-ways"),
    (WEEKS, [3], "wrong-shape"),
    (WEEKS, None, "wrong-shape"),
    (WEEKS, False, "wrong-shape"),
    # choice
    (CHOICE, "slow", "not-a-word"),
    (CHOICE, "", "not-a-word"),
    (CHOICE, "gradual\n", "not-a-word"),
    (CHOICE, 1, "not-a-word"),
    (CHOICE, True, "not-a-word"),
    (CHOICE, ["gradual"], "not-a-word"),
    # yes-no
    (YES_NO, "maybe", "not-yes-no"),
    (YES_NO, "y", "not-yes-no"),
    (YES_NO, True, "not-yes-no"),
    (YES_NO, None, "not-yes-no"),
    (YES_NO, {"answer": "yes"}, "not-yes-no"),
    # yes-sites
    (YES_SITES, "maybe", "not-yes-no"),
    (YES_SITES, {"answer": "perhaps"}, "not-yes-no"),
    (YES_SITES, {"sites": ["navicular"]}, "no-answer"),
    (YES_SITES, {"answer": "yes", "sites": []}, "list-empty"),
    (YES_SITES, {"answer": "yes", "sites": "navicular"}, "wrong-shape"),
    (YES_SITES, {"answer": "yes", "sites": ["elbow"]}, "unknown-region"),
    (YES_SITES, {"answer": "no", "sites": ["navicular"]}, "wrong-shape"),
    (YES_SITES, {"answer": "yes", "where": "x"}, "unknown-key"),
    (YES_SITES, ["yes"], "not-yes-no"),
    # several
    (SEVERAL, "walking", "wrong-shape"),
    (SEVERAL, {"walking": 1}, "wrong-shape"),
    (SEVERAL, 1, "wrong-shape"),
    (SEVERAL, [], "list-empty"),
    (SEVERAL, ["flying"], "not-a-word"),
    (SEVERAL, ["walking", 1], "not-a-word"),
    (SEVERAL, ["none", "walking"], "none-stands-alone"),
    # text
    (TEXT, "", "text-empty"),
    (TEXT, " \u00a0", "text-empty"),
    (TEXT, "two\nlines", "text-control"),
    (TEXT, "a\tb", "text-control"),
    (TEXT, "a\x00b", "text-control"),
    (TEXT, "a\x7fb", "text-control"),
    (TEXT, "a\u2028b", "text-control"),
    (TEXT, "a\u202eb", "text-control"),
    (TEXT, "a\ud800b", "text-control"),
    (TEXT, "x" * 4001, "text-too-long"),
    (TEXT, "x" * 10**6, "text-too-long"),
    (TEXT, 5, "not-text"),
    (TEXT, None, "not-text"),
    (TEXT, ["a"], "not-text"),
    # regions
    (REGIONS, "heel-plantar", "wrong-shape"),
    (REGIONS, {"heel-plantar": 1}, "wrong-shape"),
    (REGIONS, [], "list-empty"),
    (REGIONS, ["elbow"], "unknown-region"),
    (REGIONS, ["Heel-plantar"], "unknown-region"),
    (REGIONS, [["heel-plantar"]], "unknown-region"),
    # region-values
    (TENDER, 6, "wrong-shape"),
    (TENDER, ["heel-plantar"], "wrong-shape"),
    (TENDER, {}, "list-empty"),
    (TENDER, {"elbow": 6}, "unknown-region"),
    (TENDER, {"heel-plantar": 11}, "beyond-limit"),
    (TENDER, {"heel-plantar": "5.5"}, "not-a-whole-number"),
    (TENDER, {"heel-plantar": None}, "not-a-whole-number"),
    (SKIN, {"heel-plantar": "30 31"}, "mixed-list"),
    (SKIN, {"heel-plantar": [30]}, "wrong-shape"),
    (SKIN, {"heel-plantar": True}, "wrong-shape"),
    (SKIN, {"heel-plantar": "30 K"}, "unknown-unit"),
    (SKIN, {"heel-plantar": 60}, "beyond-limit"),
    # table
    (TABLE, {"week": "2026-02-23"}, "wrong-shape"),
    (TABLE, "a week", "wrong-shape"),
    (TABLE, [], "list-empty"),
    (TABLE, [{}], "row-empty"),
    (TABLE, ["2026-02-23"], "wrong-shape"),
    (TABLE, [{"weeks": "2026-02-23"}], "unknown-column"),
    (TABLE, [{"week": "2026-02-24"}], "not-a-monday"),
    (TABLE, [{"week": "2026-02"}], "not-a-day"),
    (TABLE, [{"week": "2026-W09-1"}], "not-a-day"),
    (TABLE, [{"week": 20260223}], "not-a-day"),
    (TABLE, [{"effort": 11}], "bad-cell"),
    (TABLE, [{"effort": "5 6"}], "bad-cell"),
    (TABLE, [{"effort": "hard"}], "bad-cell"),
    (TABLE, [{"effort": True}], "bad-cell"),
    (TABLE, [{"effort": None}], "bad-cell"),
    (TABLE, [{"minutes": "1,200"}], "two-ways"),
    (TABLE, "none-known", "wrong-shape"),
    (INJURIES, [{"date": "2024-13"}], "not-a-date"),
    (INJURIES, [{"date": "2023-02-29"}], "not-a-date"),
    (INJURIES, [{"date": "0000"}], "not-a-date"),
    (INJURIES, [{"date": "24-02-03"}], "not-a-date"),
    (INJURIES, [{"date": 2024}], "not-a-date"),
    (INJURIES, [{"side": "middle"}], "bad-cell"),
    (INJURIES, [{"side": None}], "bad-cell"),
    (INJURIES, [{"bone": ""}], "text-empty"),
    (INJURIES, [{"bone": "x" * 401}], "text-too-long"),
    (KNOWN, "none known", "wrong-shape"),
    (KNOWN, ["none-known"], "wrong-shape"),
    # activities
    (ACTIVITIES, "stairs", "wrong-shape"),
    (ACTIVITIES, {"activity": "stairs", "score": 4}, "wrong-shape"),
    (ACTIVITIES, [], "activities-count"),
    (ACTIVITIES, [{"activity": "stairs", "score": 4}] * 6, "activities-count"),
    (ACTIVITIES, ["stairs"], "activity-shape"),
    (ACTIVITIES, [{"activity": "stairs"}], "activity-shape"),
    (ACTIVITIES, [{"activity": "stairs", "score": 4, "why": "x"}], "activity-shape"),
    (ACTIVITIES, [{"activity": "stairs", "score": 11}], "beyond-limit"),
    (ACTIVITIES, [{"activity": "stairs", "score": "4.5"}], "not-a-whole-number"),
    (ACTIVITIES, [{"activity": "", "score": 4}], "text-empty"),
    # derived
    (DERIVED, 6, "derived-measure"),
]


@pytest.mark.parametrize(("name", "typed", "code"), REFUSED)
def test_refused(catalogue: Catalogue, name: str, typed: Any, code: str) -> None:
    with pytest.raises(Refusal) as refused:
        parse(typed, catalogue.measures[name], catalogue)
    assert refused.value.code == code
    assert "; nothing was stored; " in str(refused.value)
    assert "None" not in str(refused.value)


def test_every_kind_is_taken_and_refused(catalogue: Catalogue) -> None:
    taken = {catalogue.measures[name].kind for name, *_ in TAKEN}
    refused = {catalogue.measures[name].kind for name, *_ in REFUSED}
    assert taken == set(Kind) - {Kind.DERIVED}
    assert refused == set(Kind)


def test_a_measure_without_unit_words_takes_its_own_unit_or_none(catalogue: Catalogue) -> None:
    measure = catalogue.measures["ankle-sprain-count"]
    assert parse("3 sprains", measure, catalogue).value == numbers(3)
    with pytest.raises(Refusal) as refused:
        parse("3 times", measure, catalogue)
    assert "use sprains, or leave the unit out for sprains" in str(refused.value)


def test_a_measure_without_a_unit_takes_the_number_alone(catalogue: Catalogue) -> None:
    measure = replace(catalogue.measures["ankle-sprain-count"], unit="")
    assert parse("3", measure, catalogue).value == numbers(3)
    with pytest.raises(Refusal) as refused:
        parse("3 cm", measure, catalogue)
    assert str(refused.value) == (
        "“cm” stands after the number, and this measure has no unit; nothing was stored; write "
        "the number alone."
    )


@pytest.mark.parametrize(
    ("name", "typed", "told"),
    [
        (
            ANKLE,
            "9,10,8",
            (
                "“9,10,8” cannot be read as a number; nothing was stored; write digits with at "
                "most one point or comma, as in 10.5 deg, and a space between repeats."
            ),
        ),
        (
            SCORE,
            "1.5",
            (
                "“1.5” is not a whole number; nothing was stored; write a whole number from -2 to "
                "2; a half or a plus belongs in the note."
            ),
        ),
        (
            HEIGHT,
            "17 cm",
            (
                "17 cm lies outside 40 to 250 cm, the limits of this measure; nothing was stored; "
                "check the number, its sign and its unit."
            ),
        ),
        (
            HEIGHT,
            Decimal("250.0000000000000001"),
            (
                "250.0000000000000001 cm lies outside 40 to 250 cm, the limits of this measure; "
                "nothing was stored; check the number, its sign and its unit."
            ),
        ),
        (
            HEIGHT,
            "1 in",
            (
                "2.54 cm lies outside 40 to 250 cm, the limits of this measure; nothing was "
                "stored; check the number, its sign and its unit."
            ),
        ),
        (
            DISTANCE,
            "1,500",
            (
                "“1,500” may mean 1.5 or 1500; nothing was stored; write it without a sign for "
                "thousands, or with another number of decimals."
            ),
        ),
        (
            TEXT,
            None,
            (
                "null stands where a text is expected; nothing was stored; write it between "
                "quotation marks."
            ),
        ),
        (
            SEVERAL,
            True,
            "this measure does not take true or false; nothing was stored; give a list of words.",
        ),
        (
            ACTIVITIES,
            5,
            "this measure does not take a number; nothing was stored; give a list of activities.",
        ),
        (
            TABLE,
            [{"effort": 11}],
            (
                "“11” does not fit the column “effort”; nothing was stored; give a number from 0 "
                "to 10."
            ),
        ),
        (
            DERIVED,
            6,
            (
                "this is worked out from other measures and takes no reading; nothing was stored; "
                "enter fpi-talar-head, fpi-malleolar-curves, fpi-calcaneal-position, "
                "fpi-talonavicular-bulge, fpi-medial-arch and fpi-forefoot-abduction instead."
            ),
        ),
    ],
)
def test_sentences(catalogue: Catalogue, name: str, typed: Any, told: str) -> None:
    with pytest.raises(Refusal) as refused:
        parse(typed, catalogue.measures[name], catalogue)
    assert str(refused.value) == told
