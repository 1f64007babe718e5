"""The cautions box: every yes is in it, in the caution colour; what was not asked is said."""

from dataclasses import replace

import pytest

from footexam.assessment import Caution
from footexam.drawing.palette import Ink
from footexam.record.reading import Reading, Sites, Word
from footexam.record.withdrawn import Withdrawn
from footexam.reports.blocks import Box, Para
from footexam.reports.cautions import caution_box
from footexam.reports.material import Material
from footexam.terms import Absence, Side
from tests.reports import argued_builders as argued
from tests.reports.builders import (
    CATALOGUE,
    LEFT,
    RIGHT,
    assessment,
    cautions_no,
    entry,
    examination,
)

COLD = "caution-cold-pale-foot"
BONE = "caution-focal-bone-tenderness"
FEVER = "caution-fever-or-spreading-redness"


def box(readings: dict[tuple[str, Side | None], Reading], *cautions: Caution) -> Box:
    made = caution_box(
        Material(examination(readings), assessment(cautions=cautions), CATALOGUE, "en")
    )
    assert isinstance(made, Box)
    return made


def lines(made: Box) -> list[str]:
    return ["".join(t for t, _ in b.spans) for b in made.blocks if isinstance(b, Para)]


def inks(made: Box) -> set[Ink]:
    spans = [span for b in made.blocks if isinstance(b, Para) for span in b.spans]
    return {made.ink} | {style.ink for _, style in spans}


def yes(measure: str, side: Side | None = None, **more: object) -> Caution:
    made = Caution(None, None, side, None, (f"measure:{measure}",))
    return replace(made, **more)


def test_twelve_answers_of_no() -> None:
    made = box(cautions_no())
    assert lines(made) == ["Cautions   12 of 12 asked, none answered yes."]
    assert Ink.CAUTION not in inks(made)


def test_nothing_asked() -> None:
    made = box({})
    assert lines(made)[0] == "Cautions   None of the 12 opening questions was asked."
    assert lines(made)[1].count(";") >= 11
    assert lines(made)[1].startswith("Not asked: Cannot put weight on it")
    assert "left" not in lines(made)[1].split(";")[0]


def test_one_not_asked_one_declined_one_on_one_side_only() -> None:
    readings = cautions_no(but=(FEVER, COLD, BONE))
    readings |= dict(
        [
            entry(FEVER, None, absent=Absence.DECLINED, reason="in a hurry"),
            entry(COLD, Word("no"), LEFT),
        ]
    )
    told = lines(box(readings))
    assert told[0] == "Cautions   9 of 12 asked, none answered yes."
    label = CATALOGUE.measures[COLD].label["en"]
    bone = CATALOGUE.measures[BONE].label["en"]
    fever = CATALOGUE.measures[FEVER].label["en"]
    assert set(told[1:]) == {
        f"Not asked: {bone}; {label}, right.",
        f"Declined: {fever} (in a hurry).",
    }


def test_absences_that_differ_between_the_sides_are_told_apart() -> None:
    readings = cautions_no(but=(COLD,))
    readings |= dict(
        [
            entry(COLD, None, LEFT, absent=Absence.DECLINED),
            entry(COLD, None, RIGHT, absent=Absence.COULD_NOT_BE_TESTED, reason="cast"),
        ]
    )
    label = CATALOGUE.measures[COLD].label["en"]
    assert set(lines(box(readings))[1:]) == {
        f"Declined: {label}, left.",
        f"Could not be tested: {label}, right (cast).",
    }


def test_a_yes_comes_first_in_the_caution_colour_with_its_side() -> None:
    readings = cautions_no(but=(COLD,)) | dict(
        [entry(COLD, Word("yes"), LEFT, note="since noon"), entry(COLD, Word("no"), RIGHT)]
    )
    made = box(readings, yes(COLD, LEFT))
    told = lines(made)
    assert told[0] == "Cautions   1 answered yes."
    label = CATALOGUE.measures[COLD].label["en"]
    assert told[1] == f"Left: {label}    Note: since noon · no decision recorded"
    assert told[2] == "12 of the 12 opening questions asked."
    assert made.ink is Ink.CAUTION
    assert Ink.CAUTION in inks(made)


def test_a_bare_yes_says_that_it_counts_for_both_sides() -> None:
    readings = cautions_no(but=(COLD,)) | dict([entry(COLD, Word("yes"))])
    told = lines(box(readings, yes(COLD)))
    assert told[1].startswith("Side not stated, counts for both: ")
    assert told[2] == "12 of the 12 opening questions asked."


def test_a_yes_without_its_place_says_so() -> None:
    readings = cautions_no(but=(BONE,)) | dict([entry(BONE, Sites("yes"), LEFT)])
    told = lines(box(readings, yes(BONE, LEFT)))
    assert "Place not given, counts as the most serious" in told[1]


def test_a_yes_that_the_assessment_lacks_is_still_shown() -> None:
    readings = cautions_no(but=(FEVER,)) | dict([entry(FEVER, Word("yes"))])
    made = box(readings)
    assert lines(made)[0] == "Cautions   1 answered yes."
    assert CATALOGUE.measures[FEVER].label["en"] in lines(made)[1]
    assert made.ink is Ink.CAUTION


@pytest.mark.parametrize(
    ("decision", "words"),
    [
        ("acted", "decision: acted on"),
        ("excluded", "decision: excluded"),
        ("transferred", "decision: transferred"),
    ],
)
def test_a_reasoned_caution_says_how_soon_what_to_do_and_what_was_decided(
    decision: str, words: str
) -> None:
    readings = cautions_no(but=(FEVER,)) | dict([entry(FEVER, Word("yes"))])
    caution = yes(
        FEVER,
        id="foot-infection",
        tier="same-day",
        action="See a doctor today.",
        source="common-practice",
        decision=decision,
    )
    (told,) = [line for line in lines(box(readings, caution)) if "See a doctor" in line]
    assert f"Same day · See a doctor today. [1] · {words}" in told


def test_several_yes_are_counted() -> None:
    readings = cautions_no(but=(FEVER, COLD)) | dict(
        [entry(FEVER, Word("yes")), entry(COLD, Word("yes"), LEFT), entry(COLD, Word("yes"), RIGHT)]
    )
    made = box(readings, yes(FEVER), yes(COLD, LEFT), yes(COLD, RIGHT))
    assert lines(made)[0] == "Cautions   3 answered yes."


# --- cautions of forms/


def reasoned(*cautions: Caution, **more: object) -> list[str]:
    """The lines of the box of an examination with cautions of the made forms."""
    readings = cautions_no(but=(COLD,)) | dict(
        [entry(COLD, Word("yes"), LEFT, note="since noon"), entry(COLD, Word("yes"), RIGHT)]
    )
    page = str(more.pop("page", ""))
    made = caution_box(
        Material(
            examination(readings, **more), assessment(cautions=cautions), argued.CATALOGUE, "en"
        ),
        page,
    )
    assert isinstance(made, Box)
    return lines(made)


LIMB = argued.CAUTION
OTHER_LIMB = replace(LIMB, side=RIGHT)


def test_a_caution_is_told_once_whatever_number_of_answers_it_rests_on() -> None:
    told = reasoned(LIMB)
    assert sum("Bloodless limb" in line for line in told) == 1
    label = CATALOGUE.measures[COLD].label["en"]
    assert told[2] == (
        f"The foot turned cold suddenly. Rests on: {label}: yes, note: since noon; Onset."
    )
    # the yes of the other side rests under no caution and stays
    assert told[0] == "Cautions   1 raised, 1 of them without a decision. Besides, answered yes: 1."
    assert any(line.startswith(f"Right: {label}") for line in told)


def test_the_same_caution_on_both_sides_is_one_line_that_names_both() -> None:
    told = reasoned(LIMB, OTHER_LIMB)
    assert told[0] == "Cautions   1 raised, 1 of them without a decision."
    assert told[1].startswith("Left and right: Bloodless limb    Emergency · Call the surgeon")
    label = CATALOGUE.measures[COLD].label["en"]
    assert f"{label}: left yes, note: since noon, right yes" in told[2]
    assert any("Held back" in line and "left and right: advice to load" in line for line in told)


def test_cautions_of_two_sides_with_different_decisions_stand_apart() -> None:
    made = {"limb": {**argued.DONE, "side": "left"}}
    decided = replace(LIMB, decision="acted")
    told = reasoned(decided, OTHER_LIMB, decisions={"cautions": made})
    assert told[0] == "Cautions   2 raised, 1 of them without a decision."
    assert told[1].startswith("Left: Bloodless limb")
    assert told[1].endswith("acted on · Rang the surgeon. · N. Haddad · 12-May-2026 09:40 UTC")
    (right,) = [line for line in told if line.startswith("Right: Bloodless limb")]
    assert right.endswith("no decision recorded")
    assert any("Held back" in line and "right: advice to load, devices" in line for line in told)


def test_where_room_is_short_what_it_rests_on_stands_on_the_page_that_is_named() -> None:
    told = reasoned(LIMB, page="3")
    assert not any("Rests on" in line for line in told)
    assert any("What each caution rests on: page 3." in line for line in told)
    assert "Emergency · Call the surgeon on call now. [1] · no decision recorded" in told[1]


def test_a_decision_about_a_danger_that_has_not_fired_stays() -> None:
    made = {"old-danger": [{**argued.DONE, "side": "left"}, {**argued.DONE, "side": None}]}
    told = reasoned(LIMB, decisions={"cautions": made})
    assert sum(line.startswith("Old danger, left    decision: acted on") for line in told) == 1
    assert sum(line.startswith("Old danger    decision: acted on") for line in told) == 1
    assert told[1].endswith("no decision recorded")


def test_a_yes_that_was_taken_back_stays_on_paper_with_who_when_and_why() -> None:
    gone = (
        Withdrawn(COLD, LEFT, "R. Lindqvist", argued.AT, "asked about the wrong foot"),
        Withdrawn(FEVER, None, "R. Lindqvist", argued.AT, ""),
    )
    material = Material(
        examination(cautions_no(), withdrawn=gone), assessment(), argued.CATALOGUE, "en"
    )
    made = caution_box(material)
    assert isinstance(made, Box)
    told = lines(made)
    label, fever = (CATALOGUE.measures[one].label["en"] for one in (COLD, FEVER))
    assert (
        f"Yes taken back: {label}, left, by R. Lindqvist, 12-May-2026 09:40 UTC. "
        "Asked about the wrong foot" in told
    )
    assert (
        f"Yes taken back: {fever}, by R. Lindqvist, 12-May-2026 09:40 UTC. No reason given." in told
    )


def test_a_caution_that_has_left_forms_is_told_by_its_id() -> None:
    gone = replace(LIMB, id="gone-danger", branch="gone", source="unknown-paper")
    told = reasoned(gone)
    assert told[1].startswith("Left: Gone danger    Emergency · Call the surgeon on call now. [1]")


def test_a_yes_that_leads_nowhere_yet_holds_back_what_provokes_the_pain() -> None:
    readings = cautions_no(but=(COLD,)) | dict([entry(COLD, Word("yes"), LEFT)])
    told = lines(box(readings, yes(COLD, LEFT)))
    held = "Held back until what was done is recorded: left: tests that provoke the pain."
    assert told[3] == held
    assert held not in lines(box(readings, yes(COLD, LEFT, decision="acted")))


def test_a_decision_about_a_yes_stands_beside_it_with_who_and_when() -> None:
    readings = cautions_no(but=(COLD,)) | dict([entry(COLD, Word("yes"), LEFT)])
    made = examination(readings, decisions={"cautions": {COLD: {**argued.DONE, "side": "left"}}})
    caution = yes(COLD, LEFT, decision="acted")
    told = caution_box(Material(made, assessment(cautions=(caution,)), CATALOGUE, "en"))
    assert isinstance(told, Box)
    said = [line for line in lines(told) if "acted on" in line]
    label = CATALOGUE.measures[COLD].label["en"]
    done = "Decision: acted on · Rang the surgeon. · N. Haddad · 12-May-2026 09:40 UTC"
    assert said == [f"Left: {label}    {done}"]
