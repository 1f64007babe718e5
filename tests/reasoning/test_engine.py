"""The engine of a catalogue: built once, cautions apart, what leads and what does not."""

from dataclasses import replace
from typing import Any

import pytest

from footexam.assessment import assess
from footexam.catalogue.model import Catalogue
from footexam.reasoning.engine import LEADING, NOTHING, Engine, engine
from footexam.terms import Side
from tests.reasoning.making import (
    LEFT,
    RIGHT,
    Readings,
    assessed,
    branch,
    catalogue,
    condition,
    defeater,
    examination,
    forms,
    gate,
    hypothesis,
    row,
    sign,
)

ONSET = 'onset == "sudden"'
LEVEL = 'first-ray-position == "level"'


def test_it_is_built_once_and_kept_with_its_catalogue() -> None:
    made = catalogue(hypotheses=[hypothesis("one", [ONSET])])
    assert engine(made) is engine(made)
    assert engine(catalogue()) is not engine(made)


def test_each_text_is_compiled_once() -> None:
    found = Engine(catalogue(hypotheses=[hypothesis("one", [ONSET], [ONSET], [LEVEL])]))
    assert found.rule(ONSET) is found.thoughts[0].require[0].rule
    assert found.rule(ONSET) is found.thoughts[0].support[0].rule
    assert [one.row.when for one in found.thoughts[0].rows] == [ONSET, ONSET, LEVEL]


def test_nothing_recorded_argues_nothing() -> None:
    made = catalogue(
        hypotheses=[hypothesis("one", [ONSET])],
        cautions=[sign("a", branch("a", ONSET))],
        gates=[gate("g", ["hop-test"], (ONSET, "Sudden."))],
        defeaters=[defeater("d", ["onset"], ONSET, "Odd.")],
    )
    found = assessed({}, made).reasons
    assert (found.cautions, found.arguments, found.nearly, found.sides) == ((), (), (), ())
    assert found.leading == ()
    assert not found.why_now
    assert NOTHING.leading == ()


def test_an_empty_catalogue_reasons_about_nothing() -> None:
    found = assessed({"onset": "sudden"}, catalogue()).reasons
    assert (found.cautions, found.arguments, found.suggested.idle) == ((), (), ())


def leading(readings: Readings, made: Catalogue) -> list[tuple[str, Side | None]]:
    return [(one.id, one.side) for one in assessed(readings, made).reasons.leading]


def test_three_lead_on_a_side_and_each_with_a_point_at_least() -> None:
    many = [hypothesis(f"h{points}", [row(LEVEL, points)]) for points in (0, 0.4, 1, 2, 3, 4)]
    rays = {"first-ray-position": {"both": "level"}}
    expected = ["h4", "h3", "h2"]
    assert leading(rays, catalogue(hypotheses=many)) == [
        (name, side) for name in expected for side in (LEFT, RIGHT)
    ]
    assert len(expected) == LEADING
    few = catalogue(hypotheses=many[:3])
    assert leading(rays, few) == [("h1", LEFT), ("h1", RIGHT)]


def test_what_speaks_against_it_can_take_the_lead_away() -> None:
    one = hypothesis("one", [row(LEVEL, 3)], (), [row(ONSET, 3)])
    rays: Readings = {"first-ray-position": {"right": "level"}}
    made = catalogue(hypotheses=[one])
    assert leading(rays, made) == [("one", RIGHT)]
    assert leading({**rays, "onset": "sudden"}, made) == []
    (argument,) = assessed({**rays, "onset": "sudden"}, made).reasons.arguments
    assert argument.points == 0


# --- what concerns the place that hurts

HEEL = condition("heel", ["heel-plantar"])
TOE = condition("toe", ["hallux"])


def concerned(site: object, **more: Any) -> list[tuple[str, bool]]:
    rays = {"first-ray-position": {"right": "level"}}
    readings: Readings = {**rays, **({"complaint-site": {"right": site}} if site else {})}
    made = catalogue(
        hypotheses=[
            hypothesis("heel", [LEVEL], conditions=["heel"]),
            hypothesis("toe", [LEVEL], conditions=["toe"]),
            hypothesis("nowhere", [LEVEL], conditions=[]),
            hypothesis("unknown", [LEVEL], conditions=["elsewhere"]),
        ],
        conditions=(HEEL, TOE),
        **more,
    )
    found = assessed(readings, made).reasons
    assert [one.id for one in found.leading] == [one.id for one in found.arguments if one.concerns][
        :LEADING
    ]
    return sorted((one.id, one.concerns) for one in found.arguments)


def test_what_is_felt_elsewhere_is_open_and_does_not_lead() -> None:
    assert concerned(["heel-plantar-medial"]) == [
        ("heel", True),
        ("nowhere", False),
        ("toe", False),
        ("unknown", False),
    ]
    assert ("toe", True) in concerned(["hallux"])
    # where nothing is known of the place, nothing is left out
    assert all(concerns for _, concerns in concerned(None))


def test_what_is_felt_elsewhere_is_not_asked_for() -> None:
    made = catalogue(
        hypotheses=[
            hypothesis("heel", ["age > 1", LEVEL], conditions=["heel"]),
            hypothesis("toe", ["age > 1", 'hallux-lift-test == "absent"'], conditions=["toe"]),
        ],
        conditions=(HEEL, TOE),
    )
    readings = {"complaint-site": {"right": ["heel-plantar"]}}
    found = assessed(readings, made).reasons
    assert [one.thought.hypothesis.id for one in found.nearly] == ["heel"]


def test_a_place_that_left_the_map_is_no_place() -> None:
    found = examination({"complaint-site": {"right": ["heel-plantar"]}, "onset": "sudden"})
    made = replace(
        catalogue(hypotheses=[hypothesis("one", [ONSET])]),
        regions={name: one for name, one in forms().regions.items() if name != "heel-plantar"},
        conditions={},
    )
    reasons = engine(made).reason(_seen(found), {})
    assert [one.concerns for one in reasons.arguments] == [True]


def _seen(found: Any) -> Any:
    from tests.reasoning.making import seen

    return seen(found)


def test_why_now() -> None:
    old = hypothesis("old", [ONSET])
    new = hypothesis("new", [LEVEL], why_now=True)
    made = catalogue(hypotheses=[old, new])
    assert not assessed({"onset": "sudden"}, made).reasons.why_now
    rays = {"first-ray-position": {"right": "level"}}
    assert assessed({"onset": "sudden", **rays}, made).reasons.why_now


def test_sides_with_a_complaint() -> None:
    for sides, expected in (
        ({"left": ["navicular"]}, (LEFT,)),
        ({"both": ["navicular"]}, (LEFT, RIGHT)),
        ({"left": {"absent": "declined"}}, ()),
    ):
        found = assessed({"complaint-site": sides}, catalogue()).reasons
        assert found.sides == expected


def test_cautions_are_found_whatever_is_struck() -> None:
    made = catalogue(
        cautions=[sign("a", branch("a", "heel-raise-count < 5"))],
        defeaters=[defeater("d", ["heel-raise-count"], "heel-raise-pain >= 4", "It hurt.")],
    )
    readings = {"heel-raise-count": {"right": 1}, "heel-raise-pain": {"right": 9}}
    assert [one.id for one in assessed(readings, made).cautions] == ["a"]


@pytest.mark.parametrize("name", ["onset", "first-ray-position"])
def test_an_examination_is_not_changed_by_reasoning(name: str) -> None:
    readings = {"onset": "sudden", "first-ray-position": {"right": "level"}}
    found = examination(readings)
    before = dict(found.readings)
    made = catalogue(hypotheses=[hypothesis("one", [ONSET, LEVEL])])
    assert assess(found, made) == assess(found, made)
    assert found.readings == before
    assert any(key[0] == name for key in before)
