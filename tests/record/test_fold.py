"""What journals fold to: all that is live, nothing that is retracted, no limits asked."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.record.entry import Draft, EntryKind
from footexam.record.examination import Examination, Patient, Person
from footexam.record.fold import fold_examination, fold_patient
from footexam.record.journal import Journal
from footexam.record.reading import Reading, Text
from footexam.terms import Absence, Purpose, Role, Sex, Side
from tests.record.journals import ANN, AT, BOB, Model, journal, retract, set_draft, sign

PATIENT = Patient("Quill")
HEAD = [
    Draft(EntryKind.SET, ANN, AT, "exam:examined-on", body={"is": "2026-03-04"}),
    Draft(EntryKind.SET, ANN, AT, "exam:examiner", body={"is": {"name": "Ann"}}),
]


def fact(target: str, value: object) -> Draft:
    return Draft(EntryKind.SET, ANN, AT, target, body={"is": value})


def decide(target: str, side: Side | None = None, **body: Any) -> Draft:
    return Draft(EntryKind.DECIDE, ANN, AT, target, side, body)


def fold(*drafts: Draft) -> Examination:
    return fold_examination(journal(*HEAD, *drafts), PATIENT)


# --- the patient


def test_a_patient_folds() -> None:
    made = journal(
        fact("patient:family-name", "Quill"),
        fact("patient:given-names", "Mara"),
        fact("patient:title", "Dr"),
        fact("patient:record-number", "7"),
        fact("patient:birth-date", "1979-08"),
        fact("patient:sex", "female"),
        fact("patient:family-name", "Quill-Reed"),
        fact("exam:purpose", "record"),
        Draft(EntryKind.NOTE, ANN, AT, "patient:title", body={"text": "asked"}),
    )
    assert fold_patient(made) == Patient("Quill-Reed", "Mara", "Dr", "7", "1979-08", Sex.FEMALE)


def test_what_is_not_known_of_a_patient_stays_empty() -> None:
    assert fold_patient(journal()) == Patient("", "", "", "", None, Sex.UNKNOWN)


def test_a_corrected_name_comes_back_when_the_correction_is_retracted() -> None:
    made = journal(fact("patient:family-name", "Quill"), fact("patient:family-name", "Quail"))
    made.append(retract(2))
    assert fold_patient(made).family_name == "Quill"


# --- the head of an examination


def test_an_examination_folds() -> None:
    made = journal(
        *HEAD,
        fact("exam:purpose", "reference"),
        fact("exam:examiner", {"name": "Bob", "role": "student"}),
        fact("exam:supervisor", {"name": "Eve", "role": "supervisor", "level": 2}),
        sign(ANN),
        sign(BOB),
        retract(7, BOB),
    )
    examination = fold_examination(made, PATIENT)
    assert examination == Examination(
        PATIENT,
        date(2026, 3, 4),
        Person("Bob", Role.STUDENT),
        Person("Eve", Role.SUPERVISOR, 2),
        Purpose.REFERENCE,
        {},
        examination.decisions,
        ("Ann",),
        8,
        made.head,
    )


def test_without_a_day_or_an_examiner_there_is_no_examination() -> None:
    for missing in (HEAD[:1], HEAD[1:]):
        with pytest.raises(KeyError):
            fold_examination(journal(*missing), PATIENT)


# --- readings


def test_a_reading_carries_what_its_entry_says() -> None:
    examination = fold(
        set_draft(
            "heel-raise-count",
            "x",
            side=Side.LEFT,
            note="slow",
            method="free",
            performed_at=AT,
            both=True,
        ),
        Draft(
            EntryKind.ABSENT,
            ANN,
            AT,
            "measure:heel-raise-count",
            Side.RIGHT,
            {"absent": "declined", "note": "tired"},
            reason="painful",
        ),
    )
    left = Reading(
        "heel-raise-count", Side.LEFT, Text("x"), "x", None, "", "slow", "free", AT, True, 3
    )
    right = Reading(
        "heel-raise-count",
        Side.RIGHT,
        None,
        absent=Absence.DECLINED,
        reason="painful",
        note="tired",
        seq=4,
    )
    assert examination.readings == {
        ("heel-raise-count", Side.LEFT): left,
        ("heel-raise-count", Side.RIGHT): right,
    }
    assert examination.reading("heel-raise-count", Side.LEFT) is not None
    assert examination.value("heel-raise-count", Side.LEFT) == Text("x")
    assert examination.value("heel-raise-count", Side.RIGHT) is None
    assert examination.reading("goals") is None
    assert examination.value("goals") is None


def test_the_last_one_counts_and_an_absence_replaces_a_value() -> None:
    absent = Draft(EntryKind.ABSENT, ANN, AT, "measure:goals", body={"absent": "declined"})
    examination = fold(set_draft(value="a"), set_draft(value="b"), absent)
    reading = examination.reading("goals")
    assert reading is not None
    assert (reading.value, reading.absent) == (None, Absence.DECLINED)


def test_ids_and_values_that_the_catalogue_does_not_know_are_kept() -> None:
    body = {"value": {"numbers": ["1E+9"]}, "typed": "a lot"}
    old = replace(set_draft("measure-of-long-ago", side=Side.LEFT), body=body)
    reading = fold(old).reading("measure-of-long-ago", Side.LEFT)
    assert reading is not None
    assert reading.typed == "a lot"


def test_other_kinds_of_entry_change_no_reading() -> None:
    note = Draft(EntryKind.NOTE, ANN, AT, "measure:goals", body={"text": "asked twice"})
    attach = Draft(EntryKind.ATTACH, ANN, AT, "measure:goals", body={"hash": "0"})
    examination = fold(set_draft(value="a"), note, attach, sign())
    assert examination.value("goals") == Text("a")
    assert examination.version == 6


moves = st.lists(
    st.tuples(
        st.sampled_from(["a", "b", "c"]),
        st.sampled_from([None, *Side]),
        st.sampled_from(["set", "set", "absent", "note", "retract"]),
        st.integers(0, 10**6),
    ),
    max_size=25,
)


def _draft(made: Journal, name: str, side: Side | None, kind: str, number: int) -> Draft:
    if kind == "retract":
        return retract(1 + number % len(made))
    if kind == "set":
        return set_draft(name, str(number), side=side)
    body = {"absent": "declined", "text": str(number)}
    return Draft(EntryKind(kind), ANN, AT, f"measure:{name}", side, body)


@given(moves)
def test_folding_ignores_what_is_retracted_and_nothing_else(
    made_of: list[tuple[str, Side | None, str, int]],
) -> None:
    made = journal(*HEAD)
    for move in made_of:
        draft = _draft(made, *move)
        if draft.retracts is None or draft.retracts > len(HEAD):
            made.append(draft)
    model = Model()
    for entry in made:
        model.write(entry)
    live = set(model.live())
    last: dict[tuple[str, Side | None], int] = {}
    for entry in made:
        if entry.seq in live and entry.draft.kind in {EntryKind.SET, EntryKind.ABSENT}:
            last[entry.draft.target, entry.draft.side] = entry.seq
    readings = fold_examination(made, PATIENT).readings
    told = {(f"measure:{name}", side): reading.seq for (name, side), reading in readings.items()}
    assert told == {key: seq for key, seq in last.items() if key[0].startswith("measure:")}


@given(moves, st.integers(0, 10**6))
def test_retract_and_redo_restore_the_examination(
    made_of: list[tuple[str, Side | None, str, int]], number: int
) -> None:
    made = journal(*HEAD, set_draft("a"))
    for move in made_of:
        draft = _draft(made, *move)
        if draft.retracts is None or draft.retracts > len(HEAD):
            made.append(draft)
    before = fold_examination(made, PATIENT)
    made.append(retract(len(HEAD) + 1 + number % (len(made) - len(HEAD))))
    made.append(retract(len(made)))
    after = fold_examination(made, PATIENT)
    assert after.readings == before.readings
    assert after.decisions == before.decisions
    assert after.version == before.version + 2


# --- decisions


def test_decisions_have_the_shape_of_the_file() -> None:
    examination = fold(
        decide("caution:deep-vein-thrombosis", Side.LEFT, decision="acted", done="sent"),
        decide("hypothesis:low-cadence-overstride", Side.LEFT, list="accepted"),
        decide("hypothesis:low-cadence-overstride", Side.RIGHT, list="accepted"),
        decide("hypothesis:", Side.LEFT, list="own", statement="tight boot"),
        decide("hypothesis:", Side.LEFT, list="own", statement="long walk"),
        decide("aim:raise-heel", None),
        decide("feature:heel-lift", Side.RIGHT, height="6 mm"),
    )
    assert examination.decisions == {
        "cautions": {"deep-vein-thrombosis": {"side": "left", "decision": "acted", "done": "sent"}},
        "hypotheses": {
            "accepted": [
                {"id": "low-cadence-overstride", "side": "left"},
                {"id": "low-cadence-overstride", "side": "right"},
            ],
            "rejected": [],
            "own": [
                {"side": "left", "statement": "tight boot"},
                {"side": "left", "statement": "long walk"},
            ],
        },
        "aims": [{"id": "raise-heel", "side": None}],
        "features": [{"id": "heel-lift", "side": "right", "height": "6 mm"}],
    }


def test_a_later_decision_replaces_an_earlier_one_and_a_retract_brings_it_back() -> None:
    drafts = [
        decide("hypothesis:x", Side.LEFT, list="accepted"),
        decide("hypothesis:x", Side.LEFT, list="rejected", reason="no"),
    ]
    lists = fold(*drafts).decisions["hypotheses"]
    assert (len(lists["accepted"]), len(lists["rejected"])) == (0, 1)
    lists = fold(*drafts, retract(4)).decisions["hypotheses"]
    assert (len(lists["accepted"]), len(lists["rejected"])) == (1, 0)
