"""Entries go behind the head they were written for, or not at all."""

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import insert
from sqlalchemy.exc import IntegrityError

from footexam.record.entry import Draft, EntryKind, first_link
from footexam.record.journal import Journal
from footexam.store import Conflict, Store, tables
from footexam.store.engine import writing
from footexam.store.journals import Attachment
from tests.store.builders import (
    AT,
    AUTHOR,
    attach,
    begin,
    fact,
    more,
    new_patient,
    reading,
    refused,
    retract,
    tamper,
)


def test_what_is_kept_is_what_a_journal_would_write(store: Store) -> None:
    subject = store.new_subject("examination")
    drafts = [reading("a"), reading("b"), retract(2), fact("exam:purpose", "student")]
    journal = Journal(subject)
    written = [journal.append(draft) for draft in drafts]
    assert list(begin(store, subject, *drafts[:1])) == written[:1]
    assert list(store.append(subject, written[0].hash, drafts[1:])) == written[1:]
    kept = store.journal(subject)
    assert [entry.text for entry in kept] == [entry.text for entry in written]
    assert kept.head == journal.head


def test_texts_stay_as_they_are_byte_for_byte(store: Store) -> None:
    subject = store.new_subject("patient")
    (entry,) = begin(store, subject, fact("patient:family-name", 'Łó\u0301dź \\ " 李 \u2028 ♂'))
    assert [one.text for one in store.journal(subject)] == [entry.text]


def test_a_loser_is_told_what_is_new_and_can_apply_again(store: Store) -> None:
    subject = store.new_subject("examination")
    seen = begin(store, subject, reading("a"))[-1].hash
    winner = more(store, subject, reading("b"), reading("c"))
    with pytest.raises(Conflict) as lost:
        store.append(subject, seen, [reading("d")])
    assert lost.value.entries == winner
    assert lost.value.subject == subject
    store.append(subject, lost.value.entries[-1].hash, [reading("d")])
    assert [entry.draft.target for entry in store.journal(subject)] == [
        *("measure:a", "measure:b", "measure:c", "measure:d"),
    ]


def test_two_who_begin_the_same_subject(store: Store) -> None:
    subject = store.new_subject("examination")
    winner = begin(store, subject, reading("a"))
    with pytest.raises(Conflict) as lost:
        begin(store, subject, reading("b"))
    assert lost.value.entries == winner


def test_a_head_that_was_never_there_gets_the_whole_journal(store: Store) -> None:
    subject = store.new_subject("examination")
    all_entries = begin(store, subject, reading("a"), reading("b"))
    with pytest.raises(Conflict) as lost:
        store.append(subject, "0" * 64, [reading("c")])
    assert lost.value.entries == all_entries


def test_a_head_of_nothing_on_a_new_subject(store: Store) -> None:
    with refused("no-subject"):
        store.append(store.new_subject("examination"), "0" * 64, [reading()])


def test_no_drafts_write_nothing(store: Store) -> None:
    subject = store.new_subject("examination")
    assert begin(store, subject) == ()
    with refused("no-subject"):
        store.journal(subject)
    assert store.census().subjects == 0


@pytest.mark.parametrize("subject", ["visit:1", "patient:", "patient", ""])
def test_what_is_no_subject(store: Store, subject: str) -> None:
    with pytest.raises(ValueError, match=r"neither patient:… nor examination:…"):
        begin(store, subject, reading())
    assert store.census().entries == 0


@pytest.mark.parametrize(
    "draft",
    [
        retract(0),
        retract(2),
        Draft(EntryKind.RETRACT, AUTHOR, AT),
        Draft(EntryKind.SET, AUTHOR, AT, "measure:a", retracts=1),
    ],
)
def test_what_is_no_entry_takes_its_companions_with_it(store: Store, draft: Draft) -> None:
    subject = store.new_subject("examination")
    with pytest.raises(ValueError, match="take"):
        store.append(subject, first_link(subject), [reading("a"), draft][:: 1 if draft else -1])
    assert store.census().entries == 0


def test_attachments_lie_in_the_same_database(store: Store) -> None:
    picture = Attachment(b"\x00\xff bytes", "image/png")
    subject = store.new_subject("examination")
    store.append(subject, first_link(subject), [attach(picture.body())], [picture])
    assert store.attachment(picture.hash) == picture
    assert picture.body()["size"] == "8"
    # the same bytes again are kept once
    store.append(subject, store.journal(subject).head, [attach(picture.body())], [picture])
    assert store.census().attachments == 1
    assert store.census().attached_bytes == 8


def test_an_entry_cannot_name_bytes_that_were_not_given(store: Store) -> None:
    missing = Attachment(b"elsewhere", "image/png")
    subject = store.new_subject("examination")
    with pytest.raises(ValueError, match="attaches what was not given"):
        store.append(subject, first_link(subject), [attach(missing.body())])
    assert store.census().entries == 0
    with refused("no-attachment"):
        store.attachment(missing.hash)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE journal SET text = '{}'",
        "DELETE FROM journal",
        "INSERT OR REPLACE INTO journal SELECT * FROM journal",
        "INSERT INTO journal SELECT subject, 9, text, hash, kind, at FROM journal WHERE sequence=1",
        "UPDATE attachment SET bytes = x'00'",
        "DELETE FROM attachment",
        "DELETE FROM subject",
    ],
)
def test_the_database_itself_refuses_to_change_what_was_written(
    store: Store, folder: Path, statement: str
) -> None:
    picture = Attachment(b"bytes", "image/png")
    subject = store.new_subject("examination")
    store.append(subject, first_link(subject), [attach(picture.body())], [picture])
    before = store.census()
    with (
        pytest.raises(
            (IntegrityError, sqlite3.IntegrityError), match=r"never changed|out of order"
        ),
        writing(store._engine, folder) as connection,
    ):
        connection.exec_driver_sql(statement)
    assert store.census() == before


def test_an_entry_without_a_subject_is_refused(store: Store, folder: Path) -> None:
    row = {"subject": "patient:1", "sequence": 1, "text": "", "hash": "", "kind": "", "at": ""}
    with (
        pytest.raises((IntegrityError, sqlite3.IntegrityError)),
        writing(store._engine, folder) as connection,
    ):
        connection.execute(insert(tables.journal).values(row))


@pytest.mark.parametrize(
    ("place", "told"),
    [("1", "2"), ("2", "2")],
)
def test_a_changed_text_is_found_when_it_is_read(
    store: Store, folder: Path, place: str, told: str
) -> None:
    subject = new_patient(store, "Written", "As", "1", "1979-08-30")
    store.close()
    tamper(
        folder,
        "DELETE FROM journal WHERE sequence > 2",
        f"UPDATE journal SET text = replace(text, '2026', '2025') WHERE sequence = {place}",  # noqa: S608 - a test's own
    )
    with Store.open(folder) as again, refused("broken-journal") as caught:
        again.journal(subject)
    assert f"ntry {told} of {subject}" in str(caught.value)
