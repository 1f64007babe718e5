"""Every chain is walked, and the first entry that does not hold is named."""

from pathlib import Path

import pytest

from footexam.record.entry import first_link
from footexam.store import Store
from footexam.store.journals import Attachment
from footexam.store.verify import Broken
from tests.store.builders import attach, new_examination, new_patient, reading, refused, tamper

PICTURE = Attachment(b"picture", "image/png")


@pytest.fixture
def subject(store: Store) -> str:
    """An examination of five entries, the last an attachment, between others."""
    new_patient(store, "One")
    subject = new_examination(store, new_patient(store, "Two"))
    head = store.journal(subject).head
    store.append(subject, head, [reading(), attach(PICTURE.body())], [PICTURE])
    new_examination(store, new_patient(store, "Three"))
    return subject


def test_a_whole_store(store: Store, subject: str) -> None:
    found = store.verify()
    assert found.whole
    assert (found.subjects, found.entries, found.broken) == (5, 20, ())
    assert len(store.journal(subject)) == 5


def test_an_empty_store(store: Store) -> None:
    assert store.verify().whole


@pytest.mark.parametrize(
    ("statement", "seq", "why"),
    [
        (
            "UPDATE journal SET text = replace(text, 'numbers', 'Numbers') WHERE sequence = 4",
            5,
            "follo",
        ),
        ("UPDATE journal SET text = replace(text, '\"seq\":4', '\"seq\":6')", 4, "follow"),
        ("UPDATE journal SET text = '' WHERE sequence = 3", 3, "no entry"),
        ("UPDATE journal SET text = text || ' ' WHERE sequence = 5", 5, "not the one"),
        ("UPDATE journal SET text = CAST(x'ff' AS TEXT) WHERE sequence = 3", 3, "no entry"),
        ("UPDATE journal SET hash = 'x' WHERE sequence = 2", 2, "not the one"),
        ("UPDATE journal SET kind = 'sign' WHERE sequence = 2", 2, "not the one"),
        ("UPDATE journal SET at = 'x' WHERE sequence = 2", 2, "not the one"),
        ("DELETE FROM journal WHERE sequence = 2", 2, "follow"),
        ("DELETE FROM journal WHERE sequence > 3", 4, "cut off"),
        ("DELETE FROM journal WHERE sequence > 0", 1, "cut off"),
    ],
)
def test_the_first_broken_entry_is_named(
    store: Store, folder: Path, subject: str, statement: str, seq: int, why: str
) -> None:
    store.close()
    tamper(folder, f"{statement} {'AND' if 'WHERE' in statement else 'WHERE'} subject='{subject}'")
    with Store.open(folder) as again:
        (broken,) = again.verify().broken
    assert (broken.subject, broken.seq) == (subject, seq)
    assert why in broken.why


def test_missing_bytes(store: Store, folder: Path, subject: str) -> None:
    store.close()
    tamper(folder, "DELETE FROM attachment")
    with Store.open(folder) as again:
        assert again.verify().broken == (Broken(subject, 5, "its attachment is missing"),)


def test_changed_bytes(store: Store, folder: Path, subject: str) -> None:
    store.close()
    tamper(folder, "UPDATE attachment SET bytes = x'00'")
    with Store.open(folder) as again:
        found = again.verify()
        assert found.broken == (Broken(f"attachment:{PICTURE.hash}", 0, "its bytes have changed"),)
    assert subject
    assert not found.whole


def test_a_journal_of_nobody(store: Store, folder: Path) -> None:
    subject = store.new_subject("examination")
    store.append(subject, first_link(subject), [reading()])
    store.close()
    tamper(folder, "PRAGMA foreign_keys = OFF", "DELETE FROM subject")
    with Store.open(folder) as again, refused("damaged") as caught:
        again.verify()
    assert "refers to nothing" in str(caught.value)


def test_more_than_one_is_told(store: Store, folder: Path, subject: str) -> None:
    store.close()
    tamper(folder, "UPDATE journal SET hash = 'x' WHERE sequence = 1")
    with Store.open(folder) as again:
        broken = again.verify().broken
    assert len(broken) == 5
    assert {one.seq for one in broken} == {1}
    assert subject in {one.subject for one in broken}
