"""One entry of a journal and its canonical text, which is written once and hashed as bytes."""

import hashlib
import json
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import Any

from footexam.record.reading import Reading
from footexam.record.values import from_json
from footexam.terms import Absence, Role, Side

VERSION = 1
"""The form of an entry's text; older forms are brought up by `UPCASTERS`, none so far."""


class EntryKind(StrEnum):
    """The seven kinds of entry (design.md, The journal)."""

    SET = "set"
    ABSENT = "absent"
    RETRACT = "retract"
    DECIDE = "decide"
    SIGN = "sign"
    NOTE = "note"
    ATTACH = "attach"


class NotAnEntry(ValueError):
    """A text that is no entry of this program, or one of a newer form."""


@dataclass(frozen=True, slots=True)
class Author:
    """Who writes, in which role and sitting (one sitting: from opening to closing the record)."""

    name: str
    role: Role = Role.CLINICIAN
    sitting: str = ""


@dataclass(frozen=True, slots=True)
class Draft:
    """What an entry says, before it has its place in a journal.

    `target` is `kind:id`, as in `measure:shoe-drop`; for a retract it is empty and `retracts` is
    the number of the entry taken back. `at` is UTC (ISO, Z), `offset` the local minutes east of it.
    `body` holds JSON values only: texts, true, null, lists, objects, small whole numbers; readings
    are decimal strings.
    """

    kind: EntryKind
    author: Author
    at: str
    target: str = ""
    side: Side | None = None
    body: Mapping[str, Any] = field(default_factory=dict)
    retracts: int | None = None
    reason: str = ""
    offset: int = 0


@dataclass(frozen=True)
class Entry:
    """An entry in its place: number from 1, canonical text, and the hash of that text as hex."""

    seq: int
    draft: Draft
    text: str
    hash: str

    @cached_property
    def reading(self) -> Reading | None:
        """The reading that this entry writes down; None for any other entry.

        Made once: an entry never changes, and a fold after every key press would make it anew.
        """
        draft, body = self.draft, self.draft.body
        sort, _, measure = draft.target.partition(":")
        if sort != "measure" or draft.kind not in {EntryKind.SET, EntryKind.ABSENT}:
            return None
        absent = draft.kind is EntryKind.ABSENT
        return Reading(
            measure=measure,
            side=draft.side,
            value=None if absent else from_json(body["value"]),
            typed=body.get("typed", ""),
            absent=Absence(body["absent"]) if absent else None,
            reason=draft.reason,
            note=body.get("note", ""),
            method=body.get("method"),
            performed_at=body.get("performed_at"),
            typed_both=bool(body.get("both")),
            seq=self.seq,
        )


def first_link(subject: str) -> str:
    """What the first entry of a subject refers back to: the hash of the subject's id."""
    return hashlib.sha256(subject.encode()).hexdigest()


def write(subject: str, seq: int, previous: str, draft: Draft) -> Entry:
    """The entry of a draft at place `seq`, chained to the hash `previous`.

    It holds what its text says: texts in NFC. TypeError for what JSON cannot hold.
    """
    author = draft.author
    parts: dict[str, Any] = {
        "v": VERSION,
        "subject": subject,
        "seq": seq,
        "previous": previous,
        "kind": draft.kind,
        "at": draft.at,
        "offset": draft.offset,
        "by": {"name": author.name, "role": author.role, "sitting": author.sitting},
        "target": draft.target,
        "side": draft.side,
        "body": draft.body,
        "retracts": draft.retracts,
        "reason": draft.reason,
    }
    plain = _canonical(parts)
    text = unicodedata.normalize("NFC", plain)
    if text != plain:  # keys may sort otherwise once they are normalised
        text = _canonical(json.loads(text))
    return read(text)[0]


def _canonical(parts: Mapping[str, Any]) -> str:
    return json.dumps(
        parts, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def read(text: str) -> tuple[Entry, str, str]:
    """An entry from its text, with its subject and the hash it refers back to. NotAnEntry."""
    try:
        parts = json.loads(text)
        version = parts["v"]
        if version == VERSION:
            entry = Entry(int(parts["seq"]), _draft(parts), text, _hash(text))
            return entry, str(parts["subject"]), str(parts["previous"])
    except (KeyError, TypeError, ValueError, RecursionError) as bad:
        raise NotAnEntry("a text that is no entry") from bad
    raise NotAnEntry(f"an entry of form {version}; this program knows form {VERSION}")


def _draft(parts: Mapping[str, Any]) -> Draft:
    """The draft in the parts of a text. KeyError, TypeError or ValueError if it is none."""
    by, retracts = parts["by"], parts["retracts"]
    return Draft(
        kind=EntryKind(parts["kind"]),
        author=Author(str(by["name"]), Role(by["role"]), str(by["sitting"])),
        at=str(parts["at"]),
        target=str(parts["target"]),
        side=Side(parts["side"]) if parts["side"] is not None else None,
        body=dict(parts["body"]),
        retracts=int(retracts) if retracts is not None else None,
        reason=str(parts["reason"]),
        offset=int(parts["offset"]),
    )


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
