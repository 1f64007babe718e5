"""The tables of a store: what is kept for ever, and the index that can be made again."""

from typing import Any

from sqlalchemy import (
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    PrimaryKeyConstraint,
    Table,
    Text,
    UniqueConstraint,
)

_STRICT: dict[str, Any] = {"sqlite_strict": True}
_COMPACT: dict[str, Any] = {"sqlite_strict": True, "sqlite_with_rowid": False}


def _text(name: str) -> Column[str]:
    return Column(name, Text, nullable=False)


def _whole(name: str) -> Column[int]:
    return Column(name, Integer, nullable=False)


kept = MetaData()
"""What is kept for ever."""

index = MetaData()
"""What is read quickly; made from the journals, and made again when its form changes."""

fact = Table("fact", kept, Column("name", Text, primary_key=True), _text("value"), **_COMPACT)
"""Facts about the store itself: the form of its index."""

subject = Table(
    "subject",
    kept,
    Column("id", Text, primary_key=True),
    _text("kind"),
    _whole("length"),
    _text("head"),
    **_COMPACT,
)
"""What a journal is about; its number of entries and last hash are kept by a trigger."""

journal = Table(
    "journal",
    kept,
    Column("subject", Text, ForeignKey("subject.id"), nullable=False),
    _whole("sequence"),
    _text("text"),
    _text("hash"),
    _text("kind"),
    _text("at"),
    UniqueConstraint("subject", "sequence"),
    **_STRICT,
)
"""Entries: `text` is the canonical text that is hashed, all else can be read from it."""

attachment = Table(
    "attachment",
    kept,
    Column("hash", Text, primary_key=True),
    _whole("size"),
    _text("type"),
    Column("bytes", LargeBinary, nullable=False),
    **_STRICT,
)
"""Bytes that an `attach` entry names by their SHA-256."""

patient = Table(
    "patient",
    index,
    Column("number", Integer, primary_key=True),
    Column("subject", Text, nullable=False, unique=True),
    *(_text(name) for name in ("family_name", "given_names", "title", "record_number")),
    *(_text(name) for name in ("birth_date", "sex", "last_visit")),
    _whole("in_error"),
    _text("family_folded"),
    _text("given_folded"),
    **_STRICT,
)
Index("patient_by_name", patient.c.family_folded, patient.c.given_folded, patient.c.number)
Index("patient_by_visit", patient.c.last_visit, patient.c.number)

patient_word = Table(
    "patient_word",
    index,
    _text("word"),
    Column("patient", Integer, nullable=False),
    PrimaryKeyConstraint("word", "patient"),
    **_COMPACT,
)
"""What a patient is found by (see `folding`)."""
Index("patient_word_by_patient", patient_word.c.patient, patient_word.c.word)

examination = Table(
    "examination",
    index,
    Column("subject", Text, primary_key=True),
    *(_text(name) for name in ("patient", "examined_on", "examiner", "purpose")),
    *(_whole(name) for name in ("signed", "in_error")),
    **_COMPACT,
)
Index("examination_by_patient", examination.c.patient, examination.c.examined_on)

TRIGGERS = {
    "journal_in_order": """
        CREATE TRIGGER journal_in_order BEFORE INSERT ON journal
        WHEN NEW.sequence IS NOT (SELECT length + 1 FROM subject WHERE id = NEW.subject)
        BEGIN SELECT RAISE(ABORT, 'an entry is out of order'); END""",
    "journal_grows": """
        CREATE TRIGGER journal_grows AFTER INSERT ON journal
        BEGIN UPDATE subject SET length = NEW.sequence, head = NEW.hash
              WHERE id = NEW.subject; END""",
    **{
        f"{table}_no_{act.lower()}": f"""
        CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table}
        BEGIN SELECT RAISE(ABORT, 'what was written is never changed'); END"""
        for table, act in (
            ("journal", "UPDATE"),
            ("journal", "DELETE"),
            ("attachment", "UPDATE"),
            ("attachment", "DELETE"),
            ("subject", "DELETE"),
        )
    },
}
"""What the database itself sees to: entries stay as they are and follow one another.

Whoever holds the file can take the triggers away; the chain of hashes then shows a change, and
`subject` that the end of a journal was cut off. Neither helps against somebody who writes all
of it anew: compare the head with one printed on paper.
"""
