"""The referral: its first two lines, dangers first, nothing that is not in the record, one page."""

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from footexam.assessment import Assessment, assess
from footexam.catalogue.letters import Block as LetterBlock
from footexam.catalogue.letters import Document, slots_of
from footexam.demo import demo_files, previous
from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import NoneKnown, Rows, Text, Word
from footexam.record.written import Written, mark
from footexam.reports.cautions import first_block
from footexam.reports.letter import Letter, UnknownBlock
from footexam.reports.letter_phrases import LETTER_PHRASES, letter_phrase
from footexam.reports.letters import referral_letter
from footexam.reports.material import Material
from footexam.reports.referral import referral
from footexam.reports.referral_words import Limits, Words
from footexam.terms import Absence, Role, Sex, Tier
from tests.reports import argued_builders as argued
from tests.reports import builders as b
from tests.reports.hostile import FOUR_THOUSAND, LONG_WORD, MARKS, MARKUP, SCRIPTS
from tests.reports.pages import ink_boxes, texts, whole_text
from tests.reports.test_demo_reports import CATALOGUE, examination

FILES = demo_files()
ALL = {path.stem: examination(path) for path in FILES}
OPEN, SEEN_TO = "04-diabetes-wound-visit-1", "04-diabetes-wound-visit-2"
PLANNED = "06-medial-ankle-pain-visit-2"


def judged(made: Examination) -> Assessment:
    return assess(made, CATALOGUE, previous(made, ALL.values()))


def letter(made: Examination | str, **more: object) -> bytes:
    made = ALL[made] if isinstance(made, str) else made
    return referral(made, judged(made), CATALOGUE, **more)  # type: ignore[arg-type]


def letter_text(made: Examination | str, **more: object) -> str:
    return whole_text(letter(made, **more))


def said(made: Examination | str, limits: Limits | None = None, **edited: str) -> dict[str, str]:
    """The blocks that stand with their text."""
    made = ALL[made] if isinstance(made, str) else made
    material = Material(made, judged(made), CATALOGUE, "en")
    words = Words(material, limits or Limits(), "")
    return {
        one.block.id: one.text
        for one in Letter(material, Document.REFERRAL, words.slots, edited).said()
    }


def bare(**readings: object) -> Examination:
    """A record of nothing but these readings without a side."""
    made = dict(b.entry(name.replace("_", "-"), value) for name, value in readings.items())  # type: ignore[arg-type]
    return Examination(
        Patient("Quill", "Ada", "Ms", "B-7", "1979-08-30", Sex.FEMALE),
        date(2026, 3, 4),
        Person("R. Lind", Role.CLINICIAN),
        readings=made,
    )


# --- the first two lines


def test_whom_about_whom_then_how_urgent_and_why() -> None:
    first = texts(letter(OPEN, to="Diabetic foot team, Quay Hospital", practice="Quay Feet"))[0]
    lines = " ".join(first.split("\n"))
    order = [
        "Quay Feet",
        "Referral letter",
        "DRAFT, not signed",
        "To Diabetic foot team, Quay Hospital. About ΠΑΠΑΓΕΩΡΓΊΟΥ, Ευστράτιος (Mr), born",
        "03-Nov-1957",
        "record number HQ-0004.",
        "Emergency: Blood flow to the foot too low, left; Active foot problem in diabetes, left;",
        "Danger signs",
        "The complaint",
        "What was found",
        "What is thought",
        "What was done",
        "What is asked",
        "The patient was told",
        "Not examined",
    ]
    places = [lines.index(part) for part in order]
    assert places == sorted(places)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_two_lines_lead_every_letter(path: Path) -> None:
    told = list(said(path.stem))
    assert told[0] == "to"
    assert told[1] in {"urgent", "unresolved", "routine"}
    assert told.index("to") == 0
    cautions = [one for one in judged(ALL[path.stem]).cautions if one.decision != "excluded"]
    assert ("cautions" in told) is bool(cautions)
    if cautions:
        assert told[2] == "cautions"
        assert told[1] == ("urgent" if any(one.id for one in cautions) else "unresolved")


def test_without_a_recipient_there_is_room_to_write() -> None:
    assert "To ………………… (write in whom). About " in letter_text(OPEN)


def test_how_urgent_is_what_is_most_serious_and_was_not_excluded() -> None:
    assert said(OPEN)["urgent"].startswith("Emergency: ")
    # one of the dangers was transferred: it is still the reason, and what was done is told
    told = said(SEEN_TO)
    assert "Active foot problem in diabetes, left" in told["urgent"]
    assert "Decision: transferred · Telephoned and seen by" in told["cautions"]
    assert told["done"] == (
        "Danger signs seen to: Active foot problem in diabetes, left (decision: transferred)."
    )
    assert told["see"] == "To see this person because of the danger signs above (Emergency)."


def test_an_excluded_danger_is_ruled_out_and_makes_nothing_urgent() -> None:
    told = said("10-stiff-great-toe")
    assert "urgent" not in told
    assert told["routine"].startswith("Routine, as far as was asked (")
    assert told["excluded"].startswith("Ruled out: Bone pain or lump: exclude a tumour, right (")
    assert "Noor Haddad" in told["excluded"]


def test_a_yes_that_led_nowhere_is_not_called_routine() -> None:
    yes = bare(complaint=Text("Sore."), caution_history_of_cancer=Word("yes"))
    assert [one.id for one in judged(yes).cautions] == [None]
    told = said(yes)
    assert "routine" not in told
    assert told["unresolved"].startswith("How urgent is not settled. A danger question was")
    assert CATALOGUE.measures["caution-history-of-cancer"].label["en"] in told["unresolved"]
    assert "Done: nothing recorded." in told["cautions"]


def test_the_lesser_danger_does_not_stand_in_the_second_line_but_in_the_frame() -> None:
    told = said(OPEN)
    assert "Foot without protective feeling" not in told["urgent"]
    assert "Foot without protective feeling, left and right. Routine referral." in told["cautions"]
    assert "Nothing is recorded yet of what was done about any of these." in told["cautions"]


# --- nothing that is not in the record


EMPTY = {
    "to": "To ………………… (write in whom). About QUILL, Ada (Ms), born 30-Aug-1979 (46 years), "
    "female, record number B-7.",
    "routine": "Routine, as far as was asked. The complaint is not recorded.",
    "illnesses": "Illnesses: not recorded.",
    "medicines": "Medicines: not recorded.",
    "allergies": "Allergies: not recorded.",
    "outside": "Nothing that could be judged lies outside its usual range.",
    "asked": "Danger questions: 0 of 12 asked.",
    "thought": "No hypothesis was accepted.",
    "treatment": "Treatment so far: not recorded.",
    "question": "The exact question is not recorded; write it here.",
    "told": "What to watch for, and whom to call: not recorded; write it here.",
    "consent": "Not recorded, neither to the examination nor to this letter.",
}


def test_a_record_of_nothing_says_nothing_but_that() -> None:
    told = said(bare())
    missing, unanswered = told.pop("missing"), told.pop("unanswered")
    assert told == EMPTY
    assert missing.startswith("No entry, though on the core sheet: ")
    material = Material(bare(), judged(bare()), CATALOGUE, "en")
    assert len(first_block(material)) == 12
    assert all(material.say(one.label) in unanswered for one in first_block(material))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_slot_that_speaks_has_an_entry_behind_it(path: Path) -> None:
    """Take the readings away and every block that spoke of them falls silent."""
    made = ALL[path.stem]
    emptied = replace(made, readings={}, decisions={}, withdrawn=())
    full, none = said(made), said(emptied)
    allowed = {"to", "routine", "missing", "unanswered", *EMPTY}
    assert none.keys() <= allowed
    spoken = full.keys() - allowed
    assert spoken
    for name in EMPTY.keys() - {"to"}:
        assert none.get(name) == EMPTY[name], name


def test_only_what_the_examiner_accepted_is_thought() -> None:
    told = said(PLANNED)["thought"]
    assert told.count("\n") == 1  # two accepted
    for name in ("weak-tibialis-posterior-arch", "pronated-posture-medial-tendon-tension"):
        assert CATALOGUE.hypotheses[name].label["en"] in told
    open_ones = {one.id for one in judged(ALL[PLANNED]).reasons.arguments}
    for name in open_ones - {
        "weak-tibialis-posterior-arch",
        "pronated-posture-medial-tendon-tension",
    }:
        assert CATALOGUE.hypotheses[name].label["en"] not in told
    assert "For: " in told
    assert "Against: " in told
    assert "Also to be weighed: " in told
    assert "%" not in re.sub(r"\d+ (to \d+ )?%", "", told)


def test_what_was_planned_stands_with_the_chosen_dimensions() -> None:
    assert said(PLANNED)["planned"] == (
        "Planned: Thickness of the shell, left; Depth of the heel cup, 16\u00a0mm, left; "
        "Medial rearfoot post, 4°, left."
    )
    assert said("03-heel-pain-visit-2")["planned"] == (
        "Planned: Heel lift in the shoe, 6\u00a0mm, left and right."
    )


def test_both_sides_stand_with_what_is_usual_and_its_source() -> None:
    text = said(PLANNED)["outside"]
    assert (
        "Foot Posture Index, total: left +10 points (likely highly pronated, error only); "
        "right +7 points (possibly pronated, error only); usual 0 to +5 points [2], published."
    ) in text
    assert "Sources of what is usual: [1] " in letter_text(PLANNED)


def test_feeling_and_blood_flow_are_not_crowded_out() -> None:
    first = said(OPEN, Limits(outside=4))["outside"]
    assert "Monofilament" in first
    assert first.endswith("more lie outside the usual: see the examination report.")


def test_what_was_not_examined_is_named_with_its_reason() -> None:
    told = said(OPEN)["absent"]
    assert "Not done, for safety: " in told
    assert "Lateral block test, left" in told
    assert "(open wound under the left forefoot)" in told
    assert "Not examined: Training by week (little walking since the wound)." in told
    short = said(OPEN, Limits(absent=1))["absent"]
    assert "and 6 more in the examination report" in short


def test_tables_and_absences_of_health() -> None:
    rows = Rows(({"what": "asthma", "detail": "mild", "since": "2011"}, {"detail": "blue"}))
    told = said(bare(conditions=rows, medicines=NoneKnown()))
    assert told["illnesses"] == "Illnesses: asthma (mild, 2011); blue."
    assert told["medicines"] == "Medicines: none known."
    declined = replace(
        bare(),
        readings=dict([b.entry("medicines", None, absent=Absence.DECLINED, reason="private")]),
    )
    assert said(declined)["medicines"] == "Medicines: declined (private)."


def test_a_hypothesis_that_left_the_forms_or_is_not_open() -> None:
    decisions = {
        "hypotheses": {
            "accepted": [
                {"id": "gone-for-good", "side": "left"},
                {"id": "fat-pad-atrophy", "side": "left"},
            ],
            "own": [{"side": None, "statement": "She walks on stones."}],
        }
    }
    told = said(replace(bare(), decisions=decisions))
    assert "Accepted by the examiner; no longer in the forms." in told["thought"]
    assert "Accepted by the examiner; the readings do not open it." in told["thought"]
    assert told["own"] == "The examiner’s own: She walks on stones."


# --- editing


def test_every_block_can_be_edited() -> None:
    for block in CATALOGUE.blocks.values():
        if block.document is Document.REFERRAL:
            told = said(OPEN, None, **{block.id: "Typed by hand."})
            assert told[block.id].endswith("Typed by hand."), block.id
            if not block.kept:
                assert told[block.id] == "Typed by hand."


def test_a_block_is_left_out_but_no_danger_is() -> None:
    whole = said(OPEN)
    for name in whole:
        told = said(OPEN, None, **{name: ""})
        assert (name in told) is CATALOGUE.blocks[name].kept, name
    assert said(OPEN, cautions="")["cautions"] == whole["cautions"]


def test_what_was_typed_takes_the_place_of_the_line_to_write_on() -> None:
    data = letter(OPEN, edited={"told": "Watch for redness {x} %s."})
    assert "The patient was told Watch for redness {x} %s." in whole_text(data)
    assert "write it here" not in whole_text(data).split("The patient was told")[1]


def test_an_edit_of_no_block_is_refused() -> None:
    with pytest.raises(UnknownBlock, match="“poem” is not a block of this document, which has to,"):
        letter(OPEN, edited={"poem": "x"})


# --- what is kept with the record


def kept(**letters: Written) -> Examination:
    """The open danger with texts kept for blocks of its letter."""
    made = ALL[OPEN]
    trees = {name: {"lines": list(one.lines), "over": one.over} for name, one in letters.items()}
    return replace(made, decisions={**made.decisions, "letters": trees})


def test_what_is_kept_with_the_record_is_printed() -> None:
    made = kept(told=Written(("Rest the foot.", "Come back on Friday.")), where=Written(()))
    told = said(made)
    assert told["told"] == "Rest the foot.\nCome back on Friday."
    assert "where" in said(OPEN)
    assert "where" not in told
    whole = letter_text(made)
    assert "Rest the foot." in whole
    assert "Come back on Friday." in whole


def test_kept_texts_hide_no_danger() -> None:
    assert said(kept(cautions=Written(())))["cautions"] == said(OPEN)["cautions"]


def test_to_whom_it_goes_is_kept_and_what_is_asked_for_now_goes_before() -> None:
    made = kept(addressee=Written(("Dr Ada Moss",)))
    assert letter_text(made).count("To Dr Ada Moss.") == 1
    assert "To Dr Bo Fell." in letter_text(made, to="Dr Bo Fell")
    assert said(kept(told=Written(("Kept.",))), None, told="Typed.")["told"] == "Typed."


def test_a_text_written_before_the_record_changed_is_to_be_read_again() -> None:
    material = Material(ALL[OPEN], judged(ALL[OPEN]), CATALOGUE, "en")
    given = {part.block.id: part.given for part in referral_letter(material).parts()}
    fresh = kept(where=Written(("The left heel.",), mark(given["where"])))
    assert "Not to be sent yet" not in letter_text(fresh)
    old = kept(where=Written(("The left heel.",), mark("Where: elsewhere.")))
    data = letter(old)
    told = "record has changed since these texts were written: The complaint. Read them again."
    assert told in whole_text(data)
    assert len(texts(data)) == 1


# --- the page


@pytest.mark.parametrize("page", ["A4", "letter"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_one_page_with_identifiers_and_nothing_on_top_of_another(path: Path, page: str) -> None:
    data = letter(path.stem, page=page, invented=True, practice="Hazel Quay Teaching Clinic")
    (text,) = texts(data)
    assert f"Record number {ALL[path.stem].patient.record_number}" in text
    assert "DRAFT" in text
    assert "Invented patient" in text
    (boxes,) = ink_boxes(data)
    for place, box in enumerate(boxes):
        for other in boxes[place + 1 :]:
            assert not box.overlaps(other), (box, other)


def test_signed_it_is_no_draft_and_in_error_it_says_so() -> None:
    signed = replace(ALL[OPEN], signed_by=("Noor Haddad",))
    text = letter_text(signed)
    assert "DRAFT" not in text
    assert "Signed by Noor Haddad" in text
    assert "ENTERED IN ERROR" in letter_text(replace(ALL[OPEN], in_error=True))


def test_a_student_names_the_supervisor() -> None:
    text = letter_text("07-achilles-pain-student")
    assert "Supervisor: " in text
    assert "Countersigned by" in text


def test_the_same_bytes_twice() -> None:
    assert letter(OPEN) == letter(OPEN)


HOSTILE = (FOUR_THOUSAND, LONG_WORD * 20, MARKUP * 10, MARKS, SCRIPTS)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_breaks_nothing(text: str) -> None:
    rows = Rows(tuple({"what": text[:200]} for _ in range(8)))
    made = replace(
        bare(
            complaint=Text(text),
            impression=Text(text),
            goals=Text(text),
            conditions=rows,
            medicines=rows,
            allergies=rows,
            treatment_so_far=rows,
        ),
        patient=Patient(text[:80], text[:80], text[:40], text[:60], "1979", Sex.OTHER),
        decisions={"hypotheses": {"own": [{"side": "left", "statement": text}]}},
    )
    data = letter(made, to=text[:300], practice=text[:200], edited={"told": text[:400]})
    for boxes in ink_boxes(data):
        for place, box in enumerate(boxes):
            for other in boxes[place + 1 :]:
                assert not box.overlaps(other), (box, other)


def test_a_typed_text_that_was_cut_says_so() -> None:
    told = said(bare(impression=Text(FOUR_THOUSAND)), Limits(typed=160))["impression"]
    assert told.endswith(" … (whole in the examination report)")
    assert len(told) < 220


def test_hand_made_cautions_keep_their_words() -> None:
    made = argued.endangered(argued.examined())
    catalogue = replace(argued.CATALOGUE, blocks=_blocks("urgent", "cautions"))
    assessment = argued.argued(cautions=(argued.CAUTION,), scores=())
    reasons = replace(assessment.reasons, cautions=assessment.cautions)
    assessment = replace(assessment, reasons=reasons)
    text = whole_text(referral(made, assessment, catalogue))
    assert "Emergency: Bloodless limb, left;" in text
    assert "Bloodless limb, left. Emergency. Call the surgeon on call now. Rests on: " in text


def _blocks(*names: str) -> dict[str, LetterBlock]:
    return {name: CATALOGUE.blocks[name] for name in names}


def test_every_slot_of_a_referral_is_filled() -> None:
    material = Material(bare(), judged(bare()), CATALOGUE, "en")
    known = Words(material, Limits(), "").slots.keys()
    for block in CATALOGUE.blocks.values():
        if block.document is Document.REFERRAL:
            assert set(slots_of(block.text["en"])) <= known
    assert all(material.phrases(f"tier-{tier}") for tier in Tier)


def test_every_phrase_has_english() -> None:
    assert all(text["en"] for text in LETTER_PHRASES.values())
    assert letter_phrase("referral", "xx") == "Referral letter"
