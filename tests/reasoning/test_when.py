"""Conditions of forms/: what they say, and that every one of them can be read."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from footexam.reasoning.facts import Facts
from footexam.reasoning.gates import QUIET
from footexam.reasoning.when import BadCondition, compile_when
from footexam.record.examination import Age
from footexam.terms import Sex
from tests.shipped import shipped

EMPTY: dict[str, Any] = {
    "words": {},
    "numbers": {},
    "recorded": frozenset(),
    "regions": frozenset(),
    "low": frozenset(),
    "high": frozenset(),
    "age": None,
    "sex": Sex.UNKNOWN,
    "states": QUIET,
}


def facts(**known: Any) -> Facts:
    return Facts(**{**EMPTY, **known})


@pytest.mark.parametrize(
    ("text", "known", "expected"),
    [
        ("region:heel", {"regions": frozenset({"heel"})}, True),
        ("region:heel", {"regions": frozenset({"arch"})}, False),
        ("limp=yes", {"words": {"limp": frozenset({"yes"})}}, True),
        ("limp=yes", {}, False),
        ("pulse!=present", {"words": {"pulse": frozenset({"present", "weak"})}}, True),
        ("pulse!=present", {"words": {"pulse": frozenset({"present"})}}, False),
        ("pulse!=present", {}, False),
        ("pain-worst>=4", {"numbers": {"pain-worst": (Decimal(2), Decimal(4))}}, True),
        ("pain-worst>=4", {"numbers": {"pain-worst": (Decimal(3),)}}, False),
        ("stance<0", {"numbers": {"stance": (Decimal(-1),)}}, True),
        ("total<=-1", {"numbers": {"total": (Decimal(-1),)}}, True),
        ("age<18", {"age": Age(17, 215)}, True),
        ("age<18", {"age": Age(18, 216)}, False),
        ("age<18", {}, False),
        ("sex!=male", {"sex": Sex.OTHER}, True),
        ("sex!=male", {"sex": Sex.MALE}, False),
        ("wound recorded", {"recorded": frozenset({"wound"})}, True),
        ("low(lunge)", {"low": frozenset({"lunge"})}, True),
        ("high(lunge)", {"low": frozenset({"lunge"})}, False),
        ("gate open", {}, True),
        ("gate open", {"states": replace(QUIET, gate_open=False)}, False),
        ("hypothesis asks or device considered", {}, False),
        ("device considered", {"states": replace(QUIET, device=True)}, True),
        ("boot considered", {"states": replace(QUIET, device=True)}, False),
        ("boot considered", {"states": replace(QUIET, boot=True)}, True),
        ("imaging considered", {"states": replace(QUIET, imaging=True)}, True),
        # and binds before or
        ("region:a or region:b and region:c", {"regions": frozenset({"a"})}, True),
        ("(region:a or region:b) and region:c", {"regions": frozenset({"a"})}, False),
        ("(region:a or region:b) and region:c", {"regions": frozenset({"b", "c"})}, True),
    ],
)
def test_a_condition(text: str, known: dict[str, Any], expected: bool) -> None:
    assert compile_when(text)(facts(**known)) is expected


@pytest.mark.parametrize(
    "text",
    ["", "limp", "limp=", "(limp=yes", "limp=yes)", "limp yes", "limp~yes", "context:moon", "and"],
)
def test_a_condition_that_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(BadCondition):
        compile_when(text)


def test_a_hypothesis_asks_for_its_own_measures_only() -> None:
    asking = facts(states=replace(QUIET, asked=frozenset({"wound"})))
    assert compile_when("hypothesis asks", measure="wound")(asking)
    assert not compile_when("hypothesis asks", measure="callus")(asking)


def test_every_condition_of_forms_can_be_read() -> None:
    catalogue = shipped()
    contexts = {name: compile_when(text.when) for name, text in catalogue.contexts.items()}
    read = [
        compile_when(measure.when, contexts)
        for measure in catalogue.measures.values()
        if measure.when and measure.when != "inputs recorded"
    ]
    assert len(read) > 200


@pytest.mark.parametrize("text", ["(region:heel", "(region:heel or region:arch", "(age<18 age"])
def test_a_bracket_that_is_not_closed_is_refused(text: str) -> None:
    with pytest.raises(BadCondition):
        compile_when(text)
