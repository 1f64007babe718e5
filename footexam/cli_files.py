"""What the command line reads and writes, and the status with which it ends where it cannot."""

import argparse
import errno
import os
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from footexam.cli_store import before_in, examination_in, folder_of, visits_before_in
from footexam.exchange import files
from footexam.exchange.problem import InputProblem
from footexam.messages import sentence
from footexam.store.layout import STORED

if TYPE_CHECKING:  # what reads forms and files is imported where it is used: the window starts here
    from footexam.catalogue.model import Catalogue
    from footexam.record.examination import Examination, Patient

DONE, WRONG_USE, BAD_INPUT, CANNOT_WRITE, FAULT = 0, 2, 3, 6, 70
"""Exit status, as interface.md fixes it; a KnownError of the store brings its own."""
INTERRUPTED = 130
"""Exit status after Ctrl+C, as shells have it."""


class Stop(Exception):
    """An end with a status; each line goes to standard error."""

    def __init__(self, status: int, *lines: str) -> None:
        super().__init__(*lines)
        self.status = status
        self.lines = lines


def complain(*lines: str) -> None:
    """Lines on standard error, if there is one."""
    if sys.stderr is not None:
        print(*lines, sep="\n", file=sys.stderr)


def load_forms(cache: Path | None) -> "Catalogue":
    """The catalogue; Stop where forms/ is missing or holds a mistake. None reads every file."""
    from footexam.catalogue.load import load_catalogue
    from footexam.catalogue.mistakes import BadForms

    try:
        return load_catalogue(cache_dir=cache)
    except FileNotFoundError as bad:
        raise Stop(FAULT, str(bad)) from bad
    except BadForms as bad:
        raise Stop(BAD_INPUT, str(bad)) from bad


def read_one(name: str, catalogue: "Catalogue", folder: Path) -> "Examination":
    """The examination of a file or of the store; Stop with one line per problem."""
    from footexam.exchange.examination import BadInput, read_examination

    if name.startswith(STORED):
        return examination_in(folder, name)
    try:
        data = files.read_bytes(name)
    except OSError as bad:
        problem = sentence("file-missing", {"why": files.why(bad)})
        raise Stop(BAD_INPUT, str(InputProblem(name, "", "", problem))) from bad
    try:
        return read_examination(data, catalogue, date.today(), name).examination  # noqa: DTZ011
    except BadInput as bad:
        raise Stop(BAD_INPUT, *map(str, bad.problems)) from bad


def read_pair(
    options: argparse.Namespace, catalogue: "Catalogue"
) -> "tuple[Examination, Examination | None]":
    """The examination and the earlier one of the same patient, if one is given."""
    folder = folder_of(options)
    now = read_one(options.file, catalogue, folder)
    if options.before is None:
        in_store = options.file.startswith(STORED)
        return now, before_in(folder, options.file) if in_store else None
    return now, _earlier(options.before, now, catalogue, folder)


def _earlier(name: str, now: "Examination", catalogue: "Catalogue", folder: Path) -> "Examination":
    """An earlier examination of the same patient; Stop where it is another's, or a later one."""
    before = read_one(name, catalogue, folder)
    if _identity(before.patient) != _identity(now.patient):
        raise _pair_problem(name, "other-patient")
    if before.examined_on > now.examined_on:
        raise _pair_problem(name, "not-earlier")
    return before


def read_visits(
    options: argparse.Namespace, catalogue: "Catalogue"
) -> "tuple[Examination, tuple[Examination, ...]]":
    """The examination and all earlier ones that are given or that the store holds, oldest first."""
    folder = folder_of(options)
    now = read_one(options.file, catalogue, folder)
    if options.before is None:
        in_store = options.file.startswith(STORED)
        return now, visits_before_in(folder, options.file) if in_store else ()
    given = (_earlier(name, now, catalogue, folder) for name in options.before)
    return now, tuple(sorted(given, key=lambda visit: visit.examined_on))


def _identity(patient: "Patient") -> tuple[str, ...]:
    """What two examinations of one patient share; names only where no record number is given."""
    born = patient.birth_date or ""
    if patient.record_number:
        return patient.record_number, born
    return patient.family_name.casefold(), patient.given_names.casefold(), born


def _pair_problem(name: str, code: str) -> Stop:
    return Stop(BAD_INPUT, str(InputProblem(name, "", "", sentence(code, {}))))


def say(data: bytes) -> None:
    """Write to standard output; a full or closed one is an output that cannot be written."""
    if sys.stdout is None:  # closed by who started the program
        raise cannot_write("standard output", OSError(errno.EBADF, os.strerror(errno.EBADF)))
    try:
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    except OSError as bad:
        # what is still in the buffer would be tried again, and fail, when Python ends
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if isinstance(bad, BrokenPipeError):
            raise
        raise cannot_write("standard output", bad) from bad


def tell(*lines: str) -> None:
    """Lines on standard output; a file name may hold what UTF-8 cannot."""
    say("".join(f"{line}\n" for line in lines).encode(errors="backslashreplace"))


def cannot_write(name: str, bad: OSError) -> Stop:
    """The end where a file, or standard output, cannot be written."""
    safe = "no other file was changed"
    told = sentence("cannot-write", {"why": files.why(bad)}, safe)
    return Stop(CANNOT_WRITE, str(InputProblem(name, "", "", told)))


def save(name: str, data: bytes) -> None:
    """Write a whole file or none of it; Stop where that cannot be."""
    try:
        files.write_whole(Path(name), data)
    except OSError as bad:
        raise cannot_write(name, bad) from bad
