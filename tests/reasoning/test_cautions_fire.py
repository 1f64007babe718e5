"""Every branch of the cautions as shipped fires on an examination made for it, and none on nothing.

The examinations are built from the expressions by making_true.py and read as files. A branch whose
caution always shows a more serious one is listed by name.
"""

import pytest

from footexam.assessment import assess
from footexam.catalogue.arguments import Branch, DangerSign
from footexam.catalogue.expression import parse_expression
from footexam.terms import Tier
from tests.reasoning.making import LEFT, RIGHT, assessed, examination, forms
from tests.reasoning.making_true import Made, alternatives, ways

BRANCHES = [(sign, branch) for sign in forms().cautions.values() for branch in sign.branches]
TIERS = list(Tier)
NEVER_ALONE = {"acute-gout-known": "acute-gout-first-or-doubtful"}
"""Its joint alone fires the more serious branch already: the contract of cautions.csv has it so."""


def fired(made: Made, sign: DangerSign) -> list[tuple[str | None, Tier | None]]:
    found = assess(made.examination(), forms()).cautions
    return [(one.branch, one.tier) for one in found if one.id == sign.id]


@pytest.mark.parametrize(("sign", "branch"), BRANCHES, ids=[one.id for _, one in BRANCHES])
def test_a_branch_fires_in_every_way_it_can(sign: DangerSign, branch: Branch) -> None:
    made = list(ways(branch.when))
    assert len(made) == len(alternatives(parse_expression(branch.when)))
    shown = [fired(one, sign) for one in made]
    # whatever way: the caution stands, at least as serious as this branch
    for found in shown:
        assert found
        assert TIERS.index(found[0][1] or Tier.ROUTINE) <= TIERS.index(branch.tier)
    # and at least one way shows this very branch with its tier and action
    expected = NEVER_ALONE.get(branch.id, branch.id)
    assert any(expected in {name for name, _ in found} for found in shown)
    if branch.id not in NEVER_ALONE:
        assert any((branch.id, branch.tier) in found for found in shown)


def test_what_is_never_shown_alone_is_known() -> None:
    for name, instead in NEVER_ALONE.items():
        ((sign, branch),) = [pair for pair in BRANCHES if pair[1].id == name]
        for made in ways(branch.when):
            assert {one for one, _ in fired(made, sign)} == {instead}


@pytest.mark.parametrize("age", [8, 40, 80])
@pytest.mark.parametrize("sex", ["female", "male"])
def test_an_empty_examination_fires_none(age: int, sex: str) -> None:
    assert assess(examination({}, age=age, sex=sex), forms()).cautions == ()


def test_all_danger_questions_answered_no_fire_none() -> None:
    asked = {
        name: "no"
        for name, measure in forms().measures.items()
        if name.startswith("caution-") and measure.panel == "cautions"
    }
    assert len(asked) > 30
    assert assess(examination(asked), forms()).cautions == ()


def test_a_caution_of_one_side_says_nothing_of_the_other() -> None:
    """What is built is built on the left; nothing may stand on the right alone."""
    for sign, branch in BRANCHES:
        for made in ways(branch.when):
            if "both" in made.readings.get("complaint-site", {}):
                continue
            found = assess(made.examination(), forms()).cautions
            assert {one.side for one in found if one.id == sign.id} <= {LEFT, None}, branch.id


def test_a_yes_on_a_danger_question_alone_stands_on_its_side() -> None:
    """No danger question answered yes is ever without a line in the banner."""
    for name, measure in forms().measures.items():
        if name.startswith("caution-") and measure.panel == "cautions":
            answer = {"right": "yes"} if measure.sided else "yes"
            found = assessed({name: answer}, forms()).cautions
            assert found, name
            assert {one.side for one in found} <= {RIGHT, None}, name
            assert any(f"measure:{name}" in one.because for one in found), name


def test_no_danger_question_unfolds_what_a_gate_forbids() -> None:
    """Following a yes never leads to a test that an open caution shuts."""
    forbidden = {name for gate in forms().gates.values() for name in gate.forbids}
    questions = {name for name in forms().measures if name.startswith("caution-")}
    for sign, branch in BRANCHES:
        if questions & set(branch.umbrella):
            assert not forbidden & set(branch.unfolds), (sign.id, branch.id)
