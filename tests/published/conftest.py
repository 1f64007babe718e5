"""Counts the cases of this folder by what their expected value rests on."""

from collections import Counter
from dataclasses import dataclass, field

import pytest

from tests.published.cases import KINDS


@dataclass
class Tally:
    """What was collected in this folder, before anything is deselected by -m or -k."""

    files: set[str] = field(default_factory=set)
    kinds: Counter[str] = field(default_factory=Counter)

    def __str__(self) -> str:
        return ", ".join(f"{self.kinds[kind]} {kind.replace('_', ' ')}" for kind in KINDS)


TALLY: pytest.StashKey[Tally] = pytest.StashKey()


def pytest_configure(config: pytest.Config) -> None:
    config.stash[TALLY] = Tally()


def pytest_itemcollected(item: pytest.Item) -> None:
    tally = item.config.stash[TALLY]
    tally.files.add(item.path.name)
    tally.kinds.update(kind for kind in KINDS if item.get_closest_marker(kind))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    tally = terminalreporter.config.stash[TALLY]
    if tally.files:
        terminalreporter.write_line(f"tests/published: {tally}")


@pytest.fixture
def tally(pytestconfig: pytest.Config) -> Tally:
    return pytestconfig.stash[TALLY]
