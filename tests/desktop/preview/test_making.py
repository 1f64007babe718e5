"""Making in a child process: what comes back, what goes wrong, stopping it."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from footexam.desktop.preview.child import Kind, Made, Wanted, make, unpack
from footexam.desktop.preview.document import Document
from footexam.desktop.preview.making import Maker
from footexam.desktop.preview.page import PreviewPage
from footexam.desktop.theme import LIGHT
from footexam.store import Store
from footexam.store.layout import DEMO_MARK
from footexam.store.quick_list import PatientList
from tests.desktop.preview.conftest import MakePreview
from tests.desktop.preview.pdfs import numbered
from tests.desktop.user import settle

WANTED = Wanted("nowhere", "examination:none")
NO_PDF = '{"head": "", "version": 1, "catalogue": "", "document": 4, "assessment": 0}\nabcd'
SLOW = "import sys, time; sys.stdin.read(); time.sleep(60)"


def maker(script: str) -> Maker:
    return Maker(sys.executable, ("-c", script))


@pytest.fixture
def visit_of_demo(demo_master: Path) -> tuple[Path, str]:
    """The demo's store and an examination in it that has an earlier one."""
    patients = PatientList(demo_master)
    subject = next(row.subject for row in patients.search("HQ-0003").rows)
    patients.close()
    with Store.read(demo_master) as store:
        return demo_master, store.examinations(subject)[0].subject


def failure(preview: PreviewPage, qtbot: QtBot) -> str:
    with qtbot.waitSignal(preview.maker.failed, timeout=20_000):
        preview.make(WANTED, "The report")
    settle()
    return preview.progress.text()


# --- the report of a store


def test_the_report_of_a_store_is_shown(
    preview: PreviewPage, qtbot: QtBot, visit_of_demo: tuple[Path, str]
) -> None:
    folder, subject = visit_of_demo
    with qtbot.waitSignal(preview.shown, timeout=30_000) as shown:
        preview.make(Wanted(str(folder), subject), "The report", "examination-12.pdf")
        assert preview.progress.text() == "The report is being made. Escape stops it."
        assert preview.progress.accessibleName() == preview.progress.text()
    made = shown.args[0]
    assert preview.made is made
    assert preview.data == made.document
    assert preview.progress.isHidden()
    assert "HQ-0003" in preview.reader.document.text(1)
    assert "DRAFT, not signed" in preview.reader.document.text(1)
    with Store.read(folder) as store:
        journal = store.journal(subject)
    assert (made.head, made.version) == (journal.head, len(journal))
    assert made.head[:8] in preview.reader.document.text(1)
    assert json.loads(made.assessment)["format"] == "footexam/assessment"


def test_a_child_writes_what_the_command_line_writes_and_no_file(
    visit_of_demo: tuple[Path, str], tmp_path: Path
) -> None:
    folder, subject = visit_of_demo
    out = tmp_path / "o.pdf"
    number = subject.partition(":")[2]
    command = ["print", f"store:{number}", "--as", "examination", "--store", str(folder)]
    printed = subprocess.run(
        [sys.executable, "-m", "footexam", *command, "-o", str(out)], check=True, text=True
    )
    assert printed.returncode == 0
    before = {path for path in tmp_path.rglob("*") if path.suffix == ".pdf"}
    environment = {**os.environ, "TMPDIR": str(tmp_path)}
    child = subprocess.run(
        [sys.executable, "-m", "footexam.desktop.preview.child"],
        input=Wanted(str(folder), subject).text(),
        capture_output=True,
        check=True,
        env=environment,
    )
    assert unpack(child.stdout).document == out.read_bytes()
    assert {path for path in tmp_path.rglob("*") if path.suffix == ".pdf"} == before


def test_pages_to_sign_say_who_signs(visit_of_demo: tuple[Path, str]) -> None:
    import pypdfium2

    folder, subject = visit_of_demo
    made = make(Wanted(str(folder), subject, signer="Tomás Ferreira Quintela", page="letter"))
    pdf = pypdfium2.PdfDocument(made.document)
    text = pdf[0].get_textpage().get_text_bounded()
    assert "Signed by Tomás Ferreira Quintela" in text
    assert "DRAFT" not in text
    assert pdf[0].get_size()[0] == 612
    pdf.close()


def printed(out: Path, *words: str) -> bytes:
    """What the command line prints."""
    command = [sys.executable, "-m", "footexam", "print", *words, "-o", str(out)]
    subprocess.run(command, check=True)
    return out.read_bytes()


def test_the_other_documents_are_those_of_the_command_line(
    visit_of_demo: tuple[Path, str], tmp_path: Path
) -> None:
    folder, subject = visit_of_demo
    where = [f"store:{subject.partition(':')[2]}", "--store", str(folder)]
    copy = make(Wanted(str(folder), subject, kind=Kind.PATIENT_COPY))
    assert copy.document == printed(tmp_path / "a.pdf", *where, "--as", "patient-copy")
    assert json.loads(copy.assessment)["format"] == "footexam/assessment"
    for depth in ("core", "all"):
        form = make(Wanted("", "", kind=Kind.BLANK_FORM, depth=depth))
        words = ("--as", "blank-form", "--depth", depth)
        assert form.document == printed(tmp_path / "b.pdf", *words)
        assert (form.assessment, form.head, form.version) == (b"", "", 0)


def test_the_growth_of_a_child_is_shown_over_earlier_visits(demo_master: Path) -> None:
    with PatientList(demo_master) as patients, Store.read(demo_master) as store:
        rows = [store.examinations(row.subject) for row in patients.search("").rows]
        young = [
            visits[0].subject
            for visits in rows
            if len(visits) > 1
            and (age := store.examination(visits[0].subject).age()) is not None
            and age.years < 16
        ]
    assert young
    for subject in young:
        assert "Growth over the visits" in text_of(make(Wanted(str(demo_master), subject)))


def text_of(made: Made) -> str:
    document = Document(made.document)
    try:
        return "\n".join(document.text(number + 1) for number in range(document.pages))
    finally:
        document.close()


def test_a_document_of_a_demo_says_so(visit_of_demo: tuple[Path, str], tmp_path: Path) -> None:
    folder, subject = visit_of_demo
    copy = tmp_path / "clinic" / "store"
    shutil.copytree(folder, copy, ignore=shutil.ignore_patterns("*.lock"))
    for kind in (Kind.EXAMINATION, Kind.PATIENT_COPY):
        wanted = Wanted(str(copy), subject, kind=kind)
        (copy.parent / DEMO_MARK).unlink(missing_ok=True)
        assert "nvented" not in text_of(make(wanted))
        (copy.parent / DEMO_MARK).touch()
        assert "nvented" in text_of(make(wanted))


def test_the_child_needs_no_qt() -> None:
    code = (
        "import sys; import footexam.desktop.preview.child as child\n"
        "try: child.make(child.Wanted('nowhere', 'examination:1'))\n"
        "except Exception as bad: print(type(bad).__name__)\n"
        "print([name for name in sys.modules if name.startswith('PySide6')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "KnownError\n[]\n"


# --- what goes wrong


def test_a_store_that_is_not_there_is_told_in_its_own_words(
    preview: PreviewPage, qtbot: QtBot
) -> None:
    words = failure(preview, qtbot)
    assert words.startswith("The report could not be made; the examination is saved. ")
    assert "nowhere" in words
    assert "Traceback" not in words


@pytest.mark.parametrize(
    ("script", "told"),
    [
        ("import os; os.abort()", "It broke off; try again."),
        ("import sys; sys.exit(3)", "It broke off; try again."),
        (
            "import sys; sys.stderr.write('\\nThe disk is full.\\nmore'); sys.exit(6)",
            "disk is full",
        ),
        ("print('hello')", "What came back is no document"),
        ("print('{}')", "What came back is no document"),
        ("", "What came back is no document"),
        (
            f"print({NO_PDF!r}, end='')",
            "damaged, or no PDF",
        ),
    ],
)
def test_failures_are_one_sentence(
    make_preview: MakePreview, qtbot: QtBot, script: str, told: str
) -> None:
    preview = make_preview(maker(script))
    heard: list[str] = []
    preview.told.connect(heard.append)
    preview.make(WANTED, "The report")
    qtbot.waitUntil(lambda: bool(heard), timeout=20_000)
    assert told in heard[0]
    assert heard[0].startswith("The report could not be made; the examination is saved.")
    assert len(heard) == 1
    assert preview.data == b""
    assert not preview.maker.runs
    assert preview.show_document(numbered(1), "Report")


def test_a_program_that_is_not_there_is_told(make_preview: MakePreview, qtbot: QtBot) -> None:
    preview = make_preview(Maker("/no/such/program", ()))
    assert "could not be started" in failure(preview, qtbot)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{}",
        b"[]\n",
        b"1\n",
        b"\xff\n",
        b'{"head":"","version":1,"catalogue":"","document":-1,"assessment":2}\na',
        b'{"head":"","version":1,"catalogue":"","document":1,"assessment":2}\nab',
        b'{"head":"","version":"x","catalogue":"","document":0,"assessment":0}\n',
    ],
)
def test_what_is_not_whole_is_not_taken(data: bytes) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - it says no more than that
        unpack(data)


def test_what_is_packed_is_unpacked() -> None:
    made = Made(b"%PDF\n\0", b'{"a":\n1}', "ab", 7, "cd")
    assert unpack(made.pack()) == made


# --- stopping


def test_escape_stops_it_and_nothing_comes_later(make_preview: MakePreview, qtbot: QtBot) -> None:
    preview = make_preview(maker(SLOW))
    heard: list[str] = []
    preview.told.connect(heard.append)
    preview.make(WANTED, "The report")
    process = preview.maker._process
    assert process is not None
    qtbot.waitUntil(lambda: process.processId() > 0)
    number = process.processId()
    focus = QApplication.focusWidget()
    assert focus is not None
    with qtbot.waitSignal(preview.escaped):
        QTest.keyClick(focus, Qt.Key.Key_Escape)
    assert heard == ["Stopped; the examination is saved."]
    assert not preview.maker.runs
    if sys.platform == "linux":
        assert not Path(f"/proc/{number}").exists()
    settle()
    assert len(heard) == 1


def test_another_report_takes_the_place_of_the_first(
    make_preview: MakePreview,
) -> None:
    preview = make_preview(maker(SLOW))
    preview.make(WANTED, "The first")
    first = preview.maker._process
    preview.make(WANTED, "The second")
    assert preview.maker._process is not first
    assert preview.progress.text().startswith("The second")
    preview.close_document()
    assert not preview.maker.runs


def test_deleting_the_preview_ends_the_child(qtbot: QtBot) -> None:
    preview = PreviewPage(LIGHT, maker=maker(SLOW))
    preview.make(WANTED, "The report")
    process = preview.maker._process
    assert process is not None
    qtbot.waitUntil(lambda: process.processId() > 0)
    number = process.processId()
    preview.deleteLater()
    settle()
    if sys.platform == "linux":
        assert not Path(f"/proc/{number}").exists()


def test_time_is_told_each_second_and_the_window_lives(
    make_preview: MakePreview, qtbot: QtBot
) -> None:
    preview = make_preview(maker(SLOW))
    preview.make(WANTED, "The report")
    with qtbot.waitSignal(preview.maker.waiting, timeout=20_000):
        pass
    assert "(1 s)" in preview.progress.text()
    preview.leave()


def test_a_preview_made_anew_goes_on_where_the_old_one_was(
    make_preview: MakePreview, qtbot: QtBot, visit_of_demo: tuple[Path, str]
) -> None:
    folder, subject = visit_of_demo
    old, new, third = make_preview(), make_preview(), make_preview()
    old.offer_signing(offered=True)
    old.make(Wanted(str(folder), subject), "The report", "a.pdf")
    new.take_over(old)
    assert new.maker.runs
    assert not old.maker.runs
    with qtbot.waitSignal(new.shown, timeout=30_000):
        pass
    new.reader.show_page(3)
    new.reader.view.set_percent(150)
    third.take_over(new)
    assert (third.data, third.reader.number) == (third.made.document, 3)
    assert third.reader.view.percent == 150
    assert third.buttons["sign"].isVisible()
    assert (new.data, new.made) == (b"", None)


def test_what_is_too_large_is_not_taken_in(
    make_preview: MakePreview, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("footexam.desktop.preview.making.LARGEST", 100_000)
    endless = "import sys\nwhile True: sys.stdout.write('x' * 10_000)"
    preview = make_preview(maker(endless))
    assert "larger than can be shown" in failure(preview, qtbot)
    assert not preview.maker.runs


ECHO = "import sys; print(sys.stdin.read()[:1]); sys.exit(0)"


def test_a_child_started_ahead_is_used_once(make_preview: MakePreview, qtbot: QtBot) -> None:
    preview = make_preview(maker(ECHO))
    preview.maker.warm()
    ahead = preview.maker._ahead
    preview.maker.warm()
    assert preview.maker._ahead is ahead
    preview.make(WANTED, "The report")
    assert preview.maker._process is ahead
    qtbot.waitUntil(lambda: not preview.maker.runs, timeout=20_000)
    assert "no document" in preview.progress.text()
    assert preview.maker._ahead is None
    assert "no document" in failure(preview, qtbot)


def test_a_child_started_ahead_that_has_ended_is_started_anew(
    make_preview: MakePreview, qtbot: QtBot
) -> None:
    preview = make_preview(maker("import sys; sys.exit(5)"))
    preview.maker.warm()
    ahead = preview.maker._ahead
    assert ahead is not None
    qtbot.waitUntil(lambda: ahead.state() is ahead.ProcessState.NotRunning, timeout=20_000)
    assert "broke off" in failure(preview, qtbot)
    assert preview.maker._process is None


def test_a_child_started_ahead_ends_with_the_page(qtbot: QtBot) -> None:
    preview = PreviewPage(LIGHT)
    preview.maker.warm()
    ahead = preview.maker._ahead
    assert ahead is not None
    qtbot.waitUntil(lambda: ahead.processId() > 0)
    number = ahead.processId()
    preview.deleteLater()
    settle()
    if sys.platform == "linux":
        assert not Path(f"/proc/{number}").exists()


def test_the_child_ends_when_nobody_asks() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "footexam.desktop.preview.child"],
        input=b"",
        capture_output=True,
        check=True,
        timeout=60,
    )
    assert (done.stdout, done.stderr) == (b"", b"")
