"""The examination report read back: order, identifiers, sides, units, absences, sources."""

import re
from dataclasses import replace

import pytest

from footexam.assessment import Assessment
from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import Rows, Text
from footexam.reports.examination import examination_report
from footexam.terms import Absence, Label, Purpose, Role, Sex
from tests.reports import builders as b
from tests.reports.pages import sizes, texts, whole_text

RICH = examination_report(
    b.rich_examination(), b.rich_assessment(), b.CATALOGUE, practice="Harrow Quay Clinic"
)


def report(
    examination: Examination | None = None, assessment: Assessment | None = None, **more: object
) -> bytes:
    return examination_report(
        examination or b.sparse_examination(),
        assessment or b.assessment(),
        b.CATALOGUE,
        **more,  # type: ignore[arg-type]
    )


def body(data: bytes) -> str:
    """All text without the footers."""
    pages = [page.split("\nOKONJO, Adaeze (Ms) Born 14-Mar-1981")[0] for page in texts(data)]
    return "\n".join(pages)


@pytest.mark.parametrize(("page", "size"), [("A4", (595.28, 841.89)), ("letter", (612.0, 792.0))])
def test_every_page_has_the_paper_asked_for(page: str, size: tuple[float, float]) -> None:
    found = sizes(report(b.rich_examination(), b.rich_assessment(), page=page))
    assert len(found) >= 3
    assert all(one == pytest.approx(size, abs=0.1) for one in found)


def test_another_paper_is_refused() -> None:
    with pytest.raises(KeyError):
        report(page="A5")


def test_the_parts_come_in_their_order() -> None:
    text = body(RICH)
    parts = [
        "Harrow Quay Clinic",
        "Examination of the feet and lower limbs",
        "DRAFT, not signed",
        "OKONJO, Adaeze (Ms)",
        "Born 14-Mar-1981 (45 years) Sex female Record number HL-00214",
        "Examined 12-May-2026 by R. Lindqvist (student). Supervisor M. Tau, supervision level 2.",
        "Allergies latex, rash (Jun-2011)",
        "Cautions 1 answered yes.",
        "Reason for the visit",
        "In the patient’s words Heel hurts",
        "Where Left: heel, plantar medial; arch, central",
        "Since 75 days (10.7 weeks), gradual",
        "Examiner’s impression Most consistent",
        "Outside the usual range",
        "Differences between the sides",
        "Changes since the last visit",
        "Not examined, declined or not possible",
        "All readings",
        "History",
        "Nerve and vessel",
        "Lying",
        "Standing",
        "Moving",
        "Derived scores",
        "Remarks on the entries",
        "Sources",
    ]
    places = [text.find(part) for part in parts]
    assert -1 not in places, parts[places.index(-1)]
    assert places == sorted(places)


def test_page_one_carries_what_matters() -> None:
    first = texts(RICH)[0]
    for part in ("Cautions", "Reason for the visit", "Outside the usual range", "likely pronated"):
        assert part in first


def test_both_identifiers_draft_and_page_number_on_every_page() -> None:
    pages = texts(RICH)
    for number, page in enumerate(pages, 1):
        foot = page[page.rfind("OKONJO") :]
        assert "OKONJO, Adaeze (Ms) Born 14-Mar-1981 Record number HL-00214" in foot
        assert f"page {number} of {len(pages)}" in foot
        assert "DRAFT, not signed" in foot
        assert "Record version 57, chain 7f3a9c01" in foot
        assert "Supports the examiner’s judgement; does not diagnose." in foot
        assert "Invented" not in page


def test_an_invented_patient_is_marked_on_every_page() -> None:
    for page in texts(report(invented=True)):
        assert "Invented patient, not a real person" in page[page.rfind("OKONJO") :]


def test_a_record_without_chain_says_so() -> None:
    assert "Record version 0, no chain" in texts(report(b.examination(version=0, head="")))[0]


@pytest.mark.parametrize(
    ("role", "signed", "status", "draft"),
    [
        (Role.CLINICIAN, (), "DRAFT, not signed", True),
        (Role.STUDENT, ("R. Lindqvist",), "DRAFT, not countersigned", True),
        (Role.STUDENT, ("R. Lindqvist", "M. Tau"), "Signed by R. Lindqvist, M. Tau", False),
        (Role.CLINICIAN, ("M. Tau",), "Signed by M. Tau", False),
    ],
)
def test_draft_until_signed_and_for_a_student_countersigned(
    role: Role, signed: tuple[str, ...], status: str, draft: bool
) -> None:
    page = texts(report(b.examination(examiner=Person("X", role), signed_by=signed)))[0]
    assert status in page[page.rfind("OKONJO") :]
    assert ("DRAFT" in page) is draft


def test_what_was_changed_behind_a_signature_is_a_draft_again() -> None:
    changed = b.examination(examiner=Person("X"), signed_by=("M. Tau",), amended=True)
    page = texts(report(changed))[0]
    assert "DRAFT, not signed again" in page
    assert "Signed by" not in page


def test_every_unit_stands_in_its_cell_and_every_sided_table_names_its_sides() -> None:
    text = body(RICH)
    for cell in (
        "9 deg",
        "12 deg",
        "30 mm",
        "41 mm",
        "+9 points",
        "+4 points",
        "6.4 cm",
        "10.0 cm",
    ):
        assert text.count(cell) >= 2, cell
    assert "3 points" in text
    assert "22.0 kg/m²" in text
    for page in texts(RICH)[:3]:
        assert re.search(r"Measure\s+Left\s+Right", page)


def test_outside_says_how_sure_against_what_and_by_which_source() -> None:
    text = " ".join(body(RICH).split())
    assert "possibly below, measurement error only mean of 9, 8, 10 deg" in text
    assert "usual 10 deg or more [1], common practice" in text
    assert "usual 36 to 55 mm [2], published 30 mm possibly low" in text
    assert "usual 0 to +5 points [3], published +9 points likely pronated" in text
    assert "usual 6.51 to 17.49 cm (mean ± 1.96 SD) [4], published, not checked" in text
    assert "6.4 cm repeat: below 10.0 cm within the usual range" in text
    assert "12 deg within the usual range, near its limit" in text
    assert "plantarflexed outside the usual [1] could not be tested (dressing)" in text


def test_an_unknown_error_is_said() -> None:
    found = b.finding(
        "fpi-total", b.LEFT, b.Decimal(9), state="pronated", label=Label.REPEAT, basis="none"
    )
    text = whole_text(report(assessment=b.assessment(findings=(found,))))
    assert "repeat: pronated, error not known" in text


def test_nothing_outside_and_nothing_judged_are_told_apart() -> None:
    inside = b.assessment(findings=(b.finding("fpi-total", b.LEFT, b.Decimal(3)),))
    assert "No judged reading lies outside its usual range." in whole_text(report(None, inside))
    assert "No reading could be judged against a usual range." in whole_text(report())


def test_differences_and_changes() -> None:
    text = " ".join(body(RICH).split())
    told = "left 6.4 cm, right 10.0 cm, left − right −3.6 cm, likely outside"
    assert f"Lunge, toe to wall: {told} (beyond error: 1.9 cm needed [4])" in text
    assert "9 deg 12 deg −3 deg" not in text
    assert "Foot Posture Index, left +5 points +9 points +4 points 1.9 points [5]" in text
    assert "Inside measurement error, no change shown: Lunge, toe to wall left +0.4 cm." in text
    assert "measurement error not known: Body mass index −0.4 kg/m²." in text


def test_no_difference_worth_telling_is_told() -> None:
    only = b.assessment(differences=b.rich_assessment().differences[:1])
    assert "No difference beyond measurement error or the usual." in whole_text(report(None, only))


def test_a_difference_of_unknown_error_within_the_usual_is_not_listed_but_outside_is() -> None:
    one = replace(b.rich_assessment().differences[1], change_needed=None, beyond_error=None)
    text = whole_text(report(None, b.assessment(differences=(one,))))
    assert "6.4 cm 10.0 cm −3.6 cm error not known" in text
    assert "likely outside usual up to 1.5 cm [1], published, not checked" in text


def test_without_an_earlier_visit_there_is_no_word_of_changes() -> None:
    assert "Changes since" not in whole_text(report())


def test_only_changes_inside_the_error() -> None:
    only = b.assessment(changes=b.rich_assessment().changes[1:])
    assert "No change beyond measurement error." in whole_text(report(None, only))


def test_absences_are_told_apart_with_their_reasons() -> None:
    text = " ".join(body(RICH).split())
    start = text.index("Not examined, declined or not possible")
    part = text[start : text.index("All readings")]
    assert "Could not be tested First ray position, right (dressing)" in part
    assert "Not done, for safety Step width (unsteady without a rail)" in part
    assert "Declined Numbness or weakness" in part
    assert "No entry Place of the complaint, right" in part


@pytest.mark.parametrize("absence", list(Absence))
def test_each_absence_has_its_own_row(absence: Absence) -> None:
    made = b.examination(dict([b.entry("step-width", None, absent=absence, reason="why")]))
    text = whole_text(report(made))
    words = {
        Absence.NOT_EXAMINED: "Not examined Step width (why)",
        Absence.DECLINED: "Declined Step width (why)",
        Absence.COULD_NOT_BE_TESTED: "Could not be tested Step width (why)",
        Absence.NOT_APPLICABLE: "Not applicable Step width (why)",
        Absence.NOT_DONE_SAFETY: "Not done, for safety Step width (why)",
    }
    assert words[absence] in text


def test_all_readings_with_repeats_method_note_and_late_entry() -> None:
    text = " ".join(body(RICH)[body(RICH).index("All readings") :].split())
    for part in (
        "Duration 10.7 weeks typed “75 days”",
        "Body height 162.56 cm typed “5 ft 4 in”",
        "mean of 9, 8, 10 deg method: goniometer",
        "note: heel just down",
        "entered late, done 12-May-2026 08:20 UTC",
        "heel, plantar medial 6 points arch, central 0 points",
        "yes: heel, plantar medial note: deep, not on squeeze",
        "declined (will say next time) (side not stated, counts for both)",
        "stairs 4 of 10 standing at work 2 of 10",
        "+2 points −1 point",
    ):
        assert part in text, part


def test_every_reading_of_the_record_is_printed() -> None:
    text = " ".join(body(RICH)[body(RICH).index("All readings") :].split())
    for measure, _ in b.rich_examination().readings:
        assert b.CATALOGUE.measures[measure].label["en"] in text, measure


def test_scores_with_competing_bands_the_judging_one_first() -> None:
    text = " ".join(body(RICH)[body(RICH).index("Derived scores") :].split())
    assert "from Arch, Foot Posture Index item" in text
    first = text.index("pronated (Bands for adults [3])")
    assert first < text.index("another set: highly pronated (Survey of adults [5])")


def test_sources_are_numbered_once_and_all_used() -> None:
    text = body(RICH)
    listed = text[text.index("Sources") :]
    cited = {int(number) for number in re.findall(r"\[(\d+)\]", text[: text.index("Sources")])}
    numbered = {int(number) for number in re.findall(r"^\[(\d+)\]", listed, re.MULTILINE)}
    assert cited == numbered == set(range(1, len(cited) + 1))


def test_sources_carry_citation_and_provenance_in_words() -> None:
    text = " ".join(body(RICH)[body(RICH).index("Sources") :].split())
    assert "Redmond et al. 2008, J Foot Ankle Res 1:6 doi:10.1186/1757-1146-1-6" in text
    assert "Nilsson et al. 2012, J Foot Ankle Res 5:3 PMID 22321056" in text
    assert "Common practice: usual range of Ankle dorsiflexion" in text
    assert "Published, figure not checked in the paper: usual range of Lunge, toe to wall" in text
    assert "Published: measurement error of Foot Posture Index" in text


def test_competing_norms_stand_with_figures_and_their_part_in_the_judgement() -> None:
    text = " ".join(body(RICH).split())
    part = text[text.index("Usual ranges and measurement errors used") : text.index("Sources [1]")]
    band = "Bands: adults low < 36 mm; high > 55 mm; mean 45.5 mm, SD 9.5 mm; n = 254"
    assert f"{band} judged, [2], published SD worked out from the printed bands" in part
    assert "Measurement error, same examiner change needed" in part
    assert part.count("SD worked out from the printed bands") == 1


def test_the_foot_of_page_one_has_room_to_write_and_lines_to_sign() -> None:
    first = texts(RICH)[0]
    for line in (
        "Argument and plan",
        "R. Lindqvist\nExamined by (student), registration, date and time",
        "Countersigned by, registration, date and time",
    ):
        assert line in first
    alone = texts(report())[0]
    assert "Examined by (clinician), registration, date and time" in alone
    assert "Countersigned" not in alone


def test_what_the_document_is_for_is_said_at_its_end() -> None:
    assert "It does not diagnose" in " ".join(texts(RICH)[-1].split())


def test_a_source_missing_from_the_list_is_said() -> None:
    bare = replace(b.CATALOGUE, sources={})
    data = examination_report(b.rich_examination(), b.rich_assessment(), bare)
    assert "source redmond-2008 is not in the list of sources" in whole_text(data)


def test_kept_warnings_stand_under_remarks() -> None:
    text = " ".join(body(RICH).split())
    assert "Lunge, toe to wall, left 6.4 Less than 7 cm is seldom seen; kept as typed." in text


def test_a_retired_measure_is_printed_as_typed() -> None:
    made = b.examination(dict([b.entry("old-thing", Text("7 lb"), b.LEFT, typed="7 lb")]))
    text = whole_text(report(made))
    assert "Measures no longer in use old-thing, left 7 lb" in text


@pytest.mark.parametrize(
    ("patient", "line"),
    [
        (
            Patient("Okonjo"),
            "Born Not known Sex Not known Record number Not known",
        ),
        (
            Patient("Okonjo", birth_date="1981-03", record_number="7", sex=Sex.OTHER),
            "Born Mar-1981 Sex other Record number 7",
        ),
    ],
)
def test_what_is_not_known_is_said(patient: Patient, line: str) -> None:
    data = report(b.examination(patient=patient), b.assessment(age=None))
    assert line in whole_text(data)


def test_allergies_none_known_not_recorded_and_declined_are_told_apart() -> None:
    assert "Allergies none known" in whole_text(report())
    assert "Allergies not recorded" in whole_text(report(b.examination()))
    made = b.examination(dict([b.entry("allergies", None, absent=Absence.DECLINED)]))
    assert "Allergies declined" in whole_text(report(made))


def test_an_empty_examination_is_a_report() -> None:
    text = whole_text(report(b.examination(supervisor=None)))
    assert "In the patient’s words not recorded" in text
    assert "No readings were entered." in text
    assert "None of the 12 opening questions was asked." in text
    assert "Sources" not in text


@pytest.mark.parametrize(
    ("purpose", "words"),
    [
        (Purpose.STUDENT, "Examination by a student."),
        (Purpose.REFERENCE, "Reference examination for marking."),
    ],
)
def test_the_purpose_is_said_where_it_is_not_the_record(purpose: Purpose, words: str) -> None:
    assert words in whole_text(report(b.examination(purpose=purpose)))


def test_a_supervisor_without_a_level() -> None:
    made = b.examination(supervisor=Person("M. Tau", Role.SUPERVISOR))
    assert "Supervisor M. Tau." in whole_text(report(made))


def test_the_title_is_free_of_the_patient_and_the_language_is_set() -> None:
    assert b"/Lang (en)" in RICH
    assert b"Examination of the feet and lower limbs" in RICH
    assert b"Okonjo" not in RICH
    assert b"OKONJO" not in RICH


def test_answers_in_rows_are_a_table_with_the_columns_of_forms() -> None:
    rows = Rows(({"since": "2011"}, {"old": "x", "what": "latex"}))
    made = b.examination(dict([b.entry("allergies", rows, note="told by his wife")]))
    text = whole_text(report(made))
    assert "Allergies what since old 2011 latex x note: told by his wife" in text
