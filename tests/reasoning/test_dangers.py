"""Cautions: which fire on which side, in which order, and what stands until it is decided."""

from typing import Any

import pytest

from footexam.assessment import assess
from footexam.catalogue.arguments import Hold
from footexam.reasoning.dangers import Caution, decided, is_caution, is_danger
from footexam.terms import Side, Tier
from tests.reasoning.making import (
    LEFT,
    RIGHT,
    Readings,
    assessed,
    branch,
    catalogue,
    examination,
    forms,
    hypothesis,
    sign,
)

BONE, CALF, WOUND = "caution-focal-bone-tenderness", "caution-calf-pain-swelling", "wound"
FEVER = "caution-fever-or-spreading-redness"

BREAK = sign(
    "broken",
    branch("broken-open", f'{BONE} == "yes" and onset == "sudden"', Tier.EMERGENCY),
    branch("broken-high", f'region({BONE}, "navicular", "talus")', Tier.SAME_DAY),
    branch("broken-low", f'{BONE} == "yes"', Tier.ROUTINE),
)
CLOT = sign("clot", branch("clot", f'{CALF} == "yes" and active-cancer == "yes"', Tier.EMERGENCY))
LUMP = sign(
    "lump",
    branch("lump-now", 'lesion-bleeding == "yes"', Tier.SAME_DAY),
    branch("lump-cancer", 'lesion-enlarging == "yes"', Tier.CANCER_PATHWAY),
    branch("lump-later", 'lesion-uncertain == "yes"', Tier.ROUTINE),
)
MADE = catalogue(cautions=(BREAK, CLOT, LUMP))


def told(readings: Readings, **who: Any) -> list[tuple[str | None, Side | None]]:
    return [(one.branch, one.side) for one in assessed(readings, MADE, **who).cautions]


def test_nothing_is_recorded_and_nothing_fires() -> None:
    assert told({}) == []
    assert told({BONE: "no", CALF: "no", "onset": "sudden"}) == []


SITED = {"answer": "yes", "sites": ["navicular"]}
ELSEWHERE = {"answer": "yes", "sites": ["cuboid"]}

SIDES: list[tuple[object, list[tuple[str, Side | None]]]] = [
    ({"left": SITED}, [("broken-high", LEFT)]),
    ({"right": ELSEWHERE}, [("broken-low", RIGHT)]),
    ({"left": SITED, "right": "no"}, [("broken-high", LEFT)]),
    ({"left": ELSEWHERE, "right": SITED}, [("broken-high", RIGHT), ("broken-low", LEFT)]),
    # a yes without its site counts as the most serious of its sites
    ({"left": "yes"}, [("broken-high", LEFT)]),
    # without a side it stands once and counts for both
    ("yes", [("broken-high", None)]),
]


@pytest.mark.parametrize(("answer", "expected"), SIDES)
def test_a_caution_stands_on_its_side_with_its_most_serious_branch(
    answer: object, expected: list[tuple[str, Side | None]]
) -> None:
    assert told({BONE: answer}) == expected


def test_a_side_that_says_no_more_than_what_stands_for_both_is_not_repeated() -> None:
    asked = {"lesion-uncertain": "yes", "lesion-bleeding": {"left": "yes"}}
    assert told(asked) == [("lump-now", LEFT), ("lump-later", None)]
    asked = {"lesion-bleeding": "yes", "lesion-uncertain": {"left": "yes"}}
    assert told(asked) == [("lump-now", None)]


def test_the_cancer_pathway_stands_beside_what_is_sooner() -> None:
    both = {"lesion-bleeding": "yes", "lesion-enlarging": "yes", "lesion-uncertain": "yes"}
    assert told(both) == [("lump-now", None), ("lump-cancer", None)]
    assert told({"lesion-enlarging": "yes", "lesion-uncertain": "yes"}) == [("lump-cancer", None)]
    sided = {"lesion-bleeding": "yes", "lesion-enlarging": {"left": "yes"}}
    assert told(sided) == [("lump-now", None), ("lump-cancer", LEFT)]
    sided = {"lesion-enlarging": "yes", "lesion-bleeding": {"left": "yes"}}
    assert told(sided) == [("lump-now", LEFT), ("lump-cancer", None)]


def test_the_most_serious_comes_first_then_by_id_left_before_right() -> None:
    readings = {
        BONE: {"left": ELSEWHERE, "right": ELSEWHERE},
        "lesion-bleeding": {"right": "yes"},
        "lesion-uncertain": {"left": "yes"},
        CALF: {"right": "yes"},
        "active-cancer": "yes",
    }
    assert told(readings) == [
        ("clot", RIGHT),
        ("lump-now", RIGHT),
        ("broken-low", LEFT),
        ("broken-low", RIGHT),
        ("lump-later", LEFT),
    ]


def test_what_a_caution_says() -> None:
    (found,) = assessed({BONE: {"left": SITED}, "onset": "sudden"}, MADE).cautions
    assert (found.id, found.branch, found.tier) == ("broken", "broken-open", Tier.EMERGENCY)
    assert found.because == (f"measure:{BONE}", "measure:onset")
    assert (found.action, found.source) == ("Do broken-open.", "common-practice")
    assert found.is_open


# --- a yes that leads nowhere yet


def test_a_yes_that_no_caution_rests_on_stands_behind_the_others() -> None:
    readings = {CALF: {"left": "yes"}, FEVER: "yes", BONE: {"right": SITED}}
    found = assessed(readings, MADE).cautions
    assert [(one.id, one.side, one.because) for one in found] == [
        ("broken", RIGHT, (f"measure:{BONE}",)),
        (None, LEFT, (f"measure:{CALF}",)),
        (None, None, (f"measure:{FEVER}",)),
    ]
    assert [one.tier for one in found[1:]] == [None, None]
    # what a decision about each is filed under
    assert [one.about for one in found] == ["broken", CALF, FEVER]


def test_a_yes_of_one_side_is_not_swallowed_by_the_caution_of_the_other() -> None:
    # the right calf fires; the left one has no companion and must not be lost
    made = catalogue(
        cautions=(sign("clot", branch("clot", f'{CALF} == "yes" and whole-leg-swollen == "yes"')),)
    )
    found = assessed({CALF: {"both": "yes"}, "whole-leg-swollen": {"right": "yes"}}, made).cautions
    assert [(one.id, one.side) for one in found] == [("clot", RIGHT), (None, LEFT)]


def test_a_yes_without_a_side_that_fires_on_a_side_has_led_somewhere() -> None:
    made = catalogue(
        cautions=(sign("clot", branch("clot", f'{CALF} == "yes" and whole-leg-swollen == "yes"')),)
    )
    found = assessed({CALF: "yes", "whole-leg-swollen": {"right": "yes"}}, made).cautions
    assert [(one.id, one.side) for one in found] == [("clot", RIGHT)]


def test_only_danger_questions_stand_by_themselves() -> None:
    # an item that unfolds from a question is no danger by itself
    assert told({"active-cancer": "yes", "lesion-enlarging": {"left": "no"}}) == []
    measures = forms().measures
    assert is_danger(BONE, forms())
    assert is_caution("lesion-bleeding", forms()) == (
        measures["lesion-bleeding"].panel == "cautions"
    )
    assert not is_danger("lesion-bleeding", forms())
    assert not is_danger("onset", forms())
    assert not is_danger("caution-that-is-not-there", forms())


# --- decisions

ACTED = {"decision": "acted", "done": "called", "by": "Ann Reed", "at": "2026-03-04T10:20:00Z"}


def decisions(**made: Any) -> dict[str, Any]:
    return {"cautions": {name.replace("_", "-"): one for name, one in made.items()}}


def test_a_decision_about_one_side_says_nothing_about_the_other() -> None:
    both = {BONE: {"left": SITED, "right": SITED}}
    found = assessed(both, MADE, decisions=decisions(broken={**ACTED, "side": "left"})).cautions
    assert [(one.side, one.is_open) for one in found] == [(LEFT, False), (RIGHT, True)]
    found = assessed(both, MADE, decisions=decisions(broken=ACTED)).cautions
    assert [(one.side, one.is_open) for one in found] == [(LEFT, False), (RIGHT, False)]


def test_a_decided_caution_still_stands() -> None:
    readings = {BONE: {"left": SITED}}
    plain = assessed(readings, MADE).cautions
    made = assessed(readings, MADE, decisions=decisions(broken=ACTED)).cautions
    assert [(one.id, one.branch) for one in made] == [(one.id, one.branch) for one in plain]
    assert made[0].decision == "acted"


@pytest.mark.parametrize(
    ("made", "side", "expected"),
    [
        (None, LEFT, None),
        ({"decision": "acted"}, LEFT, "acted"),
        ({"decision": "acted", "side": None}, RIGHT, "acted"),
        ({"decision": "acted", "side": "left"}, LEFT, "acted"),
        ({"decision": "acted", "side": "left"}, RIGHT, None),
        # what stands for both sides is not decided by a word about one of them
        ({"decision": "acted", "side": "left"}, None, None),
        ([{"decision": "a", "side": "left"}, {"decision": "b", "side": "right"}], RIGHT, "b"),
        ([], LEFT, None),
    ],
)
def test_what_was_decided(made: object, side: Side | None, expected: str | None) -> None:
    assert decided(made, side) == expected


def test_a_yes_that_leads_nowhere_can_be_decided_by_its_question() -> None:
    made = {"cautions": {CALF: {**ACTED, "side": "left"}}}
    found = assessed({CALF: {"both": "yes"}}, MADE, decisions=made).cautions
    assert [(one.side, one.decision) for one in found] == [(LEFT, "acted"), (RIGHT, None)]


# --- what is held back


def test_what_is_held_back_for_which_side() -> None:
    left = Caution("a", "a", LEFT, Tier.SAME_DAY, (), holds=(Hold.LOADING,))
    assert left.holds_back(Hold.LOADING, LEFT)
    assert left.holds_back(Hold.LOADING, None)
    assert not left.holds_back(Hold.LOADING, RIGHT)
    assert not left.holds_back(Hold.DEVICE, LEFT)
    both = Caution("a", "a", None, Tier.SAME_DAY, (), holds=(Hold.LOADING,))
    assert both.holds_back(Hold.LOADING, RIGHT)
    done = Caution("a", "a", LEFT, Tier.SAME_DAY, (), decision="acted", holds=(Hold.LOADING,))
    assert not done.holds_back(Hold.LOADING, LEFT)


def test_a_caution_stands_whatever_the_hypotheses_say() -> None:
    loud = hypothesis("loud", ['onset == "sudden"'], [f'{BONE} == "yes"'] * 3)
    made = catalogue(cautions=(BREAK,), hypotheses=(loud,))
    found = assess(examination({BONE: {"left": SITED}, "onset": "gradual"}), made)
    assert [one.branch for one in found.cautions] == ["broken-high"]
    assert found.held_by == found.cautions
