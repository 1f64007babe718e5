"""Every kind of reading in words, with unit, repeats, what was typed, method, note and lateness."""

from decimal import Decimal

import pytest

from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    Reading,
    RegionValues,
    Rows,
    Sites,
    Text,
    Word,
    Words,
)
from footexam.reports.material import Material
from footexam.reports.values import remarks, value_lines
from footexam.terms import Absence
from tests.reports.builders import CATALOGUE, LEFT, assessment, examination, numbers

MATERIAL = Material(examination(), assessment(), CATALOGUE, "en")


@pytest.mark.parametrize(
    ("measure", "value", "lines"),
    [
        ("lunge-distance", numbers("10.0"), ["10.0 cm"]),
        ("ankle-dorsiflexion", numbers("9", "8", "11"), ["9.3 deg"]),
        ("onset", Word("gradual"), ["gradual"]),
        ("complaint-site", Words(("heel-plantar-medial",)), ["heel, plantar medial"]),
        ("complaint", Text("As typed; <b>"), ["As typed; <b>"]),
        ("caution-focal-bone-tenderness", Sites("no"), ["no"]),
        ("caution-focal-bone-tenderness", Sites("yes"), ["yes: place not given"]),
        (
            "caution-focal-bone-tenderness",
            Sites("yes", ("arch-central", "heel-plantar-medial")),
            ["yes: arch, central; heel, plantar medial"],
        ),
        (
            "tenderness",
            RegionValues({"arch-central": Decimal(0), "heel-plantar-medial": Decimal(6)}),
            ["arch, central 0 points", "heel, plantar medial 6 points"],
        ),
        (
            "allergies",
            Rows(({"what": "latex", "since": "2011-06"}, {"what": "iodine"})),
            ["what: latex; since: Jun-2011", "what: iodine"],
        ),
        ("allergies", NoneKnown(), ["none known"]),
        ("lunge-distance", numbers("9.9", "10.0", "10.0"), ["9.97 cm"]),
        ("ankle-dorsiflexion", numbers("9", "8", "10"), ["9 deg"]),
        ("allergies", Rows(({"since": "2011", "what": "latex"},)), ["what: latex; since: 2011"]),
        ("function-activities", Activities((("stairs", 4),)), ["stairs 4 of 10"]),
    ],
)
def test_values(measure: object, value: object, lines: list[str]) -> None:
    assert value_lines(Reading(measure, None, value), MATERIAL) == lines


@pytest.mark.parametrize("absence", list(Absence))
def test_absences_are_told_apart_and_never_a_value(absence: Absence) -> None:
    (told,) = value_lines(Reading("onset", None, None, absent=absence, reason="tired"), MATERIAL)
    assert told.endswith(" (tired)")
    others = {MATERIAL.phrases(other) for other in Absence if other is not absence}
    assert told.removesuffix(" (tired)") not in others | {"no", "0"}


def test_a_retired_measure_is_shown_as_typed() -> None:
    assert value_lines(Reading("old-thing", LEFT, Numbers(()), typed="7 lb"), MATERIAL) == ["7 lb"]


def test_remarks_in_their_order() -> None:
    reading = Reading(
        "ankle-dorsiflexion",
        LEFT,
        numbers("9", "8", "10"),
        typed="9 8 10",
        method="goniometer",
        note="heel just down",
        performed_at="2026-05-12T08:20:00Z",
    )
    assert remarks(reading, MATERIAL) == [
        "mean of 9, 8, 10 deg",
        "method: goniometer",
        "note: heel just down",
        "entered late, done 12-May-2026 08:20 UTC",
    ]


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("5 ft 4 in", True),
        ("1.6256 m", True),
        ("162.56", False),
        ("162,56 CM", False),
        ("162.56 cm", False),
    ],
)
def test_what_was_typed_stands_beside_only_for_another_unit(typed: str, shown: bool) -> None:
    reading = Reading("body-height", None, numbers("162.56"), typed=typed)
    assert (f"typed “{typed}”" in remarks(reading, MATERIAL)) is shown


def test_words_have_no_typed_remark() -> None:
    assert remarks(Reading("onset", None, Word("gradual"), typed="Gradual"), MATERIAL) == []
