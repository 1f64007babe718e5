"""Every hypothesis as shipped opens, can be argued for and against, and stays closed on nothing.

The examinations are built from the expressions by making_true.py and read as files.
"""

from itertools import islice

import pytest

from footexam.assessment import Assessment, assess
from footexam.catalogue.arguments import Hypothesis
from footexam.catalogue.expression import Every, parse_expression
from footexam.reasoning.argue import Argument
from tests.reasoning.making import examination, forms
from tests.reasoning.making_true import SIDE, Made, alternatives, ways

HYPOTHESES = list(forms().hypotheses.values())
EACH = pytest.mark.parametrize("hypothesis", HYPOTHESES, ids=[one.id for one in HYPOTHESES])
TRIED = 3


def look(made: Made, hypothesis: Hypothesis) -> Assessment:
    """The assessment, with a complaint where the first of its conditions is felt."""
    felt = forms().conditions[hypothesis.conditions[0]].regions[0]
    made.readings.setdefault("complaint-site", {SIDE.value: [felt]})
    return assess(made.examination(), forms())


def argued(made: Made, hypothesis: Hypothesis) -> Argument | None:
    found = look(made, hypothesis).reasons.arguments
    return next((one for one in found if one.id == hypothesis.id and one.side is SIDE), None)


def requirements(hypothesis: Hypothesis) -> list[str]:
    return [row.when for row in hypothesis.require]


def test_there_are_fifty_eight() -> None:
    assert len(HYPOTHESES) == 58


@EACH
def test_it_opens_and_is_felt_where_it_hurts(hypothesis: Hypothesis) -> None:
    made = list(ways(*requirements(hypothesis)))
    assert made
    found = [argued(one, hypothesis) for one in made]
    assert all(found)
    assert all(one.speaks_for for one in found if one)
    assert any(one.concerns for one in found if one)
    tree = Every(tuple(parse_expression(text) for text in requirements(hypothesis)))
    # the rest contradict themselves (low and usual at once) and are no ways
    assert len(made) >= len(alternatives(tree)) / 2


@EACH
def test_each_of_its_rows_can_speak_while_it_is_open(hypothesis: Hypothesis) -> None:
    for row in (*hypothesis.support, *hypothesis.against):
        made = islice(ways(*requirements(hypothesis), row.when), TRIED)
        found = [argued(one, hypothesis) for one in made]
        rows = [
            weighed.row
            for one in found
            if one
            for weighed in (*one.speaks_for, *one.speaks_against)
        ]
        assert any(one is row for one in rows), row.when


@EACH
def test_something_can_speak_against_it_while_it_is_open(hypothesis: Hypothesis) -> None:
    assert hypothesis.against
    row = hypothesis.against[0]
    (made,) = islice(ways(*requirements(hypothesis), row.when), 1)
    found = argued(made, hypothesis)
    assert found is not None
    plain = argued(next(ways(*requirements(hypothesis))), hypothesis)
    assert plain is not None
    assert row in [weighed.row for weighed in found.speaks_against]
    assert all(weighed.points >= 0 for weighed in found.speaks_against)


@pytest.mark.parametrize("age", [9, 40, 75])
@pytest.mark.parametrize("sex", ["female", "male"])
def test_nothing_opens_on_an_empty_examination(age: int, sex: str) -> None:
    found = assess(examination({}, age=age, sex=sex), forms()).reasons
    assert found.arguments == ()
    assert found.nearly == () or age < 18


def test_nothing_opens_on_a_bare_complaint_but_what_asks_no_more() -> None:
    """A place of complaint alone argues for nothing."""
    for region in forms().regions:
        found = assess(examination({"complaint-site": {"left": [region]}}), forms()).reasons
        assert [one.id for one in found.arguments] == [], region


GATES = [(gate, cause) for gate in forms().gates.values() for cause in gate.causes]


@pytest.mark.parametrize(("gate", "cause"), GATES)
def test_a_gate_shuts_in_every_way_and_offers_nothing_it_forbids(
    gate: object, cause: object
) -> None:
    assert gate in forms().gates.values()
    forbids = set(gate.forbids)  # type: ignore[attr-defined]
    text = cause.when  # type: ignore[attr-defined]
    made = list(ways(text))
    assert len(made) == len(alternatives(parse_expression(text)))
    for one in made:
        reasons = assess(one.examination(), forms()).reasons
        assert forbids <= reasons.shut[SIDE].keys()
        offered = {test.measure for test in reasons.suggested.tests if test.side in {SIDE, None}}
        assert not forbids & offered


DEFEATERS = list(forms().defeaters.values())


@pytest.mark.parametrize("name", [one.id for one in DEFEATERS])
def test_a_defeater_can_hold(name: str) -> None:
    assert list(ways(forms().defeaters[name].when))


def test_each_sign_of_a_condition_that_can_be_told_can_be_true() -> None:
    for condition in forms().conditions.values():
        for claim in (*condition.raises, *condition.lowers):
            if claim.when:
                assert next(ways(claim.when), None), (condition.id, claim.when)
