"""A new store for each test, closed behind it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from footexam.store import Store


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "store"


@pytest.fixture
def store(folder: Path) -> Iterator[Store]:
    with Store.create(folder) as store:
        yield store
