"""assess(): pure, in forms order, with everything that must be looked at again."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from footexam.assessment import Assessment, assess, assess_after, is_caution, said_yes
from footexam.catalogue.model import Catalogue
from footexam.exchange.examination import read_examination
from footexam.reasoning.engine import NOTHING, engine
from footexam.reasoning.next_test import Route
from footexam.record.examination import Examination
from footexam.record.reading import Numbers, Reading, Sites, Word
from footexam.terms import ChangeLabel, ProblemKind, Side, Tier
from tests.exchange.examples import TODAY, data, file
from tests.shipped import shipped

LEFT, RIGHT = Side.LEFT, Side.RIGHT
ADULT = {"family_name": "Quill", "birth_date": "1980-01-01", "sex": "female"}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return shipped()


def read(readings: dict[str, Any], catalogue: Catalogue, **parts: Any) -> Examination:
    tree = file(readings, **{"patient": ADULT, **parts})
    return read_examination(data(tree), catalogue, TODAY).examination


def told(assessment: Assessment) -> list[tuple[str, Side | None, str, ProblemKind]]:
    return [(one.measure, one.side, one.value, one.kind) for one in assessment.problems]


def test_an_examination_without_readings(catalogue: Catalogue) -> None:
    found = assess(read({}, catalogue), catalogue)
    assert replace(found, reasons=NOTHING) == Assessment(found.age, (), (), (), (), (), ())
    assert (found.reasons.arguments, found.reasons.nearly) == ((), ())
    assert {one.route for one in found.reasons.suggested.tests} == {Route.DANGER}
    assert found.age is not None
    assert found.age.years == 46


def test_five_items_of_the_posture_index_are_no_total(catalogue: Catalogue) -> None:
    items = catalogue.measures["fpi-total"].derived_from
    examination = read({name: {"left": 1} for name in items[:5]}, catalogue)
    found = assess(examination, catalogue)
    assert [one.measure for one in found.scores if one.measure == "fpi-total"] == []
    assert [one.measure for one in found.findings if one.measure == "fpi-total"] == []
    assert told(found) == [("fpi-total", LEFT, "", ProblemKind.INCOMPLETE)]
    assert "Forefoot" in found.problems[0].message
    assert len(examination.readings) == 5
    whole = assess(read({name: {"left": 1} for name in items}, catalogue), catalogue)
    assert [(one.measure, one.value) for one in whole.scores] == [("fpi-total", 6)]
    assert told(whole) == []


def test_warn_limits_keep_the_value_and_say_so(catalogue: Catalogue) -> None:
    readings = {"lunge-distance": {"right": "25 cm", "left": "2 cm"}, "body-height": "4 ft 1 in"}
    found = assess(read(readings, catalogue), catalogue)
    assert told(found) == [
        ("body-height", None, "4 ft 1 in", ProblemKind.WARN),
        ("lunge-distance", LEFT, "2 cm", ProblemKind.WARN),
        ("lunge-distance", RIGHT, "25 cm", ProblemKind.WARN),
    ]
    assert found.problems[0].message == (
        "124.46 cm lies outside 130 to 210 cm, the usual span of this measure; the value is kept; "
        "look for a slip in number, sign and unit, or measure again."
    )
    child = read(readings, catalogue, patient={**ADULT, "birth_date": "2019-01-01"})
    assert [one.measure for one in assess(child, catalogue).problems] == ["lunge-distance"] * 2


def test_derived_values_have_warn_limits_as_well(catalogue: Catalogue) -> None:
    readings = {
        "navicular-height-neutral": {"left": [60, 61, 61], "right": 50},
        "navicular-height-resting": {"left": 30, "right": 45},
    }
    assert told(assess(read(readings, catalogue), catalogue)) == [
        ("navicular-drop", LEFT, "30.6666667", ProblemKind.WARN)
    ]


def test_a_measure_that_left_the_catalogue_is_kept_and_told(catalogue: Catalogue) -> None:
    gone = Reading("old-test", LEFT, Word("yes"), "yes")
    examination = replace(read({}, catalogue), readings={("old-test", LEFT): gone})
    found = assess(examination, catalogue)
    assert told(found) == [("old-test", LEFT, "yes", ProblemKind.RETIRED)]
    assert (found.findings, found.scores, found.cautions) == ((), (), ())
    assert found.problems[0].message.endswith(".")


def test_cautions_stand_by_tier_with_every_answer_they_rest_on(catalogue: Catalogue) -> None:
    readings = {
        "caution-fever": "yes",
        "caution-open-wound": {"right": "yes", "left": "no"},
        "caution-growing-lump": {"left": {"answer": "yes", "sites": ["navicular"]}},
        "caution-cannot-bear-weight": {"both": "yes"},
        "caution-numb-or-weak": "yes",
        "caution-calf-pain-swelling": {"left": {"absent": "declined"}},
        "diabetes": "yes",
        "four-steps": {"left": "neither"},
    }
    found = assess(read(readings, catalogue), catalogue)
    assert [(one.id, one.side, one.tier) for one in found.cautions] == [
        ("diabetic-foot-active", RIGHT, Tier.EMERGENCY),
        ("foot-infection", RIGHT, Tier.EMERGENCY),
        ("fracture", LEFT, Tier.SAME_DAY),
        ("fracture", RIGHT, Tier.SAME_DAY),
        ("systemic-illness", None, Tier.SAME_DAY),
        ("neurological-deficit", None, Tier.WITHIN_DAYS),
        ("malignancy", LEFT, Tier.CANCER_PATHWAY),
    ]
    yes = {name for name in readings if name.startswith("caution-")}
    yes.discard("caution-calf-pain-swelling")
    assert {because for one in found.cautions for because in one.because} == {
        *(f"measure:{name}" for name in yes),
        "measure:diabetes",
        "measure:four-steps",
    }
    assert all(one.action and one.source and one.decision is None for one in found.cautions)


def test_a_yes_that_leads_nowhere_yet_stands_behind_them(catalogue: Catalogue) -> None:
    readings = {"caution-history-of-cancer": "yes", "caution-open-wound": {"left": "yes"}}
    found = assess(read(readings, catalogue), catalogue)
    assert [(one.id, one.tier, one.because, one.side) for one in found.cautions] == [
        (None, None, ("measure:caution-open-wound",), LEFT),
        (None, None, ("measure:caution-history-of-cancer",), None),
    ]


@pytest.mark.parametrize(
    ("born", "fires"), [("1979", True), ("1979-04", True), ("2015", False), (None, False)]
)
def test_a_year_alone_is_age_enough_where_it_leaves_no_doubt(
    catalogue: Catalogue, born: str | None, fires: bool
) -> None:
    patient = {**ADULT, "birth_date": born}
    lump = {"caution-growing-lump": {"left": {"answer": "yes", "sites": ["navicular"]}}}
    found = assess(read(lump, catalogue, patient=patient), catalogue)
    branches = {one.branch for one in found.cautions}
    assert ("malignancy-lump" in branches) is fires
    assert found.cautions  # a yes is never lost, whatever the age


def test_what_a_caution_is(catalogue: Catalogue) -> None:
    assert is_caution("caution-fever", catalogue)
    assert is_caution("caution-growing-lump", catalogue)
    assert not is_caution("calf-circumference", catalogue)
    assert not is_caution("diabetes", catalogue)
    assert not is_caution("no-such", catalogue)
    assert said_yes(Reading("m", None, Word("yes")))
    assert said_yes(Reading("m", None, Sites("yes")))
    assert not said_yes(Reading("m", None, Sites("no")))
    assert not said_yes(Reading("m", None, Numbers(())))
    assert not said_yes(Reading("m", None, None))


def test_findings_stand_in_forms_order_left_before_right(catalogue: Catalogue) -> None:
    readings = {
        "single-leg-stance": {"right": 30, "left": 20},
        "lunge-distance": {"right": 10, "left": 9},
        "body-height": 170,
    }
    found = assess(read(readings, catalogue), catalogue)
    assert [(one.measure, one.side) for one in found.findings] == [
        ("body-height", None),
        ("lunge-distance", LEFT),
        ("lunge-distance", RIGHT),
        ("single-leg-stance", LEFT),
        ("single-leg-stance", RIGHT),
    ]
    assert [one.measure for one in found.differences] == ["lunge-distance", "single-leg-stance"]
    assert found.changes == ()


def test_an_earlier_visit_gives_changes_and_method_remarks(catalogue: Catalogue) -> None:
    def visit(distance: float, method: str | None, day: date) -> Examination:
        cell: Any = {"value": distance, "method": method} if method else distance
        readings = {
            "lunge-distance": {"left": cell, "right": distance},
            "goals": {"value": "run", "method": "by phone"} if method else "run",
            "heel-raise-count": {"left": {"absent": "declined", "method": "x"}},
        }
        return read(readings, catalogue, examined_on=day.isoformat())

    before = visit(5, "tape", TODAY - timedelta(30))
    now = visit(12, None, TODAY)
    found = assess(now, catalogue, before)
    assert [(one.measure, one.side) for one in found.changes] == [
        ("lunge-distance", LEFT),
        ("lunge-distance", RIGHT),
    ]
    assert {one.label for one in found.changes} <= set(ChangeLabel)
    remarks = [one for one in found.problems if one.kind is ProblemKind.METHOD_DIFFERS]
    assert [(one.measure, one.side) for one in remarks] == [
        ("goals", None),
        ("lunge-distance", LEFT),
    ]
    assert remarks[1].message == (
        "the method was tape and is now not stated; part of a change may be the method's."
    )
    assert assess(now, catalogue, now).changes != ()
    assert told(assess(now, catalogue, now)) == []


def test_a_method_of_a_measure_that_left_the_catalogue_is_not_compared(
    catalogue: Catalogue,
) -> None:
    old = Reading("old-test", None, Word("yes"), method="a")
    before = replace(read({}, catalogue), readings={("old-test", None): old})
    now = replace(before, readings={("old-test", None): replace(old, method="b")})
    assert {one.kind for one in assess(now, catalogue, before).problems} == {ProblemKind.RETIRED}


def test_assess_is_pure(catalogue: Catalogue) -> None:
    readings = {"lunge-distance": {"left": [9, 10, 8], "right": 12}, "body-mass": 82}
    examination = read(readings, catalogue)
    before = repr(examination)
    assert assess(examination, catalogue) == assess(examination, catalogue)
    assert repr(examination) == before


STIFF = {
    "complaint-site": {"left": ["met-head-2"]},
    "ankle-dorsiflexion-knee-straight": {"left": 2},
    "foot-length": {"left": 260},
    "shoe-drop": "4 mm",
}
EQUINUS = {"id": "gastroc-equinus-forefoot-load", "side": "left"}
LIFT = {"id": "heel-lift", "side": "left", "height": "6 mm"}
CHOICES: tuple[dict[str, Any], ...] = (
    {"hypotheses": {"accepted": [EQUINUS], "rejected": [], "own": []}},
    {"features": [LIFT]},
    {"features": [{**LIFT, "height": "9 mm"}], "aims": []},
    {"aims": [{"id": "offset-ankle-dorsiflexion-deficit", "side": "left"}]},
    {"features": [{"id": "walking-boot", "side": "left"}]},
    {},
)


def test_a_choice_is_judged_as_if_all_were_judged_anew(catalogue: Catalogue) -> None:
    now = read(STIFF, catalogue)
    known = assess(now, catalogue)
    for made in CHOICES:
        chosen = replace(now, decisions={**now.decisions, **made}, version=now.version + 1)
        found = assess_after((now, known), chosen, catalogue)
        assert found.reasons.views is known.reasons.views  # nothing else was worked out again
        assert found == assess(chosen, catalogue)
        now, known = chosen, found
    assert known.reasons.states.device
    assert known.reasons.plan.chosen


def test_the_plan_of_the_same_decisions_is_not_made_twice(catalogue: Catalogue) -> None:
    now = read(STIFF, catalogue)
    known = assess(now, catalogue)
    chosen = replace(now, decisions={**now.decisions, **CHOICES[0]}, version=now.version + 1)
    found = assess_after((now, known), chosen, catalogue)
    again = assess_after((now, known), replace(chosen, version=chosen.version + 1), catalogue)
    assert again.reasons.plan is found.reasons.plan
    other = replace(chosen, decisions={**chosen.decisions, **CHOICES[1]})
    assert assess_after((now, known), other, catalogue).reasons.plan != found.reasons.plan


def test_whatever_else_changes_is_judged_anew(catalogue: Catalogue) -> None:
    readings = {**STIFF, "caution-cold-pale-foot": {"left": "yes"}}
    now = read(readings, catalogue)
    known = assess(now, catalogue)
    decided = {"acute-limb-ischaemia": {"side": "left", "decision": "acted", "done": "sent on"}}
    acted = replace(now, decisions={**now.decisions, "cautions": decided})
    other = read({**readings, "shoe-drop": "9 mm"}, catalogue)
    older = replace(now, patient=replace(now.patient, birth_date="1950-01-01"))
    for changed in (acted, other, older):
        found = assess_after((now, known), changed, catalogue)
        assert found == assess(changed, catalogue)
        assert found.reasons.views is not known.reasons.views
    assert assess_after((now, known), acted, catalogue).cautions != known.cautions


def test_the_order_of_readings_does_not_matter(catalogue: Catalogue) -> None:
    readings = {"lunge-distance": {"left": 2, "right": 12}, "body-mass": 182, "diabetes": "yes"}
    examination = read(readings, catalogue)
    turned = replace(examination, readings=dict(reversed(examination.readings.items())))
    assert assess(turned, catalogue) == assess(examination, catalogue)


def test_answers_that_cannot_both_be_so_are_kept_and_marked(catalogue: Catalogue) -> None:
    readings = {
        "hallux-dorsiflexion": {"left": 20, "right": 60},
        "hallux-dorsiflexion-ray-loaded": {"left": "35 deg", "right": 30},
        "truncated-foot-length": {"both": 180},
        "foot-length": {"both": 250},
    }
    examination = read(readings, catalogue)
    found = assess(examination, catalogue)
    marked = [one for one in found.problems if one.kind is ProblemKind.CONTRADICTION]
    assert [(one.measure, one.side, one.value) for one in marked] == [
        ("hallux-dorsiflexion", LEFT, "20")
    ]
    assert "unloaded" in marked[0].message
    assert examination.reading("hallux-dorsiflexion", LEFT) is not None


def test_every_contradiction_of_forms_can_be_met(catalogue: Catalogue) -> None:
    readings = {
        "hallux-dorsiflexion": {"left": 20},
        "hallux-dorsiflexion-ray-loaded": {"left": 35},
        "ankle-dorsiflexion-knee-bent": {"left": 5},
        "ankle-dorsiflexion-knee-straight": {"left": 12},
        "lunge-angle-knee-bent": {"left": 30},
        "lunge-angle-knee-straight": {"left": 38},
        "truncated-foot-length": {"left": 250},
        "foot-length": {"left": 250},
        "dorsal-arch-height-standing": {"left": 66},
        "dorsal-arch-height-seated": {"left": 60},
        "caution-cannot-bear-weight": {"left": "no"},
        "four-steps": {"left": "neither"},
        "previous-ankle-sprain": {"left": "no"},
        "ankle-sprain-count": {"left": 2},
    }
    found = assess(read(readings, catalogue), catalogue).reasons.contradicted
    assert len(found) == len(catalogue.contradictions)
    made, whole = engine(catalogue), read(readings, catalogue)
    for one in found:
        for measure in one.measures:
            assert one in made.contradicted_by(measure, whole)
    assert made.contradicted_by("shoe-drop", whole) == ()
