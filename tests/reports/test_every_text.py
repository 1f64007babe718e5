"""Hostile text in every field that takes text is printed as typed, in every document."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from itertools import cycle, islice

import pytest

from footexam.assessment import assess
from footexam.drawing.shapes import Text as Drawn
from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import Activities, Reading, Rows, Sites, Text
from footexam.reports.examination import examination_report, layout
from footexam.reports.fonts import Typeset
from footexam.reports.material import Material
from footexam.reports.patient_copy import patient_copy
from footexam.reports.sheet import PAPERS
from footexam.resources import assets_dir
from footexam.terms import Absence, Kind, Role, Sex, Side
from tests.reports.hostile import FOUR_THOUSAND, LONG_WORD, MARKS, MARKUP
from tests.reports.pages import figure_box, ink_boxes, text_box, texts
from tests.shipped import shipped

CATALOGUE = shipped()
TYPESET = Typeset(assets_dir() / "fonts")
HOSTILE = {
    "markup": MARKUP,
    "a very long word": LONG_WORD,
    "4,000 characters": FOUR_THOUSAND,
    "marks of direction": MARKS,
}
SHORT = 200
"""Characters of what has no room for more, as a reason or a name."""

Key = tuple[str, Side | None]


def of(name: str, most: int = 4000) -> str:
    return "".join(islice(cycle(HOSTILE[name]), min(most, len(HOSTILE[name]))))


def key_of(measure: str) -> Key:
    return measure, Side.LEFT if CATALOGUE.measures[measure].sided else None


def reading(key: Key, value: object, **more: object) -> tuple[Key, Reading]:
    return key, Reading(key[0], key[1], value, **more)  # type: ignore[arg-type]


def kinds(kind: Kind) -> list[str]:
    return [one.id for one in CATALOGUE.measures.values() if one.kind is kind]


def typed_texts(name: str) -> dict[Key, Reading]:
    return dict(reading(key_of(one), Text(of(name))) for one in kinds(Kind.TEXT))


def typed_rows(name: str) -> dict[Key, Reading]:
    found = {}
    for one in kinds(Kind.TABLE):
        columns = [c.id for c in CATALOGUE.measures[one].columns if c.kind == "text"]
        if columns:
            rows = Rows(({column: of(name, SHORT) for column in columns},))
            found |= dict([reading(key_of(one), rows)])
    return found


def typed_activities(name: str) -> dict[Key, Reading]:
    return dict(
        reading(key_of(one), Activities(((of(name, SHORT), 4),))) for one in kinds(Kind.ACTIVITIES)
    )


def typed_notes(name: str) -> dict[Key, Reading]:
    keys = [key_of(one) for one in ("complaint", "shoe-kind", "impression", "goals")]
    return dict(reading(key, Text("x"), note=of(name, SHORT)) for key in keys)


def typed_reasons(name: str) -> dict[Key, Reading]:
    return dict(
        reading(key_of(one), None, absent=absence, reason=of(name, SHORT))
        for one, absence in zip(
            ("body-mass", "pulse-dorsalis-pedis", "lunge-distance", "limp", "weekly-load"),
            Absence,
            strict=True,
        )
    )


FIELDS: dict[str, Callable[[str], dict[Key, Reading]]] = {
    "texts": typed_texts,
    "tables": typed_rows,
    "activities": typed_activities,
    "notes": typed_notes,
    "reasons": typed_reasons,
}


def examination(readings: dict[Key, Reading], **more: object) -> Examination:
    made = Examination(
        Patient("Quill", "Ada", "Ms", "B-7", "1979-08-30", Sex.FEMALE),
        date(2026, 3, 4),
        Person("R. Lind", Role.STUDENT),
        Person("M. Tau", Role.SUPERVISOR, 2),
        readings=readings,
    )
    return replace(made, **more)  # type: ignore[arg-type]


def squeezed(text: str) -> str:
    return "".join(text.split())


def body(data: bytes) -> str:
    """All text without the footers and the headings that a page break repeats, without spaces."""
    pages = (page[: page.rfind("QUILL, Ada")] for page in texts(data))
    told = squeezed("".join(pages))
    for heading in ("MeasureAnswer", "MeasureLeftRight"):
        told = told.replace(heading, "")
    return told


def as_printed(text: str) -> str:
    return squeezed(TYPESET.shown(text))


def report(made: Examination, **more: str) -> bytes:
    return examination_report(made, assess(made, CATALOGUE), CATALOGUE, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", HOSTILE)
@pytest.mark.parametrize("field", FIELDS)
def test_the_report_prints_it_whole_in_every_field(field: str, name: str) -> None:
    readings = FIELDS[field](name)
    assert readings
    told = body(report(examination(readings)))
    for one in readings.values():
        typed = [one.note, one.reason]
        if isinstance(one.value, Text):
            typed.append(one.value.text)
        if isinstance(one.value, Rows):
            typed += [cell for cell in one.value.rows[0].values() if isinstance(cell, str)]
        if isinstance(one.value, Activities):
            typed += [activity for activity, _ in one.value.items]
        for text in filter(None, typed):
            assert as_printed(text) in told, (one.measure, text[:40])


@pytest.mark.parametrize("name", HOSTILE)
def test_names_of_people_and_of_the_practice(name: str) -> None:
    text = of(name, SHORT)
    made = examination(
        {},
        examiner=Person(text, Role.STUDENT),
        supervisor=Person(text, Role.SUPERVISOR, 1),
        signed_by=(text,),
    )
    told = body(report(made, practice=text))
    assert told.count(as_printed(text)) >= 4  # practice, examiner, supervisor, signature


@pytest.mark.parametrize("name", HOSTILE)
def test_what_was_decided_and_done_about_a_caution(name: str) -> None:
    text = of(name, SHORT)
    key: Key = ("caution-open-wound", Side.LEFT)
    wound = dict([reading(key, Sites("yes"), note=text)])
    decision = {
        "diabetic-foot-active": {
            "side": "left",
            "decision": "acted",
            "done": text,
            "by": "R. Lind",
            "at": "2026-03-04T10:20:00Z",
        }
    }
    made = examination(wound, decisions={"cautions": decision})
    assert body(report(made)).count(as_printed(text)) >= 2


def test_a_page_of_every_text_has_nothing_over_anything_else() -> None:
    readings: dict[Key, Reading] = {}
    for field, name in zip(FIELDS, cycle(HOSTILE), strict=False):
        readings |= FIELDS[field](name)
    made = examination(readings)
    material = Material(made, assess(made, CATALOGUE), CATALOGUE, "en")
    for paper in PAPERS.values():
        sheet = layout(material, paper, Typeset(assets_dir() / "fonts"), MARKUP, invented=True)
        for shapes in sheet.pages:
            told = [text_box(one, sheet.typeset) for one in shapes if isinstance(one, Drawn)]
            figures = [box for one in shapes if (box := figure_box(one))]
            for place, box in enumerate(told):
                assert box.left >= paper.margin - 0.5
                assert box.right <= paper.width - paper.margin + 0.5
                for other in (*told[place + 1 :], *figures):
                    assert not box.meets(other), (box, other)


@pytest.mark.parametrize("name", HOSTILE)
def test_the_patients_copy_prints_what_it_repeats(name: str) -> None:
    text = of(name, SHORT)
    made = examination(
        dict([reading(("complaint", None), Text(text))]), examiner=Person(text, Role.CLINICIAN)
    )
    data = patient_copy(
        made, assess(made, CATALOGUE), CATALOGUE, practice=text, ask=text, invented=True
    )
    assert body(data).count(as_printed(text)) == 4  # practice, examiner, complaint, whom to ask
    for boxes in ink_boxes(data):
        for place, box in enumerate(boxes):
            for other in boxes[place + 1 :]:
                assert not box.overlaps(other), (box, other)


def test_a_long_complaint_is_cut_in_the_patients_copy_and_says_so() -> None:
    made = examination(dict([reading(("complaint", None), Text(FOUR_THOUSAND))]))
    told = " ".join(texts(patient_copy(made, assess(made, CATALOGUE), CATALOGUE))[0].split())
    assert FOUR_THOUSAND[:300] in told
    assert "…" in told
    assert FOUR_THOUSAND[:500] not in told
