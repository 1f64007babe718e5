"""The demo: its examination files are whole and varied, and making it is safe and repeatable."""

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from itertools import chain
from pathlib import Path

import pypdfium2
import pytest

from footexam.assessment import Assessment, assess
from footexam.catalogue.model import Catalogue
from footexam.cli import main
from footexam.demo import BLANK_FORM, demo_files, earlier, make_demo, previous
from footexam.demo_store import (
    MISTAKEN,
    SIGNED,
    SIGNED_DOCUMENT,
    WRONG_PATIENT,
    make_demo_store,
)
from footexam.exchange.examination import read_examination
from footexam.record.examination import Examination
from footexam.record.reading import NoneKnown, Numbers, Reading, Sites
from footexam.record.signing import Standing, signatures, standing
from footexam.reports.examination import examination_report
from footexam.reports.fonts import Typeset
from footexam.resources import assets_dir
from footexam.store.layout import DEMO_MARK, is_demo
from footexam.store.quick_list import PatientList
from footexam.store.signed import SignedDocument, as_signed
from footexam.store.store import ExaminationRow, Store
from footexam.terms import Absence, ChangeLabel, Depth, Kind, Label, ProblemKind, Purpose, Sex
from tests.shipped import shipped

DAY = date(2026, 10, 31)
FULL = "06-medial-ankle-pain-visit-1"
STUDENT, REFERENCE = "07-achilles-pain-student", "07-achilles-pain-reference"
NAMES = [path.stem for path in demo_files()]

REFERRED = (
    "04-diabetes-wound-visit-1",
    "04-diabetes-wound-visit-2",
    "08-shin-pain-runner",
    "09-unstable-ankle-visit-1",
)
PLANNED = ("03-heel-pain-visit-2", "06-medial-ankle-pain-visit-2")

# what an examination of the demo is meant to be told about; everything else is a mistake of ours
MEANT = {
    STUDENT: {("fpi-total", ProblemKind.INCOMPLETE)},
    "10-stiff-great-toe": {
        ("hallux-dorsiflexion", ProblemKind.WARN),
        ("hallux-interphalangeal-extension", ProblemKind.WARN),
    },
}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return shipped()


@pytest.fixture(scope="module")
def examinations(catalogue: Catalogue) -> Mapping[str, Examination]:
    return {
        path.stem: read_examination(path.read_bytes(), catalogue, DAY, path.name).examination
        for path in demo_files()
    }


@pytest.fixture(scope="module")
def assessments(
    examinations: Mapping[str, Examination], catalogue: Catalogue
) -> Mapping[str, Assessment]:
    return {
        name: assess(now, catalogue, previous(now, examinations.values()))
        for name, now in examinations.items()
    }


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory, catalogue: Catalogue) -> list[Path]:
    return make_demo(tmp_path_factory.mktemp("made") / "demo", catalogue)


def readings(examinations: Mapping[str, Examination]) -> list[Reading]:
    return list(chain.from_iterable(now.readings.values() for now in examinations.values()))


def patients_with(examinations: Mapping[str, Examination], absence: Absence) -> set[str]:
    return {
        now.patient.record_number
        for now in examinations.values()
        if any(reading.absent is absence for reading in now.readings.values())
    }


def texts(page: str) -> str:
    return " ".join(page.split())


# The files


@pytest.mark.parametrize("name", NAMES)
def test_only_the_meant_problems_are_told(name: str, assessments: Mapping[str, Assessment]) -> None:
    told = {(problem.measure, problem.kind) for problem in assessments[name].problems}
    assert told == MEANT.get(name, set())


@pytest.mark.parametrize("name", NAMES)
def test_each_is_a_full_examination(
    name: str, examinations: Mapping[str, Examination], catalogue: Catalogue
) -> None:
    entered = {measure for measure, _ in examinations[name].readings}
    core = [m.id for m in catalogue.measures.values() if m.depth is Depth.CORE]
    left_out = set(core) - entered
    # the student forgot one umbrella question, on purpose
    assert left_out == ({"caution-saddle-or-bladder"} if name == STUDENT else set())


def test_most_core_measures_have_values(
    examinations: Mapping[str, Examination], catalogue: Catalogue
) -> None:
    answered = [
        len(
            {
                reading.measure
                for reading in now.readings.values()
                if reading.absent is None
                and catalogue.measures[reading.measure].depth is Depth.CORE
            }
        )
        for now in examinations.values()
    ]
    assert min(answered) >= 38
    assert sum(count >= 45 for count in answered) > len(answered) / 2


def test_the_benchmark_examination_is_very_full(
    examinations: Mapping[str, Examination],
) -> None:
    assert len(examinations[FULL].readings) > 500


def test_every_panel_and_kind_is_used(
    examinations: Mapping[str, Examination], catalogue: Catalogue
) -> None:
    used = [
        catalogue.measures[reading.measure]
        for reading in readings(examinations)
        if reading.absent is None
    ]
    assert {measure.panel for measure in used} == set(catalogue.panels)
    assert {measure.kind for measure in used} == set(Kind) - {Kind.DERIVED}


def test_every_absence_is_used_with_its_reason(
    examinations: Mapping[str, Examination],
) -> None:
    absent = [reading for reading in readings(examinations) if reading.absent]
    assert {reading.absent for reading in absent} == set(Absence)
    assert all(reading.reason for reading in absent)


def test_two_patients_declined_something(examinations: Mapping[str, Examination]) -> None:
    assert patients_with(examinations, Absence.DECLINED) == {"HQ-0005", "HQ-0010"}


def test_readings_come_in_every_form(
    examinations: Mapping[str, Examination], catalogue: Catalogue
) -> None:
    found = readings(examinations)
    sites = [reading.value for reading in found if isinstance(reading.value, Sites)]
    assert any(value.word == "yes" and value.sites for value in sites)
    assert any(value.word == "yes" and not value.sites for value in sites)
    assert any(isinstance(reading.value, NoneKnown) for reading in found)
    assert any(
        reading.side is None and catalogue.measures[reading.measure].sided for reading in found
    ), "a caution answered without a side"
    assert any(reading.typed_both for reading in found)
    assert any(reading.note for reading in found)
    assert any(reading.method for reading in found)
    assert any(reading.performed_at for reading in found)
    assert any(
        isinstance(reading.value, Numbers) and len(reading.value.readings) >= 3 for reading in found
    )


@pytest.mark.parametrize(
    "typed",
    ["5 ft 4 in", "12 st 4 lb", "1 year 2 months", "15 min", "3.9 km/h", "92 spm", "−9 −8 −9"],
)
def test_typed_in_many_units(typed: str, examinations: Mapping[str, Examination]) -> None:
    assert typed in {reading.typed for reading in readings(examinations)}


def test_some_typed_a_decimal_comma(examinations: Mapping[str, Examination]) -> None:
    commas = [
        reading
        for reading in readings(examinations)
        if isinstance(reading.value, Numbers) and "," in reading.typed
    ]
    assert len({reading.measure for reading in commas}) >= 5


# The patients


def test_ten_patients_who_stay_themselves(examinations: Mapping[str, Examination]) -> None:
    by_number = {now.patient.record_number: now.patient for now in examinations.values()}
    assert sorted(by_number) == [f"HQ-{number:04}" for number in range(1, 11)]
    assert all(by_number[now.patient.record_number] == now.patient for now in examinations.values())


def test_from_a_toddler_to_the_eighties(examinations: Mapping[str, Examination]) -> None:
    years = [age.years for now in examinations.values() if (age := now.age())]
    assert min(years) < 3
    assert 80 <= max(years) < 90
    assert {now.patient.sex for now in examinations.values()} == set(Sex) - {Sex.UNKNOWN}
    assert any(len(now.patient.birth_date or "") == len("YYYY-MM") for now in examinations.values())


def test_nobody_complains_under_the_first_metatarsal_head(
    examinations: Mapping[str, Examination],
) -> None:
    places = {
        place
        for now in examinations.values()
        for reading in now.readings.values()
        if reading.measure == "complaint-site" and reading.value is not None
        for place in getattr(reading.value, "words", ())
    }
    assert places
    assert not places & {"met-head-1", "sesamoid-medial", "sesamoid-lateral"}


def test_days_lie_in_the_demo_s_time(examinations: Mapping[str, Examination]) -> None:
    days = [now.examined_on for now in examinations.values()]
    assert date(2025, 1, 1) <= min(days)
    assert max(days) <= DAY


def test_every_letter_of_every_name_is_drawn(examinations: Mapping[str, Examination]) -> None:
    typeset = Typeset(assets_dir() / "fonts")
    people = [now.patient for now in examinations.values()]
    names = {f"{patient.title} {patient.given_names} {patient.family_name}" for patient in people}
    names |= {now.examiner.name for now in examinations.values()}
    assert {typeset.shown(name) for name in names} == names
    assert not typeset.coded


def test_names_exercise_several_scripts(examinations: Mapping[str, Examination]) -> None:
    people = [now.patient for now in examinations.values()]
    letters = set("".join(f"{patient.family_name}{patient.given_names}" for patient in people))
    # Vietnamese, Icelandic, Polish, Greek, Turkish, Portuguese, Ukrainian, German, Norwegian,
    # Hungarian
    assert letters >= set("ễÞÆŁŹίışçҐЄßøű")
    assert any(not now.patient.given_names for now in examinations.values())
    assert max(len(now.patient.family_name) for now in examinations.values()) > 30


# What they amount to


def test_four_patients_change_over_visits(
    examinations: Mapping[str, Examination], assessments: Mapping[str, Assessment]
) -> None:
    labels: dict[str, set[ChangeLabel]] = {}
    for name, now in examinations.items():
        if previous(now, examinations.values()):
            seen = labels.setdefault(now.patient.record_number, set())
            seen |= {change.label for change in assessments[name].changes}
    assert len(labels) >= 4
    both = {ChangeLabel.CHANGED, ChangeLabel.INSIDE_ERROR}
    assert sum(both <= seen for seen in labels.values()) >= 4


def test_findings_are_of_every_sureness(assessments: Mapping[str, Assessment]) -> None:
    labels = {finding.label for one in assessments.values() for finding in one.findings}
    assert labels >= set(Label)


def test_a_hypermobile_child_is_judged_by_puberty(
    examinations: Mapping[str, Examination], assessments: Mapping[str, Assessment]
) -> None:
    name = "02-heel-pain-child-visit-1"
    assert examinations[name].value("puberty")
    states = {finding.measure: finding.state for finding in assessments[name].findings}
    assert states["hypermobility-score"] == "hypermobile"


def test_cautions_are_open_decided_and_absent(
    examinations: Mapping[str, Examination], assessments: Mapping[str, Assessment]
) -> None:
    opened = "04-diabetes-wound-visit-1"
    asked = {because for caution in assessments[opened].cautions for because in caution.because}
    assert "measure:caution-open-wound" in asked
    questions = {one for one in asked if one.startswith("measure:caution-")}
    assert questions == {"measure:caution-open-wound"}
    assert all(caution.decision is None for caution in assessments[opened].cautions)
    assert any(one.decision for one in assessments["04-diabetes-wound-visit-2"].cautions)
    assert not examinations[opened].decisions.get("cautions")
    assert examinations["04-diabetes-wound-visit-2"].decisions["cautions"]
    none = [name for name, one in assessments.items() if not one.cautions]
    assert len(none) >= 8


def test_a_student_and_the_reference_saw_the_same_patient(
    examinations: Mapping[str, Examination],
) -> None:
    student, reference = examinations[STUDENT], examinations[REFERENCE]
    assert (student.purpose, reference.purpose) == (Purpose.STUDENT, Purpose.REFERENCE)
    assert student.patient == reference.patient
    assert student.examined_on == reference.examined_on
    assert student.examiner != reference.examiner
    assert not student.signed_by


def test_the_visit_before_is_the_latest_of_the_same_purpose(
    examinations: Mapping[str, Examination],
) -> None:
    others = examinations.values()
    third = previous(examinations["03-heel-pain-visit-3"], others)
    assert third is examinations["03-heel-pain-visit-2"]
    assert previous(examinations["03-heel-pain-visit-1"], others) is None
    assert previous(examinations[STUDENT], others) is None


# The read-me


def test_the_readme_tells_of_every_file_and_that_all_are_invented() -> None:
    readme = (assets_dir() / "demo" / "README.md").read_text(encoding="utf-8")
    assert "Every person here is invented" in readme
    assert {name for name in NAMES if f"`{name}.json`" in readme} == set(NAMES)


# Making it


def test_each_examination_gets_its_assessment_and_report(
    made: list[Path], examinations: Mapping[str, Examination]
) -> None:
    ends = (".json", "-assessment.json", "-report.pdf")
    wanted = {DEMO_MARK, BLANK_FORM} | {n + end for n in NAMES for end in ends}
    taught = (STUDENT, REFERENCE)
    wanted |= {f"{name}-patient-copy.pdf" for name in NAMES if name not in taught}
    wanted |= {f"{name}-referral.pdf" for name in REFERRED}
    wanted |= {f"{name}-leaflet.pdf" for name in PLANNED}
    assert {path.name for path in made} == wanted
    assert all(path.is_file() for path in made)
    patients = {examinations[name].patient.record_number for name in NAMES if name not in taught}
    assert len(patients) == 9  # the tenth is the volunteer whom a student examined


def test_examination_files_are_copied_unchanged(made: list[Path]) -> None:
    copies = {path.name: path.read_bytes() for path in made}
    assert all(copies[path.name] == path.read_bytes() for path in demo_files())


def test_no_name_of_a_patient_in_a_file_name(
    made: list[Path], examinations: Mapping[str, Examination]
) -> None:
    patients = [now.patient for now in examinations.values()]
    words = {
        word.casefold()
        for patient in patients
        for name in (patient.family_name, patient.given_names)
        for word in name.replace("-", " ").split()
        if len(word) > 2
    }
    assert not [path.name for path in made if any(word in path.name for word in words)]


def test_assessments_compare_with_the_visit_before(made: list[Path]) -> None:
    trees = {p.name: json.loads(p.read_bytes()) for p in made if "-assessment" in p.name}
    assert trees["03-heel-pain-visit-1-assessment.json"]["changes"] == []
    assert trees["03-heel-pain-visit-2-assessment.json"]["changes"]


def test_every_page_says_invented_and_who_it_is(made: list[Path]) -> None:
    # the blank form is of nobody
    reports = [path for path in made if path.suffix == ".pdf" and path.name != BLANK_FORM]
    numbers = {path.name: path.name[:2] for path in reports}
    for path in reports:
        document = pypdfium2.PdfDocument(path)
        for page in document:
            text = texts(page.get_textpage().get_text_bounded())
            assert "invented" in text.casefold()
            assert f"HQ-00{numbers[path.name]}" in text
        document.close()


def said(path: Path) -> str:
    document = pypdfium2.PdfDocument(path)
    try:
        return texts(" ".join(page.get_textpage().get_text_bounded() for page in document))
    finally:
        document.close()


def test_the_reports_of_the_children_follow_their_growth(made: list[Path]) -> None:
    with_growth = {p.name for p in made if "-report" in p.name and "Growth over" in said(p)}
    assert with_growth == {
        "01-flat-feet-toddler-visit-2-report.pdf",
        "02-heel-pain-child-visit-2-report.pdf",
    }


def test_made_twice_it_has_the_same_bytes(made: list[Path], catalogue: Catalogue) -> None:
    first = {path: path.read_bytes() for path in made}
    again = make_demo(made[0].parent, catalogue)
    assert again == made
    assert {path: path.read_bytes() for path in again} == first


def test_a_folder_with_other_files_is_left_alone(tmp_path: Path, catalogue: Catalogue) -> None:
    own = tmp_path / "thesis.txt"
    own.write_text("mine", encoding="utf-8")
    with pytest.raises(FileExistsError, match="not of a demo"):
        make_demo(tmp_path, catalogue)
    assert list(tmp_path.iterdir()) == [own]
    assert own.read_text(encoding="utf-8") == "mine"


def test_a_file_in_place_of_the_folder_is_refused(tmp_path: Path, catalogue: Catalogue) -> None:
    place = tmp_path / "demo"
    place.write_text("mine", encoding="utf-8")
    with pytest.raises(OSError, match="exists"):
        make_demo(place, catalogue)
    assert place.read_text(encoding="utf-8") == "mine"


def test_the_report_compares_feet_and_not_what_is_told(
    examinations: Mapping[str, Examination],
    assessments: Mapping[str, Assessment],
    catalogue: Catalogue,
) -> None:
    name = "03-heel-pain-visit-2"
    pdf = examination_report(examinations[name], assessments[name], catalogue)
    document = pypdfium2.PdfDocument(pdf)
    text = "".join(page.get_textpage().get_text_range() for page in document)
    compared, changed = text.split("Differences between the sides")[1].split("Changes since")[:2]
    assert "Foot Posture Index" in compared
    assert "Pain now" not in compared
    assert "Time since it began" not in changed.split("All readings")[0]


def test_what_was_decided_about_a_danger_stands_in_the_box(
    examinations: Mapping[str, Examination],
    assessments: Mapping[str, Assessment],
    catalogue: Catalogue,
) -> None:
    name = "10-stiff-great-toe"
    pdf = examination_report(examinations[name], assessments[name], catalogue)
    text = " ".join(pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range().split())
    assert "Right: Bone pain or lump: exclude a tumour Suspected cancer pathway" in text
    assert "decision: excluded · The film of October 2024" in text
    assert "Noor Haddad · 17-Jun-2025 09:50 UTC" in text
    assert "No decision recorded" not in text


# The demo clinic's store


@pytest.fixture(scope="module")
def clinic(tmp_path_factory: pytest.TempPathFactory, catalogue: Catalogue) -> Path:
    folder = tmp_path_factory.mktemp("clinic") / "demo"
    make_demo(folder, catalogue)
    return make_demo_store(folder, catalogue)


def visits(store: Store, number: str, clinic: Path) -> tuple[ExaminationRow, ...]:
    with PatientList(clinic) as patients:
        (row,) = patients.search(number).rows
    return store.examinations(row.subject)


def test_all_ten_patients_and_their_visits_are_in_the_store(clinic: Path) -> None:
    assert is_demo(clinic)
    with Store.read(clinic) as store:
        counts = [len(visits(store, f"HQ-{number:04}", clinic)) for number in range(1, 11)]
    assert counts == [2, 2, 3, 2, 1, 2, 2, 1, 2, 1 + 1]  # the last with the one in error


def test_one_visit_is_signed_and_amended_afterwards(clinic: Path) -> None:
    with Store.read(clinic) as store:
        rows = [row for n in range(1, 11) for row in visits(store, f"HQ-{n:04}", clinic)]
        (signed,) = [row for row in rows if row.signed]
        now, journal = store.examination(signed.subject), store.journal(signed.subject)
        (signature,) = signatures(journal)
        document = store.attachment(signature.document).data
    assert signature.sound
    assert signature.by.name == now.examiner.name
    assert standing(journal, now) is Standing.AMENDED
    (amendment,) = list(journal)[signature.seq :]
    assert amendment.draft.reason
    assert now.amended
    signed_file = clinic.parent / SIGNED_DOCUMENT
    assert signed_file.read_bytes() == document
    pages = pypdfium2.PdfDocument(document)
    assert len(pages) == signature.pages
    pages.close()
    text = said(signed_file)
    assert f"Signed by {now.examiner.name}" in text
    assert "Signed in the program" in text
    assert "DRAFT" not in text
    assert text.count("Invented patient") >= signature.pages


def test_what_was_amended_stands_in_a_draft_again(clinic: Path, catalogue: Catalogue) -> None:
    with Store.read(clinic) as store:
        latest = visits(store, "HQ-0009", clinic)[0]
        now, before = store.examination(latest.subject), store.visits_before(latest.subject)
    (was,) = [path for path in demo_files() if path.stem == SIGNED]
    file = read_examination(was.read_bytes(), catalogue, DAY, was.name).examination
    different = {key for key in now.readings if now.readings[key].value != file.readings[key].value}
    assert {measure for measure, _ in different} == {"lunge-distance"}
    pdf = examination_report(now, assess(now, catalogue, before[-1]), catalogue, earlier=before)
    page = texts(pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_bounded())
    assert "DRAFT, not signed again" in page
    assert "Signed in the program" not in page


def test_one_visit_is_entered_in_error_and_says_so_on_every_page(
    clinic: Path, catalogue: Catalogue
) -> None:
    with Store.read(clinic) as store:
        rows = [row for n in range(1, 11) for row in visits(store, f"HQ-{n:04}", clinic)]
        (struck,) = [row for row in rows if row.in_error]
        assert struck in visits(store, WRONG_PATIENT, clinic)
        now = store.examination(struck.subject)
    assert now.in_error
    assert now.patient.record_number == WRONG_PATIENT
    right = next(path for path in demo_files() if path.stem == MISTAKEN)
    meant = read_examination(right.read_bytes(), catalogue, DAY, right.name).examination
    assert (
        now.readings.items()
        <= {
            key: replace(reading, seq=now.readings[key].seq) if key in now.readings else reading
            for key, reading in meant.readings.items()
        }.items()
    )
    document = pypdfium2.PdfDocument(examination_report(now, assess(now, catalogue), catalogue))
    for page in document:
        assert "ENTERED IN ERROR" in page.get_textpage().get_text_bounded()


def test_a_second_clinic_has_the_same_ids_and_the_same_signed_document(
    clinic: Path, tmp_path: Path, catalogue: Catalogue
) -> None:
    again = make_demo_store(tmp_path, catalogue)
    with Store.read(clinic) as one, Store.read(again) as other:
        assert visits(one, "HQ-0009", clinic) == visits(other, "HQ-0009", again)
    signed = (clinic.parent / SIGNED_DOCUMENT).read_bytes()
    assert (tmp_path / SIGNED_DOCUMENT).read_bytes() == signed


def test_a_store_that_is_there_is_kept_also_one_without_a_signature(
    tmp_path: Path, catalogue: Catalogue
) -> None:
    Store.create(tmp_path / "store").close()
    before = (tmp_path / "store" / "store.db").read_bytes()
    where = make_demo_store(tmp_path, catalogue)
    assert (where / "store.db").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["store"]


def test_earlier_visits_come_the_first_one_first(examinations: Mapping[str, Examination]) -> None:
    names = [f"03-heel-pain-visit-{number}" for number in (1, 2, 3)]
    first, second, third = (examinations[name] for name in names)
    assert earlier(third, examinations.values()) == (first, second)
    assert earlier(first, examinations.values()) == ()


def test_a_signed_visit_of_the_store_prints_as_it_was_signed(
    clinic: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Signed bytes as they are; `--anew` or another form makes the report with today's norms."""
    with Store.read(clinic) as store:
        subject = visits(store, "HQ-0001", clinic)[0].subject
        (amended,) = [row for row in visits(store, "HQ-0009", clinic) if row.signed]
        assert as_signed(store, subject) is None  # never signed
        assert as_signed(store, amended.subject) is None  # changed since it was signed
    kept = SignedDocument(b"%PDF as signed", b"{}", "head", 1, "forms")
    monkeypatch.setattr("footexam.store.signed.as_signed", lambda _store, _subject: kept)
    out = tmp_path / "out.pdf"
    name = f"store:{subject.partition(':')[2]}"
    common = ["print", name, "--store", str(clinic), "--as", "examination", "-o", str(out)]
    assert main(common) == 0
    assert out.read_bytes() == kept.document
    for other in (["--anew"], ["--page", "letter"], ["--practice", "Quay"]):
        assert main([*common, *other]) == 0
        assert out.read_bytes() != kept.document
