"""The patient's copy: plain to read, no more than two pages, nothing said that must not be."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from footexam.assessment import Assessment, assess
from footexam.demo import demo_files, previous
from footexam.record.examination import Examination
from footexam.reports.patient_copy import patient_copy
from footexam.reports.plain_phrases import PLAIN_PHRASES
from footexam.reports.plain_words import PLAIN
from footexam.terms import Absence, Basis, Label, Tier
from tests.reports import argued_builders as argued
from tests.reports import builders as b
from tests.reports.hostile import LONG_WORD, hostile_examination
from tests.reports.pages import ink_boxes, texts, whole_text
from tests.reports.reading_age import grade, syllables
from tests.reports.test_demo_reports import CATALOGUE, examination

FILES = demo_files()
ALL = {path: examination(path) for path in FILES}
OLDEST = 7.5
"""The school year of readers aged about twelve."""


def demo_copy(path: Path, **more: str) -> bytes:
    made = ALL[path]
    return patient_copy(
        made, assess(made, CATALOGUE, previous(made, ALL.values())), CATALOGUE, **more
    )


def copy(made: Examination | None = None, assessment: Assessment | None = None) -> bytes:
    return patient_copy(
        made or b.rich_examination(), assessment or b.rich_assessment(), b.CATALOGUE
    )


def test_the_formula_on_a_text_of_known_grade() -> None:
    # 6 words in one sentence, 6 syllables: 0.39 * 6 + 11.8 - 15.59
    assert grade("The cat sat on the mat.") == pytest.approx(-1.45)
    assert [syllables(word) for word in ("ankle", "measured", "examination", "toe", "the")] == [
        2,
        2,
        5,
        1,
        1,
    ]
    assert grade("Examination of dorsiflexion demonstrated significant limitation.") > 12


def test_every_sentence_of_the_copy_is_easy_to_read() -> None:
    said = [re.sub(r"\{\w+\}", "foot", text["en"]) for text in PLAIN_PHRASES.values()]
    assert grade(" \n".join(said)) < 5
    for text in said:
        if len(text.split()) > 12:
            assert grade(text) < OLDEST, text
    plain = [line for one in PLAIN["en"].values() for line in (one.below, one.above) if line]
    assert grade("\n".join(plain)) < 5
    for line in plain:
        assert grade(line) < 9, line


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_copy_as_a_whole_is_easy_to_read_and_short(path: Path) -> None:
    pages = texts(demo_copy(path))
    assert len(pages) <= 2
    body = " ".join(page[: page.rfind("\nDRAFT")] for page in pages)
    assert grade(" ".join(body.split())) < OLDEST


@pytest.mark.parametrize("page", ["A4", "letter"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_nothing_overlaps_and_identifiers_stand_on_every_page(path: Path, page: str) -> None:
    data = demo_copy(path, page=page)
    patient = ALL[path].patient
    for text in texts(data):
        assert f"Record number {patient.record_number}" in text
        assert "Born " in text
    for boxes in ink_boxes(data):
        for place, box in enumerate(boxes):
            for other in boxes[place + 1 :]:
                assert not box.overlaps(other), (box, other)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_chance_no_impression_and_no_note_is_in_it(path: Path) -> None:
    said = " ".join(whole_text(demo_copy(path)).split())
    for word in ("likely", "possibly", "probab", "chance", "diagnos"):
        assert word not in said.replace("does not diagnose", ""), word
    impression = ALL[path].value("impression")
    if impression is not None:
        assert " ".join(impression.text.split())[:60] not in said  # type: ignore[union-attr]
    for reading in ALL[path].readings.values():
        for words in (reading.note, reading.reason):
            if len(words) > 12:
                assert words not in said


def test_what_was_found_stands_by_side_with_figures_and_how_near_the_line_it_was() -> None:
    found = b.finding(
        "ankle-dorsiflexion",
        b.LEFT,
        b.Decimal(5),
        state="below",
        label=Label.LIKELY,
        limit=10.0,
        operator="<",
    )
    said = whole_text(copy(b.examination(), b.assessment(findings=(found,))))
    assert (
        "Left Ankle dorsiflexion, knee straight: 5 degrees. This is not as usual. We found "
        "5 degrees. Usual is 10 degrees or more. This was clear."
    ) in said


def test_a_loss_whose_error_is_not_known_is_told_and_not_called_close() -> None:
    found = b.finding(
        "fpi-total",
        b.LEFT,
        b.Decimal(9),
        state="pronated",
        label=Label.REPEAT,
        basis=Basis.NONE,
        limit=6.0,
        operator=">=",
    )
    said = whole_text(copy(b.examination(), b.assessment(findings=(found,))))
    assert "Left The foot leans in more than usual when you stand." in said
    assert "How exact some of these tests are is not known." in said
    assert "Too close" not in said


def test_what_error_alone_may_explain_is_only_named() -> None:
    found = b.finding(
        "fpi-total",
        b.LEFT,
        b.Decimal(7),
        state="pronated",
        label=Label.REPEAT,
        limit=6.0,
        operator=">=",
    )
    said = whole_text(copy(b.examination(), b.assessment(findings=(found,))))
    assert "Too close to be sure: How the foot stands (left)." in said


def test_danger_signs_answered_yes_stand_out_and_missing_answers_are_told() -> None:
    said = whole_text(copy())
    assert "These were answered yes." in said
    assert "Left One spot of bone hurts when pressed or loaded" in said
    assert "2 of 12 questions have no full answer yet." in said
    none = whole_text(copy(b.sparse_examination(), b.assessment()))
    assert "We asked 12 questions about danger signs. No answer was yes." in none
    assert "We did not ask about danger signs" in whole_text(copy(b.examination(), b.assessment()))


@pytest.mark.parametrize(
    ("absence", "words"),
    [
        (Absence.DECLINED, "You chose not to have this: Step width."),
        (Absence.COULD_NOT_BE_TESTED, "This could not be done: Step width."),
        (Absence.NOT_DONE_SAFETY, "We left this out to keep you safe: Step width."),
        (Absence.NOT_EXAMINED, "We did not look at this: Step width."),
    ],
)
def test_what_was_not_done_is_told_apart(absence: Absence, words: str) -> None:
    made = b.examination(dict([b.entry("step-width", None, absent=absence, reason="secret")]))
    said = whole_text(copy(made, b.assessment()))
    assert words in said
    assert "secret" not in said


def test_a_draft_says_so_and_a_signed_copy_does_not() -> None:
    assert "This copy is a draft." in whole_text(copy())
    made = b.sparse_examination(signed_by=("M. Tau",))
    assert "draft" not in whole_text(copy(made, b.assessment()))


def test_hostile_text_prints_and_same_bytes_come_twice() -> None:
    data = copy(hostile_examination())
    assert data == copy(hostile_examination())
    assert LONG_WORD.upper() in "".join(texts(data)[0].split())


def test_the_parts_come_in_their_order_and_help_stands_on_the_first_page() -> None:
    path = next(path for path in FILES if path.stem == "03-heel-pain-visit-2")
    pages = texts(demo_copy(path))
    said = " ".join(" ".join(pages).split())
    heads = [
        "Your feet: what we found",
        "Seen on 11-Mar-2026",
        "Why you came",
        "Danger signs",
        "Get help the same day",
        "What was not as usual",
        "What was as usual",
        "What has changed since your last visit",
        "What the words mean",
        "Whom to ask",
    ]
    places = [said.index(head) for head in heads]
    assert places == sorted(places)
    assert "Get help the same day" in pages[0]


def test_the_same_place_on_both_sides_is_told_once() -> None:
    path = next(path for path in FILES if path.stem == "01-flat-feet-toddler-visit-1")
    said = whole_text(demo_copy(path))
    assert "Both sides Medial arch" in said
    assert "Left Medial arch" not in said


def test_touch_is_told_of_three_and_no_advice_to_the_examiner() -> None:
    path = next(path for path in FILES if path.stem == "04-diabetes-wound-visit-1")
    said = whole_text(demo_copy(path))
    assert "not felt each time. We found 1 of 3. Usual is 2 of 3 or more." in said
    runner = next(path for path in FILES if path.stem == "08-shin-pain-runner")
    assert "Left One spot of bone hurts when pressed or loaded" in whole_text(demo_copy(runner))
    for path in FILES:
        assert "(mark w" not in whole_text(demo_copy(path))


def test_of_a_long_list_the_copy_says_how_many_more_there_are() -> None:
    path = next(path for path in FILES if path.stem == "06-medial-ankle-pain-visit-1")
    assert re.search(r"What was as usual .+ and \d+ more\.", whole_text(demo_copy(path)))


def test_a_danger_is_listed_as_it_was_asked_and_one_that_was_found_is_hinted_at() -> None:
    path = next(path for path in FILES if path.stem == "04-diabetes-wound-visit-1")
    said = whole_text(demo_copy(path))
    part = said[said.index("Danger signs") : said.index("Get help the same day")]
    assert part.count("Open wound, ulcer, bite or puncture") == 1
    assert "Left Diabetes" not in part
    assert "Some of what we found may need care soon." in part
    quiet = next(path for path in FILES if path.stem == "03-heel-pain-visit-1")
    assert "may need care soon" not in whole_text(demo_copy(quiet))


def advised(tier: Tier, decisions: object = None, decision: str | None = None) -> str:
    """The copy for a yes that a caution rests on."""
    caution = replace(argued.CAUTION, tier=tier, decision=decision)
    made = argued.endangered(argued.examined(None, decisions))
    return whole_text(patient_copy(made, b.rich_assessment(cautions=(caution,)), argued.CATALOGUE))


@pytest.mark.parametrize(
    ("tier", "told"),
    [
        (Tier.EMERGENCY, "This needs help at once."),
        (Tier.SAME_DAY, "This needs to be looked at today."),
        (Tier.WITHIN_DAYS, "This needs to be looked at in the next few days."),
        (Tier.CANCER_PATHWAY, "This needs to be looked at in the next few days."),
        (Tier.ROUTINE, "Someone else needs to look at this in the weeks to come."),
    ],
)
def test_a_yes_says_how_soon_it_needs_care_and_names_no_illness(tier: Tier, told: str) -> None:
    said = advised(tier)
    assert told in said
    assert "Bloodless limb" not in said
    assert "Rang the surgeon" not in said


@pytest.mark.parametrize(
    ("decision", "told"),
    [
        ("acted", "N. Haddad acted on this on 12-May-2026."),
        ("excluded", "N. Haddad looked into this on 12-May-2026 and ruled the danger out."),
        ("transferred", "N. Haddad has sent you on because of this (12-May-2026)."),
    ],
)
def test_a_yes_that_was_seen_to_says_by_whom_and_when(decision: str, told: str) -> None:
    made = {"limb": {**argued.DONE, "side": "left", "decision": decision}}
    said = advised(Tier.EMERGENCY, made, decision)
    assert told in said
    assert "at once." not in said.split("Get help")[0]
    assert "Rang the surgeon" not in said
