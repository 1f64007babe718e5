"""The same work without a window: assess, print, check, export, demo."""

import argparse
import os
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from footexam import __version__
from footexam.cli_files import (
    BAD_INPUT,
    CANNOT_WRITE,
    DONE,
    FAULT,
    INTERRUPTED,
    WRONG_USE,
    Stop,
    cannot_write,
    complain,
    load_forms,
    read_one,
    read_pair,
    read_visits,
    save,
    say,
    tell,
)
from footexam.cli_store import (
    add_store,
    back_up,
    folder_of,
    has_screen,
    open_window,
    restore_from,
    signed_document,
)
from footexam.exchange import files
from footexam.exchange.problem import InputProblem
from footexam.messages import listed, sentence
from footexam.settings import cache_dir, data_dir
from footexam.store.errors import KnownError
from footexam.store.layout import STORED

if TYPE_CHECKING:  # what reads forms and files is imported where it is used: the window starts here
    from footexam.catalogue.marking import Rubric
    from footexam.catalogue.model import Catalogue

_BLANK = "blank-form"
_LETTERS = ("referral", "leaflet")
_DOCUMENTS = ("examination", "patient-copy", _BLANK, "prescription", *_LETTERS)
_DEPTHS = ("core", "all")
_PAGES = {"a4": "A4", "letter": "letter"}
"""Page sizes as they are typed, and as reports/ names them."""
_EXPORTS = ("examination", "fhir", "csv", "parquet", "sealed")
_LATER = ("import",)


_FAULT = (
    "The program has a fault and stopped; no examination was changed; please report it with the "
    "steps that led here (FOOTEXAM_TRACE=1 shows the place)."
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; the status to exit with. Nothing is ever shown as a traceback."""
    options = _parser().parse_args(arguments)
    run: Callable[[argparse.Namespace], None] = options.run
    try:
        run(options)
    except Stop as stop:
        complain(*stop.lines)
        return stop.status
    except KnownError as bad:
        complain(str(bad))
        return bad.status
    except BrokenPipeError:
        return CANNOT_WRITE  # the reader has gone and wants to hear nothing
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception:  # noqa: BLE001 - the last boundary: a fault is told in one sentence
        complain(_FAULT)
        if os.environ.get("FOOTEXAM_TRACE"):
            complain(traceback.format_exc())
        return FAULT
    return DONE


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="footexam",
        allow_abbrev=False,
        description="Records, judges and prints an examination of the feet and lower limbs. "
        "Supports the examiner's judgement; does not diagnose.",
    )
    parser.add_argument("--version", action="version", version=f"footexam {__version__}")
    parser.set_defaults(run=_open)
    add_store(parser)
    commands = parser.add_subparsers(metavar="COMMAND")

    assess = commands.add_parser(
        "assess", allow_abbrev=False, help="print the assessment of an examination as JSON"
    )
    assess.add_argument("file", help="an examination file, or - for standard input")
    assess.add_argument("--before", metavar="FILE", help="an earlier examination of the patient")
    assess.add_argument("--suggest", action="store_true", help="propose aims and features as well")
    add_store(assess)
    assess.set_defaults(run=_assess)

    _add_print(commands.add_parser("print", allow_abbrev=False, help="write a document as PDF"))

    check = commands.add_parser("check", allow_abbrev=False, help="check the forms, or a file")
    check.add_argument("file", nargs="?", help="an examination file, or - for standard input")
    add_store(check)
    check.set_defaults(run=_check)

    export = commands.add_parser(
        "export", allow_abbrev=False, help="write an examination in an exchange format"
    )
    export.add_argument("file", help="an examination file, or - for standard input")
    export.add_argument("--as", dest="form", choices=_EXPORTS, required=True)
    export.add_argument("-o", dest="output", metavar="OUT", required=True)
    add_store(export)
    export.set_defaults(run=_export)

    demo = commands.add_parser(
        "demo", allow_abbrev=False, help="make the demo: invented patients and documents"
    )
    demo.add_argument("--dir", dest="folder", metavar="DIR", help="where (default: user data)")
    demo.add_argument("--no-window", action="store_true", help="only make the documents and store")
    demo.set_defaults(run=_demo)

    backup = commands.add_parser(
        "backup", allow_abbrev=False, help="write a verified copy of the store to a new file"
    )
    backup.add_argument("output", metavar="OUT", help="a file that is not there yet")
    add_store(backup)
    backup.set_defaults(run=_backup)

    restore = commands.add_parser(
        "restore", allow_abbrev=False, help="put a backup in the place of the store"
    )
    restore.add_argument("file", metavar="FILE", help="a file made by backup")
    add_store(restore)
    restore.set_defaults(run=_restore)

    _add_marking(commands)

    for name in _LATER:
        later = commands.add_parser(name)
        later.add_argument("rest", nargs=argparse.REMAINDER)
        later.set_defaults(run=_not_yet, name=name)
    return parser


def _add_marking(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """`mark` and `cohort`."""
    mark = commands.add_parser(
        "mark", allow_abbrev=False, help="compare a student's examination with a reference"
    )
    mark.add_argument("student", help="an examination file, or - for standard input")
    mark.add_argument("reference", help="the reference examination of that patient and day")
    mark.add_argument("--marks", metavar="FILE", help="the marks to print on the document")
    mark.set_defaults(run=_mark)
    cohort = commands.add_parser(
        "cohort", allow_abbrev=False, help="compare a folder of examinations with their references"
    )
    cohort.add_argument("folder", metavar="DIR", help="a folder of examination files")
    cohort.add_argument("--anonymous", action="store_true", help="codes instead of names")
    cohort.set_defaults(run=_cohort)
    for one in (mark, cohort):
        one.add_argument("--rubric", metavar="ID", help="of forms/marking (default: the first)")
        add_store(one)
    told = "a document; OUT.csv a table of every item"
    mark.add_argument("-o", dest="output", metavar="OUT.pdf", help=told)
    told += "; OUT.zip all tables: items, examiners, habits, agreement, marks, pass marks"
    cohort.add_argument("-o", dest="output", metavar="OUT.pdf", help=told)


def _add_print(printing: argparse.ArgumentParser) -> None:
    """The words behind `print`; what fits to what is looked at when it runs."""
    printing.add_argument(
        "file",
        nargs="?",
        help="an examination file, or - for standard input; none for a blank form",
    )
    printing.add_argument("--as", dest="form", choices=_DOCUMENTS, required=True)
    printing.add_argument(
        "--before",
        metavar="FILE",
        action="append",
        help="an earlier examination of the patient; may be given for each earlier visit (an "
        "examination of the store finds them itself)",
    )
    printing.add_argument(
        "--depth", choices=_DEPTHS, help="blank form: the core sheet (default) or all"
    )
    printing.add_argument("--practice", metavar="NAME", help="who heads the document")
    printing.add_argument("--to", metavar="WHO", help="referral: whom the letter goes to")
    printing.add_argument(
        "--say",
        metavar="BLOCK=TEXT",
        action="append",
        help="referral, leaflet: the text of a block of forms/letters; empty leaves it out",
    )
    printing.add_argument(
        "--anew",
        action="store_true",
        help="examination of the store: made anew with today's norms, not as it was signed",
    )
    printing.add_argument("--page", type=str.lower, choices=_PAGES, default="a4")
    printing.add_argument("-o", dest="output", metavar="OUT.pdf", required=True)
    add_store(printing)
    printing.set_defaults(run=_print)


def _open(options: argparse.Namespace) -> None:
    _window(folder_of(options), demo=False)


def _window(folder: Path, *, demo: bool) -> None:
    """Open the window; where that cannot be, say why and what works without one."""
    if not has_screen():
        raise Stop(WRONG_USE, f"There is no screen here; nothing was changed; {_WITHOUT_WINDOW}.")
    try:
        status = open_window(folder, demo=demo)
    except ImportError as bad:
        why = f"The window cannot open: {bad}"
        todo = "python3 packaging/bootstrap.py run says which system libraries are missing"
        raise Stop(WRONG_USE, f"{why}; nothing was changed; {todo}.") from bad
    if status:
        raise Stop(status)


_WITHOUT_WINDOW = "assess, print, check, export and demo work without one"


def _backup(options: argparse.Namespace) -> None:
    made = back_up(folder_of(options), Path(options.output))
    tell(
        f"{made.path}: {made.size} bytes, {made.census.subjects} records with "
        f"{made.census.entries} entries; read back and the same as the store."
    )


def _restore(options: argparse.Namespace) -> None:
    done = restore_from(folder_of(options), Path(options.file))
    tell(f"The store holds {done.census.subjects} records with {done.census.entries} entries.")
    if done.set_aside is not None:
        tell(f"The store that was there before lies in {done.set_aside}; nothing of it is lost.")


def _not_yet(options: argparse.Namespace) -> NoReturn:
    _later(options.name)


def _later(what: str, *instead: str) -> NoReturn:
    values = {"what": what, "words": listed(instead) or "assess, print, check, export or demo"}
    raise Stop(WRONG_USE, sentence("not-yet", values, safe="nothing was changed"))


def _assess(options: argparse.Namespace) -> None:
    from footexam.assessment import assess
    from footexam.exchange.assessment import write_assessment

    catalogue = load_forms(cache_dir())
    now, before = read_pair(options, catalogue)
    say(write_assessment(assess(now, catalogue, before, suggest=options.suggest)))


def _print(options: argparse.Namespace) -> None:
    if options.form == _BLANK:
        _print_blank(options)
        return
    if options.file is None:
        raise Stop(WRONG_USE, f"--as {options.form} needs an examination; {_GIVE_FILE}.")
    for name, forms in (("depth", (_BLANK,)), ("to", ("referral",)), ("say", _LETTERS)):
        if getattr(options, name) is not None and options.form not in forms:
            what = f"--{name} is for --as {listed(forms, 'and')} only"
            raise Stop(WRONG_USE, f"{what}; {_LEAVE_OUT} --{name}.")
    _print_examination(options)


_GIVE_FILE = "nothing was written; give an examination file, or store:ID"
_LEAVE_OUT = "nothing was written; leave out"


def _print_blank(options: argparse.Namespace) -> None:
    """The paper form; it is nobody's, so it takes no examination."""
    from footexam.reports.blank_form import blank_form

    letters = [
        f"--{name}" for name in ("practice", "to", "say") if getattr(options, name) is not None
    ]
    files_given = [name for name in (options.file, *(options.before or ())) if name is not None]
    given = [*files_given, *letters]
    if given:
        told = f"{_LEAVE_OUT} {listed(given, 'and')}"
        raise Stop(WRONG_USE, f"A blank form is of no patient; {told}.")
    depth, page = options.depth or _DEPTHS[0], _PAGES[options.page]
    save(options.output, blank_form(load_forms(cache_dir()), depth=depth, page=page))


def _print_examination(options: argparse.Namespace) -> None:
    """A document of one visit, against the visits before."""
    from footexam.assessment import assess
    from footexam.reports.letter import UnknownBlock

    if _wants_signed(options):
        signed = signed_document(folder_of(options), options.file)
        if signed is not None:
            save(options.output, signed)
            return
    edited = _edited(options.say or ())
    catalogue = load_forms(cache_dir())
    now, earlier = read_visits(options, catalogue)
    assessment = assess(now, catalogue, earlier[-1] if earlier else None)
    more: dict[str, Any] = {"practice": options.practice or "", "page": _PAGES[options.page]}
    if options.form == "examination":
        more["earlier"] = earlier
    elif options.form in _LETTERS:
        more["edited"] = edited
    if options.form == "referral":
        more["to"] = options.to or ""
    make = _maker(options.form)
    try:
        data = make(now, assessment, catalogue, invented=_is_invented(options), **more)
    except UnknownBlock as bad:
        raise Stop(WRONG_USE, f"{bad}; nothing was written; name one of these.") from bad
    save(options.output, data)


def _wants_signed(options: argparse.Namespace) -> bool:
    """Whether the report is asked for as it was signed: of the store, and in no other form."""
    other = options.anew or options.practice or options.before or options.page != "a4"
    return options.form == "examination" and options.file.startswith(STORED) and not other


def _maker(form: str) -> Callable[..., bytes]:
    """What makes a document of an examination and its assessment."""
    if form == "patient-copy":
        from footexam.reports.patient_copy import patient_copy

        return patient_copy
    if form == "prescription":
        from footexam.reports.prescription import prescription

        return prescription
    if form == "referral":
        from footexam.reports.referral import referral

        return referral
    if form == "leaflet":
        from footexam.reports.leaflet import leaflet

        return leaflet
    from footexam.reports.examination import examination_report

    return examination_report


def _edited(said: Sequence[str]) -> dict[str, str]:
    """The texts typed for blocks, by block."""
    edited = {}
    for one in said:
        name, equals, text = one.partition("=")
        if not equals:
            what = f"--say {one} names no text"
            raise Stop(WRONG_USE, f"{what}; nothing was written; write --say BLOCK=TEXT.")
        edited[name.strip()] = text
    return edited


def _is_invented(options: argparse.Namespace) -> bool:
    """Whether an examination lies in a demo: its document then says so on every page."""
    return _is_in_demo(options.file, options)


def _is_in_demo(name: str, options: argparse.Namespace) -> bool:
    from footexam.store.layout import is_demo

    if name.startswith(STORED):
        return is_demo(folder_of(options))
    return name != files.INPUT and is_demo(Path(name))


def _check(options: argparse.Namespace) -> None:
    if options.file is None:
        catalogue = load_forms(None)  # not from the cache: the files are checked
        sets = sum(len(found) for found in catalogue.norms.values())
        tell(
            f"forms: {len(catalogue.measures)} measures in {len(catalogue.panels)} panels, "
            f"{sets} norm sets, {len(catalogue.sources)} sources; no mistake found."
        )
        return
    count = len(read_one(options.file, load_forms(cache_dir()), folder_of(options)).readings)
    tell(f"{options.file}: examination file, {count} readings; no mistake found.")


def _export(options: argparse.Namespace) -> None:
    if options.form not in {"examination", "csv"}:
        _later(f"export --as {options.form}", "export --as examination", "export --as csv")
    if options.form == "csv":
        _export_csv(options)
        return
    from footexam.exchange.write import write_examination

    now = read_one(options.file, load_forms(cache_dir()), folder_of(options))
    save(options.output, write_examination(now))


def _export_csv(options: argparse.Namespace) -> None:
    """One row a reading, with what it is worth."""
    from footexam.assessment import assess
    from footexam.exchange.csv_table import write_csv

    catalogue = load_forms(cache_dir())
    now = read_one(options.file, catalogue, folder_of(options))
    save(options.output, write_csv(now, assess(now, catalogue), catalogue))


def _mark(options: argparse.Namespace) -> None:
    """Compare; the document is written before anything is said."""
    from footexam import cli_marking
    from footexam.exchange.comparison import write_comparison
    from footexam.exchange.examination import BadInput
    from footexam.exchange.term import compared

    catalogue = load_forms(cache_dir())
    rubric, folder = _rubric(options, catalogue), folder_of(options)
    if options.student == options.reference == files.INPUT:
        raise Stop(WRONG_USE, f"Standard input holds one examination; {_GIVE_FILE}.")
    student = read_one(options.student, catalogue, folder)
    reference = read_one(options.reference, catalogue, folder)
    try:
        cli_marking.check_pair(student, reference, options.student)
    except cli_marking.NotCompared as bad:
        raise Stop(BAD_INPUT, *bad.lines) from bad
    try:
        judged = cli_marking.judged(student, catalogue, rubric, options.marks)
    except OSError as bad:
        problem = sentence("file-missing", {"why": files.why(bad)})
        raise Stop(BAD_INPUT, str(InputProblem(options.marks, "", "", problem))) from bad
    except BadInput as bad:
        raise Stop(BAD_INPUT, *map(str, bad.problems)) from bad
    except cli_marking.NotCompared as bad:
        raise Stop(BAD_INPUT, *bad.lines) from bad
    found = compared(student, reference, catalogue, judged.rubric)
    if options.output is not None:
        out, invented = options.output, _is_in_demo(options.student, options)
        data = cli_marking.comparison_output(found, catalogue, judged, out, invented=invented)
        save(out, data)
    say(write_comparison(found))


def _cohort(options: argparse.Namespace) -> None:
    """Compare a folder; files that cannot be used are named and the others are compared."""
    from footexam import cli_marking
    from footexam.exchange.cohort import write_cohort

    catalogue = load_forms(cache_dir())
    rubric, folder = _rubric(options, catalogue), Path(options.folder)
    try:
        marked = cli_marking.read_cohort(folder, catalogue, rubric)
    except OSError as bad:
        problem = sentence("file-missing", {"why": files.why(bad)})
        raise Stop(BAD_INPUT, str(InputProblem(str(folder), "", "", problem))) from bad
    except cli_marking.NotCompared as bad:
        raise Stop(BAD_INPUT, *bad.lines) from bad
    hidden = options.anonymous
    if options.output is not None:
        out, invented = options.output, _is_in_demo(str(folder / "any"), options)
        data = cli_marking.cohort_output(
            marked, catalogue, out, anonymous=hidden, invented=invented
        )
        save(out, data)
    if marked.problems:
        complain(*marked.problems)
    told = marked.cohort, marked.problems, marked.standards, marked.markers
    say(write_cohort(*told, anonymous=hidden))


def _rubric(options: argparse.Namespace, catalogue: "Catalogue") -> "Rubric":
    """The rubric that is named, or the first one."""
    name = options.rubric or next(iter(catalogue.rubrics), "")
    if name not in catalogue.rubrics:
        told = f"“{name}” is not a rubric; nothing was written; use {listed(catalogue.rubrics)}."
        raise Stop(WRONG_USE, told)
    return catalogue.rubrics[name]


def _demo(options: argparse.Namespace) -> None:
    from footexam.demo import make_demo
    from footexam.demo_store import SIGNED_DOCUMENT, make_demo_store
    from footexam.demo_term import make_demo_term

    folder = Path(options.folder) if options.folder else data_dir() / "demo"
    catalogue = load_forms(cache_dir())
    try:
        made = make_demo(folder, catalogue)
        store = make_demo_store(folder, catalogue)
        term = make_demo_term(folder, catalogue)
    except OSError as bad:
        raise cannot_write(str(folder), bad) from bad
    signed = folder / SIGNED_DOCUMENT
    made += [signed] if signed.is_file() else []
    tell(
        f"Demo documents of invented patients: {len(made)} files in {folder}",
        *(f"  {path.name}" for path in made),
        f"A term to be marked (Ctrl+K in the window): {len(term)} files in {term[0].parent}",
        f"The demo clinic's own store is {store}",
    )
    if has_screen() and not options.no_window:
        _window(store, demo=True)
