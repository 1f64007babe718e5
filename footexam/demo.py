"""The demo: examinations of invented patients with assessments, reports and patients' copies."""

import errno
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from footexam.catalogue.model import Catalogue
from footexam.record.examination import Examination, is_series
from footexam.resources import assets_dir
from footexam.store.layout import DEMO_MARK
from footexam.terms import Purpose

if TYPE_CHECKING:
    from footexam.assessment import Assessment
    from footexam.exchange.examination import Loaded

PRACTICE = "Hazel Quay Teaching Clinic"
BLANK_FORM = "blank-form.pdf"
ASK = "the desk of the Hazel Quay Teaching Clinic"

# The visits have fixed days; on a computer whose clock is behind they are no mistake of the file.
_TODAY = date(2026, 10, 31)
SAYS = (
    "This folder was made by footexam as a demo. Every person in it is invented.\n"
    "It may be deleted. Making the demo again writes the same files over these.\n"
)


def make_demo(folder: Path, catalogue: Catalogue) -> list[Path]:
    """Write the demo into `folder` and name every file written; a second run writes the same bytes.

    Per examination: the examination file, what it amounts to (against the visit before, if there
    is one), the report and, where it was not for teaching only, the patient's copy, a referral
    where a danger stands and the patient's leaflet where something is planned; once the blank form.
    Raises FileExistsError, with nothing written, where other files lie in the folder, and
    OSError where a file cannot be written or the program's assets are missing.
    """
    sources = {path: path.read_bytes() for path in demo_files()}
    folder.mkdir(parents=True, exist_ok=True)
    _refuse_other_files(folder)
    read = _read(sources, catalogue)
    examinations = {path: loaded.examination for path, loaded in read.items()}
    made = [
        _write(folder / DEMO_MARK, SAYS.encode()),
        _write(folder / BLANK_FORM, _form(catalogue)),
    ]
    for path, now in examinations.items():
        documents = _documents(now, earlier(now, examinations.values()), catalogue)
        made.append(_write(folder / path.name, sources[path]))
        made += [_write(folder / f"{path.stem}-{end}", data) for end, data in documents.items()]
    return made


def demo_files() -> list[Path]:
    """The examination files of the demo, in the order of their names. Raises FileNotFoundError."""
    return sorted((assets_dir() / "demo").glob("*.json"))


def previous(now: Examination, others: Iterable[Examination]) -> Examination | None:
    """The patient's latest earlier examination that may stand beside this one; None if none."""
    return next(reversed(earlier(now, others)), None)


def earlier(now: Examination, others: Iterable[Examination]) -> tuple[Examination, ...]:
    """The patient's earlier examinations of the same series, the first one first."""
    found = (
        other
        for other in others
        if other.patient.record_number == now.patient.record_number
        and is_series((other.purpose, other.examiner.name), (now.purpose, now.examiner.name))
        and other.examined_on < now.examined_on
    )
    return tuple(sorted(found, key=lambda other: other.examined_on))


def _refuse_other_files(folder: Path) -> None:
    """Never write among somebody's own files."""
    if any(folder.iterdir()) and not (folder / DEMO_MARK).is_file():
        raise FileExistsError(errno.EEXIST, "it holds files that are not of a demo", str(folder))


def read_demo(paths: Iterable[Path], catalogue: Catalogue) -> "dict[Path, Loaded]":
    """The journals and examinations of the demo's files. Raises OSError."""
    return _read({path: path.read_bytes() for path in paths}, catalogue)


def _read(sources: Mapping[Path, bytes], catalogue: Catalogue) -> "dict[Path, Loaded]":
    from footexam.exchange.examination import read_examination

    return {
        path: read_examination(data, catalogue, _TODAY, path.name) for path, data in sources.items()
    }


def _documents(
    now: Examination, before: Sequence[Examination], catalogue: Catalogue
) -> dict[str, bytes]:
    """What is written beside an examination file, by the end of its name."""
    from footexam.assessment import assess
    from footexam.exchange.assessment import write_assessment
    from footexam.reports.examination import examination_report
    from footexam.reports.patient_copy import patient_copy

    assessment = assess(now, catalogue, before[-1] if before else None)
    report = examination_report(
        now, assessment, catalogue, invented=True, practice=PRACTICE, earlier=before
    )
    made = {"assessment.json": write_assessment(assessment), "report.pdf": report}
    if now.purpose is Purpose.RECORD:
        made["patient-copy.pdf"] = patient_copy(
            now, assessment, catalogue, invented=True, practice=PRACTICE, ask=ASK
        )
        made |= _letters(now, assessment, catalogue)
    return made


def _letters(now: Examination, assessment: "Assessment", catalogue: Catalogue) -> dict[str, bytes]:
    """A referral where a danger stands, the leaflet where something is planned."""
    from footexam.reasoning.letters import stands
    from footexam.reports.leaflet import leaflet
    from footexam.reports.referral import referral

    made = {}
    if any(one.tier and stands(one) for one in assessment.cautions):
        made["referral.pdf"] = referral(
            now, assessment, catalogue, invented=True, practice=PRACTICE
        )
    if assessment.reasons.plan.chosen:
        made["leaflet.pdf"] = leaflet(
            now, assessment, catalogue, invented=True, practice=PRACTICE, ask=ASK
        )
    return made


def _form(catalogue: Catalogue) -> bytes:
    """The core sheet on paper."""
    from footexam.reports.blank_form import blank_form

    return blank_form(catalogue)


def _write(path: Path, data: bytes) -> Path:
    from footexam.exchange.files import write_whole

    write_whole(path, data)
    return path
