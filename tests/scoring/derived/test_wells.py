"""The two-level score for deep vein thrombosis."""

from decimal import Decimal

import pytest

from footexam.scoring.derived import wells
from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import Visit
from tests.published.cases import forms
from tests.scoring.builders import LEFT, RIGHT, examination, measure, text

NONE = {
    **{(item, None): "no" for item in wells.GENERAL},
    **{(item, LEFT): "no" for item in wells.OF_THE_LEG},
    (wells.CALF, LEFT): 36,
    (wells.CALF, RIGHT): 36,
}


def visit(readings: dict, **options: object) -> Visit:
    measures = {name: measure(name) for name, _ in readings}
    measures[wells.SCORE] = forms().measures[wells.SCORE]
    return Visit(examination(readings, **options), measures)


def both(readings: dict, **options: object) -> tuple[object, object]:
    seen = visit(readings, **options)
    found = wells.two_level(seen, LEFT), wells.positives(seen, LEFT)
    return tuple(one.value if one else None for one in found)


def test_all_negative_is_unlikely() -> None:
    assert both(NONE) == ("unlikely", 0)
    assert wells.two_level(visit(NONE), LEFT).inputs == wells.ITEMS


@pytest.mark.parametrize(
    "item", [(item, None) for item in wells.GENERAL] + [(item, LEFT) for item in wells.OF_THE_LEG]
)
def test_each_answer_counts_one(item: tuple) -> None:
    assert both(NONE | {item: "yes"}) == ("unlikely", 1)


@pytest.mark.parametrize(("own", "count"), [("39", 1), ("38.9", 0), ("33", 0)])
def test_a_calf_at_least_3_cm_larger(own: str, count: int) -> None:
    assert both(NONE | {(wells.CALF, LEFT): Decimal(own)})[1] == count


@pytest.mark.derived
def test_worked_example_with_an_alternative() -> None:
    # immobilised, calf +3.5 cm, tender; a rupture as likely: 1 point, but 3 positives
    three = NONE | {
        ("leg-paralysis-or-cast", None): "yes",
        (wells.CALF, LEFT): Decimal("39.5"),
        ("deep-vein-tender", LEFT): "yes",
    }
    assert both(three) == ("likely", 3)
    named = three | {(wells.ALTERNATIVE, LEFT): text("Achilles rupture")}
    assert both(named) == ("unlikely", 3)
    assert wells.ALTERNATIVE in wells.two_level(visit(named), LEFT).inputs
    # an empty line names nothing
    assert both(three | {(wells.ALTERNATIVE, LEFT): text("")}) == ("likely", 3)


def test_two_points_are_likely() -> None:
    two = NONE | {("active-cancer", None): "yes", ("collateral-veins", LEFT): "yes"}
    assert both(two) == ("likely", 2)


def test_every_item_is_needed_and_positives_are_counted_meanwhile() -> None:
    some = {("deep-vein-tender", LEFT): "yes", ("previous-clot", None): "yes"}
    assert both(some) == (None, 2)
    found = wells.two_level(visit(some), LEFT)
    assert set(found.missing) == set(wells.ITEMS) - {"deep-vein-tender", "previous-clot"}
    one_calf = {(wells.CALF, LEFT): 40}
    assert both(one_calf) == (None, 0)
    # the other leg, not looked at: general answers count, nothing is called missing
    general = {("bed-rest-or-surgery-12-weeks", None): "yes"}
    assert both(general) == (None, 1)
    assert wells.two_level(visit(general), LEFT) is None


def test_the_general_history_alone_opens_no_score() -> None:
    history = {("active-cancer", None): "yes", ("previous-clot", None): "yes"}
    assert both(history) == (None, None)
    assert both({}) == (None, None)


@pytest.mark.parametrize(
    "bar", [{("pregnant-or-recent-birth", None): "yes"}, {("injects-drugs", None): "yes"}]
)
def test_barred(bar: dict) -> None:
    assert both(NONE | bar) == (None, None)
    assert both(NONE | dict.fromkeys(bar, "no")) == ("unlikely", 0)


def test_adults_only() -> None:
    assert both(NONE, years=17) == (None, None)
    assert both(NONE, years=18) == ("unlikely", 0)
    # no age: positives, but no score
    assert both(NONE, years=None) == (None, 0)


def test_the_other_leg_is_scored_by_itself() -> None:
    right = {(item, RIGHT): "no" for item in wells.OF_THE_LEG}
    larger = visit(NONE | right | {(wells.CALF, LEFT): 40})
    assert wells.positives(larger, LEFT).value == 1
    assert wells.positives(larger, RIGHT) == Derived(Decimal(0), wells.ITEMS)


@pytest.mark.parametrize("nothing", ["no", "None", "none.", "-", "?", "n/a", "Nil", " unknown "])
def test_what_names_nothing_takes_nothing_off(nothing: str) -> None:
    three = NONE | {
        ("leg-paralysis-or-cast", None): "yes",
        ("deep-vein-tender", LEFT): "yes",
        (wells.ALTERNATIVE, LEFT): text(nothing),
    }
    assert both(three) == ("likely", 2)
    named = three | {(wells.ALTERNATIVE, LEFT): text("no doubt a calf strain")}
    assert both(named) == ("unlikely", 2)
