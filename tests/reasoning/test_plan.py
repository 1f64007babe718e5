"""Plans: aims by side, features in order, reasons against them, clashes, shoe, device, checks."""

from dataclasses import replace
from typing import Any

import pytest

from footexam.catalogue.arguments import Hold
from footexam.catalogue.model import Catalogue
from footexam.catalogue.plan_model import GENERAL, HARM, Severity, Zone
from footexam.reasoning.planned import NO_PLAN, Plan
from footexam.terms import Grade
from tests.reasoning.making import (
    LEFT,
    RIGHT,
    Readings,
    assessed,
    branch,
    condition,
    forms,
    hypothesis,
    row,
    sign,
)
from tests.reasoning.making_plan import (
    aim,
    argument,
    avoid,
    claim,
    conflict,
    decided,
    feature,
    find,
    judged,
    limit,
    named,
    plan_forms,
    planned,
    size,
    taken,
)

ONSET = 'onset == "sudden"'
AIMS = (aim("easy", "one", "two"), aim("firm", "two"), aim("skin"))


def only(*features: Any, conflicts: Any = (), **more: Any) -> Catalogue:
    """Three aims, the first two opened by “one” and “two”, and these features."""
    return plan_forms(more.pop("aims", AIMS), features, conflicts, **more)


def ids(plan: Plan, of: str) -> list[str]:
    return [one.id for one in plan.candidates if one.aim == of]


# --- aims


def test_without_decisions_there_is_nothing() -> None:
    for decisions in ({}, decided(), decided([("unheard-of", "left")])):
        plan = planned(only(feature("a", "easy")), decisions)
        assert (plan.aims, plan.chosen, plan.rooms, plan.device, plan.unmet) == ((), (), (), (), ())
    assert planned(None, decided()) == NO_PLAN


def test_accepted_hypotheses_open_their_aims_on_their_side() -> None:
    plan = planned(only(), decided([("two", "right"), ("one", "left"), ("one", "right")]))
    assert named(plan) == [("easy", LEFT), ("easy", RIGHT), ("firm", RIGHT)]
    assert [one.hypotheses for one in plan.aims] == [("one",), ("two", "one"), ("two",)]
    assert not any(one.kept or one.suggested for one in plan.aims)


def test_a_hypothesis_without_a_side_opens_its_aim_for_both() -> None:
    plan = planned(only(feature("a", "easy")), decided([("one", None), ("two", "left")]))
    assert named(plan) == [("easy", LEFT), ("firm", LEFT), ("easy", None)]
    assert [one.side for one in plan.candidates] == [LEFT, None]


def test_aims_that_were_kept() -> None:
    accepted = [("two", "left"), ("two", "right")]
    plan = planned(only(), decided(accepted, [("firm", "left"), ("easy", None)]))
    assert [one.kept for one in plan.aims] == [True, True, True, False]
    assert named(plan) == [("easy", LEFT), ("firm", LEFT), ("easy", RIGHT), ("firm", RIGHT)]


def test_an_aim_that_no_hypothesis_opens_is_there_once_it_is_kept() -> None:
    plan = planned(only(feature("a", "skin")), decided(aims=[("skin", "left")]))
    (found,) = plan.aims
    assert (found.id, found.side, found.hypotheses, found.kept) == ("skin", LEFT, (), True)
    assert [one.id for one in found.candidates] == ["a"]
    both = planned(only(), decided(aims=[("skin", None), ("skin", "left")]))
    assert named(both) == [("skin", None)]
    assert named(planned(only(), decided(aims=[("unheard-of", "left")]))) == []


def test_aims_that_cannot_be_had_together_name_each_other() -> None:
    aims = (
        aim("more", "one", excludes=["less"]),
        aim("less", "one", excludes=["more"]),
        aim("rest", "one"),
    )
    made = plan_forms(aims)
    plan = planned(made, decided([("one", "left")]))
    assert [one.against for one in plan.aims] == [("less",), ("more",), ()]
    kept = planned(made, decided([("one", "left")], [("more", "left")]))
    assert [one.against for one in kept.aims] == [(), ("more",), ()]
    assert all(
        aim.against == ()
        for aim in planned(None, decided(aims=[("lower-pronation-moment", None)])).aims
    )
    opposed = [("lower-pronation-moment", "left"), ("lower-supination-moment", "left")]
    assert [one.against for one in planned(None, decided(aims=opposed)).aims] == [
        ("lower-supination-moment",),
        ("lower-pronation-moment",),
    ]


# --- held back


def danger(*holds: Hold) -> Catalogue:
    signs = [sign("a", branch("a", "fpi-talar-head >= 1"), holds=holds)]
    return only(feature("f", "easy"), cautions=signs)


HURT: Readings = {"fpi-talar-head": {"left": 2, "right": 0}}
WANTED = decided([("one", "left"), ("one", "right"), ("one", None)], [], [("f", "left", {})])


@pytest.mark.parametrize("held", [Hold.LOADING, Hold.DEVICE])
def test_a_caution_empties_its_side_and_says_why(held: Hold) -> None:
    found = judged(danger(held), WANTED, HURT)
    plan = found.reasons.plan
    assert plan.held == (LEFT, None)
    assert named(plan) == [("easy", RIGHT)]
    assert {one.side for one in plan.candidates} == {RIGHT}
    assert (plan.chosen, plan.rooms) == ((), ())
    assert [(one.id, one.side) for one in found.held_by] == [("a", LEFT)]


@pytest.mark.parametrize("word", ["acted", "excluded", "transferred"])
def test_a_decision_lifts_it(word: str) -> None:
    about = {"a": {"side": "left", "decision": word, "by": "A. Reed", "at": "2026-03-04T10:20:00Z"}}
    found = judged(danger(Hold.LOADING), {**WANTED, "cautions": about}, HURT)
    assert found.held_by == ()
    assert found.reasons.plan.held == ()
    assert named(found.reasons.plan) == [("easy", LEFT), ("easy", RIGHT), ("easy", None)]
    assert [one.id for one in found.reasons.plan.chosen] == ["f"]


@pytest.mark.parametrize("held", [Hold.PROVOCATION, Hold.IMPACT, Hold.PAIN_GUIDED])
def test_what_holds_something_else_back_leaves_the_plan(held: Hold) -> None:
    found = judged(danger(held), WANTED, HURT)
    assert (found.held_by, found.reasons.plan.held) == ((), ())


def test_what_is_held_back_is_told_also_where_nothing_was_decided() -> None:
    plan = planned(danger(Hold.LOADING), decided(), HURT)
    assert plan == Plan(held=(LEFT, None))


def test_a_yes_that_leads_nowhere_yet_holds_back_as_well() -> None:
    found = judged(only(feature("f", "easy")), WANTED, {"caution-cold-pale-foot": {"left": "yes"}})
    assert found.reasons.plan.held == (LEFT, None)
    assert [one.about for one in found.held_by] == ["caution-cold-pale-foot"]


# --- features in their order


def test_first_then_the_best_evidence_then_the_least_bulk() -> None:
    graded = [(claim("easy", Grade.E3), claim("easy", Grade.E1)), (claim("firm", Grade.E1),)]
    made = only(
        feature("big", "easy", bulk=4),
        feature("slim", "easy", bulk=1),
        feature("known-elsewhere", "easy", "firm", claims=graded[1]),
        feature("proven", "easy", claims=graded[0], bulk=5),
        feature("first", "easy", first=("easy",), bulk=5),
        feature("other", "firm"),
    )
    plan = planned(made, decided([("one", "left")]))
    assert ids(plan, "easy") == ["first", "proven", "known-elsewhere", "slim", "big"]


def test_claims_about_the_aim_the_best_first_then_general_and_harms_apart() -> None:
    claims = (
        claim(HARM, Grade.E1),
        claim(GENERAL, Grade.E1),
        claim("easy", Grade.E4),
        claim("firm", Grade.E1),
        claim("easy", Grade.E2),
    )
    made = only(feature("a", "easy", "firm", claims=claims))
    one = find(planned(made, decided([("two", "left")])), "a", of="easy")
    assert one.claims == (claims[4], claims[2], claims[1])
    assert one.harms == (claims[0],)


# --- chosen features


def test_a_chosen_feature_stands_for_an_aim_that_it_serves_a_kept_one_before_others() -> None:
    made = only(feature("a", "skin", "easy", "firm"), feature("b", "skin"))
    chosen = [("b", "left", {}), ("a", "left", {})]
    plan = planned(made, decided([("two", "left")], [], chosen))
    assert [(one.id, one.aim, one.chosen) for one in plan.chosen] == [
        ("a", "easy", True),
        ("b", "skin", True),  # serves no open aim: its first
    ]
    kept = planned(made, decided([("two", "left")], [("firm", "left")], chosen))
    assert taken(kept, "a").aim == "firm"
    assert [one.chosen for one in plan.candidates] == [True, True]
    assert not any(
        one.chosen for one in planned(made, decided([("two", "right")], [], chosen)).candidates
    )


def test_a_feature_chosen_without_a_side_stands_once_and_counts_on_both() -> None:
    made = only(feature("a", "easy", sizes=(size("height", 6, 0, 12),)))
    accepted = [("one", "left"), ("one", "right")]
    plan = planned(made, decided(accepted, [], [("a", None, {"height": "9"})]))
    assert [(one.id, one.side, one.aim) for one in plan.chosen] == [("a", None, "easy")]
    assert all(one.chosen and one.dimensions[0].value == 9 for one in plan.candidates)
    assert [(room.side, room.heel.stack_mm) for room in plan.rooms] == [(LEFT, 9), (RIGHT, 9)]
    own = decided(accepted, [], [("a", None, {"height": "9"}), ("a", "left", {"height": "4"})])
    assert [room.heel.stack_mm for room in planned(made, own).rooms] == [4, 9]


def test_features_that_left_the_forms_are_passed_over() -> None:
    plan = planned(only(feature("a", "easy")), decided([], [], [("gone", "left", {})]))
    assert (plan.chosen, plan.rooms) == ((), ())


# --- reasons against


def test_reasons_that_hold_and_those_that_are_told() -> None:
    holding, not_so, told = avoid("fpi-talar-head >= 1"), avoid("fpi-talar-head < 0"), avoid()
    made = only(feature("a", "easy", avoids=(holding, not_so, told)))
    accepted = decided([("one", "left"), ("one", "right")])
    plan = planned(made, accepted, HURT)
    assert (find(plan, "a").avoid, find(plan, "a").cautions) == ((holding,), (told,))
    assert find(plan, "a", RIGHT).avoid == ()
    # what is not known does not hold
    assert find(planned(made, accepted), "a").avoid == ()


@pytest.mark.parametrize("severity", list(Severity))
def test_a_block_blocks(severity: Severity) -> None:
    reason = avoid("fpi-talar-head >= 1", severity)
    plan = planned(only(feature("a", "easy", avoids=(reason,))), decided([("one", "left")]), HURT)
    assert find(plan, "a").is_blocked is (severity is Severity.BLOCK)


def test_a_block_gives_way_to_the_warning_of_a_kept_aim() -> None:
    reason = avoid("fpi-talar-head >= 1", Severity.BLOCK, "skin")
    made = only(
        feature("edge", "easy", avoids=(reason,)), conflicts=[conflict("edge", aims=["skin"])]
    )
    accepted = [("one", "left")]
    blocked = find(planned(made, decided(accepted), HURT), "edge")
    assert (blocked.avoid, blocked.clashes, blocked.is_blocked) == ((reason,), (), True)
    kept = find(planned(made, decided(accepted, [("skin", "left")]), HURT), "edge")
    assert (kept.avoid, kept.cautions, kept.is_blocked) == ((), (reason,), False)
    assert [(one.other, one.severity) for one in kept.clashes] == [("skin", Severity.WARN)]
    for elsewhere in ([("skin", "right")], [("easy", "left")]):
        other = find(planned(made, decided(accepted, elsewhere), HURT), "edge")
        assert (other.avoid, other.is_blocked) == ((reason,), True)


NUMB: Readings = {"monofilament-hallux": {"left": 0}}


@pytest.mark.parametrize("name", ["heel-aperture", "medial-flange", "lateral-flange"])
def test_an_edge_on_skin_without_feeling(name: str) -> None:
    """A9 rule 7: blocked, unless the way of skin without feeling was chosen."""
    chosen = [(name, "left", {})]
    blocked = taken(planned(None, decided([], [], chosen), NUMB), name)
    assert blocked.is_blocked
    kept = taken(
        planned(None, decided([], [("protect-insensate-skin", "left")], chosen), NUMB), name
    )
    assert not kept.is_blocked
    (clash,) = (one for one in kept.clashes if one.other == "protect-insensate-skin")
    assert clash.severity is Severity.WARN
    assert "Bevel it" in clash.why
    assert not taken(planned(None, decided([], [], chosen)), name).avoid


# --- clashes


def clashes(plan: Plan, name: str, side: Any = LEFT) -> list[str]:
    return [one.other for one in find(plan, name, side).clashes]


PAIR = (feature("a", "easy"), feature("b", "easy"), feature("c", "firm"))


def test_two_features_clash_where_both_may_be_chosen_or_both_were() -> None:
    made = only(*PAIR, conflicts=[conflict("a", "b", severity=Severity.BLOCK), conflict("a", "c")])
    open_ = planned(made, decided([("one", "left")]))
    assert (clashes(open_, "a"), clashes(open_, "b")) == (["b"], ["a"])  # c serves no open aim
    assert find(open_, "a").is_blocked
    both = planned(made, decided([("two", "left")], [], [("a", "left", {}), ("c", "left", {})]))
    assert (clashes(both, "a"), clashes(both, "b"), clashes(both, "c")) == (["c"], ["a"], ["a"])
    apart = planned(
        made,
        decided([("two", "left"), ("two", "right")], [], [("a", "left", {}), ("c", "right", {})]),
    )
    assert clashes(apart, "a") == []
    assert clashes(apart, "c", RIGHT) == []
    assert clashes(apart, "c") == ["a"]  # it would, were it taken as well


def test_three_that_are_too_much_together() -> None:
    made = only(*PAIR, conflicts=[conflict("a", "b", "c")])
    two = planned(made, decided([("two", "left")], [], [("a", "left", {}), ("b", "left", {})]))
    assert (clashes(two, "a"), clashes(two, "c")) == ([], ["a", "b"])


def test_a_chosen_feature_that_serves_no_open_aim_names_its_clashes_too() -> None:
    made = only(*PAIR, conflicts=[conflict("a", "c")])
    chosen = [("a", "left", {}), ("c", "left", {})]
    plan = planned(made, decided([], [], chosen))
    assert [[clash.other for clash in one.clashes] for one in plan.chosen] == [["c"], ["a"]]


def test_a_clash_says_why() -> None:
    one = conflict("a", "b", severity=Severity.BLOCK)
    (clash,) = find(planned(only(*PAIR, conflicts=[one]), decided([("one", "left")])), "a").clashes
    assert (clash.other, clash.severity, clash.why, clash.conflict) == (
        "b",
        Severity.BLOCK,
        "Of a-b.",
        one,
    )


def test_a_feature_against_wanted_aims() -> None:
    made = only(*PAIR, conflicts=[conflict("a", aims=["firm", "skin"])])
    assert clashes(planned(made, decided([("one", "left")])), "a") == []
    assert clashes(planned(made, decided([("two", "left")])), "a") == ["firm"]
    # once something is kept, only that is wanted
    kept = [("skin", "left"), ("easy", "left")]
    assert clashes(planned(made, decided([("two", "left")], kept)), "a") == ["skin"]
    assert clashes(planned(made, decided([("two", "left")], [("easy", "left")])), "a") == []


def test_a_conflict_that_the_record_decides() -> None:
    made = only(*PAIR, conflicts=[conflict("a", "b", when="fpi-talar-head >= 1")])
    accepted = decided([("one", "left"), ("one", "right")])
    plan = planned(made, accepted, HURT)
    assert (clashes(plan, "a"), clashes(plan, "a", RIGHT)) == (["b"], [])
    assert clashes(planned(made, accepted), "a") == []


def test_a_conflict_up_to_a_dimension_of_either_feature() -> None:
    made = only(
        feature("shell", "easy"),
        feature("fill", "easy", sizes=(size("height", 2, 0, 9), size("width", 9, 0, 9))),
        conflicts=[conflict("shell", "fill", limits=(limit("fill", "height", 1),))],
    )
    for typed, expected in (("0", True), ("1 mm", True), ("1.5", False), ("9", False)):
        chosen = [("shell", "left", {}), ("fill", "left", {"height": typed})]
        plan = planned(made, decided([("one", "left")], [], chosen))
        assert clashes(plan, "fill") == (["shell"] if expected else [])
        assert clashes(plan, "shell") == (["fill"] if expected else [])
    usual = planned(made, decided([("one", "left")]))  # 2 mm
    assert clashes(usual, "shell") == []


def test_on_one_side_alone() -> None:
    made = only(*PAIR, conflicts=[conflict("a", one_sided=True)])
    accepted = [("one", "left"), ("one", "right"), ("one", None)]

    def of(*chosen: str | None) -> list[list[str]]:
        plan = planned(made, decided(accepted, [], [("a", side, {}) for side in chosen]))
        return [clashes(plan, "a", side) for side in (LEFT, RIGHT, None)]

    assert of() == [[], [], []]
    assert of("left") == [["a"], [], []]
    assert of("right") == [[], ["a"], []]
    assert of("left", "right") == [[], [], []]
    assert of(None) == [[], [], []]
    assert of(None, "left") == [[], [], []]


def test_a_lift_on_one_side_asks_for_the_other() -> None:
    plan = planned(None, decided([], [], [("heel-lift", "left", {})]))
    (clash,) = taken(plan, "heel-lift").clashes
    assert (clash.other, clash.severity) == ("heel-lift", Severity.WARN)
    assert "plan the other side" in clash.why


# --- the shoe


SHOE: Readings = {"shoe-heel-depth": 60, "shoe-insole-thickness": 4, "shoe-forefoot-depth": 28}
STACK = [
    ("shell-thickness", "left", {"thickness": "4 mm"}),
    ("cover-material", "left", {"thickness": "3 mm"}),
    ("rearfoot-post-medial", "left", {"height": "4 mm"}),
    ("heel-lift", "left", {"height": "6 mm"}),
]


@pytest.mark.common_practice
def test_the_heel_in_the_shoe() -> None:
    """D9 of the notes: 17 mm in a counter of 60 mm leave 47 mm."""
    (room,) = planned(None, decided([], [], STACK), SHOE).rooms
    assert room.side is LEFT
    assert (room.heel.stack_mm, room.heel.left_mm, room.heel.fits) == (17, 47, True)
    assert room.forefoot.stack_mm == 7


def test_a_lift_higher_than_the_counter_allows() -> None:
    chosen = [*STACK[:3], ("heel-lift", "left", {"height": "12 mm"})]
    plan = planned(None, decided([], [], chosen), SHOE)
    (room,) = plan.rooms
    assert (room.heel.fits, room.heel.over_mm) == (False, 4)
    assert taken(plan, "heel-lift").dimensions[0].value == 12
    beyond = planned(None, decided([], [], [("heel-lift", "left", {"height": "90"})]), SHOE)
    assert beyond.rooms[0].heel.fits is False
    assert "lies outside what it can have" in taken(beyond, "heel-lift").dimensions[0].remark


@pytest.mark.parametrize("name", list(SHOE)[:2])
def test_a_shoe_that_was_not_measured(name: str) -> None:
    some = {key: value for key, value in SHOE.items() if key != name}
    (room,) = planned(None, decided([], [], STACK), some).rooms
    assert (room.heel.fits, room.heel.stack_mm, room.heel.missing) == (None, 17, (name,))
    (bare,) = planned(None, decided([], [], STACK)).rooms
    assert bare.heel.missing == ("shoe-heel-depth", "shoe-insole-thickness")
    assert set(bare.forefoot.missing) > {"shoe-forefoot-depth", "shoe-insole-thickness"}


def test_a_negative_thickness_gives_no_room_and_the_rest_of_the_plan_stands() -> None:
    chosen = [("heel-lift", "left", {"height": "-3 mm"}), ("heel-lift", "right", {"height": "4"})]
    plan = planned(None, decided([("limited-df-calf-achilles-load", "left")], [], chosen), SHOE)
    assert [room.side for room in plan.rooms] == [RIGHT]
    lift = taken(plan, "heel-lift")
    assert lift.dimensions[0].value == -3
    assert "lies outside what it can have: 3 to 12 mm" in lift.dimensions[0].remark
    assert named(plan) == [("offset-ankle-dorsiflexion-deficit", LEFT)]


def test_the_zones_of_a_shoe() -> None:
    parts = (size("height", 5, 0, 9), size("depth", 7, 0, 9), size("thickness", 1, 0, 9, unit="%"))
    made = only(
        *(feature(f"at-{zone}", "easy", zone=zone, sizes=parts) for zone in Zone),
    )
    chosen = [(f"at-{zone}", "left", {}) for zone in Zone]
    (room,) = planned(made, decided([], [], chosen)).rooms
    assert (room.heel.stack_mm, room.forefoot.stack_mm) == (10, 10)  # its own and that of the whole


def test_without_the_figures_of_a_shoe_there_is_no_room() -> None:
    made = only(feature("a", "easy"))
    bare = replace(made, figures={})
    chosen = decided([], [], [("a", "left", {})])
    assert planned(made, chosen).rooms
    assert planned(bare, chosen).rooms == ()
    assert planned(bare, chosen).chosen


# --- custom, prefabricated or none


def test_arguments_about_the_device() -> None:
    arguments = [
        argument("always"),
        argument("by-record", when="fpi-talar-head >= 1"),
        argument("by-feature", features=("a", "z")),
        argument("by-aim", aims=("firm", "skin")),
        argument("by-all", when="fpi-talar-head >= 1", features=("a",), aims=("easy",)),
    ]
    made = only(*PAIR, arguments=arguments)

    def hold(decisions: dict[str, Any], readings: Readings | None = None) -> list[str]:
        return [one.id for one in planned(made, decisions, readings).device]

    assert hold(decided()) == []
    assert hold(decided([("unheard-of", "left")]), HURT) == []
    assert hold(decided([("one", "left")])) == ["always"]
    assert hold(decided([("one", "left")]), HURT) == ["always", "by-record"]
    assert hold(decided([("two", "right")])) == ["always", "by-aim"]
    assert hold(decided([("two", "right")], [("easy", "right")])) == ["always"]
    assert hold(decided([], [], [("a", "left", {})])) == ["always", "by-feature"]
    chosen = decided([("one", "left")], [], [("a", "left", {})])
    assert hold(chosen, HURT) == ["always", "by-record", "by-feature", "by-all"]


def test_a_device_is_argued_from_the_record_as_shipped() -> None:
    accepted = decided([("pronated-posture-plantar-fascia-tension", "left")])
    heel: Readings = {"complaint-site": {"left": ["heel-plantar-medial"]}}
    told = {one.id for one in planned(None, accepted, heel).device}
    assert "heel-pain-no-difference" in told
    assert "insensate-or-ulcer" not in told
    assert "insensate-or-ulcer" in {
        one.id for one in planned(None, accepted, {**heel, **NUMB}).device
    }


# --- before a boot


def test_what_must_be_recorded_before_a_boot() -> None:
    (check,) = forms().checks.values()
    boot = decided([], [], [("walking-boot", "left", {})])
    (unmet,) = planned(None, boot).unmet
    assert (unmet.check, unmet.missing) == (check, check.asks)
    pulses: Readings = {
        "pulse-dorsalis-pedis": {"left": "present"},
        "pulse-posterior-tibial": {"right": "present"},
        "body-mass": 70,
    }
    (fewer,) = planned(None, boot, pulses).unmet
    assert set(check.asks) - set(fewer.missing) == {"pulse-dorsalis-pedis", "body-mass"}
    assert planned(None, decided([], [], [("heel-lift", "left", {})])).unmet == ()
    both = decided([], [], [("walking-boot", None, {})])
    (more,) = planned(None, both, pulses).unmet
    assert set(check.asks) - set(more.missing) == {"body-mass"}


@pytest.mark.parametrize(
    ("sex", "asked"), [("male", False), ("female", True), ("other", True), ("unknown", True)]
)
def test_before_a_boot_a_man_is_not_asked_about_a_pregnancy(sex: str, asked: bool) -> None:
    (check,) = forms().checks.values()
    boot = decided([], [], [("walking-boot", "left", {})])
    (unmet,) = assessed({}, forms(), sex=sex, decisions=boot).reasons.plan.unmet
    left_out = set(check.asks) - set(unmet.missing)
    assert left_out == (set() if asked else {"pregnant-or-recent-birth"})


def test_a_check_that_is_met_is_not_told() -> None:
    (check,) = forms().checks.values()
    made = replace(forms(), checks={check.id: replace(check, asks=("body-mass",))})
    boot = decided([], [], [("walking-boot", "left", {})])
    assert planned(made, boot, {"body-mass": 70}).unmet == ()
    assert planned(made, boot).unmet[0].missing == ("body-mass",)


# --- suggested


def leading(*points: float, **more: Any) -> Catalogue:
    names = [f"h{place}" for place in range(len(points))]
    many = [hypothesis(name, [row(ONSET, at)]) for name, at in zip(names, points, strict=True)]
    aims = [aim(f"of-{name}", name) for name in names]
    features = [feature(f"for-{name}", f"of-{name}") for name in names]
    return plan_forms(aims, features, hypotheses=many, **more)


SUDDEN: Readings = {"onset": "sudden"}


def test_the_three_leading_hypotheses_are_suggested_for() -> None:
    found = judged(leading(1, 5, 2, 4, 3), decided(), SUDDEN, suggest=True)
    plan = found.reasons.plan
    first = [(one.id, one.side) for one in found.reasons.arguments][:3]
    assert len(first) == 3
    assert first[0][0] == "h1"
    assert sorted((one.hypotheses[0], str(one.side)) for one in plan.aims) == sorted(
        (name, str(side)) for name, side in first
    )
    assert all(one.suggested and not one.kept for one in plan.aims)
    assert all(one.suggested for one in plan.candidates)


def test_less_than_a_point_is_not_suggested_for() -> None:
    assert planned(leading(0.4), decided(), SUDDEN, suggest=True).aims == ()
    assert planned(leading(1), decided(), SUDDEN, suggest=True).aims


def test_what_is_felt_elsewhere_is_not_suggested_for() -> None:
    heel = condition("heel", ["heel-plantar"])
    many = [hypothesis("h", [row(ONSET, 3)], conditions=["heel"])]
    made = plan_forms([aim("easy", "h")], hypotheses=many, conditions=[heel])
    for site, expected in (("heel-plantar-medial", True), ("hallux", False)):
        readings = {**SUDDEN, "complaint-site": {"left": [site]}}
        assert bool(planned(made, decided(), readings, suggest=True).aims) is expected


def test_a_suggestion_stands_in_place_of_what_was_accepted() -> None:
    made = leading(3, 2)
    accepted = decided([("h1", "left")])
    plain = planned(made, accepted, SUDDEN)
    assert named(plain) == [("of-h1", LEFT)]
    assert not plain.aims[0].suggested
    assert {one.id for one in planned(made, accepted, SUDDEN, suggest=True).aims} == {
        "of-h0",
        "of-h1",
    }


def test_a_suggestion_is_held_back_as_well() -> None:
    signs = [sign("a", branch("a", "fpi-talar-head >= 1"), holds=(Hold.LOADING,))]
    readings = {**SUDDEN, "fpi-talar-head": {"both": 2}}
    plan = planned(leading(3, cautions=signs), decided(), readings, suggest=True)
    assert (plan.aims, plan.held) == ((), (LEFT, RIGHT, None))
