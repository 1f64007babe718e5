"""What might explain it on paper: only what was accepted is argued for, with what is against."""

import re
from dataclasses import replace

import pytest

from footexam.assessment import Assessment
from footexam.drawing.shapes import Text as Drawn
from footexam.record.examination import Examination
from footexam.reports.arguments import arguments
from footexam.reports.arguments_brief import arguments_brief
from footexam.reports.blocks import Para
from footexam.reports.brief import Limits
from footexam.reports.examination import examination_report, layout
from footexam.reports.fonts import Typeset
from footexam.reports.material import Material
from footexam.reports.sheet import PAPERS
from footexam.resources import assets_dir
from tests.reports import argued_builders as a
from tests.reports import builders as b
from tests.reports.hostile import FOUR_THOUSAND, LONG_WORD, MARKS, MARKUP
from tests.reports.pages import figure_boxes, ink_boxes, text_box, texts

TYPESET = Typeset(assets_dir() / "fonts")
FOOT = re.compile(r"OKONJO, Adaeze \(Ms\) Born.*")


def report(
    examination: Examination | None = None, assessment: Assessment | None = None, **more: object
) -> list[str]:
    """The text of each page."""
    data = examination_report(
        examination or a.examined(), assessment or a.argued(), a.CATALOGUE, **more
    )
    return [" ".join(page.split()) for page in texts(data)]


def section(pages: list[str]) -> str:
    """What stands behind page one, up to the readings, without footers."""
    rest = " ".join(FOOT.sub("", page) for page in pages[1:])
    return rest[rest.index("What might explain it") : rest.index("All readings")]


WHOLE = report()
SECTION = section(WHOLE)


def in_order(text: str, *parts: str) -> None:
    place = 0
    for part in parts:
        found = text.find(part, place)
        assert found >= 0, (part, text[place : place + 300])
        place = found + len(part)


def test_an_accepted_hypothesis_stands_whole_in_its_order() -> None:
    in_order(
        SECTION,
        "1 Low arch pulls the fascia, left",
        "Proposed: low arch pulls the fascia would be expected to load the tissue.",
        "Speaks for it",
        "The navicular stands low.",
        "Navicular height: 30 mm",
        "likelihood ratio 4.2 [",
        "The arch is low.",
        "expert weight [",
        "The ray is low.",
        "First ray position: plantarflexed",
        "These 2 see one thing and count together +3.",
        "Speaks against it",
        "The arch was always so.",
        "Earlier device did not help: no",
        "For 10, against 2: 8 points",
        "Does not count",
        "Feeling is lost.",
        "a dressing covers it",
        "Not examined",
        "Step width",
        "Body mass index",
        "Mechanism of posture.",
        "tissue of posture",
        "Counter-evidence",
        "First counter of posture. Second counter of posture.",
        "Present on the painless side too",
        "cohorts followed over time, or laboratory work",
        "expert opinion or theory only",
        "What would settle it: Settle posture so.",
        "Claim about posture.",
        "published, not checked",
        "2 Short calf loads the forefoot, left",
        "3 Weak muscle gives way, left",
    )


@pytest.mark.parametrize("argument", a.ARGUMENTS[:3], ids=lambda one: one.id)
def test_every_row_and_source_of_what_was_accepted_is_printed(argument: object) -> None:
    assert isinstance(argument, type(a.ARGUMENTS[0]))
    for one in (*argument.speaks_for, *argument.speaks_against, *argument.set_aside):
        assert one.row.says["en"] in SECTION
    for claim in argument.hypothesis.evidence:
        assert claim.text is not None
        assert claim.text["en"] in SECTION


def test_every_source_number_of_the_section_is_in_the_list_with_its_use() -> None:
    whole = " ".join(WHOLE)
    listed = whole[whole.rindex("Sources [1]") :]
    for number in set(re.findall(r"\[(\d+)\]", SECTION)):
        assert f"[{number}]" in listed
    assert "argument: Low arch pulls the fascia (27 people)" in " ".join(listed.split())
    assert "Published, figure not checked in the paper: argument:" in listed
    assert "Common practice: argument:" in listed


def test_only_what_was_accepted_is_argued_for() -> None:
    whole = " ".join(WHOLE)
    assert "Only in the argument of the shoe." not in whole
    assert "No walk was long." not in whole
    assert "First counter of shoe" not in whole
    in_order(
        SECTION, "Neither accepted nor set aside", "Narrow shoe presses the toes, left", "3, 0"
    )


def test_no_percentage_and_the_intended_use() -> None:
    assert "%" not in SECTION
    assert all("Supports the examiner’s judgement; does not diagnose." in page for page in WHOLE)
    assert "What this document is for" in " ".join(WHOLE)
    assert "are not the chance of a disease" in SECTION


def test_what_was_set_aside_stands_with_its_reason_and_can_be_left_out() -> None:
    in_order(
        SECTION,
        "Set aside by the examiner",
        "A sudden long walk, right",
        "She did not walk at all that week.",
    )
    without = " ".join(report(set_aside=False))
    assert "Set aside by the examiner" not in without
    assert "A sudden long walk" not in without
    assert "Low arch pulls the fascia, left" in without


def test_own_words_stand_with_their_side() -> None:
    in_order(SECTION, "In the examiner’s own words", f"Left: {a.OWN}", "Set aside")
    assert f"Left: {a.OWN}" in WHOLE[0]


def test_what_remains_open() -> None:
    in_order(
        SECTION,
        "What remains open",
        "Danger questions without an answer: Fever now.",
        "Tests that would help next",
        "Separates one from another",
        "standing",
        "Would not change the argument: Body height.",
        "Lack only answers",
        "Narrow shoe presses the toes, right (needs: Step width).",
    )


def test_why_now() -> None:
    missing = "Why now: nothing recorded says why it began when it did"
    assert missing in SECTION
    known = section(report(assessment=a.argued(), examination=a.examined()))
    assert known == SECTION
    made = b.rich_assessment(reasons=a.reasons(why_now=True))
    assert missing not in section(report(assessment=made))
    accepted = {**a.DECIDED, "accepted": [{"id": "spike", "side": "right"}], "rejected": []}
    assert "Why now: A sudden long walk." in section(report(a.examined(accepted), made))


def test_both_sides_are_remarked_only_where_they_are() -> None:
    assert SECTION.count("Present on the painless side too") == 1


def test_an_accepted_hypothesis_that_is_not_open_says_so() -> None:
    accepted = {"accepted": [{"id": "shoe", "side": "right"}, {"id": "gone", "side": None}]}
    pages = report(a.examined(accepted))
    told = section(pages)
    in_order(
        told,
        "1 Narrow shoe presses the toes, right",
        "the readings of this record do not meet what it requires",
        "Counter-evidence: First counter of shoe. Second counter of shoe.",
        "2 gone",
        "the program no longer has this hypothesis",
    )
    assert "Speaks for it" not in told
    assert "the program no longer has this hypothesis" in pages[0]


def test_nothing_accepted_is_said_and_page_one_has_no_heading_for_it() -> None:
    pages = report(a.examined({}))
    assert "No hypothesis was accepted." in section(pages)
    assert "What might explain it" not in pages[0]
    assert "Speaks for it" not in " ".join(pages)


def test_without_reasoning_nothing_is_printed_about_it() -> None:
    made = Material(b.rich_examination(), b.rich_assessment(), a.CATALOGUE, "en")
    assert arguments(made) == []
    assert arguments_brief(made, Limits(), {}) == []
    plain = examination_report(b.rich_examination(), b.rich_assessment(), b.CATALOGUE)
    empty = b.rich_examination(
        decisions={"hypotheses": {"accepted": [], "rejected": [], "own": []}, "cautions": {}}
    )
    assert examination_report(empty, b.rich_assessment(), a.CATALOGUE) == plain


# --- page one


def test_page_one_carries_each_with_points_grade_page_and_counter_evidence() -> None:
    in_order(
        WHOLE[0],
        "Reason for the visit",
        "What might explain it (accepted by the examiner)",
        "1 Low arch pulls the fascia, left.",
        "For 10, against 2: 8 points. Evidence for the link: expert opinion or theory only.",
        "Page 2.",
        "Counter-evidence: First counter of posture.",
        "2 Short calf loads the forefoot, left.",
        "For 5, against 0: 5 points.",
        "3 Weak muscle gives way, left.",
        "Outside the usual range",
        "Argument and plan",
        "registration, date and time",
    )
    named = re.findall(r"(\d) {1}[A-Z][^.]*, left\. .*?Page (\d+)\.", WHOLE[0])
    assert [number for number, _ in named] == ["1", "2", "3"]
    for (_, page), one in zip(named, a.ARGUMENTS, strict=False):
        assert f"{one.hypothesis.label['en']}, left" in WHOLE[int(page) - 1]
        assert one.hypothesis.statement["en"] in WHOLE[int(page) - 1]


def test_where_room_is_short_the_first_sentence_of_the_counter_evidence_stays() -> None:
    made = Material(a.examined(), a.argued(), a.CATALOGUE, "en")

    def told(limits: Limits) -> str:
        blocks = arguments_brief(made, limits, {"arguments": 3})
        return " ".join(t for one in blocks if isinstance(one, Para) for t, _ in one.spans)

    assert "Second counter of calf." in told(Limits())
    short = told(Limits(counter=False, typed=20))
    assert "Second counter" not in short
    for name in ("posture", "calf", "weak"):
        assert f"First counter of {name}." in short
    assert "Two jobs leave the …" in short
    assert "own words, page 3" in short


# --- cautions


def endangered(cautions: object = None) -> list[str]:
    made = a.endangered(a.examined(cautions=cautions))
    caution = replace(a.CAUTION, decision="acted" if cautions else None)
    return report(made, a.argued(cautions=(caution,)))


def test_a_caution_stands_first_with_what_to_do_and_what_it_rests_on() -> None:
    pages = endangered()
    whole = " ".join(pages)
    in_order(
        pages[0],
        "Cautions 1 raised, 1 of them without a decision.",
        "Left: Bloodless limb",
        "Emergency · Call the surgeon on call now. [1]",
        "no decision recorded",
        "Held back until what was done is recorded: left: advice to load, devices.",
        "Reason for the visit",
    )
    in_order(
        whole,
        "Call the surgeon on call now. [1] (Guideline 7, 2024, Scotland)",
        "The foot turned cold suddenly.",
        f"Rests on: {a.CATALOGUE.measures[a.COLD].label['en']}: yes; Onset: gradual.",
    )
    assert "caution: Bloodless limb" in whole


def test_what_is_held_back_is_said_before_the_arguments() -> None:
    in_order(
        section(endangered()),
        "A caution is open: Bloodless limb.",
        "Held back until what was done is recorded: left: advice to load, devices.",
        "1 Low arch pulls the fascia, left",
    )


@pytest.mark.parametrize(
    "made",
    [
        {"limb": {**a.DONE, "side": "left"}},
        {"limb": {**a.DONE, "side": None}},
        {"limb": [{**a.DONE, "side": "right", "done": "Other."}, {**a.DONE, "side": "left"}]},
    ],
)
def test_a_decision_stands_with_who_and_when_and_frees_what_was_held(made: object) -> None:
    pages = endangered(made)
    in_order(
        pages[0],
        "Cautions 1 raised, a decision recorded for each.",
        "Left: Bloodless limb",
        "decision: acted on · Rang the surgeon. · N. Haddad · 12-May-2026 09:40 UTC",
    )
    assert "Held back" not in " ".join(pages)
    assert "o decision recorded" not in pages[0]
    if isinstance(made, dict) and isinstance(made["limb"], list):
        assert "Limb, right decision: acted on · Other. · N. Haddad" in pages[0]


# --- the page


CASES = {
    "argued": (a.examined(), a.argued()),
    "endangered": (a.endangered(a.examined()), a.argued(cautions=(a.CAUTION,))),
}


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("case", list(CASES))
def test_nothing_overlaps_or_leaves_the_page(case: str, page: str) -> None:
    paper = PAPERS[page]
    material = Material(*CASES[case], a.CATALOGUE, "en")
    sheet = layout(material, paper, TYPESET, "Clinic", invented=True)
    for shapes in sheet.pages:
        words = [text_box(shape, TYPESET) for shape in shapes if isinstance(shape, Drawn)]
        figures = [box for shape in shapes for box in figure_boxes(shape)]
        for place, box in enumerate(words):
            for other in (*words[place + 1 :], *figures):
                assert not box.meets(other), (box, other)
    data = examination_report(*CASES[case], a.CATALOGUE, page=page)
    for boxes in ink_boxes(data):
        for box in boxes:
            assert box.left >= paper.margin - 1.0, box
            assert box.right <= paper.width - paper.margin + 1.0, box
            assert box.bottom <= paper.height - 12.0, box


@pytest.mark.parametrize("page", list(PAPERS))
@pytest.mark.parametrize("case", list(CASES))
def test_page_one_is_one_page(case: str, page: str) -> None:
    data = examination_report(*CASES[case], a.CATALOGUE, page=page, practice="Clinic")
    first, *rest = texts(data)
    assert "registration, date and time" in first
    assert not any("registration, date and time" in other for other in rest)


def test_an_argument_higher_than_a_page_is_drawn_in_parts() -> None:
    many = tuple(a.weighed(a.row(f"Row number {n:02} of many."), "onset") for n in range(60))
    first, *others = a.ARGUMENTS
    long = replace(first, speaks_for=many)
    made = b.rich_assessment(reasons=a.reasons(arguments=(long, *others)))
    told = section(report(assessment=made))
    for n in range(60):
        assert told.count(f"Row number {n:02} of many.") == 1
    assert told.count("First counter of posture.") > 1


def squeezed(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("typed", [MARKUP, LONG_WORD, FOUR_THOUSAND, MARKS], ids=len)
def test_what_was_typed_is_printed_as_typed(typed: str) -> None:
    decided = {
        **a.DECIDED,
        "own": [{"side": "left", "statement": typed}],
        "rejected": [{"id": "spike", "side": "right", "reason": typed}],
    }
    done = {**a.DONE, "side": "left", "done": typed[:300], "by": typed[:60]}
    made = a.endangered(a.examined(decided, {"limb": done}))
    caution = replace(a.CAUTION, decision="acted")
    pages = report(made, a.argued(cautions=(caution,)))
    shown = squeezed(TYPESET.shown(typed))
    own = section(pages)
    own = own[own.index("In the examiner’s own words") :]
    assert squeezed(own).replace("HypothesisWhy", "").count(shown) == 2
    assert squeezed(TYPESET.shown(typed[:300])) in squeezed(" ".join(pages))
    sheet = layout(
        Material(made, a.argued(cautions=(caution,)), a.CATALOGUE, "en"),
        PAPERS["A4"],
        TYPESET,
        "Clinic",
        invented=True,
    )
    for shapes in sheet.pages:
        words = [text_box(shape, TYPESET) for shape in shapes if isinstance(shape, Drawn)]
        for place, box in enumerate(words):
            assert box.right <= PAPERS["A4"].width - PAPERS["A4"].margin + 1.0
            for other in words[place + 1 :]:
                assert not box.meets(other), (box, other)
