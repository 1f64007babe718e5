"""Judges of a modified Angoff: every domain by everybody, rounds, names and codes."""

from dataclasses import replace

import pytest

from footexam.catalogue.marking import Rubric
from footexam.catalogue.model import Catalogue
from footexam.marking.judges import Judge, Judging, apart, check_judging, judge_codes, judged_mark
from footexam.marking.passmark import Warn, pass_mark
from footexam.marking.rubric import BadMarks

DOMAINS = ("reasoning", "plan", "communication", "record")


@pytest.fixture(scope="module")
def rubric(catalogue: Catalogue) -> Rubric:
    return catalogue.rubrics["reasoning-station"]


def judge(name: str, *shares: float) -> Judge:
    return Judge(name, dict(zip(DOMAINS, shares, strict=True)))


def two_rounds() -> Judging:
    first = judge("Ada", 0.5, 0.4, 0.6, 0.8), judge("Ben", 0.9, 0.8, 0.6, 0.8)
    second = judge("Ada", 0.6, 0.6, 0.6, 0.8), judge("Ben", 0.8, 0.6, 0.6, 0.8)
    return Judging("reasoning-station", (first, second))


def test_the_last_round_stands_in_points_of_the_weights(rubric: Rubric) -> None:
    """15 × .6 + 15 × .6 + 5 × .6 + 5 × .8 is 25, with .8 for the first 28: the cut is 26.5."""
    found = judged_mark(rubric, [], two_rounds())
    assert found.cut == pytest.approx(26.5)
    assert found.se == pytest.approx(1.5)
    first, last = found.angoff
    assert (first.judges, last.judges) == (("Ada", "Ben"), ("Ada", "Ben"))
    assert first.sums == pytest.approx((20.5, 32.5))
    assert last.sums == pytest.approx((25.0, 28.0))
    assert last.warnings == (Warn.FEW_JUDGES,)


def test_how_far_judges_came_together(rubric: Rubric) -> None:
    first, last = judged_mark(rubric, [], two_rounds()).angoff
    assert apart(first) == pytest.approx(12 / 2**0.5)
    assert apart(last) == pytest.approx(3 / 2**0.5)
    alone = Judging("reasoning-station", ((judge("Ada", 0.5, 0.4, 0.6, 0.8),),))
    assert apart(judged_mark(rubric, [], alone).angoff[0]) is None


def test_judges_have_codes_in_the_order_they_first_judge(rubric: Rubric) -> None:
    later = replace(two_rounds(), rounds=(two_rounds().rounds[0], (judge("Cleo", 1, 1, 1, 1),)))
    found = judged_mark(rubric, [], later)
    assert judge_codes([pass_mark(rubric, []), found]) == {"Ada": "J1", "Ben": "J2", "Cleo": "J3"}


@pytest.mark.parametrize(
    ("judges", "told"),
    [
        ((judge("Ada", 1, 1, 1, 1), judge("Ada", 0, 0, 0, 0)), "“Ada” judges twice in round 1"),
        ((Judge("Ada", {"charm": 0.5}),), "“charm” of “Ada” in round 1 is not a domain"),
        ((judge("Ada", 1.2, 1, 1, 1),), "is not a number from 0 to 1"),
        ((Judge("Ada", {"plan": 0.5}),), "for “communication” is missing"),
    ],
)
def test_what_is_not_whole_is_refused(rubric: Rubric, judges: tuple[Judge, ...], told: str) -> None:
    with pytest.raises(BadMarks, match=told):
        check_judging(rubric, Judging("reasoning-station", (judges,)))
