"""The two commands of bootstrap.py: what they start, say and end with."""

from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

Bootstrap = ModuleType
NO_EGL = ("libEGL.so.1",)


@pytest.fixture(autouse=True)
def _project(bootstrap: Bootstrap, environment: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """main() works on the small project, not on this checkout."""
    monkeypatch.setattr(bootstrap, "ROOT", environment.root)


def on(bootstrap: Bootstrap, monkeypatch: pytest.MonkeyPatch, **facts: Any) -> None:
    """Let main() find a machine with these facts."""
    machine = bootstrap.Machine(**facts)
    monkeypatch.setattr(bootstrap, "look_at_machine", lambda: machine)


# --- run ---


def test_run_ends_as_the_demo_does(
    bootstrap: Bootstrap, programs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    on(bootstrap, monkeypatch)
    assert bootstrap.main(["run"]) == 0
    demo = programs.started[-1]
    assert demo == [bootstrap.Environment(bootstrap.ROOT).script("footexam"), "demo", "--no-window"]
    programs.answers = [("demo", 6, [])]
    assert bootstrap.main(["run"]) == 6


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({"has_screen": False}, "no screen here"),
        ({"has_screen": True, "missing_libraries": NO_EGL}, "libraries are missing"),
        ({"has_screen": True}, None),
    ],
    ids=["no screen", "no libraries", "a window"],
)
def test_run_says_why_no_window_opens(
    bootstrap: Bootstrap,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    facts: dict[str, Any],
    says: str | None,
) -> None:
    on(bootstrap, monkeypatch, **facts)
    assert bootstrap.main(["run"]) == 0
    said = capsys.readouterr().out
    # the demo itself opens the window where it sees a screen
    assert (programs.started[-1][-1] == "--no-window") is (says is not None)
    assert (says or "The environment is ready") in said
    assert ("demo documents are written instead" in said) is (says is not None)


def test_run_as_a_user_goes_on_and_prints_the_apt_line(
    bootstrap: Bootstrap,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    on(bootstrap, monkeypatch, missing_libraries=NO_EGL, has_apt=True)
    assert bootstrap.main(["run"]) == 0
    assert "  sudo apt-get install libegl1\n" in capsys.readouterr().out
    assert programs.with_word("apt-get") == []
    assert programs.started[-1][-2:] == ["demo", "--no-window"]


def test_what_runs_finds_the_checkout_whatever_its_path(
    bootstrap: Bootstrap, programs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    on(bootstrap, monkeypatch)
    bootstrap.main(["run"])
    assert programs.variables[-1]["PYTHONPATH"] == str(bootstrap.ROOT)


# --- test ---


def test_test_runs_every_check(
    bootstrap: Bootstrap,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    on(bootstrap, monkeypatch)
    assert bootstrap.main(["test"]) == 0
    last = [command[1:] for command in programs.started[-5:]]
    assert last == [
        ["-m", "pytest", "-n", "auto", "--dist", "worksteal"],
        ["check", "."],
        ["format", "--check", "."],
        [],
        [],
    ]
    assert [Path(command[0]).stem for command in programs.started[-2:]] == ["mypy", "lint-imports"]
    closing = capsys.readouterr().out.rpartition("Summary")[2]
    assert closing.count("passed") == 5


@pytest.mark.parametrize("failing", ["pytest", "check", "--check"])
def test_one_failed_check_is_enough_and_the_others_still_run(
    bootstrap: Bootstrap,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    failing: str,
) -> None:
    on(bootstrap, monkeypatch)
    programs.answers = [(failing, 5, [])]
    assert bootstrap.main(["test"]) == 1
    closing = capsys.readouterr().out.rpartition("Summary")[2]
    assert closing.count("FAILED") == 1
    assert closing.count("passed") == 4


def test_as_a_user_without_qt_libraries_all_but_the_desktop_tests_run(
    bootstrap: Bootstrap,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    on(bootstrap, monkeypatch, missing_libraries=NO_EGL, has_apt=True)
    assert bootstrap.main(["test"]) == 6
    (pytest_command,) = programs.with_word("pytest")
    assert pytest_command[-3:] == ["-p", "no:pytest-qt", "--ignore=tests/desktop"]
    said = capsys.readouterr().out
    assert "  sudo apt-get install libegl1\n" in said
    assert "tests/desktop was left out" in said.rpartition("Summary")[2]


def test_a_failed_check_counts_before_the_tests_left_out(
    bootstrap: Bootstrap, programs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    on(bootstrap, monkeypatch, missing_libraries=NO_EGL, has_apt=True)
    programs.answers = [("pytest", 1, [])]
    assert bootstrap.main(["test"]) == 1


def test_without_an_environment_no_check_runs(
    bootstrap: Bootstrap,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    on(bootstrap, monkeypatch, has_ensurepip=False, has_apt=True)
    assert bootstrap.main(["test"]) == 3
    assert programs.with_word("pytest") == []
    assert "cannot make environments" in capsys.readouterr().err


# --- the command line ---


@pytest.mark.parametrize("arguments", [[], ["fly"], ["run", "now"]])
def test_wrong_use_is_two(
    bootstrap: Bootstrap, arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as caught:
        bootstrap.main(arguments)
    assert caught.value.code == 2
    assert "usage: bootstrap.py" in capsys.readouterr().err


def test_stopping_says_that_the_next_start_repairs(
    bootstrap: Bootstrap,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    on(bootstrap, monkeypatch)
    programs.interrupt_at = "hatchling"
    assert bootstrap.main(["run"]) == 130
    assert capsys.readouterr().err == "Stopped. The next start repairs what is half-made.\n"
