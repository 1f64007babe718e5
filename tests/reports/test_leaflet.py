"""The leaflet: one page in plain words, from the plan, held back while a danger stands."""

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from footexam.assessment import Assessment, assess
from footexam.catalogue.letters import Document, slots_of
from footexam.demo import demo_files, previous
from footexam.mechanics.stack import ForefootRoom, HeelRoom
from footexam.reasoning.planned import ShoeRoom
from footexam.record.examination import Examination, Patient
from footexam.record.reading import Text, Word, Words
from footexam.reports.leaflet import leaflet
from footexam.reports.letter import UnknownBlock
from footexam.terms import Sex, Side
from tests.reports import builders as b
from tests.reports.hostile import FOUR_THOUSAND, LONG_WORD, MARKUP
from tests.reports.pages import ink_boxes, texts, whole_text
from tests.reports.reading_age import grade
from tests.reports.test_demo_reports import CATALOGUE, examination
from tests.reports.test_patient_copy import OLDEST
from tests.reports.test_referral import bare

FILES = demo_files()
ALL = {path.stem: examination(path) for path in FILES}
HELD, PLANNED, LIFTED = (
    "04-diabetes-wound-visit-1",
    "06-medial-ankle-pain-visit-2",
    "03-heel-pain-visit-2",
)
BLOCKS = [one for one in CATALOGUE.blocks.values() if one.document is Document.LEAFLET]


def judged(made: Examination) -> Assessment:
    return assess(made, CATALOGUE, previous(made, ALL.values()))


def printed(made: Examination | str, **more: Any) -> bytes:
    made = ALL[made] if isinstance(made, str) else made
    return leaflet(made, judged(made), CATALOGUE, **more)


def said(made: Examination | str, **more: Any) -> str:
    return whole_text(printed(made, **more))


def chosen(*features: str, side: str | None = "left", **readings: object) -> Examination:
    """A record with these features chosen, each by id or as id with a dimension."""
    rows = []
    for one in features:
        name, _, height = one.partition(" ")
        rows.append({"id": name, "side": side} | ({"height": height} if height else {}))
    return replace(bare(**readings), decisions={"features": rows})


def with_site(made: Examination, side: Side, *places: str) -> Examination:
    key, reading = b.entry("complaint-site", Words(places), side)
    return replace(made, readings={**made.readings, key: reading})


# --- how it reads


def test_every_block_is_easy_to_read() -> None:
    told = []
    for block in BLOCKS:
        text = re.sub(r"\{\w+\}", "foot", block.text["en"])
        told.append(text)
        if len(text.split()) > 12:
            assert grade(text) < OLDEST, block.id
        if block.heading:
            told.append(block.heading["en"])
    assert grade("\n".join(told)) < 5


def test_every_plain_word_is_easy_to_read() -> None:
    words = [f"It should {one.text['en']}." for one in CATALOGUE.plain.values()]
    assert grade("\n".join(words)) < 5
    for word in words:
        assert grade(word) < 9, word
        assert len(word.split()) < 16, word


@pytest.mark.parametrize("page", ["A4", "letter"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_one_easy_page_with_identifiers(path: Path, page: str) -> None:
    data = printed(path.stem, page=page, practice="Hazel Quay Teaching Clinic")
    (text,) = texts(data)
    assert f"Record number {ALL[path.stem].patient.record_number}" in text
    body = text[: text.rfind("\nDRAFT")].partition("Where the numbers are from")[0]
    assert grade(" ".join(body.split())) < OLDEST
    (boxes,) = ink_boxes(data)
    for place, box in enumerate(boxes):
        for other in boxes[place + 1 :]:
            assert not box.overlaps(other), (box, other)


def test_it_names_no_illness_and_no_chance() -> None:
    for path in FILES:
        told = said(path.stem).casefold().replace("does not diagnose", "")
        for word in ("likely", "probab", "diagnos", "tendinopathy", "syndrome", "hypothes"):
            assert word not in told, (path.stem, word)


# --- what it says


def test_what_was_chosen_and_what_it_is_for_in_plain_words() -> None:
    told = said(PLANNED, ask="the desk")
    assert "What you get For the left foot: a firm insole, not too thick for you;" in told
    assert "It should help the foot roll in less; and give the tendon" in told
    assert "Wear it for 1 hour on the first day." in told
    assert "people with pain at the inner ankle felt better after 12 weeks" in told
    assert "Ask the desk if there is something here" in told
    assert "Where the numbers are from: Leaflets of hospitals" in told
    assert "what people who look after feet go by" in told
    assert "Phone, and best time to call" not in told


def test_the_same_on_both_feet_once_with_the_height_that_was_chosen() -> None:
    told = said(LIFTED)
    assert "For both feet: a lift under the heel (6 mm)." in told
    assert "people with heel pain had a bit less pain after 7 to 12 weeks" in told
    assert "Other people who looked at the same tests found no gain." in told
    assert "Phone, and best time to call" in told


def test_a_dimension_that_nobody_chose_is_not_told() -> None:
    assert "For the left foot: a lift under the heel." in said(chosen("heel-lift"))


def test_different_feet_get_their_own_lines() -> None:
    made = chosen("heel-lift", side="left")
    rows = [*made.decisions["features"], {"id": "metatarsal-dome", "side": "right"}]
    told = said(replace(made, decisions={"features": rows}))
    assert "For the left foot: a lift under the heel." in told
    assert "For the right foot: a pad behind the ball of the foot." in told
    # nobody kept an aim: nothing is said about what it is for
    assert "What it is for" not in told


@pytest.mark.parametrize(
    ("made", "there", "absent"),
    [
        (chosen("low-dye-taping"), ("Leave the tape on for up to 2 days.", "Take the tape off"), (
            "How to get used to it", "The boot", "1 in 5 people")),
        (chosen("stirrup-taping"), ("Take the tape off",), ("Leave the tape on",)),
        (chosen("walking-boot"), ("Do not drive in the boot.",), ("How to get used to it",)),
        (chosen("shoe-drop"), ("Give it 12 weeks.",), ("How to get used to it", "The tape")),
        (chosen("heel-lift"), ("1 in 5 people",), ("heel cord", "heel pain", "2 sizes bigger")),
    ],
)  # fmt: skip
def test_blocks_by_what_was_chosen(
    made: Examination, there: tuple[str, ...], absent: tuple[str, ...]
) -> None:
    told = said(made)
    for text in there:
        assert text in told
    for text in absent:
        assert text not in told


@pytest.mark.parametrize(
    ("feature", "place", "text"),
    [
        ("heel-lift", "achilles-midportion", "people with pain in the heel cord felt better"),
        ("stiff-forefoot-insert", "hallux-joint-dorsal", "about 6 in 10 people felt better"),
        ("metatarsal-dome", "web-space-3", "people with pain between the toes had less pain"),
        ("prefabricated-orthosis", "knee-anterior", "we look after 6 weeks if it helps"),
        ("low-dye-taping", "heel-plantar", "tape made the first steps hurt a bit less"),
    ],
)
def test_what_to_expect_by_place_on_the_side_that_gets_it(
    feature: str, place: str, text: str
) -> None:
    made = chosen(feature)
    assert text in said(with_site(made, Side.LEFT, place))
    assert text not in said(with_site(made, Side.RIGHT, place))
    assert text not in said(with_site(chosen("walking-boot"), Side.LEFT, place))


def test_a_foot_that_does_not_feel_is_worn_in_by_the_eyes() -> None:
    numb = dict(
        b.entry(f"monofilament-{place}", b.numbers("0"), side)
        for place in ("hallux", "met-head-1", "met-head-5")
        for side in Side
    )
    made = chosen("heel-lift")
    made = replace(made, readings={**made.readings, **numb})
    assert "insensate-foot" in {one.id for one in judged(made).cautions}
    told = said(made)
    assert "Wear it for 30 minutes." in told
    assert "Wear it for 1 hour" not in told


def test_a_child_grows_out_of_it() -> None:
    made = chosen("heel-lift")
    child = replace(made, patient=replace(made.patient, birth_date="2015-02-01"))
    assert "when the shoes are 2 sizes bigger" in said(child)


def test_a_shoe_without_room_is_told() -> None:
    made = chosen("heel-lift")
    assessment = judged(made)
    tight = ShoeRoom(
        Side.LEFT, HeelRoom(9.0, 30.0, 60.0, False, 3.0), ForefootRoom(0.0, None, None)
    )
    plan = replace(assessment.reasons.plan, rooms=(tight,))
    assessment = replace(assessment, reasons=replace(assessment.reasons, plan=plan))
    told = whole_text(leaflet(made, assessment, CATALOGUE))
    assert "There is not enough room for it in the shoe we saw (the left foot)." in told


def test_typed_advice_stands_as_typed_and_is_cut_with_a_word() -> None:
    made = chosen("heel-lift", load_advice=Text("Ten slow heel raises, {twice} a day."))
    assert "Your exercises Ten slow heel raises, {twice} a day." in said(made)
    long = chosen("heel-lift", load_advice=Text(FOUR_THOUSAND))
    assert "… Ask for the rest." in said(long)
    assert len(texts(printed(long))) == 1


# --- held back, and nothing planned


def test_a_held_plan_says_so_and_nothing_of_the_plan() -> None:
    wanted = {"features": [{"id": "heel-lift", "side": "left", "height": "6 mm"}]}
    made = replace(ALL[HELD], decisions=wanted)
    told = said(made)
    assert "This comes first There is a danger sign. This needs help at once. Until someone" in told
    assert "we do not start the plan for the left foot." in told
    for text in ("What you get", "heel (6 mm)", "How to get used", "Give it 12 weeks", "1 hour"):
        assert text not in told
    assert "Get help the same day if a foot turns cold" in told


def test_advice_to_load_is_held_back_too() -> None:
    made = ALL[HELD]
    key, reading = b.entry("load-advice", Text("Hop on it."))
    assert "Hop on it." not in said(replace(made, readings={**made.readings, key: reading}))


def test_the_other_foot_keeps_its_plan() -> None:
    wanted = {"features": [{"id": "heel-lift", "side": "right"}]}
    told = said(replace(ALL[HELD], decisions=wanted))
    assert "we do not start the plan for the left foot." in told
    assert "For the right foot: a lift under the heel." in told
    assert "Wear it for 30 minutes." in told  # the feet do not feel


def test_a_yes_without_a_tier_holds_back_without_saying_how_soon() -> None:
    told = said(bare(caution_history_of_cancer=Word("yes")))
    assert "There is a danger sign. Someone needs to look at it. Until" in told
    assert "the plan for both feet" in told


def test_without_a_plan_it_says_that() -> None:
    told = said(bare())
    assert "What you get No plan has been made yet. Ask what comes next." in told
    assert "Give it 12 weeks" not in told
    assert "Where the numbers" not in told


# --- editing, standing, bad input


def test_every_block_can_be_edited_but_no_danger_left_out() -> None:
    told = said(
        HELD, edited={"leaflet-held": "Ring 12 34.", "leaflet-ask": "", "leaflet-none": "No."}
    )
    assert "There is a danger sign." in told
    assert "Ring 12 34." in told
    assert "if there is something here that you do not understand" not in told
    with pytest.raises(UnknownBlock, match="“told” is not a block of this document"):
        printed(HELD, edited={"told": "x"})


def test_draft_signed_and_in_error() -> None:
    made = ALL[PLANNED]
    assert "This copy is a draft." in said(made)
    assert "draft" not in said(replace(made, signed_by=("Tomás Ferreira Quintela",))).casefold()
    assert "This was entered by mistake. Do not use it." in said(replace(made, in_error=True))


def test_a_feature_that_left_the_forms_and_a_size_that_is_no_number() -> None:
    made = chosen("gone-for-good", "heel-lift tall")
    told = said(made)
    assert "For the left foot: a lift under the heel." in told
    assert "tall" not in told


@pytest.mark.parametrize("text", [FOUR_THOUSAND, LONG_WORD * 9, MARKUP * 9], ids=range(3))
def test_hostile_text_breaks_nothing(text: str) -> None:
    made = chosen("heel-lift", load_advice=Text(text), complaint=Text(text))
    made = replace(made, patient=Patient(text[:90], text[:90], "", text[:60], "1979", Sex.MALE))
    data = printed(made, practice=text[:150], ask=text[:150], edited={"leaflet-expect": text[:500]})
    for boxes in ink_boxes(data):
        for place, box in enumerate(boxes):
            for other in boxes[place + 1 :]:
                assert not box.overlaps(other), (box, other)


def test_the_same_bytes_twice() -> None:
    assert printed(PLANNED) == printed(PLANNED)


def test_every_figure_for_patients_has_its_source() -> None:
    for block in BLOCKS:
        if re.search(r"\d", block.text["en"]):
            assert block.source in CATALOGUE.sources, block.id
        assert set(slots_of(block.text["en"])) <= {
            "held_sides", "soon", "gets", "aims", "tape_days", "tight", "advice", "help", "who",
        }  # fmt: skip
