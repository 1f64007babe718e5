"""When bootstrap.py makes .venv, adds to it, makes it anew or leaves it, and what it says."""

import errno
import sys
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest

Bootstrap = ModuleType


@pytest.fixture
def machine(bootstrap: Bootstrap) -> Any:
    """A machine on which nothing is missing."""
    return bootstrap.Machine()


@pytest.fixture
def ready(bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any) -> Any:
    """The environment after a first start for the tests, with nothing remembered of it."""
    bootstrap.prepare(environment, "test", machine)
    programs.started.clear()
    return environment


def left_of(environment: Any) -> set[str]:
    """The names of bootstrap.py's own files in the environment."""
    return {file.name for file in environment.folder.glob("footexam-*")}


# --- making it ---


def test_the_first_start_makes_and_fills_it(
    bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any
) -> None:
    bootstrap.prepare(environment, "test", machine)
    probe, venv, build, project = programs.started
    assert probe[1:] == ["-m", "pip", "--version"]
    assert venv[1:] == ["-m", "venv", str(environment.folder)]
    assert build[-2:] == ["hatchling", "editables"]
    assert project[-2:] == ["--editable", f"{environment.root}[test]"]
    for command in (build, project):
        assert command[0] == str(environment.python)
        at = command.index("--constraint")
        assert Path(command[at + 1]) == environment.root / "packaging" / "constraints.txt"
    assert left_of(environment) == {"footexam-stamp.json"}


def test_the_second_start_does_nothing(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    bootstrap.prepare(ready, "test", machine)
    assert programs.started == []


def test_an_environment_for_the_tests_serves_run_as_well(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    bootstrap.prepare(ready, "run", machine)
    assert programs.started == []


def test_an_environment_for_run_is_added_to_for_the_tests(
    bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any
) -> None:
    bootstrap.prepare(environment, "run", machine)
    assert programs.started[-1][-1] == str(environment.root)
    programs.started.clear()
    bootstrap.prepare(environment, "test", machine)
    assert programs.with_word("venv") == []
    assert programs.started[-1][-1] == f"{environment.root}[test]"


@pytest.mark.parametrize("changed", ["packaging/constraints.txt", "pyproject.toml"])
def test_a_changed_file_means_installing_again_into_the_same_environment(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any, changed: str
) -> None:
    with (ready.root / changed).open("a", encoding="utf-8") as file:
        file.write("# changed\n")
    assert not ready.is_ready("test")
    bootstrap.prepare(ready, "test", machine)
    assert programs.with_word("venv") == []
    assert len(programs.with_word("install")) == 2
    assert ready.is_ready("test")


def test_a_stamp_that_cannot_be_read_counts_as_none(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    ready.stamp_file.write_text('{"inputs": ', encoding="utf-8")
    assert ready.stamp() is None
    bootstrap.prepare(ready, "test", machine)
    assert programs.with_word("install")
    assert ready.is_ready("test")


# --- making it anew ---


def leave_a_mark(environment: Any) -> Path:
    """A file that is gone once the environment was made anew."""
    mark: Path = environment.folder / "mark"
    mark.touch()
    return mark


def test_a_half_made_environment_is_made_anew(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    mark = leave_a_mark(ready)
    ready.unfinished.touch()
    assert not ready.is_ready("test")
    bootstrap.prepare(ready, "test", machine)
    assert not mark.exists()
    assert programs.with_word("venv")
    assert left_of(ready) == {"footexam-stamp.json"}


def test_an_interrupted_installation_is_seen_as_half_made(
    bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any
) -> None:
    programs.interrupt_at = "--editable"
    with pytest.raises(KeyboardInterrupt):
        bootstrap.prepare(environment, "test", machine)
    assert left_of(environment) == {"footexam-unfinished"}
    mark = leave_a_mark(environment)
    programs.interrupt_at = "(never)"
    bootstrap.prepare(environment, "test", machine)
    assert not mark.exists()
    assert environment.is_ready("test")


@pytest.mark.parametrize(("part", "other"), [("root", "/elsewhere"), ("python", "3.10")])
def test_a_moved_project_or_another_python_means_making_it_anew(
    bootstrap: Bootstrap, ready: Any, machine: Any, part: str, other: str
) -> None:
    mark = leave_a_mark(ready)
    bootstrap._write_stamp(ready, bootstrap.replace(ready.stamp(), **{part: other}))
    bootstrap.prepare(ready, "test", machine)
    assert not mark.exists()
    assert ready.is_ready("test")


def test_an_environment_whose_python_is_gone_is_made_anew(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    ready.python.unlink()
    bootstrap.prepare(ready, "test", machine)
    assert programs.with_word("venv")
    assert ready.is_ready("test")


def test_an_environment_made_by_hand_is_added_to(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    ready.stamp_file.unlink()
    mark = leave_a_mark(ready)
    bootstrap.prepare(ready, "test", machine)
    assert mark.exists()
    assert programs.with_word("venv") == []
    assert len(programs.with_word("install")) == 2


def test_a_folder_that_is_no_environment_is_never_deleted(
    bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any
) -> None:
    environment.folder.mkdir()
    (environment.folder / "thesis.odt").touch()
    programs.answers = [("--version", 1, [])]
    with pytest.raises(bootstrap.TroubleError, match=r"is in the way.*left as it is.*Move it"):
        bootstrap.prepare(environment, "test", machine)
    assert (environment.folder / "thesis.odt").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="links need special rights there")
def test_a_link_is_never_followed_to_delete(
    bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any, tmp_path: Path
) -> None:
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "pyvenv.cfg").touch()
    environment.folder.symlink_to(tmp_path / "other")
    programs.answers = [("--version", 1, [])]
    with pytest.raises(bootstrap.TroubleError, match="is in the way"):
        bootstrap.prepare(environment, "test", machine)
    assert (tmp_path / "other" / "pyvenv.cfg").exists()


# --- a Python without its venv part ---


def test_without_venv_and_pip_it_says_what_to_do_and_changes_nothing(
    bootstrap: Bootstrap, environment: Any, programs: Any
) -> None:
    machine = bootstrap.Machine(("libGL.so.1",), has_ensurepip=False, has_apt=True)
    with pytest.raises(bootstrap.TroubleError) as caught:
        bootstrap.prepare(environment, "run", machine)
    assert caught.value.code == 3
    line = str(caught.value).splitlines()[-1]
    assert line == f"  sudo apt-get install {bootstrap.venv_package()} libgl1"
    assert programs.with_word("install") == []
    assert not environment.folder.exists()


def test_without_venv_and_apt_it_says_what_is_missing(
    bootstrap: Bootstrap, environment: Any, programs: Any
) -> None:
    with pytest.raises(bootstrap.TroubleError, match=r"whatever holds: Python's venv"):
        bootstrap.prepare(environment, "run", bootstrap.Machine(has_ensurepip=False))
    assert programs.with_word("install") == []


def test_without_venv_a_pip_of_the_system_does_it(
    bootstrap: Bootstrap, environment: Any, programs: Any
) -> None:
    bootstrap.prepare(environment, "run", bootstrap.Machine(has_ensurepip=False, has_pip=True))
    (bare,) = programs.with_word("venv")
    assert "--without-pip" in bare
    (with_pip,) = programs.with_word("--python")
    assert with_pip[1:] == ["-m", "pip", "--python", str(environment.python), "install", "pip"]


# --- trouble ---

NO_NETWORK = "WARNING: Retrying after connection broken by 'NewConnectionError(...)'"
NO_SPACE = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device"
NO_RIGHT = "ERROR: Could not install packages due to an OSError: [Errno 13] Permission denied: 'x'"


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        (NO_NETWORK, "network"),
        ("ERROR: No matching distribution found for hatchling", "network"),
        (NO_SPACE, "disk"),
        (f"{NO_NETWORK}\n{NO_SPACE}", "disk"),
        (NO_RIGHT, "folder"),
        ("OSError: [Errno 30] Read-only file system: '/x'", "folder"),
        ("PermissionError: [WinError 5] Access is denied", "folder"),
        ("error: metadata-generation-failed", "other"),
    ],
)
def test_the_kind_of_trouble_is_read_from_the_output(
    bootstrap: Bootstrap, line: str, kind: str
) -> None:
    assert bootstrap.kind_of_trouble(line) == kind


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (NO_NETWORK, r"could not be fetched.*Check the network connection"),
        (NO_SPACE, r"disk is full.*Free about 1 GB"),
        (NO_RIGHT, r"cannot be written.*copy the project"),
    ],
)
def test_a_failed_installation_says_what_is_safe_and_what_to_do(
    bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any, line: str, says: str
) -> None:
    programs.answers = [("--editable", 1, [line])]
    with pytest.raises(bootstrap.TroubleError, match=says) as caught:
        bootstrap.prepare(environment, "test", machine)
    assert caught.value.code == 4
    assert "Nothing outside the project's .venv was changed" in str(caught.value)
    assert "then start this again" in str(caught.value)
    assert not environment.is_ready("test")


def test_after_a_lost_network_what_was_there_is_kept(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    mark = leave_a_mark(ready)
    (ready.root / "pyproject.toml").write_text("[project]\n# more\n", encoding="utf-8")
    programs.answers = [("--editable", 1, [NO_NETWORK])]
    with pytest.raises(bootstrap.TroubleError):
        bootstrap.prepare(ready, "test", machine)
    programs.answers = []
    bootstrap.prepare(ready, "test", machine)
    assert mark.exists()
    assert ready.is_ready("test")


def test_after_a_full_disk_it_is_made_anew(
    bootstrap: Bootstrap, ready: Any, machine: Any, programs: Any
) -> None:
    mark = leave_a_mark(ready)
    (ready.root / "pyproject.toml").write_text("[project]\n# more\n", encoding="utf-8")
    programs.answers = [("--editable", 1, [NO_SPACE])]
    with pytest.raises(bootstrap.TroubleError):
        bootstrap.prepare(ready, "test", machine)
    programs.answers = []
    bootstrap.prepare(ready, "test", machine)
    assert not mark.exists()
    assert ready.is_ready("test")


def test_a_failure_without_a_reason_on_a_full_disk_is_the_full_disk(
    bootstrap: Bootstrap,
    environment: Any,
    machine: Any,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(bootstrap.shutil, "disk_usage", lambda _: SimpleNamespace(free=1000))
    programs.answers = [("venv", 1, ["Error: ensurepip returned non-zero exit status 1."])]
    with pytest.raises(bootstrap.TroubleError, match="disk is full"):
        bootstrap.prepare(environment, "test", machine)


def test_an_unknown_failure_shows_what_the_program_said(
    bootstrap: Bootstrap,
    environment: Any,
    machine: Any,
    programs: Any,
    capsys: pytest.CaptureFixture[str],
) -> None:
    programs.answers = [("hatchling", 2, ["something nobody thought of"])]
    with pytest.raises(bootstrap.TroubleError, match="ended with 2"):
        bootstrap.prepare(environment, "test", machine)
    assert "something nobody thought of" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (errno.EACCES, "cannot be written"),
        (errno.EROFS, "cannot be written"),
        (errno.ENOSPC, "disk is full"),
    ],
)
def test_a_folder_that_cannot_be_written_is_no_traceback(
    bootstrap: Bootstrap,
    environment: Any,
    programs: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    number: int,
    says: str,
) -> None:
    def refuse(_folder: Path, **_options: object) -> None:
        raise OSError(number, "refused")

    monkeypatch.setattr(bootstrap, "ROOT", environment.root)
    monkeypatch.setattr(bootstrap, "look_at_machine", bootstrap.Machine)
    monkeypatch.setattr(Path, "mkdir", refuse)
    programs.answers = [("--version", 1, [])]
    assert bootstrap.main(["run"]) == 4
    said = capsys.readouterr().err
    assert says in said
    assert said.count("\n") == 1


def test_a_second_start_waits_for_the_first(
    bootstrap: Bootstrap, environment: Any, machine: Any, programs: Any
) -> None:
    with (
        bootstrap.only_one(environment.root),
        pytest.raises(bootstrap.TroubleError, match=r"Another start is preparing.*Wait"),
    ):
        bootstrap.prepare(environment, "run", machine)
    assert programs.started == []
    bootstrap.prepare(environment, "run", machine)
    assert environment.is_ready("run")
