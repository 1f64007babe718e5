"""Small records for the tests of the store, and ways to damage a database on purpose."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from footexam.record.entry import Author, Draft, Entry, EntryKind, first_link
from footexam.store import KnownError, Store
from footexam.store.layout import DATABASE

AUTHOR = Author("Examiner One", sitting="s1")
AT = "2026-03-04T10:00:00Z"


def fact(target: str, value: object, at: str = AT) -> Draft:
    return Draft(EntryKind.SET, AUTHOR, at, target, body={"is": value})


def reading(measure: str = "shoe-drop", at: str = AT) -> Draft:
    return Draft(
        EntryKind.SET, AUTHOR, at, f"measure:{measure}", body={"value": {"numbers": ["1"]}}
    )


def retract(seq: int) -> Draft:
    return Draft(EntryKind.RETRACT, AUTHOR, AT, retracts=seq)


def sign() -> Draft:
    return Draft(EntryKind.SIGN, AUTHOR, AT)


def attach(body: dict[str, str]) -> Draft:
    return Draft(EntryKind.ATTACH, AUTHOR, AT, "attachment:", body=body)


def begin(store: Store, subject: str, *drafts: Draft) -> tuple[Entry, ...]:
    """The first entries of a subject."""
    return store.append(subject, first_link(subject), drafts)


def more(store: Store, subject: str, *drafts: Draft) -> tuple[Entry, ...]:
    """Further entries of a subject, behind those it has."""
    return store.append(subject, store.journal(subject).head, drafts)


def new_patient(
    store: Store, family: str, given: str = "", number: str = "", born: str = ""
) -> str:
    subject = store.new_subject("patient")
    facts = {
        "family-name": family,
        "given-names": given,
        "record-number": number,
        "birth-date": born,
    }
    begin(store, subject, *(fact(f"patient:{name}", value) for name, value in facts.items()))
    return subject


def new_examination(store: Store, patient: str, day: str = "2026-03-04", at: str = AT) -> str:
    subject = store.new_subject("examination")
    begin(
        store,
        subject,
        fact("exam:patient", patient, at),
        fact("exam:examined-on", day, at),
        fact("exam:examiner", {"name": "Examiner One", "role": "clinician"}, at),
    )
    return subject


@contextmanager
def refused(code: str) -> Iterator[pytest.ExceptionInfo[KnownError]]:
    """The block ends in a KnownError of this code, told in a whole sentence."""
    with pytest.raises(KnownError) as caught:
        yield caught
    assert caught.value.code == code
    assert str(caught.value).count(";") >= 2
    assert str(caught.value).endswith(".")


def tamper(folder: Path, *statements: str) -> None:
    """Change a closed database behind the back of the program, its rules taken away."""
    with closing(sqlite3.connect(folder / DATABASE)) as connection:
        rules = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        kept = rules.fetchall()
        for name, _ in kept:
            connection.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            connection.execute(statement)
        for _, sql in kept:
            connection.execute(sql)
        connection.commit()
