"""bootstrap.py as a module, a small project, and programs that are not really started."""

import importlib.util
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def bootstrap() -> ModuleType:
    """packaging/bootstrap.py, which is a script and lies in no package."""
    spec = importlib.util.spec_from_file_location(
        "footexam_bootstrap", ROOT / "packaging" / "bootstrap.py"
    )
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def environment(bootstrap: ModuleType, tmp_path: Path) -> object:
    """The environment, not yet made, of a project whose path has a space and foreign letters."""
    root = tmp_path / "Füße und Ödeme"
    (root / "packaging").mkdir(parents=True)
    (root / "packaging" / "constraints.txt").write_text("numpy==2.4.6\n", encoding="utf-8")
    (root / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    return bootstrap.Environment(root)


@dataclass
class Programs:
    """Stands in for every program that bootstrap.py would start, and remembers the commands.

    `answers` are (word, exit code, lines): the first whose word is in the command is given.
    """

    answers: list[tuple[str, int, list[str]]] = field(default_factory=list)
    started: list[list[str]] = field(default_factory=list)
    variables: list[dict[str, str]] = field(default_factory=list)
    interrupt_at: str = "(never)"

    def listen(
        self,
        command: list[str],
        variables: dict[str, str] | None = None,
        show: Callable[[str], None] | None = None,
    ) -> tuple[int, list[str]]:
        """In place of bootstrap.listen; makes an empty environment where venv would."""
        assert variables is None or isinstance(variables, dict)
        assert show is None or callable(show)
        self.started.append(command)
        if self.interrupt_at in command:
            raise KeyboardInterrupt
        if "--version" in command and not Path(command[0]).exists():
            raise FileNotFoundError(command[0])
        for word, code, lines in self.answers:
            if word in command:
                return code, lines
        if "venv" in command:
            make_bare(Path(command[-1]))
        return 0, []

    def call(self, environment: object, command: list[str], variables: dict[str, str]) -> int:
        """In place of bootstrap.call."""
        assert environment is not None
        self.variables.append(variables)
        return self.listen(command)[0]

    def with_word(self, word: str) -> list[list[str]]:
        """The commands in which the word stands."""
        return [command for command in self.started if word in command]


def make_bare(folder: Path) -> None:
    """What venv leaves behind, as far as bootstrap.py looks at it."""
    for scripts, name in (("bin", "python"), ("Scripts", "python.exe")):
        (folder / scripts).mkdir(parents=True, exist_ok=True)
        (folder / scripts / name).touch()
    (folder / "pyvenv.cfg").write_text("home = /usr/bin\n", encoding="utf-8")


@pytest.fixture
def programs(bootstrap: ModuleType, monkeypatch: pytest.MonkeyPatch) -> Programs:
    """No test of bootstrap.py starts a program, installs anything or reaches a network."""
    stand_in = Programs()
    monkeypatch.setattr(bootstrap, "listen", stand_in.listen)
    monkeypatch.setattr(bootstrap, "call", stand_in.call)
    return stand_in
