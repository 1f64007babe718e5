"""What is never asked of a patient: age or sex alone rule its condition out, no answer does."""

import pytest

from footexam.reasoning.concerns import Concerns
from footexam.reasoning.view import View
from footexam.terms import Sex
from tests.reasoning.making import examination, forms, seen

PREGNANCY = "pregnant-or-recent-birth"
PERIODS = {"menstrual-disturbance", "primary-amenorrhoea", "hormonal-contraception"}
CONCERNS = Concerns(forms())


def never(**who: object) -> frozenset[str]:
    return CONCERNS.never(View(seen(examination({}, **who)), None))  # type: ignore[arg-type]


@pytest.mark.parametrize("sex", list(Sex))
def test_a_pregnancy_is_asked_of_everybody_but_men(sex: Sex) -> None:
    found = never(age=30, sex=sex.value)
    assert (PREGNANCY in found) is (sex is Sex.MALE)
    assert (found >= PERIODS) is (sex is Sex.MALE)


@pytest.mark.parametrize(
    ("age", "ruled_out"), [(11, True), (12, False), (55, False), (56, True), (None, False)]
)
def test_an_age_rules_out_what_its_condition_excludes(age: int | None, ruled_out: bool) -> None:
    assert (PREGNANCY in never(age=age)) is ruled_out


def test_a_year_of_birth_rules_out_only_what_none_of_its_ages_allows() -> None:
    # on 4 March 2026 somebody born in 1970 is 55 or 56, in 1969 56 or 57
    assert PREGNANCY not in never(born="1970")
    assert PREGNANCY in never(born="1969")


def test_what_another_part_of_a_condition_may_bring_is_never_ruled_out() -> None:
    conditions = {name: one.when for name, one in forms().measures.items()}
    grown = never(age=40)
    assert any(when == "age<18" and name in grown for name, when in conditions.items())
    for name, when in conditions.items():
        # a place, an answer or a hypothesis may bring it whatever the age
        if " or " in when and "(" not in when:
            assert name not in grown or when.startswith("age"), name
    assert not [name for name in grown if "hypothesis asks" in conditions[name]]


def test_what_has_no_condition_is_asked_of_everybody() -> None:
    for who in ({"age": 3, "sex": "male"}, {"age": 90, "sex": "female"}):
        assert all("age" in one.when or "sex" in one.when for one in
                   (forms().measures[name] for name in never(**who)))  # fmt: skip
