"""The twelve scenarios go on to a plan: nothing chosen is unexplained, no conflict stays unnamed.

What is accepted, kept and chosen on the side of a scenario, and what must be said of it, stands
under [plan] in its TOML. The examination itself is not changed.
"""

from dataclasses import replace
from functools import cache
from itertools import combinations
from typing import Any

import pytest

from footexam.assessment import Assessment, assess
from footexam.catalogue.plan_model import GENERAL, Conflict
from footexam.mechanics.formula import NotGiven
from footexam.mechanics.formulas import work_out
from footexam.mechanics.result import Result
from footexam.reasoning.planned import Candidate, Plan
from footexam.terms import Side
from tests.reasoning.making import forms
from tests.reasoning.making_plan import decided, planned
from tests.scenarios.test_scenarios import EACH, NAMES, found, recorded, wanted

KEYS = {"why", "accepted", "aims", "features", "clashes"}
MORE = {"held_by", "against", "unserved", "device", "unmet"}


def told(name: str) -> dict[str, Any]:
    plan: dict[str, Any] = wanted(name)["plan"]
    return plan


def side_of(name: str) -> Side:
    return Side(wanted(name)["side"])


@cache
def assessed(name: str, *, lifted: bool) -> Assessment:
    """The scenario with the decisions of its plan; `lifted`: the cautions are decided about."""
    want, side = told(name), wanted(name)["side"]
    cautions: dict[str, list[dict[str, Any]]] = {}
    for one in found(name).held_by if lifted else ():
        decision = {"decision": "acted", "by": "A. Reed", "at": "2026-03-04T10:20:00Z"}
        cautions.setdefault(one.about, []).append({"side": one.side, **decision})
    made = decided(
        [(one, side) for one in want["accepted"]],
        [(one, side) for one in want["aims"]],
        [
            (one["id"], side, {key: typed for key, typed in one.items() if key != "id"})
            for one in want["features"]
        ],
        cautions,
    )
    return assess(replace(recorded(name), decisions=made), forms())


def plan(name: str) -> Plan:
    return assessed(name, lifted=True).reasons.plan


def chosen(name: str) -> dict[str, Candidate]:
    return {one.id: one for one in plan(name).chosen}


@EACH
def test_each_says_what_it_wants_of_the_plan(name: str) -> None:
    want = told(name)
    assert want.keys() >= KEYS
    assert not want.keys() - KEYS - MORE
    open_ones = {one.id for one in found(name).reasons.arguments if one.side is side_of(name)}
    assert set(want["accepted"]) <= open_ones
    assert set(want["aims"]) <= forms().aims.keys()
    assert {one["id"] for one in want["features"]} <= forms().features.keys()
    assert want["features"]


@EACH
def test_what_holds_the_plan_back_is_named_and_a_decision_lifts_it(name: str) -> None:
    before = assessed(name, lifted=False)
    side = side_of(name)
    assert sorted({one.about for one in before.held_by}) == told(name).get("held_by", [])
    if "held_by" in told(name):
        assert side in before.reasons.plan.held
        assert [one for one in before.reasons.plan.aims if one.side is side] == []
        assert before.reasons.plan.chosen == ()
    after = assessed(name, lifted=True)
    assert (after.held_by, after.reasons.plan.held) == ((), ())
    assert [one.id for one in after.cautions] == [one.id for one in before.cautions]


@EACH
def test_the_aims_are_those_of_what_was_accepted_and_kept(name: str) -> None:
    want = told(name)
    opened = {
        aim.id for aim in forms().aims.values() if set(aim.hypotheses) & set(want["accepted"])
    }
    assert {one.id for one in plan(name).aims} == opened | set(want["aims"])
    assert {one.id for one in plan(name).aims if one.kept} == set(want["aims"])
    assert {one.side for one in plan(name).aims} <= {side_of(name)}
    for one in plan(name).aims:
        assert set(one.hypotheses) == set(one.aim.hypotheses) & set(want["accepted"])
        assert one.hypotheses or one.kept
        assert one.candidates or one.id == "keep-toe-clearance"


@EACH
def test_no_chosen_feature_is_unexplained(name: str) -> None:
    """It serves a kept aim by a mechanism and a claim with grade and source; else that is said."""
    want = told(name)
    assert set(chosen(name)) == {one["id"] for one in want["features"]}
    unserved = set()
    for one in chosen(name).values():
        assert one.feature.mechanism["en"]
        claims = [*one.claims, *one.harms]
        assert claims, one.id
        for claim in claims:
            assert claim.source in forms().sources
            assert claim.text["en"]
        if one.aim not in want["aims"]:
            unserved.add(one.id)
            assert not set(one.feature.aims) & set(want["aims"])
        else:
            assert any(claim.about in {one.aim, GENERAL} for claim in one.claims), one.id
    assert unserved == set(want.get("unserved", ())), want["why"]["en"]


@EACH
def test_every_candidate_is_explained(name: str) -> None:
    for one in plan(name).candidates:
        assert one.aim in one.feature.aims
        assert any(claim.about in {one.aim, GENERAL} for claim in one.claims), (one.id, one.aim)
        for part in one.dimensions:
            assert part.size.source in forms().sources
            assert part.result or part.remark or not part.size.formula


@EACH
def test_no_conflict_stays_unnamed(name: str) -> None:
    """All conflicts of the forms, looked for here in another way, stand with their features."""
    want, here = told(name), chosen(name)
    told_pairs = {
        (one.id, clash.other, str(clash.severity)) for one in here.values() for clash in one.clashes
    }
    expected = {tuple(one) for one in want["clashes"]}
    both_ways = expected | {
        (other, one, how) for one, other, how in expected if other in here and other != one
    }
    assert told_pairs == both_ways, want["why"]["en"]
    for one in forms().conflicts.values():
        if _meant(one, set(here), set(want["aims"])) and not one.when and not one.limits:
            assert any((first, other) in _pairs(told_pairs) for first, other in _sides(one, want))


def _meant(one: Conflict, features: set[str], aims: set[str]) -> bool:
    return set(one.features) <= features and (not one.aims or bool(set(one.aims) & aims))


def _pairs(rows: set[tuple[str, str, str]]) -> set[tuple[str, str]]:
    return {(first, other) for first, other, _ in rows}


def _sides(one: Conflict, want: dict[str, Any]) -> list[tuple[str, str]]:
    if one.aims:
        return [(one.features[0], aim) for aim in one.aims if aim in want["aims"]]
    if one.one_sided:
        return [(one.features[0], one.features[0])]
    return list(combinations(one.features, 2))


@EACH
def test_reasons_against_that_hold_are_told(name: str) -> None:
    against = {one.id for one in chosen(name).values() if one.avoid}
    assert against == set(told(name).get("against", ())), told(name)["why"]["en"]


@EACH
def test_device_and_checks(name: str) -> None:
    arguments = {one.id for one in plan(name).device}
    assert set(told(name).get("device", ())) <= arguments, told(name)["why"]["en"]
    assert [one.check.id for one in plan(name).unmet] == told(name).get("unmet", [])


def _done(one: Candidate) -> dict[str, Result]:
    return {each.formula: each for each in one.effects if isinstance(each, Result)}


@EACH
def test_a_post_turns_the_bones_by_little(name: str) -> None:
    """Telfer 2013: never by more than 4 degrees."""
    for one in (*plan(name).candidates, *plan(name).chosen):
        if "post-change" in _done(one):
            assert 0 < _done(one)["post-change"].value <= 4


def test_posts_are_among_what_was_chosen() -> None:
    assert any("post-change" in _done(one) for name in NAMES for one in plan(name).chosen)


@EACH
def test_what_was_not_measured_is_said(name: str) -> None:
    """No foot is measured in length here: what needs that is not given and says so."""
    assert all(recorded(name).value("foot-length", side) is None for side in Side)
    for one in plan(name).chosen:
        for each in one.effects:
            if isinstance(each, NotGiven) and "foot-length" in each.missing:
                assert "foot length" in each.sentence
        if one.id == "heel-lift":
            assert all(isinstance(each, NotGiven) for each in one.effects)
            assert "foot length" in one.dimensions[0].remark


@pytest.mark.published
@pytest.mark.parametrize("height", range(3, 12))
def test_the_higher_the_lift_the_more_the_forefoot_bears(height: int) -> None:
    """PMC5890200: a lift raises the share of the forefoot; the model's lever gets shorter."""
    shares, levers = [], []
    for mm in (height, height + 1):
        made = decided([], [], [("heel-lift", "left", {"height": f"{mm} mm"})])
        done = _done(planned(None, made, {"foot-length": {"both": 250}}).chosen[0])
        shares.append(done["forefoot-share-change"].value)
        levers.append(done["forefoot-lever-change"].value)
    assert 0 < shares[0] < shares[1]
    assert 0 > levers[0] > levers[1]


@pytest.mark.published
@pytest.mark.parametrize("share", [0.05, 0.1, 0.26, 0.4])
def test_relief_lowers_here_and_raises_beside_by_no_more_than_the_bound(share: float) -> None:
    """Lin 2013: a plug taken out lowered the peak by 32.3 % and raised no other site."""
    here, beside = (
        work_out(formula, {"region-share": share}, forms().figures)
        for formula in ("relief-change", "relief-neighbours")
    )
    assert isinstance(here, Result)
    assert isinstance(beside, Result)
    assert here.high < 0
    # at most all that left the region is borne by the rest of the sole
    moved = -here.value * share / (1 - share)
    assert 0 <= beside.low <= beside.value <= moved + 1e-9
