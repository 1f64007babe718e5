"""Signatures of an examination: what one covers, who still has to sign, what changed since.

A signature covers the entries before it: it names their number and the hash of the last, the
assessment and the document that were shown, and the forms they were judged by. The bytes of both
lie beside the journal; the two entries that attach them stand right before the signature.

A student's examination is complete when a supervisor, who is another person, has signed behind
everything that was entered (standards.md: countersigned is that exact version; a later change
opens it again). Nobody proves here who they are: a name is what was typed.
"""

import hashlib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from footexam.record.entry import Author, Draft, Entry, EntryKind
from footexam.record.examination import Examination
from footexam.record.journal import Journal
from footexam.terms import Role

DOCUMENT = "signing:document"
ASSESSMENT = "signing:assessment"
_BESIDE = frozenset({DOCUMENT, ASSESSMENT})
_STRUCK = "exam:entered-in-error"


class Standing(StrEnum):
    """How far the signing of an examination is."""

    UNSIGNED = "unsigned"
    AWAITING = "awaiting-countersignature"
    SIGNED = "signed"
    AMENDED = "amended-since-signed"


class Bar(StrEnum):
    """Why somebody cannot sign now."""

    NO_NAME = "no-name"
    IN_ERROR = "in-error"
    EXAMINER_FIRST = "examiner-first"
    OTHER_ROLE = "other-role"
    ALREADY = "already"
    NOT_A_SUPERVISOR = "not-a-supervisor"
    EXAMINER_AGAIN = "examiner-again"


@dataclass(frozen=True, slots=True)
class Shown:
    """What is signed: document and assessment as they were shown, and the record they show.

    `head` and `version` are the hash and the number of the last entry that they are made from,
    `catalogue` the digest of the forms, `pages` how many pages the document has.
    """

    document: bytes
    assessment: bytes
    pages: int
    head: str
    version: int
    catalogue: str

    @property
    def document_hash(self) -> str:
        """The SHA-256 of the document as hex."""
        return hashlib.sha256(self.document).hexdigest()

    @property
    def assessment_hash(self) -> str:
        """The SHA-256 of the assessment's text as hex."""
        return hashlib.sha256(self.assessment).hexdigest()


@dataclass(frozen=True, slots=True)
class Signature:
    """A signature that stands; `sound` if it says what it covers and that is what lies before it.

    Hashes are SHA-256 as hex, `size` is the document's in bytes; "" or 0 where it says nothing.
    """

    seq: int
    by: Author
    at: str
    offset: int
    covers: str
    version: int
    document: str
    size: int
    pages: int
    assessment: str
    catalogue: str
    statement: str
    sound: bool


def sign_draft(
    author: Author, at: str, shown: Shown, statement: str = "", offset: int = 0
) -> Draft:
    """The signature of what was shown; `statement` is the sentence that was agreed to."""
    body = {
        "covers": shown.head,
        "version": str(shown.version),
        "document": {
            "hash": shown.document_hash,
            "size": str(len(shown.document)),
            "pages": str(shown.pages),
        },
        "assessment": {"hash": shown.assessment_hash, "size": str(len(shown.assessment))},
        "catalogue": shown.catalogue,
        "statement": statement,
    }
    return Draft(EntryKind.SIGN, author, at, body=body, offset=offset)


def attach_draft(
    target: str, attachment: Mapping[str, Any], author: Author, at: str, offset: int = 0
) -> Draft:
    """The entry that attaches the document or the assessment; `attachment` is its body."""
    return Draft(EntryKind.ATTACH, author, at, target, body=dict(attachment), offset=offset)


def signatures(journal: Journal) -> tuple[Signature, ...]:
    """The signatures that are not retracted, in order."""
    entries = list(journal)
    return tuple(
        _signature(entry, entries) for entry in journal.live() if entry.draft.kind is EntryKind.SIGN
    )


def _signature(entry: Entry, entries: list[Entry]) -> Signature:
    draft, body = entry.draft, entry.draft.body
    document, assessment = _part(body, "document"), _part(body, "assessment")
    covers, version = str(body.get("covers", "")), _number(body.get("version"))
    between = entries[version : entry.seq - 1]
    attached = {one.draft.target: one.draft.body.get("hash") for one in between}
    sound = (
        0 < version < entry.seq
        and covers == entries[version - 1].hash
        and all(is_beside(one.draft) for one in between)
        and attached == {DOCUMENT: document.get("hash"), ASSESSMENT: assessment.get("hash")}
    )
    return Signature(
        seq=entry.seq,
        by=draft.author,
        at=draft.at,
        offset=draft.offset,
        covers=covers,
        version=version,
        document=str(document.get("hash", "")),
        size=_number(document.get("size")),
        pages=_number(document.get("pages")),
        assessment=str(assessment.get("hash", "")),
        catalogue=str(body.get("catalogue", "")),
        statement=str(body.get("statement", "")),
        sound=sound,
    )


def _part(body: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    part = body.get(name)
    return part if isinstance(part, Mapping) else {}


def _number(text: object) -> int:
    """A whole number as an entry holds it; 0 for anything else."""
    return int(text) if isinstance(text, str) and text.isascii() and text.isdigit() else 0


def is_beside(draft: Draft) -> bool:
    """Whether an entry only attaches what a signature names."""
    return draft.kind is EntryKind.ATTACH and draft.target in _BESIDE


def changes_since(journal: Journal, signature: Signature) -> tuple[Entry, ...]:
    """The entries behind a signature that say something of the patient, undone ones included.

    Other signatures, what belongs to them, and taking one back are no change.
    """
    entries = list(journal)
    return tuple(
        entry for entry in entries[signature.seq :] if not _is_of_signing(entry.draft, entries)
    )


def _is_of_signing(draft: Draft, entries: list[Entry]) -> bool:
    if draft.retracts is not None:
        draft = entries[draft.retracts - 1].draft
    return draft.kind is EntryKind.SIGN or is_beside(draft)


def is_amended(journal: Journal) -> bool:
    """Whether something was entered behind the last signature."""
    last = next(reversed(signatures(journal)), None)
    return last is not None and bool(changes_since(journal, last))


def standing(journal: Journal, examination: Examination) -> Standing:
    """How far the signing is; signatures that are not sound count for nothing."""
    sound = [one for one in signatures(journal) if one.sound]
    if not _of_examiner(sound, examination):
        return Standing.UNSIGNED
    last = next((one for one in reversed(sound) if _completes(one, examination)), None)
    if last is None:
        return Standing.AWAITING
    return Standing.AMENDED if changes_since(journal, last) else Standing.SIGNED


def is_complete(journal: Journal, examination: Examination) -> bool:
    """Whether everybody has signed who has to, behind everything that was entered."""
    return standing(journal, examination) is Standing.SIGNED


def signers(journal: Journal) -> tuple[str, ...]:
    """The names of those who have signed soundly, each once, in order."""
    return tuple(dict.fromkeys(one.by.name for one in signatures(journal) if one.sound))


def bar(journal: Journal, examination: Examination, author: Author) -> Bar | None:
    """Why somebody cannot sign the examination as it stands; None if they can."""
    if not _person(author.name):
        return Bar.NO_NAME
    if any(entry.draft.target == _STRUCK for entry in journal.live()):
        return Bar.IN_ERROR
    sound = [one for one in signatures(journal) if one.sound]
    mine = [one for one in sound if _person(one.by.name) == _person(author.name)]
    if mine and not changes_since(journal, mine[-1]):
        return Bar.ALREADY
    if _is_examiner(author.name, examination):
        return None if author.role is examination.examiner.role else Bar.OTHER_ROLE
    return _bar_of_other(journal, examination, author, _of_examiner(sound, examination))


def _bar_of_other(
    journal: Journal, examination: Examination, author: Author, examiners: list[Signature]
) -> Bar | None:
    """Why somebody who is not the examiner cannot sign: they sign behind the examiner."""
    if not examiners:
        return Bar.EXAMINER_FIRST
    if not _may_complete(author, examination):
        return Bar.NOT_A_SUPERVISOR
    others = {_person(e.draft.author.name) for e in changes_since(journal, examiners[-1])}
    student = examination.examiner.role is Role.STUDENT
    return Bar.EXAMINER_AGAIN if student and others - {_person(author.name)} else None


def _completes(signature: Signature, examination: Examination) -> bool:
    return _may_complete(signature.by, examination)


def _may_complete(author: Author, examination: Examination) -> bool:
    """Whether a signature can be the last: of no student; under a student, of a supervisor."""
    if examination.examiner.role is Role.STUDENT:
        return author.role is Role.SUPERVISOR and not _is_examiner(author.name, examination)
    return author.role is not Role.STUDENT


def _of_examiner(sound: list[Signature], examination: Examination) -> list[Signature]:
    return [one for one in sound if _is_examiner(one.by.name, examination)]


def _is_examiner(name: str, examination: Examination) -> bool:
    return _person(name) == _person(examination.examiner.name)


def _person(name: str) -> str:
    """What two spellings of one name share: letters, whatever their case and the spaces."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())
