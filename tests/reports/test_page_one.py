"""Page one is one page with its signature lines; what it leaves out stands whole where it says."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from footexam.assessment import Assessment, assess
from footexam.catalogue.model import Catalogue
from footexam.demo import demo_files, previous
from footexam.drawing.shapes import Rect, Text
from footexam.record.examination import Examination, Person
from footexam.reports.examination import examination_report, layout
from footexam.reports.fonts import Typeset
from footexam.reports.material import Material
from footexam.reports.sheet import PAPERS, Sheet
from footexam.reports.sureness import is_outside
from footexam.resources import assets_dir
from footexam.terms import Label, Role
from tests.reports import builders as b
from tests.reports.hostile import hostile_examination
from tests.reports.pages import text_box, texts
from tests.reports.test_demo_reports import CATALOGUE, examination

FILES = demo_files()
ALL = {path: examination(path) for path in FILES}
MORE = re.compile(r"and (\d+) more, page (\d+)")


def laid_out(made: Examination) -> Sheet:
    material = Material(made, b.assessment(), b.CATALOGUE, "en")
    typeset = Typeset(assets_dir() / "fonts")
    return layout(material, PAPERS["A4"], typeset, "Clinic", invented=True)


def judged(path: Path) -> tuple[Examination, Assessment]:
    made = ALL[path]
    return made, assess(made, CATALOGUE, previous(made, ALL.values()))


def pages(path: Path, page: str) -> list[str]:
    data = examination_report(*judged(path), CATALOGUE, page=page, practice="Clinic", invented=True)
    return [" ".join(text.split()) for text in texts(data)]


@pytest.mark.parametrize("page", ["A4", "letter"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_page_one_holds_everything_down_to_the_signatures(path: Path, page: str) -> None:
    first, *rest = pages(path, page)
    for title in (
        "Cautions",
        "Reason for the visit",
        "Outside the usual range",
        "Argument and plan",
    ):
        assert title in first
    assert "registration, date and time" in first
    assert not any("registration, date and time" in other for other in rest)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_what_page_one_leaves_out_stands_whole_on_the_page_it_names(path: Path) -> None:
    made = pages(path, "A4")
    titles = (
        "Outside the usual range",
        "Differences between the sides",
        "Changes since the last visit",
        "Not examined, declined or not possible",
    )
    first = made[0]
    places = sorted((first.index(title), title) for title in titles if title in first)
    bounds = [*(place for place, _ in places), first.index("Argument and plan")]
    for (start, title), end in zip(places, bounds[1:], strict=True):
        for _, page in MORE.findall(first[start:end]):
            assert f"{title}, all" in made[int(page) - 1]
    for finding in judged(path)[1].findings:
        if is_outside(finding):
            assert CATALOGUE.measures[finding.measure].label["en"] in " ".join(made)


def crowded(count: int) -> tuple[Assessment, Catalogue]:
    """Many measures outside, only the last of them surely."""
    known, first = b.CATALOGUE.measures["ankle-dorsiflexion"], b.rich_assessment().findings[1]
    names = [f"made-{place:02}" for place in range(count)]
    measures = {name: replace(known, id=name, label={"en": f"Made {name}"}) for name in names}
    labels = [*[Label.REPEAT] * (count - 1), Label.LIKELY]
    findings = [
        replace(first, measure=name, label=label, norms=())
        for name, label in zip(names, labels, strict=True)
    ]
    catalogue = replace(b.CATALOGUE, measures={**b.CATALOGUE.measures, **measures})
    return b.assessment(findings=tuple(findings)), catalogue


def test_the_surest_finding_stays_where_there_is_no_room_for_all() -> None:
    assessment, catalogue = crowded(40)
    report = examination_report(b.sparse_examination(), assessment, catalogue)
    data = [" ".join(text.split()) for text in texts(report)]
    assert "Made made-39" in data[0]
    left, page = MORE.findall(data[0])[0]
    shown = data[0].count("Made made-")
    assert shown + int(left) == 40
    assert shown >= 8
    assert "Outside the usual range, all" in data[int(page) - 1]
    for place in range(40):
        assert any(f"Made made-{place:02}" in text for text in data[1:])


def test_feeling_and_blood_flow_are_never_crowded_out() -> None:
    assessment, catalogue = crowded(40)
    first = replace(catalogue.measures["made-20"], panel="nerve-and-vessel")
    catalogue = replace(catalogue, measures={**catalogue.measures, "made-20": first})
    said = " ".join(
        texts(examination_report(b.sparse_examination(), assessment, catalogue))[0].split()
    )
    assert "Made made-20" in said
    assert "Made made-21" not in said
    wounded = next(path for path in FILES if path.stem == "04-diabetes-wound-visit-2")
    page = pages(wounded, "A4")[0]
    for label in ("Monofilament 10 g, big toe", "Ankle-brachial index", "Toe-brachial index"):
        assert label in page


def test_a_few_findings_are_all_on_page_one_and_nowhere_again() -> None:
    text = " ".join(
        texts(examination_report(b.rich_examination(), b.rich_assessment(), b.CATALOGUE))
    )
    assert "Outside the usual range, all" not in text


def test_a_record_too_large_for_one_page_loses_nothing() -> None:
    data = texts(examination_report(hostile_examination(), b.rich_assessment(), b.CATALOGUE))
    whole = " ".join(" ".join(data).split())
    assert "Argument and plan" in whole
    assert "Countersigned by, registration, date and time" in whole
    for title, page in re.findall(
        r"(Changes since the last visit).*?All changes on page (\d+)", whole
    ):
        assert f"{title}, all" in data[int(page) - 1]


@pytest.mark.parametrize(
    ("signed", "amended", "words"),
    [
        ((), False, "DRAFT, not signed"),
        (("R. Lindqvist",), False, "DRAFT, not countersigned"),
        (("R. Lindqvist", "M. Tau"), True, "DRAFT, not signed again"),
    ],
)
def test_the_frame_is_as_wide_as_what_it_says(
    signed: tuple[str, ...], amended: bool, words: str
) -> None:
    student = Person("R. Lindqvist", Role.STUDENT)
    made = b.sparse_examination(signed_by=signed, amended=amended)
    made = replace(made, examiner=student)
    shapes = laid_out(made).pages[0]
    (text,) = [
        one for one in shapes if isinstance(one, Text) and (one.text, one.size) == (words, 9.5)
    ]
    box = text_box(text, Typeset(assets_dir() / "fonts"))
    frames = [one for one in shapes if isinstance(one, Rect) and one.radius == 2.5]
    (frame,) = frames
    assert frame.x + 8 < box.left
    assert box.right < frame.x + frame.width - 8
    assert frame.width < box.right - box.left + 30


def test_a_visit_entered_in_error_is_framed_so_also_where_it_was_signed() -> None:
    made = b.sparse_examination(signed_by=("R. Lindqvist", "M. Tau"), in_error=True)
    for page in laid_out(made).pages:
        said = [one.text for one in page if isinstance(one, Text)]
        assert any("ENTERED IN ERROR, do not use" in text for text in said)


def test_who_has_signed_in_the_program_is_told_on_the_line() -> None:
    def said(*signed: str) -> str:
        student = Person("R. Lindqvist", Role.STUDENT)
        made = replace(b.sparse_examination(signed_by=signed), examiner=student)
        page = laid_out(made).pages[0]
        return " ".join(one.text for one in page if isinstance(one, Text))

    assert "Signed in the program" not in said()
    one = said("R. Lindqvist")
    assert one.count("Signed in the program") == 1
    assert "Countersigned by, registration, date and time" in one
    assert said("R. Lindqvist", "M. Tau").count("Signed in the program") == 2
