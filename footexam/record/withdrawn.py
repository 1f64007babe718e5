"""Answers of yes that were taken back: they stay readable, with who took them back and why."""

from collections.abc import Mapping
from dataclasses import dataclass

from footexam.record.entry import Entry, EntryKind
from footexam.record.journal import Journal
from footexam.record.reading import Reading, Sites, Word
from footexam.terms import Side

Key = tuple[str, Side | None]


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """A yes that no longer stands: who took it back or wrote another answer, when (UTC), why."""

    measure: str
    side: Side | None
    by: str
    at: str
    reason: str


def said_yes(reading: Reading | None) -> bool:
    """Whether the answer to a yes-or-no question is yes."""
    value = reading.value if reading is not None else None
    return isinstance(value, Word | Sites) and value.word == "yes"


def withdrawn(journal: Journal, now: Mapping[Key, Reading]) -> tuple[Withdrawn, ...]:
    """Each question whose last yes does not stand in `now`, in the order of their first yes."""
    last: dict[Key, Entry] = {}
    for entry in journal:
        reading = entry.reading
        if reading is not None and said_yes(reading):
            last[reading.measure, reading.side] = entry
    return tuple(
        _withdrawn(key, _ended(key, entry, journal))
        for key, entry in last.items()
        if not said_yes(now.get(key))
    )


def _ended(key: Key, said: Entry, journal: Journal) -> Entry:
    """The entry that took the yes back, or the first that says something else."""
    for entry in journal:
        if entry.seq <= said.seq:
            continue
        if entry.draft.kind is EntryKind.RETRACT and entry.draft.retracts == said.seq:
            return entry
        reading = entry.reading
        if reading is not None and (reading.measure, reading.side) == key:
            return entry
    return said


def _withdrawn(key: Key, entry: Entry) -> Withdrawn:
    draft = entry.draft
    return Withdrawn(key[0], key[1], draft.author.name, draft.at, draft.reason)
