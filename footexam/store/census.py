"""Counts what a store holds, so that a copy can be compared with it."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, Row, and_, func, select

from footexam.store import tables
from footexam.store.errors import NO_STORE, KnownError


@dataclass(frozen=True, slots=True)
class Census:
    """What a store holds: numbers, bytes of attachments, and one hash over all heads.

    Two stores of one census hold the same entries, as long as the chains of both hold.
    """

    subjects: int
    entries: int
    attachments: int
    attached_bytes: int
    heads: str


def take_census(connection: Connection) -> Census:
    """Count what a store holds, from the rows themselves."""
    heads = hashlib.sha256()
    subjects = entries = 0
    for subject, count, head in _heads(connection):
        heads.update(f"{subject} {count} {head}\n".encode())
        subjects += 1
        entries += count
    attachment = tables.attachment.c
    for (one,) in connection.execute(select(attachment.hash).order_by(attachment.hash)):
        heads.update(f"{one}\n".encode())
    sizes = select(func.count(), func.coalesce(func.sum(func.length(attachment.bytes)), 0))
    number, size = connection.execute(sizes.select_from(tables.attachment)).one()
    return Census(subjects, entries, number, size, heads.hexdigest())


def _heads(connection: Connection) -> Iterator[Row[str, int, str]]:
    """Each subject with its number of entries and the hash of the last."""
    column = tables.journal.c
    ends = (
        select(column.subject, func.count().label("count"), func.max(column.sequence).label("last"))
        .group_by(column.subject)
        .subquery()
    )
    last = and_(column.subject == ends.c.subject, column.sequence == ends.c.last)
    query = select(column.subject, ends.c.count, column.hash).join(ends, last)
    yield from connection.execute(query.order_by(column.subject))


def check_file(connection: Connection, where: Path, status: int = NO_STORE) -> None:
    """Whether the database file holds together. KnownError `damaged` if not."""
    problems = connection.exec_driver_sql("PRAGMA integrity_check(1)").scalars().all()
    if problems == ["ok"]:
        problems = [
            f"{row[0]} {row[1]} refers to nothing in {row[2]}"
            for row in connection.exec_driver_sql("PRAGMA foreign_key_check")
        ]
    if problems:
        raise KnownError("damaged", where, status, why=problems[0])
