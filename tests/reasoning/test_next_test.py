"""The next useful test: the order of play, what it is weighed by, and what is never offered."""

from typing import Any

import pytest

from footexam.reasoning.dangers import is_danger
from footexam.reasoning.engine import Reasons
from footexam.reasoning.gain import information_gain
from footexam.reasoning.next_test import SHOWN, NextTest, Route
from footexam.terms import Depth, Side
from tests.reasoning.making import (
    LEFT,
    RIGHT,
    Readings,
    accuracy,
    assessed,
    branch,
    catalogue,
    condition,
    forms,
    gate,
    hypothesis,
    row,
    sign,
)

DANGERS = [
    name
    for name, measure in forms().measures.items()
    if is_danger(name, forms()) and measure.depth is Depth.CORE
]
ASKED = dict.fromkeys(DANGERS, "no")
"""Every danger question answered, so that the rest can be seen."""
SITE = {**ASKED, "complaint-site": {"right": ["heel-plantar-medial"]}}
HEEL = 'region(complaint-site, "heel")'


def reasons(readings: Readings, *hypotheses: Any, **more: Any) -> Reasons:
    who = {key: more.pop(key) for key in ("age", "sex", "decisions") if key in more}
    return assessed(readings, catalogue(hypotheses=hypotheses, **more), **who).reasons


def offered(readings: Readings, *hypotheses: Any, **more: Any) -> tuple[NextTest, ...]:
    return reasons(readings, *hypotheses, **more).suggested.tests


def named(found: tuple[NextTest, ...]) -> list[tuple[str, Side | None]]:
    return [(one.measure, one.side) for one in found]


# two rivals that one answer tells apart
STIFF = hypothesis("stiff", [HEEL], ['first-ray-position == "plantarflexed"'])
LOOSE = hypothesis("loose", [HEEL], (), ['first-ray-position == "plantarflexed"'])


# --- danger


def test_danger_questions_come_first_in_the_order_of_forms() -> None:
    found = offered({"complaint-site": {"right": ["heel-plantar"]}}, STIFF, LOOSE)
    assert len(DANGERS) == 12
    assert [one.measure for one in found[:12]] == DANGERS
    assert {one.route for one in found[:12]} == {Route.DANGER}
    assert found[0].why == "a danger question that has not been asked"
    assert named(found[12:]) == [("first-ray-position", RIGHT)]


@pytest.mark.parametrize(
    "answer", ["no", "yes", {"left": "no", "right": "yes"}, {"absent": "declined"}]
)
def test_a_danger_question_with_an_answer_is_not_asked_again(answer: object) -> None:
    name = "caution-calf-pain-swelling"
    assert name not in [one.measure for one in offered({name: answer})]


def test_a_danger_question_answered_on_one_side_is_asked_on_the_other() -> None:
    found = offered({"caution-calf-pain-swelling": {"left": "no"}})
    assert ("caution-calf-pain-swelling", RIGHT) in named(found)


CALF = "caution-calf-pain-swelling"
CLOT = sign(
    "clot",
    branch("clot", f'{CALF} == "yes" and active-cancer == "yes"', umbrella=[CALF],
           unfolds=["active-cancer", "clot-score", "previous-clot"]),
    branch("later", f'{CALF} == "yes" and previous-clot == "yes"', umbrella=[CALF],
           unfolds=["previous-clot", "blood-thinner"]),
)  # fmt: skip


def test_a_yes_unfolds_its_own_questions() -> None:
    made = {name: one for name, one in forms().measures.items() if one.derived_from}
    derived = next(iter(made))
    calf = sign(
        "clot",
        branch("a", f'{CALF} == "yes" and active-cancer == "yes"', umbrella=[CALF],
               unfolds=["active-cancer", derived, "previous-clot"]),
        branch("b", f'{CALF} == "yes" and previous-clot == "yes"', umbrella=[CALF],
               unfolds=["previous-clot", "blood-thinner"]),
    )  # fmt: skip
    found = offered({**ASKED, CALF: {"left": "yes", "right": "no"}}, cautions=(calf,))
    assert [one.measure for one in found] == ["active-cancer", "previous-clot", "blood-thinner"]
    assert found[0].why.startswith("follows from: ")
    answered = {**ASKED, CALF: "yes", "active-cancer": "no", "previous-clot": "no"}
    assert [one.measure for one in offered(answered, cautions=(calf,))] == ["blood-thinner"]
    assert offered(ASKED, cautions=(calf,)) == ()


@pytest.mark.parametrize(
    ("sex", "asked"), [("male", False), ("female", True), ("other", True), ("unknown", True)]
)
def test_a_man_is_not_asked_about_a_pregnancy(sex: str, asked: bool) -> None:
    unfolds = ["previous-clot", "pregnant-or-recent-birth"]
    calf = sign("clot", branch("soon", f'{CALF} == "yes"', umbrella=[CALF], unfolds=unfolds))
    found = [one.measure for one in offered({**ASKED, CALF: "yes"}, cautions=(calf,), sex=sex)]
    assert found == ["previous-clot", *(["pregnant-or-recent-birth"] if asked else [])]


@pytest.mark.parametrize(
    ("sex", "age", "asked"),
    [("male", 30, False), ("female", 30, True), ("female", 60, False), ("unknown", 30, True)],
)
def test_no_hypothesis_asks_for_what_cannot_concern_the_patient(
    sex: str, age: int, asked: bool
) -> None:
    needs = hypothesis("needs", [HEEL, 'pregnant-or-recent-birth == "yes"'])
    found = [one.measure for one in offered(SITE, needs, sex=sex, age=age)]
    assert found == (["pregnant-or-recent-birth"] if asked else [])


# --- what a hypothesis lacks


def test_what_is_missing_comes_before_what_separates() -> None:
    needs = hypothesis("needs", [HEEL, 'hallux-lift-test == "absent"'])
    found = offered(SITE, STIFF, LOOSE, needs)
    assert named(found) == [("hallux-lift-test", RIGHT), ("first-ray-position", RIGHT)]
    assert [one.route for one in found] == [Route.MISSING, Route.SEPARATES]
    assert found[0].why == "still needed to consider: Needs"
    assert found[0].separates == ("needs",)


def test_what_opens_more_comes_first() -> None:
    one = hypothesis("one", [HEEL, 'hallux-lift-test == "absent"'])
    two = hypothesis("two", [HEEL, 'heel-rise-timing == "early"'])
    three = hypothesis("three", [HEEL, 'heel-rise-timing == "late"'])
    found = offered(SITE, one, two, three)
    assert [one.measure for one in found] == ["heel-rise-timing", "hallux-lift-test"]
    assert found[0].separates == ("two", "three")
    assert found[0].why == "still needed to consider: Two, Three"


def test_of_many_two_are_named() -> None:
    many = [
        hypothesis(name, [HEEL, 'heel-rise-timing == "early"']) for name in ("a", "b", "c", "d")
    ]
    (found,) = offered(SITE, *many)
    assert found.separates == ("a", "b", "c", "d")
    assert found.why == "still needed to consider: A, B"


def test_a_missing_answer_without_sides_is_asked_once() -> None:
    needs = hypothesis("needs", ['region(complaint-site, "heel")', 'diabetes == "yes"'])
    both = {**ASKED, "complaint-site": {"both": ["heel-plantar"]}}
    assert named(offered(both, needs)) == [("diabetes", None)]
    sided = hypothesis("sided", [HEEL, 'hallux-lift-test == "absent"'])
    assert named(offered(both, sided)) == [("hallux-lift-test", LEFT), ("hallux-lift-test", RIGHT)]


# --- published accuracy

FASCIA = condition("fascia", ["heel-plantar-medial"])
PAD = condition("pad", ["heel-plantar"])
RIVALS = (
    hypothesis("tight", [HEEL], tests=["plantar-fascia-tender"], conditions=["fascia"]),
    hypothesis("thin", [HEEL], tests=["heel-pad-thin"], conditions=["pad"]),
)
TOLD: dict[str, Any] = {
    "conditions": (FASCIA, PAD),
    "accuracies": (accuracy("plantar-fascia-tender", "fascia", 0.84, 0.73),),
}


def test_a_published_test_is_ranked_by_its_gain_per_minute() -> None:
    (found,) = offered(SITE, *RIVALS, **TOLD)
    assert (found.measure, found.route) == ("plantar-fascia-tender", Route.RATIO)
    assert set(found.separates) == {"tight", "thin"}
    assert found.why == "published accuracy for a condition that is being considered"
    # flat chances of two rivals and something else; reliability unknown; a yes-no and a move
    gain = information_gain([1 / 3] * 3, [0.84, 1 - 0.73, 1 - 0.73])
    assert found.worth == pytest.approx(gain * 0.5 / (0.25 + 1))


def test_a_published_test_comes_before_one_that_only_separates() -> None:
    more = hypothesis(
        "more", [HEEL], (), ['first-ray-position == "plantarflexed"'], conditions=["pad"]
    )
    less = hypothesis("less", [HEEL], ['first-ray-position == "plantarflexed"'], conditions=["pad"])
    found = offered(SITE, *RIVALS, more, less, **TOLD)
    assert [one.route for one in found] == [Route.RATIO, Route.SEPARATES]


def test_a_test_for_what_all_or_none_of_them_mean_tells_nothing_by_its_accuracy() -> None:
    same = [hypothesis(name, [HEEL], tests=["heel-pad-thin"], conditions=["pad"]) for name in "ab"]
    told = {"conditions": (PAD,), "accuracies": (accuracy("heel-pad-thin", "pad", 0.8, 0.7),)}
    assert offered(SITE, *same, **told) == ()
    assert reasons(SITE, *same, **told).suggested.idle == ("heel-pad-thin",)


def test_the_better_of_two_accuracies_counts_and_a_doubtful_one_never() -> None:
    from dataclasses import replace

    plain = accuracy("plantar-fascia-tender", "fascia", 0.84, 0.73)
    better = replace(plain, id="better", sensitivity=plain.sensitivity and plain.sensitivity + 0)
    worse = replace(accuracy("plantar-fascia-tender", "fascia", 0.6, 0.6), id="worse")
    doubtful = replace(
        accuracy("plantar-fascia-tender", "fascia", 0.99, 0.99),
        id="doubtful",
        doubtful={"en": "Odd."},
    )
    bare = replace(plain, id="bare", specificity=None)
    told = {**TOLD, "accuracies": (better, worse, doubtful, bare)}
    (one,), (two,) = offered(SITE, *RIVALS, **told), offered(SITE, *RIVALS, **TOLD)
    assert one.worth == two.worth


# --- pairs


def test_a_test_that_tells_two_apart_says_which() -> None:
    (found,) = offered(SITE, STIFF, LOOSE)
    assert named((found,)) == [("first-ray-position", RIGHT)]
    assert found.why == "separates Stiff from Loose"
    assert set(found.separates) == {"stiff", "loose"}
    assert (
        found.position
        == forms().panels[forms().measures["first-ray-position"].panel].position["en"]
    )


def test_more_pairs_are_worth_more() -> None:
    one = hypothesis("one", [HEEL], ['first-ray-position == "level"', 'midtarsal-range == "usual"'])
    two = hypothesis("two", [HEEL], ['first-ray-position == "level"'],
                     ['midtarsal-range == "usual"'])  # fmt: skip
    three = hypothesis("three", [HEEL], (), ['first-ray-position == "level"'])
    four = hypothesis("four", [HEEL], (), ['first-ray-position == "level"'])
    found = offered(SITE, one, two, three, four)
    assert [test.measure for test in found] == ["first-ray-position", "midtarsal-range"]
    assert found[0].worth == pytest.approx(4 * found[1].worth)


def test_one_that_expects_another_answer_is_told_apart_as_well() -> None:
    one = hypothesis("one", [HEEL], ['heel-rise-timing == "early"'])
    two = hypothesis("two", [HEEL], ['heel-rise-timing == "late"'])
    (found,) = offered(SITE, one, two)
    assert found.why == "separates One from Two"
    # who only has the other answer against it is silent about this one
    three = hypothesis("three", [HEEL], (), ['heel-rise-timing == "late"'])
    assert reasons(SITE, one, three).suggested.idle == ("heel-rise-timing",)


def test_what_all_expect_alike_is_named_as_idle() -> None:
    same = [hypothesis(name, [HEEL], ['first-ray-position == "level"']) for name in ("a", "b")]
    found = reasons(SITE, *same).suggested
    assert found.tests == ()
    assert found.idle == ("first-ray-position",)
    # a test nobody has a row for changes nothing either
    bare = [hypothesis(name, [HEEL], tests=["callus"]) for name in ("a", "b")]
    assert reasons(SITE, *bare).suggested.idle == ("callus",)


def test_what_is_useful_on_one_side_is_not_idle() -> None:
    both = {**ASKED, "complaint-site": {"left": ["heel-plantar"], "right": ["navicular"]}}
    nav = 'region(complaint-site, "navicular")'
    left = [STIFF, LOOSE]
    right = [
        hypothesis(name, [nav], ['first-ray-position == "plantarflexed"']) for name in ("c", "d")
    ]
    found = reasons(both, *left, *right).suggested
    assert named(found.tests) == [("first-ray-position", LEFT)]
    assert found.idle == ()


def test_a_pair_that_expects_nothing_of_it_is_silent() -> None:
    bystander = hypothesis("bystander", [HEEL])
    (found,) = offered(SITE, STIFF, LOOSE, bystander)
    assert set(found.separates) == {"stiff", "loose"}


def test_two_against_without_one_for_separates_nothing() -> None:
    one = hypothesis("one", [HEEL], (), ['heel-rise-timing == "early"'])
    two = hypothesis("two", [HEEL], (), ['heel-rise-timing == "early"'])
    assert offered(SITE, one, two) == ()


# --- what is never offered


def needs(measure_when: str) -> Any:
    return hypothesis("needs", [HEEL, measure_when])


def test_what_was_noted_as_not_done_is_not_offered() -> None:
    readings = {**SITE, "hallux-lift-test": {"right": {"absent": "declined"}}}
    assert offered(readings, needs('hallux-lift-test == "absent"')) == ()
    readings = {**SITE, "first-ray-position": {"right": {"absent": "could-not-be-tested"}}}
    assert offered(readings, STIFF, LOOSE) == ()


def test_what_a_gate_forbids_is_not_offered_on_that_side() -> None:
    made = (gate("g", ["hop-test"], ('region(tenderness, "navicular")', "Tender.")),)
    both = {**ASKED, "complaint-site": {"both": ["heel-plantar"]}}
    hop = needs('hop-test == "yes"')
    assert named(offered(both, hop, gates=made)) == [("hop-test", LEFT), ("hop-test", RIGHT)]
    tender = {**both, "tenderness": {"right": {"navicular": 4}}}
    assert named(offered(tender, hop, gates=made)) == [("hop-test", LEFT)]


def test_what_an_open_caution_forbids_is_not_offered() -> None:
    made = (gate("g", ["hop-test"], ('onset == "sudden"', "Sudden.")),)
    hop = needs('hop-test == "yes"')
    danger = {**SITE, "caution-calf-pain-swelling": {"left": "no", "right": "yes"}}
    assert [one.measure for one in offered(danger, hop, gates=made)] == []


def test_what_is_recorded_is_not_offered() -> None:
    readings = {**SITE, "tenderness": {"right": {"cuboid": 0}}}
    both = [
        hypothesis("one", [HEEL], ['region(tenderness, "navicular")']),
        hypothesis("two", [HEEL], (), ['region(tenderness, "navicular")'], tests=["tenderness"]),
    ]
    assert offered(readings, *both) == ()


# --- derived measures


def test_of_a_derived_measure_its_first_missing_input_is_offered() -> None:
    drop = needs("navicular-drop > 10")
    assert named(offered(SITE, drop)) == [("navicular-height-neutral", RIGHT)]
    one = {**SITE, "navicular-height-neutral": {"right": 45}}
    assert named(offered(one, drop)) == [("navicular-height-resting", RIGHT)]
    gone = {**one, "navicular-height-resting": {"right": {"absent": "declined"}}}
    assert offered(gone, drop) == ()


def test_inputs_are_followed_down_to_what_is_read() -> None:
    change = needs("arch-height-change > 0.02")
    (found,) = offered(SITE, change)
    assert found.measure == "dorsal-arch-height-seated"


def test_a_derived_measure_is_never_offered() -> None:
    for name, measure in forms().measures.items():
        if measure.derived_from and not measure.words:
            found = offered(SITE, needs(f"{name} > 1"))
            assert name not in [one.measure for one in found]


# --- weights


def test_the_position_of_the_patient_is_preferred() -> None:
    # hallux-lift-test is done standing, ankle end feel lying; both are choices
    one = hypothesis("one", [HEEL, 'hallux-lift-test == "absent"'])
    two = hypothesis("two", [HEEL, 'ankle-end-feel == "hard"'])
    standing = {**SITE, "single-leg-stance": {"left": 12}}
    lying = {**SITE, "first-ray-position": {"left": "level"}}
    assert [test.measure for test in offered(standing, one, two)] == [
        "hallux-lift-test",
        "ankle-end-feel",
    ]
    assert [test.measure for test in offered(lying, one, two)] == [
        "ankle-end-feel",
        "hallux-lift-test",
    ]


def test_quicker_and_more_reliable_tests_come_first() -> None:
    # a yes-no question takes a quarter of a minute, a quantity one minute
    quick = hypothesis("quick", [HEEL, 'heel-raise-inverts == "yes"'])
    slow = hypothesis("slow", [HEEL, "pelvic-block-height > 5"])
    found = offered(SITE, slow, quick)
    assert [test.measure for test in found] == ["heel-raise-inverts", "pelvic-block-height"]
    # the height of the navicular has published agreement, the breadth of the foot has none
    height = forms().measures["navicular-height-neutral"]
    best = max(float(error.icc) for error in height.errors if error.icc is not None)
    (sure,) = offered(SITE, hypothesis("sure", [HEEL, "navicular-height-neutral > 1"]))
    (unsure,) = offered(SITE, hypothesis("unsure", [HEEL, "foot-breadth > 1"]))
    assert sure.worth == pytest.approx(best / (1 + 1))
    assert unsure.worth == pytest.approx(0.5 / (1 + 1))


def test_before_the_first_entry_there_is_no_position() -> None:
    found = offered({}, hypothesis("one", ["age > 1", 'hallux-lift-test == "absent"']))
    assert named(found[12:]) == [("hallux-lift-test", LEFT), ("hallux-lift-test", RIGHT)]


def test_no_more_than_a_few_are_named() -> None:
    words = [
        ("hallux-lift-test", "absent"), ("heel-rise-timing", "early"), ("propulsion", "absent"),
        ("pronation-timing", "late"), ("ankle-end-feel", "hard"), ("midtarsal-range", "usual"),
        ("subtalar-range", "usual"), ("first-ray-mobility", "stiff"), ("knee-position", "varus"),
    ]  # fmt: skip
    many = [hypothesis(name, [HEEL, f'{name} == "{word}"']) for name, word in words]
    assert len(offered(SITE, *many)) == SHOWN


def test_each_measure_stands_once_where_it_ranks_highest() -> None:
    lacking = hypothesis("lacking", [HEEL, 'first-ray-position == "plantarflexed"'])
    found = offered(SITE, STIFF, LOOSE, lacking)
    assert [(one.measure, one.route) for one in found] == [("first-ray-position", Route.MISSING)]


def test_zero_points_are_rivals_too() -> None:
    zero = hypothesis("zero", [row(HEEL, 0)], ['first-ray-position == "plantarflexed"'])
    assert named(offered(SITE, zero, LOOSE)) == [("first-ray-position", RIGHT)]
