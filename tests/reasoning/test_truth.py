"""Expressions over one side: true, false or unknown, and how surely a true one is true."""

from collections.abc import Callable
from itertools import product
from math import inf

import pytest

from footexam.catalogue.expression import BadExpression
from footexam.reasoning.truth import Rule, compile_rule
from footexam.reasoning.view import View
from footexam.scoring.measured import Measured
from footexam.scoring.normal import area_below
from footexam.terms import Side
from tests.reasoning.making import LEFT, RIGHT, Readings, examination, forms, seen

YES, NO, UNKNOWN = True, False, None
GROUPS = {"heel": frozenset({"heel-plantar", "heel-plantar-medial"})}


def rule(text: str, errors: Callable[[Measured], float | None] = lambda _: None) -> Rule:
    return compile_rule(text, GROUPS, errors)


def view(readings: Readings, side: Side | None = RIGHT, **who: object) -> View:
    return View(seen(examination(readings, **who)), side)  # type: ignore[arg-type]


def truth(text: str, readings: Readings, side: Side | None = RIGHT, **who: object) -> bool | None:
    return rule(text).holds(view(readings, side, **who))


# --- three values

ANSWER = {YES: "yes", NO: "no"}
NAMES = ("diabetes", "osteoporosis", "known-gout")


def answers(*given: bool | None) -> Readings:
    return {name: ANSWER[one] for name, one in zip(NAMES, given, strict=True) if one is not None}


def kleene_and(*given: bool | None) -> bool | None:
    return NO if NO in given else UNKNOWN if UNKNOWN in given else YES


def kleene_or(*given: bool | None) -> bool | None:
    return YES if YES in given else UNKNOWN if UNKNOWN in given else NO


@pytest.mark.parametrize("given", list(product((YES, NO, UNKNOWN), repeat=3)))
def test_the_tables_of_and_and_or(given: tuple[bool | None, ...]) -> None:
    readings = answers(*given)
    a, b, c = (f'{name} == "yes"' for name in NAMES)
    assert truth(f"{a} and {b} and {c}", readings) is kleene_and(*given)
    assert truth(f"{a} or {b} or {c}", readings) is kleene_or(*given)
    one, two, three = given
    assert truth(f"{a} or {b} and {c}", readings) is kleene_or(one, kleene_and(two, three))
    assert truth(f"({a} or {b}) and {c}", readings) is kleene_and(kleene_or(one, two), three)


def test_a_condition_that_cannot_be_read_is_no_rule() -> None:
    with pytest.raises(BadExpression):
        rule("bend <")


# --- words

WORDS = [
    ('onset == "sudden"', {"onset": "sudden"}, YES),
    ('onset == "sudden"', {"onset": "gradual"}, NO),
    ('onset == "sudden"', {}, UNKNOWN),
    ('onset != "sudden"', {"onset": "gradual"}, YES),
    ('onset != "sudden"', {"onset": "sudden"}, NO),
    # what is not recorded is not "something else"
    ('onset != "sudden"', {}, UNKNOWN),
    ('onset in ("sudden", "recurrent")', {"onset": "recurrent"}, YES),
    ('onset in ("sudden", "recurrent")', {"onset": "gradual"}, NO),
    ('onset in ("sudden", "recurrent")', {}, UNKNOWN),
    ('has(activity-kind, "running")', {"activity-kind": ["walking", "running"]}, YES),
    ('has(activity-kind, "dance", "running")', {"activity-kind": ["running"]}, YES),
    ('has(activity-kind, "running")', {"activity-kind": ["walking"]}, NO),
    ('has(activity-kind, "running")', {"activity-kind": ["none"]}, NO),
    ('has(activity-kind, "running")', {}, UNKNOWN),
    # a word worked out: of a side, and without one
    ('ankle-pattern == "gastrocnemius"',
     {"ankle-dorsiflexion-knee-straight": {"right": 0},
      "ankle-dorsiflexion-knee-bent": {"right": 14}}, YES),
    ('ankle-pattern != "gastrocnemius"',
     {"ankle-dorsiflexion-knee-straight": {"left": 0},
      "ankle-dorsiflexion-knee-bent": {"left": 14}}, UNKNOWN),
    ('complaint-sides == "right"', {"complaint-site": {"right": ["navicular"]}}, YES),
    ('complaint-sides == "both"', {"complaint-site": {"right": ["navicular"]}}, NO),
    # an absence is no answer
    ('first-ray-position == "level"',
     {"first-ray-position": {"right": {"absent": "declined"}}}, UNKNOWN),
    ('first-ray-position != "level"',
     {"first-ray-position": {"right": {"absent": "not-examined"}}}, UNKNOWN),
]  # fmt: skip


@pytest.mark.parametrize(("text", "readings", "expected"), WORDS)
def test_words(text: str, readings: Readings, expected: bool | None) -> None:
    assert truth(text, readings) is expected


def test_a_side_sees_itself_and_what_has_no_side() -> None:
    ray = {"first-ray-position": {"left": "level"}, "onset": "sudden"}
    assert truth('first-ray-position == "level"', ray, LEFT) is YES
    assert truth('first-ray-position == "level"', ray, RIGHT) is UNKNOWN
    assert truth('first-ray-position == "level"', ray, None) is UNKNOWN
    for side in (LEFT, RIGHT, None):
        assert truth('onset == "sudden"', ray, side) is YES


def test_an_answer_without_a_side_counts_for_both() -> None:
    asked = 'caution-focal-bone-tenderness == "yes"'
    bare = {"caution-focal-bone-tenderness": "yes"}
    assert [truth(asked, bare, side) for side in (LEFT, RIGHT, None)] == [YES, YES, YES]
    left = {"caution-focal-bone-tenderness": {"left": "yes", "right": "no"}}
    assert [truth(asked, left, side) for side in (LEFT, RIGHT, None)] == [YES, NO, UNKNOWN]


# --- numbers

NUMBERS = [
    ("hallux-dorsiflexion < 65", 40, YES),
    ("hallux-dorsiflexion < 65", 65, NO),
    ("hallux-dorsiflexion <= 65", 65, YES),
    ("hallux-dorsiflexion <= 65", "65,1", NO),
    ("hallux-dorsiflexion > 65", 66, YES),
    ("hallux-dorsiflexion > 65", 65, NO),
    ("hallux-dorsiflexion >= 65", 65, YES),
    ("hallux-dorsiflexion >= 65", 64, NO),
    ("hallux-dorsiflexion == 65", 65, YES),
    ("hallux-dorsiflexion == 65", 64, NO),
    ("hallux-dorsiflexion != 65", 64, YES),
    ("hallux-dorsiflexion != 65", 65, NO),
    # the mean of repeats counts
    ("hallux-dorsiflexion < 65", [60, 72], NO),
    ("hallux-dorsiflexion < 65", [60, 69], YES),
]


@pytest.mark.parametrize(("text", "value", "expected"), NUMBERS)
def test_a_number_against_a_limit(text: str, value: object, expected: bool | None) -> None:
    assert truth(text, {"hallux-dorsiflexion": {"right": value}}) is expected
    assert truth(text, {"hallux-dorsiflexion": {"left": value}}) is UNKNOWN
    assert truth(text, {"hallux-dorsiflexion": {"right": {"absent": "declined"}}}) is UNKNOWN


def test_a_score_that_is_worked_out_is_a_number_as_well() -> None:
    items = ("talar-head", "malleolar-curves", "calcaneal-position")
    others = ("talonavicular-bulge", "medial-arch", "forefoot-abduction")
    high = {f"fpi-{item}": {"right": 2} for item in (*items, *others)}
    assert truth("fpi-total >= 6", high) is YES
    assert truth("fpi-total <= 3", high) is NO
    assert truth("fpi-total >= 6", {f"fpi-{item}": {"right": 2} for item in items}) is UNKNOWN


def test_two_numbers_of_one_unit() -> None:
    text = "shoe-forefoot-width < foot-breadth"
    width, breadth = {"shoe-forefoot-width": {"right": 90}}, {"foot-breadth": {"right": 100}}
    assert truth(text, {**width, **breadth}) is YES
    assert truth(text, {**width, "foot-breadth": {"right": 85}}) is NO
    assert truth(text, width) is UNKNOWN
    assert truth(text, breadth) is UNKNOWN


SIDES = [
    ("side_difference(lunge-distance) > 3", 5, 9, YES),
    ("side_difference(lunge-distance) > 3", 9, 5, YES),
    ("side_difference(lunge-distance) > 4", 9, 5, NO),
    ("side_percent(heel-raise-count) >= 50", 10, 20, YES),
    ("side_percent(heel-raise-count) >= 51", 10, 20, NO),
    ("side_percent(heel-raise-count) == 0", 0, 0, YES),
    ("side_percent(ankle-dorsiflexion-knee-straight) == 200", -10, 10, YES),
]


@pytest.mark.parametrize(("text", "left", "right", "expected"), SIDES)
def test_between_the_sides(text: str, left: object, right: object, expected: bool) -> None:
    measure = text.partition("(")[2].partition(")")[0]
    for side in (LEFT, RIGHT, None):
        assert truth(text, {measure: {"left": left, "right": right}}, side) is expected
        assert truth(text, {measure: {"left": left}}, side) is UNKNOWN
        assert truth(text, {measure: {"right": right}}, side) is UNKNOWN


def test_age_and_sex() -> None:
    assert truth("age >= 18", {}, age=18) is YES
    assert truth("age < 18", {}, age=18) is NO
    assert truth("age < 18", {}, age=None) is UNKNOWN
    assert truth('sex == "female"', {}, sex="female") is YES
    assert truth('sex == "female"', {}, sex="male") is NO
    assert truth('sex == "female"', {}, sex="other") is NO
    assert truth('sex != "male"', {}, sex="female") is YES
    assert truth('sex == "female"', {}, sex="unknown") is UNKNOWN
    assert truth('sex != "male"', {}, sex="unknown") is UNKNOWN


@pytest.mark.parametrize(
    ("born", "grown", "child"),
    [
        ("1990", YES, NO),
        ("2009", NO, YES),
        # on 4 March 2026 somebody born in 2008 may be 17 or 18
        ("2008", UNKNOWN, UNKNOWN),
        ("2008-02", YES, NO),
        ("2008-03", UNKNOWN, UNKNOWN),
        ("2008-04", NO, YES),
        ("2008-03-04", YES, NO),
        ("2008-03-05", NO, YES),
        # born in a year that is not over yet
        ("2026", NO, YES),
    ],
)
def test_a_birth_year_alone_tells_what_it_can(
    born: str, grown: bool | None, child: bool | None
) -> None:
    assert truth("age >= 18", {}, born=born) is grown
    assert truth("age < 18", {}, born=born) is child


# --- the usual range

RANGED = [
    # heel raises of a woman of 40: usual from 6.144 on
    ("low", 3, YES),
    ("low", 25, NO),
    ("ok", 25, YES),
    ("ok", 3, NO),
    ("high", 3, NO),
    ("high", 25, NO),
]


@pytest.mark.parametrize(("where", "value", "expected"), RANGED)
def test_the_usual_range(where: str, value: int, expected: bool) -> None:
    text = f"{where}(heel-raise-count)"
    assert truth(text, {"heel-raise-count": {"right": value}}) is expected
    assert truth(text, {"heel-raise-count": {"left": value}}) is UNKNOWN


def test_above_the_usual_range() -> None:
    long = {"lunge-distance": {"right": 20}}
    assert truth("high(lunge-distance)", long) is YES
    assert truth("low(lunge-distance)", long) is NO
    assert truth("ok(lunge-distance)", long) is NO


def test_what_is_not_judged_is_neither_low_nor_usual() -> None:
    # no norm set judges this range by itself
    reading = {"hallux-dorsiflexion": {"right": 40}}
    for where in ("low", "ok", "high"):
        assert truth(f"{where}(hallux-dorsiflexion)", reading) is UNKNOWN
    # a word outside the usual carries no label
    assert truth("low(heel-rise-timing)", {"heel-rise-timing": {"right": "early"}}) is UNKNOWN


# --- places

MAP = [
    ('region(tenderness, "navicular")', {"navicular": 4}, YES),
    ('region(tenderness, "navicular")', {"navicular": 0}, NO),
    # looked at elsewhere only: whether it is tender there is not known
    ('region(tenderness, "navicular")', {"cuboid": 0}, UNKNOWN),
    ('region(tenderness, "navicular")', {"cuboid": 5}, UNKNOWN),
    ('region(tenderness, "navicular", "cuboid")', {"cuboid": 5}, YES),
    ('region(tenderness, "navicular", "cuboid")', {"cuboid": 0}, UNKNOWN),
    ('region(tenderness, "navicular", "cuboid")', {"cuboid": 0, "navicular": 0}, NO),
    ('clear(tenderness, "navicular")', {"navicular": 0}, YES),
    ('clear(tenderness, "navicular")', {"navicular": 1}, NO),
    ('clear(tenderness, "navicular")', {"cuboid": 0}, UNKNOWN),
    ('clear(tenderness, "navicular", "cuboid")', {"navicular": 0}, UNKNOWN),
    ('clear(tenderness, "navicular", "cuboid")', {"navicular": 0, "cuboid": 0}, YES),
    ('clear(tenderness, "navicular", "cuboid")', {"navicular": 0, "cuboid": 2}, NO),
    # a group of places
    ('region(tenderness, "heel")', {"heel-plantar-medial": 5}, YES),
    ('region(tenderness, "heel")', {"heel-plantar-medial": 0}, UNKNOWN),
    ('region(tenderness, "heel")', {"heel-plantar-medial": 0, "heel-plantar": 0}, NO),
    ('clear(tenderness, "heel")', {"heel-plantar-medial": 0, "heel-plantar": 0}, YES),
]


@pytest.mark.parametrize(("text", "values", "expected"), MAP)
def test_a_map_with_a_number_for_each_place_looked_at(
    text: str, values: dict[str, int], expected: bool | None
) -> None:
    assert truth(text, {"tenderness": {"right": values}}) is expected
    assert truth(text, {"tenderness": {"left": values}}) is UNKNOWN


def test_a_map_that_is_marked_as_a_whole() -> None:
    marked = {"complaint-site": {"right": ["navicular"]}}
    assert truth('region(complaint-site, "navicular")', marked) is YES
    assert truth('region(complaint-site, "heel")', marked) is NO
    assert truth('clear(complaint-site, "heel")', marked) is YES
    assert truth('clear(complaint-site, "navicular")', marked) is NO
    assert truth('region(complaint-site, "navicular")', {}) is UNKNOWN
    assert truth('clear(complaint-site, "navicular")', {}) is UNKNOWN


BONE = "caution-focal-bone-tenderness"
SITES = [
    # the answer; navicular marked; navicular clear; cuboid marked
    ({"answer": "yes", "sites": ["navicular"]}, YES, NO, NO),
    ({"answer": "yes", "sites": ["cuboid"]}, NO, YES, YES),
    # yes without its site: any of them may be meant
    ("yes", YES, NO, YES),
    ("no", NO, YES, NO),
]


@pytest.mark.parametrize(("answer", "marked", "clear", "elsewhere"), SITES)
def test_a_yes_with_and_without_its_site(
    answer: object, marked: bool, clear: bool, elsewhere: bool
) -> None:
    readings = {BONE: {"right": answer}}
    assert truth(f'region({BONE}, "navicular")', readings) is marked
    assert truth(f'clear({BONE}, "navicular")', readings) is clear
    assert truth(f'region({BONE}, "cuboid")', readings) is elsewhere


def test_a_measure_without_places_has_none() -> None:
    assert view({"onset": "sudden"}).marks("onset") is None


# --- struck measures

ATOMS = [
    'first-ray-position == "level"',
    "hallux-dorsiflexion < 65",
    "side_difference(hallux-dorsiflexion) > 1",
    "low(heel-raise-count)",
    'region(tenderness, "navicular")',
    'ankle-pattern == "gastrocnemius"',
]


@pytest.mark.parametrize("text", ATOMS)
def test_a_struck_measure_is_as_if_it_were_not_recorded(text: str) -> None:
    both = {"left": 20, "right": 40}
    shown = view(
        {
            "first-ray-position": {"right": "level"},
            "hallux-dorsiflexion": both,
            "heel-raise-count": {"right": 2},
            "tenderness": {"right": {"navicular": 3}},
            "ankle-dorsiflexion-knee-straight": {"right": 0},
            "ankle-dorsiflexion-knee-bent": {"right": 14},
        }
    )
    asked = rule(text)
    assert asked.holds(shown) is YES
    struck = shown.without(frozenset(asked.measures))
    assert asked.holds(struck) is UNKNOWN
    assert not struck.is_recorded(asked.measures[0])
    # the readings themselves are untouched, and come back
    assert asked.holds(struck.without(frozenset())) is YES
    assert struck.without(frozenset(asked.measures)) is struck


# --- how sure


def test_words_and_places_are_certain() -> None:
    readings = {
        "onset": "sudden",
        "tenderness": {"right": {"navicular": 3}},
        "lunge-distance": {"left": 3, "right": 12},
    }
    for text in (
        'onset == "sudden"',
        "age > 8",
        'sex == "female"',
        'region(tenderness, "navicular")',
        "side_difference(lunge-distance) > 3",
    ):
        asked, shown = rule(text), view(readings)
        assert asked.holds(shown) is YES
        assert asked.odds(shown) == inf


def test_a_number_without_a_known_error_is_taken_as_it_is() -> None:
    shown = view({"hallux-dorsiflexion": {"right": 40}})
    assert rule("hallux-dorsiflexion < 65").odds(shown) == inf
    assert rule("hallux-dorsiflexion < 65", lambda _: 0.0).odds(shown) == inf


@pytest.mark.parametrize(("value", "limit", "sem"), [(60, 65, 5.0), (64, 65, 5.0), (65, 65, 5.0)])
def test_a_number_near_its_limit_is_less_sure(value: int, limit: int, sem: float) -> None:
    shown = view({"hallux-dorsiflexion": {"right": value}})
    chance = area_below((limit - value) / sem)
    odds = rule(f"hallux-dorsiflexion <= {limit}", lambda _: sem).odds(shown)
    assert odds == pytest.approx(chance / (1 - chance))


def test_how_sure_a_number_is_that_is_not_there() -> None:
    assert rule("hallux-dorsiflexion <= 65", lambda _: 5.0).odds(view({})) == inf
    assert rule("low(lunge-distance)").odds(view({})) == inf


def test_a_range_is_as_sure_as_its_finding_over_its_prior() -> None:
    shown = view({"heel-raise-count": {"right": 3}})
    finding = shown.finding("heel-raise-count")
    assert finding is not None
    chance, prior = finding.probability, finding.prior
    assert chance is not None
    assert prior is not None
    expected = chance / (1 - chance) / (prior / (1 - prior))
    assert rule("low(heel-raise-count)").odds(shown) == pytest.approx(expected)
    # at a prior of 2 % the reading says far more than its bare chance
    assert expected > chance / (1 - chance)


def test_inside_the_range_is_as_sure_as_the_rest() -> None:
    shown = view({"heel-raise-count": {"right": 8}})
    finding = shown.finding("heel-raise-count")
    assert finding is not None
    chance, prior = finding.probability, finding.prior
    assert chance is not None
    assert prior is not None
    expected = (1 - chance) / chance / ((1 - prior) / prior)
    assert rule("ok(heel-raise-count)").odds(shown) == pytest.approx(expected)


FPI = {
    f"fpi-{item}": {"right": 1}
    for item in (
        *("talar-head", "malleolar-curves", "calcaneal-position"),
        *("talonavicular-bulge", "medial-arch", "forefoot-abduction"),
    )
}


def test_without_a_norm_the_error_alone_tells_how_sure() -> None:
    shown = view(FPI)
    finding = shown.finding("fpi-total")
    assert finding is not None
    assert finding.probability is None
    chance = finding.probability_error_only
    assert chance is not None
    odds = rule("high(fpi-total)").odds(shown)
    assert odds == pytest.approx(chance / (1 - chance))


def test_the_usual_posture_without_a_norm() -> None:
    shown = view({**FPI, "fpi-talar-head": {"right": -1}, "fpi-medial-arch": {"right": -1}})
    finding = shown.finding("fpi-total")
    assert finding is not None
    assert finding.probability is None
    chance = finding.probability_error_only
    assert chance is not None
    assert rule("ok(fpi-total)").odds(shown) == pytest.approx((1 - chance) / chance)


def test_a_finding_without_any_error_is_taken_as_it_is() -> None:
    shown = view({"hallux-valgus-grade": {"right": 2}})
    assert rule("high(hallux-valgus-grade)").holds(shown) is YES
    assert rule("high(hallux-valgus-grade)").odds(shown) == inf


def test_a_number_far_beyond_its_limit_is_certain() -> None:
    shown = view({"hallux-dorsiflexion": {"right": 10}})
    assert rule("hallux-dorsiflexion < 65", lambda _: 5.0).odds(shown) == inf


def test_all_parts_are_as_sure_as_the_least_one_and_any_part_as_the_surest() -> None:
    readings = {"hallux-dorsiflexion": {"right": 60}, "lunge-distance": {"right": 4}}
    shown = view({**readings, "onset": "sudden"})
    hallux = rule("hallux-dorsiflexion < 65", lambda _: 5.0).odds(shown)
    lunge = rule("lunge-distance < 5", lambda _: 2.0).odds(shown)
    errors = {"hallux-dorsiflexion": 5.0, "lunge-distance": 2.0}
    known = lambda one: errors[one.measure.id]  # noqa: E731
    both = rule("hallux-dorsiflexion < 65 and lunge-distance < 5", known)
    either = rule("hallux-dorsiflexion < 65 or lunge-distance < 5", known)
    assert both.odds(shown) == min(hallux, lunge)
    assert either.odds(shown) == max(hallux, lunge)
    # a part that does not hold says nothing
    half = rule("hallux-dorsiflexion < 65 or lunge-distance > 5", known)
    assert half.odds(shown) == hallux
    assert rule('hallux-dorsiflexion < 65 or onset == "sudden"', known).odds(shown) == inf


def test_a_rule_knows_its_measures_and_its_parts() -> None:
    found = rule('low(lunge-distance) and (onset == "sudden" or age < 18)')
    assert found.measures == ("lunge-distance", "onset")
    assert [atom.measures for atom in found.atoms] == [("lunge-distance",), ("onset",), ()]


def test_what_is_noted_as_not_done_is_absent_on_its_side() -> None:
    shown = {"hallux-dorsiflexion": {"right": {"absent": "declined"}}}
    assert view(shown).is_absent("hallux-dorsiflexion")
    assert not view(shown, LEFT).is_absent("hallux-dorsiflexion")
    assert view({"onset": {"absent": "declined"}}, LEFT).is_absent("onset")
    assert "hallux-dorsiflexion" in forms().measures
