"""Which marks count: the first marker's, a second marker beside, and what both agreed on."""

from dataclasses import replace

import pytest

from footexam.catalogue.marking import Rubric
from footexam.marking.rubric import Hand, Marks
from footexam.marking.standing import Apart, Standing, counting, standings
from tests.marking.build import CATALOGUE

RUBRIC = CATALOGUE.rubrics["whole-examination"]
EARLY, LATE = "2026-03-05T10:00:00Z", "2026-03-06T10:00:00Z"


def marks(
    mark: int = 3, hand: Hand = Hand.FIRST, signed: str | None = EARLY, **more: object
) -> Marks:
    given = {domain.id: mark for domain in RUBRIC.domains}
    made = Marks(RUBRIC.id, "A student", "A marker", ("V-1", ""), "2026-03-04", given, grade="pass")
    return replace(made, hand=hand, signed_at=signed, **more)  # type: ignore[arg-type]


def standing(*given: Marks) -> Standing:
    (found,) = standings(given).values()
    return found


def test_a_draft_counts_for_nothing() -> None:
    assert standing(marks(signed=None)).counts is None
    assert counting([marks(signed=None)]) == []


def test_the_first_markers_signed_marks_count_until_both_agree() -> None:
    first, second = marks(3), marks(2, Hand.SECOND)
    agreed = marks(1, Hand.MODERATION)
    assert standing(second).counts is None
    assert standing(second, first).counts == first
    assert standing(first, second, replace(agreed, signed_at=None)).counts == first
    assert standing(agreed, first, second).counts == agreed
    assert counting([first, second, agreed, marks(4, student="Another")]) == [
        agreed,
        marks(4, student="Another"),
    ]


def test_marks_signed_later_take_the_place_of_earlier_ones() -> None:
    old, new = marks(3), marks(2, signed=LATE, why_changed="The plan was overlooked.")
    draft = marks(1, signed=None)
    for order in ((old, new, draft), (new, draft, old)):
        found = standing(*order)
        assert found.counts == new
        assert found.drafts == {Hand.FIRST: draft}


def apart(
    first: Marks, second: Marks, cut: float | None = 50.0, rubric: Rubric = RUBRIC
) -> tuple[Apart, ...]:
    return standing(first, replace(second, hand=Hand.SECOND)).apart(rubric, cut)


@pytest.mark.common_practice
def test_markers_who_lie_far_apart_agree_together() -> None:
    """The limits are a policy of the rubric: 10 of 100 points, one step of the grade."""
    near = {**marks(3).domains, "technique": 1}  # 20 points of weight, two marks of four: 10 points
    assert apart(marks(3), marks(3, domains=near)) == ()
    far = {**near, "record": 2}
    assert apart(marks(3), marks(3, domains=far)) == (Apart.POINTS,)
    assert apart(marks(3), marks(3, grade="good")) == ()
    assert apart(marks(3), marks(3, grade="excellent")) == (Apart.GRADE,)
    assert apart(marks(3), marks(3, grade=None)) == ()


def test_one_who_passes_what_the_other_fails_agrees_whatever_the_points() -> None:
    near = {**marks(3).domains, "record": 2}  # 73.75 points against 75
    assert apart(marks(3), marks(3, domains=near), 74.0) == (Apart.VERDICT,)
    assert apart(marks(3), marks(3, domains=near), None) == ()
    critical = marks(3, critical=("no-consent",))
    assert apart(marks(3), critical, None) == (Apart.CRITICAL,)
    assert apart(marks(3), critical, 50.0) == (Apart.VERDICT, Apart.CRITICAL)
    assert apart(critical, critical, 50.0) == ()
    bare = replace(RUBRIC, moderation=None)
    assert apart(marks(4), marks(1, grade="fail"), None, bare) == ()


def test_marks_by_two_rubrics_cannot_be_held_against_each_other() -> None:
    other = Marks("measuring-station", "A student", "B", ("V-1", ""), "2026-03-04", signed_at=EARLY)
    assert apart(marks(), other) == (Apart.RUBRIC,)


def test_moderation_is_needed_from_both_signatures_until_it_is_signed() -> None:
    first, second = marks(4), marks(2, Hand.SECOND)
    assert not standing(first).needs_moderation(RUBRIC, None)
    assert not standing(first, replace(second, signed_at=None)).needs_moderation(RUBRIC, None)
    assert standing(first, second).needs_moderation(RUBRIC, None)
    agreed = marks(3, Hand.MODERATION)
    assert standing(first, second, replace(agreed, signed_at=None)).needs_moderation(RUBRIC, None)
    assert not standing(first, second, agreed).needs_moderation(RUBRIC, None)
    assert not standing(first, marks(4, Hand.SECOND)).needs_moderation(RUBRIC, None)
