"""The demo clinic's own store: patients, visits, one visit signed and amended, one in error."""

import hashlib
import shutil
from collections.abc import Sequence
from dataclasses import replace
from itertools import islice
from pathlib import Path

from footexam.catalogue.model import Catalogue
from footexam.demo import PRACTICE, demo_files, read_demo
from footexam.exchange.examination import Loaded
from footexam.record.drafts import draft_of
from footexam.record.entry import Author, Draft, EntryKind
from footexam.record.examination import Person
from footexam.record.journal import Journal
from footexam.record.parse import parse
from footexam.record.reading import Reading
from footexam.record.signing import (
    ASSESSMENT,
    DOCUMENT,
    Shown,
    attach_draft,
    sign_draft,
    signatures,
)
from footexam.store.errors import KnownError
from footexam.store.journals import Attachment
from footexam.store.layout import DATABASE
from footexam.store.store import Store
from footexam.terms import Side

STORE = "store"
"""Name of the store's folder inside the demo's folder."""

SIGNED = "09-unstable-ankle-visit-2"
"""The file whose visit is signed by its examiner and amended half an hour later."""
SIGNED_DOCUMENT = f"{SIGNED}-signed.pdf"
"""The very document that was signed, beside the others."""
_AMENDED = ("lunge-distance", Side.RIGHT, "9.5 8.5 9.0")
_WHY_AMENDED = "The first of the three readings was 9.5 on the paper sheet, not 9.0."

MISTAKEN, WRONG_PATIENT = "08-shin-pain-runner", "HQ-0010"
"""The file whose visit was begun with the wrong patient open, and that patient."""
_BEGUN = 12
"""Readings that were entered before somebody noticed."""
_WHY_STRUCK = "Begun with the wrong patient open; entered anew under the right one."


def make_demo_store(folder: Path, catalogue: Catalogue) -> Path:
    """Make the store inside the demo's folder; one that is there is kept as it is.

    The document that was signed is written beside the store. Ids come from the names of the
    files: each demo has the same. Raises KnownError where the store cannot be made, OSError where
    the document cannot be written.
    """
    where = folder / STORE
    if not (where / DATABASE).exists():
        part = folder / f"{STORE}.part"  # one that is half filled is never taken for the whole
        shutil.rmtree(part, ignore_errors=True)
        with Store.create(part) as store:
            _fill(store, catalogue)
        part.rename(where)
    document = _signed_document(where)
    if document is not None:
        (folder / SIGNED_DOCUMENT).write_bytes(document)
    return where


def _fill(store: Store, catalogue: Catalogue) -> None:
    patients: dict[str, str] = {}
    read = {path.stem: loaded for path, loaded in read_demo(demo_files(), catalogue).items()}
    for name, loaded in read.items():
        number = loaded.examination.patient.record_number
        if number not in patients:
            patients[number] = _add_patient(store, loaded)
        _add_visit(store, loaded, patients[number], name)
    _sign(store, read[SIGNED].examination.examiner)
    _amend(store, read[SIGNED], catalogue)
    _mistake(store, read[MISTAKEN], patients[WRONG_PATIENT])


def _subject(kind: str, name: str) -> str:
    """The id of a patient or an examination, from a name of the demo."""
    return f"{kind}:{hashlib.sha256(name.encode()).hexdigest()[:32]}"


def _add_patient(store: Store, loaded: Loaded) -> str:
    subject = _subject("patient", loaded.examination.patient.record_number)
    drafts = tuple(entry.draft for entry in loaded.patient)
    store.append(subject, Journal(subject).head, drafts)
    return subject


def _add_visit(
    store: Store, loaded: Loaded, patient: str, name: str, drafts: Sequence[Draft] | None = None
) -> str:
    """The visit's entries behind the facts of whose it is and which file it came from."""
    subject = _subject("examination", name)
    entries = tuple(entry.draft for entry in loaded.journal) if drafts is None else tuple(drafts)
    at = f"{loaded.examination.examined_on:%Y-%m-%d}T00:00:00Z"
    facts = {"patient": patient, "file": f"{name}.json"}
    head = [_fact(name, fact, entries[0].author, at) for name, fact in facts.items()]
    store.append(subject, Journal(subject).head, (*head, *entries))
    return subject


def _fact(name: str, fact: object, author: Author, at: str) -> Draft:
    return Draft(EntryKind.SET, author, at, f"exam:{name}", body={"is": fact})


# --- signed and amended


def _sign(store: Store, examiner: Person) -> None:
    """Sign the visit as the window does: the pages are made first, then signed as they are."""
    from footexam.desktop.preview.child import Wanted, make
    from footexam.desktop.preview.words import WORDS

    subject = _subject("examination", SIGNED)
    wanted = Wanted(
        str(store.folder), subject, signer=examiner.name, practice=PRACTICE, invented=True
    )
    made = make(wanted)
    shown = Shown(
        made.document,
        made.assessment,
        _pages(made.document),
        made.head,
        made.version,
        made.catalogue,
    )
    author, at = _author(examiner, "signing"), _time(store, subject, "16:40")
    document = Attachment(shown.document, "application/pdf")
    assessment = Attachment(shown.assessment, "application/json")
    drafts = (
        attach_draft(DOCUMENT, document.body(), author, at),
        attach_draft(ASSESSMENT, assessment.body(), author, at),
        sign_draft(author, at, shown, WORDS["statement"]),
    )
    store.append(subject, made.head, drafts, (document, assessment))


def _pages(document: bytes) -> int:
    import pypdfium2

    pdf = pypdfium2.PdfDocument(document)
    try:
        return len(pdf)
    finally:
        pdf.close()


def _author(person: Person, sitting: str) -> Author:
    return Author(person.name, person.role, sitting)


def _time(store: Store, subject: str, clock: str) -> str:
    """A time of the day of an examination, in UTC."""
    return f"{store.examination(subject).examined_on:%Y-%m-%d}T{clock}:00.000Z"


def _amend(store: Store, loaded: Loaded, catalogue: Catalogue) -> None:
    """One reading corrected behind the signature, with its reason."""
    subject = _subject("examination", SIGNED)
    name, side, typed = _AMENDED
    parsed = parse(typed, catalogue.measures[name], catalogue)
    author = _author(loaded.examination.examiner, "correcting")
    reading = Reading(name, side, parsed.value, parsed.typed)
    draft = draft_of(reading, author, _time(store, subject, "17:10"))
    store.append(subject, store.journal(subject).head, (replace(draft, reason=_WHY_AMENDED),))


def _signed_document(where: Path) -> bytes | None:
    """The document of the first signature; None in a store that has none, or that is older.

    What else may be wrong with a store is told by who opens it to work in it.
    """
    try:
        with Store.read(where) as store:
            journal = store.journal(_subject("examination", SIGNED))
            signed = next(iter(signatures(journal)), None)
            return store.attachment(signed.document).data if signed else None
    except KnownError:
        return None


# --- entered in error


def _mistake(store: Store, loaded: Loaded, wrong: str) -> None:
    """The beginning of a visit under another patient, struck through."""
    beginning: list[Draft] = [
        entry.draft for entry in loaded.journal if entry.draft.target.startswith("exam:")
    ]
    readings = (entry.draft for entry in loaded.journal if entry.reading is not None)
    drafts = [*beginning, *islice(readings, _BEGUN)]
    subject = _add_visit(store, loaded, wrong, f"{MISTAKEN}-wrong-patient", drafts)
    author = _author(loaded.examination.examiner, "correcting")
    struck = _fact(
        "entered-in-error", {"reason": _WHY_STRUCK}, author, _time(store, subject, "09:10")
    )
    store.append(subject, store.journal(subject).head, (struck,))
