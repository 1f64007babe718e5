"""Aims and features in the JSON of an assessment: keys, order, numbers, marks, what holds back."""

import json
from pathlib import Path
from typing import Any

import pytest

from footexam.assessment import assess
from footexam.catalogue.model import Catalogue
from footexam.exchange.assessment import as_tree, write_assessment
from footexam.exchange.examination import read_examination
from tests.exchange.examples import TODAY, data, file

LIMITED = "limited-df-calf-achilles-load"
LIFT: dict[str, Any] = {"id": "heel-lift", "side": "left"}
WALKER: dict[str, Any] = {
    "foot-length": {"both": 250},
    "ankle-dorsiflexion-knee-straight": {"both": 7},
    "shoe-drop": 4,
    "complaint-site": {"left": ["heel-plantar-medial"]},
}
SHOPKEEPER: dict[str, Any] = json.loads(
    (Path(__file__).parents[1] / "scenarios/01-heel-plantar.json").read_text(encoding="utf-8")
)["readings"]
"""Somebody for whom hypotheses lead, on the right."""
DIMENSION = ["value", "unit", "range", "provenance"]
FEATURE = [
    *("id", "aim", "side", "dimensions", "mechanism"),
    *("evidence", "grade", "avoid_because", "conflicts"),
]


def tree(
    catalogue: Catalogue, readings: dict[str, Any], *, suggest: bool = False, **decisions: Any
) -> dict[str, Any]:
    raw = data({**file(readings), "decisions": decisions})
    exam = read_examination(raw, catalogue, TODAY).examination
    found = assess(exam, catalogue, suggest=suggest)
    told: dict[str, Any] = json.loads(write_assessment(found))
    assert told == as_tree(found)
    return told


def accepted(*hypotheses: tuple[str, str]) -> dict[str, Any]:
    return {"accepted": [{"id": name, "side": side} for name, side in hypotheses]}


def test_aims_come_from_what_was_accepted(catalogue: Catalogue) -> None:
    told = tree(catalogue, WALKER, hypotheses=accepted((LIMITED, "left")))
    assert told["aims"] == [
        {"id": "offset-ankle-dorsiflexion-deficit", "side": "left", "from": [LIMITED]}
    ]
    assert tree(catalogue, WALKER)["aims"] == tree(catalogue, WALKER)["features"] == []


def test_a_kept_aim_that_no_hypothesis_opens(catalogue: Catalogue) -> None:
    told = tree(catalogue, {}, aims=[{"id": "protect-insensate-skin", "side": "right"}])
    assert told["aims"] == [{"id": "protect-insensate-skin", "side": "right", "from": []}]
    assert {one["side"] for one in told["features"]} == {"right"}


def test_keys_and_numbers_of_a_feature(catalogue: Catalogue) -> None:
    chosen = [{**LIFT, "height": "6,5 mm"}]
    told = tree(catalogue, WALKER, hypotheses=accepted((LIMITED, "left")), features=chosen)
    assert all(list(one) == FEATURE for one in told["features"])
    lift = next(one for one in told["features"] if one["id"] == "heel-lift")
    assert (lift["aim"], lift["side"]) == ("offset-ankle-dorsiflexion-deficit", "left")
    assert list(lift["dimensions"]["height"]) == DIMENSION
    assert lift["dimensions"]["height"] == {
        "value": 6.5,
        "unit": "mm",
        "range": [3.0, 12.0],
        "provenance": "estimate",
    }
    shipped = catalogue.features["heel-lift"]
    assert lift["mechanism"] == shipped.mechanism["en"]
    assert (lift["evidence"], lift["grade"]) == (shipped.claims[0].text["en"], "E1")
    assert lift["avoid_because"] == []
    assert lift["conflicts"] == [
        {
            "with": "heel-lift",
            "severity": "warn",
            "why": catalogue.conflicts["heel-lift-on-one-side"].why["en"],
        }
    ]


def test_reasons_against_are_those_that_hold(catalogue: Catalogue) -> None:
    sore = {**WALKER, "tenderness": {"left": {"met-head-3": 4}}}
    told = tree(catalogue, sore, hypotheses=accepted((LIMITED, "left"), (LIMITED, "right")))
    lifts = [one for one in told["features"] if one["id"] == "heel-lift"]
    assert [(one["side"], len(one["avoid_because"])) for one in lifts] == [
        ("left", 1),
        ("right", 0),
    ]
    assert lifts[0]["avoid_because"][0].startswith("The middle of the forefoot hurts")


def test_an_aim_without_a_claim_has_the_general_one_or_none(catalogue: Catalogue) -> None:
    for hypothesis in catalogue.hypotheses:
        for one in tree(catalogue, {}, hypotheses=accepted((hypothesis, "left")))["features"]:
            claims = catalogue.features[one["id"]].claims
            about = [claim for claim in claims if claim.about in {one["aim"], "general"}]
            assert bool(one["evidence"]) is bool(about)
            assert (one["grade"] is None) is not bool(about)
            assert one["mechanism"]


def test_every_aim_and_feature_of_a_suggestion_is_marked(catalogue: Catalogue) -> None:
    told = tree(catalogue, SHOPKEEPER, suggest=True)
    leading = [one["id"] for one in told["hypotheses"] if one["points"] >= 1]
    assert told["aims"]
    assert told["features"]
    assert all(list(one) == ["id", "side", "from", "suggested"] for one in told["aims"])
    assert all(list(one) == [*FEATURE, "suggested"] for one in told["features"])
    assert all(one["suggested"] is True for one in (*told["aims"], *told["features"]))
    behind = {(name, one["side"]) for one in told["aims"] for name in one["from"]}
    assert 1 <= len(behind) <= 3
    assert {name for name, _ in behind} <= set(leading)


def test_a_suggestion_is_not_for_what_was_accepted(catalogue: Catalogue) -> None:
    found = accepted(("structural-hallux-dorsal-compression", "right"))
    assert (
        tree(catalogue, SHOPKEEPER, suggest=True, hypotheses=found)["aims"]
        == tree(catalogue, SHOPKEEPER, suggest=True)["aims"]
    )


DANGER: dict[str, Any] = {
    **SHOPKEEPER,
    "caution-cannot-bear-weight": {"right": "yes", "left": "no"},
}


@pytest.mark.parametrize("suggest", [False, True])
def test_what_is_held_back_is_empty_and_says_by_what(catalogue: Catalogue, suggest: bool) -> None:
    both = accepted((LIMITED, "left"), (LIMITED, "right"))
    told = tree(catalogue, DANGER, suggest=suggest, hypotheses=both)
    assert told["held_by"]
    assert {one["side"] for one in told["held_by"]} == {"right"}
    sides = {one["side"] for one in (*told["aims"], *told["features"])}
    assert sides == (set() if suggest else {"left"})
    decided = {
        one["id"]: {
            "side": "right",
            "decision": "excluded",
            "by": "Ann Reed",
            "at": "2026-03-04T10:20:00Z",
        }
        for one in told["held_by"]
    }
    lifted = tree(catalogue, DANGER, suggest=suggest, hypotheses=both, cautions=decided)
    assert lifted["held_by"] == []
    assert "right" in {one["side"] for one in lifted["aims"]}


def test_the_same_plan_gives_the_same_bytes(catalogue: Catalogue) -> None:
    kept = [{"id": name, "side": None} for name in ("lower-skin-shear", "protect-insensate-skin")]
    raw = data({**file(WALKER), "decisions": {"aims": kept}})
    exam = read_examination(raw, catalogue, TODAY).examination
    assert len({write_assessment(assess(exam, catalogue)) for _ in range(3)}) == 1
