"""Tables out of the cache: read when they are first asked for, once, and then as if read before."""

from pathlib import Path
from typing import Any

import pytest

from footexam.catalogue import build, load
from footexam.catalogue.later import Later
from footexam.catalogue.load import load_catalogue


@pytest.fixture
def counted() -> tuple[Later, list[int]]:
    times: list[int] = []

    def read() -> dict[str, Any]:
        times.append(1)
        return {"b": 2, "a": 1}

    return Later(read), times


def test_nothing_is_read_before_it_is_asked_for(counted: tuple[Later, list[int]]) -> None:
    later, times = counted
    assert times == []
    assert later["a"] == 1
    assert later["b"] == 2
    assert times == [1]


def test_it_is_what_the_table_is(counted: tuple[Later, list[int]]) -> None:
    later, times = counted
    table = {"b": 2, "a": 1}
    assert later == table
    assert table == later
    assert later != {"a": 1}
    assert repr(later) == repr(table)
    assert list(later) == ["b", "a"]
    assert len(later) == 2
    assert ("a" in later, "c" in later) == (True, False)
    assert (later.get("a"), later.get("c"), later.get("c", 3)) == (1, None, 3)
    assert list(later.keys()) == list(table)
    assert list(later.values()) == [2, 1]
    assert list(later.items()) == [("b", 2), ("a", 1)]
    assert {**later} == table
    assert later.keys() >= {"a"}
    with pytest.raises(KeyError, match="c"):
        later["c"]
    assert times == [1]


def test_a_table_that_cannot_be_read_says_so_every_time() -> None:
    def read() -> dict[str, Any]:
        raise OSError("gone")

    later = Later(read)
    for _ in range(2):
        with pytest.raises(OSError, match="gone"):
            len(later)


def test_out_of_the_cache_arguments_and_plans_wait(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fresh = load_catalogue(cache_dir=tmp_path)
    assert not isinstance(fresh.features, Later)  # what was not checked yet is read at once
    monkeypatch.setattr(load, "check", None)  # the cache is used: nothing is checked again

    def never(*_: object) -> None:
        raise AssertionError("read before it was asked for")

    with monkeypatch.context() as patch:
        patch.setattr(build._Builder, "_things", never)
        kept = load_catalogue(cache_dir=tmp_path)
        assert kept.measures == fresh.measures
        with pytest.raises(AssertionError, match="read before"):
            len(kept.features)
    again = load_catalogue(cache_dir=tmp_path)
    for name in ("features", "conflicts", "hypotheses", "conditions", "norms", "materials"):
        assert isinstance(getattr(again, name), Later), name
        assert repr(getattr(again, name)) == repr(getattr(fresh, name)), name
    assert again == fresh
