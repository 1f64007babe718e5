"""The child process of the preview: reads what is wanted, writes a document and its assessment.

Run as `python -m footexam.desktop.preview.child`. One JSON object on standard input says what; on
standard output follow one line of JSON (head, version, catalogue, sizes) and the bytes of both. No
file is written. A failure is one sentence on standard error and status 1. Imports no Qt. It loads
its libraries before it reads, so that it can be started ahead; without input it ends.
"""

import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from enum import StrEnum
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from footexam.store import Store

_LIBRARIES = ("footexam.store.store", "footexam.assessment", "footexam.reports.examination")
BROKEN = "The program has a fault; please report it with what you did before."


class Kind(StrEnum):
    """Which document."""

    EXAMINATION = "examination"
    PATIENT_COPY = "patient-copy"
    PRESCRIPTION = "prescription"
    REFERRAL = "referral"
    LEAFLET = "leaflet"
    BLANK_FORM = "blank-form"
    COHORT = "cohort"
    COHORT_TABLE = "cohort-table"
    COHORT_TABLES = "cohort-tables"
    FEEDBACK = "feedback"


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which document: of an examination (its subject) of a store, as signed by one more person.

    `signer` is "" for the record as it stands; `page` is A4 or letter; `invented` marks each page,
    and so does the store of a demo. A blank form is nobody's: it has a `depth` (core or all)
    instead of a store and a subject. `feedback` are the fields of a marking `Feedback`. A cohort is
    of a `folder` with the files of a term and of the examinations of a store for marking ("" for
    none), compared by the stated limits of a `rubric` ("" for the first one); `anonymous` puts
    codes for names.
    """

    store: str
    subject: str
    signer: str = ""
    page: str = "A4"
    practice: str = ""
    invented: bool = False
    kind: str = Kind.EXAMINATION
    depth: str = "core"
    feedback: Mapping[str, Any] | None = None
    folder: str = ""
    rubric: str = ""
    anonymous: bool = False

    def text(self) -> bytes:
        """What the child reads."""
        return json.dumps(asdict(self)).encode()


@dataclass(frozen=True, slots=True)
class Made:
    """What the child has made: the document, the assessment as JSON, and what they are made from.

    A blank form and a cohort have no assessment and no record: these are empty, the version is 0.
    """

    document: bytes
    assessment: bytes
    head: str
    version: int
    catalogue: str

    def pack(self) -> bytes:
        """What the child writes."""
        line = {
            "head": self.head,
            "version": self.version,
            "catalogue": self.catalogue,
            "document": len(self.document),
            "assessment": len(self.assessment),
        }
        return json.dumps(line).encode() + b"\n" + self.document + self.assessment


def unpack(data: bytes) -> Made:
    """What the child has written. ValueError if it is not whole."""
    first, _, rest = data.partition(b"\n")
    try:
        line: dict[str, Any] = json.loads(first)
        size, version = int(line["document"]), int(line["version"])
        whole = size + int(line["assessment"]) == len(rest)
        head, catalogue = str(line["head"]), str(line["catalogue"])
    except (KeyError, TypeError, UnicodeDecodeError) as bad:
        raise ValueError("not what the child writes") from bad
    if not whole or size < 0:
        raise ValueError("not whole")
    return Made(rest[:size], rest[size:], head, version, catalogue)


def make(wanted: Wanted) -> Made:
    """Make the document. Raises KnownError, BadForms, OSError."""
    if wanted.kind == Kind.BLANK_FORM:
        return _blank_form(wanted)
    if wanted.kind == Kind.FEEDBACK:
        return _feedback(wanted)
    if wanted.kind in {Kind.COHORT, Kind.COHORT_TABLE, Kind.COHORT_TABLES}:
        return _cohort(wanted)
    from footexam.store import Store
    from footexam.store.signed import as_signed

    with Store.read(Path(wanted.store)) as store:
        if wanted.kind == Kind.EXAMINATION and not wanted.signer:
            signed = as_signed(store, wanted.subject)
            if signed is not None:
                return Made(*signed)
        return _made(store, wanted)


def _made(store: "Store", wanted: Wanted) -> Made:
    """The report or the patient's copy, with the visits before it."""
    from footexam.assessment import assess
    from footexam.catalogue.load import load_catalogue
    from footexam.exchange.assessment import write_assessment
    from footexam.settings import cache_dir
    from footexam.store.layout import is_demo

    examination, earlier = store.examination(wanted.subject), store.visits_before(wanted.subject)
    catalogue = load_catalogue(cache_dir=cache_dir())
    assessment = assess(examination, catalogue, earlier[-1] if earlier else None)
    if wanted.signer:
        names = dict.fromkeys((*examination.signed_by, wanted.signer))
        examination = replace(examination, signed_by=tuple(names), amended=False)
    more: dict[str, Any] = {"earlier": earlier} if wanted.kind == Kind.EXAMINATION else {}
    document = _maker(wanted.kind)(
        examination,
        assessment,
        catalogue,
        page=wanted.page,
        practice=wanted.practice,
        invented=wanted.invented or is_demo(Path(wanted.store)),
        **more,
    )
    text = write_assessment(assessment)
    return Made(document, text, examination.head, examination.version, _digest())


def _maker(kind: str) -> Callable[..., bytes]:
    """What makes this kind of document; only its own module is loaded."""
    module, name = _MAKERS[Kind(kind)]
    maker: Callable[..., bytes] = getattr(import_module(module), name)
    return maker


_MAKERS = {
    Kind.EXAMINATION: ("footexam.reports.examination", "examination_report"),
    Kind.PATIENT_COPY: ("footexam.reports.patient_copy", "patient_copy"),
    Kind.PRESCRIPTION: ("footexam.reports.prescription", "prescription"),
    Kind.REFERRAL: ("footexam.reports.referral", "referral"),
    Kind.LEAFLET: ("footexam.reports.leaflet", "leaflet"),
}


def _blank_form(wanted: Wanted) -> Made:
    """The paper form."""
    from footexam.catalogue.load import load_catalogue
    from footexam.reports.blank_form import blank_form
    from footexam.settings import cache_dir

    catalogue = load_catalogue(cache_dir=cache_dir())
    document = blank_form(catalogue, depth=wanted.depth, page=wanted.page)
    return Made(document, b"", "", 0, _digest())


def _feedback(wanted: Wanted) -> Made:
    """Feedback for a student."""
    from footexam.catalogue.load import load_catalogue
    from footexam.desktop.marking.making import Feedback, Making
    from footexam.settings import cache_dir

    catalogue = load_catalogue(cache_dir=cache_dir())
    making = Making(catalogue, Path(wanted.store), invented=wanted.invented, page=wanted.page)
    document = making.document(Feedback(**(wanted.feedback or {})))
    return Made(document, b"", "", 0, _digest())


def _cohort(wanted: Wanted) -> Made:
    """The report of a cohort, the table of every comparison, or all tables in a ZIP."""
    from footexam.catalogue.load import load_catalogue
    from footexam.desktop.cohort.term import whole_term
    from footexam.settings import cache_dir

    catalogue = load_catalogue(cache_dir=cache_dir())
    found = whole_term(wanted.folder, wanted.store, wanted.rubric, catalogue)
    if wanted.kind == Kind.COHORT_TABLE:
        from footexam.exchange.comparison_csv import write_comparison_csv

        hide = found.cohort if wanted.anonymous else None
        table = write_comparison_csv(found.cohort.comparisons, catalogue, hide)
        return Made(table, b"", "", 0, _digest())
    if wanted.kind == Kind.COHORT_TABLES:
        from footexam.exchange.cohort_tables import TermTables, write_tables

        given = found.cohort, catalogue, found.standards, found.markers, found.marks
        tables = write_tables(TermTables(*given, anonymous=wanted.anonymous))
        return Made(tables, b"", "", 0, _digest())
    from footexam.reports.cohort import cohort_report
    from footexam.store.layout import is_demo

    document = cohort_report(
        found.cohort,
        catalogue,
        left_out=found.term.problems,
        standards=found.standards,
        markers=found.markers,
        anonymous=wanted.anonymous,
        page=wanted.page,
        invented=wanted.invented or bool(wanted.store and is_demo(Path(wanted.store))),
    )
    return Made(document, b"", "", 0, _digest())


def _digest() -> str:
    """The digest of the forms that judged, as the catalogue's cache names them."""
    from footexam.catalogue.cache import digest
    from footexam.resources import forms_dir

    forms = forms_dir()
    files = sorted(forms.rglob("*.toml"))
    return digest({file.relative_to(forms).as_posix(): file.read_bytes() for file in files})


def main() -> int:
    """Do what standard input asks for; the status to exit with."""
    from footexam.catalogue.mistakes import BadForms
    from footexam.exchange.examination import BadInput
    from footexam.store.errors import KnownError

    for name in _LIBRARIES:
        import_module(name)
    asked = sys.stdin.buffer.read()
    if not asked:
        return 0  # who started it has gone, or wants nothing any more
    try:
        made = make(Wanted(**json.loads(asked)))
        sys.stdout.buffer.write(made.pack())
        sys.stdout.buffer.flush()
    except (KnownError, BadForms, BadInput) as bad:
        sys.stderr.write(f"{bad}\n")
        return 1
    except Exception as bad:  # noqa: BLE001 - the boundary of the child: one sentence, no traceback
        sys.stderr.write(f"{BROKEN} ({type(bad).__name__})\n")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
