"""What must hold of every examination, whatever is in it: found by drawing examinations at random.

The forms are those shipped. An examination is drawn as a file: a place of complaint, some readings
of each kind, and some answers to danger questions.
"""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from footexam.assessment import Assessment, assess
from footexam.catalogue.arguments import Hypothesis
from footexam.catalogue.expression import measures_of, parse_expression
from footexam.catalogue.model import Measure
from footexam.reasoning.argue import Argument
from footexam.reasoning.dangers import Caution
from footexam.record.examination import Examination
from footexam.terms import Absence, Kind, Side
from tests.reasoning.making import Readings, catalogue, examination, forms, hypothesis, row

FEW = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)
PLACES = ["heel-plantar-medial", "navicular", "met-head-2", "achilles-midportion", "shin-medial"]
SWAP = {"left": "right", "right": "left"}

_ASKED = {
    *("onset", "diabetes", "previous-bone-stress-injury", "training-change", "first-step-pain"),
    *("ankle-dorsiflexion-knee-straight", "ankle-dorsiflexion-knee-bent", "lunge-distance"),
    *("hallux-dorsiflexion", "hallux-lift-test", "first-ray-position", "first-ray-mobility"),
    *("navicular-height-neutral", "navicular-height-resting", "heel-raise-count", "tenderness"),
    *("heel-raise-pain", "heel-raise-inverts", "heel-rise-timing", "pronation-timing", "callus"),
    *("resting-calcaneal-stance", "subtalar-axis", "ankle-end-feel", "response-heel-lift"),
    *("plantar-fascia-tender", "tibialis-posterior-tender", "calcaneal-squeeze", "pain-worst"),
    *("monofilament-hallux", "activity-kind", "body-mass", "body-height", "heel-pad-thin"),
    *("aggravating-standing", "response-arch-tape", "arch-lower-than-before", "night-pain"),
    *("fpi-talar-head", "fpi-malleolar-curves", "fpi-calcaneal-position"),
    *("fpi-talonavicular-bulge", "fpi-medial-arch", "fpi-forefoot-abduction"),
}
MEASURES = [one for one in forms().measures.values() if one.id in _ASKED]
DANGERS = [one for one in forms().measures.values() if one.panel == "cautions" and one.words == ()]
DANGERS = [one for one in DANGERS if one.kind in {Kind.YES_NO, Kind.YES_SITES}]

ASKABLE = {
    *(Kind.CHOICE, Kind.YES_NO, Kind.YES_SITES, Kind.SEVERAL, Kind.REGION_VALUES),
    *(Kind.QUANTITY, Kind.SCORE, Kind.PERCENT),
}
FIRING = {
    name
    for sign in forms().cautions.values()
    for branch in sign.branches
    for asked in measures_of(parse_expression(branch.when))
    for name in (asked, *forms().measures[asked].derived_from)
}
"""Measures that cautions ask for, and those they are worked out from."""
CAUTIOUS = [one for one in forms().measures.values() if one.id in FIRING and one.kind in ASKABLE]
DISCOUNTED = ("pregnant-or-recent-birth", {"reds-primary-indicators", "reds-secondary-indicators"})
"""The one answer that takes a count back: missed periods of a pregnancy are no sign of low energy
(Mountjoy 2023), so a caution that rests on the count goes; a yes beside it stays in the banner."""


def values(measure: Measure) -> st.SearchStrategy[Any]:
    match measure.kind:
        case Kind.CHOICE:
            return st.sampled_from(measure.words)
        case Kind.YES_NO:
            return st.sampled_from(["yes", "no"])
        case Kind.YES_SITES:
            sited = st.sampled_from(PLACES).map(lambda one: {"answer": "yes", "sites": [one]})
            return st.one_of(st.sampled_from(["yes", "no"]), sited)
        case Kind.SEVERAL:
            known = [word for word in measure.words if word != "none"]
            return st.lists(st.sampled_from(known), min_size=1, max_size=3, unique=True)
        case Kind.REGION_VALUES:
            low = int(measure.hard_low or 0)
            return st.dictionaries(st.sampled_from(PLACES), st.integers(low, low + 3), min_size=1)
        case _:
            low = measure.ask_low if measure.ask_low is not None else measure.hard_low
            high = measure.ask_high if measure.ask_high is not None else measure.hard_high
            return st.integers(int(low or 0), int(high or 10))


@st.composite
def answered(draw: st.DrawFn, measure: Measure) -> Any:
    """What stands in a file for one measure."""
    if not measure.sided:
        return draw(values(measure))
    sides = draw(st.sampled_from([("left",), ("right",), ("left", "right")]))
    return {side: draw(values(measure)) for side in sides}


@st.composite
def files(draw: st.DrawFn, *, dangers: bool = True) -> Readings:
    """Readings of a file."""
    chosen = draw(st.lists(st.sampled_from(MEASURES), max_size=18, unique_by=lambda one: one.id))
    if dangers:
        few = st.lists(st.sampled_from(DANGERS), max_size=3, unique_by=lambda one: one.id)
        chosen += draw(few)
    readings = {measure.id: draw(answered(measure)) for measure in chosen}
    sides = draw(st.sampled_from([(), ("left",), ("right",), ("left", "right")]))
    if sides:
        readings["complaint-site"] = {side: [draw(st.sampled_from(PLACES))] for side in sides}
    return readings


AGES = st.sampled_from([9, 16, 40, 75])


def look(readings: Readings, age: int = 40) -> Assessment:
    return assess(examination(readings, age=age), forms())


def cautions_of(found: Assessment) -> set[tuple[str | None, str | None, Side | None]]:
    return {(one.id, one.branch, one.side) for one in found.cautions}


# --- order of entry


def shuffled(found: Examination, order: list[int]) -> Examination:
    """The same readings entered in another order; the one entered last stays the last."""
    keys = list(found.readings)
    if not keys:
        return found
    last = max(keys, key=lambda key: found.readings[key].seq)
    mixed = [key for _, key in sorted(zip(order, keys, strict=False), key=lambda one: one[0])]
    mixed += [key for key in keys if key not in mixed]
    mixed = [key for key in mixed if key != last] + [last]
    entered = {
        key: replace(found.readings[key], seq=place) for place, key in enumerate(mixed, start=1)
    }
    return replace(found, readings=entered)


@FEW
@given(files(), AGES, st.permutations(range(40)))
def test_the_order_of_entry_is_nothing(readings: Readings, age: int, order: list[int]) -> None:
    first = examination(readings, age=age)
    one, other = assess(first, forms()), assess(shuffled(first, order), forms())
    assert one.reasons.arguments == other.reasons.arguments
    assert one.cautions == other.cautions
    assert one.reasons.suggested == other.reasons.suggested
    assert one.reasons.shut == other.reasons.shut


@FEW
@given(files(), AGES)
def test_the_same_examination_is_judged_alike(readings: Readings, age: int) -> None:
    assert look(readings, age).reasons == look(readings, age).reasons


# --- sides


def mirrored(readings: Readings) -> Readings:
    def turn(value: object) -> object:
        if isinstance(value, dict) and value.keys() <= {"left", "right"}:
            return {SWAP[side]: one for side, one in value.items()}
        return value

    return {name: turn(value) for name, value in readings.items()}


def turned(side: Side | None) -> Side | None:
    return None if side is None else Side(SWAP[side.value])


def shape(one: Argument) -> tuple[object, ...]:
    rows = [(weighed.row.when, weighed.points) for weighed in one.speaks_for]
    against = [(weighed.row.when, weighed.points) for weighed in one.speaks_against]
    return one.id, one.points, rows, against, one.not_examined, one.both_sides, one.concerns


@FEW
@given(files(), AGES)
def test_other_names_of_the_sides_mirror_the_result(readings: Readings, age: int) -> None:
    one, other = look(readings, age), look(mirrored(readings), age)

    def arguments(found: Assessment, *, turn: bool) -> list[Any]:
        rows = found.reasons.arguments
        return sorted((str(turned(row.side) if turn else row.side), shape(row)) for row in rows)

    def cautions(found: Assessment, *, turn: bool) -> list[Any]:
        def of(caution: Caution) -> tuple[str, ...]:
            side = turned(caution.side) if turn else caution.side
            return str(caution.id), str(caution.branch), str(side), str(caution.because)

        return sorted(of(caution) for caution in found.cautions)

    assert arguments(one, turn=True) == arguments(other, turn=False)
    assert cautions(one, turn=True) == cautions(other, turn=False)
    for side in (Side.LEFT, Side.RIGHT, None):
        assert one.reasons.shut[side] == other.reasons.shut[turned(side)]


# --- what was not examined


@FEW
@given(files(), st.data())
def test_what_is_noted_as_not_examined_changes_no_points(
    readings: Readings, data: st.DataObject
) -> None:
    rest = [one for one in MEASURES if one.id not in readings]
    measure = data.draw(st.sampled_from(rest))
    absent = {"absent": data.draw(st.sampled_from([one.value for one in Absence])), "reason": "x"}
    noted = {"both": absent} if measure.sided else absent
    one, other = look(readings), look({**readings, measure.id: noted})
    assert one.cautions == other.cautions
    assert [shape(row) for row in one.reasons.arguments] == [
        shape(row) for row in other.reasons.arguments
    ]
    assert one.reasons.shut == other.reasons.shut


# --- support


SUPPORT = [
    (hypothesis_, row_)
    for hypothesis_ in forms().hypotheses.values()
    for row_ in hypothesis_.support
]


@settings(FEW, max_examples=150)
@given(files(dangers=False), st.data())
def test_a_finding_that_supports_never_lowers_points(
    readings: Readings, data: st.DataObject
) -> None:
    """Whatever is added: where it only adds rows for, the points do not fall.

    Rows of a finding less likely than before its reading weigh nothing, never less than that.
    """
    rest = [one for one in MEASURES if one.id not in readings]
    measure = data.draw(st.sampled_from(rest))
    more = data.draw(answered(measure))
    before = {(one.id, one.side): one for one in look(readings).reasons.arguments}
    after = {
        (one.id, one.side): one for one in look({**readings, measure.id: more}).reasons.arguments
    }
    for key in before.keys() & after.keys():
        one, other = before[key], after[key]
        newly_against = {weighed.row.when for weighed in other.speaks_against} - {
            weighed.row.when for weighed in one.speaks_against
        }
        lost = {weighed.row.when for weighed in one.speaks_for} - {
            weighed.row.when for weighed in other.speaks_for
        }
        if not newly_against and not lost and not other.set_aside:
            assert other.points >= one.points - 1e-9, key
        assert all(weighed.points >= 0 for weighed in other.speaks_for)


def told(supporting: int, weights: list[int], groups: list[str], ratio: bool) -> float:
    """Points of a hypothesis of which so many supporting findings are recorded."""
    names = ["diabetes", "osteoporosis", "known-gout", "steroid-use", "psoriasis", "bowel-disease"]
    rows = [
        row(
            f'{name} == "yes"',
            group=group,
            **({"ratio": 1 + weight} if ratio else {"points": weight}),
        )
        for name, weight, group in zip(names, weights, groups, strict=True)
    ]
    one = hypothesis("one", [row('onset == "sudden"', 2, group="a")], rows)
    readings = {"onset": "sudden", **dict.fromkeys(names[:supporting], "yes")}
    (found,) = assess(examination(readings), catalogue(hypotheses=[one])).reasons.arguments
    return found.points


@FEW
@given(
    st.lists(st.integers(1, 9), min_size=6, max_size=6),
    st.lists(st.sampled_from(["", "a", "b"]), min_size=6, max_size=6),
    st.booleans(),
)
def test_each_further_sign_adds_or_stays_whatever_its_group(
    weights: list[int], groups: list[str], ratio: bool
) -> None:
    points = [told(many, weights, groups, ratio) for many in range(7)]
    assert points == sorted(points)


@FEW
@given(st.integers(0, 60), st.integers(0, 60), st.integers(1, 10))
def test_the_further_a_reading_lies_beyond_its_limit_the_more_it_says(
    one: int, other: int, weight: int
) -> None:
    made = catalogue(
        hypotheses=[hypothesis("one", [row("ankle-dorsiflexion-knee-straight < 50", weight)])]
    )

    def points(value: int) -> float:
        reading = {"ankle-dorsiflexion-knee-straight": {"left": value}}
        found = assess(examination(reading), made).reasons.arguments
        return found[0].points if found else 0.0

    low, high = sorted((one, other))
    assert points(low) >= points(high) - 1e-9


# --- cautions


@settings(FEW, max_examples=150)
@given(files(), st.data(), AGES)
def test_a_caution_is_never_removed_by_what_is_added(
    readings: Readings, data: st.DataObject, age: int
) -> None:
    """A finding or an answer may raise a caution, never lower or clear one."""
    some = st.lists(st.sampled_from(CAUTIOUS), max_size=20, unique_by=lambda one: one.id)
    readings |= {one.id: data.draw(answered(one)) for one in data.draw(some)}
    rest = [one for one in CAUTIOUS if one.id not in readings]
    measure = data.draw(st.sampled_from(rest))
    more = {measure.id: data.draw(answered(measure))}
    before, after = look(readings, age).cautions, look({**readings, **more}, age).cautions
    answer, counts = DISCOUNTED
    for caution in before:
        if measure.id == answer and counts & {name[8:] for name in caution.because}:
            continue
        assert stands(caution, after), (caution, more)


def test_the_one_answer_that_takes_a_count_back() -> None:
    signs = {"caution-groin-or-thigh-pain": {"left": "yes"}, "missed-cycles": 4}
    one, other = look(signs), look({**signs, "pregnant-or-recent-birth": "yes"})
    assert "femoral-neck" in {found.id for found in one.cautions}
    assert "femoral-neck" not in {found.id for found in other.cautions}
    assert ("measure:caution-groin-or-thigh-pain",) in {found.because for found in other.cautions}


def stands(caution: Caution, among: tuple[Caution, ...]) -> bool:
    """Whether a caution, or a more serious one of its kind, stands on its side or for both.

    A yes that led nowhere may have led to a caution that rests on it.
    """
    for one in among:
        if one.side not in {caution.side, None} and caution.side is not None:
            continue
        if caution.id is None:
            if set(caution.because) <= set(one.because):
                return True
        elif one.id == caution.id and no_less(one, caution):
            return True
    return False


def no_less(one: Caution, other: Caution) -> bool:
    order = list(type(one.tier or other.tier)) if one.tier else []
    return one.tier == other.tier or (
        one.tier is not None
        and other.tier is not None
        and order.index(one.tier) <= order.index(other.tier)
    )


@FEW
@given(files(), AGES)
def test_no_hypothesis_test_or_defeater_touches_a_caution(readings: Readings, age: int) -> None:
    found = examination(readings, age=age)
    plain = assess(found, forms()).cautions
    bare = replace(forms(), hypotheses={}, defeaters={}, conditions={}, accuracy={})
    assert assess(found, bare).cautions == plain


@FEW
@given(files())
def test_a_caution_goes_only_with_the_answer_it_rests_on(readings: Readings) -> None:
    """Taking back a measure that no caution rests on takes none of them away."""
    found = look(readings)
    resting = {name.removeprefix("measure:") for one in found.cautions for name in one.because}
    derived = {part for name in resting for part in forms().measures[name].derived_from}
    for name in readings.keys() - resting - derived:
        less = {other: value for other, value in readings.items() if other != name}
        assert cautions_of(found) <= cautions_of(look(less)), name


# --- next tests


@FEW
@given(files(), AGES)
def test_nothing_is_offered_that_is_shut_absent_recorded_or_worked_out(
    readings: Readings, age: int
) -> None:
    found = look(readings, age).reasons
    for test in found.suggested.tests:
        measure = forms().measures[test.measure]
        assert measure.kind is not Kind.DERIVED
        assert test.measure not in found.shut[test.side]
        value = readings.get(test.measure)
        if value is not None:
            assert measure.sided
            assert test.side is not None
            assert test.side.value not in value
    assert len({(test.measure, test.side) for test in found.suggested.tests}) == len(
        found.suggested.tests
    )


@pytest.mark.parametrize("one", forms().hypotheses.values(), ids=lambda one: one.id)
def test_no_hypothesis_weighs_more_than_its_rows(one: Hypothesis) -> None:
    """The cap holds for every row as shipped."""
    for each in (*one.require, *one.support, *one.against):
        assert each.points is None or 0 <= each.points <= 10
        assert each.ratio is None or each.ratio > 0
