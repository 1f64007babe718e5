"""The same work without a window: assess, print, check, export, demo."""

import argparse
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import NoReturn

from footexam import __version__
from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms
from footexam.catalogue.model import Catalogue
from footexam.exchange import files
from footexam.exchange.readings import InputProblem
from footexam.messages import listed, sentence
from footexam.record.examination import Examination
from footexam.settings import cache_dir, data_dir

DONE, WRONG_USE, BAD_INPUT, NO_STORE, CANNOT_WRITE, FAULT = 0, 2, 3, 4, 6, 70
"""Exit status, as interface.md fixes it."""

_DOCUMENTS = ("examination", "prescription", "referral", "leaflet")
_EXPORTS = ("examination", "fhir", "csv", "parquet", "sealed")
_LATER = ("mark", "cohort", "import", "backup", "restore")


class Stop(Exception):
    """An end with a status; each line goes to standard error."""

    def __init__(self, status: int, *lines: str) -> None:
        super().__init__(*lines)
        self.status = status
        self.lines = lines


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; the status to exit with. Nothing is ever shown as a traceback."""
    options = _parser().parse_args(arguments)
    run: Callable[[argparse.Namespace], None] = options.run
    try:
        run(options)
        sys.stdout.flush()
    except Stop as stop:
        for line in stop.lines:
            print(line, file=sys.stderr)
        return stop.status
    except BadForms as bad:
        print(bad, file=sys.stderr)
        return BAD_INPUT
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CANNOT_WRITE
    except KeyboardInterrupt:
        return 130
    except Exception:  # noqa: BLE001 - the last boundary: a fault is told in one sentence
        return _fault()
    return DONE


def _fault() -> int:
    print(
        "A fault of the program; no file was changed; please report it with the steps that led "
        "here (FOOTEXAM_TRACE=1 shows the place).",
        file=sys.stderr,
    )
    if os.environ.get("FOOTEXAM_TRACE"):
        traceback.print_exc()
    return FAULT


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="footexam",
        description="Records, judges and prints an examination of the feet and lower limbs. "
        "Supports the examiner's judgement; does not diagnose.",
    )
    parser.add_argument("--version", action="version", version=f"footexam {__version__}")
    parser.set_defaults(run=_open)
    commands = parser.add_subparsers(metavar="COMMAND")

    assess = commands.add_parser("assess", help="print the assessment of an examination as JSON")
    assess.add_argument("file", help="an examination file, or - for standard input")
    assess.add_argument("--before", metavar="FILE", help="an earlier examination of the patient")
    assess.add_argument("--suggest", action="store_true", help="propose aims and features as well")
    assess.set_defaults(run=_assess)

    printing = commands.add_parser("print", help="write a document as PDF")
    printing.add_argument("file", help="an examination file, or - for standard input")
    printing.add_argument("--as", dest="form", choices=_DOCUMENTS, required=True)
    printing.add_argument("--before", metavar="FILE", help="an earlier examination of the patient")
    printing.add_argument("--page", choices=("A4", "letter"), default="A4")
    printing.add_argument("-o", dest="output", metavar="OUT.pdf", required=True)
    printing.set_defaults(run=_print)

    check = commands.add_parser("check", help="check the forms, or a file")
    check.add_argument("file", nargs="?", help="an examination file, or - for standard input")
    check.set_defaults(run=_check)

    export = commands.add_parser("export", help="write an examination in an exchange format")
    export.add_argument("file", help="an examination file, or - for standard input")
    export.add_argument("--as", dest="form", choices=_EXPORTS, required=True)
    export.add_argument("-o", dest="output", metavar="OUT", required=True)
    export.set_defaults(run=_export)

    demo = commands.add_parser("demo", help="make the demo: invented patients and documents")
    demo.add_argument("--dir", dest="folder", metavar="DIR", help="where (default: user data)")
    demo.set_defaults(run=_demo)

    for name in _LATER:
        later = commands.add_parser(name)
        later.add_argument("rest", nargs=argparse.REMAINDER)
        later.set_defaults(run=_not_yet, name=name)
    return parser


def _open(_: argparse.Namespace) -> None:
    raise Stop(WRONG_USE, "This version has no window yet; see footexam --help for what it does.")


def _not_yet(options: argparse.Namespace) -> NoReturn:
    _later(options.name)


def _later(what: str, *instead: str) -> NoReturn:
    values = {"what": what, "words": listed(instead) or "assess, print, check, export or demo"}
    raise Stop(WRONG_USE, sentence("not-yet", values, safe="nothing was changed"))


def _catalogue() -> Catalogue:
    return load_catalogue(cache_dir=cache_dir())


def _read(name: str, catalogue: Catalogue) -> Examination:
    """The examination of a file; Stop with one line per problem."""
    from footexam.exchange.examination import BadInput, read_examination

    if name.startswith("store:"):
        raise Stop(NO_STORE, f"{name}: there is no store yet; give an examination file instead.")
    try:
        data = files.read_bytes(name)
    except OSError as bad:
        problem = sentence("file-missing", {"why": files.why(bad)})
        raise Stop(BAD_INPUT, str(InputProblem(name, "", "", problem))) from bad
    try:
        return read_examination(data, catalogue, date.today(), name).examination  # noqa: DTZ011
    except BadInput as bad:
        raise Stop(BAD_INPUT, *map(str, bad.problems)) from bad


def _read_pair(
    options: argparse.Namespace, catalogue: Catalogue
) -> tuple[Examination, Examination | None]:
    """The examination and the earlier one of the same patient, if one is given."""
    now = _read(options.file, catalogue)
    if options.before is None:
        return now, None
    before = _read(options.before, catalogue)
    code = ""
    if (before.patient.record_number, before.patient.birth_date) != (
        now.patient.record_number,
        now.patient.birth_date,
    ):
        code = "other-patient"
    elif before.examined_on > now.examined_on:
        code = "not-earlier"
    if code:
        raise Stop(BAD_INPUT, str(InputProblem(options.before, "", "", sentence(code, {}))))
    return now, before


def _assess(options: argparse.Namespace) -> None:
    from footexam.assessment import assess
    from footexam.exchange.assessment import write_assessment

    catalogue = _catalogue()
    now, before = _read_pair(options, catalogue)
    _say(write_assessment(assess(now, catalogue, before)))


def _say(data: bytes) -> None:
    """Write to standard output; a full or closed one is an output that cannot be written."""
    try:
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        raise
    except OSError as bad:
        raise _cannot_write("standard output", bad) from bad


def _cannot_write(name: str, bad: OSError) -> Stop:
    safe = "no other file was changed"
    return Stop(CANNOT_WRITE, f"{name}: {sentence('cannot-write', {'why': files.why(bad)}, safe)}")


def _save(name: str, data: bytes) -> None:
    try:
        files.write_whole(Path(name), data)
    except OSError as bad:
        raise _cannot_write(name, bad) from bad


def _print(options: argparse.Namespace) -> None:
    if options.form != "examination":
        _later(f"print --as {options.form}", "print --as examination")
    from footexam.assessment import assess
    from footexam.reports.examination import examination_report

    catalogue = _catalogue()
    now, before = _read_pair(options, catalogue)
    assessment = assess(now, catalogue, before)
    _save(options.output, examination_report(now, assessment, catalogue, page=options.page))


def _check(options: argparse.Namespace) -> None:
    if options.file is None:
        catalogue = load_catalogue()  # never from the cache: the files themselves are checked
        sets = sum(len(found) for found in catalogue.norms.values())
        print(
            f"forms: {len(catalogue.measures)} measures in {len(catalogue.panels)} panels, "
            f"{sets} norm sets, {len(catalogue.sources)} sources; no mistake found."
        )
        return
    examination = _read(options.file, _catalogue())
    print(
        f"{options.file}: examination file, {len(examination.readings)} readings; no mistake found."
    )


def _export(options: argparse.Namespace) -> None:
    if options.form != "examination":
        _later(f"export --as {options.form}", "export --as examination")
    from footexam.exchange.write import write_examination

    _save(options.output, write_examination(_read(options.file, _catalogue())))


def _demo(options: argparse.Namespace) -> None:
    from footexam.demo import make_demo

    folder = Path(options.folder) if options.folder else data_dir() / "demo"
    try:
        made = make_demo(folder, _catalogue())
    except OSError as bad:
        raise _cannot_write(str(folder), bad) from bad
    print(f"Demo documents of invented patients: {len(made)} files in {folder}")
    for path in made:
        print(f"  {path.name}")
