"""Gates: what must not be tried or given, and the states that the sheet's conditions speak of."""

from typing import Any

import pytest

from footexam.catalogue.arguments import Hold
from footexam.reasoning.dangers import Caution
from footexam.reasoning.gates import QUIET, States, bars_provocation, states
from footexam.terms import Side, Tier
from tests.reasoning.making import (
    LEFT,
    RIGHT,
    Readings,
    assessed,
    branch,
    catalogue,
    gate,
    hypothesis,
    sign,
)

BONE, CALF = "caution-focal-bone-tenderness", "caution-calf-pain-swelling"
TENDER = ('region(tenderness, "navicular")', "The bone is tender.")
NUMB = ("monofilament-hallux <= 1", "Feeling is lost.")
HOP = gate("provocation", ["hop-test", "heel-raise-count"], TENDER, NUMB)
SQUAT = gate("load", ["single-leg-squat", "hop-test"], ('onset == "sudden"', "It began suddenly."))
BREAK = sign("broken", branch("broken", f'{BONE} == "yes" and onset == "sudden"'))
RASH = sign("rash", branch("rash", 'lesion-bleeding == "yes"'), holds=())
MADE = catalogue(cautions=(BREAK, RASH), gates=(HOP, SQUAT))
OPEN = "A danger sign is open."


def shut(readings: Readings, side: Side | None, **who: Any) -> dict[str, tuple[str, ...]]:
    return dict(assessed(readings, MADE, **who).reasons.shut[side])


def test_nothing_known_shuts_nothing() -> None:
    for side in (LEFT, RIGHT, None):
        assert shut({}, side) == {}
    assert shut({"tenderness": {"right": {"cuboid": 5}}}, RIGHT) == {}


def test_a_cause_shuts_its_side_and_says_why() -> None:
    readings = {"tenderness": {"right": {"navicular": 5}}}
    tender = ("The bone is tender.",)
    assert shut(readings, RIGHT) == {"hop-test": tender, "heel-raise-count": tender}
    assert shut(readings, LEFT) == {}
    assert shut(readings, None) == {}


def test_every_reason_is_told_and_every_gate_counts() -> None:
    readings = {
        "tenderness": {"right": {"navicular": 5}},
        "monofilament-hallux": {"right": 0},
        "onset": "sudden",
    }
    found = shut(readings, RIGHT)
    assert found["hop-test"] == ("The bone is tender.", "Feeling is lost.", "It began suddenly.")
    assert found["single-leg-squat"] == ("It began suddenly.",)
    assert shut(readings, None) == {
        "hop-test": ("It began suddenly.",),
        "single-leg-squat": ("It began suddenly.",),
    }


def test_an_open_caution_that_holds_provocation_shuts_every_gate_of_its_side() -> None:
    readings = {BONE: {"right": "yes"}, "onset": "sudden"}
    assert shut(readings, RIGHT) == {
        "hop-test": (OPEN, OPEN, "It began suddenly."),
        "heel-raise-count": (OPEN,),
        "single-leg-squat": (OPEN, "It began suddenly."),
    }
    assert OPEN not in shut(readings, LEFT)["hop-test"]
    # what has no side is not tried while a side is in danger
    assert shut(readings, None)["heel-raise-count"] == (OPEN,)


def test_a_caution_that_holds_nothing_shuts_nothing() -> None:
    assert shut({"lesion-bleeding": {"right": "yes"}}, RIGHT) == {}


ACTED = {"decision": "acted", "done": "x", "by": "Ann Reed", "at": "2026-03-04T10:20:00Z"}


def test_a_decision_opens_what_the_caution_shut_and_not_what_a_cause_shut() -> None:
    readings = {BONE: {"right": "yes"}, "onset": "sudden"}
    made = {"cautions": {"broken": {**ACTED, "side": "right"}}}
    assert shut(readings, RIGHT, decisions=made) == {
        "hop-test": ("It began suddenly.",),
        "single-leg-squat": ("It began suddenly.",),
    }


def test_a_yes_that_leads_nowhere_yet_shuts_the_gates() -> None:
    assert shut({CALF: {"left": "yes"}}, LEFT)["hop-test"] == (OPEN, OPEN)
    assert shut({CALF: {"left": "yes"}}, RIGHT) == {}
    assert shut({CALF: {"left": "yes"}}, None)["hop-test"] == (OPEN, OPEN)
    for side in (LEFT, RIGHT, None):
        assert shut({CALF: "yes"}, side)["hop-test"] == (OPEN, OPEN)
    made = {"cautions": {CALF: {**ACTED, "side": "left"}}}
    assert shut({CALF: {"left": "yes"}}, LEFT, decisions=made) == {}


@pytest.mark.parametrize(
    ("caution", "side", "bars"),
    [
        (Caution("a", "a", LEFT, Tier.ROUTINE, (), holds=(Hold.PROVOCATION,)), LEFT, True),
        (Caution("a", "a", LEFT, Tier.ROUTINE, (), holds=(Hold.PROVOCATION,)), RIGHT, False),
        (Caution("a", "a", LEFT, Tier.ROUTINE, (), holds=(Hold.LOADING,)), LEFT, False),
        (Caution(None, None, LEFT, None, ()), LEFT, True),
        (Caution(None, None, LEFT, None, ()), RIGHT, False),
        (Caution(None, None, None, None, ()), RIGHT, True),
        (Caution(None, None, LEFT, None, (), decision="acted"), LEFT, False),
    ],
)
def test_what_bars_provocation(caution: Caution, side: Side, bars: bool) -> None:
    assert bars_provocation(caution, side) is bars


# --- states of the sheet


def caution(tier: Tier = Tier.ROUTINE, decision: str | None = None) -> Caution:
    return Caution("a", "a", LEFT, tier, (), decision=decision, holds=(Hold.PROVOCATION,))


NOWHERE = Caution(None, None, LEFT, None, ())
STATES: list[tuple[tuple[Caution, ...], dict[str, Any], States]] = [
    ((), {}, QUIET),
    ((caution(),), {}, States(frozenset(), False, False, False, True)),
    ((caution(decision="acted"),), {}, States(frozenset(), True, False, False, True)),
    ((caution(Tier.SAME_DAY),), {}, States(frozenset(), False, False, True, True)),
    ((caution(Tier.EMERGENCY),), {}, States(frozenset(), False, False, True, True)),
    ((caution(Tier.SAME_DAY, "acted"),), {}, States(frozenset(), True, False, False, True)),
    ((NOWHERE,), {}, States(frozenset(), False, False, False, False)),
    ((), {"features": [{"id": "heel-lift"}]}, States(frozenset(), True, True, False, False)),
    ((), {"features": [{"id": "walking-boot"}]}, States(frozenset(), True, True, True, False)),
    ((), {"hypotheses": {"accepted": [{"id": "a"}]}},
     States(frozenset(), True, True, False, False)),
    ((), {"hypotheses": {"rejected": [{"id": "a"}]}}, QUIET),
    ((), {"features": []}, QUIET),
]  # fmt: skip


@pytest.mark.parametrize(("cautions", "decisions", "expected"), STATES)
def test_the_states(
    cautions: tuple[Caution, ...], decisions: dict[str, Any], expected: States
) -> None:
    assert states(cautions, frozenset(), decisions) == expected


def test_what_hypotheses_ask_for() -> None:
    open_one = hypothesis("open", ['onset == "gradual"'], ['diabetes == "yes"'], tests=["callus"])
    close = hypothesis("close", ['onset == "gradual"', 'osteoporosis == "yes"'])
    shut_one = hypothesis("shut", ['onset == "sudden"'], ['known-gout == "yes"'])
    made = catalogue(hypotheses=(open_one, close, shut_one))
    asked = assessed({"onset": "gradual"}, made).reasons.states.asked
    assert {"diabetes", "callus", "osteoporosis"} <= asked
    assert "known-gout" not in asked
