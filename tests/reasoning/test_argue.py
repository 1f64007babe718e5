"""Arguments: which hypotheses open where, what speaks for and against, what a defeater strikes."""

from typing import Any

import pytest

from footexam.reasoning.argue import Argument, full_points, summed
from footexam.reasoning.engine import engine
from footexam.reasoning.evidence import grouped, weakened
from footexam.terms import Side
from tests.reasoning.making import (
    LEFT,
    RIGHT,
    Readings,
    assessed,
    catalogue,
    defeater,
    examination,
    hypothesis,
    row,
    seen,
)

SITE = {"complaint-site": {"right": ["heel-plantar-medial"]}}
HURTS = 'region(complaint-site, "heel")'
LEVEL = 'first-ray-position == "level"'


def arguments(readings: Readings, *hypotheses: Any, **more: Any) -> tuple[Argument, ...]:
    made = catalogue(hypotheses=hypotheses, defeaters=more.pop("defeaters", ()))
    return assessed(readings, made, **more).reasons.arguments


def only(readings: Readings, *hypotheses: Any, **more: Any) -> Argument:
    (found,) = arguments(readings, *hypotheses, **more)
    return found


# --- where a hypothesis opens


def test_it_opens_where_all_it_requires_is_true() -> None:
    one = hypothesis("one", [HURTS, LEVEL])
    assert arguments(SITE, one) == ()
    assert arguments({**SITE, "first-ray-position": {"right": "plantarflexed"}}, one) == ()
    found = only({**SITE, "first-ray-position": {"right": "level"}}, one)
    assert (found.id, found.side, found.shown) == ("one", RIGHT, 6)


def test_without_a_complaint_it_opens_on_any_side() -> None:
    ray = {"first-ray-position": {"both": "level"}}
    found = arguments(ray, hypothesis("one", [LEVEL]))
    assert [(one.id, one.side) for one in found] == [("one", LEFT), ("one", RIGHT)]


def test_where_it_hurts_is_where_it_opens() -> None:
    ray = {"first-ray-position": {"both": "level"}}
    assert [one.side for one in arguments({**ray, **SITE}, hypothesis("one", [LEVEL]))] == [RIGHT]
    both = {"complaint-site": {"both": ["navicular"]}}
    found = arguments({**ray, **both}, hypothesis("one", [LEVEL]))
    assert [one.side for one in found] == [LEFT, RIGHT]
    # a map that was gone through and has no mark is no complaint
    none = {"complaint-site": {"right": {"absent": "not-applicable"}}}
    found = arguments({**ray, **none}, hypothesis("one", [LEVEL]))
    assert [one.side for one in found] == [LEFT, RIGHT]


def test_what_has_no_side_opens_once_or_where_it_hurts() -> None:
    one = hypothesis("one", ['onset == "sudden"'])
    assert [found.side for found in arguments({"onset": "sudden"}, one)] == [None]
    assert [found.side for found in arguments({"onset": "sudden", **SITE}, one)] == [RIGHT]


# --- for and against


def test_points_are_what_speaks_for_less_what_speaks_against() -> None:
    one = hypothesis(
        "one",
        [row('onset == "sudden"', 2)],
        [row('diabetes == "yes"', 3), row('osteoporosis == "yes"', 5)],
        [row('known-gout == "yes"', 4)],
    )
    found = only({"onset": "sudden", "diabetes": "yes", "known-gout": "yes"}, one)
    assert found.points == 2 + 3 - 4
    assert [weighed.points for weighed in found.speaks_for] == [2, 3]
    assert [weighed.points for weighed in found.speaks_against] == [4]
    assert found.not_examined == ("osteoporosis",)


def test_unrounded_sums_are_rounded_once() -> None:
    rows = [row(f'{name} == "yes"', 0.4) for name in ("diabetes", "osteoporosis", "known-gout")]
    found = only(
        {"diabetes": "yes", "osteoporosis": "yes", "known-gout": "yes", "onset": "sudden"},
        hypothesis("one", [row('onset == "sudden"', 0)], rows),
    )
    assert found.points == pytest.approx(1.2)
    assert found.shown == 1


def test_rows_that_see_one_thing_are_taken_together() -> None:
    readings = {"diabetes": "yes", "osteoporosis": "yes", "known-gout": "yes"}
    rows = [
        row('diabetes == "yes"', 7, group="a"),
        row('osteoporosis == "yes"', 1, group="a"),
        row('known-gout == "yes"', 1, group=""),
    ]
    assert only(readings, hypothesis("one", rows[:1], rows[1:])).points == 7 + 1
    equal = [row(one.when, 3, group="a") for one in rows]
    assert only(readings, hypothesis("one", equal[:1], equal[1:])).points == grouped([3, 3, 3])
    # a group for is not a group against
    against = only(readings, hypothesis("one", equal[:1], equal[1:2], equal[2:]))
    assert against.points == grouped([3, 3]) - 3
    assert summed(against.speaks_for) == grouped([3, 3])
    # without a group each stands for itself
    bare = [row(one.when, 3) for one in rows]
    assert only(readings, hypothesis("one", bare[:1], bare[1:])).points == 9


def test_what_a_row_weighs_where_it_is_sure() -> None:
    assert full_points(row("age > 1", 4)) == 4
    assert full_points(row("age > 1", 0)) == 0
    # a published ratio argues as it stands; against, it is below 1
    assert full_points(row("age > 1", ratio=2)) == pytest.approx(3.01, abs=0.01)
    assert full_points(row("age > 1", ratio=0.5)) == pytest.approx(3.01, abs=0.01)
    # the cap holds for both
    assert full_points(row("age > 1", 14)) == 10
    assert full_points(row("age > 1", ratio=62)) == 10
    assert full_points(row("age > 1", ratio=0.001)) == 10


def test_because_names_the_parts_that_hold() -> None:
    one = hypothesis("one", ['onset == "sudden" or diabetes == "yes"', "age > 1"])
    found = only({"onset": "gradual", "diabetes": "yes"}, one)
    assert [weighed.because for weighed in found.speaks_for] == [("measure:diabetes",), ()]
    both = only({"onset": "sudden", "diabetes": "yes"}, one)
    assert both.speaks_for[0].because == ("measure:onset", "measure:diabetes")


# --- how sure

NEAR = {"heel-raise-count": {"right": 6}}
FAR = {"heel-raise-count": {"right": 1}}


def test_an_expert_weight_counts_as_far_as_its_reading_is_sure() -> None:
    one = hypothesis("one", [row("low(heel-raise-count)", 5)])
    near, far = only(NEAR, one), only(FAR, one)
    assert 0 < near.points < far.points <= 5
    rule = engine(catalogue(hypotheses=[one])).rule("low(heel-raise-count)")
    from footexam.reasoning.view import View

    view = View(seen(examination(NEAR)), RIGHT)
    assert near.points == weakened(5.0, rule.odds(view))
    assert near.speaks_for[0].full == 5


def test_a_published_ratio_belongs_to_the_reading_as_it_is() -> None:
    one = hypothesis("one", [row("low(heel-raise-count)", ratio=2)])
    assert only(NEAR, one).points == only(FAR, one).points == pytest.approx(3.01, abs=0.01)


def test_a_number_against_a_limit_is_weighed_by_its_error() -> None:
    # dorsiflexion of the ankle has a published error
    text = "ankle-dorsiflexion-knee-straight < 10"
    one = hypothesis("one", [row(text, 5)])
    near = only({"ankle-dorsiflexion-knee-straight": {"right": 9}}, one).points
    far = only({"ankle-dorsiflexion-knee-straight": {"right": -15}}, one).points
    assert 0 < near < 2
    assert far == pytest.approx(5, abs=0.01)
    often = only({"ankle-dorsiflexion-knee-straight": {"right": [9] * 5}}, one).points
    assert near <= often


def test_a_worked_out_number_carries_the_error_of_its_inputs() -> None:
    one = hypothesis("one", [row("first-ray-total-travel > 8", 5)])

    def points(dorsal: int) -> float:
        travel = {"first-ray-dorsal-travel": {"right": dorsal}}
        return only({**travel, "first-ray-plantar-travel": {"right": 4}}, one).points

    assert 0 < points(5) < points(9) < 5


# --- what was not examined


def test_what_could_still_speak_is_named_and_what_cannot_is_not() -> None:
    one = hypothesis(
        "one",
        ['onset == "sudden"'],
        ['diabetes == "yes" and osteoporosis == "yes"', 'known-gout == "yes"'],
        ['steroid-use == "yes" or blood-thinner == "yes"'],
    )
    found = only({"onset": "sudden"}, one)
    assert found.not_examined == (
        *("diabetes", "osteoporosis", "known-gout", "steroid-use", "blood-thinner"),
    )
    # one no decides the pair; one yes decides the choice
    found = only({"onset": "sudden", "diabetes": "no", "steroid-use": "yes"}, one)
    assert found.not_examined == ("known-gout",)
    # a map that was looked at elsewhere is recorded, and its row still undecided
    two = hypothesis("two", ['onset == "sudden"'], ['region(tenderness, "navicular")'])
    found = only({"onset": "sudden", "tenderness": {"right": {"cuboid": 0}}, **SITE}, two)
    assert found.not_examined == ()


def test_what_is_not_examined_counts_nothing() -> None:
    rows = [row('diabetes == "yes"', 5)], [row('diabetes == "no"', 5)]
    one = hypothesis("one", [row('onset == "sudden"', 2)], *rows)
    assert only({"onset": "sudden"}, one).points == 2
    assert only({"onset": "sudden", "diabetes": {"absent": "declined"}}, one).points == 2


# --- hypotheses that lack only answers


def nearly(readings: Readings, *hypotheses: Any) -> list[tuple[str, Side | None, tuple[str, ...]]]:
    found = assessed(readings, catalogue(hypotheses=hypotheses)).reasons.nearly
    return [(one.thought.hypothesis.id, one.side, one.missing) for one in found]


def test_what_lacks_only_answers_is_nearly_open() -> None:
    one = hypothesis("one", [HURTS, LEVEL, 'onset == "sudden" and diabetes == "yes"'])
    assert nearly({}, one) == []
    assert nearly(SITE, one) == [("one", RIGHT, ("first-ray-position", "onset", "diabetes"))]
    assert nearly({**SITE, "onset": "sudden"}, one) == [
        ("one", RIGHT, ("first-ray-position", "diabetes"))
    ]
    # something it requires is false
    assert nearly({**SITE, "onset": "gradual"}, one) == []
    assert nearly({"complaint-site": {"right": ["navicular"]}}, one) == []
    # nothing recorded could decide it
    judged = hypothesis("judged", [HURTS, "low(hallux-dorsiflexion)"])
    assert nearly({**SITE, "hallux-dorsiflexion": {"right": 40}}, judged) == []


# --- the painless side

STABLE = hypothesis("stable", [HURTS, LEVEL], stable=True)


@pytest.mark.parametrize(
    ("ray", "shared"),
    [({"both": "level"}, True), ({"right": "level"}, False),
     ({"right": "level", "left": "plantarflexed"}, False)],
)  # fmt: skip
def test_a_variant_of_both_sides_is_told_for_a_pain_of_one(
    ray: dict[str, str], shared: bool
) -> None:
    readings = {**SITE, "first-ray-position": ray}
    assert only(readings, STABLE).both_sides is shared
    moving = hypothesis("moving", [HURTS, LEVEL])
    assert not only(readings, moving).both_sides


def test_a_pain_of_both_sides_has_no_painless_one() -> None:
    readings = {
        "complaint-site": {"both": ["heel-plantar"]},
        "first-ray-position": {"both": "level"},
    }
    assert [one.both_sides for one in arguments(readings, STABLE)] == [False, False]


def test_a_hypothesis_that_asks_only_where_it_hurts_is_not_shared() -> None:
    one = hypothesis("one", [HURTS], stable=True)
    assert not only(SITE, one).both_sides


def test_without_a_side_there_is_no_other_one() -> None:
    one = hypothesis("one", ['onset == "sudden"'], stable=True)
    assert not only({"onset": "sudden"}, one).both_sides


# --- defeaters

WEAK = hypothesis(
    "weak", [row('onset == "gradual"', 1)], [row("low(heel-raise-count)", 4)], ['diabetes == "no"']
)
PAIN = defeater("pain", ["heel-raise-count"], "heel-raise-pain >= 4", "It hurt.", ["calm"])
CALM = defeater("calm", [], 'diabetes == "yes"', "Numb.")
FEW = {"onset": "gradual", "heel-raise-count": {"right": 1}, **SITE}


def test_a_defeater_strikes_a_row_which_stays_with_its_reason() -> None:
    plain = only(FEW, WEAK, defeaters=[PAIN, CALM])
    assert plain.shown == 5
    assert plain.set_aside == ()
    struck = only({**FEW, "heel-raise-pain": {"right": 6}}, WEAK, defeaters=[PAIN, CALM])
    assert struck.points == 1
    (aside,) = struck.set_aside
    assert (aside.row.when, aside.reason) == ("low(heel-raise-count)", "It hurt.")
    assert aside.because == ("measure:heel-raise-count",)
    # it was examined: it is struck, not missing
    assert "heel-raise-count" not in struck.not_examined


def test_a_defeater_of_the_other_side_strikes_nothing_here() -> None:
    readings = {**FEW, "heel-raise-pain": {"left": 6}}
    assert only(readings, WEAK, defeaters=[PAIN, CALM]).set_aside == ()


def test_a_rebutted_defeater_switches_the_row_on_again() -> None:
    readings = {**FEW, "heel-raise-pain": {"right": 6}, "diabetes": "yes"}
    found = only(readings, WEAK, defeaters=[PAIN, CALM])
    assert found.set_aside == ()
    assert found.shown == 5
    # and a rebuttal that is itself rebutted leaves the defeater in force
    worse = defeater("calm", [], 'diabetes == "yes"', "Numb.", ["sure"])
    sure = defeater("sure", [], 'osteoporosis == "yes"', "Sure.")
    found = only({**readings, "osteoporosis": "yes"}, WEAK, defeaters=[PAIN, worse, sure])
    assert [one.reason for one in found.set_aside] == ["It hurt."]


def test_two_defeaters_give_both_reasons_once_each() -> None:
    other = defeater("other", ["heel-raise-count"], "age > 1", "Too old.")
    third = defeater("third", ["heel-raise-count"], "age > 2", "It hurt.")
    elsewhere = defeater("elsewhere", ["lunge-distance"], "age > 3", "Not here.")
    readings = {**FEW, "heel-raise-pain": {"right": 6}}
    found = only(readings, WEAK, defeaters=[PAIN, CALM, other, third, elsewhere])
    assert [one.reason for one in found.set_aside] == ["It hurt.; Too old."]


def test_a_struck_requirement_closes_the_hypothesis() -> None:
    needs = hypothesis("needs", ["low(heel-raise-count)"])
    readings = {**FEW, "heel-raise-pain": {"right": 6}}
    assert arguments(readings, needs, defeaters=[PAIN, CALM]) == ()


# --- order


def test_more_points_come_first_then_the_id_then_left() -> None:
    readings = {"onset": "sudden", "first-ray-position": {"both": "level"}}
    found = arguments(
        readings,
        hypothesis("b", [row(LEVEL, 3)]),
        hypothesis("c", [row('onset == "sudden"', 5)]),
        hypothesis("a", [row(LEVEL, 3)]),
    )
    assert [(one.id, one.side) for one in found] == [
        ("c", None),
        ("a", LEFT),
        ("a", RIGHT),
        ("b", LEFT),
        ("b", RIGHT),
    ]
