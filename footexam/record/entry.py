"""One entry of a journal and its canonical text, which is written once and hashed as bytes."""

import hashlib
import json
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from footexam.terms import Role, Side

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
    `body` holds JSON values only: texts, true, lists, objects; numbers are decimal strings.
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


@dataclass(frozen=True, slots=True)
class Entry:
    """An entry in its place: number from 1, canonical text, and the hash of that text as hex."""

    seq: int
    draft: Draft
    text: str
    hash: str


def first_link(subject: str) -> str:
    """What the first entry of a subject refers back to: the hash of the subject's id."""
    return hashlib.sha256(subject.encode()).hexdigest()


def write(subject: str, seq: int, previous: str, draft: Draft) -> Entry:
    """The entry of a draft at place `seq`, chained to the hash `previous`."""
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
    plain = json.dumps(parts, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    text = unicodedata.normalize("NFC", plain)
    return Entry(seq, draft, text, _hash(text))


def read(text: str) -> tuple[Entry, str, str]:
    """An entry from its text, with its subject and the hash it refers back to. NotAnEntry."""
    try:
        parts = json.loads(text)
        version = parts["v"]
        if version != VERSION:
            raise NotAnEntry(f"an entry of form {version}; this program knows form {VERSION}")
        by = parts["by"]
        draft = Draft(
            kind=EntryKind(parts["kind"]),
            author=Author(by["name"], Role(by["role"]), by["sitting"]),
            at=parts["at"],
            target=parts["target"],
            side=Side(parts["side"]) if parts["side"] else None,
            body=parts["body"],
            retracts=parts["retracts"],
            reason=parts["reason"],
            offset=parts["offset"],
        )
        return Entry(parts["seq"], draft, text, _hash(text)), parts["subject"], parts["previous"]
    except (KeyError, TypeError, json.JSONDecodeError) as bad:
        raise NotAnEntry("a text that is no entry") from bad


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
