"""The cautions and gates as shipped, against the contract of cautions.csv and the safety review."""

import csv
import re
from datetime import date
from pathlib import Path

import pytest

from footexam.assessment import assess
from footexam.catalogue.arguments import Branch, Hold
from footexam.catalogue.expression import measures_of, parse_expression
from footexam.catalogue.model import Catalogue
from footexam.reasoning.engine import Reasons
from footexam.record.examination import Examination, Patient, Person
from footexam.record.parse import parse
from footexam.record.reading import Reading
from footexam.terms import Provenance, Sex, Side
from tests.shipped import shipped

DATA = Path(__file__).parents[1] / "data"
Row = dict[str, str]


def table(name: str) -> list[Row]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = table("cautions.csv")
UMBRELLAS = table("umbrellas.csv")
ADDED = {
    "bone-stress-high-risk-sesamoid",
    "bone-stress-high-risk-sesamoid-only",
    "chronic-limb-ischaemia-slow-refill",
    "low-energy-availability-secondary",
}
"""Branches of our own, from the safety review 1.5 and 2.7, that cautions.csv lacks."""

HELD_BY_THE_REVIEW = {
    *("acute-limb-ischaemia", "chronic-limb-ischaemia", "acute-compartment-syndrome"),
    *("cauda-equina", "neurological-deficit", "deep-vein-thrombosis", "septic-arthritis"),
    *("foot-infection", "osteomyelitis", "charcot", "bone-stress-high-risk", "femoral-neck"),
    *("achilles-rupture", "other-tendon-rupture", "fracture", "midfoot-ligament-injury"),
    *("malignancy", "pathological-fracture", "child-limp", "drug-related-tendon"),
}
HELD_AS_PARTS_OF_THEM = {
    *("spinal-cord-compression", "pulmonary-embolism", "diabetic-foot-active"),
    *("open-or-displaced-injury", "penetrating-wound"),
}
LONGEST_LABEL = 40
MOST_SENTENCES = 3
SENTENCE_END = re.compile(r"[.?!](?:\s|$)")


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return shipped()


def listed(cell: str) -> tuple[str, ...]:
    return tuple(cell.split("|")) if cell else ()


def branches(catalogue: Catalogue) -> dict[str, tuple[str, Branch]]:
    return {
        branch.id: (sign.id, branch)
        for sign in catalogue.cautions.values()
        for branch in sign.branches
    }


def test_the_contract_is_whole(catalogue: Catalogue) -> None:
    assert (len(ROWS), len({row["id"] for row in ROWS})) == (73, 35)
    assert list(catalogue.cautions) == list(dict.fromkeys(row["id"] for row in ROWS))
    assert set(branches(catalogue)) == {row["branch"] for row in ROWS} | ADDED


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["branch"])
def test_a_branch_is_that_of_the_contract(row: Row, catalogue: Catalogue) -> None:
    caution, branch = branches(catalogue)[row["branch"]]
    assert (caution, branch.tier, branch.when) == (row["id"], row["tier"], row["fires_when"])
    assert branch.umbrella == listed(row["umbrella"])
    assert branch.unfolds == listed(row["unfolds"])


def test_within_a_tier_branches_keep_the_order_of_the_contract(catalogue: Catalogue) -> None:
    order = [row["branch"] for row in ROWS]
    for sign in catalogue.cautions.values():
        for tier in {branch.tier for branch in sign.branches}:
            here = [branch.id for branch in sign.branches if branch.tier is tier]
            given = [name for name in here if name not in ADDED]
            assert given == sorted(given, key=order.index)


def test_what_is_held_back(catalogue: Catalogue) -> None:
    assert len(HELD_BY_THE_REVIEW) == 20
    everything = (Hold.LOADING, Hold.PROVOCATION, Hold.DEVICE)
    expected: dict[str, tuple[Hold, ...]] = dict.fromkeys(catalogue.cautions, ())
    expected |= dict.fromkeys(HELD_BY_THE_REVIEW | HELD_AS_PARTS_OF_THEM, everything)
    expected |= {"low-energy-availability": (Hold.IMPACT,), "insensate-foot": (Hold.PAIN_GUIDED,)}
    assert {sign.id: sign.holds for sign in catalogue.cautions.values()} == expected


def test_words_are_short_and_say_when(catalogue: Catalogue) -> None:
    first = re.compile(
        r"(Emergency|Today|Now|Routine|Within (three working )?days|First|Suspected-cancer route"
        r"|With a tender bone)\b"
    )
    for sign in catalogue.cautions.values():
        assert len(sign.label["en"]) <= LONGEST_LABEL, sign.id
    for name, (_, branch) in branches(catalogue).items():
        action = branch.action["en"]
        assert len(SENTENCE_END.findall(action)) <= MOST_SENTENCES, name
        assert first.match(action), name
        assert len(SENTENCE_END.findall(branch.trigger["en"])) == 1, name
        assert "%" not in branch.trigger["en"] + action, name


def test_emergencies_begin_with_the_word(catalogue: Catalogue) -> None:
    for name, (_, branch) in branches(catalogue).items():
        begins = branch.action["en"].startswith("Emergency:")
        assert begins is (branch.tier == "emergency"), name


def test_a_guideline_has_its_country_and_a_source_that_is_no_rule_of_thumb(
    catalogue: Catalogue,
) -> None:
    for name, (_, branch) in branches(catalogue).items():
        assert bool(branch.guideline) is bool(branch.country), name
        thumb = branch.source == "common-practice"
        assert thumb is (branch.provenance is Provenance.COMMON_PRACTICE), name
        assert not (thumb and branch.guideline), name


def test_every_umbrella_question_leads_to_a_branch(catalogue: Catalogue) -> None:
    reached = {name for _, branch in branches(catalogue).values() for name in branch.umbrella}
    assert reached == {row["id"] for row in UMBRELLAS}


def test_the_gates_forbid_what_the_review_names(catalogue: Catalogue) -> None:
    forbidden = {name for gate in catalogue.gates.values() for name in gate.forbids}
    assert {"hop-test", "heel-raise-count", "strength-plantarflexion"} <= forbidden


def test_no_gate_asks_for_a_test_it_forbids(catalogue: Catalogue) -> None:
    for gate in catalogue.gates.values():
        for cause in gate.causes:
            assert not set(gate.forbids) & set(measures_of(parse_expression(cause.when)))


def test_before_a_boot_blood_flow_feeling_and_clot_risk_are_recorded(catalogue: Catalogue) -> None:
    assert {
        *("pulse-dorsalis-pedis", "pulse-posterior-tibial", "monofilament-hallux"),
        *("previous-clot", "active-cancer", "pregnant-or-recent-birth", "hormone-treatment"),
        *("bed-rest-or-surgery-12-weeks", "body-height", "body-mass"),
    } <= set(catalogue.checks["before-boot"].asks)


# --- what fires, through the engine

LEFT, RIGHT = Side.LEFT, Side.RIGHT
ADULT, CHILD = "1980-05-01", "2014-05-01"
Typed = dict[str, object]


def examined(catalogue: Catalogue, typed: Typed, born: str = ADULT) -> Reasons:
    """What is reasoned about readings of the left side (or without a side) alone."""
    readings = {}
    for name, value in typed.items():
        measure = catalogue.measures[name]
        side = LEFT if measure.sided else None
        parsed = parse(value, measure, catalogue)
        assert parsed.value is not None, (name, value)
        readings[name, side] = Reading(name, side, parsed.value, parsed.typed)
    patient = Patient("Quist", birth_date=born, sex=Sex.FEMALE)
    examination = Examination(patient, date(2026, 5, 12), Person("R. Lind"), readings=readings)
    return assess(examination, catalogue).reasons


def fired(catalogue: Catalogue, typed: Typed, born: str = ADULT) -> dict[str, str | None]:
    """The branch of each caution that fired."""
    found = examined(catalogue, typed, born).cautions
    return {one.id: one.branch for one in found if one.id is not None}


WOUND = {"caution-open-wound": "yes"}
NUMBERS: list[tuple[Typed, str, str, str]] = [
    ({"pressure-dorsalis-pedis": 49}, "chronic-limb-ischaemia", "-pressure", ADULT),
    ({"pressure-posterior-tibial": 49}, "chronic-limb-ischaemia", "-pressure", ADULT),
    ({"pressure-toe": 29}, "chronic-limb-ischaemia", "-pressure", ADULT),
    (
        {"pressure-dorsalis-pedis": 58, "pressure-posterior-tibial": 52, "pressure-arm": 120},
        *("chronic-limb-ischaemia", "-pressure", ADULT),
    ),
    (
        {"pressure-dorsalis-pedis": 70, **WOUND},
        *("chronic-limb-ischaemia", "-rest-pain-or-wound", ADULT),
    ),
    (
        {"pressure-posterior-tibial": 50, **WOUND},
        *("chronic-limb-ischaemia", "-rest-pain-or-wound", ADULT),
    ),
    ({"capillary-refill": 6, "pain-now": 3}, "chronic-limb-ischaemia", "-slow-refill", ADULT),
    (
        {"pulse-dorsalis-pedis": "absent", "pulse-posterior-tibial": "absent", **WOUND},
        *("chronic-limb-ischaemia", "-rest-pain-or-wound", ADULT),
    ),
    ({"monofilament-hallux": 1}, "insensate-foot", "-cause-unknown", ADULT),
    ({"monofilament-met-head-1": 0}, "insensate-foot", "-cause-unknown", ADULT),
    ({"monofilament-met-head-5": 1, "diabetes": "yes"}, "insensate-foot", "-diabetes", ADULT),
    ({"monofilament-hallux": 1, "caution-hot-swollen-foot": "yes"}, "charcot", "", ADULT),
    ({"strength-dorsiflexion": 3}, "neurological-deficit", "-foot-drop", ADULT),
    ({"limp": "yes"}, "child-limp", "-other", CHILD),
    (
        {"hip-internal-rotation": 5, "complaint-site": ["knee-medial"]},
        *("femoral-neck", "-child", CHILD),
    ),
    (
        {"hip-internal-rotation": 5, "caution-groin-or-thigh-pain": "yes"},
        *("femoral-neck", "-child", CHILD),
    ),
    ({"diabetes": "yes", **WOUND}, "diabetic-foot-active", "-new", ADULT),
    ({"missed-cycles": 3}, "low-energy-availability", "-indicators", ADULT),
    (
        {"tenderness": {"shin-anterior": 5}, "night-pain": "yes"},
        *("bone-stress-high-risk", "", ADULT),
    ),
]


@pytest.mark.parametrize(("typed", "caution", "ending", "born"), NUMBERS)
def test_a_number_that_must_fire_a_caution_does(
    typed: Typed, caution: str, ending: str, born: str, catalogue: Catalogue
) -> None:
    assert fired(catalogue, typed, born)[caution] == caution + ending


@pytest.mark.parametrize(
    "typed",
    [
        {"pressure-dorsalis-pedis": 51},
        {"pressure-dorsalis-pedis": 71, **WOUND},
        {"pressure-toe": 30},
        {"capillary-refill": 6},
        {"capillary-refill": 5, "pain-now": 3},
        {"monofilament-hallux": 2},
        {"strength-dorsiflexion": 4},
        {"limp": "yes"},
        {"missed-cycles": 2},
        {"hip-internal-rotation": 5, "complaint-site": ["knee-medial"]},
    ],
)
def test_a_number_beside_the_limit_or_an_adult_fires_nothing(
    typed: Typed, catalogue: Catalogue
) -> None:
    assert fired(catalogue, typed) == {}


def test_a_child_of_17_with_a_limp_is_no_limping_child(catalogue: Catalogue) -> None:
    assert "child-limp" in fired(catalogue, {"limp": "yes"}, "2009-05-13")
    assert "child-limp" not in fired(catalogue, {"limp": "yes"}, "2009-05-12")


def test_a_child_that_does_not_walk_at_18_months(catalogue: Catalogue) -> None:
    crawls: Typed = {"child-walks": "crawls"}
    assert fired(catalogue, crawls, "2024-11-12") == {
        "neurological-deficit": "neurological-deficit-child-milestones"
    }
    assert fired(catalogue, crawls, "2024-11-13") == {}


@pytest.mark.parametrize(
    ("question", "branch"),
    [
        ("caution-cannot-bear-weight", "fracture-cannot-bear-weight"),
        ("caution-focal-bone-tenderness", "bone-stress-high-risk-site-only"),
        ("caution-calf-pain-swelling", "deep-vein-thrombosis-unlikely-or-open"),
        ("caution-cold-pale-foot", "acute-limb-ischaemia-cold-limb"),
        ("caution-fever-or-spreading-redness", "foot-infection-not-yet-sorted"),
        ("caution-numb-or-weak", "neurological-deficit-slow"),
        ("caution-saddle-or-bladder", "cauda-equina"),
        ("caution-unrelenting-night-pain", "malignancy-night-pain-alone"),
        ("caution-unexplained-weight-loss", "systemic-illness-weight-loss"),
        # wide or weak by themselves: they stand as a yes until their own questions are asked
        ("caution-hot-swollen-foot", None),
        ("caution-open-wound", None),
        ("caution-history-of-cancer", None),
    ],
)
def test_a_plain_yes_on_an_umbrella_question(
    question: str, branch: str | None, catalogue: Catalogue
) -> None:
    (found,) = examined(catalogue, {question: "yes"}).cautions
    assert found.branch == branch
    assert found.is_open


def test_an_action_names_the_faster_way_that_another_branch_would_ask(
    catalogue: Catalogue,
) -> None:
    """Tried by tier, two branches stand behind a sooner one: that one's action says theirs too."""
    found = branches(catalogue)
    assert "suspected-cancer route" in found["malignancy-night-pain-alone"][1].action["en"]
    assert "Known gout" in found["acute-gout-first-or-doubtful"][1].action["en"]


# --- what is not offered

SHUT: list[Typed] = [
    {"limp": "yes"},
    {"tenderness": {"navicular": 4}},
    {"tenderness": {"groin": 2}},
    {"complaint-site": ["knee-anterior"]},
    {"sesamoid-tenderness": "medial"},
    {"achilles-gap": "yes"},
    {"caution-cannot-bear-weight": "yes"},
    {"caution-calf-pain-swelling": "yes"},
    {"caution-hot-swollen-foot": "yes", "diabetes": "yes"},
    {"caution-fall-onto-heels": "yes"},
    {"monofilament-met-head-5": 1},
    {"vibration-felt": "reduced"},
]


@pytest.mark.parametrize("typed", SHUT)
def test_no_hop_or_heel_raise_where_the_gate_is_shut(typed: Typed, catalogue: Catalogue) -> None:
    reasons = examined(catalogue, typed)
    assert {"hop-test", "heel-raise-count"} <= set(reasons.shut[LEFT])


def test_a_gate_shuts_for_its_side_only(catalogue: Catalogue) -> None:
    reasons = examined(catalogue, {"tenderness": {"navicular": 4}})
    assert "hop-test" not in reasons.shut[RIGHT]


def test_the_gate_is_open_where_nothing_speaks_against(catalogue: Catalogue) -> None:
    typed: Typed = {"tenderness": {"met-shaft-3": 4}, "monofilament-hallux": 3}
    assert examined(catalogue, typed).shut[LEFT] == {}


def test_reduced_feeling_alone_leaves_range_and_strength_to_be_tested(
    catalogue: Catalogue,
) -> None:
    shut = examined(catalogue, {"monofilament-hallux": 0}).shut[LEFT]
    assert not {"lunge-distance", "strength-plantarflexion"} & set(shut)
