"""Which blocks of a letter stand: facts by side, conditions, what excludes them, their order."""

from dataclasses import replace
from typing import Any

import pytest

from footexam.catalogue.letters import Block, Document
from footexam.catalogue.plan_model import Feature, Zone
from footexam.mechanics.stack import ForefootRoom, HeelRoom
from footexam.reasoning.dangers import Caution
from footexam.reasoning.engine import NOTHING, Reasons, engine
from footexam.reasoning.letters import Chooser, stands
from footexam.reasoning.planned import Candidate, Plan, ShoeRoom
from footexam.reasoning.view import View
from footexam.terms import Side, Tier
from tests.reasoning.making import LEFT, RIGHT, Readings, examination, forms, said, seen

SIDES: tuple[Side | None, ...] = (None, LEFT, RIGHT)


def chosen(name: str, side: Side | None = LEFT, zone: Zone = Zone.HEEL) -> Candidate:
    feature = Feature(name, said(name), (), zone, 0, said(name))
    return Candidate(feature, "", side, (), (), (), (), (), chosen=True)


def caution(name: str | None, decision: str | None = None) -> Caution:
    tier = Tier.SAME_DAY if name else None
    return Caution(name, name, LEFT, tier, ("measure:x",), decision=decision)


def room(side: Side, heel: bool | None, forefoot: bool | None) -> ShoeRoom:
    return ShoeRoom(side, HeelRoom(6.0, None, None, heel, None), ForefootRoom(0.0, None, forefoot))


def chooser(
    *candidates: Candidate,
    cautions: tuple[Caution, ...] = (),
    readings: Readings | None = None,
    accepted: tuple[dict[str, Any], ...] = (),
    **plan: Any,
) -> Chooser:
    reasons: Reasons = replace(NOTHING, cautions=cautions, plan=Plan(chosen=candidates, **plan))
    shown = seen(examination(readings or {}))
    views = {side: View(shown, side) for side in SIDES}
    decisions = {"hypotheses": {"accepted": accepted}} if accepted else {}
    return Chooser(reasons, decisions, views, engine(forms()).rule)


def block(name: str = "b", order: int = 1, **more: Any) -> Block:
    document = more.pop("document", Document.LEAFLET)
    return Block(name, document, order, said(name), **more)


def ids(made: Chooser, *blocks: Block) -> list[str]:
    return [one.id for one in made.choose(Document.LEAFLET, blocks)]


def test_blocks_of_the_document_in_their_order() -> None:
    made = [block("b", 2), block("a", 1), block("c", 0, document=Document.REVIEW)]
    assert ids(chooser(), *made) == ["a", "b"]


@pytest.mark.parametrize(
    ("made", "facts"),
    [
        (chooser(), set()),
        (chooser(cautions=(caution("x"),)), {"danger", "caution"}),
        (chooser(cautions=(caution("x", "acted"),)), {"danger", "caution"}),
        (chooser(cautions=(caution("x", "transferred"),)), {"danger", "caution"}),
        (chooser(cautions=(caution("x", "excluded"),)), set()),
        (chooser(cautions=(caution(None),)), {"danger", "unresolved"}),
        (chooser(cautions=(caution(None, "excluded"),)), set()),
        (chooser(cautions=(caution("insensate-foot", "excluded"),)), {"insensate"}),
        (chooser(accepted=({"id": "one", "side": None},)), {"accepted"}),
        (chooser(held=(LEFT,)), {"held"}),
        (chooser(chosen("lift")), {"plan", "device"}),
        (chooser(chosen("sole", zone=Zone.SHOE)), {"plan", "shoe"}),
        (chooser(chosen("low-dye-taping", zone=Zone.MIDFOOT)), {"plan", "tape"}),
        (chooser(chosen("stirrup-taping", zone=Zone.LEG)), {"plan", "tape"}),
        (chooser(chosen("walking-boot", zone=Zone.LEG)), {"plan", "boot"}),
        (chooser(rooms=(room(LEFT, None, True),)), set()),
        (chooser(rooms=(room(LEFT, False, True),)), {"tight-shoe"}),
        (chooser(rooms=(room(LEFT, True, False),)), {"tight-shoe"}),
    ],
)
def test_facts(made: Chooser, facts: set[str]) -> None:
    assert made.facts(*SIDES) == facts


def test_a_caution_that_was_acted_on_still_speaks() -> None:
    assert [stands(caution("x", one)) for one in (None, "acted", "transferred", "excluded")] == [
        True,
        True,
        True,
        False,
    ]


def test_what_was_chosen_counts_on_its_side_and_without_one_on_both() -> None:
    sides = [(LEFT, {LEFT}), (None, {LEFT, RIGHT, None})]
    for side, where in sides:
        made = chooser(chosen("lift", side))
        assert {one for one in SIDES if "plan" in made.facts(one)} == where


def test_a_block_asks_for_a_feature_where_its_condition_holds() -> None:
    heel = {"complaint-site": {"right": ["heel-plantar"]}}
    asks = block(features=("lift",), when='region(complaint-site, "heel")')
    assert ids(chooser(chosen("lift", RIGHT), readings=heel), asks) == ["b"]
    assert ids(chooser(chosen("lift", None), readings=heel), asks) == ["b"]
    assert ids(chooser(chosen("lift", LEFT), readings=heel), asks) == []
    assert ids(chooser(chosen("wedge", RIGHT), readings=heel), asks) == []
    assert ids(chooser(chosen("lift", RIGHT)), asks) == []  # not recorded is not true


def test_a_block_asks_for_an_accepted_hypothesis_on_that_side() -> None:
    asks = block(hypotheses=("one", "two"), facts=("plan",))
    for accepted, stand in (("left", True), (None, True), ("right", False)):
        made = chooser(chosen("lift"), accepted=({"id": "two", "side": accepted},))
        assert (ids(made, asks) == ["b"]) is stand
    assert ids(chooser(chosen("lift")), asks) == []


def test_without_looks_at_both_sides() -> None:
    one_sided = chooser(chosen("lift", LEFT))
    assert ids(one_sided, block(without=("plan",)), block("c", 2, facts=("plan",))) == ["c"]
    assert ids(chooser(), block(without=("plan", "held"))) == ["b"]
    assert ids(chooser(held=(RIGHT,)), block(without=("plan", "held"))) == []


def test_feeling_lost_on_one_side_counts_for_a_device_on_the_other() -> None:
    made = chooser(chosen("lift", RIGHT), cautions=(caution("insensate-foot"),))
    numb = block(facts=("device", "insensate"))
    assert ids(made, numb, block("c", 2, facts=("device",), without=("insensate",))) == ["b"]
