"""The demo clinic's own store, filled with the invented patients and their visits."""

from pathlib import Path

from footexam.catalogue.model import Catalogue
from footexam.demo import MARKER, demo_files, read_demo
from footexam.exchange.examination import Loaded
from footexam.record.entry import Draft, EntryKind
from footexam.record.journal import Journal
from footexam.store.layout import DATABASE
from footexam.store.store import Store

STORE = "store"
"""Name of the store's folder inside the demo's folder."""


def make_demo_store(folder: Path, catalogue: Catalogue) -> Path:
    """Make the store inside the demo's folder; one that is there is kept as it is.

    Raises KnownError where it cannot be made.
    """
    where = folder / STORE
    if (where / DATABASE).exists():
        return where
    with Store.create(where) as store:
        patients: dict[str, str] = {}
        for path, loaded in read_demo(demo_files(), catalogue).items():
            number = loaded.examination.patient.record_number
            if number not in patients:
                patients[number] = _add_patient(store, loaded)
            _add_visit(store, loaded, patients[number], path)
    return where


def _add_patient(store: Store, loaded: Loaded) -> str:
    subject = Store.new_subject("patient")
    drafts = tuple(entry.draft for entry in loaded.patient)
    store.append(subject, Journal(subject).head, drafts)
    return subject


def _add_visit(store: Store, loaded: Loaded, patient: str, path: Path) -> None:
    """The visit's entries behind the facts of whose it is and which file it came from."""
    subject = Store.new_subject("examination")
    author = next(iter(loaded.journal)).draft.author
    at = f"{loaded.examination.examined_on:%Y-%m-%d}T00:00:00Z"
    facts = {"patient": patient, "file": path.name}
    head = [
        Draft(EntryKind.SET, author, at, f"exam:{name}", body={"is": fact})
        for name, fact in facts.items()
    ]
    drafts = (*head, *(entry.draft for entry in loaded.journal))
    store.append(subject, Journal(subject).head, drafts)


def is_demo(folder: Path) -> bool:
    """Whether a store is that of a demo."""
    return (folder.parent / MARKER).is_file()
