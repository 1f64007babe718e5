"""The store lies in the user's data folder; asking for it makes nothing."""

from pathlib import Path

import pytest

import footexam.store
from footexam.store.layout import default_folder


def test_the_default_folder_is_in_the_users_data(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("FOOTEXAM_HOME", str(tmp_path / "home"))
    assert default_folder() == tmp_path / "home" / "data" / "store"
    assert not (tmp_path / "home").exists()


def test_the_room_offers_what_it_names_and_nothing_else() -> None:
    for name in footexam.store.__all__:
        assert getattr(footexam.store, name).__name__ == name
    with pytest.raises(AttributeError, match="nothing_such"):
        _ = footexam.store.nothing_such
