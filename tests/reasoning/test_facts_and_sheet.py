"""The facts of an examination, and what they bring onto the sheet."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from footexam.assessment import assess
from footexam.catalogue.model import Catalogue
from footexam.reasoning.facts import Facts, gather
from footexam.reasoning.sheet import Sheet
from footexam.record.examination import Age, Examination, Patient, Person
from footexam.record.parse import parse
from footexam.record.reading import Reading
from footexam.terms import Absence, Depth, Sex, Side
from tests.shipped import shipped

LEFT, RIGHT = Side.LEFT, Side.RIGHT
Typed = dict[tuple[str, Side | None], object]


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return shipped()


def examined(catalogue: Catalogue, typed: Typed, born: str = "1980-05-01") -> Examination:
    readings = {}
    for (name, side), value in typed.items():
        if isinstance(value, Absence):
            readings[name, side] = Reading(name, side, None, absent=value)
        else:
            parsed = parse(value, catalogue.measures[name], catalogue)
            readings[name, side] = Reading(name, side, parsed.value, parsed.typed)
    patient = Patient("Quist", birth_date=born, sex=Sex.FEMALE)
    return Examination(patient, date(2026, 5, 12), Person("R. Lind"), readings=readings)


def facts_of(catalogue: Catalogue, typed: Typed, born: str = "1980-05-01") -> Facts:
    examination = examined(catalogue, typed, born)
    assessment = assess(examination, catalogue)
    states = assessment.reasons.states
    return gather(examination, assessment.scores, assessment.findings, catalogue, states)


def test_words_numbers_and_age(catalogue: Catalogue) -> None:
    facts = facts_of(
        catalogue,
        {
            ("first-ray-position", LEFT): "level",
            ("first-ray-position", RIGHT): "dorsiflexed",
            ("lunge-distance", LEFT): "9 10 8",
            ("lunge-distance", RIGHT): "4",
            ("activity-kind", None): ["running"],
            ("heel-raise-count", LEFT): Absence.DECLINED,
        },
    )
    assert facts.words["first-ray-position"] == {"level", "dorsiflexed"}
    assert facts.words["activity-kind"] == {"running"}
    assert facts.numbers["lunge-distance"] == (Decimal(9), Decimal(4))
    assert facts.recorded >= {"first-ray-position", "lunge-distance", "activity-kind"}
    assert "heel-raise-count" not in facts.recorded
    assert (facts.age, facts.sex, facts.states.gate_open) == (Age(46, 552), Sex.FEMALE, True)
    assert "lunge-distance" in facts.low
    assert "lunge-distance" not in facts.high


def test_derived_values_and_findings_above(catalogue: Catalogue) -> None:
    fpi = [name for name in catalogue.panels["standing"].measures if name.startswith("fpi-")]
    items = [name for name in fpi if name != "fpi-total"]
    facts = facts_of(catalogue, {(name, LEFT): 2 for name in items})
    assert facts.numbers["fpi-total"] == (Decimal(12),)
    assert "fpi-total" in facts.recorded
    assert "fpi-total" in facts.high


def test_derived_words_are_facts(catalogue: Catalogue) -> None:
    facts = facts_of(catalogue, {("complaint-site", LEFT): ["heel-plantar-medial"]})
    assert facts.words["complaint-sides"] == {"left"}


def test_regions_with_their_groups(catalogue: Catalogue) -> None:
    facts = facts_of(catalogue, {("complaint-site", LEFT): ["heel-plantar-medial"]})
    groups = set(catalogue.regions["heel-plantar-medial"].groups)
    assert groups
    assert facts.regions == {"heel-plantar-medial", *groups}


def test_a_yes_on_a_caution_shuts_the_gate(catalogue: Catalogue) -> None:
    open_gate = facts_of(catalogue, {("caution-open-wound", LEFT): "no"})
    shut_gate = facts_of(catalogue, {("caution-open-wound", LEFT): "yes"})
    site = {"answer": "yes", "sites": ["heel-plantar-medial"]}
    with_site = facts_of(catalogue, {("caution-focal-bone-tenderness", None): site})
    gates = [one.states.gate_open for one in (open_gate, shut_gate, with_site)]
    assert gates == [True, False, False]


# --- the sheet


def test_core_measures_are_always_there(catalogue: Catalogue) -> None:
    sheet, facts = Sheet(catalogue), facts_of(catalogue, {})
    for panel in catalogue.panels.values():
        on_sheet = sheet.of(panel.id, facts, frozenset(), more=False)
        core = {n for n in panel.measures if catalogue.measures[n].depth is Depth.CORE}
        assert core <= set(on_sheet.measures)
        assert on_sheet.hidden == len(panel.measures) - len(on_sheet.measures)


def test_more_shows_everything_in_order(catalogue: Catalogue) -> None:
    sheet, facts = Sheet(catalogue), facts_of(catalogue, {})
    for panel in catalogue.panels.values():
        whole = sheet.of(panel.id, facts, frozenset(), more=True)
        assert (whole.measures, whole.hidden) == (tuple(panel.measures), 0)


def test_what_is_recorded_stays_on_the_sheet(catalogue: Catalogue) -> None:
    sheet, facts = Sheet(catalogue), facts_of(catalogue, {})
    behind = [name for name, one in catalogue.measures.items() if one.depth is Depth.MORE]
    assert behind
    for name in behind:
        panel = catalogue.measures[name].panel
        assert name not in sheet.of(panel, facts, frozenset(), more=False).measures
        assert name in sheet.of(panel, facts, frozenset({name}), more=False).measures


def test_a_child_brings_its_questions(catalogue: Catalogue) -> None:
    sheet = Sheet(catalogue)
    child = facts_of(catalogue, {}, born="2018-05-01")
    adult = facts_of(catalogue, {})
    named = [n for n, one in catalogue.measures.items() if "age<18" in one.when]
    assert named
    for measure in named:
        panel = catalogue.measures[measure].panel
        assert measure in sheet.of(panel, child, frozenset(), more=False).measures
    brought = [n for n in named if catalogue.measures[n].when == "age<18"]
    for measure in brought:
        panel = catalogue.measures[measure].panel
        assert measure not in sheet.of(panel, adult, frozenset(), more=False).measures


def test_derived_measures_come_with_their_inputs(catalogue: Catalogue) -> None:
    sheet = Sheet(catalogue)
    without = sheet.of("standing", facts_of(catalogue, {}), frozenset(), more=False)
    one = facts_of(catalogue, {("fpi-talar-head", LEFT): 1})
    assert "fpi-total" not in without.measures
    assert "fpi-total" in sheet.of("standing", one, frozenset(), more=False).measures


def test_other_facts_are_not_taken_for_the_last_ones(catalogue: Catalogue) -> None:
    """Conditions are worked out once for the facts of an entry, and anew for others."""
    sheet = Sheet(catalogue)
    facts = facts_of(catalogue, {})
    child = replace(facts, age=Age(8, 96))
    first = [sheet.of(p, facts, frozenset(), more=False) for p in catalogue.panels]
    between = [sheet.of(p, child, frozenset(), more=False) for p in catalogue.panels]
    again = [sheet.of(p, facts, frozenset(), more=False) for p in catalogue.panels]
    assert first == again
    assert first != between


def test_what_is_worked_out_stands_on_the_sheet_beside_what_was_read(catalogue: Catalogue) -> None:
    items = catalogue.measures["fpi-total"].derived_from
    typed: Typed = {(name, LEFT): "1" for name in items}
    recorded = frozenset(items)
    shown = Sheet(catalogue).of("standing", facts_of(catalogue, typed), recorded, more=False)
    assert {"fpi-total", *items} <= set(shown.measures)
