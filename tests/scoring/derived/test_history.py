"""Sides of the complaint, injuries, lesions."""

from decimal import Decimal

import pytest

from footexam.record.reading import Numbers, Sites, Words
from footexam.scoring.derived import history
from footexam.scoring.derived.result import Derived
from footexam.scoring.visit import Visit
from tests.scoring.builders import LEFT, RIGHT, examination, measure


def visit(readings: dict) -> Visit:
    return Visit(examination(readings), {name: measure(name) for name, _ in readings})


def value(found: Derived | None) -> object:
    return found.value if found else None


@pytest.mark.parametrize(
    ("sides", "word"), [((LEFT,), "left"), ((RIGHT,), "right"), ((LEFT, RIGHT), "both"), ((), None)]
)
def test_sides_of_the_complaint(sides: tuple, word: str | None) -> None:
    seen = visit(
        {
            ("complaint-site", side): Words(("hallux",) if side in sides else ())
            for side in (LEFT, RIGHT)
        }
    )
    assert value(history.complaint_sides(seen)) == word
    assert history.complaint_sides(visit({("complaint-site", LEFT): "odd"})) is None


def test_weeks_since_the_newest_injury() -> None:
    rows = [{"date": "2024-01-01"}, {"date": "2026-02-11"}, {"what": "long ago"}]
    found = history.weeks_since_previous_injury(visit({("previous-injuries", None): rows}))
    assert found == Derived(Decimal(3), ("previous-injuries",))
    undated = visit({("previous-injuries", None): [{"what": "sprain"}]})
    assert history.weeks_since_previous_injury(undated) is None
    assert history.weeks_since_previous_injury(visit({})) is None


def test_lesion_questions_answered_yes_so_far() -> None:
    items = history.LESION_ITEMS
    some = {(items[0], LEFT): Sites("yes", ("hallux",)), (items[1], None): Sites("yes")}
    found = history.lesion_cubed_count(visit({**some, (items[2], LEFT): Sites("no")}), LEFT)
    assert found == Derived(Decimal(2), items[:3], items[3:])
    every = {(item, LEFT): Sites("no") for item in items}
    assert history.lesion_cubed_count(visit(every), LEFT) == Derived(Decimal(0), items)
    assert history.lesion_cubed_count(visit(every), RIGHT) is None
    numbers = visit({(items[0], LEFT): Numbers((Decimal(1),))})
    assert history.lesion_cubed_count(numbers, LEFT) is None
