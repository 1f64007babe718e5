"""Twelve examinations of invented people, one for each region, and what must be made of them.

Beside each file stands a TOML of the same name: which hypotheses must lead on its side, which must
not be open at all, which may be open but must not lead or not come first, which cautions must
fire (and no others), what must not be offered, why, and the source of that expectation.
"""

import json
import subprocess
import sys
import tomllib
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from footexam.assessment import Assessment, assess
from footexam.exchange.examination import read_examination
from footexam.record.examination import Examination
from footexam.terms import Side, Tier
from tests.reasoning.making import forms

HERE = Path(__file__).parent
TODAY = date(2026, 3, 4)
NAMES = sorted(file.stem for file in HERE.glob("*.json"))
EACH = pytest.mark.parametrize("name", NAMES)
TAUGHT = {"why", "lead", "absent", "not_leading", "cautions", "side", "source"}
MORE = {"first", "forbidden", "not_first", "why_now", "both_sides", "plan"}


@cache
def wanted(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def recorded(name: str) -> Examination:
    data = (HERE / f"{name}.json").read_bytes()
    return read_examination(data, forms(), TODAY, name).examination


@cache
def found(name: str) -> Assessment:
    return assess(recorded(name), forms())


def leading(name: str) -> list[str]:
    """What leads on the side of the scenario, the first first."""
    side = Side(wanted(name)["side"])
    return [one.id for one in found(name).reasons.leading if one.side in {side, None}]


def test_there_are_twelve_and_each_says_what_it_wants() -> None:
    assert len(NAMES) == 12
    for name in NAMES:
        want = wanted(name)
        assert want.keys() >= TAUGHT, name
        assert not want.keys() - TAUGHT - MORE, name
        for key in ("lead", "absent", "not_leading", "not_first", "both_sides"):
            for hypothesis in want.get(key, ()):
                assert hypothesis in forms().hypotheses, (name, hypothesis)
        for source in want["source"]:
            assert source["id"] in forms().sources, (name, source["id"])
            assert len(source["says"]["en"]) > 20


def test_the_regions_are_twelve_and_none_is_a_runner_under_the_first_head() -> None:
    places = {name: sites(name) for name in NAMES}
    assert len({frozenset(one) for one in places.values()}) == 12
    under_the_head = {"met-head-1", "sesamoid-medial", "sesamoid-lateral"}
    for name in NAMES:
        if recorded(name).value("activity-running") is not None:
            runs = found(name) and _word(name, "activity-running") == "yes"
            assert not (runs and places[name] & under_the_head), name


def sites(name: str) -> set[str]:
    exam = recorded(name)
    values = [exam.value("complaint-site", side) for side in Side]
    return {place for value in values for place in getattr(value, "words", ())}


def _word(name: str, measure: str) -> str:
    return str(getattr(recorded(name).value(measure), "word", ""))


@EACH
def test_the_examination_is_a_full_one(name: str) -> None:
    exam = recorded(name)
    assert len(exam.readings) > 100
    asked = {measure for measure, _ in exam.readings}
    umbrellas = {
        measure.id
        for measure in forms().measures.values()
        if measure.panel == "cautions" and measure.depth.value == "core"
    }
    assert umbrellas <= asked
    both = {
        measure for measure in asked if {(measure, side) for side in Side} <= exam.readings.keys()
    }
    assert len(both) > 30
    # nothing in it contradicts the limits of its measures
    assert [problem for problem in found(name).problems if problem.kind == "warn"] == []


@EACH
def test_these_hypotheses_lead(name: str) -> None:
    want = wanted(name)
    lead = leading(name)
    assert set(want["lead"]) <= set(lead), want["why"]["en"]
    if "first" in want:
        assert lead[0] == want["first"], want["why"]["en"]
    if not want["lead"]:
        assert lead == [], want["why"]["en"]


@EACH
def test_these_do_not_appear_and_those_do_not_lead(name: str) -> None:
    want = wanted(name)
    open_ones = {one.id for one in found(name).reasons.arguments}
    assert not open_ones & set(want["absent"]), want["why"]["en"]
    assert not set(leading(name)) & set(want["not_leading"]), want["why"]["en"]
    lead = leading(name)
    for later in want.get("not_first", ()):
        for one in want["lead"]:
            assert later not in lead or lead.index(one) < lead.index(later), want["why"]["en"]


@EACH
def test_these_cautions_fire_and_no_others(name: str) -> None:
    want = wanted(name)
    fired = {(one.id, one.tier) for one in found(name).cautions}
    expected = {(one["id"], Tier(one["tier"])) for one in want["cautions"]}
    assert fired == expected, want["why"]["en"]
    # they stand on the side of the complaint, or for both
    side = Side(want["side"])
    assert all(
        any(one.id == wish["id"] and one.side in {side, None} for one in found(name).cautions)
        for wish in want["cautions"]
    )


@EACH
def test_what_must_not_be_tried_is_shut_and_not_offered(name: str) -> None:
    want = wanted(name)
    side = Side(want["side"])
    reasons = found(name).reasons
    forbidden = set(want.get("forbidden", ()))
    assert forbidden <= reasons.shut[side].keys()
    offered = {test.measure for test in reasons.suggested.tests if test.side in {side, None}}
    assert not offered & forbidden
    assert not offered & reasons.shut[side].keys()


@EACH
def test_why_it_began_now_and_what_the_other_side_shows(name: str) -> None:
    want, reasons = wanted(name), found(name).reasons
    if "why_now" in want:
        assert reasons.why_now is want["why_now"]
    shared = {one.id for one in reasons.arguments if one.both_sides}
    assert set(want.get("both_sides", ())) <= shared


@EACH
def test_every_line_of_what_leads_has_its_source_and_its_counter(name: str) -> None:
    for one in found(name).reasons.leading:
        assert one.hypothesis.counter["en"]
        for claim in one.hypothesis.evidence:
            assert claim.source in forms().sources
        for weighed in (*one.speaks_for, *one.speaks_against):
            assert weighed.row.source in forms().sources
            assert weighed.row.says["en"]


@pytest.mark.parametrize("name", [NAMES[0], NAMES[8]])
def test_the_command_says_the_same(name: str) -> None:
    line = [sys.executable, "-m", "footexam", "assess", str(HERE / f"{name}.json")]
    told = json.loads(subprocess.run(line, check=True, capture_output=True).stdout)
    assert [one["id"] for one in told["cautions"]] == [one.id for one in found(name).cautions]
    assert [(one["id"], one["points"]) for one in told["hypotheses"]] == [
        (one.id, one.shown) for one in found(name).reasons.arguments
    ]
