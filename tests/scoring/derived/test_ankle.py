"""The ankle pattern: worked values of the notes, and what the rule rests on."""

from decimal import Decimal

import pytest

from footexam.scoring.derived import ankle
from footexam.scoring.results import BandShown
from footexam.scoring.visit import Visit
from footexam.terms import Provenance
from tests.published.cases import forms
from tests.scoring.builders import LEFT, RIGHT, examination, measure


def visit(**readings: object) -> Visit:
    names = {
        "straight": ankle.STRAIGHT,
        "bent": ankle.BENT,
        "feel": ankle.END_FEEL,
        "torque": ankle.TORQUE,
    }
    found = {(names[key], LEFT): value for key, value in readings.items() if value is not None}
    measures = {name: measure(name) for name in names.values()}
    return Visit(examination(found), measures | {ankle.PATTERN: forms().measures[ankle.PATTERN]})


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("straight", "bent", "feel", "word"),
    [
        ("4", "18", "firm", "gastrocnemius"),
        ("4", "9", "firm", "gastrocnemius-soleus"),
        ("4", "9", "hard", "gastrocnemius-soleus"),
        ("4", "8", "hard", "possible-bony-block"),
        ("4", "9", "soft", "gastrocnemius-soleus"),
        ("4", "9", None, "gastrocnemius-soleus"),
        ("5", None, "hard", "restricted-bent-missing"),
        ("5", "18", None, "gastrocnemius"),
        ("5", "10", None, "gastrocnemius-soleus"),
        ("5", "10.5", None, "gastrocnemius"),
        ("5.5", None, None, "borderline"),
        ("10", "20", None, "borderline"),
        ("10.5", None, None, "not-restricted"),
        ("12", "7", None, "inconsistent"),
        ("12", "9", None, "not-restricted"),
        ("12", "8.9", None, "inconsistent"),
    ],
)
def test_patterns(straight: str, bent: str | None, feel: str | None, word: str) -> None:
    degrees = None if bent is None else Decimal(bent)
    found = ankle.ankle_pattern(visit(straight=Decimal(straight), bent=degrees, feel=feel), LEFT)
    assert found is not None
    assert found.value == word


def test_no_straight_knee_no_pattern() -> None:
    assert ankle.ankle_pattern(visit(bent=10, feel="hard"), LEFT) is None
    assert ankle.ankle_pattern(visit(straight=4), RIGHT) is None


def test_repeats_are_averaged() -> None:
    assert ankle.ankle_pattern(visit(straight=(4, 5, 7)), LEFT).value == "borderline"


RULE = BandShown(
    "ankle-pattern", "gastrocnemius", "common-practice", Provenance.COMMON_PRACTICE, default=True
)


@pytest.mark.parametrize("torque", [None, "7.9", "12.1"])
def test_a_hand_pushed_reading_rests_on_common_practice(torque: str | None) -> None:
    newton_metres = None if torque is None else Decimal(torque)
    found = ankle.ankle_pattern(visit(straight=4, bent=18, torque=newton_metres), LEFT)
    assert found.bands == (RULE,)


@pytest.mark.parametrize("torque", ["8", "10", "12"])
def test_near_10_newton_metres_the_straight_limit_is_published(torque: str) -> None:
    found = ankle.ankle_pattern(visit(straight=4, bent=18, torque=Decimal(torque)), LEFT)
    band = BandShown(
        "ankle-straight-10-nm", "restricted", "digiovanni-2002", Provenance.PUBLISHED, default=False
    )
    assert found.bands == (RULE, band)
    loose = ankle.ankle_pattern(visit(straight=6, torque=Decimal(torque)), LEFT)
    assert loose.bands[1].band == "not-restricted"


def test_inputs_are_what_was_recorded() -> None:
    full = visit(straight=4, bent=9, feel="hard", torque=10)
    assert ankle.ankle_pattern(full, LEFT).inputs == (
        ankle.STRAIGHT, ankle.BENT, ankle.END_FEEL, ankle.TORQUE,
    )  # fmt: skip
    assert ankle.ankle_pattern(visit(straight=4), LEFT).inputs == (ankle.STRAIGHT,)
