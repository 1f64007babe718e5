"""The child of the cohort page: what it tells, as a process too, and what when it fails."""

import json
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from pytestqt.qtbot import QtBot

from footexam.desktop.cohort.data import TermShown
from footexam.desktop.cohort.feed import Steps, TermWanted
from footexam.desktop.cohort.reader import CohortReader
from footexam.desktop.preview.child import Kind, Wanted, make
from footexam.desktop.preview.words import WORDS
from footexam.drawing.shape_lists import as_list, drawing_of
from footexam.exchange.term import cohort_of, read_term
from footexam.marking.cohort import Cohort
from tests.desktop.cohort.conftest import RUBRIC, STUDENTS, Line, write_term
from tests.marking.build import CATALOGUE
from tests.reports.test_feedback import told


@pytest.fixture(scope="module")
def shown(lines: list[Line]) -> TermShown:
    found = TermShown()
    for line in lines:
        found.take(line)
    return found


@pytest.fixture(scope="module")
def cohort(term_folder: Path) -> Cohort:
    return cohort_of(read_term(term_folder, CATALOGUE).pairs, CATALOGUE, RUBRIC)


def test_what_is_told_is_what_was_compared(shown: TermShown, cohort: Cohort) -> None:
    assert shown.examiners == [one.name for one in cohort.examiners]
    assert shown.patients == ["V-1", "V-2", "V-3"]
    assert shown.pairs == 3 * STUDENTS
    assert [one.id for one in shown.measures] == [one.measure.id for one in cohort.items]
    for line, one in zip(shown.measures, cohort.items, strict=True):
        assert (line.agreed.count, line.agreed.n) == (one.judged.count, one.judged.n)
        assert line.missing == one.missing
        errors = [None if i.error is None else round(i.error, 3) for _, i in one.items]
        assert [line.reading(at).error for at in range(len(line.listed))] == errors
        names = [shown.examiner(line.reading(at).examiner) for at in range(len(line.listed))]
        assert names == [name for name, _ in one.items]
    assert [one.apart for one in shown.lines] == [one.apart for one in cohort.examiners]
    assert {one.measure for one in shown.lines[1].steady} == {
        CATALOGUE.measures[one.measure.id].label["en"]
        for one in cohort.drifts
        if one.examiner == "Student 02"
    }


def test_every_step_and_the_end_are_told(lines: list[Line]) -> None:
    steps = [line for line in lines if line["kind"] == "step"]
    assert list(dict.fromkeys(line["what"] for line in steps)) == [
        "read",
        "compare",
        "count",
        "plot",
    ]
    last = {line["what"]: line for line in steps}
    assert last["compare"]["done"] == last["compare"]["of"] == 3 * STUDENTS
    assert last["plot"]["done"] == last["plot"]["of"]
    assert lines[-1] == {"kind": "end"}


def test_steps_are_told_a_hundred_times_at_most() -> None:
    heard: list[object] = []
    steps = Steps("read", heard.append)
    for done in range(1, 10_001):
        steps(done, 10_000)
    steps(0, 0)
    assert len(heard) <= 102


def test_drawings_survive_as_lists(shown: TermShown) -> None:
    for plot in shown.plots.values():
        drawing = plot.drawing()
        assert plot.told
        if drawing is not None:
            again = drawing_of(json.loads(json.dumps(as_list(drawing))))
            assert again == drawing


def test_no_plot_is_named_after_a_person(shown: TermShown) -> None:
    words = json.dumps([plot.listed for plot in shown.plots.values()])
    words += " ".join(plot.told for plot in shown.plots.values())
    assert "Student 0" not in words
    assert "V-1" not in words


def test_a_term_of_nothing(tmp_path: Path) -> None:
    from footexam.desktop.cohort.feed import feed

    found = TermShown()
    feed(TermWanted(str(tmp_path), "no such rubric"), found.take)
    assert found.pairs == 0
    assert not found.measures
    assert not found.plots


# --- as a process


def run(asked: bytes) -> subprocess.CompletedProcess[bytes]:
    code = "import sys; from footexam.desktop.cohort.feed import main; status = main(); "
    code += "assert 'PySide6' not in sys.modules; sys.exit(status)"
    return subprocess.run(
        [sys.executable, "-c", code], input=asked, capture_output=True, check=False
    )


def test_a_folder_that_is_not_there_is_one_sentence(tmp_path: Path) -> None:
    done = run(TermWanted(str(tmp_path / "nowhere")).text())
    assert done.returncode == 1
    assert len(done.stderr.decode().strip().splitlines()) == 1
    assert "Traceback" not in done.stderr.decode()
    assert [json.loads(line)["kind"] for line in done.stdout.splitlines()] == ["step"]


def test_without_a_question_the_child_ends() -> None:
    assert run(b"").returncode == 0


def test_a_fault_is_one_sentence() -> None:
    done = run(b'{"folder": 3}')
    assert done.returncode == 1
    assert done.stderr.decode().startswith("The program has a fault")


def test_a_term_comes_line_by_line(qtbot: QtBot, tmp_path: Path) -> None:
    folder = write_term(tmp_path, 3)
    reader, found = CohortReader(), TermShown()
    kinds: list[str] = []

    def take(line: Line) -> None:
        found.take(line)
        kinds.append(line["kind"])

    reader.came.connect(take)
    reader.read(TermWanted(str(folder)))
    assert reader.runs
    qtbot.waitUntil(lambda: "end" in kinds, timeout=60_000)
    qtbot.waitUntil(lambda: not reader.runs, timeout=10_000)
    assert found.examiners == ["Student 01", "Student 02", "Student 03"]
    assert found.plots["measure:lunge-distance"].drawing() is not None


def reader_of(script: str) -> CohortReader:
    return CohortReader(program=sys.executable, arguments=("-c", script))


@pytest.mark.parametrize(
    ("script", "why"),
    [
        ("import sys; sys.stdin.read(); print('{')", WORDS["not-understood"]),
        ("import sys; sys.stderr.write('Not today.\\n'); sys.exit(1)", "Not today."),
        ("import os; os.abort()", WORDS["broke-off"]),
    ],
)
def test_what_goes_wrong_is_told(qtbot: QtBot, script: str, why: str) -> None:
    reader = reader_of(script)
    with qtbot.waitSignal(reader.failed, timeout=20_000) as caught:
        reader.read(TermWanted("nowhere"))
    assert caught.args == [why]
    assert not reader.runs


def test_a_program_that_is_not_there_is_told(qtbot: QtBot) -> None:
    reader = CohortReader(program="/no/such/program")
    with qtbot.waitSignal(reader.failed, timeout=20_000) as caught:
        reader.read(TermWanted("nowhere"))
    assert caught.args == [WORDS["not-started"]]


def test_what_is_stopped_says_nothing_more(qtbot: QtBot) -> None:
    script = 'import sys, time; sys.stdin.read(); print(\'{"kind": "tables"}\', flush=True);'
    reader = reader_of(f"{script} time.sleep(60)")
    heard: list[object] = []
    reader.came.connect(heard.append)
    reader.failed.connect(heard.append)
    with qtbot.waitSignal(reader.came, timeout=20_000):
        reader.read(TermWanted("nowhere"))
    assert reader.stop()
    assert not reader.stop()
    qtbot.wait(50)
    assert heard == [{"kind": "tables"}]


# --- on paper


def test_the_report_of_a_folder(term_folder: Path) -> None:
    made = make(Wanted("", "", kind=Kind.COHORT, folder=str(term_folder)))
    words = told(made.document)
    assert "Student 02" in words
    assert "secret-name.json" in words
    assert (made.assessment, made.version) == (b"", 0)
    made = make(Wanted("", "", kind=Kind.COHORT, folder=str(term_folder), anonymous=True))
    words = told(made.document)
    assert "Student 02" not in words
    assert "secret-name.json" not in words


def test_the_table_of_a_folder(term_folder: Path) -> None:
    named = make(Wanted("", "", kind=Kind.COHORT_TABLE, folder=str(term_folder)))
    assert b"Student 02" in named.document
    coded = make(Wanted("", "", kind=Kind.COHORT_TABLE, folder=str(term_folder), anonymous=True))
    assert b"Student 02" not in coded.document
    assert b"S2" in coded.document


def test_all_tables_of_a_folder(term_folder: Path) -> None:
    made = make(Wanted("", "", kind=Kind.COHORT_TABLES, folder=str(term_folder), anonymous=True))
    with ZipFile(BytesIO(made.document)) as archive:
        names, items = archive.namelist(), archive.read("items.csv")
    assert "passmarks.csv" in names
    assert b"Student 02" not in items
