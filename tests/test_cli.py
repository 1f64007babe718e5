"""The command line: every command, every exit status, one sentence a problem, no traceback."""

import io
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pypdfium2
import pytest

from footexam import cli
from footexam.cli import main
from footexam.store import KnownError, Store
from footexam.store.quick_list import PatientList
from tests.exchange.examples import changed, data, file
from tests.marking.term import angoff

ROOT = Path(__file__).parents[1]
DAY = "2020-03-04"
"""The examination lies in the past wherever the tests run."""

LINE = re.compile(r"^[^:]+: (.*: )?[^:]+; nothing was stored; .+\.$", re.DOTALL)


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One home for all tests, so that the forms are read once and then come from its cache."""
    return tmp_path_factory.mktemp("home")


@pytest.fixture(autouse=True)
def _environment(shared: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FOOTEXAM_HOME", str(shared))
    monkeypatch.delenv("FOOTEXAM_TRACE", raising=False)
    # a test never opens a window: one that is shown waits for somebody to close it
    monkeypatch.setattr(cli, "has_screen", lambda: False)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home that does not exist yet."""
    folder = tmp_path / "home"
    monkeypatch.setenv("FOOTEXAM_HOME", str(folder))
    return folder


@pytest.fixture
def work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    folder = tmp_path / "work"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture(scope="module")
def demo_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo, made once by the command."""
    folder = tmp_path_factory.mktemp("once") / "demo"
    assert main(["demo", "--dir", str(folder), "--no-window"]) == 0
    return folder


@pytest.fixture
def demo(work: Path, demo_once: Path) -> Path:
    """A demo of the test's own in the folder to work in."""
    return Path(shutil.copytree(demo_once, work / "demo"))


Captured = pytest.CaptureFixture[bytes]


def example(**patient: Any) -> bytes:
    def change(tree: dict[str, Any]) -> None:
        tree["examined_on"] = DAY
        tree["patient"].update(patient)

    return data(changed(change))


def run(arguments: list[str], captured: Captured) -> tuple[int, bytes, str]:
    status = main(arguments)
    out, err = captured.readouterr()
    return status, out, err.decode()


# --- assess


def test_assess_prints_the_assessment(work: Path, capsysbinary: Captured) -> None:
    (work / "visit.json").write_bytes(example())
    status, out, err = run(["assess", "visit.json"], capsysbinary)
    assert (status, err) == (0, "")
    assert json.loads(out)["format"] == "footexam/assessment"
    assert json.loads(out)["patient"]["age"] == {"years": 40, "months": 486}


def test_assess_suggests_aims_and_features(work: Path, capsysbinary: Captured) -> None:
    """Nothing else of the assessment changes by it."""
    visit = json.loads((ROOT / "tests/scenarios/01-heel-plantar.json").read_text(encoding="utf-8"))
    (work / "visit.json").write_text(json.dumps({**visit, "examined_on": DAY}), encoding="utf-8")
    _, plain, _ = run(["assess", "visit.json"], capsysbinary)
    status, out, err = run(["assess", "visit.json", "--suggest"], capsysbinary)
    assert (status, err) == (0, "")
    told, suggested = json.loads(plain), json.loads(out)
    assert list(suggested) == list(told)
    assert suggested["aims"]
    assert suggested["features"]
    for key in ("aims", "features"):
        assert all(one["suggested"] is True for one in suggested.pop(key))
        assert not any("suggested" in one for one in told.pop(key))
    assert suggested == told
    assert run(["assess", "visit.json", "--suggest"], capsysbinary) == (0, out, "")


def test_assess_reads_standard_input(
    monkeypatch: pytest.MonkeyPatch, capsysbinary: Captured
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(example())))
    status, out, _ = run(["assess", "-"], capsysbinary)
    assert status == 0
    assert json.loads(out)["findings"]


def test_assess_against_an_earlier_visit(work: Path, capsysbinary: Captured) -> None:
    (work / "now.json").write_bytes(example())
    (work / "before.json").write_bytes(example().replace(b"2020-03-04", b"2020-01-04"))
    status, out, err = run(["assess", "now.json", "--before", "before.json"], capsysbinary)
    assert (status, err) == (0, "")
    assert json.loads(out)["changes"]


@pytest.mark.parametrize(
    ("patient", "other"),
    [
        ({"record_number": "B-1"}, True),
        ({"birth_date": "1979-08-31"}, True),
        ({"birth_date": None}, True),
        ({"family_name": "Quill-Reed"}, False),  # a new name, the same record number
    ],
)
def test_an_earlier_visit_of_another_patient_is_refused(
    work: Path, capsysbinary: Captured, patient: dict[str, Any], other: bool
) -> None:
    (work / "now.json").write_bytes(example())
    (work / "before.json").write_bytes(example(**patient))
    status, out, err = run(["assess", "now.json", "--before", "before.json"], capsysbinary)
    assert (status == 3) is other
    if other:
        assert out == b""
        assert err == (
            "before.json: the earlier examination is of another patient; nothing was stored; give "
            "two examinations that name one patient and one birth date.\n"
        )


@pytest.mark.parametrize(("name", "status"), [("Quill", 0), ("QUILL", 0), ("Quail", 3)])
def test_without_record_numbers_the_names_must_agree(
    work: Path, capsysbinary: Captured, name: str, status: int
) -> None:
    (work / "now.json").write_bytes(example(record_number=""))
    (work / "before.json").write_bytes(example(record_number="", family_name=name))
    found = run(["assess", "now.json", "--before", "before.json"], capsysbinary)
    assert found[0] == status


def test_an_earlier_visit_must_be_earlier(work: Path, capsysbinary: Captured) -> None:
    (work / "now.json").write_bytes(example())
    (work / "later.json").write_bytes(example().replace(b"2020-03-04", b"2020-03-05"))
    status, out, err = run(["assess", "now.json", "--before", "later.json"], capsysbinary)
    assert (status, out) == (3, b"")
    assert err.startswith("later.json: this examination is later than the other one; ")


# --- bad input: exit 3, one line a problem, nothing on standard output


BAD: list[tuple[bytes, str]] = [
    (b"", "visit.json: the file is empty; "),
    (b"not json", "visit.json: the file is not JSON (line 1, column 1: Expecting value); "),
    (example()[:300], "visit.json: the file is not JSON ("),
    (b"\xff", "visit.json: the file is not UTF-8 text; "),
    (b"[" * 100_000, "visit.json: the file is nested more than 20 levels deep; "),
    (b'{"a": 1, "a": 2}', "visit.json: the key “a” stands twice in one object; "),
    (b'{"a": NaN}', "visit.json: “NaN” is not a number that the file may hold; "),
    (b'{"a": 1e999}', "visit.json: “1e999” is not a number that the file may hold; "),
    (data({**file(), "version": 7}), "visit.json: the file has version “7”, which this program "),
    (data(file(examined_on="9999-01-01")), "examined_on: 9999-01-01: the day of the examination "),
    (data(file({"body-mass": True})), "body-mass: true: this measure does not take true or false"),
    (data(file({"body-mass": "9" * 50})), "body-mass: " + "9" * 50 + ": “"),
    (data(file({"onset": "a\x1b[31mb"})), "onset: a\\u001b[31mb: “a\\u001b[31mb” is not one of"),
]


OUT = ["--as", "examination", "-o", "out"]


@pytest.mark.parametrize(
    "command", [["assess"], ["check"], ["export", *OUT], ["print", *OUT]], ids=lambda c: c[0]
)
@pytest.mark.parametrize(("raw", "told"), BAD)
def test_bad_input(
    work: Path, capsysbinary: Captured, command: list[str], raw: bytes, told: str
) -> None:
    (work / "visit.json").write_bytes(raw)
    status, out, err = run([command[0], "visit.json", *command[1:]], capsysbinary)
    assert (status, out) == (3, b"")
    assert err.startswith(told)
    assert err.count("\n") == 1
    assert LINE.match(err.rstrip("\n"))
    assert [path.name for path in work.iterdir()] == ["visit.json"]


def test_each_problem_has_a_line_of_its_own(work: Path, capsysbinary: Captured) -> None:
    tree = file({"fpi-talar-head": {"left": 9, "right": "x"}, "fpi-total": {"left": 3}, "zzz": 1})
    (work / "visit.json").write_bytes(data(tree))
    status, out, err = run(["assess", "visit.json"], capsysbinary)
    assert (status, out) == (3, b"")
    assert [line.partition(": ")[0] for line in err.splitlines()] == [
        "fpi-talar-head left",
        "fpi-talar-head right",
        "fpi-total",
        "zzz",
    ]


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("missing.json", "no such file or directory"),
        (".", "is a directory"),
        ("missing/visit.json", "no such file or directory"),
        ("x" * 300, "file name too long"),
    ],
)
def test_a_file_that_cannot_be_opened(
    work: Path, capsysbinary: Captured, name: str, why: str
) -> None:
    status, out, err = run(["assess", name], capsysbinary)
    assert (status, out) == (3, b"")
    shown = name if len(name) <= 80 else f"{name[:80]}…"
    assert err == (
        f"{shown}: the file cannot be opened: {why}; nothing was stored; check its name and "
        "folder.\n"
    )
    assert list(work.iterdir()) == []


def test_a_missing_standard_input(monkeypatch: pytest.MonkeyPatch, capsysbinary: Captured) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    status, _, err = run(["assess", "-"], capsysbinary)
    assert (status, err.startswith("-: the file cannot be opened: bad file descriptor")) == (
        3,
        True,
    )


# --- print and export


def test_export_writes_an_examination_that_reads_back(work: Path, capsysbinary: Captured) -> None:
    (work / "visit.json").write_bytes(example())
    command = ["export", "visit.json", "--as", "examination", "-o", "out.json"]
    assert run(command, capsysbinary) == (0, b"", "")
    first = (work / "out.json").read_bytes()
    assert run(["export", "out.json", *command[2:4], "-o", "again.json"], capsysbinary)[0] == 0
    assert (work / "again.json").read_bytes() == first
    assert run(["export", "out.json", *command[2:4], "-o", "out.json"], capsysbinary)[0] == 0
    assert (work / "out.json").read_bytes() == first


@pytest.mark.parametrize("page", ["A4", "letter"])
def test_print_writes_a_report(work: Path, capsysbinary: Captured, page: str) -> None:
    (work / "visit.json").write_bytes(example())
    command = ["print", "visit.json", "--as", "examination", "--page", page, "-o", "out.pdf"]
    assert run(command, capsysbinary) == (0, b"", "")
    assert (work / "out.pdf").read_bytes().startswith(b"%PDF-")


def pages(path: Path) -> list[str]:
    document = pypdfium2.PdfDocument(path)
    try:
        return [
            " ".join(page.get_textpage().get_text_bounded().split())
            + f" {page.get_width():.0f}x{page.get_height():.0f}"
            for page in document
        ]
    finally:
        document.close()


def test_print_writes_the_patients_copy(work: Path, capsysbinary: Captured) -> None:
    (work / "visit.json").write_bytes(example())
    command = ["print", "visit.json", "--as", "patient-copy", "-o", "out.pdf", "--page", "Letter"]
    assert run(command, capsysbinary) == (0, b"", "")
    first = pages(work / "out.pdf")[0]
    assert "Your feet: what we found" in first
    assert "612x792" in first


@pytest.mark.parametrize(
    ("form", "title"),
    [("referral", "Referral letter"), ("leaflet", "Your plan"), ("prescription", "Prescription")],
)
def test_print_writes_letters_under_the_name_of_the_practice(
    work: Path, capsysbinary: Captured, form: str, title: str
) -> None:
    (work / "visit.json").write_bytes(example())
    command = ["print", "visit.json", "--as", form, "-o", "out.pdf", "--practice", "Quay Feet"]
    assert run(command, capsysbinary) == (0, b"", "")
    first = pages(work / "out.pdf")[0]
    assert first.startswith("Quay Feet")
    assert title in first


def test_blocks_of_a_letter_are_edited_on_the_command_line(
    work: Path, capsysbinary: Captured
) -> None:
    (work / "visit.json").write_bytes(example())
    command = ["print", "visit.json", "--as", "referral", "-o", "out.pdf", "--to", "Dr Quill"]
    said = ["--say", "told=Ring = call us.", "--say", "consent="]
    assert run([*command, *said], capsysbinary) == (0, b"", "")
    first = pages(work / "out.pdf")[0]
    assert "To Dr Quill. About " in first
    assert "The patient was told Ring = call us." in first
    assert "Consent" not in first
    (work / "out.pdf").unlink()
    status, out, err = run([*command, "--say", "poem=x"], capsysbinary)
    assert (status, out) == (2, b"")
    assert err.startswith("“poem” is not a block of this document, which has to, urgent, ")
    assert err.endswith("; nothing was written; name one of these.\n")
    assert not (work / "out.pdf").exists()


@pytest.mark.parametrize(("more", "whole"), [([], False), (["--depth", "all"], True)])
def test_print_writes_a_blank_form_without_a_file(
    work: Path, capsysbinary: Captured, more: list[str], whole: bool
) -> None:
    command = ["print", "--as", "blank-form", "-o", "out.pdf", "--page", "a4", *more]
    assert run(command, capsysbinary) == (0, b"", "")
    text = " ".join(pages(work / "out.pdf"))
    assert "paper form" in text
    assert "595x842" in text
    assert ("whole sheet" if whole else "core sheet") in text


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--as", "examination"], "--as examination needs an examination; nothing was written; "),
        (["--as", "patient-copy"], "--as patient-copy needs an examination; nothing was written; "),
        (
            ["a.json", "--as", "blank-form", "--before", "b.json"],
            "A blank form is of no patient; nothing was written; leave out a.json and b.json.",
        ),
        (
            ["a.json", "--as", "examination", "--depth", "all"],
            "--depth is for --as blank-form only; nothing was written; leave out --depth.",
        ),
        (
            ["a.json", "--as", "leaflet", "--to", "Dr Quill"],
            "--to is for --as referral only; nothing was written; leave out --to.",
        ),
        (
            ["a.json", "--as", "prescription", "--say", "to=x"],
            "--say is for --as referral and leaflet only; nothing was written; leave out --say.",
        ),
        (
            ["a.json", "--as", "referral", "--say", "told"],
            "--say told names no text; nothing was written; write --say BLOCK=TEXT.",
        ),
        (
            ["--as", "blank-form", "--practice", "Quay"],
            "A blank form is of no patient; nothing was written; leave out --practice.",
        ),
        (["--as", "referral"], "--as referral needs an examination; nothing was written; "),
    ],
)
def test_print_says_what_does_not_belong_together(
    work: Path, capsysbinary: Captured, arguments: list[str], told: str
) -> None:
    status, out, err = run(["print", *arguments, "-o", "out.pdf"], capsysbinary)
    assert (status, out) == (2, b"")
    assert err.startswith(told)
    assert err.count("\n") == 1
    assert list(work.iterdir()) == []


def child(day: str, height: float) -> bytes:
    def change(tree: dict[str, Any]) -> None:
        tree["examined_on"] = day
        tree["patient"]["birth_date"] = "2012-05-06"
        tree["readings"]["body-height"] = height

    return data(changed(change))


def test_growth_takes_every_earlier_visit_that_is_given(work: Path, capsysbinary: Captured) -> None:
    for name, day, height in (("c", DAY, 132), ("a", "2019-01-04", 124), ("b", "2019-06-04", 128)):
        (work / f"{name}.json").write_bytes(child(day, height))
    command = ["print", "c.json", "--as", "examination", "-o", "out.pdf"]
    assert run(command, capsysbinary) == (0, b"", "")
    assert "Growth over" not in " ".join(pages(work / "out.pdf"))
    given = [*command, "--before", "b.json", "--before", "a.json"]
    assert run(given, capsysbinary) == (0, b"", "")
    text = " ".join(pages(work / "out.pdf"))
    assert "Body height 124 cm 128 cm 132 cm" in text
    assert "Body height +4 cm" in text  # against the latest of the two
    status, _, err = run([*command, "--before", "a.json", "--before", "d.json"], capsysbinary)
    assert (status, err.startswith("d.json: the file cannot be opened")) == (3, True)


@pytest.mark.parametrize(
    ("command", "output"),
    [
        (["export", "visit.json", "--as", "examination", "-o"], "missing/out"),
        (["export", "visit.json", "--as", "examination", "-o"], "visit.json/out"),
        (["export", "visit.json", "--as", "examination", "-o"], "."),
        (["print", "visit.json", "--as", "examination", "-o"], "missing/out.pdf"),
    ],
)
def test_an_output_that_cannot_be_written(
    work: Path, capsysbinary: Captured, command: list[str], output: str
) -> None:
    (work / "visit.json").write_bytes(example())
    status, out, err = run([*command, output], capsysbinary)
    assert (status, out) == (6, b"")
    assert err.startswith(f"{output}: the output could not be written: ")
    assert err.endswith("; no other file was changed; choose another place, or free some space.\n")
    assert err.count("\n") == 1
    assert [path.name for path in work.iterdir()] == ["visit.json"]


def test_a_full_disk_leaves_the_old_file(
    work: Path, capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(28, os.strerror(28))

    (work / "visit.json").write_bytes(example())
    (work / "out").write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", full)
    for command in ("export", "print"):
        status, out, err = run(
            [command, "visit.json", "--as", "examination", "-o", "out"], capsysbinary
        )
        assert (status, out) == (6, b"")
        assert err.startswith("out: the output could not be written: no space left on device; ")
    assert sorted(path.name for path in work.iterdir()) == ["out", "visit.json"]
    assert (work / "out").read_bytes() == b"old"


# --- check


def test_check_alone_reads_the_forms_themselves(home: Path, capsysbinary: Captured) -> None:
    status, out, err = run(["check"], capsysbinary)
    assert (status, err) == (0, "")
    assert re.fullmatch(
        rb"forms: \d+ measures in 6 panels, \d+ norm sets, \d+ sources; no mistake found\.\n", out
    )
    assert not home.exists()


def test_check_of_an_examination(work: Path, capsysbinary: Captured) -> None:
    (work / "visit.json").write_bytes(example())
    assert run(["check", "visit.json"], capsysbinary) == (
        0,
        b"visit.json: examination file, 13 readings; no mistake found.\n",
        "",
    )


def test_forms_with_a_mistake(
    tmp_path: Path, capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tests.catalogue.small import with_mistake, write_forms

    forms = write_forms(tmp_path / "forms", with_mistake("words.toml", "slow.en", "slow.xx"))
    monkeypatch.setattr("footexam.catalogue.load.forms_dir", lambda: forms)
    for command in (["check"], ["assess", "any.json"]):
        status, out, err = run(command, capsysbinary)
        assert (status, out) == (3, b"")
        assert err == (
            "forms/words.toml:4: “slow” lacks the language en; nothing was loaded; write "
            'slow.en = "…".\n'
        )


def test_missing_forms(capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing() -> Path:
        raise FileNotFoundError("The folder forms is missing. Install footexam again.")

    monkeypatch.setattr("footexam.catalogue.load.forms_dir", missing)
    for command in (["check"], ["assess", "any.json"]):
        assert run(command, capsysbinary) == (
            70,
            b"",
            "The folder forms is missing. Install footexam again.\n",
        )


# --- demo, and what is not there yet


def test_demo_makes_documents(work: Path, capsysbinary: Captured) -> None:
    status, out, err = run(["demo", "--dir", "demo"], capsysbinary)
    assert (status, err) == (0, "")
    names = sorted(path.name for path in (work / "demo").iterdir())
    lines = out.decode().splitlines()
    folders = {"store", "marking"}
    assert folders <= set(names)
    documents = [name for name in names if name not in folders]
    assert lines[0] == f"Demo documents of invented patients: {len(documents)} files in demo"
    assert sorted(line.strip() for line in lines[1:-2]) == documents
    term = len(list((work / "demo" / "marking").iterdir()))
    told = f"A term to be marked (Ctrl+K in the window): {term} files in demo/marking"
    assert (term, lines[-2]) == (52, told)
    assert lines[-1] == "The demo clinic's own store is demo/store"


def test_demo_keeps_out_of_folders_of_others(work: Path, capsysbinary: Captured) -> None:
    (work / "mine.txt").write_text("mine")
    status, out, err = run(["demo", "--dir", "."], capsysbinary)
    assert (status, out) == (6, b"")
    assert err.startswith(".: the output could not be written: it holds files that are not of a ")
    assert [path.name for path in work.iterdir()] == ["mine.txt"]


def test_demo_goes_to_the_users_data_by_default(
    home: Path, capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    places: list[Path] = []

    def make(folder: Path, _: object) -> list[Path]:
        places.append(folder)
        return []

    monkeypatch.setattr("footexam.demo.make_demo", make)
    monkeypatch.setattr("footexam.demo_store.make_demo_store", lambda folder, _: folder)
    assert run(["demo"], capsysbinary)[0] == 0
    assert places == [home / "data" / "demo"]


@pytest.mark.usefixtures("work")
def test_demo_opens_its_window_where_there_is_a_screen(
    capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[tuple[Path, bool]] = []

    def window(folder: Path, *, demo: bool = False) -> int:
        opened.append((folder, demo))
        return 0

    monkeypatch.setattr(cli, "open_window", window)
    monkeypatch.setattr(cli, "has_screen", lambda: True)
    monkeypatch.setattr("footexam.demo.make_demo", lambda *_: [])
    monkeypatch.setattr("footexam.demo_store.make_demo_store", lambda folder, _: folder / "store")
    assert run(["demo", "--dir", "demo", "--no-window"], capsysbinary)[0] == 0
    assert opened == []
    assert run(["demo", "--dir", "demo"], capsysbinary)[0] == 0
    assert opened == [(Path("demo/store"), True)]
    assert run(["--store", "other"], capsysbinary) == (0, b"", "")
    assert opened[1:] == [(Path("other"), False)]


def test_a_window_that_cannot_open_says_why(
    capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    def window(_: Path, **__: bool) -> int:
        raise ImportError("libEGL.so.1: cannot open shared object file")

    status, out, err = run([], capsysbinary)
    assert (status, out) == (2, b"")
    assert err.startswith("There is no screen here; nothing was changed; assess, print, ")
    monkeypatch.setattr(cli, "open_window", window)
    monkeypatch.setattr(cli, "has_screen", lambda: True)
    status, out, err = run([], capsysbinary)
    assert (status, out) == (2, b"")
    assert "libEGL.so.1" in err
    assert "bootstrap.py run" in err


@pytest.mark.usefixtures("demo")
def test_the_demo_store_is_read_backed_up_and_restored(work: Path, capsysbinary: Captured) -> None:
    store = ["--store", "demo/store"]
    with PatientList(work / "demo/store") as patients:
        subjects = [row.subject for row in patients.first().rows]
    with Store.read(work / "demo/store") as known:
        visits = [visit for one in subjects for visit in known.examinations(one)]
    assert len(visits) == 19  # one for each file, and the one entered in error
    name = f"store:{visits[0].subject.partition(':')[2]}"
    assert run(["check", name, *store], capsysbinary)[0] == 0
    status, out, _ = run(["assess", name, *store], capsysbinary)
    assert (status, json.loads(out)["format"]) == (0, "footexam/assessment")
    assert run(["print", name, *store, "--as", "examination", "-o", "a.pdf"], capsysbinary)[0] == 0
    assert Path("a.pdf").read_bytes().startswith(b"%PDF")
    assert run(["backup", "copy.backup", *store], capsysbinary)[0] == 0
    status, out, err = run(["backup", "copy.backup", *store], capsysbinary)
    assert (status, out) == (6, b"")
    status, out, err = run(["restore", "copy.backup", *store], capsysbinary)
    assert (status, err) == (0, "")
    assert b"set-aside" in out
    status, out, err = run(["restore", "a.pdf", *store], capsysbinary)
    assert (status, out) == (3, b"")


def test_an_examination_as_a_table(work: Path, capsysbinary: Captured) -> None:
    (work / "a.json").write_bytes(example())
    assert run(["export", "a.json", "--as", "csv", "-o", "a.csv"], capsysbinary) == (0, b"", "")
    heading, *rows = (work / "a.csv").read_text(encoding="utf-8-sig").splitlines()
    assert heading.startswith("measure,label,side,value,unit")
    assert any(row.startswith("lunge-distance,") for row in rows)


@pytest.mark.usefixtures("demo")
def test_the_visit_before_comes_from_the_store(work: Path, capsysbinary: Captured) -> None:
    with PatientList(work / "demo/store") as patients:
        (row,) = patients.search("HQ-0003").rows
    with Store.read(work / "demo/store") as known:
        latest, *_, first = known.examinations(row.subject)
    for visit, changed_since in ((latest, True), (first, False)):
        name = f"store:{visit.subject.partition(':')[2]}"
        _, out, _ = run(["assess", name, "--store", "demo/store"], capsysbinary)
        assert bool(json.loads(out)["changes"]) is changed_since


@pytest.mark.usefixtures("demo")
def test_a_child_of_the_demo_store_has_its_growth_and_every_page_says_invented(
    work: Path, capsysbinary: Captured
) -> None:
    with PatientList(work / "demo/store") as patients:
        (row,) = patients.search("HQ-0001").rows
    with Store.read(work / "demo/store") as known:
        latest = known.examinations(row.subject)[0].subject.partition(":")[2]
    for form in ("examination", "patient-copy"):
        command = ["print", f"store:{latest}", "--store", "demo/store", "--as", form]
        assert run([*command, "-o", "out.pdf"], capsysbinary)[0] == 0
        made = pages(work / "out.pdf")
        assert ("Growth over the visits" in " ".join(made)) is (form == "examination")
        assert all("Invented patient" in page for page in made)
    file = "demo/01-flat-feet-toddler-visit-1.json"
    assert run(["print", file, "--as", "examination", "-o", "out.pdf"], capsysbinary)[0] == 0
    assert all("Invented patient" in page for page in pages(work / "out.pdf"))
    Path("own.json").write_bytes(Path(file).read_bytes())
    assert run(["print", "own.json", "--as", "examination", "-o", "out.pdf"], capsysbinary)[0] == 0
    assert not any("Invented patient" in page for page in pages(work / "out.pdf"))


@pytest.mark.usefixtures("demo")
def test_documents_of_the_demos_term_say_invented_on_every_page(
    work: Path, capsysbinary: Captured
) -> None:
    assert run(["cohort", "demo/marking", "-o", "out.pdf"], capsysbinary)[0] == 0
    assert all("Invented" in page for page in pages(work / "out.pdf"))
    pair = ["demo/marking/volunteer-1-greta.json", "demo/marking/volunteer-1-reference.json"]
    assert run(["mark", *pair, "-o", "out.pdf"], capsysbinary)[0] == 0
    assert all("Invented" in page for page in pages(work / "out.pdf"))


@pytest.mark.parametrize("name", ["import"])
def test_commands_of_later_issues(capsysbinary: Captured, name: str) -> None:
    assert run([name, "a", "-o", "b"], capsysbinary) == (
        2,
        b"",
        (
            f"“{name}” is not made by this version of the program; nothing was changed; use "
            "assess, print, check, export or demo.\n"
        ),
    )


@pytest.mark.parametrize(
    ("command", "form", "instead"),
    [
        ("export", "fhir", "export --as examination or export --as csv"),
        ("export", "parquet", "export --as examination or export --as csv"),
        ("export", "sealed", "export --as examination or export --as csv"),
    ],
)
def test_forms_of_later_issues(
    work: Path, capsysbinary: Captured, command: str, form: str, instead: str
) -> None:
    status, out, err = run([command, "any", "--as", form, "-o", "out"], capsysbinary)
    assert (status, out) == (2, b"")
    assert f"“{command} --as {form}” is not made by this version" in err
    assert f"use {instead}." in err
    assert list(work.iterdir()) == []


@pytest.mark.usefixtures("home")
def test_a_store_that_is_not_there(capsysbinary: Captured) -> None:
    status, out, err = run(["assess", "store:17"], capsysbinary)
    assert (status, out) == (4, b"")
    assert err.startswith("There is no store in ")


@pytest.mark.parametrize(
    "arguments",
    [
        ["asess", "x"],
        ["assess"],
        ["assess", "a", "b"],
        ["assess", "a", "--bef", "b"],
        ["print", "a", "-o", "b"],
        ["print", "a", "--as", "poem", "-o", "b"],
        ["print", "a", "--as", "examination"],
        ["print", "a", "--as", "examination", "-o", "b", "--page", "A3"],
        ["export", "a", "--as", "examination"],
        ["--verb"],
    ],
)
def test_wrong_use(capsysbinary: Captured, arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(arguments)
    out, err = capsysbinary.readouterr()
    assert (stop.value.code, out) == (2, b"")
    assert err.startswith(b"usage: footexam")


def test_help_and_version(capsysbinary: Captured) -> None:
    for arguments, begin in (
        (["--help"], b"usage: footexam"),
        (["assess", "--help"], b"usage: footexam assess"),
        (["--version"], b"footexam 0."),
    ):
        with pytest.raises(SystemExit) as stop:
            main(arguments)
        out, err = capsysbinary.readouterr()
        assert (stop.value.code, err) == (0, b"")
        assert out.startswith(begin)


# --- faults


def test_a_fault_is_told_in_one_sentence(
    work: Path, capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fault(*_: object) -> None:
        raise RuntimeError("Quill, born 1979")

    (work / "visit.json").write_bytes(example())
    monkeypatch.setattr("footexam.assessment.assess", fault)
    status, out, err = run(["assess", "visit.json"], capsysbinary)
    assert (status, out) == (70, b"")
    assert err == (
        "The program has a fault and stopped; no examination was changed; please report it with "
        "the steps that led here (FOOTEXAM_TRACE=1 shows the place).\n"
    )
    monkeypatch.setenv("FOOTEXAM_TRACE", "1")
    status, _, err = run(["assess", "visit.json"], capsysbinary)
    assert status == 70
    assert "Traceback" in err


def test_an_interruption(work: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    (work / "visit.json").write_bytes(example())
    monkeypatch.setattr("footexam.assessment.assess", stopped)
    assert main(["assess", "visit.json"]) == 130


def test_without_standard_error_nothing_goes_to_standard_output(
    capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stderr", None)
    assert main(["assess", "missing"]) == 3
    assert capsysbinary.readouterr().out == b""


def test_without_standard_output(
    work: Path, capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    (work / "visit.json").write_bytes(example())
    monkeypatch.setattr(sys, "stdout", None)
    assert main(["assess", "visit.json"]) == 6
    assert capsysbinary.readouterr().err.startswith(
        b"standard output: the output could not be written: bad file descriptor; "
    )


# --- as a process of its own


def footexam(*arguments: str, **more: Any) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        [sys.executable, "-m", "footexam", *arguments],
        check=False,
        stderr=subprocess.PIPE,
        env=environment,
        timeout=60,
        **{"stdout": subprocess.PIPE, **more},
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="Linux")
def test_a_full_standard_output(work: Path) -> None:
    (work / "visit.json").write_bytes(example())
    with Path("/dev/full").open("wb") as full:
        done = footexam("assess", "visit.json", stdout=full)
    assert done.returncode == 6
    assert done.stderr.decode() == (
        "standard output: the output could not be written: no space left on device; no other file "
        "was changed; choose another place, or free some space.\n"
    )


@pytest.mark.skipif(os.name != "posix", reason="pipes of Unix")
def test_a_reader_that_has_gone(work: Path) -> None:
    (work / "visit.json").write_bytes(example())
    read, write = os.pipe()
    os.close(read)
    try:
        done = footexam("assess", "visit.json", stdout=write)
    finally:
        os.close(write)
    assert (done.returncode, done.stderr) == (6, b"")


def limited(kind: str, most: int) -> Callable[[], None]:
    import resource
    import signal

    def limit() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(getattr(resource, kind), (most, most))

    return limit


@pytest.mark.skipif(sys.platform != "linux", reason="limits of Linux")
def test_half_a_gigabyte_is_refused_in_little_memory(work: Path) -> None:
    with (work / "huge.json").open("wb") as huge:
        huge.truncate(500 * 1024 * 1024)  # a sparse file: it takes no room
    most = 400 * 1024 * 1024  # of addresses, the program and its libraries included
    done = footexam("assess", "huge.json", preexec_fn=limited("RLIMIT_AS", most))
    assert (done.returncode, done.stdout) == (3, b"")
    assert done.stderr.decode() == (
        "huge.json: the file is larger than 5 MB; nothing was stored; give an examination file.\n"
    )


@pytest.mark.skipif(sys.platform != "linux", reason="limits of Linux")
def test_a_disk_that_fills_up_while_a_report_is_written(work: Path) -> None:
    (work / "visit.json").write_bytes(example())
    (work / "out.pdf").write_bytes(b"old")
    done = footexam(
        "print",
        "visit.json",
        "--as",
        "examination",
        "-o",
        "out.pdf",
        preexec_fn=limited("RLIMIT_FSIZE", 2000),
    )
    assert (done.returncode, done.stdout) == (6, b"")
    assert done.stderr.decode().startswith(
        "out.pdf: the output could not be written: file too large; "
    )
    assert (work / "out.pdf").read_bytes() == b"old"
    assert sorted(path.name for path in work.iterdir()) == ["out.pdf", "visit.json"]


def as_anybody() -> None:
    """Root may write everywhere; without this capability it obeys modes as anybody does."""
    import ctypes

    drop_from_bounding_set, override_modes = 24, 1
    if os.geteuid() == 0:
        ctypes.CDLL(None).prctl(drop_from_bounding_set, override_modes, 0, 0, 0)


@pytest.mark.skipif(sys.platform != "linux", reason="capabilities of Linux")
@pytest.mark.parametrize("command", ["export", "print"])
def test_a_read_only_folder(work: Path, command: str) -> None:
    (work / "visit.json").write_bytes(example())
    (work / "locked").mkdir()
    (work / "locked" / "out").write_bytes(b"old")
    (work / "locked").chmod(0o500)
    done = footexam(
        command,
        "visit.json",
        "--as",
        "examination",
        "-o",
        "locked/out",
        preexec_fn=as_anybody,
    )
    assert (done.returncode, done.stdout) == (6, b"")
    assert done.stderr.decode() == (
        "locked/out: the output could not be written: permission denied; no other file was "
        "changed; choose another place, or free some space.\n"
    )
    assert [path.name for path in (work / "locked").iterdir()] == ["out"]
    assert (work / "locked" / "out").read_bytes() == b"old"


@pytest.mark.skipif(sys.platform != "linux", reason="names of bytes")
def test_a_file_name_that_is_no_utf_8(work: Path) -> None:
    name = os.fsdecode(b"caf\xe9.json")
    (work / name).write_bytes(example())
    done = footexam("check", name)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout == b"caf\\udce9.json: examination file, 13 readings; no mistake found.\n"


def test_the_module_exits_with_the_status(work: Path) -> None:
    done = footexam("assess", "missing.json")
    assert (done.returncode, done.stdout) == (3, b"")
    assert list(work.iterdir()) == []


def test_status_numbers_are_those_of_the_interface() -> None:
    here = (cli.DONE, cli.WRONG_USE, cli.BAD_INPUT, cli.CANNOT_WRITE, cli.FAULT)
    assert (*here, KnownError("no-store", "x").status) == (0, 2, 3, 6, 70, 4)


# --- mark and cohort

ACHILLES = ROOT / "assets" / "demo" / "07-achilles-pain"
STUDENT_FILE, REFERENCE_FILE = f"{ACHILLES}-student.json", f"{ACHILLES}-reference.json"


def written(name: str, tree: dict[str, Any]) -> str:
    Path(name).parent.mkdir(exist_ok=True)
    Path(name).write_text(json.dumps(tree), encoding="utf-8")
    return name


def demo_tree(name: str, **changes: Any) -> dict[str, Any]:
    tree: dict[str, Any] = json.loads(Path(name).read_bytes())
    return {**tree, **changes}


def test_mark_compares_two_examinations(work: Path, capsysbinary: Captured) -> None:
    status, out, err = run(["mark", STUDENT_FILE, REFERENCE_FILE], capsysbinary)
    assert (status, err) == (0, "")
    tree = json.loads(out)
    assert (tree["format"], tree["student"]) == ("footexam/comparison", "Linnea Åkerström")
    assert tree["counts"]["apart"] == 2
    assert not list(work.iterdir())


def test_mark_writes_a_document_or_a_table(work: Path, capsysbinary: Captured) -> None:
    for name in ("out.pdf", "out.csv"):
        assert run(["mark", STUDENT_FILE, REFERENCE_FILE, "-o", name], capsysbinary)[0] == 0
    assert "Feedback on an examination" in pages(work / "out.pdf")[0]
    assert (work / "out.csv").read_bytes().startswith("\ufeffstudent,".encode())


def test_mark_by_another_rubric(work: Path, capsysbinary: Captured) -> None:
    command = ["mark", STUDENT_FILE, REFERENCE_FILE, "--rubric"]
    assert run([*command, "measuring-station", "-o", "o.pdf"], capsysbinary)[0] == 0
    assert "Measuring station" in pages(work / "o.pdf")[0]
    status, out, err = run([*command, "charm"], capsysbinary)
    assert (status, out) == (2, b"")
    assert "use whole-examination, measuring-station or reasoning-station" in err


def test_mark_prints_the_marks_of_a_file(work: Path, capsysbinary: Captured) -> None:
    marks = {
        "format": "footexam/marks",
        "version": 1,
        "rubric": "measuring-station",
        "student": "Linnea Åkerström",
        "marker": "Mairi Strang",
        "patient": {"record_number": "HQ-0007", "birth_date": "1974-05-21"},
        "examined_on": "2026-03-19",
        "domains": dict.fromkeys(("safety", "technique", "accuracy", "communication", "record"), 3),
        "lines": ["A sound examination."],
    }
    written("m.json", marks)
    written("nobody.json", {**marks, "student": "Nobody"})
    written("wrong.json", {**marks, "rubric": "charm"})
    command = ["mark", STUDENT_FILE, REFERENCE_FILE, "-o", "out.pdf", "--marks"]
    for name in ("nobody.json", "wrong.json", "missing.json"):
        status, out, err = run([*command, name], capsysbinary)
        assert (status, out) == (3, b"")
        assert err.startswith(f"{name}: ")
    assert not (work / "out.pdf").exists()
    assert run([*command, "m.json"], capsysbinary)[0] == 0
    text = " ".join(pages(work / "out.pdf"))
    assert "37.5 of 50 points. Pass mark 30.0 of 50. Passed." in text
    assert "A sound examination." in text


def test_mark_refuses_what_does_not_belong_together(work: Path, capsysbinary: Captured) -> None:
    patient = demo_tree(REFERENCE_FILE)["patient"]
    wrong = {
        "patient": demo_tree(REFERENCE_FILE, patient={**patient, "record_number": "HQ-9999"}),
        "day": demo_tree(REFERENCE_FILE, examined_on="2026-03-18"),
        "version": demo_tree(REFERENCE_FILE, version=2),
        "role": demo_tree(REFERENCE_FILE, purpose="student"),
    }
    told = {
        "patient": "of different patients",
        "day": "of different days",
        "version": "has version “2”",
        "role": "the other way round",
    }
    for name, tree in wrong.items():
        file = written(f"{name}.json", tree)
        status, out, err = run(["mark", STUDENT_FILE, file, "-o", "out.pdf"], capsysbinary)
        assert (status, out) == (3, b"")
        assert told[name] in err
        assert LINE.match(err.strip())
    (work / "damaged.json").write_bytes(Path(STUDENT_FILE).read_bytes()[:500])
    status, out, err = run(["mark", "damaged.json", REFERENCE_FILE], capsysbinary)
    assert (status, out) == (3, b"")
    assert "not JSON" in err
    assert not (work / "out.pdf").exists()


def test_mark_reads_standard_input_once(
    work: Path, capsysbinary: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = Path(STUDENT_FILE).read_bytes()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data), encoding="utf-8"))
    assert run(["mark", "-", REFERENCE_FILE], capsysbinary)[0] == 0
    assert run(["mark", "-", "-"], capsysbinary)[:2] == (2, b"")
    assert not list(work.iterdir())


def test_mark_says_when_the_document_cannot_be_written(capsysbinary: Captured) -> None:
    command = ["mark", STUDENT_FILE, REFERENCE_FILE, "-o", "nowhere/out.pdf"]
    assert run(command, capsysbinary)[:2] == (6, b"")


def test_cohort_marks_all_but_the_broken_and_names_those(
    work: Path, capsysbinary: Captured
) -> None:
    """Forty stand for four hundred: three are broken, each in its own way."""
    written("term/reference.json", demo_tree(REFERENCE_FILE))
    for number in range(36):
        who = {"name": f"Student {number}", "role": "student"}
        written(f"term/s{number:02}.json", demo_tree(STUDENT_FILE, examiner=who))
    (work / "term" / "x1.json").write_bytes(b"{")
    written("term/x2.json", demo_tree(STUDENT_FILE, version=9))
    written("term/x3.json", demo_tree(STUDENT_FILE, readings={"lunge-distance": {"left": "far"}}))
    (work / "term" / "notes.txt").write_text("not looked at", encoding="utf-8")
    status, out, err = run(["cohort", "term", "-o", "out.pdf"], capsysbinary)
    assert status == 0
    tree = json.loads(out)
    assert (tree["comparisons"], tree["students"]) == (36, 36)
    lines = err.splitlines()
    assert [line.partition(":")[0] for line in lines] == ["x1.json", "x2.json", "x3.json"]
    assert tree["problems"] == lines
    assert "Left out" in pages(work / "out.pdf")[0]


def test_cohort_with_marks_and_without_names(work: Path, capsysbinary: Captured) -> None:
    written("term/a.json", demo_tree(REFERENCE_FILE))
    written("term/b.json", demo_tree(STUDENT_FILE))
    marks = {
        "format": "footexam/marks",
        "version": 1,
        "rubric": "measuring-station",
        "student": "Linnea Åkerström",
        "marker": "Mairi Strang",
        "patient": {"record_number": "HQ-0007", "birth_date": "1974-05-21"},
        "examined_on": "2026-03-19",
        "domains": {"technique": 3},
    }
    written("term/marks.json", marks)
    written("term/marks-of-nobody.json", {**marks, "student": "Nobody"})
    written("term/marks-wrong.json", {**marks, "grade": "splendid"})
    status, out, err = run(["cohort", "term"], capsysbinary)
    tree = json.loads(out)
    assert status == 0
    assert tree["standards"][0]["cut"] == 30.0
    assert "marks-of-nobody.json: these marks belong to no compared examination" in err
    assert "marks-wrong.json: the marks cannot be used" in err
    for name in ("out.pdf", "out.csv"):
        command = ["cohort", "term", "--anonymous", "-o", name]
        assert b"Linnea" not in run(command, capsysbinary)[1]
    assert "Linnea" not in "".join(pages(work / "out.pdf"))
    assert "Linnea" not in (work / "out.csv").read_text(encoding="utf-8-sig")


def test_cohort_of_one_student_only(work: Path, capsysbinary: Captured) -> None:
    written("term/a.json", demo_tree(REFERENCE_FILE))
    written("term/b.json", demo_tree(STUDENT_FILE))
    status, out, err = run(["cohort", "term", "-o", "out.pdf"], capsysbinary)
    assert (status, err) == (0, "")
    tree = json.loads(out)
    assert (tree["students"], tree["looks"], tree["markers"]) == (1, 0, [])
    assert all(one["among"] == [] for one in tree["items"])
    text = " ".join(pages(work / "out.pdf"))
    assert "One student only" in text
    assert "One volunteer only" in text


def test_cohort_writes_all_its_tables_and_takes_a_pass_mark_from_judges(
    work: Path, capsysbinary: Captured
) -> None:
    written("term/a.json", demo_tree(REFERENCE_FILE))
    for number in range(3):
        who = {"name": f"Student {number}", "role": "student"}
        written(f"term/s{number}.json", demo_tree(STUDENT_FILE, examiner=who))
    written("term/judges.json", angoff())
    status, out, err = run(["cohort", "term", "-o", "out.zip", "--anonymous"], capsysbinary)
    assert (status, err) == (0, "")
    (standard,) = json.loads(out)["standards"]
    assert (standard["standard"], standard["cut"]) == ("angoff", 24.0)
    with ZipFile(work / "out.zip") as archive:
        assert "agreement.csv" in archive.namelist()
        judges = archive.read("judges.csv").decode("utf-8-sig")
    assert judges.splitlines()[1] == "reasoning-station,1,J1,20.5,40"
    (work / "term" / "judges.json").write_bytes(b'{"format": "footexam/angoff"}')
    status, out, err = run(["cohort", "term"], capsysbinary)
    assert (status, json.loads(out)["comparisons"]) == (0, 3)
    assert err.startswith("judges.json: ")


def test_cohort_without_a_pair_or_a_folder(work: Path, capsysbinary: Captured) -> None:
    written("term/b.json", demo_tree(STUDENT_FILE))
    status, out, err = run(["cohort", "term"], capsysbinary)
    assert (status, out) == (3, b"")
    assert "no reference of this patient lies in the folder" in err
    assert "no student’s examination with a reference lies in the folder" in err
    assert run(["cohort", "nowhere"], capsysbinary)[:2] == (3, b"")
    assert run(["cohort", STUDENT_FILE], capsysbinary)[:2] == (3, b"")
    (work / "term" / "c.json").symlink_to("gone")
    assert run(["cohort", "term"], capsysbinary)[0] == 3
