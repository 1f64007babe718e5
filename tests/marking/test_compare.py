"""Comparing two examinations: the right error, every sort of answer, slips, reasoning, plan."""

import csv
from dataclasses import replace
from decimal import Decimal
from math import sqrt
from pathlib import Path

import pytest

from footexam.catalogue.marking import Seen
from footexam.marking.compared import Outcome, Rule, Slip, Sort
from footexam.marking.numbers import is_within
from footexam.marking.pairing import Mismatch, examined_key, identity, mismatch, one_person
from footexam.marking.rubric import Marks
from footexam.scoring.bench import bench
from footexam.terms import Examiner, Side
from tests.marking.build import CATALOGUE, compared, examination, item
from tests.marking.term import exchanged, reference_readings

LEFT, RIGHT = Side.LEFT, Side.RIGHT
LUNGE = "lunge-distance"
DORSI = "ankle-dorsiflexion-knee-straight"


def sems(measure: str) -> tuple[float, float]:
    """The SEM of the same and of another examiner."""
    errors = bench(CATALOGUE).errors(CATALOGUE.measures[measure], None)
    assert errors.same is not None
    assert errors.other is not None
    return errors.same.sem, errors.other.sem


BETWEEN = next(
    one.id
    for one in CATALOGUE.measures.values()
    if {error.examiner for error in one.errors if error.used and not error.method} == set(Examiner)
    and one.kind == "quantity"
    and one.sided
    and sems(one.id)[0] < sems(one.id)[1]
)
"""A measure that two examiners read less alike than one does twice."""


# --- numbers


def test_the_error_is_that_of_another_examiner() -> None:
    found = item(compared({BETWEEN: {"left": 9}}, {BETWEEN: {"left": 8}}), BETWEEN, LEFT)
    same, other = sems(BETWEEN)
    assert found.standard_error == pytest.approx(sqrt(2) * other)
    assert found.error == pytest.approx(1 / (sqrt(2) * other))
    assert same < other


def test_errors_of_the_mixed_set_are_told_item_by_item() -> None:
    """Each reading is 1.2 to 2.1 errors off, which one coefficient over all hides (ICC 0.99)."""
    path = Path(__file__).parents[1] / "data" / "mixed_items_icc_trap.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    errors = [
        (float(r["student"]) - float(r["reference"])) / (sqrt(2) * float(r["sem"])) for r in rows
    ]
    assert errors == pytest.approx([float(row["std_error"]) for row in rows], abs=1e-4)
    assert sqrt(sum(e * e for e in errors) / len(errors)) == pytest.approx(1.801892653, abs=1e-8)


def test_the_tolerance_is_the_larger_of_limit_and_detectable_difference() -> None:
    pair = {LUNGE: {"left": "9.5"}}, {LUNGE: {"left": 8}}
    found = item(compared(*pair), LUNGE, LEFT)
    needed = found.tolerance
    assert needed is not None
    assert (found.rule, found.outcome) == (Rule.ERROR, Outcome.WITHIN)
    small = item(compared(*pair, limits={LUNGE: 0.1}), LUNGE, LEFT)
    assert (small.rule, small.tolerance) == (Rule.ERROR, needed)
    large = item(compared(*pair, limits={LUNGE: 5.0}), LUNGE, LEFT)
    assert (large.rule, large.tolerance) == (Rule.LIMIT, 5.0)


def test_exactly_the_tolerance_is_within_and_what_is_beyond_says_by_how_much() -> None:
    assert is_within(Decimal("1.0"), 1.0)
    assert not is_within(Decimal("1.000001"), 1.0)
    found = item(
        compared({"body-height": 173}, {"body-height": 170}, limits={"body-height": 1.0}),
        "body-height",
    )
    assert (found.outcome, found.rule, found.beyond) == (Outcome.BEYOND, Rule.LIMIT, 2.0)
    near = compared({"body-height": 171}, {"body-height": 170}, limits={"body-height": 1.0})
    assert item(near, "body-height").outcome is Outcome.WITHIN
    assert item(near, "body-height").beyond is None


def test_repeats_shrink_only_the_examiners_own_error() -> None:
    once, thrice = ({BETWEEN: {"left": 9}}, {BETWEEN: {"left": [9, 9, 9]}})
    one = item(compared(once, once), BETWEEN, LEFT)
    more = item(compared(thrice, thrice), BETWEEN, LEFT)
    assert one.standard_error is not None
    assert more.standard_error is not None
    assert more.standard_error < one.standard_error
    assert more.standard_error > one.standard_error / sqrt(3)


def test_a_number_without_known_error_is_not_judged_unless_the_same() -> None:
    found = compared({"heel-raise-count": {"left": 29}}, {"heel-raise-count": {"left": 27}})
    assert item(found, "heel-raise-count", LEFT).outcome is Outcome.NOT_JUDGED
    same = compared({"heel-raise-count": {"left": 27}}, {"heel-raise-count": {"left": 27}})
    assert item(same, "heel-raise-count", LEFT).outcome is Outcome.SAME


def test_two_methods_are_not_compared() -> None:
    measure = "lunge-angle-knee-bent"
    methods = CATALOGUE.measures[measure].methods
    one, other = ({measure: {"left": {"value": 40, "method": m}}} for m in methods[:2])
    assert item(compared(one, other), measure, LEFT).outcome is Outcome.METHOD_DIFFERS


def test_an_error_carried_from_one_examiner_judges_nobody_else() -> None:
    """The travel of the first ray has only what its inputs carry from one examiner."""
    name = "first-ray-total-travel"
    assert name in bench(CATALOGUE).carrying
    inputs = CATALOGUE.measures[name].derived_from
    one, other = ({key: {"left": value} for key in inputs} for value in (2, 9))
    found = item(compared(one, other), name, LEFT)
    assert found.is_derived
    assert (found.outcome, found.standard_error) == (Outcome.NOT_JUDGED, None)


# --- ordinal items


@pytest.mark.parametrize(
    ("student", "outcome"),
    [(1, Outcome.SAME), (2, Outcome.WITHIN), (0, Outcome.WITHIN), (-1, Outcome.BEYOND)],
)
def test_ordinal_items_by_distance(student: int, outcome: Outcome) -> None:
    name = "fpi-talar-head"
    found = item(compared({name: {"left": student}}, {name: {"left": 1}}), name, LEFT)
    assert (found.outcome, found.rule, found.sort) == (outcome, Rule.LEVELS, Sort.ORDINAL)
    assert found.levels == (-2, -1, 0, 1, 2)


def test_items_share_a_figure_only_on_one_scale() -> None:
    readings = reference_readings(2) | {"pain-now": {"left": 3, "right": 5}}
    found = compared(readings, readings)
    scales = {(one.unit, one.levels): one for one in found.scales}
    assert len(scales[("points", (-2, -1, 0, 1, 2))].pairs) == 12
    assert len(scales[("points", tuple(range(11)))].pairs) == 2
    assert all(one.exact == len(one.pairs) for one in found.scales)


def test_the_limit_of_levels_is_the_rubrics() -> None:
    name = "fpi-talar-head"
    pair = {name: {"left": 2}}, {name: {"left": 1}}
    assert item(compared(*pair, level_limit=0), name, LEFT).outcome is Outcome.BEYOND


# --- words, sets, places


def test_choices_match_or_do_not() -> None:
    found = compared({"limp": {"both": "no"}}, {"limp": {"left": "no", "right": "yes"}})
    assert item(found, "limp", LEFT).outcome is Outcome.SAME
    right = item(found, "limp", RIGHT)
    assert (right.outcome, right.missed, right.added) == (Outcome.DIFFERENT, ("yes",), ("no",))


def test_sets_tell_what_is_missed_and_added() -> None:
    found = compared({"activity-kind": ["cycling"]}, {"activity-kind": ["court-sport"]})
    one = item(found, "activity-kind")
    assert (one.sort, one.missed, one.added) == (Sort.SET, ("court-sport",), ("cycling",))


def test_a_yes_with_its_places_is_compared_with_them() -> None:
    name = "caution-focal-bone-tenderness"
    wanted = {name: {"answer": "yes", "sites": ["heel-plantar-medial"]}}
    found = item(compared({name: "no"}, wanted), name)
    assert (found.missed, found.added) == (("yes", "heel-plantar-medial"), ("no",))


def test_none_known_is_an_answer() -> None:
    both = {"allergies": "none-known"}
    assert item(compared(both, both), "allergies").outcome is Outcome.SAME


def test_places_are_compared_one_by_one() -> None:
    wanted = {"tenderness": {"right": {"achilles-midportion": 6, "calf": 0}}}
    near = {"tenderness": {"right": {"achilles-midportion": 5}}}
    assert item(compared(near, wanted), "tenderness", RIGHT).outcome is Outcome.WITHIN
    assert item(compared(wanted, wanted), "tenderness", RIGHT).outcome is Outcome.SAME
    off = {"tenderness": {"right": {"achilles-midportion": 2, "calf": 4}}}
    found = item(compared(off, wanted), "tenderness", RIGHT)
    assert (found.outcome, found.missed, found.added) == (
        Outcome.DIFFERENT,
        ("achilles-midportion",),
        ("calf",),
    )


def test_prose_is_left_to_the_marker() -> None:
    found = compared({"impression": "A tendon."}, {"impression": "A joint."})
    assert found.unread == (("impression", None),)
    assert not found.items


def test_an_answer_without_a_side_counts_on_both() -> None:
    name = "caution-calf-pain-swelling"
    found = compared({name: "no"}, {name: {"left": "no", "right": "no"}})
    assert {one.side: one.outcome for one in found.items} == {
        LEFT: Outcome.SAME,
        RIGHT: Outcome.SAME,
    }


# --- missing


def test_missing_is_counted_apart_and_a_reason_is_told_apart() -> None:
    absent = {"absent": "could-not-be-tested", "reason": "dressing"}
    found = compared(
        {LUNGE: {"left": absent}, "smoking": "never"},
        {LUNGE: {"left": 9, "right": 9}, DORSI: {"left": absent}},
    )
    assert item(found, LUNGE, LEFT).outcome is Outcome.MISSING_REASON
    assert item(found, LUNGE, RIGHT).outcome is Outcome.MISSING
    assert item(found, "smoking").outcome is Outcome.NO_REFERENCE
    assert all(one.measure.id != DORSI for one in found.items)
    assert found.count(Outcome.MISSING) == 1
    scored = compared({}, {"fpi-talar-head": {"left": 1}, "limp": {"left": "no"}})
    assert item(scored, "fpi-talar-head", LEFT).sort is Sort.ORDINAL
    assert item(scored, "limp", LEFT).sort is Sort.WORD


# --- slips


def test_sides_of_one_measure_that_look_exchanged() -> None:
    wanted = {LUNGE: {"left": 11, "right": 5}, "body-mass": 80}
    found = compared({LUNGE: {"left": 5, "right": 11}, "body-mass": 80}, wanted)
    assert {item(found, LUNGE, side).slip for side in Side} == {Slip.SIDES}
    assert not found.sides_exchanged
    assert found.critical == ()


def test_an_examination_whose_sides_are_exchanged_throughout() -> None:
    readings = reference_readings(1)
    found = compared({name: exchanged(value) for name, value in readings.items()}, readings)
    assert found.sides_exchanged
    assert Seen.WRONG_SIDE in found.critical
    assert item(found, "complaint-site", LEFT).slip is Slip.SIDES


def test_a_complaint_on_the_other_side_is_critical_alone() -> None:
    found = compared(
        {"complaint-site": {"left": ["calf"]}}, {"complaint-site": {"right": ["calf"]}}
    )
    assert found.critical == (Seen.WRONG_SIDE,)


def test_sides_that_are_alike_cannot_look_exchanged() -> None:
    wanted = {LUNGE: {"left": 8, "right": 8}, "limp": {"both": "no"}}
    found = compared({LUNGE: {"left": 2, "right": 14}, "limp": {"both": "yes"}}, wanted)
    assert all(one.slip is None for one in found.items)


def test_sides_without_an_error_cannot_tell() -> None:
    name = "heel-raise-count"
    found = compared({name: {"left": 5, "right": 25}}, {name: {"left": 25, "right": 5}})
    assert all(one.slip is None for one in found.items)


@pytest.mark.parametrize(("student", "slip"), [(-2, Slip.SIGN), (-1, Slip.SIGN), (0, None)])
def test_a_turned_sign_is_seen(student: int, slip: Slip | None) -> None:
    name = "fpi-talar-head"
    found = item(compared({name: {"left": student}}, {name: {"left": 2}}), name, LEFT)
    assert found.slip is slip


def test_a_turned_sign_is_not_taken_for_exchanged_sides() -> None:
    name = "fpi-talar-head"
    found = compared({name: {"left": 2, "right": -2}}, {name: {"left": -2, "right": 2}})
    assert {item(found, name, side).slip for side in Side} == {Slip.SIGN}


def test_a_turned_sign_where_no_error_is_known() -> None:
    name = next(
        one.id
        for one in CATALOGUE.measures.values()
        if one.kind == "quantity"
        and one.hard_low is not None
        and one.hard_low < -3
        and not any(error.used for error in one.errors)
        and one.sided
    )
    found = compared({name: {"left": -3, "right": -2}}, {name: {"left": 3, "right": 3}})
    assert item(found, name, LEFT).slip is Slip.SIGN
    assert item(found, name, RIGHT).slip is None


def test_a_scale_that_begins_at_nothing_has_no_sign() -> None:
    found = item(compared({LUNGE: {"left": 2}}, {LUNGE: {"left": 12}}), LUNGE, LEFT)
    assert (found.outcome, found.slip) == (Outcome.BEYOND, None)


# --- reasoning and plan

DANGER = "caution-fever-or-spreading-redness"


def test_a_missed_caution_is_critical() -> None:
    found = compared({DANGER: "no"}, {DANGER: "yes"})
    assert found.critical[0] is Seen.MISSED_CAUTION
    assert found.reasoned.cautions
    both = compared({DANGER: "yes"}, {DANGER: "yes"})
    assert both.critical == ()


def test_a_caution_that_was_not_asked_about_is_missed_as_well() -> None:
    assert compared({}, {DANGER: "yes"}).critical == (Seen.MISSED_CAUTION,)


def test_a_caution_seen_as_less_urgent_is_missed_in_part() -> None:
    from footexam.marking.reasoned import _missed
    from footexam.reasoning.dangers import Caution
    from footexam.terms import Tier

    urgent = Caution("sepsis", "a", LEFT, Tier.EMERGENCY, ())
    mild = replace(urgent, tier=Tier.ROUTINE, side=None)
    (found,) = _missed([mild], [urgent])
    assert (found.tier, found.student_tier) == (Tier.EMERGENCY, Tier.ROUTINE)
    assert not list(_missed([urgent], [mild]))
    assert [one.id for one in _missed([replace(urgent, side=RIGHT)], [urgent])] == ["sepsis"]


def test_accepted_hypotheses_are_compared() -> None:
    one = {"accepted": [{"id": "rapid-training-progression", "side": "right"}]}
    other = {"accepted": [{"id": "metabolic-or-drug-tendon", "side": "right"}]}
    found = compared(
        {"body-mass": 80},
        {"body-mass": 80},
        student_decisions={"hypotheses": one},
        reference_decisions={"hypotheses": {"accepted": one["accepted"] + other["accepted"]}},
    ).reasoned
    assert found.hypotheses.agreed == (("rapid-training-progression", RIGHT),)
    assert found.hypotheses.missed == (("metabolic-or-drug-tendon", RIGHT),)
    assert not found.has_plan


def plan(height: str) -> dict[str, object]:
    """A heel lift of that height, for an accepted hypothesis that opens its aim."""
    return {
        "hypotheses": {"accepted": [{"id": "limited-df-calf-achilles-load", "side": "right"}]},
        "aims": [{"id": "offset-ankle-dorsiflexion-deficit", "side": "right"}],
        "features": [{"id": "heel-lift", "side": "right", "height": height}],
    }


def test_a_plan_is_compared_to_its_dimensions() -> None:
    readings = {"body-mass": 80}
    found = compared(
        readings, readings, student_decisions=plan("9 mm"), reference_decisions=plan("6 mm")
    ).reasoned
    assert found.has_plan
    assert found.features.agreed == (("heel-lift", RIGHT),)
    (height,) = (one for one in found.sizes if one.size == "height")
    assert (height.student, height.reference, height.unit) == (9, 6, "mm")
    assert not height.is_near
    near = compared(
        readings, readings, student_decisions=plan("7 mm"), reference_decisions=plan("6 mm")
    ).reasoned
    assert all(one.is_near for one in near.sizes)
    alone = compared(readings, readings, reference_decisions=plan("6 mm")).reasoned
    assert (alone.sizes, alone.features.missed) == ((), (("heel-lift", RIGHT),))


def test_a_plan_on_a_side_that_a_danger_holds_back_is_unsafe() -> None:
    found = compared(
        {DANGER: "no"}, {DANGER: "yes"}, student_decisions={"features": plan("6 mm")["features"]}
    )
    assert Seen.UNSAFE_PLAN in found.critical
    assert found.reasoned.held


# --- which two


def test_which_two_may_be_compared() -> None:
    student, reference = examination({}), examination({}, "reference")
    record = examination({}, "record")
    other = replace(reference, patient=replace(reference.patient, record_number="V-9"))
    later = replace(reference, examined_on=reference.examined_on.replace(day=5))
    assert mismatch(student, reference) is None
    assert mismatch(record, reference) is None
    assert mismatch(student, record) is None
    assert mismatch(student, other) is Mismatch.OTHER_PATIENT
    assert mismatch(student, later) is Mismatch.OTHER_DAY
    assert mismatch(reference, student) is Mismatch.EXCHANGED
    assert mismatch(student, replace(reference, in_error=True)) is Mismatch.STRUCK_OUT


def test_without_a_record_number_names_and_birth_date_tell() -> None:
    patient = replace(examination({}).patient, record_number="", given_names="Eva")
    assert identity(patient) == ("volunteer1", "eva", "1981-05-21")


def test_one_person_compared_with_herself_is_said() -> None:
    student = examination({})
    assert one_person(student, examination({}, "reference", name="a STUDENT "))
    assert not one_person(student, examination({}, "reference"))


def test_the_items_of_an_outcome_stand_in_forms_order() -> None:
    readings = {"lunge-distance": {"left": 15, "right": 9}, "body-height": 180}
    found = compared(readings, {**readings, "lunge-distance": {"left": 9, "right": 9}})
    assert [one.key for one in found.those(frozenset({Outcome.BEYOND}))] == [
        ("lunge-distance", Side.LEFT)
    ]
    assert len(list(found.those(frozenset({Outcome.SAME})))) == 2


def test_marks_name_the_examination_that_they_belong_to() -> None:
    one = examination({}, name="  Ada Student ")
    marks = Marks("r", "ADA student", "B", identity(one.patient), one.examined_on.isoformat())
    assert examined_key(one) == marks.key
