"""The index follows the journals, and can be made again from them alone."""

import random
from pathlib import Path

import pytest
from sqlalchemy import select

from footexam.record.entry import Draft, EntryKind
from footexam.store import Store, index, tables
from footexam.store.engine import reading as reading_of
from footexam.store.engine import writing
from footexam.store.quick_list import PatientList
from tests.store.builders import (
    AT,
    AUTHOR,
    begin,
    fact,
    more,
    new_examination,
    new_patient,
    reading,
    refused,
    retract,
    sign,
    tamper,
)


def contents(store: Store) -> dict[str, list[tuple[object, ...]]]:
    """Every row of the index; patients without their number, which only orders equals."""
    column = tables.patient.c
    words = select(column.subject, tables.patient_word.c.word).where(
        column.number == tables.patient_word.c.patient
    )
    patients = select(*(one for one in column if one.name != "number"))
    with reading_of(store._engine, store.folder) as connection:
        return {
            name: sorted(tuple(row) for row in connection.execute(query))
            for name, query in (
                ("patient", patients),
                ("word", words),
                ("examination", select(tables.examination)),
            )
        }


def test_an_examination_is_listed_as_its_journal_folds(store: Store) -> None:
    patient = new_patient(store, "Listed")
    subject = new_examination(store, patient, "2026-03-04")
    more(store, subject, fact("exam:purpose", "student"), reading(), sign())
    (row,) = store.examinations(patient)
    assert (row.subject, row.patient, row.examined_on) == (subject, patient, "2026-03-04")
    assert (row.examiner, row.purpose) == ("Examiner One", "student")
    assert (row.signed, row.in_error) == (True, False)


def test_the_latest_examination_stands_first(store: Store) -> None:
    patient = new_patient(store, "Listed")
    days = ["2026-01-01", "2026-03-01", "2026-02-01"]
    for day in days:
        new_examination(store, patient, day)
    assert [row.examined_on for row in store.examinations(patient)] == sorted(days, reverse=True)
    assert store.examinations("patient:none") == ()


def test_the_earlier_one_is_begun_before_and_not_struck_through(store: Store) -> None:
    patient = new_patient(store, "Listed")
    first = new_examination(store, patient, "2026-03-01", at="2026-03-01T08:00:00.000Z")
    noon = new_examination(store, patient, "2026-03-04", at="2026-03-04T12:00:00.000Z")
    morning = new_examination(store, patient, "2026-03-04", at="2026-03-04T08:00:00.000Z")

    def before(subject: str) -> str | None:
        found = store.earlier(subject)
        return found and found.head

    heads = {one: store.examination(one).head for one in (first, morning)}
    assert [row.subject for row in store.examinations(patient)] == [noon, morning, first]
    assert before(noon) == before(noon.partition(":")[2]) == heads[morning]
    assert before(morning) == heads[first]
    assert before(first) is None
    more(store, morning, fact("exam:entered-in-error", {"reason": "slip"}))
    assert before(noon) == heads[first]


def last_visit(store: Store, patient: str) -> str:
    with PatientList(store.folder) as patients:
        return next(row.last_visit for row in patients.first().rows if row.subject == patient)


def test_a_retract_is_followed(store: Store) -> None:
    patient = new_patient(store, "Retracted")
    subject = new_examination(store, patient, "2026-01-01")
    more(store, subject, fact("exam:examined-on", "2026-05-05"))
    assert last_visit(store, patient) == "2026-05-05"
    more(store, subject, retract(4))
    assert last_visit(store, patient) == "2026-01-01"


def test_what_is_taken_back_and_brought_back_again_is_followed(store: Store) -> None:
    patient = new_patient(store, "Retracted")
    subject = new_examination(store, patient, "2026-01-01")
    more(store, subject, fact("exam:examined-on", "2026-05-05"), retract(4))
    assert last_visit(store, patient) == "2026-01-01"
    more(store, subject, retract(5))
    assert last_visit(store, patient) == "2026-05-05"
    more(store, subject, sign(), reading())
    assert store.examinations(patient)[0].signed
    more(store, subject, retract(7))
    assert not store.examinations(patient)[0].signed


def test_to_take_a_reading_back_does_not_read_the_whole_journal(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    subject = new_examination(store, new_patient(store, "Quick"))
    more(store, subject, reading())
    head = store.journal(subject).head
    monkeypatch.setattr(index, "read_journal", lambda *_: pytest.fail("read as a whole"))
    (taken_back,) = store.append(subject, head, [retract(4)])
    store.append(subject, taken_back.hash, [retract(5)])


def test_to_take_back_what_is_damaged_says_so(store: Store, folder: Path) -> None:
    subject = new_examination(store, new_patient(store, "Damaged"))
    more(store, subject, reading())
    head = store.journal(subject).head
    store.close()
    tamper(folder, "UPDATE journal SET text = 'x' WHERE sequence = 4")
    with Store.open(folder) as again, refused("broken-journal"):
        again.append(subject, head, [retract(4)])


def test_an_examination_in_error_is_no_visit(store: Store) -> None:
    patient = new_patient(store, "Visited")
    new_examination(store, patient, "2026-01-01")
    later = new_examination(store, patient, "2026-05-05")
    more(store, later, fact("exam:entered-in-error", {"reason": "wrong person"}))
    assert last_visit(store, patient) == "2026-01-01"
    assert store.examinations(patient)[0].in_error


def test_an_examination_that_changes_its_patient_counts_for_the_right_one(store: Store) -> None:
    wrong, right = new_patient(store, "Wrong"), new_patient(store, "Right")
    subject = new_examination(store, wrong)
    more(store, subject, fact("exam:patient", right))
    assert (last_visit(store, wrong), last_visit(store, right)) == ("", "2026-03-04")
    assert store.examinations(wrong) == ()


def test_a_patient_written_after_the_examination_has_its_visit(store: Store) -> None:
    patient = store.new_subject("patient")
    new_examination(store, patient, "2026-01-01")
    begin(store, patient, fact("patient:family-name", "Late"))
    assert last_visit(store, patient) == "2026-01-01"


@pytest.mark.parametrize("odd", [None, 5, ["x"], {"name": 7}, {"no": "name"}, True, ""])
def test_odd_facts_do_no_harm(store: Store, odd: object) -> None:
    patient, subject = store.new_subject("patient"), store.new_subject("examination")
    names = ("family-name", "given-names", "birth-date", "record-number", "sex")
    begin(store, patient, *(fact(f"patient:{name}", odd) for name in names))
    names = ("patient", "examined-on", "examiner", "purpose")
    begin(store, subject, *(fact(f"exam:{name}", odd) for name in names))
    begin(store, store.new_subject("examination"), Draft(EntryKind.SET, AUTHOR, AT, "exam:patient"))
    followed = contents(store)
    store.rebuild_index()
    assert contents(store) == followed


def test_the_index_made_anew_is_the_one_that_followed(store: Store) -> None:
    chance = random.Random(5)
    patients = [new_patient(store, f"Family{n}", "Ann", str(n), "1979-08-30") for n in range(12)]
    for _ in range(40):
        patient = chance.choice(patients)
        subject = new_examination(store, patient, f"2026-0{chance.randint(1, 9)}-01")
        steps = [sign(), retract(2), fact("exam:entered-in-error", True), reading()]
        more(store, subject, *chance.sample(steps, chance.randint(1, 4)))
        if chance.random() < 0.3:
            more(store, patient, fact("patient:family-name", f"Married{chance.randint(1, 5)}"))
    followed = contents(store)
    store.rebuild_index()
    assert contents(store) == followed
    assert len(followed["examination"]) == 40


def test_many_rows_are_written_in_steps(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(7):
        new_patient(store, f"Family{number}")
    followed = contents(store)
    monkeypatch.setattr(index, "_ROWS_AT_A_TIME", 2)
    store.rebuild_index()
    assert contents(store) == followed


def test_a_lost_index_is_made_again_when_the_store_is_opened(store: Store, folder: Path) -> None:
    new_examination(store, new_patient(store, "Again"))
    followed = contents(store)
    store.close()
    tamper(folder, "DROP TABLE patient_word", "DROP TABLE examination")
    with Store.open(folder) as again:
        assert contents(again) == followed


def test_a_broken_chain_leaves_the_old_index(store: Store, folder: Path) -> None:
    subject = new_patient(store, "Broken", "Chain", "1", "1979-08-30")
    followed = contents(store)
    store.close()
    tamper(folder, "UPDATE journal SET text = replace(text, 'Chain', 'Chaim')")
    with Store.open(folder) as again:
        with refused("broken-journal") as caught:
            again.rebuild_index()
        assert subject in str(caught.value)
        assert contents(again) == followed


def test_the_index_has_no_rows_of_its_own(store: Store, folder: Path) -> None:
    new_patient(store, "Real")
    with writing(store._engine, folder) as connection:
        connection.exec_driver_sql(
            "INSERT INTO examination VALUES ('examination:x', '', '', '', '', 0, 0)"
        )
    store.rebuild_index()
    assert contents(store)["examination"] == []
